"""Values that would make a plan endless, empty or double are refused where they stand, and nothing breaks."""

from __future__ import annotations

from pathlib import Path

import pytest

from briefgen.findings import Finding
from tests.rules.laid_over import examined, sortie

LOOK = "who: ev1, do: Look., takes: 2 min"
PACES = "paces: {outside: 6 m/min, loaded: 3 m/min}"


def wrong_values(folder: Path, example: str) -> list[Finding]:
    examination = examined(folder, example)
    assert not examination.proved
    return [finding for finding in examination.findings if finding.rule in ("wrong-value", "too-long")]


@pytest.mark.parametrize(
    ("word", "example"),
    [
        ("ev1", sortie("who: [ev1, ▸ev1], do: Look., takes: 2 min")),
        ("driver", sortie(f"{LOOK}, picks: [driver, ▸driver]")),
        ("s", sortie(LOOK, more=f"programme: {{p: {{title: P, sorties: [s, ▸s], {PACES}}}}}")),
        ("1", sortie(LOOK, more="equipment: {plates: {states: [in], starts: in, parts: {rack: [1, ▸1]}}}")),
        ("off", sortie(LOOK, more="equipment: {feed: {states: [on, off, ▸off], starts: on}}")),
    ],
)
def test_what_stands_twice_in_a_list_is_found_at_the_second(word: str, example: str, tmp_path: Path) -> None:
    (finding,) = wrong_values(tmp_path, example)
    before = example.split("▸")[0]
    assert (finding.position.line, finding.position.column) == (
        before.count("\n") + 1,
        len(before) - before.rfind("\n"),
    )
    assert f"“{word}” stands in this list for the second time" in finding.sentence


def test_two_callouts_of_one_picture_are_two(tmp_path: Path) -> None:
    callouts = "callouts: {a: {at: [1 %, 2 %], shows: The hook.}, b: {at: [3 %, 4 %], shows: The ring.}}"
    more = f"figures: {{front: {{file: front.svg, alt: The front., {callouts}}}}}"
    assert examined(tmp_path, sortie(f"{LOOK}, figures: [front#a, front#b]", more=more)).proved


@pytest.mark.parametrize(
    "example",
    [
        sortie(f"who: ev1, do: Look., takes: {'9' * 400} h"),
        sortie("who: ev1, do: Look., takes: 1001 h"),
        sortie("who: ev1, do: Look., takes: 1/2/2000 h"),
        sortie(LOOK, more="places: {k7: {map: [nan, 0]}}"),
        sortie(LOOK, more="places: {k7: {map: [0, inf]}}"),
        sortie(LOOK, more=f"places: {{k7: {{room: {'9' * 5000}}}}}"),
        sortie(LOOK, more=f"routes: {{r: {{between: [lock, k1], length: {'9' * 400} m}}}}"),
        sortie(f"{LOOK}, each: {{equipment: plates, where: {{rack: []}}}}, requires: {{plates: in}}"),
        sortie(LOOK, more=f"equipment: {{many: {{states: [in], starts: in, parts: {{a: {list(range(40))}, "
                          f"b: {list(range(40))}}}}}}}"),
    ],
)  # fmt: skip
def test_endless_and_empty_values_are_findings(example: str, tmp_path: Path) -> None:
    assert len(wrong_values(tmp_path, example)) == 1
