"""Values are told apart by what they are, and come back from JSON as what they were."""

from __future__ import annotations

import json
import math
import os
from array import array
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from briefgen.cache import results
from briefgen.cache.digests import Unknown, digest, folder_digest, folder_stamp
from briefgen.cache.entries import recall
from briefgen.cache.folder import Folder
from briefgen.cache.plain import Plain
from briefgen.cache.results import NO_RESULTS, KeptResults, ReadAsAsked, keep_results


class Colour(StrEnum):
    RED = "red"


@dataclass(frozen=True)
class Dot:
    at: tuple[float, ...]
    colour: Colour


@dataclass(frozen=True)
class Spot:
    at: tuple[float, ...]
    colour: Colour


BARE = st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text()
KEYS = st.text() | st.integers() | st.tuples(st.text(), st.integers())
DOTS = st.builds(Dot, st.tuples(st.floats(allow_nan=False)), st.just(Colour.RED))
VALUES = st.recursive(
    BARE | st.frozensets(st.integers()) | st.frozensets(st.text()) | DOTS,
    lambda inner: st.lists(inner).map(tuple) | st.dictionaries(KEYS, inner),
    max_leaves=20,
)
DIFFERENT: list[Any] = [
    None, False, 0, 0.0, -0.0, "", "0", b"0", (), ((),), ("",), ("", ""), ("a", "b"), ("ab",), ("a", ("b",)), [], {},
    frozenset(), {"a": "b"}, {"a": None}, {1: 2, 3: 4}, {3: 4, 1: 2}, Colour.RED, "red", math.inf, "3'abc", ("3'abc",),
    Dot((1.0,), Colour.RED), Spot((1.0,), Colour.RED), Dot((1,), Colour.RED),
]  # fmt: skip


@given(VALUES)
def test_a_value_comes_back_as_it_was_in_type_too(value: Any) -> None:
    plain = Plain(Dot, Colour)
    again = plain.read(json.loads(json.dumps(plain.written(value))))
    assert again == value
    assert digest(again) == digest(value)


def test_different_values_have_different_digests() -> None:
    for one, other in combinations(DIFFERENT, 2):
        assert digest(one) != digest(other), (one, other)


@pytest.mark.parametrize("value", [object(), {"a": object()}, (print,), array("d")])
def test_what_is_not_known_has_no_digest(value: Any) -> None:
    with pytest.raises(Unknown):
        digest(value)


@pytest.mark.parametrize("value", [object(), Dot((), Colour.RED), type("Str", (str,), {})("a"), b"a", [1]])
def test_what_could_not_be_read_again_is_not_written(value: Any) -> None:
    with pytest.raises(Unknown):
        Plain(Spot).written(value)


@pytest.mark.parametrize("spoilt", [{"Dot": []}, {"map": [1]}, {"eval": "1"}, {}, {"a": 1, "b": 2}, {"Colour": "blue"}])
def test_what_was_never_written_is_not_read(spoilt: Any) -> None:
    with pytest.raises((ValueError, TypeError, KeyError)):
        Plain(Dot, Colour).read(spoilt)


def test_numbers_side_by_side_come_back_exactly() -> None:
    row = array("d", [0.1, 1e300, 5e-324])
    assert Plain().read(json.loads(json.dumps(Plain().written(row)))) == row


def counting() -> tuple[list[int], Callable[[], int]]:
    calls: list[int] = []

    def compute() -> int:
        calls.append(1)
        return 7

    return calls, compute


def test_a_result_is_computed_once_for_the_same_name_program_and_inputs() -> None:
    calls, compute = counting()
    first = KeptResults(program="p")
    assert first.once("a", lambda: "x", Plain(), compute) == 7
    again = KeptResults(json.loads(json.dumps(first.asked)), "p")
    assert again.once("a", lambda: "x", Plain(), compute) == 7
    assert len(calls) == 1
    assert again.asked == first.asked
    for program, name, inputs in (("q", "a", "x"), ("p", "b", "x"), ("p", "a", "y")):
        assert KeptResults(first.asked, program).once(name, lambda inputs=inputs: inputs, Plain(), compute) == 7
    assert len(calls) == 4


def test_results_of_earlier_builds_are_kept_as_long_as_there_is_room(
    folder: Folder, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(results, "MOST", 250)
    known: Any = {}
    entries = []
    for build in range(4):
        now = KeptResults(known, "p")
        now.once("a", lambda build=build: str(build), Plain(), lambda build=build: f"{build}" * 100)
        keep_results(folder, "results", now.asked, known)
        entry = recall(folder, "results")
        assert entry is not None
        entries.append(entry)
        known = ReadAsAsked(entry)
        assert [words[0] for words in known.values()] == [str(one) for one in (build, build - 1) if one >= 0]
        assert all(len(words) == 100 for words in known.values())
    for entry in entries:
        entry.close()


def test_a_spoilt_result_is_computed_and_put_right() -> None:
    calls, compute = counting()
    good = KeptResults()
    good.once("a", lambda: "x", Plain(), compute)
    spoilt = KeptResults({key: {"Dot": 1} for key in good.asked})
    assert spoilt.once("a", lambda: "x", Plain(), compute) == 7
    assert len(calls) == 2
    assert spoilt.asked == good.asked


def test_what_follows_from_something_unknown_is_computed_each_time_and_never_kept() -> None:
    calls, compute = counting()

    def unknown() -> str:
        raise Unknown("it")

    found = KeptResults()
    for one in (found, found, NO_RESULTS):
        assert one.once("a", unknown, Plain(), compute) == 7
    assert len(calls) == 3
    assert not found.asked


def test_a_folder_is_told_by_its_files(tmp_path: Path) -> None:
    (tmp_path / "a").mkdir()
    (tmp_path / "a" / "b.txt").write_text("one")
    first, stamp = folder_digest(tmp_path), folder_stamp(tmp_path)
    assert (folder_digest(tmp_path), folder_stamp(tmp_path)) == (first, stamp)
    (tmp_path / "a" / "b.txt").write_text("two")
    assert folder_digest(tmp_path) != first
    (tmp_path / "a" / "b.txt").write_text("one")
    assert folder_digest(tmp_path) == first
    assert folder_stamp(tmp_path) != stamp  # it was another meanwhile
    (tmp_path / "a" / "b.txt").rename(tmp_path / "a" / "c.txt")
    assert folder_digest(tmp_path) != first
    assert folder_digest(tmp_path / "none") == folder_digest(tmp_path / "nowhere")


def test_a_folder_with_anything_but_files_is_told_from_nothing(tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to(tmp_path)
    with pytest.raises(Unknown):
        folder_digest(tmp_path)
    (tmp_path / "link").unlink()
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(Unknown):
        folder_stamp(tmp_path)
    with (tmp_path / "pipe").with_name("huge").open("wb") as file:
        file.truncate(2**40)
    (tmp_path / "pipe").unlink()
    with pytest.raises(Unknown):
        folder_digest(tmp_path)
