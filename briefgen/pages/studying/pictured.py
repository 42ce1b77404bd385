"""What a picture shows: a figure with callouts, or the ground of the site with people's ways and where they stand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from markupsafe import Markup

from briefgen.charts.drawing.svg import number
from briefgen.language.wording import capital
from briefgen.model.figures import Callout
from briefgen.pages.context import PageContext
from briefgen.pages.rows import Link, MarkChip
from briefgen.pages.studying.grounds import Ground, Point, figure_ground, ground_of
from briefgen.pages.studying.ways import DrawnWay, ways_of
from briefgen.pages.things.clips import ClipRow, Lit, clip_row, lit_of
from briefgen.pages.things.figures import shown
from briefgen.proof.evidence import SortieEvidence
from briefgen.telling.scenes import FigureShown
from briefgen.telling.stretches import Interval

APART = 9.0
"""How far apart two people's ways are drawn, in the picture's pixels."""
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
# A person is drawn where they are at a moment; two this near (in hundredths of the width) share a spot.
_NEAR = 2.5
# Below this (in hundredths of the height) a picture has no room for a label under a spot.
_LOW = 70.0
# So near to the upper or the right edge it has none for a letter beyond a point.
_HIGH = 12.0


@dataclass(frozen=True)
class Pin:
    """A callout that is spoken of: its letter, its point in hundredths, and what it shows.

    Its letter stands above and to the right of the point, or in the `corner` where the picture has room for it.
    """

    letter: str
    x: str
    y: str
    corner: str
    shows: Link
    lit: Lit | None = None


@dataclass(frozen=True)
class Gathering:
    """People at one spot of the map; their label stands above it where there is no room below."""

    x: str
    y: str
    marks: tuple[MarkChip, ...]
    above: bool


@dataclass(frozen=True)
class LetteredPlace:
    """A worksite on the map, by the letters of the tasks that are done there."""

    x: str
    y: str
    letters: str


@dataclass(frozen=True)
class Picture:
    """What fills the screen. `ways` are lines in the picture's own pixels."""

    source: str
    svg: Markup
    alt: str
    width: int
    height: int
    figure: Link | None
    pins: tuple[Pin, ...] = ()
    ways: tuple[DrawnWay, ...] = ()
    standing: tuple[Gathering, ...] = ()
    sites: tuple[LetteredPlace, ...] = ()
    clip: ClipRow | None = None


def figure_picture(context: PageContext, shown_: FigureShown) -> Picture | None:
    """A figure with the callouts that are looked at, in order; None where there is no such figure."""
    record = context.library.figures.get(shown_.figure)
    if record is None:
        return None
    size = context.pictures.size(str(record.file))
    callouts = {str(name): callout for name, callout in record.callouts.items()}
    looked = [callouts[name] for name in shown_.look if name in callouts]
    return Picture(
        context.links.picture(record.still), Markup(), context.texts.plain(record.alt), size.width, size.height,
        context.link("figure", shown_.figure),
        pins=tuple(_pin(context, place, callout, record.is_clip) for place, callout in enumerate(looked)),
        clip=clip_row(context, record),
    )  # fmt: skip


def _pin(context: PageContext, place: int, callout: Callout, moving: bool) -> Pin:
    letter = _LETTERS[place] if place < len(_LETTERS) else str(place + 1)
    x, y = (100 * float(share) for share in callout.at)
    corner = " ".join(["below"] * (y < _HIGH) + ["left"] * (x > 100 - _HIGH))
    link = shown(context, str(callout.shows))
    lit = lit_of(callout) if moving else None
    return Pin(letter, number(x), number(y), corner, Link(capital(link.words), link.target), lit)


def site_picture(context: PageContext, proved: SortieEvidence, stretch: Interval) -> Picture | None:
    """The site with everybody's ways in a stretch, and where they are at its end. None where there is no ground."""
    ground = ground_of(context)
    if ground is None:
        return None
    return _over(
        ground,
        ways=tuple(ways_of(context, proved, ground, stretch, APART, ())),
        standing=tuple(_standing(context, proved, ground, stretch.end)),
    )


def sortie_picture(
    context: PageContext, proved: SortieEvidence, letters: Mapping[str, Point], apart: float
) -> Picture | None:
    """The site with everybody's ways of a whole sortie, drawn `apart`, each with its mark, and the worksites' letters.

    `letters` are the points of the labels, in hundredths.
    """
    ground = ground_of(context)
    if ground is None:
        return None
    whole = Interval(0.0, proved.timeline.finish)
    return _over(
        ground,
        ways=tuple(ways_of(context, proved, ground, whole, apart, letters.values())),
        sites=tuple(LetteredPlace(number(x), number(y), words) for words, (x, y) in letters.items()),
    )


def ways_on(context: PageContext, figure: str) -> Iterator[tuple[Link, Picture]]:
    """For each sortie that leads between two or more of the places that a figure shows: the ways over it."""
    ground = figure_ground(context, figure, fitted=False)
    for proved in context.sorties if len(ground.points) > 1 else ():
        whole = Interval(0.0, proved.timeline.finish)
        ways = tuple(ways_of(context, proved, ground, whole, APART, ()))
        if ways:
            yield context.link("sortie", str(proved.sortie.id)), _over(ground, ways=ways)


def _over(
    ground: Ground,
    ways: tuple[DrawnWay, ...],
    standing: tuple[Gathering, ...] = (),
    sites: tuple[LetteredPlace, ...] = (),
) -> Picture:
    return Picture(
        ground.source, Markup(ground.svg), ground.alt, ground.width, ground.height, None,
        ways=ways, standing=standing, sites=sites,
    )  # fmt: skip


def _standing(context: PageContext, proved: SortieEvidence, ground: Ground, moment: float) -> Iterator[Gathering]:
    """Where everybody outside is at a moment; who is on no point of the ground is left out."""
    spots: list[tuple[Point, list[str]]] = []
    for person in proved.plan.outside:
        stay = proved.whereabouts.at(person, min(moment, proved.timeline.finish))
        point = ground.points.get(stay.place) if stay else None
        if point is None:
            continue
        near = next((people for spot, people in spots if _apart(spot, point) < _NEAR), None)
        if near is None:
            spots.append((point, [person]))
        else:
            near.append(person)
    for (x, y), people in spots:
        yield Gathering(number(x), number(y), context.marks(people), above=y > _LOW)


def _apart(one: Point, other: Point) -> float:
    return max(abs(one[0] - other[0]), abs(one[1] - other[1]))
