"""The navigation of a section with many pages."""

from __future__ import annotations

from pathlib import Path

import pytest
from bs4 import BeautifulSoup
from mkdocs.commands.build import build
from mkdocs.config import load_config

from tests.frame.sample_site import SAMPLE


@pytest.fixture(scope="module")
def long_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("long")
    docs = root / "docs" / "tools"
    docs.mkdir(parents=True)
    (root / "docs" / "index.md").write_text("# Start\n", encoding="utf-8")
    (docs / "index.md").write_text("---\nicon: tool\n---\n# All tools\n", encoding="utf-8")
    for n in range(60):
        (docs / f"tool-{n:02}.md").write_text(f"# Tool {n:02}\n", encoding="utf-8")
    config = load_config(str(SAMPLE / "mkdocs.yml"), docs_dir=str(root / "docs"), site_dir=str(root / "site"))
    config.nav = None
    build(config)
    return root / "site"


def shown(page: Path, what: str) -> list[str]:
    soup = BeautifulSoup(page.read_text(encoding="utf-8"), "html5lib")
    return [found.get_text(strip=True) for found in soup.select(what)]


def tools(page: Path) -> list[str]:
    return [name for name in shown(page, ".bg-nav a") if name.startswith("Tool ")]


def test_a_long_section_shows_the_pages_around_the_current_one(long_site: Path) -> None:
    page = long_site / "tools" / "tool-30.html"
    assert tools(page) == [f"Tool {n}" for n in range(25, 36)]
    assert shown(page, ".bg-nav__more") == ["25 before", "24 more"]


def test_the_ends_of_a_long_section(long_site: Path) -> None:
    assert tools(long_site / "tools" / "tool-00.html") == [f"Tool {n:02}" for n in range(6)]
    assert tools(long_site / "tools" / "tool-59.html") == [f"Tool {n}" for n in range(54, 60)]


def test_a_closed_section_is_one_link(long_site: Path) -> None:
    assert shown(long_site / "index.html", ".bg-nav a") == ["Start", "Tools"]
