"""What can be found: every record and step by what people call it, then the other pages. Answers to questions can't."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from briefgen.language.wording import capital
from briefgen.model.library import KINDS
from briefgen.model.tasks import Task
from briefgen.pages.context import PageContext
from briefgen.pages.links import ROOT
from briefgen.pages.publishing.page import Page
from briefgen.pages.publishing.sections import SECTIONS

_RECORD = re.compile(r"[a-z]+:[a-z0-9-]+(?:#[a-z0-9-]+)?")
_UNFOUND = frozenset({"programme", "question"})
_TEXTS = ("note", "purpose", "hazard", "consequence", "avoid", "means", "does", "alt", "why")


@dataclass(frozen=True)
class SearchEntry:
    """Something that is found: its kind, what it is called, where its page lies (from the site's root).

    `where` says where it is or belongs, `also` are its other names, `words` what else is said of it.
    """

    kind: str
    name: str
    target: str
    where: str = ""
    also: tuple[str, ...] = ()
    words: str = ""


def entries(context: PageContext, pages: Iterable[Page] = ()) -> Iterator[SearchEntry]:
    """All that can be found: the records, their steps, and those of `pages` that are no record's own."""
    found = [*_records(context), *_steps(context)]
    yield from found
    taken = {entry.target for entry in found}
    sections = {section.key: section.title for section in SECTIONS}
    for page in pages:
        target = context.links.page(page.uri).removeprefix(ROOT)
        if target not in taken:
            kind = "rule" if page.uri.startswith("rules/") else "page"
            yield SearchEntry(kind, page.title, target, sections[page.section], (), page.about)


def _records(context: PageContext) -> Iterator[SearchEntry]:
    every: Iterator[tuple[str, Any]] = context.library.every()
    for key, record in every:
        kind, identifier = KINDS[key].singular, str(record.id)
        if kind in _UNFOUND:
            continue
        name = _name(context, kind, record)
        also = tuple(dict.fromkeys(one for one in _names(context, record) if one.lower() != name.lower()))
        target = context.links.target(kind, identifier).removeprefix(ROOT)
        yield SearchEntry(kind, name, target, _place(context, record), also, _words(context, record))
        if kind == "figure":
            yield from _callouts(context, record)


def _callouts(context: PageContext, figure: Any) -> Iterator[SearchEntry]:
    """What a figure alone points at; what has a record of its own is found as that."""
    for callout, pointed in figure.callouts.items():
        if not _RECORD.fullmatch(str(pointed.shows)):
            target = context.links.target("figure", str(figure.id), str(callout)).removeprefix(ROOT)
            yield SearchEntry(
                "callout", capital(context.texts.plain(pointed.shows)), target, context.label("figure", figure.id)
            )


def _name(context: PageContext, kind: str, record: Any) -> str:
    """What it is called: `Wren (EV2)`, `Torque driver`."""
    if kind == "person" and record.callsign:
        return f"{context.texts.plain(record.callsign)} ({context.texts.plain(record.label)})"
    return context.texts.plain(record.short) if kind == "term" else capital(context.label(kind, str(record.id)))


def _names(context: PageContext, record: Any) -> Iterator[str]:
    for key in ("callsign", "label", "name", "short", "long"):
        if isinstance(said := getattr(record, key, None), str) and said:
            yield context.texts.plain(said)
    if (mark := getattr(record, "mark", None)) is not None:
        yield mark.said


def _place(context: PageContext, record: Any) -> str:
    """Where a thing lies or begins, where it says so."""
    spot = str(getattr(record, "stowed", None) or getattr(record, "place", None) or "")
    return context.spot(spot).words if spot else ""


def _words(context: PageContext, record: Any) -> str:
    said = (getattr(record, key, None) for key in _TEXTS)
    return " ".join(context.texts.plain(one) for one in said if isinstance(one, str) and one)


def _steps(context: PageContext) -> Iterator[SearchEntry]:
    """Each thing done in a task, once; those of ways back, too."""
    for task in context.library.tasks.values():
        yield from _steps_of(context, task)


def _steps_of(context: PageContext, task: Task) -> Iterator[SearchEntry]:
    title, planned, told = context.label("task", str(task.id)), {step.key for step in task.steps}, set()
    for step in task.every_step:
        name = context.texts.plain(step.do)
        if name in told:
            continue
        told.add(name)
        back = step.key not in planned
        where = f"{title}, {'way back' if back else f'step {context.number(task, step)}'}"
        target = context.links.target("task", str(task.id), step.key).removeprefix(ROOT)
        yield SearchEntry("back" if back else "step", name, target, where, (), _words(context, step))
