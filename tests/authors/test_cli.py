"""The command: what it prints, where it writes, and with which exit code it ends."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from icalendar import Calendar
from jsonschema import Draft202012Validator

from briefgen import __version__
from briefgen.cli import main
from briefgen.start.folder import start_folder

Printed = pytest.CaptureFixture[str]


@pytest.fixture
def content(tmp_path: Path) -> Path:
    start_folder(tmp_path / "plan")
    return tmp_path / "plan" / "content"


def change(content: Path, file: str, old: str, new: str) -> None:
    path = content / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def unused_tool(content: Path) -> None:
    change(content, "things.yaml", "tools:", "tools:\n  spare-grip: {stowed: lamp-bag}")


def test_sound_content_exits_0(content: Path, capsys: Printed) -> None:
    assert main(["check", str(content)]) == 0
    assert capsys.readouterr().out == "No findings.\n"


def test_an_error_exits_1_and_shows_place_and_way_out(content: Path, capsys: Printed) -> None:
    change(content, "tasks.yaml", "purpose:", "purpos:")
    assert main(["check", str(content)]) == 1
    out = capsys.readouterr().out
    assert "tasks.yaml:6:5: error unknown-key\n" in out
    assert "Did you mean “purpose”?" in out
    assert "\n     6 |     purpos: Both are outside" in out
    assert "The plan itself was not examined: mend the errors first." in out


def test_a_warning_exits_0_and_1_under_strict(content: Path, capsys: Printed) -> None:
    unused_tool(content)
    assert main(["check", str(content)]) == 0
    assert main(["check", str(content), "--strict"]) == 1
    assert "1 warning." in capsys.readouterr().out


def test_levels_can_be_changed_or_turned_off(content: Path, capsys: Printed) -> None:
    unused_tool(content)
    assert main(["check", str(content), "--level", "unused-record=error"]) == 1
    assert main(["check", str(content), "--strict", "--level", "unused-record=off"]) == 0
    assert capsys.readouterr().out.endswith("No findings.\n")


@pytest.mark.parametrize("setting", ["unused-record=loud", "unused-recrd=off", "unused-record"])
def test_a_level_that_makes_no_sense_exits_2(setting: str, content: Path, capsys: Printed) -> None:
    assert main(["check", str(content), "--level", setting]) == 2
    assert capsys.readouterr().err.startswith("briefgen: ")


def test_an_accepted_finding_is_counted_and_not_shown(content: Path, capsys: Printed) -> None:
    change(
        content, "things.yaml", "tools:",
        "tools:\n  spare-grip: {stowed: lamp-bag, accepts: [{finding: unused-record, because: It is a spare.}]}",
    )  # fmt: skip
    assert main(["check", str(content), "--strict"]) == 0
    assert capsys.readouterr().out == "No findings.\nAccepted by the author: 1.\n"


@pytest.mark.parametrize("folder", ["nowhere", "empty"])
def test_a_folder_without_content_exits_2_and_says_why(folder: str, tmp_path: Path, capsys: Printed) -> None:
    (tmp_path / "empty").mkdir()
    assert main(["check", str(tmp_path / folder)]) == 2
    assert folder in capsys.readouterr().err


def test_findings_as_json_sarif_and_annotations(content: Path, capsys: Printed) -> None:
    unused_tool(content)
    assert main(["check", str(content), "--format", "json"]) == 0
    assert json.loads(capsys.readouterr().out)["count"] == {"error": 0, "warning": 1, "advice": 0}
    assert main(["check", str(content), "--format", "sarif"]) == 0
    log = json.loads(capsys.readouterr().out)
    assert [one["ruleId"] for one in log["runs"][0]["results"]] == ["unused-record"]
    assert main(["check", str(content), "--format", "annotations", "--service", "github"]) == 0
    assert capsys.readouterr().out.startswith("::warning title=unused-record,")


def test_annotations_are_for_the_service_in_whose_job_the_check_runs(
    content: Path, capsys: Printed, monkeypatch: pytest.MonkeyPatch
) -> None:
    unused_tool(content)
    monkeypatch.delenv("GITHUB_ACTIONS", raising=False)
    monkeypatch.setenv("GITLAB_CI", "true")
    monkeypatch.chdir(content.parent)
    assert main(["check", "content", "--format", "annotations"]) == 0
    assert json.loads(capsys.readouterr().out)[0]["location"]["path"] == "content/things.yaml"


def test_a_report_can_go_into_a_file(content: Path, tmp_path: Path, capsys: Printed) -> None:
    assert main(["check", str(content), "--format", "json", "--to", str(tmp_path / "report.json")]) == 0
    assert capsys.readouterr().out == ""
    assert json.loads((tmp_path / "report.json").read_text(encoding="utf-8"))["findings"] == []


def test_a_file_that_cannot_be_written_exits_2(content: Path, tmp_path: Path, capsys: Printed) -> None:
    assert main(["check", str(content), "--to", str(tmp_path / "no" / "report.txt")]) == 2
    assert "can't be written" in capsys.readouterr().err


def test_start_writes_once_and_then_refuses(tmp_path: Path, capsys: Printed) -> None:
    assert main(["start", str(tmp_path / "plan")]) == 0
    assert "briefgen check" in capsys.readouterr().out
    assert main(["start", str(tmp_path / "plan")]) == 2
    assert "Nothing was written" in capsys.readouterr().err


def test_plan_prints_the_tables_asked_for(content: Path, capsys: Printed) -> None:
    assert main(["plan", str(content)]) == 0
    whole = capsys.readouterr().out
    assert [title for title in ("Timeline", "Holds", "Way home", "Supplies", "Nights") if f"\n{title}" in whole] == [
        "Timeline", "Holds", "Way home", "Supplies", "Nights",
    ]  # fmt: skip
    assert main(["plan", str(content), "--table", "holds", "--sortie", "sortie-1"]) == 0
    some = capsys.readouterr().out
    assert "\nHolds" in some
    assert "\nTimeline" not in some
    assert main(["plan", str(content), "--table", "holds", "--csv", "--to", str(content / "holds.csv")]) == 0
    assert "Holds before,Who,Until,Wait" in (content / "holds.csv").read_text(encoding="utf-8")


def test_a_plan_that_does_not_hold_together_exits_2(content: Path, capsys: Printed) -> None:
    change(content, "programme.yaml", "[go-out, change-lamp, come-in]", "[go-outt, change-lamp, come-in]")
    assert main(["plan", str(content)]) == 2
    assert "can't be laid out: it has " in capsys.readouterr().err


def test_an_unknown_sortie_exits_2_and_names_the_known(content: Path, capsys: Printed) -> None:
    assert main(["export", str(content), "--format", "csv", "--sortie", "sortie-9"]) == 2
    assert "There are: sortie-1." in capsys.readouterr().err


def test_export_writes_each_format(content: Path, tmp_path: Path, capsys: Printed) -> None:
    for name in ("csv", "json", "calendar"):
        assert main(["export", str(content), "--format", name, "--to", str(tmp_path / name)]) == 0
    assert (tmp_path / "csv").read_bytes().startswith(b"sortie,kind,")
    assert b"\r\r\n" not in (tmp_path / "csv").read_bytes()
    assert len(json.loads((tmp_path / "json").read_text(encoding="utf-8"))["sorties"]) == 1
    assert len(Calendar.from_ical((tmp_path / "calendar").read_bytes()).walk("VEVENT")) == 11


def test_a_calendar_without_a_start_exits_2(content: Path, capsys: Printed) -> None:
    change(content, "programme.yaml", "    starts: 2043-03-02T09:00Z # UTC\n", "")
    assert main(["export", str(content), "--format", "calendar"]) == 2
    assert "Write “starts:" in capsys.readouterr().err


def test_schema_prints_or_writes_the_schema(tmp_path: Path, capsys: Printed) -> None:
    assert main(["schema"]) == 0
    printed = json.loads(capsys.readouterr().out)
    Draft202012Validator.check_schema(printed)
    assert main(["schema", str(tmp_path / "s.json")]) == 0
    assert json.loads((tmp_path / "s.json").read_text(encoding="utf-8")) == printed


def test_rule_explains_one_or_lists_all(capsys: Printed) -> None:
    assert main(["rule", "unused-record"]) == 0
    assert capsys.readouterr().out.startswith("unused-record (warning, about names)")
    assert main(["rule"]) == 0
    assert "unknown-reference" in capsys.readouterr().out
    assert main(["rule", "nonsense"]) == 2


@pytest.mark.parametrize("arguments", [[], ["chekc", "x"], ["check"], ["export", "x"], ["plan", "x", "--table", "y"]])
def test_a_misspelt_command_exits_2_and_shows_the_usage(arguments: list[str], capsys: Printed) -> None:
    with pytest.raises(SystemExit) as stop:
        main(arguments)
    assert stop.value.code == 2
    assert "usage: briefgen" in capsys.readouterr().err


def test_the_version_is_told(capsys: Printed) -> None:
    with pytest.raises(SystemExit):
        main(["--version"])
    assert capsys.readouterr().out == f"briefgen {__version__}\n"


def test_a_reader_that_stops_reading_gets_no_traceback(content: Path) -> None:
    with subprocess.Popen(
        [sys.executable, "-m", "briefgen", "schema"], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as run:
        assert run.stdout is not None
        assert run.stderr is not None
        run.stdout.read(10)
        run.stdout.close()
        assert run.stderr.read() == b""


def test_a_terminal_without_unicode_gets_no_traceback(content: Path) -> None:
    run = subprocess.run(
        [sys.executable, "-m", "briefgen", "plan", str(content)],
        env={"PYTHONIOENCODING": "ascii", "PYTHONPATH": ":".join(sys.path)},
        capture_output=True,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    assert b"?" in run.stdout
