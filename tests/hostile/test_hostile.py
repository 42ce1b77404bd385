"""Hostile contents of every kind get an answer; what is checked without an error can be built."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from briefgen.cli import main
from briefgen.language.printable import control_in
from tests.hostile.answer import answer, every_answer
from tests.hostile.fuzz import content, tried
from tests.hostile.inputs import INPUTS, lay_out
from tests.plugin.small_site import PLAN, Project

SHARES = 10
FUZZED = 300
REFUSED = {
    "takes: 1 h and 50,000 blanks": "too-long",
    "takes: 50,000 digits": "too-long",
    "viewBox of 400 digits": "figure-unsafe",
    'a drawing in encoding="utf-7"': "figure-unsafe",
    "script of 4,000 [": "too-long",
    "script of 200 [": "too-deep",
    "script of 40 nested lists": "too-deep",
    "a word of 4,000 letters": "too-long",
    "a title of 50,000 letters": "too-long",
    "an id of 255 letters": "too-long",
    "3,000 bags in each other": "bags-too-deep",
    "3,000 bags in a circle": "bag-in-itself",
    "2,000 get-aheads": "wrong-value",
    "10,000 callouts": "wrong-value",
    "speaking_rate of a hair above nothing": "too-long",
    "starts: 9999-12-31T23:59Z": "start-not-utc",
    "a loop of symbolic links": "unreadable-file",
    "a figure that is a link to itself": "figure-missing",
    r"\0 in a path": "control-character",
    "a raw escape": "control-character",
    "a pipe called x.yaml": "unreadable-file",
    "a pipe for a figure": "figure-missing",
    "a device called x.yaml": "unreadable-file",
    "figures/../figures/x.svg": "figure-outside",
    "a clip that is a page": "figure-type",
    "a clip with a page behind it": "figure-type",
    "a clip of nothing but beginnings": "figure-type",
    "a pipe for a clip": "figure-missing",
    "a device for a clip": "figure-outside",
    "a pipe for captions": "figure-missing",
    "captions of 900 kB of <": "captions-unreadable",
    "captions of a word of 900 kB": "captions-unreadable",
    "captions of 2 MB": "figure-missing",
    "a list of 20,000 levels": "too-deep",
    "blocks of 2,000 levels": "too-deep",
}


@pytest.mark.parametrize("name", INPUTS)
def test_every_hostile_input_gets_an_answer(name: str, tmp_path: Path) -> None:
    found = answer(lay_out(tmp_path, INPUTS[name]))
    assert REFUSED.get(name, "") in found
    assert re.search(r"[0-9]+ (pages|[a-z-]+)", found)


def test_what_is_refused_is_among_the_inputs() -> None:
    assert set(REFUSED) <= set(INPUTS)


@pytest.mark.parametrize("share", range(SHARES))
def test_fuzzed_contents_get_an_answer_and_build_where_the_check_finds_no_error(share: int) -> None:
    answers = [tried(number) for number in range(share, FUZZED, SHARES)]
    assert [(number, words) for number, _, words in answers if words.startswith("FAILED")] == []
    assert {words.endswith("pages") for _, _, words in answers} == {True, False}, "some are refused, some are built"


def test_the_same_number_gives_the_same_content() -> None:
    assert [content(number) for number in range(20)] == [content(number) for number in range(20)]


def test_terms_called_like_entities_leave_the_texts_whole(tmp_path: Path) -> None:
    project = Project(tmp_path)
    text = 'Swing it: A & B < C > D\'s "E" and 39.'
    project.write("content/plan.yaml", PLAN.replace("Swing the cover open.", f"'{text.replace(chr(39), chr(39) * 2)}'"))
    names = ["amp", "lt", "gt", "quot", "39", "x27"]
    terms = "".join(f"  t{one}: {{short: {word!r}, means: A sign.}}\n" for one, word in enumerate(names))
    project.write("content/terms.yaml", f"terms:\n{terms}")
    project.build()
    page = BeautifulSoup(project.page("tasks/open-cover/index.html"), "html.parser")
    assert text in " ".join(page.get_text().split())
    assert page.find("a", class_="bg-termlink", string="39") is not None


def test_the_longest_ids_and_names_of_devices_are_built_by_mkdocs(tmp_path: Path) -> None:
    project = Project(tmp_path)
    longest = "x" * 100
    project.write("content/more.yaml", f"tools:\n  {longest}: {{stowed: k2}}\n  con: {{stowed: k2}}\n")
    project.build()
    assert (project.site / "tools" / longest / "index.html").is_file()
    assert (project.site / "tools" / "con-" / "index.html").is_file()
    assert not (project.site / "tools" / "con").exists()
    assert max(len(os.fsencode(part)) for path in project.site.rglob("*") for part in path.parts) <= 200


ESCAPE = "\x1b]0;gone\x07\x9b31m\u202e"


@pytest.mark.parametrize("form", ["text", "json", "sarif", "annotations"])
def test_no_control_character_leaves_by_any_format(
    form: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = lay_out(tmp_path, INPUTS["a raw escape"])
    plan = (folder / "plan.yaml").read_text("utf-8")
    spoilt = plan.replace("title: Open the cover", r'tittle: "\e[2J\x9b\u202e"')
    (folder / f"a{ESCAPE}\n::error::x.yaml").write_text(spoilt, "utf-8")
    assert main(["check", str(folder), "--format", form]) == 1
    assert control_in(capsys.readouterr().out) == ""


def test_what_could_not_be_done_is_said_in_plain_characters(capsys: pytest.CaptureFixture[str]) -> None:
    for words in (["check", f"/nowhere{ESCAPE}"], ["rule", ESCAPE], ["compare", f"/no{ESCAPE}", "/no"]):
        assert main(words) == 2
        told = capsys.readouterr()
        assert control_in(told.out + told.err) == ""


@pytest.mark.parametrize("options", [[], ["--quiet"], ["--strict"]])
def test_nothing_that_a_build_logs_moves_the_cursor(options: list[str], tmp_path: Path) -> None:
    project = Project(tmp_path)
    project.write(f"docs/a{ESCAPE}.md", "# A page\n\n[nowhere](nothing.md)\n")
    project.write("content/plan.yaml", PLAN.replace("Swing the cover open.", r'"Swing \e[2J\x9b\u202e it."'))
    command = [sys.executable, "-m", "mkdocs", "build", *options]
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1"}
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, check=False, env=environment, timeout=120)
    told = (done.stdout + done.stderr).decode("utf-8")
    assert done.returncode == 1
    assert "control-character" in told or "A character that shows nothing" in told
    assert control_in(told) == ""


def test_a_ci_service_takes_no_order_from_an_author(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = lay_out(tmp_path, lambda content: None)
    plan = PLAN.replace("title: Open the cover", "title: '::stop-commands::x ##vso[task.complete]'")
    (folder / "plan.yaml").write_text(plan, "utf-8")
    assert main(["plan", str(folder)]) == 0
    told = capsys.readouterr().out
    assert "##vso[" not in told
    assert not re.search(r"^\s*::", told, re.MULTILINE)


def test_every_answer_is_given_to_the_small_project(tmp_path: Path) -> None:
    assert every_answer(lay_out(tmp_path, lambda content: None)).endswith("pages")
