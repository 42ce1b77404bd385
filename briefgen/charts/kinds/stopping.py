"""How long it takes from every moment until all is closed and everybody home, beside the bare time home."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from briefgen.charts.chart import Href
from briefgen.charts.drawing.words import plain
from briefgen.charts.kinds.curves import Curve, Curves, Panel, Rows, curves_kind, thinned
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.moving.homeward import until_home
from briefgen.proof.stopping.stops import Stop
from briefgen.proof.stopping.stretches import longest_without, worst
from briefgen.tables.kinds.unplanned.stops import stops_table
from briefgen.tables.table import addressed
from briefgen.units import MINUTE, show_duration, show_elapsed

ORDERLY, BARE, CLEAN = "Orderly stop", "Immediate return", "clean stop"


def stopping_curves(evidence: SortieEvidence, href: Href) -> Curves:
    """What it is drawn from."""
    sortie, stops = plain(evidence.sortie.title), evidence.stops
    rows = Rows(
        f"stopping-{evidence.sortie.id}",
        f"Time until everybody is home: {sortie}",
        (_panel(evidence),) if evidence.time_home and stops else (),
        max(evidence.timeline.finish, MINUTE),
        evidence.light.nights,
        CLEAN if any(stop.clean for stop in stops) else "",
    )
    table = addressed(stops_table(evidence), href)
    return Curves(rows, summary(stops), table, "")


def summary(stops: Sequence[Stop]) -> str:
    """How many clean stops there are, the longest stretch without one, and the worst moment."""
    far, stretch = worst(stops), longest_without(stops)
    if far is None:
        return "Nothing is done."
    words = f"{sum(stop.clean for stop in stops)} of {len(stops)} moments are clean stops"
    if stretch:
        between = f"{show_elapsed(stretch.start)} to {show_elapsed(stretch.end)}"
        words += f"; the longest stretch without one is {show_duration(stretch.seconds)}, from {between}"
    return f"{words}. Closing up takes longest from {show_elapsed(far.at)}: {until_home(far.seconds)}."


def _panel(evidence: SortieEvidence) -> Panel:
    stops = evidence.stops
    finite = [stop for stop in stops if math.isfinite(stop.seconds)]
    curves = (
        Curve(8, None, thinned(list(_stairs(finite))), "", ORDERLY),
        Curve(9, None, thinned(list(_bare(evidence))), "", BARE),
    )
    most = max((value for curve in curves for _, value in curve.points), default=1.0)
    signs = tuple((stop.at, stop.seconds / MINUTE) for stop in finite if stop.clean)
    return Panel("Time until everybody is home", "min", curves, (), max(most, 1.0) * 1.12, signs)


def _stairs(stops: Sequence[Stop]) -> Iterator[tuple[float, float]]:
    """Between two moments it is the later one's: what is begun is finished first."""
    before = 0.0
    for stop in stops:
        yield before, stop.seconds / MINUTE
        yield stop.at, stop.seconds / MINUTE
        before = stop.at


def _bare(evidence: SortieEvidence) -> Iterator[tuple[float, float]]:
    lines = evidence.time_home.values()
    for at in sorted({seconds for line in lines for seconds, _ in line.points}):
        seconds = max(line.at(at) for line in lines)
        if math.isfinite(seconds):
            yield at, seconds / MINUTE


CHART = curves_kind("stopping", stopping_curves)
