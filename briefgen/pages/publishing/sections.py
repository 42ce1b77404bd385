"""The parts of the site, in the order of the navigation."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Section:
    """A group of pages. Without a title its pages stand in the navigation themselves."""

    key: str
    title: str
    icon: str


SECTIONS = (
    Section("overview", "", "home"),
    Section("sorties", "Sorties", "sortie"),
    Section("tasks", "Tasks", "task"),
    Section("people", "People", "person"),
    Section("cards", "Cue cards", "card"),
    Section("tools", "Tools and bags", "tool"),
    Section("places", "Places", "place"),
    Section("equipment", "Equipment", "equipment"),
    Section("hazards", "Hazards", "hazard"),
    Section("figures", "Figures", "figure"),
    Section("learning", "Learning", "outcome"),
    Section("glossary", "", "term"),
    Section("findings", "Planning", "findings"),
)
