"""The demo's site, built once a test run."""

from __future__ import annotations

from pathlib import Path

import pytest

from briefgen.pages.desk import Desk
from briefgen.pages.pictures import Pictures
from briefgen.pages.site import Site
from tests.demo import demo
from tests.pages.site_tools import DEMO, BuiltSite, build_site


@pytest.fixture(scope="session")
def demo_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return build_site(DEMO, tmp_path_factory.mktemp("demo") / "site")


@pytest.fixture(scope="session")
def demo_site(demo_folder: Path) -> BuiltSite:
    return BuiltSite(demo_folder)


@pytest.fixture(scope="session")
def desk() -> Desk:
    """The demo as the views see it."""
    return Desk(demo().evidence, Pictures(DEMO, demo().library))


@pytest.fixture(scope="session")
def pages(desk: Desk) -> Site:
    """The demo's pages, not yet framed."""
    return Site(desk)
