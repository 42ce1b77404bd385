"""Things of random plans that are fitted somewhere while an equipment is in a state: rightly loosened, or not."""

from __future__ import annotations

import random

from tests.proof.acting import STATES, Content


def fit(rng: random.Random, content: Content) -> None:
    """In one plan of eight, a thing is fitted; mostly in a state that the equipment comes to only later."""
    if rng.random() > 0.13:
        return
    thing, equipment = rng.choice(["driver", "socket"]), rng.choice(["feed", "cover"])
    content["tools"][thing]["fitted_as"] = {equipment: rng.choice(STATES[equipment])}
    steps = [step for task in content["tasks"].values() for step in task["steps"]]
    takers = [step for step in steps if thing in step.get("picks", [])]
    if takers and rng.random() < 0.5:
        rng.choice(takers).setdefault("sets", {})[equipment] = rng.choice(STATES[equipment])
