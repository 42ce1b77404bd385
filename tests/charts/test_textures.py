"""Textures: their lines lie within the rectangle that they fill, and tell kinds apart without any colour."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from briefgen.charts.drawing.textures import area, texture

NAMES = ("wait", "standby", "optional", "reserve", "night", "together", "way", "way-down")
SIDE = st.floats(0, 300)


def ends(path: str) -> list[tuple[float, float]]:
    """Every point of a texture's path: both ends of slanting lines, of level and of upright ones."""
    found = []
    for x, y, more in re.findall(r"M(-?\d+) (-?\d+)([^M\"]*)", path):
        start = (float(x), float(y))
        found.append(start)
        if more.startswith("L"):
            found.append(tuple(map(float, more[1:].split())))
        elif more.startswith("h"):
            found.append((start[0] + float(more[1:]), start[1]))
        elif more.startswith("v"):
            found.append((start[0], start[1] + float(more[1:])))
    return found


@pytest.mark.parametrize("name", NAMES)
@given(x=SIDE, y=SIDE, wide=SIDE, high=SIDE)
def test_no_line_leaves_the_area(name: str, x: float, y: float, wide: float, high: float) -> None:
    # Coordinates are whole pixels: half of one each is what they may be off.
    for px, py in ends(texture(name, x, y, wide, high)):
        assert x - 1.01 <= px <= x + wide + 1.01
        assert y - 1.01 <= py <= y + high + 1.01


@pytest.mark.parametrize("name", NAMES)
def test_an_area_of_some_size_has_a_texture(name: str) -> None:
    assert len(ends(texture(name, 10, 10, 60, 40))) >= 2
    assert area(name, 10, 10, 0, 40) == area(name, 10, 10, 0, 40, f"c-{name}")
    assert texture(name, 10, 10, 0, 40) == ""


def test_no_two_textures_are_alike() -> None:
    drawn = {re.sub(r' class="[^"]+"', "", texture(name, 0, 0, 60, 40)) for name in NAMES}
    assert len(drawn) == len(NAMES)
