"""The page that most records share: what it is, its values, tables, figures, and everything that uses it."""

from __future__ import annotations

from collections.abc import Iterable

from briefgen.language.wording import capital
from briefgen.model.fields.base import Record
from briefgen.pages.desk import Desk
from briefgen.pages.doing.statements import statements
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Badge, Key, Link
from briefgen.pages.things.sights import figures_about
from briefgen.pages.things.usedby import used_by
from briefgen.source import Ref
from briefgen.tables.table import Table


def record_page(
    desk: Desk,
    kind: str,
    record: Record,
    section: str,
    order: tuple[int, ...],
    *,
    head: str,
    index: str,
    badges: Iterable[Badge] = (),
    keys: Iterable[Key] = (),
    tables: Iterable[Table] = (),
    hazards: Iterable[str] = (),
) -> Page:
    """A page for one record. `head` names its kind and leads to `index`, a page's path."""
    identifier = str(record.id)
    title = capital(desk.label(kind, identifier))
    return Page(
        uri=desk.links.record_uri(kind, identifier),
        title=title,
        section=section,
        template="record.html",
        icon=kind,
        order=order,
        about=desk.texts.plain(record.note) if record.note else "",
        rows={
            "title": title,
            "kind": Link(head, desk.links.page(index)),
            "icon": kind,
            "note": str(record.note or ""),
            "badges": tuple(badges),
            "keys": tuple(keys),
            "tables": tuple(tables),
            "statements": statements(desk, hazards),
            "figures": figures_about(desk, _figures(desk, kind, record), kind, identifier),
            "uses": used_by(desk, kind, identifier),
        },
    )


def _figures(desk: Desk, kind: str, record: Record) -> Iterable[Ref]:
    """The figures that a record names, and those with a callout that shows it."""
    yield from record.figures
    for use in desk.uses.get((kind, str(record.id)), ()):
        if use.kind == "figure":
            yield Ref(use.identifier)
