"""The commands `record` and `compare`: exit codes, formats, and no file lost."""

from __future__ import annotations

import json
from html import unescape
from pathlib import Path

import pytest
from markdown import Markdown

from briefgen.cli import main
from briefgen.start.folder import start_folder

Printed = pytest.CaptureFixture[str]


@pytest.fixture
def content(tmp_path: Path) -> Path:
    start_folder(tmp_path / "plan")
    return tmp_path / "plan" / "content"


@pytest.fixture
def record(content: Path, tmp_path: Path, capsys: Printed) -> Path:
    file = tmp_path / "a.json"
    assert main(["record", str(content), "--to", str(file)]) == 0
    assert capsys.readouterr().out == f"{file}\n"
    return file


def change(content: Path, file: str, old: str, new: str) -> None:
    path = content / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def longer(content: Path) -> None:
    change(content, "tasks.yaml", "takes: 3/4/6 min", "takes: 3/9/12 min")


def test_where_nothing_differs_it_exits_0_like_diff(content: Path, record: Path, capsys: Printed) -> None:
    """POSIX.1-2017, diff, exit status: 0 no differences, 1 differences, above 1 an error."""
    assert main(["compare", str(record), str(content)]) == 0
    assert capsys.readouterr().out == "Nothing differs.\n"
    assert main(["compare", str(content), str(content)]) == 0


def test_where_something_differs_it_exits_1_and_says_what(content: Path, record: Path, capsys: Printed) -> None:
    longer(content)
    assert main(["compare", str(record), str(content)]) == 1
    out = capsys.readouterr().out
    assert "Takes: 3/4/6 min → 3/9/12 min" in out
    assert "From here on: 5 min later" in out
    assert "Write “revision: " in out
    assert main(["compare", str(content), str(record)]) == 1
    assert "Takes: 3/9/12 min → 3/4/6 min" in capsys.readouterr().out


def test_json_holds_the_same_differences(content: Path, record: Path, tmp_path: Path) -> None:
    longer(content)
    assert main(["compare", str(record), str(content), "--format", "json", "--to", str(tmp_path / "c.json")]) == 1
    data = json.loads((tmp_path / "c.json").read_text(encoding="utf-8"))
    [step] = [one for one in data["changes"] if one["topic"] == "Steps"]
    assert step["verb"] == "changed"
    assert step["details"] == [{"what": "Takes", "before": "3/4/6 min", "after": "3/9/12 min", "safety": False}]
    assert data["revisions"][0]["stale"] is True


def test_markdown_is_lists_whatever_the_author_writes(content: Path, record: Path, capsys: Printed) -> None:
    change(content, "tasks.yaml", "takes: 3/4/6 min", "takes: 3/4/6 min\n        note: A [star]*, a <b> and a | bar.")
    assert main(["compare", str(record), str(content), "--format", "markdown"]) == 1
    out = capsys.readouterr().out
    html = Markdown().convert(out)
    assert "<li>" in html
    assert "<b>" not in html
    assert "<em>" not in html
    assert "A [star]*, a <b> and a | bar." in unescape(html)
    assert "](" not in html


@pytest.mark.parametrize("wrong", ["no-folder", "tasks.yaml"])
def test_what_can_not_be_compared_exits_2_with_a_sentence(content: Path, wrong: str, capsys: Printed) -> None:
    assert main(["compare", str(content / wrong), str(content)]) == 2
    error = capsys.readouterr().err
    assert error.startswith("briefgen: ")
    assert "Traceback" not in error


def test_content_with_errors_is_neither_compared_nor_recorded(
    content: Path, record: Path, tmp_path: Path, capsys: Printed
) -> None:
    change(content, "tasks.yaml", "purpose:", "purpos:")
    assert main(["compare", str(record), str(content)]) == 2
    assert "shows what to mend" in capsys.readouterr().err
    assert main(["record", str(content), "--to", str(tmp_path / "b.json")]) == 2
    assert "This is not recorded: it has " in capsys.readouterr().err
    assert not (tmp_path / "b.json").exists()


def test_a_record_is_never_written_over(content: Path, record: Path, capsys: Printed) -> None:
    before = record.read_bytes()
    assert main(["record", str(content), "--to", str(record)]) == 0
    assert "holds this version already" in capsys.readouterr().out
    longer(content)
    assert main(["record", str(content), "--to", str(record)]) == 2
    assert "It was not touched" in capsys.readouterr().err
    assert record.read_bytes() == before


def test_without_a_file_the_record_is_printed(content: Path, record: Path, capsys: Printed) -> None:
    assert main(["record", str(content)]) == 0
    assert capsys.readouterr().out == record.read_text(encoding="utf-8")


def test_a_record_beside_the_content_is_left_alone_by_its_reader(content: Path, capsys: Printed) -> None:
    (content / "revisions").mkdir()
    assert main(["record", str(content), "--to", str(content / "revisions" / "a.json")]) == 0
    assert main(["check", str(content), "--strict"]) == 0
    assert main(["compare", str(content / "revisions" / "a.json"), str(content)]) == 0
