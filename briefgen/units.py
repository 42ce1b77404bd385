"""Durations, lengths, masses and the rest: from an author's words to SI numbers, and back to print.

Every `read_…` takes the text and raises `ValueError` with a sentence that says what would be right.
Factors: the International System of Units (BIPM, SI Brochure, 9th edition), tables 4 to 8.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

MINUTE = 60.0
HOUR = 3600.0
_LONGEST = 1000 * HOUR

_NUMBER = r"[0-9]{1,15}(?:\.[0-9]{1,30})?"
_TIME_UNITS = {"s": 1.0, "min": MINUTE, "h": HOUR}
_TIME_PART = re.compile(rf"({_NUMBER})\s*(h|min|s)")
# Each blank can be read in one way only, so that a long run of them is read once.
_SECONDS = rf"{_NUMBER}\s*s"
_MINUTES = rf"{_NUMBER}\s*min(?:\s*{_SECONDS})?"
_TIME = re.compile(rf"{_NUMBER}\s*h(?:\s*(?:{_MINUTES}|{_SECONDS}))?|{_MINUTES}|{_SECONDS}")
_THREE = re.compile(rf"({_NUMBER})\s*/\s*({_NUMBER})\s*/\s*({_NUMBER})\s*(h|min|s)")
_CLOCK = re.compile(r"([0-9]{1,2}):([0-9]{2})(?::([0-9]{2}))?")
_QUANTITY = re.compile(rf"([+-]?{_NUMBER})\s*(\S.*)")


@dataclass(frozen=True, slots=True)
class Duration:
    """A time span in seconds: shortest, most likely, longest (all equal unless three points were given).

    It may be the sum of several `draws`, as many spans of the same kind, each of which may be short or long by itself.
    """

    low: float
    likely: float
    high: float
    draws: int = 1

    @property
    def three_points(self) -> bool:
        """Whether it can take more or less than what is likely."""
        return not self.low == self.likely == self.high

    def times(self, count: int, *, together: bool = False) -> Duration:
        """The same, done `count` times over; `together`: what makes one slow makes all slow."""
        draws = self.draws if together else self.draws * count
        return Duration(self.low * count, self.likely * count, self.high * count, draws)


def read_duration(text: str) -> Duration:
    """`90 s`, `4 min`, `1 h 30 min`, or `3/4/7 min`. Raises ValueError with the reading that would be right."""
    words = text.strip()
    three = _THREE.fullmatch(words)
    if three:
        low, likely, high = (float(part) * _TIME_UNITS[three[4]] for part in three.groups()[:3])
        if not low <= likely <= high:
            raise ValueError(f"the three points of “{words}” must rise: shortest / most likely / longest")
    elif words and _TIME.fullmatch(words):
        low = likely = high = sum(float(number) * _TIME_UNITS[unit] for number, unit in _TIME_PART.findall(words))
    else:
        raise ValueError(_what_a_duration_is(words))
    if high > _LONGEST:
        raise ValueError(f"“{words}” is more than 1000 hours: no sortie lasts that long")
    return Duration(low, likely, high)


def _what_a_duration_is(words: str) -> str:
    clock = _CLOCK.fullmatch(words)
    if clock:
        first, second = int(clock[1]), int(clock[2])
        return f"“{words}” could be hours or minutes: write “{first} h {second} min” or “{first} min {second} s”"
    if re.fullmatch(_NUMBER, words):
        return f"“{words}” has no unit: write “{words} min” or “{words} s”"
    return f"“{words}” is no duration: write it like “90 s”, “4 min”, “1 h 30 min” or “3/4/7 min”"


class Quantity(float):
    """A number in the SI unit of its dimension that remembers how the author wrote it."""

    __slots__ = ("unit", "written")
    written: str
    unit: str

    def __new__(cls, value: float, written: str = "", unit: str = "") -> Quantity:
        """An amount in the unit of computing, with what the author wrote and in which unit."""
        self = super().__new__(cls, value)
        self.written = written
        self.unit = unit
        return self

    def __reduce__(self) -> tuple[type[Quantity], tuple[float, str, str]]:
        return (type(self), (float(self), self.written, self.unit))


@dataclass(frozen=True, slots=True)
class Dimension:
    """A kind of quantity: the accepted units with their factors to the first one's SI value, and an example."""

    name: str
    units: Mapping[str, float]
    example: str

    def read(self, text: str) -> Quantity:
        """A number and a unit. Raises ValueError with the accepted units."""
        words = text.strip()
        found = _QUANTITY.fullmatch(words)
        unit = found[2].strip() if found else ""
        if not found or unit not in self.units:
            raise ValueError(
                f"“{words}” is no {self.name}: write it like “{self.example}” (units: {', '.join(self.units)})"
            )
        return Quantity(float(found[1]) * self.units[unit], words, unit)


LENGTH = Dimension("length", {"m": 1.0, "cm": 0.01, "mm": 0.001, "km": 1000.0}, "8.5 m")
MASS = Dimension("mass", {"kg": 1.0, "g": 0.001}, "3.2 kg")
TORQUE = Dimension("torque", {"N·m": 1.0, "N*m": 1.0, "N m": 1.0}, "9 N·m")
TURNS = Dimension("number of turns", {"turns": 1.0, "turn": 1.0}, "6.5 turns")
POWER = Dimension("power", {"W": 1.0, "kW": 1000.0}, "250 W")
SPEED = Dimension("pace", {"m/min": 1 / MINUTE, "m/s": 1.0}, "9 m/min")
ANGLE = Dimension("angle", {"°": 1.0, "deg": 1.0}, "28°")
SHARE = Dimension("share", {"%": 0.01}, "80 %")
SPEECH = Dimension("speaking rate", {"words/min": 1.0}, "130 words/min")
# What a suit carries: mass, volume, energy or charge. Factors lead to kg, L, J and A·s.
SUPPLY = Dimension(
    "supply",
    {
        "kg": 1.0, "g": 0.001, "L": 1.0, "mL": 0.001,
        "J": 1.0, "kJ": 1e3, "MJ": 1e6, "Wh": 3600.0, "kWh": 3.6e6, "Ah": 3600.0,
    },
    "0.55 kg",
)  # fmt: skip
SUPPLY_KINDS: Mapping[str, str] = MappingProxyType(
    {"kg": "kg", "g": "kg", "L": "L", "mL": "L", "J": "J", "kJ": "J", "MJ": "J", "Wh": "J", "kWh": "J", "Ah": "A·s"}
)


def show_duration(seconds: float) -> str:
    """`1 h 05 min`, `4 min`, `90 s`: whole seconds, seconds named only below ten minutes or where there are any."""
    sign = "−" if seconds < 0 else ""
    whole = round(abs(seconds))
    hours, rest = divmod(whole, 3600)
    minutes, left = divmod(rest, 60)
    if hours:
        return f"{sign}{hours} h {minutes:02d} min" + (f" {left:02d} s" if left else "")
    if minutes:
        return f"{sign}{minutes} min" + (f" {left:02d} s" if left else "")
    return f"{sign}{left} s"


def show_elapsed(seconds: float) -> str:
    """Elapsed time on the sortie's clock, `2:05:30` (hours, minutes, seconds since the start)."""
    sign = "−" if seconds < 0 else ""
    whole = round(abs(seconds))
    return f"{sign}{whole // 3600}:{whole % 3600 // 60:02d}:{whole % 60:02d}"


def show_number(value: float, places: int = 1) -> str:
    """A number with at most `places` decimals and no idle zeros."""
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
