"""The proof by order against an independent judge that plays every execution of random small plans: no difference.

The judge (judge.py) knows nothing of the project's proof. Compared are every single reliance in every variant of every
sortie, what runs beside what, how things end, and which rules speak up. Half of the plans say once what holds for
several steps (told_once.py), which the judge writes out by itself. Here a sample is compared; `python -m tests.reports`
compares many more.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from typing import Any

import pytest

from briefgen.expansion import expand
from briefgen.model import inheritance
from briefgen.proof import plan
from briefgen.proof.deciding import variant as omissions
from briefgen.proof.deciding.variant import Variant
from briefgen.proof.evidence import Evidence
from briefgen.proof.holding import custody, fitting
from briefgen.proof.holding.carrying import too_much
from briefgen.proof.holding.custody import Handled
from briefgen.proof.moving import keeping, restraints, room
from briefgen.proof.moving.keeping import intrusions
from briefgen.proof.moving.restraints import slips
from briefgen.proof.moving.room import crowds
from briefgen.proof.moving.routes import Routes
from briefgen.proof.moving.whereabouts import trails
from briefgen.proof.ordering import awaiting, reliance, states
from briefgen.proof.ordering.reliance import Found, Reliance
from briefgen.proof.ordering.states import Met
from briefgen.proof.ordering.using import clashes
from briefgen.rules.registry import Needs, all_rules
from tests.proof.judge import FINE, LUCK, OUT_OF_REACH, UNCONFIRMED, WRONG, Judgement, judge
from tests.proof.plans import library_of, random_content
from tests.rule_modules import module_of

PLANS = 1000
SHARE = 100
MODULES = (
    "order", "custody", "at_hand", "handing_over", "consumables", "leftovers", "states", "ends", "hazards", "places",
    "keep_out", "restraints", "fitting",
)  # fmt: skip


@cache
def compared(share: int) -> Counter[str]:
    """Differences of one share of the plans by words, and how many plans were sound."""
    tally: Counter[str] = Counter()
    for seed in range(share * SHARE, (share + 1) * SHARE):
        content = random_content(seed, places=True, once=seed % 2 == 1)
        judgements = judge(content)
        proved = Evidence(library_of(content))
        tally["sound" if all(one.sound for one in judgements.values()) else "unsound"] += 1
        tally.update(f"plan {seed}: {words}" for words in differences(judgements, proved))
    return tally


@pytest.mark.parametrize("share", range(PLANS // SHARE))
def test_the_proof_and_the_judge_agree_on_every_plan(share: int) -> None:
    tally = compared(share)
    assert [words for words in tally if words.startswith("plan ")] == []
    assert tally["sound"] + tally["unsound"] == SHARE
    # Both verdicts are well represented, so that neither "always sound" nor "never" would pass.
    assert tally["sound"] >= SHARE / 4
    assert tally["unsound"] >= SHARE / 4


# Comparing ------------------------------------------------------------------------------------------------------

Judgements = Mapping[tuple[str, frozenset[str]], Judgement]


def differences(judgements: Judgements, evidence: Evidence) -> Iterator[str]:
    """Every difference between judge and project, in words."""
    for name, proved in evidence.sorties.items():
        whole = judgements[name, frozenset()]
        if whole.circle != bool(proved.plan.circle):
            yield f"{name}: circle for the judge {whole.circle}, for the project {bool(proved.plan.circle)}"
        if proved.plan.circle:
            return
        for variant in proved.variants:
            judgement = judgements.get((name, variant.left_out))
            if judgement is None:
                yield f"{name} without {sorted(variant.left_out)}: not judged"
                continue
            for words in _differences_in(judgement, variant, evidence.routes):
                yield f"{name} without {sorted(variant.left_out)}: {words}"
        if not whole.executions_end_alike and not proved.is_last:
            break  # where the next sortie begins is luck
    else:
        yield from _differences_in_rules(judgements, evidence)
        return
    if _sentences(evidence) == set():
        yield "no rule speaks up, though executions end differently"


def _differences_in(judgement: Judgement, variant: Variant, routes: Routes) -> Iterator[str]:
    keys = [step.key for step in variant.plan.steps]
    handled = {
        (keys[one.handling.step], one.handling.act.value, one.handling.thing): _custody(one)
        for one in variant.custody.handled
    }
    needs: dict[tuple[str, Any, str], str] = {}
    for met in sorted(variant.states.met, key=lambda met: _WORST.index(_state(met)), reverse=True):
        needs[keys[met.need.step], met.need.item, met.need.state] = _state(met)  # of a hazard's need and a look's own
    at_once = {(frozenset((keys[one.step], keys[one.other])), one.thing) for one in clashes(variant.plan)}
    found = crowds(variant.plan)
    pairs: list[tuple[str, Any, Any]] = [
        ("custody", judgement.custody, handled),
        ("states", judgement.states, needs),
        ("at once", judgement.at_once, at_once),
        ("crowded", judgement.crowded, {one.place for one in found if len(one.steps) > 1}),
        ("too many", judgement.too_many, {one.steps[0].key for one in found if len(one.steps) == 1}),
        ("fitted", judgement.fitted, _fitted(variant)),
        ("held", judgement.held, _held(variant, routes)),
        ("entered", judgement.entered, _entered(variant, routes)),
        ("unordered", judgement.unordered, _unordered(variant)),
    ]
    carried = {(one.step.key, one.person) for one in too_much(variant.plan, variant.custody)}
    sure = set(judgement.custody.values()) <= {FINE}
    if not judgement.carried <= carried or (sure and judgement.carried != carried):
        yield f"carried: {_apart(judgement.carried, carried)}"
    for words, judged, proved in pairs:
        if judged != proved:
            yield f"{words}: {_apart(judged, proved)}"


def _fitted(variant: Variant) -> set[tuple[str, str]]:
    return {(one.step.key, str(one.words)) for one in fitting.still_fitted(variant.plan, variant.states)}


def _held(variant: Variant, routes: Routes) -> set[tuple[str, str]]:
    found = slips(variant.plan.library, trails(variant.plan, routes))
    return {(one.visit.step.key, one.visit.person) for one in found}


def _entered(variant: Variant, routes: Routes) -> set[tuple[str, str, str]]:
    found = intrusions(variant.plan, trails(variant.plan, routes))
    return {(one.keeper.key, str(one.spot), one.presence.person) for one in found}


def _apart(judged: Any, proved: Any) -> str:
    if isinstance(judged, dict):
        keys = [key for key in {**judged, **proved} if judged.get(key) != proved.get(key)]
        return "; ".join(f"{key}: judge {judged.get(key)}, project {proved.get(key)}" for key in keys)
    return f"only judge {sorted(map(str, judged - proved))}, only project {sorted(map(str, proved - judged))}"


def _custody(handled: Handled) -> str:
    if not handled.certain:
        return LUCK
    return FINE if handled.reachable else OUT_OF_REACH


_WORST = (LUCK, WRONG, UNCONFIRMED, FINE)


def _state(met: Met) -> str:
    if not met.answer.certain:
        return LUCK
    if met.wrong:
        return WRONG
    return UNCONFIRMED if met.unconfirmed else FINE


def _unordered(variant: Variant) -> set[tuple[str, str]]:
    order, steps = variant.plan.order, variant.plan.steps
    return {
        (one.key, other.key)
        for one in steps
        for other in steps
        if one is not other and not order.before(one.index, other.index)
    }


def _differences_in_rules(judgements: Judgements, evidence: Evidence) -> Iterator[str]:
    """Which rules speak up; where the first of several mistakes hides others of its group, the group counts."""
    expected = set()
    for judgement in judgements.values():
        expected |= _expected(judgement)
    spoken = _sentences(evidence)
    if expected != spoken:
        yield f"rules: only judge {sorted(expected - spoken)}, only project {sorted(spoken - expected)}"


def _expected(judgement: Judgement) -> set[str]:
    things = set(judgement.custody.values())
    speaking = {
        "custody-by-luck": LUCK in things,
        "out of reach": OUT_OF_REACH in things,
        "need": bool(set(judgement.states.values()) - {FINE}),
        "used-at-once": bool(judgement.at_once),
        "crowded-place": bool(judgement.crowded),
        "room-too-small": bool(judgement.too_many),
        "ends-wrong": bool(judgement.bad_item_ends),
        "thing's end": bool(judgement.bad_thing_ends),
        "count-short": bool(judgement.overspent),
        "prerequisite-not-done": bool(judgement.not_before),
        "still-fitted": bool(judgement.fitted),
        "held": bool(judgement.held),
        "keep-out-entered": bool(judgement.entered),
        "misdirected": bool(judgement.misdirected),
    }
    return {words for words, speaks in speaking.items() if speaks}


_GROUPS = {
    "not-in-hand": "out of reach", "taken-twice": "out of reach", "not-there-to-take": "out of reach",
    "not-held": "out of reach", "bag-not-there": "out of reach",
    "state-by-luck": "need", "state-not-there": "need", "control-not-confirmed": "need",
    "never-put-back": "thing's end", "left-outside": "thing's end",
    "restraint-not-entered": "held", "restraint-not-left": "held",
    "left-elsewhere": "misdirected", "handed-to-absent": "misdirected",
}  # fmt: skip
# These read what a sortie claims to leave over, or are advice to the author of a `where`: no matter of soundness.
_CLAIMS = {
    "carried-over-otherwise",
    "carried-elsewhere",
    "items-missed",
    "nothing-to-enter",
    "restraint-too-quick",
    "restraint-not-there",
    "fitted-at-odds",
    "keeps-out-its-own-people",
}


def _sentences(evidence: Evidence) -> set[str]:
    """The rules (or groups of them) that speak up."""
    rules = [rule for rule in all_rules().values() if module_of(rule) in MODULES and rule.name not in _CLAIMS]
    found = [finding for rule in rules if rule.needs is not Needs.RECORDS for finding in rule.findings(evidence)]
    return {_GROUPS.get(finding.rule, finding.rule) for finding in found}


# The comparison itself ------------------------------------------------------------------------------------------


def _any_of_them(self: Reliance[Any, Any], matter: Any, last: list[int], racing: tuple[int, ...]) -> Found[Any]:
    return Found(self.changes_of(matter)[last[0]], last[0], racing) if last else Found(self._starts[matter], None)


FAULTS: dict[str, tuple[Any, str, Callable[..., Any]]] = {
    "racing changes are overlooked": (reliance, "_until", lambda row, first, high: set()),
    "of unordered changes any is taken for the last": (Reliance, "_answer", _any_of_them),
    "whoever looks is a witness": (states.Looks, "setters", lambda self, item, answer: frozenset()),
    "everything is at hand": (custody, "reachable", lambda plan, step, handling, chain: True),
    "links are overlooked": (plan, "_links", lambda library, steps, index: ()),
    "a plate lets go by itself": (restraints, "held_after", lambda place, step, held: ""),
    "nothing is fitted for long": (fitting, "still_fitted", lambda plan, states: iter(())),
    "who waits is nowhere": (keeping, "presences", lambda trail: iter(())),
    "nothing leaves with what it serves": (omissions, "leaving", lambda serving, left_out, begun=(): left_out),
    "there is room for everybody": (room, "_fill", lambda plan, seats, room, together: iter(())),
    "rounds run into each other": (expand, "order_rounds", lambda laid, flows: iter(())),
    "nobody waits for a look in another task": (awaiting, "_waits", lambda plan: iter(())),
    "nothing is inherited": (inheritance, "inherited", lambda library, task, step: iter(())),
}  # fmt: skip


@pytest.mark.parametrize("fault", FAULTS)
def test_a_fault_in_the_proof_makes_a_difference(fault: str, monkeypatch: pytest.MonkeyPatch) -> None:
    where, name, faulty = FAULTS[fault]
    monkeypatch.setattr(where, name, faulty)
    assert [words for words in compared.__wrapped__(0) if words.startswith("plan ")]
