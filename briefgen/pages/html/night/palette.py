"""Which colour stands in the dark for a colour of a drawing on white.

Contrast is a quotient, (Y1 + 0.05) / (Y2 + 0.05) (Web Content Accessibility Guidelines 2.2). So a luminance becomes the
one for which Y + 0.05 is turned upside down: every two colours of a drawing then keep the contrast that they have by
day, whatever lies on whatever. Hue stays, and of the chroma what a screen can show at that luminance. Two things bend
this rule. No screen is brighter than white: what is nearly black by day comes near to each other. And a strong light
colour (yellow, amber) would sink into brown: it keeps 3:1 against the ground, and with that its hue can be seen.
"""

from __future__ import annotations

from functools import lru_cache

from briefgen.pages.html.night.colours import Colour, from_light, linear, luminance, oklch

GROUND = Colour(0x10 / 255, 0x18 / 255, 0x17 / 255)
"""What white becomes; the pages' own paper in the dark."""
_FLARE = 0.05
_TURNED = (1 + _FLARE) * (luminance(GROUND) + _FLARE)
_SEEN = 3 * (luminance(GROUND) + _FLARE) - _FLARE
# Chroma from which a colour says something by itself, and at which it surely does.
_WASH, _STRONG = 0.06, 0.12
_STEPS = 24


@lru_cache(maxsize=4096)
def by_night(colour: Colour) -> Colour:
    """The colour in the dark: same hue and alpha value.

    >>> by_night(Colour(1, 1, 1)).written, by_night(Colour(0, 0, 0)).written
    ('#101817', '#fff')
    """
    _, chroma, hue = oklch(colour)
    wanted = min(1.0, _TURNED / (luminance(colour) + _FLARE) - _FLARE)
    strong = min(1.0, max(0.0, (chroma - _WASH) / (_STRONG - _WASH)))
    wanted = max(wanted, strong * _SEEN)
    if chroma < 0.004:
        _, chroma, hue = oklch(GROUND) if wanted < 0.5 else (0.0, 0.0, 0.0)
    return from_light(_at(wanted, chroma, hue), colour.alpha)


def _at(wanted: float, chroma: float, hue: float) -> tuple[float, float, float]:
    """The light of a hue at a luminance, with as much of the chroma as can be shown there."""
    low, high = 0.0, 1.0
    for _ in range(_STEPS):
        lightness = (low + high) / 2
        if _luminance(_shown(lightness, chroma, hue)) < wanted:
            low = lightness
        else:
            high = lightness
    return _shown((low + high) / 2, chroma, hue)


def _shown(lightness: float, chroma: float, hue: float) -> tuple[float, float, float]:
    light = linear(lightness, chroma, hue)
    if _is_shown(light):
        return light
    low, high = 0.0, chroma
    for _ in range(_STEPS):
        middle = (low + high) / 2
        low, high = (middle, high) if _is_shown(linear(lightness, middle, hue)) else (low, middle)
    return linear(lightness, low, hue)


def _is_shown(light: tuple[float, float, float]) -> bool:
    return all(-1e-6 <= part <= 1 + 1e-6 for part in light)


def _luminance(light: tuple[float, float, float]) -> float:
    return 0.2126 * light[0] + 0.7152 * light[1] + 0.0722 * light[2]
