"""What a page's navigation can show: main pages and its own section; everything where the author's frame differs."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urljoin

import pytest
from bs4 import BeautifulSoup
from mkdocs.commands.build import build
from mkdocs.structure.files import File, Files
from mkdocs.structure.nav import Navigation, get_navigation
from mkdocs.structure.pages import Page
from mkdocs.theme import Theme

from briefgen.plugin.server.surroundings import surroundings
from briefgen.start.theme import theme_folder
from tests.plugin.small_site import Project

NAV: list[Any] = [
    {"Overview": "index.md"},
    {"Tasks": [{"First": "tasks/one.md"}, {"Second": "tasks/two.md"}]},
    {"Places": [{"Inside": [{"Desk": "places/desk.md"}]}, {"Hatch": "places/hatch.md"}]},
]


def navigation(project: Project, renamed: dict[str, str]) -> Navigation:
    """The pages of `NAV`, some under another title; `unlisted.md` stands in none of its lists."""
    config = project.configuration()
    names = ["index", "tasks/one", "tasks/two", "places/desk", "places/hatch", "unlisted"]
    files = Files([File(f"{name}.md", None, config.site_dir, config.use_directory_urls) for name in names])
    config.nav = NAV
    nav = get_navigation(files, config)
    for page in pages(nav):
        page.title = renamed.get(page.file.src_uri, page.title)
    return nav


def pages(nav: Navigation) -> Iterator[Page]:
    yield from nav.pages


def changed(project: Project, theme: Theme, renamed: dict[str, str]) -> set[str]:
    """The pages around which another title changes what is shown."""
    before, after = navigation(project, {}), navigation(project, renamed)
    old, new = surroundings(before, theme), surroundings(after, theme)
    pairs = zip(pages(before), pages(after), strict=True)
    return {one.file.src_uri for one, other in pairs if old(one) != new(other)}


def in_effect(project: Project) -> Theme:
    """The theme as it is once the plugin has brought the site's look."""
    config = project.configuration()
    return config.plugins.on_config(config).theme  # type: ignore[no-any-return]


ALL = {"index.md", "tasks/one.md", "tasks/two.md", "places/desk.md", "places/hatch.md"}


@pytest.mark.parametrize(
    ("renamed", "expected"),
    [
        ("tasks/two.md", {"tasks/one.md", "tasks/two.md"}),
        ("tasks/one.md", ALL),  # the first page of a section is where its name leads
        ("places/desk.md", {"places/desk.md", "places/hatch.md"}),
        ("index.md", ALL),
        ("nothing.md", set()),
    ],
)
def test_a_title_is_around_the_pages_of_its_section(project: Project, renamed: str, expected: set[str]) -> None:
    assert changed(project, in_effect(project), {renamed: "Another"}) == expected


def test_where_the_author_has_other_templates_anything_may_be_shown(project: Project, tmp_path: Path) -> None:
    theme = in_effect(project)
    own = tmp_path / "own"
    shutil.copytree(theme_folder(), own)
    theme.dirs.insert(0, str(own))
    assert changed(project, theme, {"tasks/two.md": "Another"}) == {"tasks/one.md", "tasks/two.md"}
    (own / "partials" / "after.html").write_text("{{ nav.pages }}", encoding="utf-8")
    assert changed(project, theme, {"tasks/two.md": "Another"}) == ALL


def leaves(shown: Any) -> Iterator[tuple[Any, ...]]:
    """The pages in what is shown, each as its address, title and icon."""
    if isinstance(shown, tuple) and len(shown) == 3 and isinstance(shown[1], str):
        yield shown
    elif isinstance(shown, tuple):
        for one in shown:
            yield from leaves(one)


def test_the_frame_shows_no_more_than_that(project: Project) -> None:
    project.change("mkdocs.yml", "theme: {name: mkdocs}", "theme: {name: material, font: false}")
    config = project.configuration()
    build(config)
    shown = surroundings(config.plugins["briefgen"].site.nav, config.theme)
    for page in config.plugins["briefgen"].site.nav.pages:
        html = Path(config.site_dir, page.file.dest_uri).read_text(encoding="utf-8")
        links = BeautifulSoup(html, "lxml").select(".bg-nav li > a:not(.bg-nav__here a)")
        known = {(url.rstrip("/"), title) for url, title, _ in leaves(shown(page))}
        where = [(urljoin("/" + page.url, str(a["href"])).strip("/"), a.get_text(strip=True)) for a in links]
        assert len(where) > 5
        assert {url for url, _ in where} <= {url for url, _ in known}
