"""The table from records to addresses."""

from __future__ import annotations

import pytest

from briefgen.model.library import SINGULAR
from briefgen.pages.links import Links
from tests.demo import demo

FILES = Links(demo().library)
FOLDERS = Links(demo().library, directory_urls=True)


@pytest.mark.parametrize("kind", sorted(SINGULAR))
def test_every_kind_has_an_address(kind: str) -> None:
    identifier = next(iter(demo().library.of(SINGULAR[kind])))
    assert ".html" in FILES.target(kind, identifier)


def test_links_are_written_from_where_the_page_lies() -> None:
    html = f'<a href="{FILES.target("tool", "torque-driver")}">'
    assert FILES.finish(html, "index") == '<a href="tools/torque-driver.html">'
    assert FILES.finish(html, "tasks/swap-pump") == '<a href="../tools/torque-driver.html">'


def test_links_within_a_folder_and_a_page_are_short() -> None:
    step, other = FILES.target("task", "swap-pump", "close-valves"), FILES.target("task", "open-cover")
    assert FILES.finish(f"{step} {other}", "tasks/swap-pump") == "#close-valves open-cover.html"
    assert FILES.finish(step, "tasks/open-cover") == "swap-pump.html#close-valves"
    assert FOLDERS.finish(FOLDERS.target("task", "swap-pump", "close-valves"), "tasks/swap-pump") == "#close-valves"


def test_with_folders_for_pages_links_go_one_level_up_more() -> None:
    html = f'<a href="{FOLDERS.target("tool", "torque-driver")}">'
    assert FOLDERS.finish(html, "index") == '<a href="tools/torque-driver/">'
    assert FOLDERS.finish(html, "tasks/index") == '<a href="../tools/torque-driver/">'
    assert FOLDERS.finish(html, "tasks/swap-pump") == '<a href="../../tools/torque-driver/">'


def test_the_overview_is_reached_from_everywhere() -> None:
    home = f'<a href="{FOLDERS.page("index")}">'
    assert FOLDERS.finish(home, "index") == '<a href="./">'
    assert FOLDERS.finish(home, "tasks/swap-pump") == '<a href="../../">'


def test_a_record_called_index_does_not_take_the_lists_place() -> None:
    assert FILES.record_uri("task", "index") != FILES.uri("task")


def test_a_picture_with_a_space_in_its_name_is_linked() -> None:
    assert FILES.picture("figures/a b.svg").endswith("pictures/figures/a%20b.svg")
