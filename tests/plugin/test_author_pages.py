"""What only whoever writes a briefing reads is left out of a built site, unless it is asked for."""

from __future__ import annotations

import pytest
from mkdocs.exceptions import Abort

from tests.pages.site_tools import logged
from tests.plugin.small_site import Project


def test_authors_pages_are_left_out_unless_asked_for(project: Project) -> None:
    project.write("docs/help/index.md", "# Help\n")
    project.write("docs/helper.md", "# No help\n")
    project.change("mkdocs.yml", "content: content", "content: content, author_pages: help")
    project.build(strict=True)
    assert not (project.site / "help").exists()
    assert "No help" in project.page("helper/index.html")
    project.change("mkdocs.yml", "author_pages: help", "author_pages: help, for_authors: true")
    project.build(strict=True)
    assert "Help" in project.page("help/index.html")


def test_a_link_to_a_page_that_is_left_out_stops_a_strict_build(project: Project) -> None:
    project.write("docs/help/index.md", "# Help\n")
    project.write("docs/about.md", "# About\n\n[Help](help/index.md)\n")
    project.change("mkdocs.yml", "content: content", "content: content, author_pages: help")
    with logged() as messages, pytest.raises(Abort):
        project.build(strict=True)
    assert any("help/index.md" in one for one in messages)
