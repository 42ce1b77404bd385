"""The judge's own reading of cases: the plans that follow if a step does not go as planned, written from plain data.

The step sets what nobody knows, moves nothing and nobody, and confirms nothing; the case's steps follow it, and what
waited for the step waits for them. Who does the step does them next; whoever else helps may be at anything that can run
by then.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass
from itertools import product
from typing import Any

from tests.proof.deeds import Content, Plan, listed
from tests.proof.filled_in import filled
from tests.proof.judge import Judgement, judge_alone
from tests.proof.served import with_servants
from tests.proof.written_out import Line, before, laid_out, meant

GO_ON, LEAVE = "go on", "leave the task"
UNKNOWN = "nobody knows"


@dataclass(frozen=True)
class Written:
    """A case of a planned step, by whole keys. `then` is where the plan goes on; empty where that is nowhere."""

    of: str
    number: int
    steps: tuple[dict[str, Any], ...]
    then: str


def written_cases(content: Content) -> Iterator[Written]:
    """Every case of every step, in a block for every round."""
    wholes, laid = laid_out(content)
    for task, lines in laid.items():
        for line in lines:
            for number, case in enumerate(line.raw.get("in_case", ()), start=1):
                steps = tuple(_steps(content, wholes[task], line, case["steps"]))
                then = case["then"]
                if then not in (GO_ON, LEAVE):
                    then = next(iter(meant(laid, task, line, then)), "")
                yield Written(f"{task}/{line.key}", number, steps, then)


def _steps(content: Content, task: Mapping[str, Any], line: Line, steps: Any) -> Iterator[dict[str, Any]]:
    """The steps as they are done: for the round's item, or the items of what went wrong where they set these."""
    each = line.raw.get("each")
    name = each["equipment"] if isinstance(each, dict) else each
    for number, step in enumerate(steps, start=1):
        made = filled(content, task, step)
        if line.block:
            own = made["each"].get("where", {}) if isinstance(made.get("each"), dict) else {}
            if any(one[0] not in listed(own.get(part, one)) for part, one in line.raw["each"]["where"].items()):
                continue
            made["each"] = each
        elif each and "each" not in made and name in made.get("sets", {}):
            made["each"] = each
        yield {**made, "id": f"{line.key}/case/{number}"}


