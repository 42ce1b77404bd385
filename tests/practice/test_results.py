"""Results read back: one table by person and outcome, and a sentence for whatever is no results file."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import briefgen.schema
from briefgen.cli import main
from briefgen.model.fields.limits import ID, TEXT
from briefgen.schema.results import RESULTS_FILE, results_schema_text

SCHEMA = json.loads(results_schema_text())


def results(**changes: Any) -> dict[str, Any]:
    """Four questions, of which three were asked; two of them check an outcome, and one was right the last time."""
    return {
        "format": "briefgen practice results", "version": 1, "programme": "autumn", "title": "Autumn works",
        "sortie": "sortie-1", "person": "ev1", "name": "Heron", "exported": "2030-01-10T12:00:00.000Z",
        "pass_mark": 0.5, "questions": 4,
        "outcomes": [{"id": "swap", "does": "swaps a pump", "questions": 2}],
        "answers": [
            {"question": "a", "kind": "order", "outcomes": ["swap"], "box": 3, "due": "2030-01-14", "asked": 2,
             "right": 2, "last": "right"},
            {"question": "b", "kind": "holds", "outcomes": ["swap"], "box": 1, "due": "2030-01-11", "asked": 2,
             "right": 1, "last": "wrong"},
            {"question": "c", "kind": "limits", "outcomes": [], "box": 1, "due": "2030-01-11", "asked": 1,
             "right": 0, "last": "wrong"},
        ],
        **changes,
    }  # fmt: skip


def saved(folder: Path, file: str = "one.json", **changes: Any) -> Path:
    (folder / file).write_text(json.dumps(results(**changes)), encoding="utf-8")
    return folder / file


def rows(text: str) -> list[list[str]]:
    return [[cell for cell in line.split("  ") if cell.strip()] for line in text.splitlines()]


def shown(capsys: pytest.CaptureFixture[str], *files: Path) -> list[list[str]]:
    assert main(["results", *map(str, files)]) == 0
    return [[cell.strip() for cell in row] for row in rows(capsys.readouterr().out)]


def test_the_table_counts_by_person_and_outcome(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = shown(capsys, saved(tmp_path))
    assert table[0] == ["Autumn works"]
    assert table[3] == ["Heron", "sortie-1", "All questions", "4", "3", "1", "25 %", "50 %", "not yet"]
    assert table[4] == ["Heron", "sortie-1", "swaps a pump", "2", "2", "1", "50 %", "50 %", "yes"]


def test_without_a_pass_mark_nothing_is_reached_or_missed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert shown(capsys, saved(tmp_path, pass_mark=None))[3][-2:] == ["—", "—"]


def test_the_longest_ids_and_a_site_without_a_programme_can_be_read(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    key = "/".join(["a" * ID] * 4)
    long = results()["answers"][0] | {"question": f"holds:{key}:{key}", "outcomes": ["a" * ID]}
    does = [{"id": "a" * ID, "does": "x" * TEXT, "questions": 1}]
    table = shown(capsys, saved(tmp_path, programme="", title="", answers=[long], outcomes=does, person="p" * ID))
    assert any(row[:3] == ["Heron", "sortie-1", "All questions"] for row in table)


def test_several_people_stand_in_one_table_and_of_one_persons_files_the_latest_counts(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    files = [
        saved(tmp_path, "new.json", exported="2030-01-12T12:00:00+01:00", answers=[]),
        saved(tmp_path, "old.json"),
        saved(tmp_path, "wren.json", person="ev2", name="Wren"),
    ]
    table = shown(capsys, *files)
    assert [(row[0], row[5]) for row in table[3:7]] == [("Heron", "0"), ("Heron", "0"), ("Wren", "1"), ("Wren", "1")]
    assert "the one saved last counts" in " ".join(table[-1])


def refused(capsys: pytest.CaptureFixture[str], file: Path) -> str:
    assert main(["results", str(file)]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "Traceback" not in said.err
    assert "mistake in briefgen" not in said.err
    assert said.err.startswith("briefgen: “")
    assert said.err.count("\n") == 1
    return said.err


@pytest.mark.parametrize(
    "content",
    [
        b"", b"{", b"[]", b"null", b"\xff\xfe", b'{"format": "other"}', b"[" * 100_000, b"1e999",
        b'{"a": ' * 50_000, b"\x00" * 10, "{“}".encode(),
    ],
)  # fmt: skip
def test_a_file_of_another_kind_gets_a_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], content: bytes
) -> None:
    (tmp_path / "bad.json").write_bytes(content)
    assert "holds no practice results" in refused(capsys, tmp_path / "bad.json")


@pytest.mark.parametrize(
    "changes",
    [
        {"version": 2}, {"pass_mark": float("nan")}, {"pass_mark": 80}, {"questions": 1}, {"questions": -1},
        {"questions": 10**400}, {"exported": "2030-01-10T12:00:00"}, {"exported": 5}, {"name": ""}, {"more": 1},
        {"title": "x" * 5001}, {"answers": [results()["answers"][0]] * 2}, {"answers": {}}, {"name": ["Heron"]},
        {"outcomes": [{"id": "swap", "does": "swaps a pump", "questions": 1}]},
        {"answers": [results()["answers"][0] | {"right": 3}]}, {"answers": [results()["answers"][0] | {"box": 6}]},
        {"answers": [results()["answers"][0] | {"due": "soon"}]},
    ],
)  # fmt: skip
def test_results_that_do_not_add_up_get_a_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], changes: dict[str, Any]
) -> None:
    assert "holds no practice results" in refused(capsys, saved(tmp_path, **changes))


def test_what_can_not_be_read_gets_a_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    os.mkfifo(tmp_path / "pipe")
    for path in (tmp_path, tmp_path / "none.json", tmp_path / "pipe", Path("/dev/zero")):
        assert "can't be read" in refused(capsys, path)


def test_no_letter_of_a_file_gives_the_terminal_an_order(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shown_text = shown(capsys, saved(tmp_path, title="\x1b[2Jgone", person="a\x1b]0;b\x07"))
    assert "\x1b" not in str(shown_text)
    assert main(["results", str(saved(tmp_path, version=9))]) == 2
    assert "\x1b" not in capsys.readouterr().err


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=6,
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.sampled_from(sorted(results())), JSON)
def test_whatever_stands_in_a_key_it_is_a_table_or_a_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], key: str, value: Any
) -> None:
    code = main(["results", str(saved(tmp_path, **{key: value}))])
    said = capsys.readouterr()
    assert code in (0, 2)
    assert (code == 0) == bool(said.out) != bool(said.err)
    assert "mistake in briefgen" not in said.err


def test_the_shipped_schema_is_the_models_and_takes_results_and_no_others() -> None:
    """JSON Schema, draft 2020-12, by the `jsonschema` library."""
    shipped = Path(briefgen.schema.__file__).with_name(RESULTS_FILE).read_text(encoding="utf-8")
    assert shipped == results_schema_text()
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    validator = jsonschema.Draft202012Validator(SCHEMA, format_checker=jsonschema.Draft202012Validator.FORMAT_CHECKER)
    assert list(validator.iter_errors(results())) == []
    for wrong in ({"version": 2}, {"pass_mark": 80}, {"questions": -1}, {"more": 1}, {"answers": {}}, {"name": ""}):
        assert list(validator.iter_errors(results(**wrong))), wrong
