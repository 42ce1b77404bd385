"""The JSON Schema: valid, current, and of one mind with the reader.

Checked with `jsonschema` (Draft 2020-12); YAML is read with `ruamel.yaml`, which takes YAML 1.2 as editors do.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from ruamel.yaml import YAML

from briefgen.model.library import KINDS
from briefgen.reading.folder import read_folder
from briefgen.reference.rows import sections
from briefgen.schema.content import content_schema, schema_text, shipped_text
from tests.demo import CONTENT

SCHEMA = content_schema()
VALID = Draft202012Validator(SCHEMA)


def as_editors_read(text: str) -> Any:
    return YAML(typ="safe", pure=True).load(text)


def complaints(text: str) -> list[str]:
    return [error.message for error in VALID.iter_errors(as_editors_read(text))]


def test_it_is_a_schema_of_draft_2020_12() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_the_shipped_file_is_current() -> None:
    assert shipped_text() == schema_text(), "run: python -m briefgen.schema"


def test_every_kind_is_there_with_a_description() -> None:
    assert list(SCHEMA["properties"]) == list(KINDS)
    assert all(kind["description"].endswith(".") for kind in SCHEMA["properties"].values())


def test_every_key_has_a_description() -> None:
    for name, definition in SCHEMA["$defs"].items():
        assert definition.get("description"), name
        for key, value in definition["properties"].items():
            target = SCHEMA["$defs"].get(value.get("$ref", "").rpartition("/")[2], {})
            assert value.get("description") or target.get("description"), f"{name}.{key}"


def test_schema_and_reference_know_the_same_keys() -> None:
    in_reference = {row.key for section in sections() for row in section.rows}
    in_schema = {key for definition in SCHEMA["$defs"].values() for key in definition["properties"]}
    assert in_schema == in_reference


def test_every_example_in_it_holds_against_the_key_that_it_explains() -> None:
    seen = 0
    for name, definition in SCHEMA["$defs"].items():
        for key, value in definition["properties"].items():
            for example in value.get("examples", ()):
                one = Draft202012Validator({**value, "$defs": SCHEMA["$defs"]})
                assert [error.message for error in one.iter_errors(example)] == [], f"{name}.{key}"
                seen += 1
    assert seen > 80


@pytest.mark.parametrize("path", sorted(CONTENT.rglob("*.yaml")), ids=lambda path: path.name)
def test_it_accepts_every_file_of_the_demo(path: Path) -> None:
    assert complaints(path.read_text(encoding="utf-8")) == []


STEP = "tasks: {a: {title: A, purpose: B., steps: [{who: ev1, do: Look., takes: 2 min%s}]}}"
SHORT_FORMS = [
    STEP % ", with: driver",
    STEP % ", with: [driver, {driver: loosen}, {tool: driver, setting: tighten}]",
    STEP % ", each: plates",
    STEP % ", each: {equipment: plates, where: {rack: 1}}",
    STEP % ", after: a/1, picks: bag-a, hazards: [shock]",
    STEP % ", requires: {feed: off}, sets: {lamp: true}, verifies: {dial: 3}",
    STEP % ", after: [previous, see, grease/open], confirmed_by: {who: ground, do: Look., takes: 1 min}",
    "tasks: {a: {like: b, instead: {ev1: ev2}}}",
    "tasks: {a: {title: A, purpose: B., defaults: {who: ev1, with: driver}, steps: [{do: Look., takes: 2 min}]}}",
    "tasks: {a: {title: A, purpose: B., steps: [{id: b, each: c, where: {row: 1}, "
    "steps: [{who: ev1, do: Look., takes: 2 min}]}]}}",
    STEP % ", sight: by feel, effort: hard, needs_light: true",
    "questions: {q: {outcome: o, asks: How many?, answers: [9, 12], correct: 2, because: It is.}}",
    "equipment: {e: {states: off, starts: off}}",
]


@pytest.mark.parametrize("text", SHORT_FORMS)
def test_it_accepts_the_short_forms_that_the_reader_accepts(text: str, tmp_path: Path) -> None:
    assert complaints(text) == []
    (tmp_path / "a.yaml").write_text(text, encoding="utf-8")
    assert read_folder(tmp_path).findings == ()


MISTAKES = [
    "task: {a: {title: A}}",
    "tasks: {A: {title: A, purpose: B., steps: [{who: ev1, do: Look., takes: 2 min}]}}",
    "tasks: {a: {title: A, steps: [{who: ev1, do: Look., takes: 2 min}]}}",
    "tasks: {a: {title: A, purpose: B., steps: []}}",
    STEP % ", tool: driver",
    STEP % ", sight: blind",
    STEP % ", after: A",
    STEP % ", needs_light: yes please",
    STEP.replace("2 min", "2"),
    STEP.replace("2 min", "2 minutes"),
    STEP.replace("who: ev1", "who: []"),
    STEP.replace("who: ev1", "who: EV1"),
    STEP % ", spends: {clips: a few}",
    STEP % ", calls: [{to: ground}]",
    "routes: {r: {between: [a], length: 2 m}}",
    "routes: {r: {between: [a, b, c], length: 2 m}}",
    "routes: {r: {between: [a, b], length: 2 ft}}",
    "people: {p: {label: P, post: moon}}",
    "places: {p: {map: [1]}}",
    "suits: {s: {supplies: {oxygen: {holds: 2 kg}}}}",
    "terms: {qd: {short: QD, means: }}",
    "tools: [hook]",
]


@pytest.mark.parametrize("text", MISTAKES)
def test_it_rejects_what_the_reader_rejects(text: str, tmp_path: Path) -> None:
    assert complaints(text) != []
    (tmp_path / "a.yaml").write_text(text, encoding="utf-8")
    assert read_folder(tmp_path).findings != ()


def test_it_is_plain_json() -> None:
    assert json.loads(shipped_text()) == SCHEMA
