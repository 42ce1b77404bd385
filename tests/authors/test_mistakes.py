"""What beginners do wrong: each mistake gives a finding at its place that says how to go on, and never a traceback."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from briefgen.build import examine
from briefgen.cli import main
from briefgen.findings import Finding
from briefgen.reporters.text import as_text
from briefgen.rules.registry import all_rules
from briefgen.start.folder import start_folder
from tests.authors.mistakes import EVERY, MARK, MISSING, VALUES, YAML_ITSELF, Mistake

# A finding shows the way out if it has a line to write, or a sentence that says what to do, or what form is right.
_WAY_OUT = re.compile(
    r"\b(add|allow|begin|bring|change|did you mean|ease|give|indent|keep|look at|make|mark|move|name|pack|put"
    r"|replace|set|shorten|take|use|write)\b"
    r"|like “|\b(is expected|known|must|needs|none of|room for|save it as|the kinds are|there are|at least|at most)\b",
    re.IGNORECASE,
)


def make(mistake: Mistake, content: Path) -> str:
    """Writes the mistake into the folder; returns where the finding must point, as `file:line:column`."""
    path = content / mistake.file
    text = path.read_text(encoding="utf-8")
    assert text.count(mistake.old) >= 1 or not mistake.old
    changed = text.replace(mistake.old, mistake.new, 1) if mistake.old else text + mistake.new
    path.write_text(changed.replace(MARK, ""), encoding="utf-8")
    before = changed.partition(MARK)[0]
    marked = f"{mistake.file}:{before.count(chr(10)) + 1}:{len(before) - before.rfind(chr(10))}"
    return mistake.at or marked


@pytest.fixture
def content(tmp_path: Path) -> Path:
    start_folder(tmp_path / "plan")
    return tmp_path / "plan" / "content"


def said(finding: Finding) -> str:
    return f"{finding.position}: {finding.rule}"


def test_there_are_more_than_fifty_and_each_is_another() -> None:
    assert len(EVERY) >= 50
    assert len({mistake.name for mistake in EVERY}) == len(EVERY)
    assert {mistake.rule for mistake in EVERY} <= set(all_rules())
    assert all((MARK in mistake.new) != bool(mistake.at) for mistake in EVERY)


@pytest.mark.parametrize("mistake", EVERY, ids=lambda mistake: mistake.name)
def test_a_mistake_is_found_at_its_place_with_the_way_out(mistake: Mistake, content: Path) -> None:
    spot = make(mistake, content)
    examination = examine(content)
    found = [finding for finding in examination.findings if said(finding) == f"{spot}: {mistake.rule}"]
    assert found, [said(finding) for finding in examination.findings]
    assert found[0].write or _WAY_OUT.search(found[0].sentence), found[0].sentence
    assert as_text(found, examination.reading.sources).startswith(f"{spot}: {found[0].level} {mistake.rule}\n")


@pytest.mark.parametrize("mistake", EVERY, ids=lambda mistake: mistake.name)
def test_the_command_says_so_too(mistake: Mistake, content: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spot = make(mistake, content)
    code = main(["check", str(content), "--strict"])
    printed = capsys.readouterr()
    assert f"{spot}: " in printed.out
    assert printed.err == ""
    assert code == (0 if all_rules()[mistake.rule].level == "advice" else 1)


BYTES = [
    ("UTF-16", "title: Übung\n".encode("utf-16"), "not-utf-8"),
    ("Latin-1", "terms:\n  a: {short: é, means: x}\n".encode("latin-1"), "not-utf-8"),
    ("empty", b"", "empty-file"),
    ("only a comment", b"# later\n", "empty-file"),
    ("a NUL", b"terms:\n  a: {short: \x00}\n", "yaml-syntax"),
    ("a picture", b"\x89PNG\r\n\x1a\n\x00\x00", "not-utf-8"),
    ("a sentence", b"Hello.\n", "wrong-value"),
    ("a list", b"- a\n- b\n", "wrong-value"),
    ("nested without end", b"[" * 5000, "too-deep"),
    ("aliases of aliases", b"a: &a [x]\nb: &b [*a, *a]\n", "alias"),
]


@pytest.mark.parametrize(("what", "data", "rule"), BYTES, ids=[what for what, _, _ in BYTES])
def test_a_file_that_is_no_content_is_a_finding(what: str, data: bytes, rule: str, content: Path) -> None:
    (content / "extra.yaml").write_bytes(data)
    found = [finding for finding in examine(content).findings if finding.position.file == "extra.yaml"]
    assert [finding.rule for finding in found] == [rule], what
    assert _WAY_OUT.search(found[0].sentence)


def test_a_byte_order_mark_and_carriage_returns_are_no_mistake(content: Path) -> None:
    for path in content.glob("*.yaml"):
        path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n"))
    assert examine(content).findings == ()


@pytest.mark.parametrize("mistake", [*YAML_ITSELF, *VALUES, *MISSING], ids=lambda mistake: mistake.name)
def test_a_mistake_of_form_is_one_finding_and_sets_off_no_others(mistake: Mistake, content: Path) -> None:
    spot = make(mistake, content)
    assert [said(finding) for finding in examine(content).findings] == [f"{spot}: {mistake.rule}"]
