"""The page that most records share: what it is, its values, tables, figures, and everything that uses it."""

from __future__ import annotations

from collections.abc import Iterable

from briefgen.language.wording import capital
from briefgen.model.fields.base import Record
from briefgen.pages.context import PageContext
from briefgen.pages.doing.statements import statements
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Badge, Key, Link
from briefgen.pages.things.figures import figures_about
from briefgen.pages.things.usedby import used_by
from briefgen.source import Ref
from briefgen.tables.table import Table


def record_page(
    context: PageContext,
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
    title = capital(context.label(kind, identifier))
    return Page(
        uri=context.links.record_uri(kind, identifier),
        title=title,
        section=section,
        template="record.html",
        icon=kind,
        order=order,
        about=context.texts.plain(record.note) if record.note else "",
        rows={
            "title": title,
            "kind": Link(head, context.links.page(index)),
            "icon": kind,
            "note": str(record.note or ""),
            "badges": tuple(badges),
            "keys": tuple(keys),
            "tables": tuple(tables),
            "statements": statements(context, hazards),
            "figures": figures_about(context, _figures(context, kind, record), kind, identifier),
            "uses": used_by(context, kind, identifier),
        },
    )


def _figures(context: PageContext, kind: str, record: Record) -> Iterable[Ref]:
    """The figures that a record names, and those with a callout that shows it."""
    yield from record.figures
    for use in context.uses.get((kind, str(record.id)), ()):
        if use.kind == "figure":
            yield Ref(use.identifier)
