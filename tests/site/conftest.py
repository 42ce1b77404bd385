"""The demo's site for every test here, a server for it, and a browser."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import pytest
from bs4 import Tag

from tests.pages.site_tools import BuiltSite, parsed_page, read_site
from tests.site.site_build import served, shared

Article = Callable[[str], Tag]


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the built demo. Look, don't touch: all tests share it."""
    return shared(tmp_path_factory)


@pytest.fixture(scope="session")
def parsed(site: Path) -> BuiltSite:
    """The built demo, every page of it parsed."""
    return read_site(site)


@pytest.fixture(scope="session")
def article(site: Path) -> Article:
    """The article of a page, by the page's path; only pages that are asked for are parsed."""

    @cache
    def read(page: str) -> Tag:
        found = parsed_page(site / page).select_one("article.bg-page")
        assert found is not None, page
        return found

    return read


@pytest.fixture(scope="session")
def address(site: Path) -> Iterator[str]:
    """Where the demo is served over HTTP, with a slash at the end."""
    with served(site) as base:
        yield base
