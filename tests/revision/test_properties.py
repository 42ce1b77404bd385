"""What holds of every comparison: with itself nothing, backwards the same the other way round, whatever the files."""

from __future__ import annotations

from collections import Counter

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as some

from briefgen.revision.change import Change, Topic, Verb
from briefgen.revision.comparison import Comparison
from briefgen.versions import version_of
from tests.demo import demo
from tests.revision.worlds import BASE, PLAN, WORLD, lines, times, version

VERBS = ("Look", "Wipe", "Hold")
STEP = some.fixed_dictionaries(
    {
        "do": some.builds("{} at part {}.".format, some.sampled_from(VERBS), some.integers(1, 4)),
        "takes": some.sampled_from(["1 min", "3 min", "1/2/4 min"]),
        "who": some.sampled_from(["ev1", "ev2"]),
    },
    optional={"id": some.sampled_from(["one", "two", "three", "four"])},
)
TASK = some.lists(STEP, min_size=1, max_size=6, unique_by=lambda step: step.get("id", id(step)))


def plan(steps: list[dict[str, str]]) -> str:
    """The small world with one task of these steps."""
    people = dict.fromkeys(step["who"] for step in steps)
    task = {"title": "Look about", "purpose": "To see.", "place": "k1", "steps": steps}
    sortie = {"title": "S", "flow": {person: ["about"] for person in people}, "limits": {"length": "2 h"}}
    return WORLD + yaml.safe_dump({"tasks": {"about": task}, "sorties": {"s": sortie}}, sort_keys=False)


def steps_of(changes: tuple[Change, ...], verb: Verb) -> Counter[str]:
    """What is done in the steps of which this is said."""
    return Counter(one.subject.words for one in changes if one.verb is verb and one.topic is Topic.STEPS)


@settings(max_examples=60, deadline=None)
@given(TASK, TASK)
def test_backwards_new_is_gone_and_nothing_else_is_lost(one: list[dict[str, str]], other: list[dict[str, str]]) -> None:
    old, new = version(plan(one)), version(plan(other))
    there, back = Comparison(old, new).changes, Comparison(new, old).changes
    assert sum(steps_of(there, Verb.NEW).values()) == sum(steps_of(back, Verb.GONE).values())
    assert sum(steps_of(there, Verb.GONE).values()) == sum(steps_of(back, Verb.NEW).values())
    kept = len(other) - sum(steps_of(there, Verb.NEW).values())
    assert kept == len(one) - sum(steps_of(there, Verb.GONE).values())


@settings(max_examples=40, deadline=None)
@given(TASK)
def test_with_itself_read_again_nothing_differs(steps: list[dict[str, str]]) -> None:
    assert Comparison(version(plan(steps)), version(plan(steps))).changes == ()


@settings(max_examples=60, deadline=None)
@given(TASK, some.data())
def test_one_step_put_in_or_taken_out_is_one_step(steps: list[dict[str, str]], data: some.DataObject) -> None:
    """The check knows nothing of alignment: it made the edit itself."""
    at = data.draw(some.integers(0, len(steps)))
    longer = [*steps[:at], {"do": "Breathe deeply.", "takes": "1 min", "who": steps[0]["who"]}, *steps[at:]]
    old, new = version(plan(steps)), version(plan(longer))
    for comparison, verb in ((Comparison(old, new), Verb.NEW), (Comparison(new, old), Verb.GONE)):
        assert [(one.verb, one.subject.words) for one in comparison.changes if one.topic is Topic.STEPS] == [
            (verb, "“Breathe deeply”")
        ]


def test_of_the_same_plan_in_other_files_nothing_differs() -> None:
    whole = yaml.load(BASE, Loader=yaml.BaseLoader)
    files = [yaml.safe_dump({kind: {name: record}}) for kind in whole for name, record in reversed(whole[kind].items())]
    comparison = Comparison(version(WORLD, PLAN), version(*reversed(files)))
    assert lines(comparison) == []
    assert times(comparison) == []


@pytest.mark.parametrize("change", ["takes: 4 min", "Swing the cover shut."])
def test_the_order_of_files_changes_nothing_of_what_is_said(change: str) -> None:
    new = PLAN.replace(change, {"takes: 4 min": "takes: 9 min"}.get(change, "Swing it shut."))
    assert lines(Comparison(version(WORLD, PLAN), version(WORLD, new))) == lines(
        Comparison(version(PLAN, WORLD), version(new, WORLD))
    )


def test_the_demo_compared_with_itself_is_the_same() -> None:
    assert Comparison(version_of(demo()), version_of(demo())).changes == ()
