"""The plugin on a small project: what is written, and what is not."""

from __future__ import annotations

import pytest
from mkdocs.exceptions import Abort

from briefgen.pages.html.night.drawing import with_night
from tests.pages.site_tools import BuiltSite, logged
from tests.plugin.small_site import PICTURE, Project


def test_a_small_project_builds_without_a_word(project: Project) -> None:
    with logged() as messages:
        project.build(strict=True)
    assert [one for one in messages if not one.startswith("INFO")] == []
    assert "Swing the cover open." in project.page("tasks/open-cover/index.html")


def test_with_folders_for_pages_every_link_resolves(project: Project) -> None:
    project.build()
    site = BuiltSite(project.site)
    own = [problem for problem in site.broken_links() if "leaves the site" not in problem]
    assert [problem for problem in _as_files(site, own) if "is no" in problem] == []


def _as_files(site: BuiltSite, problems: list[str]) -> list[str]:
    """What is left when a folder's address stands for its index page, as servers have it."""
    left = []
    for problem in problems:
        page, address = problem.split(": ", 1)[0], problem.split(": ", 1)[1].split(" ")[0]
        path, _, anchor = address.partition("#")
        target = (site.folder / page).parent / path / "index.html"
        name = target.resolve().relative_to(site.folder.resolve()).as_posix()
        if name not in site.ids or (anchor and anchor not in site.ids[name]):
            left.append(problem)
    return left


def test_only_pictures_that_a_figure_names_are_copied(project: Project) -> None:
    project.write("content/other.svg", PICTURE)
    project.build()
    assert (project.site / "pictures/front.svg").read_bytes() == with_night(PICTURE.encode())
    assert not (project.site / "pictures/other.svg").exists()
    assert not list(project.site.rglob("*.yaml"))


def test_an_authors_links_by_kind_and_id_are_resolved(project: Project) -> None:
    project.build()
    assert "href=../tools/driver/>" in project.page("about/index.html")
    assert "href=../tasks/open-cover/#shut>" in project.page("about/index.html")


def test_an_authors_own_page_stands_in_the_place_of_a_made_one(project: Project) -> None:
    project.write("docs/glossary.md", "# My own words\n")
    with logged() as messages:
        project.build()
    assert "My own words" in project.page("glossary/index.html")
    assert any("glossary.md" in one for one in messages)


def test_the_navigation_follows_the_overview_with_the_authors_pages(project: Project) -> None:
    config = project.configuration()
    with_nav = project.folder / "mkdocs.yml"
    with_nav.write_text(with_nav.read_text(encoding="utf-8") + "nav: [about.md]\n", encoding="utf-8")
    project.build()
    home = project.page("index.html")
    assert 0 < home.index("about/") < home.index("tasks/")
    assert config.nav is None


def test_a_missing_folder_is_one_sentence(project: Project) -> None:
    project.change("mkdocs.yml", "content: content", "content: nowhere")
    with logged() as messages, pytest.raises(Abort):
        project.build()
    errors = [one for one in messages if one.startswith("ERROR")]
    assert len(errors) == 1
    assert "There is no content folder" in errors[0]
    assert not project.site.exists()


def test_the_same_input_gives_the_same_bytes(project: Project, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "0")  # the plain theme writes the moment of the build
    project.build()
    first = project.snapshot()
    project.build()
    assert project.snapshot() == first


def test_a_rule_that_is_off_is_silent_and_one_raised_to_an_error_stops_the_build(project: Project) -> None:
    project.change("content/world.yaml", "states: [open], starts: open", "states: [open, closed], starts: open")
    with logged() as messages:
        project.build()
    assert any("unused-state" in one for one in messages)
    project.change("mkdocs.yml", "content: content", "content: content, levels: {unused-state: off}")
    with logged() as messages:
        project.build(strict=True)
    assert not any("unused-state" in one for one in messages)
    project.change("mkdocs.yml", "unused-state: off", "unused-state: error")
    with logged() as messages, pytest.raises(Abort):
        project.build()
    assert any(one.startswith("ERROR") and "unused-state" in one for one in messages)


def test_a_misspelt_rule_or_level_is_one_sentence(project: Project) -> None:
    project.change("mkdocs.yml", "content: content", "content: content, levels: {unused-stat: error}")
    with logged() as messages, pytest.raises(Abort):
        project.build()
    assert [one for one in messages if one.startswith("ERROR")] == [
        "ERROR There is no rule “unused-stat”. Did you mean “unused-state”?"
    ]
