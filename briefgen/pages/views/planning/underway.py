"""The day as it goes: a page for each sortie that answers for any clock and any last finished steps."""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup

from briefgen.charts.interactive.figures import written
from briefgen.pages.context import PageContext
from briefgen.pages.planning.underway import LATE, case_choices, moments_table, script_data
from briefgen.pages.publishing.page import Page
from briefgen.proof.deciding.underway.day import make_day
from briefgen.proof.evidence import SortieEvidence
from briefgen.units import show_duration

ANSWERS = (
    ("out", "Leave out"),
    ("fits", "Fits"),
    ("open", "Open now"),
    ("home", "Home"),
    ("supplies", "Supplies"),
    ("light", "Light"),
)
"""The rows of the answer, each with the word on it; `underway-words.js` fills them."""


def pages(context: PageContext) -> Iterator[Page]:
    """One page a sortie in which anybody does anything."""
    for number, proved in enumerate(context.sorties, start=1):
        if proved.plan.steps:
            yield _page(context, proved, number)
            vars(proved).pop("caller", None)  # nobody asks for more stops: what was searched for them can go


def _page(context: PageContext, proved: SortieEvidence, number: int) -> Page:
    identifier = str(proved.sortie.id)
    title = f"As it goes: {context.short(identifier)}"
    day = make_day(proved)
    programme = context.library.programme
    return Page(
        uri=context.links.record_uri("underway", identifier),
        title=title,
        section="sorties",
        template="planning/underway.html",
        icon="timeline",
        order=(1, number, 6),
        about="For rehearsal: what follows when the day goes otherwise than planned.",
        rows={
            "title": title,
            "sortie": context.link("sortie", identifier),
            "sortie_id": identifier,
            "programme": str(programme.id) if programme else "",
            "people": context.marks(day.flows),
            "answers": ANSWERS,
            "cases": case_choices(context, day),
            "late": show_duration(LATE),
            "moments": moments_table(context, day),
            "data": Markup(written(script_data(context, day))),
        },
    )
