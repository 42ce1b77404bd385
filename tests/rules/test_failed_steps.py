"""A case counts on nothing that its step was to do: what it relies on is found, and the step to write makes it good."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from briefgen.findings import Finding, Level
from briefgen.model.steps import Step
from tests.rules.laid_over import examined

NEXT = {"do": "Go on.", "takes": "2 min"}
HOME = {"who": "ev1", "at": "lock", "do": "Come in.", "takes": "1 min"}
HELD = {
    "k1": {"name": "K1", "map": ["6", "0"], "anchor": "true",
           "restraint": {"foot plate": {"enter": "2 min", "leave": "1 min"}, "hand rail": {}}},
}  # fmt: skip
# What a step may do, after what it takes for granted, and what then relies on it. A word alone is a place.
Raw = dict[str, Any]
IN, OUT = {"at": "k1", "enters": "foot plate"}, {"at": "k1", "exits": "foot plate"}
PICK, PUT = {"at": "lock", "picks": ["driver"]}, {"at": "lock", "leaves": {"driver": "lock"}}
OPEN, SHUT = ({"at": "k2", "sets": {"cover": state}} for state in ("open", "shut"))
HAND = {"who": ["ev1", "ev2"], "at": "lock", "hands": {"driver": "ev2"}}
DOES: dict[str, tuple[list[Raw], Raw, list[Raw]]] = {
    "sets": ([], OPEN, [{"at": "k2", "requires": {"cover": "open"}}, SHUT]),
    "picks": ([], PICK, [{"at": "k1", "with": ["driver"]}, PUT]),
    "leaves": ([PICK], PUT, [{"at": "lock"}]),
    "hands": ([PICK], HAND, [{"who": "ev2", **PUT}]),
    "to": ([], {"at": "k1", "to": "plate"}, [{"at": "plate", "to": "k1"}]),
    "enters": ([], IN, [{"at": "k1", "restraint": "foot plate"}, OUT]),
    "exits": ([IN], OUT, [{"at": "k2"}]),
    "anchors": ([], {"at": "k1", "anchors": "k1"}, [{"at": "far"}, {"at": "lock", "anchors": "lock"}]),
}
LIMITS = {"length": "3 h"}
DOES_NOTHING = {
    "id", "who", "do", "why", "at", "takes", "each", "rushed", "uses", "spends", "requires", "verifies", "after",
    "hazards", "keeps_out", "effort", "sight", "needs_light", "restraint", "calls", "in_case", "confirmed_by",
    "not_before", "figures", "note",
}  # fmt: skip
"""Who, where, when and how, what it relies on, uses up and looks at, and what is said: nobody counts on these."""


def errors(folder: Path, key: str, case: list[Raw] | None) -> list[Finding]:
    before, does, after = DOES[key]
    fails: Raw = {"id": "fails", **does}
    if case is not None:
        fails["in_case"] = [{"when": "It does not work.", "steps": case, "then": "go on"}]
    steps = [{"who": "ev1", **NEXT, **one} for one in (*before, fails, *after)]
    people = ["ev1", "ev2"] if key == "hands" else ["ev1"]
    world = {
        "tasks": {"work": {"title": "Work", "purpose": "To mend it.", "place": "lock", "steps": [*steps, HOME]}},
        "sorties": {
            "s": {
                "title": "S",
                "flow": {one: ["work"] for one in people},
                "limits": LIMITS | ({"tether": "36 m"} if key == "anchors" else {}),
            }
        },
        "places": HELD if key in ("enters", "exits") else {},
    }
    folder.mkdir()
    found = examined(folder, yaml.safe_dump({kind: one for kind, one in world.items() if one}, sort_keys=False))
    return [one for one in found.findings if one.level is Level.ERROR]


def waiting(key: str) -> Raw:
    does = DOES[key][1]
    return {"who": "ev1", "at": does["at"], "do": "Look at it.", "takes": "1 min"}


def test_every_key_of_a_step_does_something_here_or_nothing() -> None:
    assert set(DOES) | DOES_NOTHING == set(Step.model_fields)
    assert set(DOES).isdisjoint(DOES_NOTHING)


@pytest.mark.parametrize("key", DOES)
def test_what_a_step_was_to_do_is_made_good_or_found(key: str, tmp_path: Path) -> None:
    assert errors(tmp_path / "plan", key, None) == []
    [finding] = errors(tmp_path / "case", key, [waiting(key)])
    assert finding.rule == "case-does-not-hold"
    [made_good] = yaml.load(finding.write, Loader=yaml.BaseLoader)
    assert made_good[key] == DOES[key][1][key]
    assert errors(tmp_path / "made-good", key, [waiting(key), made_good]) == []


@pytest.mark.parametrize(("key", "more"), [("picks", {"with": ["driver"]}), ("enters", {"restraint": "foot plate"})])
def test_a_step_that_failed_is_not_blamed_for_what_it_was_to_do_first(
    key: str, more: Raw, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before, does, after = DOES[key]
    monkeypatch.setitem(DOES, key, (before, does | more, after))
    [finding] = errors(tmp_path / "case", key, [waiting(key)])
    [made_good] = yaml.load(finding.write, Loader=yaml.BaseLoader)
    assert errors(tmp_path / "made-good", key, [waiting(key), made_good]) == []
