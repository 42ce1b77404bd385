"""The pictures beside a step: of each figure that it names the part with its callouts, ringed, and the whole of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from briefgen.charts.drawing.svg import number
from briefgen.language.wording import capital
from briefgen.model.figures import Callout
from briefgen.pages.context import PageContext
from briefgen.pages.rows import Link
from briefgen.pages.studying.grounds import Point
from briefgen.pages.things.figures import shown
from briefgen.pages.things.leaders import Sheet, sides
from briefgen.source import Ref

# CSS pixels, as the style sheet has them: of the crop, and of the whole picture on a phone.
CROP = Sheet(104.0, 78.0, ring=12.0, letter=8.0, far=24.0)
WHOLE = Sheet(330.0, 206.0, ring=15.0, letter=10.0, far=34.0)
# A crop shows at least this share of a picture's width, and so much more than its callouts' box, on each side.
_LEAST, _AROUND = 0.3, 0.1
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True)
class Ring:
    """A callout's ring: its point in hundredths of what is shown, and the side of its letter, if it has one."""

    letter: str
    side: str
    x: str
    y: str


@dataclass(frozen=True)
class Sight:
    """A figure that a step looks at.

    `wide`, `left` and `top` place the picture in its crop, in hundredths of the crop's width and height; `names` are
    the callouts by their letters.
    """

    anchor: str
    title: Link
    source: str
    width: int
    height: int
    wide: str
    left: str
    top: str
    rings: tuple[Ring, ...]
    whole: tuple[Ring, ...]
    names: tuple[tuple[str, Link], ...]
    keys: tuple[str, ...]


def sights(context: PageContext, anchor: str, refs: Iterable[Ref]) -> tuple[Sight, ...]:
    """A sight for each figure that is named, with all of its callouts that are; anchors begin with `anchor`."""
    by_figure: dict[str, list[str]] = {}
    for ref in refs:
        by_figure.setdefault(str(ref), []).extend([ref.part] if ref.part else [])
    return tuple(
        _sight(context, f"_look-{anchor}-{place}", figure, parts)
        for place, (figure, parts) in enumerate(by_figure.items(), start=1)
    )


def _sight(context: PageContext, anchor: str, figure: str, parts: Sequence[str]) -> Sight:
    record = context.library.figures[figure]
    size = context.pictures.size(str(record.file))
    callouts = {str(name): callout for name, callout in record.callouts.items()}
    looked = [callouts[part] for part in dict.fromkeys(parts) if part in callouts]
    letters = [_LETTERS[place] if len(looked) > 1 and place < len(_LETTERS) else "" for place in range(len(looked))]
    points = [(float(x), float(y)) for x, y in (callout.at for callout in looked)]
    window = _window(points, size.width / size.height)
    return Sight(
        anchor, context.link("figure", figure), context.links.picture(record.still), size.width, size.height,
        number(100 / window.wide), number(-100 * window.left / window.wide), number(-100 * window.top / window.high),
        tuple(_rings(CROP, letters, [window.within(point) for point in points])),
        tuple(_rings(WHOLE, letters, points)),
        tuple(zip(letters, (_name(context, callout) for callout in looked), strict=True)),
        tuple(f"{figure}#{part}" for part in parts) or (figure,),
    )  # fmt: skip


def _name(context: PageContext, callout: Callout) -> Link:
    link = shown(context, str(callout.shows))
    return Link(capital(link.words), link.target)


@dataclass(frozen=True)
class _Window:
    """The part of a picture that a crop shows, in shares of its width and height."""

    left: float
    top: float
    wide: float
    high: float

    def within(self, point: Point) -> Point:
        """A point of the picture as shares of the window."""
        return (point[0] - self.left) / self.wide, (point[1] - self.top) / self.high


def _window(points: Sequence[Point], shape: float) -> _Window:
    """The window in the shape of a crop round the points; all of the picture where there are none.

    `shape` is the picture's width by its height. A window may be larger than a picture that is much wider or higher
    than a crop: its middle is then the picture's.
    """
    across, down = zip(*points, strict=True) if points else ((0.0, 1.0), (0.0, 1.0))
    around = 2 * _AROUND if points else 0.0
    crop = CROP.wide / CROP.high
    wide = max(_LEAST, max(across) - min(across) + around, (max(down) - min(down) + around) / shape * crop)
    wide = min(wide, max(1.0, crop / shape))
    high = wide * shape / crop
    return _Window(_start(across, wide), _start(down, high), wide, high)


def _start(along: Sequence[float], length: float) -> float:
    middle = (min(along) + max(along)) / 2
    return (1 - length) / 2 if length >= 1 else min(max(0.0, middle - length / 2), 1 - length)


def _rings(sheet: Sheet, letters: Sequence[str], points: Sequence[Point]) -> Iterator[Ring]:
    found = sides(sheet, [(x * sheet.wide, y * sheet.high) for x, y in points])
    for letter, side, (x, y) in zip(letters, found, points, strict=True):
        yield Ring(letter, side if letter else "", number(100 * x), number(100 * y))
