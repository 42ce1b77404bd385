"""Where things lie within a lane, and along the axis of time. One lane is 1 wide; still and live figure share this."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from types import MappingProxyType
from typing import TYPE_CHECKING

from briefgen.charts.drawing.marks import pattern_word
from briefgen.charts.drawing.words import for_plotly
from briefgen.model.people import Person
from briefgen.units import HOUR, MINUTE, show_elapsed

if TYPE_CHECKING:
    from briefgen.charts.kinds.timeline.rows import Rows


Piece = tuple[tuple[int, float], tuple[int, float]]
"""From a lane and a moment in seconds to another."""


@dataclass(frozen=True)
class Strip:
    """A strip across a lane, in parts of its width from the lane's near edge."""

    begins: float
    wide: float

    @property
    def ends(self) -> float:
        """Where the strip ends, as a share of its lane."""
        return self.begins + self.wide

    @property
    def middle(self) -> float:
        """The strip's middle, as a share of its lane."""
        return self.begins + self.wide / 2


# A task's name in up to three lines, the bars of its steps under it as a ruler, and the critical chain under these.
TITLE = Strip(0.03, 0.45)
BARS = Strip(0.52, 0.24)
SLIM = Strip(0.58, 0.12)
RAIL = Strip(0.795, 0.05)
SLACK = Strip(0.87, 0.11)

# The same where time runs down.
BARS_DOWN = Strip(0.02, 0.15)
SLIM_DOWN = Strip(0.05, 0.09)
RAIL_DOWN = Strip(0.19, 0.04)
TITLE_DOWN = Strip(0.25, 0.73)
SLACK_DOWN = Strip(0.9, 0.08)


BOTH_WAYS: Mapping[str, tuple[float, float, float, float]] = MappingProxyType(
    {
        name: (one.begins, one.wide, other.begins, other.wide)
        for name, one, other in (
            ("title", TITLE, TITLE_DOWN),
            ("bars", BARS, BARS_DOWN),
            ("slim", SLIM, SLIM_DOWN),
            ("rail", RAIL, RAIL_DOWN),
            ("slack", SLACK, SLACK_DOWN),
        )
    }
)
"""Each strip's beginning and width, across and then downwards: what turns a figure round."""


def lane_words(person: Person) -> str:
    """A lane's name in the live figure: label, callsign, and the mark's word."""
    words = (str(person.callsign or ""), pattern_word(person))
    return "<br>".join([f"<b>{for_plotly(person.label_text)}</b>", *(for_plotly(word) for word in words if word)])


def limits(rows: Rows) -> tuple[tuple[float, str], ...]:
    """The three moments at a timeline's end, and what they are."""
    return (
        (rows.finish, f"last step ends {show_elapsed(rows.finish)}"),
        (rows.usable, f"usable until {show_elapsed(rows.usable)}, then reserve"),
        (rows.length, f"limit {show_elapsed(rows.length)}"),
    )


def chain_pieces(chain: Iterable[tuple[int, float]]) -> list[Piece]:
    """The critical chain, points (lane, seconds), as pieces along the lanes.

    >>> chain_pieces([(1, 0.0), (1, 300.0), (1, 300.0), (1, 420.0), (0, 420.0), (0, 480.0)])
    [((1, 0.0), (1, 420.0)), ((0, 420.0), (0, 480.0))]
    """
    along: list[Piece] = []
    for first, last in pairwise(chain):
        if first[0] != last[0]:
            continue
        if along and along[-1][1] == first:
            along[-1] = (along[-1][0], last)
        elif first != last:
            along.append((first, last))
    return along


def ticks(until: float, most: int = 14) -> tuple[tuple[float, str], ...]:
    """Whole steps on the axis of elapsed time, `most` at most: seconds and their words (`1:30`)."""
    spans = (MINUTE, 5 * MINUTE, 10 * MINUTE, 15 * MINUTE, 30 * MINUTE, HOUR, 2 * HOUR, 6 * HOUR)
    span = next((span for span in spans if until / span <= most), until / most)
    marks = (k * span for k in range(int(until / span) + 1))
    return tuple((mark, show_elapsed(mark).rpartition(":")[0]) for mark in marks)
