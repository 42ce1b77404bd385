"""All names on one page, for whoever reads without a script or looks along the shelf."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from briefgen.pages.context import PageContext
from briefgen.pages.finding.entries import SearchEntry, entries
from briefgen.pages.finding.script import KINDS
from briefgen.pages.links import ROOT
from briefgen.pages.publishing.page import Page

_HEADS = {
    "person": "People", "place": "Places", "equipment": "Equipment", "tool": "Tools", "bag": "Bags", "suit": "Suits",
    "callout": "In figures", "task": "Tasks", "sortie": "Sorties", "hazard": "Hazards", "term": "Terms",
    "figure": "Figures", "route": "Routes", "outcome": "Outcomes",
}  # fmt: skip


def pages(context: PageContext) -> Iterator[Page]:
    """The one page."""
    order = list(KINDS)
    named = sorted(
        (entry for entry in entries(context) if entry.kind in _HEADS),
        key=lambda entry: (order.index(entry.kind), entry.name.lower(), entry.target),
    )
    yield Page(
        uri="names",
        title="All names",
        section="glossary",
        template="study/names.html",
        icon="search",
        order=(9,),
        about="Every person, place, tool and task by its name.",
        rows={
            "title": "All names",
            "groups": [(_HEADS[kind], f"_{kind}", [*map(_line, row)]) for kind, row in groupby(named, _kind)],
        },
    )


def _kind(entry: SearchEntry) -> str:
    return entry.kind


def _line(entry: SearchEntry) -> tuple[str, str, str]:
    """Name, target, and what stands beside it: other names that this one does not hold, and where it is."""
    beside = [one for one in entry.also if one.lower() not in entry.name.lower()]
    return entry.name, f"{ROOT}{entry.target}", ", ".join((*beside, *([entry.where] if entry.where else [])))
