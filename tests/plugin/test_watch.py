"""`mkdocs serve`, the real server: changes are shown, mistakes stand on the pages, and the last good pages stay."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from bs4 import BeautifulSoup
from playwright.sync_api import Browser

from tests.plugin.live_server import Server, opened_while_serving, panel_of, serving
from tests.plugin.small_site import ABOUT, PICTURE, PLAN, SETTINGS, WORLD, Project

TASK = "tasks/open-cover/"


def test_the_content_folder_is_watched(project: Project) -> None:
    config = project.configuration()
    config.plugins.on_config(config)
    assert str(project.content) in [str(Path(path)) for path in config.watch]


def test_a_changed_file_changes_its_page(project: Project) -> None:
    project.build()
    project.change("content/plan.yaml", "Swing the cover open.", "Swing the cover wide open.")
    project.write("content/front.svg", PICTURE.replace("h9", "h8"))
    project.build()
    assert "Swing the cover wide open." in project.page("tasks/open-cover/index.html")
    assert "h8" in (project.site / "pictures/front.svg").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def live(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Project, Server]]:
    """One project and its server, strict as the demo's; each test begins with the project as it was."""
    project = Project(tmp_path_factory.mktemp("live") / "project")
    project.write("mkdocs.yml", f"{SETTINGS}strict: true\n")
    with serving(project.folder) as server:
        yield project, server


@pytest.fixture
def served(live: tuple[Project, Server]) -> Iterator[tuple[Project, Server]]:
    project, server = live
    yield live
    project.write("mkdocs.yml", f"{SETTINGS}strict: true\n")
    project.write("docs/about.md", ABOUT)
    project.write("content/plan.yaml", PLAN)
    project.write("content/world.yaml", WORLD)
    server.wait_for(TASK, lambda page: "Swing the cover open." in page and not panel_of(page))
    server.assert_well()


def test_a_changed_file_is_served_anew(served: tuple[Project, Server]) -> None:
    project, server = served
    project.change("content/plan.yaml", "Swing the cover open.", "Swing the cover wide open.")
    page = server.wait_for(TASK, lambda page: "Swing the cover wide open." in page)
    assert "bg-panel" not in page


def test_a_mistake_stands_on_every_page_with_place_and_way_out_and_the_pages_stay(
    served: tuple[Project, Server],
) -> None:
    project, server = served
    project.change("content/plan.yaml", "place: k2", "place: k22")
    project.change("content/plan.yaml", "Swing the cover open.", "Swing the cover wide open.")
    page = server.wait_for(TASK, lambda page: bool(panel_of(page)))
    assert "Swing the cover open." in page
    assert "<title>1 error: " in page
    said = panel_of(page)
    assert "These pages are older than your content." in said
    line = project.content.joinpath("plan.yaml").read_text(encoding="utf-8").split("place: k22")[0].count("\n") + 1
    assert f"error plan.yaml:{line}:12 There is no place “k22”. Did you mean “k2”?" in said
    for other in ("", "glossary/", "about/", "nowhere/"):
        assert panel_of(server.page(other)) == said, other
    assert "There is no place “k22”" in server.said
    project.change("content/plan.yaml", "place: k22", "place: k2")
    assert not panel_of(server.wait_for(TASK, lambda page: "Swing the cover wide open." in page))


def test_a_findings_rule_is_a_page_of_the_served_site(served: tuple[Project, Server]) -> None:
    project, server = served
    project.change("content/plan.yaml", "place: k2", "place: k22")
    page = BeautifulSoup(server.wait_for("about/", lambda page: bool(panel_of(page))), "html.parser")
    link = page.select_one("aside.bg-panel a")
    assert link is not None
    rule = server.page(str(link["href"]).removeprefix("/"))
    assert f'<h1 id="_top">{link.get_text()}</h1>' in rule
    assert "Why it matters outside" in rule


@pytest.mark.parametrize(
    ("broken", "sentence"),
    [
        (PLAN.replace("    place: k2\n", "\tplace: k2\n").encode(), "plan.yaml:5:1"),
        (PLAN.encode() + b"\xff", "This file is not UTF-8 text"),
        (b"tasks: [", "plan.yaml:1:"),
    ],
    ids=["tab", "bytes", "open bracket"],
)
def test_a_file_that_cant_be_read_keeps_the_last_good_pages(
    served: tuple[Project, Server], broken: bytes, sentence: str
) -> None:
    project, server = served
    (project.content / "plan.yaml").write_bytes(broken)
    page = server.wait_for(TASK, lambda page: sentence in panel_of(page))
    assert "Swing the cover open." in page
    assert "These pages are older" in panel_of(page)


