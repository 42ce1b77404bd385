"""How long everybody outside would need to get home, at every moment, against the sortie's `return_within`."""

from __future__ import annotations

import math

from briefgen.charts.chart import Href
from briefgen.charts.drawing.words import plain
from briefgen.charts.kinds.curves import Curve, Curves, Level, Panel, Rows, curves_kind, thinned
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.moving.homeward import HomeLine
from briefgen.tables.kinds.margins import home_table
from briefgen.tables.table import addressed
from briefgen.units import MINUTE, show_duration, show_elapsed


def homeward_curves(evidence: SortieEvidence, href: Href) -> Curves:
    """What it is drawn from."""
    sortie, lines = plain(evidence.sortie.title), evidence.time_home
    rows = Rows(
        f"homeward-{evidence.sortie.id}",
        f"Time home: {sortie}",
        (_panel(evidence),) if lines else (),
        max(evidence.timeline.finish, MINUTE),
        evidence.light.nights,
    )
    table = addressed(home_table(evidence), href)
    return Curves(rows, summary(evidence), table, "too long a way home")


def _panel(evidence: SortieEvidence) -> Panel:
    order = list(evidence.plan.flows)
    curves = tuple(
        Curve(order.index(name), evidence.library.people[name], _points(line), line.longest)
        for name, line in evidence.time_home.items()
        if any(math.isfinite(home) for _, home in line.points)
    )
    limit = evidence.sortie.limits.return_within
    highest = max((value for curve in curves for _, value in curve.points), default=1.0)
    allowed = limit.likely / MINUTE if limit else None
    most = max(highest, allowed or 0.0, 1.0) * 1.12
    levels = (Level(allowed, f"home within {show_duration(allowed * MINUTE)}", below=False),) if allowed else ()
    return Panel("Time home", "min", curves, levels, most)


def _points(line: HomeLine) -> tuple[tuple[float, float], ...]:
    """The line in minutes; where there is no way home it is left out, which the travel rules report."""
    return thinned([(seconds, home / MINUTE) for seconds, home in line.points if math.isfinite(home)])


def summary(evidence: SortieEvidence) -> str:
    """Who is farthest from home, and when."""
    lines = evidence.time_home
    if not lines:
        return "Nobody is outside."
    far = max(lines.values(), key=lambda line: line.worst[1])
    who, (when, _) = evidence.library.people[far.person].label_text, far.worst
    limit = evidence.sortie.limits.return_within
    allowed = f"; {show_duration(limit.likely)} is allowed" if limit else ""
    return f"{who} is farthest from home at {show_elapsed(when)}: {far.longest}{allowed}."


CHART = curves_kind("homeward", homeward_curves)
