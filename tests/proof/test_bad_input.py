"""Content that makes no sense gives a finding at its place, and the proof comes to an end all the same."""

from __future__ import annotations

from pathlib import Path

import pytest

from briefgen.build import examine
from briefgen.findings import Finding
from briefgen.model.fields.limits import NESTED
from tests.rules.test_examples import lay_out

LOOK = "id: look, who: ev1, do: Look around., takes: 2 min"
PROGRAMME = """
programme:
  p: {title: P, sorties: [s, s], paces: {outside: 6 m/min, loaded: 3 m/min},
    effort: {rest: 120 W, light: 220 W, moderate: 320 W, hard: 450 W}}
"""


def flown(*steps: str, flow: str = "ev1: [work]", place: str = "lock") -> str:
    lines = "\n".join(f"      - {{{step}}}" for step in steps)
    return (
        f"tasks:\n  work:\n    title: Work\n    purpose: To mend it.\n    place: {place}\n    steps:\n{lines}\n"
        f"sorties: {{s: {{title: S, flow: {{{flow}}}, limits: {{length: 1 h}}}}}}\n"
    )


def findings(folder: Path, content: str) -> tuple[Finding, ...]:
    lay_out(folder, content, override=True)
    return examine(folder).findings


CASES = {
    "steps that wait for each other": (
        flown(f"{LOOK}, after: [work/say]", "id: say, who: ground, do: Say it., takes: 2 min, after: [work/look]",
              flow="ev1: [work], ground: [work]"), "order-circle",
    ),
    "a step that waits for itself": (flown(f"{LOOK}, after: [work/look]"), "order-circle"),
    "a bag stowed in itself": (flown(f"{LOOK}, with: [socket]") + "bags: {pouch: {stowed: pouch}}", "bag-in-itself"),
    "two bags stowed in each other": (
        flown(f"{LOOK}, with: [socket]") + "bags: {pouch: {stowed: bag-a}, bag-a: {stowed: pouch}}", "bag-in-itself",
    ),
    "a bag put into what lies in it": (flown(f"{LOOK}, picks: [bag-a], leaves: {{bag-a: pouch}}"), "bag-not-there"),
    "a negative count": (flown(LOOK) + "tools: {clips: {stowed: lock, count: -2}}", "wrong-value"),
    "a negative number spent": (flown(f"{LOOK}, spends: {{clips: -2}}"), "not-a-lot"),
    "a place without routes": (flown(LOOK, place="tip"), "unreachable-place"),
    "no home": (flown(LOOK) + "places: {lock: {name: the lock}}", "one-home"),
    "an empty flow of a person": (flown(LOOK, flow="ev1: []"), "empty-flow"),
    "an empty flow of all": (flown(LOOK, flow=""), "empty-flow"),
    "a sortie named twice in the programme": (flown(LOOK) + PROGRAMME, "wrong-value"),
    "a billion items": (
        flown(f"{LOOK}, each: plates") + "equipment: {plates: {states: [a], starts: a, parts: {"
        + ", ".join(f"p{number}: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]" for number in range(9)) + "}}}", "wrong-value",
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_it_gives_its_finding(case: str, tmp_path: Path) -> None:
    content, rule = CASES[case]
    assert rule in {finding.rule for finding in findings(tmp_path, content)}


@pytest.mark.parametrize(("place", "expected"), [("lock", set()), ("k1", {"not-in-hand"})])
def test_a_tool_as_many_bags_deep_as_may_be_is_found_where_the_outermost_bag_is(
    place: str, expected: set[str], tmp_path: Path
) -> None:
    bags = "\n".join(f"  b{n}: {{stowed: {f'b{n + 1}' if n < NESTED - 1 else 'lock'}}}" for n in range(NESTED))
    content = flown(f"{LOOK}, at: {place}, with: [key]", "who: ev1, do: Go in., takes: 1 min")
    found = findings(tmp_path, f"{content}bags:\n{bags}\ntools: {{key: {{stowed: b0}}}}\n")
    assert {finding.rule for finding in found} & {"not-in-hand", "bag-in-itself"} == expected
