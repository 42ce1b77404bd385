"""A number and its unit stay on one line: between them stands a space at which no line ends (ISO 80000-1, 7.1.4)."""

from __future__ import annotations

import re

from briefgen.units import ANGLE, LENGTH, MASS, POWER, SHARE, SPEECH, SPEED, SUPPLY, TORQUE, TURNS

_DIMENSIONS = (ANGLE, LENGTH, MASS, POWER, SHARE, SPEED, SPEECH, SUPPLY, TORQUE, TURNS)
_OTHERS = ("h", "min", "s", "°C", "K", "V", "kV", "A", "Pa", "kPa", "MPa", "bar", "hPa", "N", "kN", "Hz", "kHz", "km/h")
_UNITS = sorted({unit for one in _DIMENSIONS for unit in one.units if " " not in unit} | {*_OTHERS}, key=len)
_PAIR = re.compile(rf"(?<=[0-9]) (?=(?:{'|'.join(map(re.escape, reversed(_UNITS)))})(?![\w·*/-]))")


def unbroken(words: str) -> str:
    """The words, with a no-break space between each number and its unit.

    >>> unbroken("57 % in 2 h 05 min, not 3 boxes").replace("\\u00a0", "_")
    '57_% in 2_h 05_min, not 3 boxes'
    """
    return _PAIR.sub("\u00a0", words)
