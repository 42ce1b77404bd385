"""What tells areas apart without colour: slanting lines, crosses, rungs and dots, drawn as lines of their own.

No SVG patterns: a printer turns them into megabytes, and their ids would have to differ all over a page.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType

from briefgen.charts.drawing.svg import rect, tag

Area = tuple[float, float, float, float]
"""Left, top, width, height."""


def whole(value: float) -> str:
    """A coordinate without decimals: there are thousands of them, and half a pixel is not seen in a texture."""
    return f"{value:.0f}"


def area(name: str, x: float, y: float, wide: float, high: float, class_: str = "") -> str:
    """A rectangle with its texture; its class is `c-` and the name, unless another one is given."""
    return rect(x, y, wide, high, class_ or f"c-{name}") + texture(name, x, y, wide, high)


def texture(name: str, x: float, y: float, wide: float, high: float) -> str:
    """The lines of a texture over a rectangle: `wait standby optional reserve night together way way-down`."""
    draw, class_ = _TEXTURES[name]
    strokes = "".join(draw((x, y, wide, high))) if wide > 0 and high > 0 else ""
    return tag("path", d=strokes, class_=class_) if strokes else ""


def _slants(gap: float, rising: bool = False) -> Callable[[Area], Iterator[str]]:
    def draw(box: Area) -> Iterator[str]:
        x, y, wide, high = box
        reach = gap / 2
        while reach < wide + high:
            # The line on which the distances from the left and from the top add up to `reach`.
            ends = ((min(reach, wide), max(0.0, reach - wide)), (max(0.0, reach - high), min(reach, high)))
            spots = ((x + across, y + (high - down if rising else down)) for across, down in ends)
            yield "M" + "L".join(f"{whole(a)} {whole(b)}" for a, b in spots)
            reach += gap

    return draw


def _crosses(gap: float) -> Callable[[Area], Iterator[str]]:
    def draw(box: Area) -> Iterator[str]:
        yield from _slants(gap)(box)
        yield from _slants(gap, rising=True)(box)

    return draw


def _rungs(gap: float, down: bool) -> Callable[[Area], Iterator[str]]:
    def draw(box: Area) -> Iterator[str]:
        x, y, wide, high = box
        along = gap / 2
        while along < (high if down else wide):
            yield (
                f"M{whole(x)} {whole(y + along)}h{whole(wide)}"
                if down
                else f"M{whole(x + along)} {whole(y)}v{whole(high)}"
            )
            along += gap

    return draw


def _dots(gap: float) -> Callable[[Area], Iterator[str]]:
    """Staggered dots: strokes of no length with round ends."""

    def draw(box: Area) -> Iterator[str]:
        x, y, wide, high = box
        row, down = 0, gap / 3
        while down < high:
            across = gap / 3 + (gap / 2 if row % 2 else 0.0)
            while across < wide:
                yield f"M{whole(x + across)} {whole(y + down)}h0"
                across += gap
            row, down = row + 1, down + gap * 0.7

    return draw


_TEXTURES: Mapping[str, tuple[Callable[[Area], Iterator[str]], str]] = MappingProxyType(
    {
        "wait": (_slants(8), "c-hatch"),
        "standby": (_slants(11), "c-hatch"),
        "optional": (_slants(9), "c-optional-line"),
        "reserve": (_crosses(12), "c-cross"),
        "night": (_dots(24), "c-star"),
        "together": (_dots(8), "c-knot"),
        # Rungs, as people go hand over hand.
        "way": (_rungs(4, down=False), "c-rung"),
        "way-down": (_rungs(4, down=True), "c-rung"),
    }
)
