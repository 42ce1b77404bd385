"""What to do when the clock and the plan part: a page for each sortie."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.language.wording import hours
from briefgen.pages.context import PageContext
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Key
from briefgen.proof.chance.share import RUNS, SEED
from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.kinds.drops import drops_table, kept_table
from briefgen.tables.kinds.extras import extras_note, extras_table, unfit_table
from briefgen.tables.kinds.latest import latest_table
from briefgen.tables.kinds.steps import decisive_table
from briefgen.units import show_duration, show_elapsed


def pages(context: PageContext) -> Iterator[Page]:
    """One page a sortie."""
    for number, proved in enumerate(context.sorties, start=1):
        yield _page(context, proved, number)


def _page(context: PageContext, proved: SortieEvidence, number: int) -> Page:
    identifier = str(proved.sortie.id)
    title = f"Deciding: {context.short(identifier)}"
    return Page(
        uri=context.links.record_uri("deciding", identifier),
        title=title,
        section="sorties",
        template="planning/deciding.html",
        icon="timeline",
        order=(1, number, 4),
        about="What to do when the crew is early or late.",
        rows={
            "title": title,
            "sortie": context.link("sortie", identifier),
            "lead": " ".join(headline(proved)),
            "keys": tuple(_keys(proved)),
            "charts": (context.plots.draw("finish", proved),),
            "latest": context.tables(latest_table(proved)),
            "drops": context.tables(drops_table(proved)),
            "kept": context.tables(kept_table(proved)),
            "extras": context.tables(extras_table(proved)),
            "extras_note": extras_note(proved),
            "unfit": context.tables(unfit_table(proved)),
            "decisive": context.tables(decisive_table(proved)),
            "method": _method(),
        },
    )


def headline(proved: SortieEvidence) -> Iterator[str]:
    """The chance and the margin in sentences."""
    timeline, chance = proved.timeline, proved.chance
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


def _keys(proved: SortieEvidence) -> Iterator[Key]:
    chance = proved.chance
    if chance.usable < chance.length:
        yield Key("Ends before the reserve", chance.finish.within(chance.usable).words)
    yield Key("Ends within the limit", chance.finish.within(chance.length).words)
    yield Key("Planned", hours(proved.timeline.finish), "h")
    yield Key("Mean of the runs", hours(chance.finish.spread.mean), "h")
    yield Key("Margin as planned", hours(proved.timeline.margin), "h")


def _method() -> str:
    return (
        f"The chances come from {RUNS} runs of the plan (seed {SEED}). In each run every three-point duration is drawn "
        "from its Beta-PERT distribution, independent of the others; ways take as long as planned, and everything in "
        "the flow is done. The number after ± says how far a chance may lie off because there are no more runs (95 % "
        "confidence)."
    )
