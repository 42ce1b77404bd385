"""Cases against the independent judge, which plays every execution of the plan in which the case was met.

Also in blocks, in tasks that are like others, and with each optional task left out, and all of them (cases_judge.py).
Here a sample is compared; `python -m tests.reports` compares many more.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator, Mapping
from copy import deepcopy
from typing import Any

import pytest

from briefgen.model.steps import Step
from briefgen.proof.deciding.cases import proofs
from briefgen.proof.deciding.cases.branch import Branch
from briefgen.proof.deciding.cases.proofs import CaseProof
from briefgen.proof.evidence import Evidence
from briefgen.proof.plan import PlannedStep
from briefgen.proof.soundness import FaultKind
from tests.proof.cases_judge import GO_ON, LEAVE, CaseJudge, written_cases
from tests.proof.deeds import Content, Plan, listed
from tests.proof.filled_in import exchanged
from tests.proof.plans import library_of, random_content
from tests.proof.written_out import before, written_out

PLANS = 600
SHARE = 100
# What the judge of small plans knows nothing of: ways, tethers, suits, light, time, and what a sortie claims to leave.
UNJUDGED = {
    FaultKind.WAY,
    FaultKind.TETHER,
    FaultKind.HOME,
    FaultKind.NO_HOME,
    FaultKind.LEFT_OUT,
    FaultKind.GATE,
    FaultKind.RESERVE,
    FaultKind.LIMIT,
    FaultKind.TAKEN,
    FaultKind.CARRIED,
}


@pytest.mark.parametrize("share", range(PLANS // SHARE))
def test_no_case_is_sound_that_fails_in_any_execution(share: int) -> None:
    tally = compared(share)
    assert [words for words in tally if words.startswith(("plan ", "alarm"))] == []
    assert tally["both sound"] >= 5
    assert tally["both unsound"] >= 5


def _all_but_states(self: Branch, one: PlannedStep) -> Step:
    """The step that went wrong, with what it was to move moved."""
    made, step = NOT_DONE(self, one), one.step
    keys = ("picks", "leaves", "hands", "to", "enters", "exits", "uses", "spends", "restraint")
    return made.made(step.origin, step.number, step.key, **{key: getattr(step, key) for key in keys})


NOT_DONE = Branch._not_done
FAULTS: dict[str, tuple[Any, str, Any]] = {
    "what was to be set is known": (Branch, "_not_done", lambda self, one: one.step),
    "what was to be moved is moved": (Branch, "_not_done", _all_but_states),
    "nobody waits for a case": (Branch, "_next", lambda self, number: []),
    "nothing is left out": (proofs, "_omissions", lambda sortie: [frozenset()]),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_a_fault_in_the_proof_makes_a_difference(fault: str, monkeypatch: pytest.MonkeyPatch) -> None:
    where, name, faulty = FAULTS[fault]
    monkeypatch.setattr(where, name, faulty)
    assert any(words.startswith(("plan ", "alarm")) for share in range(PLANS // SHARE) for words in compared(share))


def compared(share: int) -> Counter[str]:
    """The verdicts on one share of the plans: differences in words, and how many agree."""
    tally = Counter[str]()
    for seed in range(share * SHARE, (share + 1) * SHARE):
        tally.update(_compared(seed))
    return tally


def _compared(seed: int) -> Iterator[str]:
    """The verdicts on one case in one random plan, where that holds without it."""
    rng = random.Random(-seed - 8_000_000)
    content = random_content(seed, places=seed % 3 > 0, once=seed % 2 > 0)
    if len(content["sorties"]) > 1:
        return
    plain = written_out(content)
    whole = Plan(plain, plain["sorties"]["s"], frozenset())
    optional = whole.optional()
    judges = {left_out: CaseJudge(plain, left_out) for left_out in _omissions(optional)}
    if not judges[frozenset()].sound or not write_case(rng, content, whole):
        return
    proved = Evidence(library_of(content)).sorties["s"]
    found = {(one.step.key, one.case.number): one for one in proved.cases}
    for case in written_cases(content):
        if case.of in whole.steps:
            yield from _verdict(seed, found[case.of, case.number], {one: judges[one].fails(case) for one in judges})


def _omissions(optional: list[str]) -> Iterator[frozenset[str]]:
    yield frozenset()
    yield from (frozenset([one]) for one in optional)
    if len(optional) > 1:
        yield frozenset(optional)


def _verdict(seed: int, found: CaseProof, judged: dict[frozenset[str], bool | None]) -> Iterator[str]:
    said = found.backwards or found.fault is not None
    unsure = found.fault is not None and found.fault[0] in UNJUDGED
    without = next((one for one in judged if one == found.left_out or (one and one <= found.left_out)), frozenset())
    if found.absent or found.unproved or unsure or (said and judged[without] is None):
        yield "not judged"
    elif any(judged.values()) == said:
        yield "both unsound" if said else "both sound"
    elif said:
        yield f"alarm: {found.fault[0] if found.fault else 'leads nowhere'} (plan {seed})"
    else:
        yield f"plan {seed}: sound for the project: {found.step.key} {found.case.then} {judged}"


# Writing a case -------------------------------------------------------------------------------------------------


def write_case(rng: random.Random, content: Content, whole: Plan) -> bool:
    """A case at a step that sets or moves something, in the task that is flown or in the one that it is like."""
    moving = rng.random() < 0.5
    steps = {key: deed for key, deed in whole.steps.items() if (_moves(deed.raw) if moving else deed.sets)}
    able = [(key.split("/")[0], key.split("/")[-1]) for key in steps]
    if not able:
        return False
    relied = [one for one in able if _relied_on(whole, *one)]
    flown, local = rng.choice(relied if relied and rng.random() < 0.8 else able)
    name = flown
    while "like" in content["tasks"][name]:
        name = content["tasks"][name]["like"]
    steps = [one for entry in content["tasks"][name]["steps"] for one in entry.get("steps", [entry])]
    step = next(one for number, one in enumerate(steps, start=1) if one.get("id", str(number)) == local)
    who = listed(step.get("who") or content["tasks"][name]["defaults"]["who"])
    done = [_done(rng, content, step, who) for _ in range(rng.choice([1, 1, 1, 2]))]
    then = rng.choice([GO_ON, GO_ON, GO_ON, LEAVE, *_later(whole, flown, name, local)[-2:]])
    step["in_case"] = [{"when": "It sticks.", "steps": done, "then": then}]
    return True


def _moves(raw: Mapping[str, Any]) -> list[str]:
    """What of the keys that move something or somebody a step has."""
    return [key for key in ("picks", "leaves", "hands", "to", "enters", "exits") if raw.get(key)]


def _relied_on(whole: Plan, task: str, local: str) -> bool:
    """Whether somebody else relies later on what a step sets."""
    mine = [one for key, one in whole.steps.items() if (key.split("/")[0], key.split("/")[-1]) == (task, local)]
    return any(
        {item for item, *_ in other.needs} & deed.sets.keys() and not {*other.people} & {*deed.people}
        for deed in mine
        for other in whole.steps.values()
        if deed.key in before(whole, other.key)
    )


def _later(whole: Plan, flown: str, name: str, local: str) -> list[str]:
    """Steps that come after it, called as they are in the task in which the case is written."""
    mine = [key for key in whole.steps if key.startswith(f"{flown}/") and key.split("/")[-1] == local]
    later = [key for key in whole.steps if mine and mine[0] in before(whole, key)]
    return [exchanged(key, {flown: name}) for key in later]


def _done(rng: random.Random, content: Content, step: dict[str, Any], who: list[str]) -> dict[str, Any]:
    """A step that mostly sets, or looks at, what the one that failed was to set, and moves what it was to move; by one
    of its people or by anybody.
    """
    person = rng.choice(who) if rng.random() < 0.6 else rng.choice(list(content["people"]))
    sets = {name: state for name, state in step.get("sets", {}).items() if rng.random() < 0.85}
    made: dict[str, Any] = {"who": person, "do": "Mend it.", "takes": "1 min"}
    made["verifies" if rng.random() < 0.2 else "sets"] = sets
    if rng.random() < 0.1:
        made["picks"] = [rng.choice(["driver", "socket"])]
    if moved := [key for key in _moves(step) if rng.random() < 0.85]:
        made |= deepcopy({key: step[key] for key in moved}) | {"who": who if "hands" in moved else rng.choice(who)}
        person = listed(made["who"])[0]
    if content["people"][person]["post"] == "outside":
        made["at"] = step.get("at") or rng.choice(["lock", "bay", "rack"])
    return made | deepcopy({key: step[key] for key in ("each",) if key in step})
