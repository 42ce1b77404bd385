"""All pages of a site: found in the views, sorted for the navigation, printed one by one."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from functools import cached_property

import briefgen.pages.views
from briefgen.discovery import modules_below
from briefgen.pages.context import PageContext
from briefgen.pages.html.environment import Printer
from briefgen.pages.publishing.page import Page
from briefgen.pages.publishing.sections import SECTIONS, Section


class Site:
    """The generated pages of one content folder."""

    def __init__(self, context: PageContext) -> None:
        self.context = context
        self._printer = Printer(context.texts)

    @cached_property
    def pages(self) -> Mapping[str, Page]:
        """Every page by its uri, in the order of the navigation."""
        return _in_order(self._found())

    def hand_out(self, put: Callable[[str, str], None]) -> None:
        """Gives each page's uri and HTML away as soon as it is made. From then on no page has rows."""
        found = []
        for page in self._found():
            put(page.uri, self._print(page))
            found.append(replace(page, rows={}))
        self.pages = _in_order(found)

    def _found(self) -> Iterator[Page]:
        for module in modules_below(briefgen.pages.views):
            yield from module.pages(self.context)

    def sections(self) -> Iterator[tuple[Section, list[Page]]]:
        """The sections that have pages, each with its pages."""
        for section in SECTIONS:
            pages = [page for page in self.pages.values() if page.section == section.key]
            if pages:
                yield section, pages

    def html(self, uri: str) -> str:
        """The inside of a page's article, links and all."""
        return self._print(self.pages[uri])

    def _print(self, page: Page) -> str:
        return self.context.links.finish(self._printer.print(page.template, page.rows), page.uri)

    def prose(self, html: str, uri: str) -> str:
        """An author's page with its `kind:id` links resolved and its terms marked."""
        return self.context.links.finish(self.context.texts.prose(html), uri)


def _in_order(pages: Iterable[Page]) -> Mapping[str, Page]:
    places = {section.key: number for number, section in enumerate(SECTIONS)}
    found = sorted(pages, key=lambda page: (places[page.section], page.order, page.uri))
    return {page.uri: page for page in found}
