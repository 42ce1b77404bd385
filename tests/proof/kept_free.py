"""Steps of random plans that keep a place or route free; some of them are ordered so that nobody comes there."""

from __future__ import annotations

import random

from tests.proof.acting import Content

SPOTS = ["lock", "bay", "rack", "r1", "r2"]


def keep_out(rng: random.Random, content: Content) -> None:
    """In one plan of four, one or two steps that keep free where somebody else goes."""
    if rng.random() > 0.25:
        return
    steps = [step for task in content["tasks"].values() for step in task["steps"]]
    for step in rng.sample(steps, min(len(steps), rng.choice([1, 1, 2]))):
        step["keeps_out"] = rng.sample(SPOTS, rng.choice([1, 1, 2]))
