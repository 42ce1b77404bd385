"""The glossary: every term with its meaning, by the alphabet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.pages.context import PageContext
from briefgen.pages.publishing.page import Page


@dataclass(frozen=True)
class TermRow:
    """A term; `means` is the author's text."""

    anchor: str
    short: str
    long: str
    means: str


def pages(context: PageContext) -> Iterator[Page]:
    """The one page."""
    terms = sorted(context.library.terms.items(), key=lambda pair: (str(pair[1].short).casefold(), pair[0]))
    rows = tuple(TermRow(name, str(term.short), str(term.long or ""), str(term.means)) for name, term in terms)
    yield Page(
        uri="glossary",
        title="Glossary",
        section="glossary",
        template="study/glossary.html",
        icon="term",
        rows={"title": "Glossary", "terms": rows},
    )
