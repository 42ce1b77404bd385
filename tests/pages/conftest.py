"""The demo's site, built once a test run and shared with the tests of the whole site."""

from __future__ import annotations

from pathlib import Path

import pytest

from briefgen.pages.context import PageContext
from briefgen.pages.html.pictures import Pictures
from briefgen.pages.publishing.site import Site
from tests.demo import demo
from tests.pages.site_tools import DEMO, BuiltSite, read_site
from tests.site.site_build import shared


@pytest.fixture(scope="session")
def demo_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return shared(tmp_path_factory)


@pytest.fixture(scope="session")
def demo_site(demo_folder: Path) -> BuiltSite:
    return read_site(demo_folder)


@pytest.fixture(scope="session")
def context() -> PageContext:
    """The demo as the views see it."""
    return PageContext(demo().evidence, Pictures(DEMO, demo().library))


@pytest.fixture(scope="session")
def pages(context: PageContext) -> Site:
    """The demo's pages, not yet framed."""
    return Site(context)