def test_a_warning_is_shown_and_the_pages_are_new_even_where_builds_are_strict(
    served: tuple[Project, Server],
) -> None:
    project, server = served
    project.change("content/world.yaml", "states: [open], starts: open", "states: [open, closed], starts: open")
    project.change("content/plan.yaml", "Swing the cover open.", "Swing the cover wide open.")
    page = server.wait_for(TASK, lambda page: "wide open" in page and bool(panel_of(page)))
    assert "older than your content" not in panel_of(page)
    assert re.search(r"closed.* Rule: unused-state", panel_of(page))


def test_what_mkdocs_itself_warns_of_stands_in_the_panel_until_it_is_mended(served: tuple[Project, Server]) -> None:
    project, server = served
    project.write("docs/about.md", f"{ABOUT}\nAnd [the other page](other.md).\n")
    page = server.wait_for("about/", lambda page: "And <a" in page and bool(panel_of(page)))
    assert re.search(r"1 warning.*about\.md.* contains a link .*other\.md", panel_of(page))
    assert panel_of(server.page(TASK)) == panel_of(page)
    project.write("docs/about.md", ABOUT)
    server.wait_for("about/", lambda page: "And <a" not in page and not panel_of(page))


def test_what_cant_be_built_for_other_reasons_keeps_the_pages_too(served: tuple[Project, Server]) -> None:
    project, server = served
    project.write("mkdocs.yml", "site_name: [")
    page = server.wait_for(TASK, lambda page: "could not be built" in panel_of(page))
    assert "Swing the cover open." in page


def test_a_content_folder_that_goes_away_and_comes_back_is_built_again_and_watched_on(
    served: tuple[Project, Server],
) -> None:
    project, server = served
    content, aside = project.folder / "content", project.folder / "aside"
    content.rename(aside)
    page = server.wait_for(TASK, lambda page: bool(panel_of(page)))
    assert "Swing the cover open." in page
    aside.rename(content)
    server.wait_for(TASK, lambda page: not panel_of(page))
    project.change("content/plan.yaml", "Swing the cover open.", "Swing the cover wide open.")
    server.wait_for(TASK, lambda page: "Swing the cover wide open." in page)


def test_a_server_that_is_asked_to_end_leaves_nothing_in_temporary_folders(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    temporary = tmp_path / "temporary"
    temporary.mkdir()
    monkeypatch.setenv("TMPDIR", str(temporary))
    with serving(Project(tmp_path / "project").folder) as server:
        assert list(temporary.iterdir())
        server.process.terminate()
        server.process.wait(timeout=60)
        assert list(temporary.iterdir()) == []
        assert "Traceback" not in server.said


@pytest.mark.browser
def test_an_open_page_gets_the_panel_and_loses_it_by_itself(served: tuple[Project, Server], browser: Browser) -> None:
    project, server = served
    with opened_while_serving(browser, server.address + TASK) as page:
        project.change("content/plan.yaml", "place: k2", "place: k22")
        page.locator("aside.bg-panel").wait_for(timeout=30_000)
        assert page.title().startswith("1 error: ")
        assert page.locator("text=Swing the cover open.").count()
        project.change("content/plan.yaml", "place: k22", "place: k2")
        project.change("content/plan.yaml", "Swing the cover open.", "Swing the cover wide open.")
        page.locator("text=Swing the cover wide open.").first.wait_for(timeout=30_000)
        assert page.locator("aside.bg-panel").count() == 0


def test_a_first_build_with_errors_is_a_plain_page_and_then_the_site(tmp_path: Path) -> None:
    project = Project(tmp_path / "project")
    project.change("content/plan.yaml", "place: k2", "place: k22")
    with serving(project.folder) as server:
        page = server.page("")
        assert "There is no place “k22”. Did you mean “k2”?" in page
        assert "plan.yaml:5:12" in page
        link = re.search(r'href="/(rules/[a-z-]+/)"', page)
        assert link is not None
        assert "Why it matters outside" in server.page(link[1])
        assert "k22" in panel_of(server.page(TASK))
        project.change("content/plan.yaml", "place: k22", "place: k2")
        assert not panel_of(server.wait_for(TASK, lambda page: "Swing the cover open." in page))
        assert "See <a" in server.page("about/")
        server.assert_well()


def test_the_panel_is_no_part_of_a_built_site(project: Project) -> None:
    project.change("content/world.yaml", "states: [open], starts: open", "states: [open, closed], starts: open")
    project.build()
    assert "unused-state" in project.page("findings/index.html")
    assert [name for name, content in project.snapshot().items() if b"bg-panel" in content] == []
