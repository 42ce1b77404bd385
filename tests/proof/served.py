"""Tasks of random plans that are done for others alone, and, written once more for the judge, what leaves with what."""

from __future__ import annotations

import random
from collections.abc import Iterable

from tests.proof.acting import Content
from tests.proof.deeds import listed


def serve(rng: random.Random, content: Content) -> None:
    """In one plan of three, one or two tasks serve others: most of them what may be left out, in no circle."""
    names = list(content["tasks"])
    if len(names) < 2 or rng.random() > 0.33:
        return
    for number in sorted(rng.sample(range(1, len(names)), min(len(names) - 1, rng.choice([1, 1, 2])))):
        task, others = content["tasks"][names[number]], names[:number]
        task["serves"] = rng.sample(others, rng.randint(1, min(2, len(others))))
        task.pop("priority", None)
        for name in task["serves"]:
            if "serves" not in content["tasks"][name] and rng.random() < 0.8:
                content["tasks"][name]["priority"] = rng.choice(["time-permitting", "get-ahead"])


def with_servants(content: Content, left_out: Iterable[str]) -> frozenset[str]:
    """The tasks left out, and again and again each flown one of whose flown masters none is left."""
    flown = {
        entry.split("/")[0]
        for sortie in content["sorties"].values()
        for row in sortie["flow"].values()
        for entry in listed(row)
    }
    gone = set(left_out)
    for _ in flown:
        for name in flown:
            masters = flown.intersection(listed(content["tasks"][name].get("serves")))
            if masters and not masters - gone:
                gone.add(name)
    return frozenset(gone)
