"""Colours as a drawing writes them, and as light: sRGB, relative luminance, OKLCH.

Notations: CSS Color Module Level 4 (W3C), sections 4 to 7. Relative luminance: Web Content Accessibility Guidelines
2.2 (W3C). OKLab: Björn Ottosson's matrices, as in CSS Color Module Level 4, section 9.
"""

from __future__ import annotations

import math
import re
from typing import NamedTuple

from briefgen.pages.html.night.names import NAMED

_PART = re.compile(r"[+-]?(?:[0-9]{1,9}\.?[0-9]{0,9}|\.[0-9]{1,9})")


class Colour(NamedTuple):
    """Shares of red, green and blue (sRGB, 0 to 1), and the alpha value as it is written (empty: opaque)."""

    red: float
    green: float
    blue: float
    alpha: str = ""

    @property
    def written(self) -> str:
        """As a drawing writes it: hexadecimal, with the alpha value where there is one."""
        red, green, blue = (int(255 * part + 0.5) for part in self[:3])
        if self.alpha:
            return f"rgba({red},{green},{blue},{self.alpha})"
        digits = f"{red:02x}{green:02x}{blue:02x}"
        return f"#{digits[::2]}" if digits[::2] == digits[1::2] else f"#{digits}"


def read(words: str) -> Colour | None:
    """A colour by its name, in hexadecimal digits, or as rgb() or hsl(); None for anything else.

    >>> read("Red"), read("#0f08").alpha, read("hsl(120, 100%, 50%)")[:3], read("url(#a)")
    (Colour(red=1.0, green=0.0, blue=0.0, alpha=''), '0.533', (0.0, 1.0, 0.0), None)
    """
    plain = words.strip().lower()
    if plain in NAMED:
        return _hexadecimal(NAMED[plain])
    if plain.startswith("#"):
        return _hexadecimal(plain[1:])
    name, bracket, rest = plain.partition("(")
    if not bracket or not rest.endswith(")") or name not in ("rgb", "rgba", "hsl", "hsla"):
        return None
    parts = [part for part in re.split(r"[\s,/]+", rest[:-1].strip()) if part]
    if len(parts) not in (3, 4):
        return None
    alpha = parts[3] if len(parts) == 4 else ""
    if alpha and _number(alpha, 1) is None:
        return None
    channels = _rgb(parts) if name.startswith("rgb") else _hsl(parts)
    return Colour(*channels, alpha) if channels else None


def _hexadecimal(digits: str) -> Colour | None:
    if not re.fullmatch(r"(?:[0-9a-f]{3,4}){1,2}", digits) or len(digits) == 7:
        return None
    wide = digits if len(digits) > 4 else "".join(digit * 2 for digit in digits)
    red, green, blue, *alpha = (int(wide[at : at + 2], 16) / 255 for at in range(0, len(wide), 2))
    return Colour(red, green, blue, f"{alpha[0]:.3g}" if alpha else "")


def _number(words: str, whole: float) -> float | None:
    """A number as a share of the `whole`, or a percentage; None for other words."""
    found = _PART.match(words)
    if not found or words[found.end() :] not in ("", "%"):
        return None
    return min(1.0, max(0.0, float(found[0]) / (100 if words.endswith("%") else whole)))


def _rgb(parts: list[str]) -> tuple[float, float, float] | None:
    shares = [_number(part, 255) for part in parts[:3]]
    red, green, blue = shares
    return None if red is None or green is None or blue is None else (red, green, blue)


def _hsl(parts: list[str]) -> tuple[float, float, float] | None:
    turn = _PART.fullmatch(parts[0].removesuffix("deg"))
    saturation, lightness = (_number(part, 100) for part in parts[1:3])
    if not turn or saturation is None or lightness is None:
        return None
    reach = saturation * min(lightness, 1 - lightness)

    def channel(offset: int) -> float:
        place = (offset + float(turn[0]) / 30) % 12
        return lightness - reach * max(-1, min(place - 3, 9 - place, 1))

    return channel(0), channel(8), channel(4)


def luminance(colour: Colour) -> float:
    """Relative luminance, 0 to 1."""
    red, green, blue = map(_light, colour[:3])
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _light(share: float) -> float:
    return share / 12.92 if share <= 0.04045 else float(((share + 0.055) / 1.055) ** 2.4)


def _share(light: float) -> float:
    return 12.92 * light if light <= 0.0031308 else float(1.055 * light ** (1 / 2.4) - 0.055)


def oklch(colour: Colour) -> tuple[float, float, float]:
    """Lightness (0 to 1), chroma and hue (radians) in OKLCH."""
    red, green, blue = map(_light, colour[:3])
    long = math.cbrt(0.4122214708 * red + 0.5363325363 * green + 0.0514459929 * blue)
    middle = math.cbrt(0.2119034982 * red + 0.6806995451 * green + 0.1073969566 * blue)
    short = math.cbrt(0.0883024619 * red + 0.2817188376 * green + 0.6299787005 * blue)
    lightness = 0.2104542553 * long + 0.7936177850 * middle - 0.0040720468 * short
    a = 1.9779984951 * long - 2.4285922050 * middle + 0.4505937099 * short
    b = 0.0259040371 * long + 0.7827717662 * middle - 0.8086757660 * short
    return lightness, math.hypot(a, b), math.atan2(b, a)


def linear(lightness: float, chroma: float, hue: float) -> tuple[float, float, float]:
    """Red, green and blue light of a colour in OKLCH; below 0 or above 1 where no screen shows it."""
    a, b = chroma * math.cos(hue), chroma * math.sin(hue)
    long = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3
    middle = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3
    short = (lightness - 0.0894841775 * a - 1.2914855480 * b) ** 3
    return (
        4.0767416621 * long - 3.3077115913 * middle + 0.2309699292 * short,
        -1.2684380046 * long + 2.6097574011 * middle - 0.3413193965 * short,
        -0.0041960863 * long - 0.7034186147 * middle + 1.7076147010 * short,
    )


def from_light(light: tuple[float, float, float], alpha: str) -> Colour:
    """The colour that sends this light, as near as a screen comes."""
    red, green, blue = (min(1.0, max(0.0, _share(max(0.0, part)))) for part in light)
    return Colour(red, green, blue, alpha)
