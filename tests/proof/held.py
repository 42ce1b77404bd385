"""Steps of random plans in a foot plate that takes time: rightly got into and out of, or not."""

from __future__ import annotations

import random

from tests.proof.acting import Content

PLATE = {"foot plate": {"enter": "1 min", "leave": "1 min"}, "hand rail": {}}


def hold(rng: random.Random, content: Content) -> None:
    """In one plan of six, some steps of people outside say what holds them, at a place or two with a foot plate."""
    if rng.random() > 0.17:
        return
    for place in rng.sample(["lock", "bay", "rack"], rng.choice([1, 2, 3])):
        content["places"][place]["restraint"] = PLATE
    for task in content["tasks"].values():
        for step in task["steps"]:
            if "at" in step and "restraint" in content["places"][step["at"]]:
                step.update(rng.choice([{}, {"restraint": "hand rail"}, *_WAYS]))


_WAYS = [{"enters": "foot plate"}, {"exits": "foot plate"}, {"restraint": "foot plate"}]
