"""What each suit has left of every supply, over time, against the reserve that may not be planned into."""

from __future__ import annotations

from briefgen.charts.chart import Href
from briefgen.charts.drawing.words import plain
from briefgen.charts.kinds.curves import Curve, Curves, Level, Panel, Rows, curves_kind, thinned
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.resources.supplies import SupplyRun
from briefgen.tables.kinds.supplies import supplies_table
from briefgen.tables.table import addressed
from briefgen.units import MINUTE, show_elapsed, show_number


def supplies_curves(evidence: SortieEvidence, href: Href) -> Curves:
    """What it is drawn from."""
    runs = [run for one in evidence.supplies.runs.values() for run in one]
    panels = tuple(_panel(evidence, name, runs) for name in dict.fromkeys(run.name for run in runs))
    sortie = plain(evidence.sortie.title)
    rows = Rows(
        f"supplies-{evidence.sortie.id}",
        f"Supplies: {sortie}",
        panels,
        max(evidence.timeline.finish, evidence.sortie.limits.length.likely, MINUTE),
        evidence.light.nights,
    )
    return Curves(rows, summary(evidence), addressed(supplies_table(evidence), href), "reserve")


def _panel(evidence: SortieEvidence, name: str, runs: list[SupplyRun]) -> Panel:
    own = [run for run in runs if run.name == name]
    # Suits may be filled in different units; the panel speaks the first one's.
    unit, factor = own[0].unit, own[0].factor
    order = list(evidence.plan.flows)
    curves = tuple(
        Curve(
            order.index(run.person),
            evidence.library.people[run.person],
            thinned([(seconds, amount / factor) for seconds, amount in run.run.left]),
            _amount(run.left, run),
        )
        for run in own
    )
    keeps = sorted({float(run.supply.keeps) / factor for run in own}, reverse=True)
    levels = tuple(Level(value, f"reserve {show_number(value, 2)} {unit}", below=True) for value in keeps)
    most = max(float(run.supply.holds) for run in own) / factor * 1.04
    return Panel(name.replace("-", " ").capitalize(), unit, curves, levels, most)


def _amount(value: float, run: SupplyRun) -> str:
    return f"{show_number(value / run.factor, 2)} {run.unit}"


def summary(evidence: SortieEvidence) -> str:
    """Which supply comes to its reserve first, whose, and when."""
    first = evidence.supplies.ends
    if first is None or first.reserve_reached is None:
        return "No supply comes to its reserve."
    who = evidence.library.people[first.person].label_text
    name = first.name.replace("-", " ")
    reached, finish = first.reserve_reached, evidence.timeline.finish
    beyond = "after the last step" if reached > finish else "before the last step ends"
    return f"{who}'s {name} comes to its reserve first: at {show_elapsed(reached)}, {beyond} ({show_elapsed(finish)})."


CHART = curves_kind("supplies", supplies_curves)