class CaseJudge:
    """Judges the cases of a plain sortie without some tasks, if that is sound without the case."""

    def __init__(self, plain: Content, left_out: frozenset[str]) -> None:
        self.plain = plain
        self.plan = Plan(plain, plain["sorties"]["s"], with_servants(plain, left_out))
        self.sound = judge_alone(plain, "s", left_out).sound
        self.earlier = {key: before(self.plan, key) for key in self.plan.steps} if self.sound else {}

    def fails(self, case: Written) -> bool | None:
        """Whether the plan fails in any execution in which the case was met; None where it can't be met."""
        plan, earlier = self.plan, self.earlier
        if not self.sound or case.of not in plan.steps:
            return None
        if case.then not in (GO_ON, LEAVE) and case.of not in earlier.get(case.then, ()):
            return True
        left = self._left(case) if case.then == LEAVE else set()
        later = [key for key in plan.steps if case.of in earlier[key]]
        dropped = {key for key in later if key in earlier.get(case.then, ()) or _task(key) in left}
        for key in later:
            if _task(key) not in left and left.intersection(self._needed(_task(key))):
                return True
        return any(not _sound(self.plain, one) for one in self._met(case, dropped))

    def _needed(self, task: str) -> list[str]:
        entries = self.plain["tasks"][task].get("prerequisites", [])
        return [one if isinstance(one, str) else one["task"] for one in entries]

    def _left(self, case: Written) -> set[str]:
        """The task, and again and again each that needs it or is only for it, and of which nothing can have begun."""
        left, flown = {_task(case.of)}, {_task(key) for key in self.plan.steps}
        begun = {_task(key) for key in self.plan.steps if case.of not in self.earlier[key]}
        for _ in flown:
            for name in flown - begun - left:
                masters = flown.intersection(listed(self.plain["tasks"][name].get("serves")))
                if (masters and masters <= left) or left.intersection(self._needed(name)):
                    left.add(name)
        return left

    def _met(self, case: Written, dropped: set[str]) -> Iterator[Judgement]:
        """What becomes of the plan, for everything that helpers may be at."""
        plan = self.plan
        helpers = dict.fromkeys(who for step in case.steps for who in listed(step["who"]) if who in plan.flows)
        flows = {who: [key for key in row if key not in dropped] for who, row in plan.flows.items()}
        seats = [list(self._seats(flows[who], case.of)) for who in helpers]
        for chosen in product(*seats):
            made = self._made(case, dropped)
            rows = {who: [*row] for who, row in flows.items()}
            for who, seat in zip(helpers, chosen, strict=True):
                mine = [f"{_task(case.of)}/{step['id']}" for step in case.steps if who in listed(step["who"])]
                rows[who][seat:seat] = mine
            made["sorties"]["s"]["flow"] = rows
            yield judge_alone(made, "s")

    def _seats(self, flow: list[str], of: str) -> Iterator[int]:
        if of in flow:
            yield flow.index(of) + 1
            return
        for seat in range(len(flow) + 1):
            late = any(of in self.earlier[key] for key in flow[:seat])
            if not late and not any(key in self.earlier[of] for key in flow[seat:]):
                yield seat

    def _made(self, case: Written, dropped: set[str]) -> dict[str, Any]:
        made: dict[str, Any] = deepcopy(dict(self.plain))
        task = _task(case.of)
        names = [f"{task}/{step['id']}" for step in case.steps]
        for name, record in made["tasks"].items():
            for raw in record["steps"]:
                key = f"{name}/{raw['id']}"
                if key in dropped:
                    raw["who"] = []
                elif key == case.of:
                    raw["sets"] = dict.fromkeys(raw.get("sets", {}), UNKNOWN)
                    _come_to_nothing(raw)
                elif case.of in self.earlier.get(key, ()):
                    raw["after"] = [*raw["after"], *names]
        open_ = set(self.plan.steps[case.of].raw.get("sets", {}))
        for step in deepcopy(case.steps):
            seen = {name: step["verifies"][name] for name in step.get("verifies", {}) if name in open_}
            seen = {name: state for name, state in seen.items() if name not in step.get("sets", {})}
            open_ -= {*step.get("sets", {}), *seen}
            step["verifies"] = {name: one for name, one in step.get("verifies", {}).items() if name not in seen}
            step["sets"] = {**step.get("sets", {}), **seen}
            made["tasks"][task]["steps"].append({**step, "after": [case.of]})
        return made


def _come_to_nothing(raw: dict[str, Any]) -> None:
    """Nothing is taken, put down, handed over or confirmed, nobody is elsewhere or in another restraint than before."""
    taken = listed(raw.pop("picks", None))
    raw["with"] = [
        one for one in raw.get("with", []) if (one if isinstance(one, str) else next(iter(one))) not in taken
    ]
    raw["spends"] = {name: many for name, many in raw.get("spends", {}).items() if name not in taken}
    into = raw.get("enters")
    for key in ("verifies", "leaves", "hands", "to", "enters", "exits"):
        raw.pop(key, None)
    if into and raw.get("restraint") == into:
        raw.pop("restraint")


def _task(key: str) -> str:
    return key.split("/")[0]


def _sound(plain: Content, judgement: Judgement) -> bool:
    """Whether nothing fails; equipment that is left as the sortie found it is no fault of a case."""
    found = {name: str(one["starts"]) for name, one in plain["equipment"].items()}
    copy = deepcopy(judgement)
    copy.bad_item_ends = {item for item in copy.bad_item_ends if copy.finals[item] != {found[item[0]]}}
    return copy.sound
