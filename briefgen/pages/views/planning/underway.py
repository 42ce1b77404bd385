"""The day as it goes: a page for each sortie that answers for any clock and any last finished steps."""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup

from briefgen.charts.interactive.figures import written
from briefgen.pages.desk import Desk
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


def pages(desk: Desk) -> Iterator[Page]:
    """One page a sortie in which anybody does anything."""
    for number, case in enumerate(desk.cases, start=1):
        if case.plan.steps:
            yield _page(desk, case, number)
            vars(case).pop("caller", None)  # nobody asks for more stops: what was searched for them can go


def _page(desk: Desk, case: SortieEvidence, number: int) -> Page:
    identifier = str(case.sortie.id)
    title = f"As it goes: {desk.short(identifier)}"
    day = make_day(case)
    programme = desk.library.programme
    return Page(
        uri=desk.links.record_uri("underway", identifier),
        title=title,
        section="sorties",
        template="planning/underway.html",
        icon="timeline",
        order=(1, number, 6),
        about="For rehearsal: what follows when the day goes otherwise than planned.",
        rows={
            "title": title,
            "sortie": desk.link("sortie", identifier),
            "sortie_id": identifier,
            "programme": str(programme.id) if programme else "",
            "people": tuple((person, desk.mark(person).name) for person in day.flows),
            "answers": ANSWERS,
            "cases": case_choices(desk, day),
            "late": show_duration(LATE),
            "moments": moments_table(desk, day),
            "data": Markup(written(script_data(desk, day))),
        },
    )
