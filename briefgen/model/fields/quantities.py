"""Durations and quantities as fields hold them: numbers in SI units that keep the author's words."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Annotated, Any

from pydantic import PlainValidator, WithJsonSchema

from briefgen import units
from briefgen.model.fields import limits
from briefgen.model.fields.values import NUMBER_PATTERN, scalar, schema_of, wrong
from briefgen.source import Text

_ONE_DURATION_PATTERN = rf"({NUMBER_PATTERN}\s*(h|min|s)\s*)+"
_THREE_POINTS_PATTERN = rf"{NUMBER_PATTERN}\s*/\s*{NUMBER_PATTERN}\s*/\s*{NUMBER_PATTERN}\s*(h|min|s)"
_DURATION_PATTERN = rf"({_THREE_POINTS_PATTERN}|{_ONE_DURATION_PATTERN})"


def _duration(value: Any) -> units.Duration:
    text = scalar(value, limits.QUANTITY)
    try:
        return units.read_duration(text)
    except ValueError as reason:
        raise wrong(str(reason)) from None


def _one_duration(value: Any) -> units.Duration:
    duration = _duration(value)
    if duration.three_points:
        raise wrong(f"one time is asked for here, not three points like “{value}”")
    return duration


def _quantity(dimension: units.Dimension) -> Callable[[Any], units.Quantity]:
    def read(value: Any) -> units.Quantity:
        text = scalar(value, limits.QUANTITY)
        try:
            return dimension.read(text)
        except ValueError as reason:
            raise wrong(str(reason)) from None

    return read


Span = Annotated[units.Duration, PlainValidator(_duration), schema_of(_DURATION_PATTERN, "3/4/7 min")]
Moment = Annotated[units.Duration, PlainValidator(_one_duration), schema_of(_ONE_DURATION_PATTERN, "30 min")]


SUN = ("sunrise", "sunset")


def _clock(value: Any) -> units.Duration | Text:
    word = scalar(value, limits.QUANTITY)
    return word if word in SUN else _one_duration(value)


Clock = Annotated[
    units.Duration | Text,
    PlainValidator(_clock),
    schema_of(rf"({'|'.join(SUN)}|{_ONE_DURATION_PATTERN})", "2 h"),
]
"""A moment since the sortie's start, or the next sunrise or sunset."""


def _units_schema(dimension: units.Dimension) -> WithJsonSchema:
    choices = "|".join(re.escape(unit) for unit in dimension.units)
    return schema_of(rf"[+-]?{NUMBER_PATTERN}\s*({choices})", dimension.example)


Length = Annotated[units.Quantity, PlainValidator(_quantity(units.LENGTH)), _units_schema(units.LENGTH)]
Mass = Annotated[units.Quantity, PlainValidator(_quantity(units.MASS)), _units_schema(units.MASS)]
Torque = Annotated[units.Quantity, PlainValidator(_quantity(units.TORQUE)), _units_schema(units.TORQUE)]
Turns = Annotated[units.Quantity, PlainValidator(_quantity(units.TURNS)), _units_schema(units.TURNS)]
Power = Annotated[units.Quantity, PlainValidator(_quantity(units.POWER)), _units_schema(units.POWER)]
Pace = Annotated[units.Quantity, PlainValidator(_quantity(units.SPEED)), _units_schema(units.SPEED)]
Angle = Annotated[units.Quantity, PlainValidator(_quantity(units.ANGLE)), _units_schema(units.ANGLE)]
Share = Annotated[units.Quantity, PlainValidator(_quantity(units.SHARE)), _units_schema(units.SHARE)]
Speech = Annotated[units.Quantity, PlainValidator(_quantity(units.SPEECH)), _units_schema(units.SPEECH)]
Amount = Annotated[units.Quantity, PlainValidator(_quantity(units.SUPPLY)), _units_schema(units.SUPPLY)]
