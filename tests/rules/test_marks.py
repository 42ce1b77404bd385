"""Marks of two people outside: what both have is found, and the lines to write tell them apart. No source."""

from __future__ import annotations

from itertools import product
from types import SimpleNamespace
from typing import Any, cast

import pytest
import yaml

from briefgen.model.fields.choices import COLOURS, PATTERNS
from briefgen.model.people import Person
from briefgen.proof.evidence import Evidence
from briefgen.rules.naming.marks import marks_alike
from briefgen.rules.registry import Trouble
from briefgen.source import Position, Text

Written = dict[str, str]
KEYS = ("pattern", "colour", "word")
SECONDS = [*product(PATTERNS, ("", *COLOURS), ("Rings", "Bars", "Plain", "Feathers"))]


def of(pattern: str, colour: str, word: str) -> Written:
    return {"pattern": pattern, "word": word} | ({"colour": colour} if colour else {})


def person(name: str, mark: Written | None, post: str) -> Person:
    """Somebody whose mark's keys stand in a file that is called like them."""
    written: dict[str, Any] = {"label": name.upper(), "post": post}
    if mark:
        written["mark"] = {Text(key, Position(name)): value for key, value in mark.items()}
    return Person.model_validate(written).known_as(Text(name))


def troubles(*marks: Written | None, posts: str = "outside outside", flows: str = "one two") -> list[Trouble]:
    people = {
        name: person(name, mark, post)
        for name, mark, post in zip(("one", "two"), marks, posts.split(), strict=True)
    }  # fmt: skip
    sorties = {
        str(number): SimpleNamespace(flow=dict.fromkeys(flow.split(), ()))
        for number, flow in enumerate(flows.split(", "))
    }
    return list(marks_alike(cast(Evidence, SimpleNamespace(library=SimpleNamespace(people=people, sorties=sorties)))))


@pytest.mark.parametrize(
    "first",
    [("rings", "red", "Rings"), ("rings", "", "Plain"), ("bars", "blue", "Rings"), ("plain", "pink", "Feathers")],
)
def test_whatever_two_have_in_common_is_found_and_what_is_written_tells_them_apart(first: tuple[str, str, str]) -> None:
    for second in SECONDS:
        marks = {"one": of(*first), "two": of(*second)}
        found = troubles(*marks.values())
        shared = [key for key in KEYS if key in marks["one"] and marks["one"][key] == marks["two"].get(key)]
        assert [trouble.write.partition(":")[0] for trouble in found] == shared, marks
        for trouble in found:
            assert {trouble.position.file, trouble.related[0].position.file} == {"one", "two"}
            marks[trouble.position.file].update(yaml.safe_load(trouble.write))
        assert not troubles(*marks.values()), marks


def test_nobody_is_taken_for_somebody_who_is_not_outside_with_them() -> None:
    same = of("rings", "red", "Rings")
    assert len(troubles(same, same)) == 3
    assert len(troubles(same, same, flows="one two, two one")) == 3, "each is said once, not once a sortie"
    assert not troubles(same, same, posts="outside inside")
    assert not troubles(same, same, flows="one, two")
    assert not troubles(same, None)
