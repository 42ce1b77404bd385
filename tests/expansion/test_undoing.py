"""Ways back are laid out like steps: short names, defaults, blocks and confirmations, for the same items."""

from __future__ import annotations

from typing import Any

from briefgen.expansion.expand import Expansion, expand
from briefgen.model.steps import Step
from tests.proof.plans import library_of

BACK = {"do": "Shut it.", "takes": "1 min", "sets": {"lid": "shut"}}
STEPS: list[dict[str, Any]] = [
    {"id": "open", "do": "Open it.", "takes": "1 min", "sets": {"lid": "open"}},
    {"id": "pair", "do": "Turn it.", "takes": "1 min", "each": {"equipment": "pins", "where": {"row": ["2"]}},
     "sets": {"pins": "out"}},
    {"id": "every", "each": "pins", "steps": [
        {"id": "pull", "do": "Pull it.", "takes": "1 min", "sets": {"pins": "out"}},
    ]},
]  # fmt: skip


def made(*undo: dict[str, Any], **task: Any) -> Expansion:
    content = {
        "people": {"ev1": {"label": "EV1", "post": "outside"}, "ev2": {"label": "EV2", "post": "outside"}},
        "equipment": {
            "lid": {"states": ["shut", "open"], "starts": "shut"},
            "pins": {"states": ["in", "out"], "starts": "in", "parts": {"row": ["1", "2"]}},
        },
        "places": {"lock": {"home": "true"}},
        "tasks": {"t": {"title": "T", "purpose": "P", "defaults": {"who": "ev1", "at": "lock"}, "steps": STEPS,
                        "undo": list(undo), **task}},
    }  # fmt: skip
    return expand(library_of(content))


def ways(expansion: Expansion) -> dict[str, tuple[Step, ...]]:
    return {str(way.of): way.steps for way in expansion.library.tasks["t"].undo}


def test_a_way_back_has_the_defaults_of_its_task_and_says_what_it_takes_back() -> None:
    (step,) = ways(made({"of": "open", "steps": [BACK]}))["t/open"]
    assert (step.who, step.at, step.key, step.origin.undoes) == (("ev1",), "lock", "open/undo/1", "open")


def test_short_names_and_previous_mean_steps_of_the_same_way_back() -> None:
    found = made({"of": "t/open", "steps": [{"id": "one", **BACK}, {**BACK, "after": ["one"]},
                                            {**BACK, "after": ["previous"]}]})  # fmt: skip
    assert [step.after for step in ways(found)["t/open"]] == [(), ("t/open/undo/one",), ("t/open/undo/2",)]
    assert found.findings == ()


def test_whatever_else_it_would_wait_for_is_a_finding() -> None:
    for name in ("open", "t/pair", "two", "none/such"):
        found = made({"of": "open", "steps": [{**BACK, "after": [name]}, {"id": "two", **BACK}]})
        assert [one.rule for one in found.findings] == ["way-back-waits"]
        assert found.findings[0].write == "requires: {…}"
    circle = [{"id": "one", **BACK, "after": ["two"]}, {"id": "two", **BACK, "after": ["one"]}]
    assert [one.rule for one in made({"of": "open", "steps": circle}).findings] == ["way-back-waits"]


def test_what_is_set_back_is_set_for_the_same_items() -> None:
    back = {"do": "Push it in.", "takes": "1 min", "sets": {"pins": "in"}}
    found = ways(made({"of": "pair", "steps": [back]}, {"of": "every/pull", "steps": [back]}))
    assert list(found) == ["t/pair", "t/every/1/pull", "t/every/2/pull"]
    chosen = [step.each.where for row in found.values() for step in row if step.each]
    assert chosen == [{"row": ("2",)}, {"row": ("1",)}, {"row": ("2",)}]


def test_blocks_and_confirmations_are_written_out_in_it() -> None:
    block = {"id": "in", "each": "pins", "steps": [
        {"id": "push", "do": "Push it.", "takes": "1 min", "sets": {"pins": "in"},
         "confirmed_by": {"who": "ev2", "do": "Look.", "takes": "1 min"}},
    ]}  # fmt: skip
    row = ways(made({"of": "open", "steps": [block]}))["t/open"]
    assert [step.key for step in row] == [
        "open/undo/in/1/push", "open/undo/in/1/push-confirmed", "open/undo/in/2/push", "open/undo/in/2/push-confirmed",
    ]  # fmt: skip
    assert row[1].after == ("t/open/undo/in/1/push",)


def test_a_task_like_another_has_its_ways_back() -> None:
    content = library_of({
        "people": {"ev1": {"label": "EV1", "post": "outside"}},
        "equipment": {name: {"states": ["shut", "open"], "starts": "shut"} for name in ("lid", "cap")},
        "places": {"lock": {"home": "true"}},
        "tasks": {
            "t": {"title": "T", "purpose": "P", "defaults": {"who": "ev1", "at": "lock"}, "steps": STEPS[:1],
                  "undo": [{"of": "open", "steps": [BACK]}]},
            "u": {"like": "t", "instead": {"lid": "cap"}},
        },
    })  # fmt: skip
    (way,) = expand(content).library.tasks["u"].undo
    assert (str(way.of), dict(way.steps[0].sets)) == ("u/open", {"cap": "shut"})
