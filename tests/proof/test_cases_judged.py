"""Cases against the independent judge, which plays every execution of the plan in which the case was met.

The judge's plan is written by hand from plain data: the step sets what nobody knows, the case's step follows it,
whatever waited for the step waits for the case, and whoever helps may be at anything that can run by then.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator, Mapping
from copy import deepcopy
from typing import Any

import pytest

from briefgen.proof.deciding.cases import UNKNOWN, CaseProof
from briefgen.proof.evidence import Evidence
from briefgen.proof.soundness import FaultKind
from tests.proof.deeds import Content, Plan, listed
from tests.proof.judge import Judgement, judge
from tests.proof.plans import library_of, random_content

PLANS = 2400
SHARE = 600
# What the judge of small plans knows nothing of: ways, tethers, suits, light and time.
UNJUDGED = {
    FaultKind.WAY,
    FaultKind.TETHER,
    FaultKind.HOME,
    FaultKind.NO_HOME,
    FaultKind.LEFT_OUT,
    FaultKind.RESERVE,
    FaultKind.LIMIT,
    FaultKind.TAKEN,
}


@pytest.mark.parametrize("share", range(PLANS // SHARE))
def test_no_case_is_sound_that_fails_in_any_execution(share: int) -> None:
    tally = Counter[str]()
    for seed in range(share * SHARE, (share + 1) * SHARE):
        tally.update(compared(seed))
    assert [words for words in tally if words.startswith("plan ")] == []
    assert tally["both sound"] >= 5
    assert tally["both unsound"] >= 5


def compared(seed: int) -> Iterator[str]:
    """The verdicts on one case in one random plan, if the plan holds without it."""
    rng, content = random.Random(-seed - 8_000_000), random_content(seed)
    if len(content["sorties"]) > 1 or not judge(content)["s", frozenset()].sound:
        return
    plan = Plan(content, content["sorties"]["s"], frozenset())
    earlier = {key: before(plan, key) for key in plan.steps}
    setters = [key for key, deed in plan.steps.items() if deed.raw.get("sets")]
    if not setters:
        return
    of = rng.choice(setters)
    step, then = written_case(rng, plan, of), "go on"
    later = [key for key in plan.steps if of in earlier[key] and listed(plan.steps[key].raw.get("who"))]
    if later and rng.random() < 0.3:
        then = rng.choice(later)
    found = project(content, plan, of, step, then)
    if found is None:
        return
    judged = [judge(one)["s", frozenset()] for one in met(content, plan, earlier, of, step, then)]
    fails = any(not one.sound and not ends_only(one) for one in judged)
    if found.fault and found.fault[0] in UNJUDGED:
        yield "not judged"
    elif fails and found.fault is None:
        yield f"plan {seed}: sound for the project, {of} {then}"
    elif found.fault and all(one.sound for one in judged):
        yield f"alarm: {found.fault[0]}"
    else:
        same = "ends only" if found.fault or not all(one.sound for one in judged) else "both sound"
        yield "both unsound" if fails else same


def ends_only(one: Judgement) -> bool:
    """Whether nothing fails but how something ends: what is left as it was found is no fault of a case."""
    copy = deepcopy(one)
    copy.bad_item_ends, copy.carried = set(), set()
    return copy.sound


def written_case(rng: random.Random, plan: Plan, of: str) -> dict[str, Any]:
    """A step that mostly sets what the one that failed was to set, done by who does that, or by anybody."""
    raw = plan.steps[of].raw
    who = rng.choice(listed(raw["who"])) if rng.random() < 0.6 else rng.choice(list(plan.flows))
    sets = {name: state for name, state in raw["sets"].items() if rng.random() < 0.8}
    step = {"id": "kase", "who": [who], "do": "Mend it.", "takes": "1 min", "sets": sets}
    return step | {key: raw[key] for key in ("at", "each") if key in raw}


def before(plan: Plan, key: str) -> set[str]:
    """Whatever is over before a step begins."""
    found, ahead = set[str](), [key]
    while ahead:
        for one in plan.waits[ahead.pop()] - found:
            found.add(one)
            ahead.append(one)
    return found


def project(content: Content, plan: Plan, of: str, step: dict[str, Any], then: str) -> CaseProof | None:
    made = deepcopy(content)
    row = made["tasks"][of.split("/")[0]]["steps"]
    raw = next(one for number, one in enumerate(row, start=1) if of.split("/")[1] in (str(number), one.get("id")))
    raw["in_case"] = [{"when": "It sticks.", "steps": [step], "then": then}]
    case = Evidence(library_of(made)).sorties["s"]
    return next(iter(case.cases), None)


def met(
    content: Content, plan: Plan, earlier: Mapping[str, set[str]], of: str, step: dict[str, Any], then: str
) -> Iterator[Content]:
    """The content as if what follows had been written at once, for everything that a helper may be at."""
    task, person = of.split("/")[0], step["who"][0]
    dropped = {key for key in plan.steps if then in plan.steps and of in earlier[key] and key in earlier[then]}
    flow = [key for key in plan.flows[person] if key not in dropped]
    if of in flow:
        seats = [flow.index(of) + 1]
    else:
        seats = [
            seat
            for seat in range(len(flow) + 1)
            if not any(of in earlier[key] for key in flow[:seat]) and not any(key in earlier[of] for key in flow[seat:])
        ]
    for seat in seats:
        made = deepcopy(content)
        flows = {who: [key for key in keys if key not in dropped] for who, keys in plan.flows.items()}
        flows[person] = [*flow[:seat], f"{task}/kase", *flow[seat:]]
        made["sorties"]["s"]["flow"] = flows
        made["tasks"][task]["steps"].append({**step, "after": [of]})
        for name, record in made["tasks"].items():
            for number, raw in enumerate(record["steps"], start=1):
                key = f"{name}/{raw.get('id', number)}"
                if key == of:
                    raw["sets"] = dict.fromkeys(raw["sets"], UNKNOWN)
                    raw.pop("verifies", None)
                elif key in plan.steps and of in earlier[key]:
                    raw["after"] = [*listed(raw.get("after")), f"{task}/kase"]
        yield made
