"""A sortie's stops as a table: what a stop at the end of each step leaves open, and how long closing up takes."""

from __future__ import annotations

from briefgen.language.sentences import plain
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.moving.homeward import until_home
from briefgen.proof.stopping.stops import Stop
from briefgen.terminal.table import Column, Table
from briefgen.units import show_elapsed


def stops_table(case: SortieEvidence) -> Table:
    """Every moment; `*` marks the clean stops, at which nobody has anything left to do but at home."""
    columns = (
        Column("At", right=True),
        Column("As this ends", wide=True),
        Column("Open", right=True),
        Column("Steps", right=True),
        Column("Orderly stop", right=True),
        Column("Immediate return", right=True),
    )
    title = "Stops (time until all is closed and everybody home, or everybody home leaving all; * a clean stop)"
    return Table(title, columns, tuple(_stop(case, stop) for stop in case.stops), "Nobody does anything.")


def _stop(case: SortieEvidence, stop: Stop) -> tuple[str, ...]:
    step = case.plan.steps[stop.ended[0]]
    stuck = f" (no way back is written for {len(stop.stuck)})" if stop.stuck else ""
    return (
        show_elapsed(stop.at),
        f"{plain(step.step.do)} [{step.key}]{stuck}",
        str(len(stop.open)),
        str(len(stop.closing)),
        until_home(stop.seconds) + (" *" if stop.clean else "  "),
        until_home(stop.bare),
    )
