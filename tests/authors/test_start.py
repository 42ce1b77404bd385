"""`briefgen start`: complete, commented, without a finding, built in a fresh folder, and never over anything."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from bs4 import BeautifulSoup
from jsonschema import Draft202012Validator
from ruamel.yaml import YAML

from briefgen.model.library import KINDS
from briefgen.schema.content import EDITOR_LINE, FILE_NAME, content_schema
from briefgen.start.folder import InTheWay, start_folder, starting_files
from tests.authors.start_content import started

FILES = dict(starting_files())
CONTENT = {name: text for name, text in FILES.items() if name.startswith("content/")}


def test_it_is_one_sortie_of_three_tasks_without_a_finding() -> None:
    examination = started()
    assert examination.findings == ()
    assert examination.accepted == ()
    assert examination.proved
    assert len(examination.library.sorties) == 1
    assert len(examination.library.tasks) == 3


def test_it_shows_nearly_every_kind() -> None:
    used = {kind for kind, _ in started().library.every()}
    assert set(KINDS) - used == {"figures"}


@pytest.mark.parametrize("name", CONTENT)
def test_every_content_file_makes_editors_help_and_says_what_it_is_for(name: str) -> None:
    first, second, *_ = CONTENT[name].splitlines()
    assert first == f"{EDITOR_LINE}../{FILE_NAME}"
    assert second.startswith("# ")
    assert CONTENT[name].count("#") >= 3 or name == "content/learning.yaml"


@pytest.mark.parametrize("name", CONTENT)
def test_every_content_file_holds_against_the_schema(name: str) -> None:
    document = YAML(typ="safe", pure=True).load(CONTENT[name])
    assert [error.message for error in Draft202012Validator(content_schema()).iter_errors(document)] == []


def everything(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_the_files_are_written_below_a_new_folder(tmp_path: Path) -> None:
    written = start_folder(tmp_path / "a" / "b")
    assert everything(tmp_path / "a" / "b") == {name: text.encode() for name, text in FILES.items()}
    assert len(written.files) == len(FILES)
    assert "mkdocs serve" in written.next_steps


def test_a_folder_with_other_files_is_no_hindrance(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("mine", encoding="utf-8")
    start_folder(tmp_path)
    assert (tmp_path / "notes.txt").read_text(encoding="utf-8") == "mine"
    assert (tmp_path / "mkdocs.yml").is_file()


@pytest.mark.parametrize("name", ["mkdocs.yml", "content/tasks.yaml", ".gitignore", FILE_NAME])
def test_one_file_in_the_way_and_nothing_is_written(name: str, tmp_path: Path) -> None:
    mine = tmp_path / name
    mine.parent.mkdir(parents=True, exist_ok=True)
    mine.write_text("mine", encoding="utf-8")
    with pytest.raises(InTheWay, match="Nothing was written"):
        start_folder(tmp_path)
    assert everything(tmp_path) == {name: b"mine"}


def test_a_dead_link_or_a_file_in_place_of_a_folder_is_in_the_way(tmp_path: Path) -> None:
    (tmp_path / "one").mkdir()
    (tmp_path / "one" / "mkdocs.yml").symlink_to(tmp_path / "nowhere")
    with pytest.raises(InTheWay, match=r"mkdocs\.yml"):
        start_folder(tmp_path / "one")
    (tmp_path / "two").mkdir()
    (tmp_path / "two" / "content").write_text("mine", encoding="utf-8")
    with pytest.raises(InTheWay, match="content"):
        start_folder(tmp_path / "two")
    (tmp_path / "three").write_text("mine", encoding="utf-8")
    with pytest.raises(InTheWay, match="is a file"):
        start_folder(tmp_path / "three")


def test_the_site_builds_strictly_in_the_projects_own_look(tmp_path: Path) -> None:
    start_folder(tmp_path / "plan")
    run = subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "--strict", "--quiet"],
        cwd=tmp_path / "plan",
        env={**os.environ, "NO_MKDOCS_2_WARNING": "1"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert (run.returncode, run.stdout, run.stderr) == (0, "", "")
    page = BeautifulSoup((tmp_path / "plan/site/tasks/change-lamp.html").read_text(encoding="utf-8"), "lxml")
    assert page.select_one("h1").get_text(strip=True) == "Change the lamp"
    assert "not the approved procedure" in page.select_one("main").get_text()
    assert (tmp_path / "plan/site/bg/briefing.css").is_file()
    about = BeautifulSoup((tmp_path / "plan/site/about.html").read_text(encoding="utf-8"), "lxml")
    assert {"tasks/change-lamp.html#see-dark"} <= {link["href"] for link in about.select("article a")}
