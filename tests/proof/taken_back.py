"""Written ways back for the random small plans: of many a step that changes something, mostly right, some useless."""

from __future__ import annotations

import random
from typing import Any

from tests.proof.acting import STATES, Content
from tests.proof.deeds import listed


def take_back(rng: random.Random, content: Content) -> None:
    """Writes ways back for two of three steps that set a state, or take or leave something."""
    for task in content["tasks"].values():
        undo = []
        for number, step in enumerate(task["steps"], start=1):
            back = _back(rng, content, step)
            if back and rng.random() < 0.67:
                undo.append({"of": step.get("id", str(number)), "steps": back})
        if undo:
            task["undo"] = undo


def _back(rng: random.Random, content: Content, step: dict[str, Any]) -> list[dict[str, Any]]:
    """What is done to take a step back, by whoever did it or by somebody else."""
    found: list[dict[str, Any]] = []
    left = [
        thing for thing, goal in step.get("leaves", {}).items() if goal not in content["bags"] or rng.random() < 0.5
    ]
    found += [{"picks": [thing]} for thing in left]
    for name, state in step.get("sets", {}).items():
        found.append({"sets": {name: next(one for one in STATES[name] if one != state)}})
        if rng.random() < 0.3:
            other = rng.choice([one for one in STATES if one != name])
            found[-1]["requires"] = {other: rng.choice(STATES[other])}
    put = [thing for thing in step.get("picks", []) if rng.random() < 0.8]
    found += [{"leaves": {thing: step.get("at", "lock")}} for thing in put]
    people = listed(step["who"])
    for raw in found:
        who = people if rng.random() < 0.8 else [rng.choice(list(content["sorties"]["s"]["flow"]))]
        if "sets" not in raw:
            who = [one for one in who if content["people"][one]["post"] == "outside"] or people
        raw |= {"who": who, "do": "Take it back.", "takes": f"{rng.randint(1, 5)} min"}
        if any(content["people"][one]["post"] == "outside" for one in who):
            raw["at"] = step.get("at", "bay")
    return found
