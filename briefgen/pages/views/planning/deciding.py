"""What to do when the clock and the plan part: a page for each sortie."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.language.wording import hours
from briefgen.pages.desk import Desk
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Key
from briefgen.proof.chance.share import RUNS, SEED
from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.kinds.drops import drops_table, kept_table
from briefgen.tables.kinds.extras import extras_note, extras_table, unfit_table
from briefgen.tables.kinds.latest import latest_table
from briefgen.tables.kinds.steps import decisive_table
from briefgen.units import show_duration, show_elapsed


def pages(desk: Desk) -> Iterator[Page]:
    """One page a sortie."""
    for number, case in enumerate(desk.cases, start=1):
        yield _page(desk, case, number)


def _page(desk: Desk, case: SortieEvidence, number: int) -> Page:
    identifier = str(case.sortie.id)
    title = f"Deciding: {desk.short(identifier)}"
    return Page(
        uri=desk.links.record_uri("deciding", identifier),
        title=title,
        section="sorties",
        template="planning/deciding.html",
        icon="timeline",
        order=(1, number, 4),
        about="What to do when the crew is early or late.",
        rows={
            "title": title,
            "sortie": desk.link("sortie", identifier),
            "lead": " ".join(headline(case)),
            "keys": tuple(_keys(case)),
            "charts": (desk.plots.draw("finish", case),),
            "latest": desk.tables(latest_table(case)),
            "drops": desk.tables(drops_table(case)),
            "kept": desk.tables(kept_table(case)),
            "extras": desk.tables(extras_table(case)),
            "extras_note": extras_note(case),
            "unfit": desk.tables(unfit_table(case)),
            "decisive": desk.tables(decisive_table(case)),
            "method": _method(),
        },
    )


def headline(case: SortieEvidence) -> Iterator[str]:
    """The chance and the margin in sentences."""
    timeline, chance = case.timeline, case.chance
    margin = show_duration(abs(timeline.margin))
    side = "before" if timeline.margin >= 0 else "after"
    until = "the reserve begins" if chance.usable < chance.length else "the limit"
    yield f"As planned the sortie ends at {show_elapsed(timeline.finish)}, {margin} {side} {until}."
    if not chance.varies:
        return
    in_time, within = chance.finish.within(chance.usable).words, chance.finish.within(chance.length).words
    also = f"; that it ends within the limit, {within}" if chance.usable < chance.length else ""
    yield f"The chance that it ends by then is {in_time}{also}."
    if chance.bare:
        yield f"Without the optional tasks the chance of the first is {chance.bare.within(chance.usable).words}."


def _keys(case: SortieEvidence) -> Iterator[Key]:
    chance = case.chance
    if chance.usable < chance.length:
        yield Key("Ends before the reserve", chance.finish.within(chance.usable).words)
    yield Key("Ends within the limit", chance.finish.within(chance.length).words)
    yield Key("Planned", hours(case.timeline.finish), "h")
    yield Key("Mean of the runs", hours(chance.finish.spread.mean), "h")
    yield Key("Margin as planned", hours(case.timeline.margin), "h")


def _method() -> str:
    return (
        f"The chances come from {RUNS} runs of the plan (seed {SEED}). In each run every three-point duration is drawn "
        "from its Beta-PERT distribution, independent of the others; ways take as long as planned, and everything in "
        "the flow is done. The number after ± says how far a chance may lie off because there are no more runs (95 % "
        "confidence)."
    )
