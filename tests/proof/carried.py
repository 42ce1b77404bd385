"""People of random plans who can carry only so much, and things with a mass."""

from __future__ import annotations

import random

from tests.proof.acting import Content


def limit(rng: random.Random, content: Content) -> None:
    """In one plan of six, each person outside has a limit, of items or of mass, that some of their steps pass."""
    if rng.random() > 0.17:
        return
    for thing in (*content["tools"].values(), *content["bags"].values()):
        thing["mass"] = f"{rng.randint(1, 4)} kg"
    for person in content["people"].values():
        if person["post"] == "outside":
            limits = {"items": str(rng.randint(1, 3))}, {"mass": f"{rng.randint(3, 12)} kg"}
            person["carries"] = rng.choice([*limits, limits[0] | limits[1]])
