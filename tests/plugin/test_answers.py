"""What the server answers between two states of a site: never a page of the old one under the new one's number."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

import pytest

from briefgen.plugin.server.answers import asking_again, put_page
from tests.plugin.live_server import Server, panel_of, serving
from tests.plugin.small_site import Project


def test_a_page_that_was_asked_for_during_a_build_is_the_new_one() -> None:
    root, asked = ["old"], []

    def slow(environ: dict[str, Any], start_response: Callable[..., Any]) -> Iterable[bytes]:
        """Looks where the file lies, and then waits for a build to end, as MkDocs's server does."""
        folder = root[0]
        root[0] = "new"
        start_response("200 OK", [("Content-Type", "text/plain")])
        return [folder.encode()]

    heads: list[Any] = []
    answer = asking_again(slow, lambda: root[0], asked.append)
    assert answer({"PATH_INFO": "/a/"}, lambda *head: heads.append(head)) == [b"new"]
    assert heads == [("200 OK", [("Content-Type", "text/plain")])]
    assert asked == ["/a/", "/a/"]


def test_a_kept_page_is_written_once_and_whole(tmp_path: Path) -> None:
    put_page(tmp_path / "tasks" / "one" / "index.html", "<p>Käfer</p>")
    put_page(tmp_path / "tasks" / "one" / "index.html", "another")
    assert [path.name for path in (tmp_path / "tasks" / "one").iterdir()] == ["index.html"]
    assert (tmp_path / "tasks" / "one" / "index.html").read_text(encoding="utf-8") == "<p>Käfer</p>"


@pytest.fixture
def changed(tmp_path: Path) -> Iterable[Server]:
    """A server whose content has changed once: most of its pages are kept ones."""
    project = Project(tmp_path / "project")
    with serving(project.folder) as server:
        project.change("content/plan.yaml", "Swing the cover open.", "Swing the cover wide open.")
        server.wait_for("tasks/open-cover/", lambda page: "Swing the cover wide open." in page)
        yield server


def test_kept_pages_are_served_like_all_others(changed: Server) -> None:
    asked = {
        "glossary/": "Glossary",
        "about": "See <a",
        "": "Small",
        "nowhere/": "Search for it, or begin again at the",
    }
    for name, words in asked.items():
        page = changed.page(name)
        assert words in page, name
        assert not panel_of(page)
    assert "livereload" in changed.page("places/k2/")
    changed.assert_well()
