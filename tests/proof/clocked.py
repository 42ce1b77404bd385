"""Steps of random plans that wait for the clock or the sun, and, written once more for the judges, when each may begin.

All moments are whole minutes. The listed light ends before the sortie's limit, so that some steps wait for a sun that
never comes.
"""

from __future__ import annotations

import random
from collections.abc import Mapping
from typing import Any

from tests.proof.acting import Content

LIMIT = 8 * 60


def set_clocks(rng: random.Random, content: Content) -> None:
    """In one plan of four, one or two steps have a gate in time, and now and then a whole task."""
    if rng.random() > 0.25:
        return
    steps = [step for task in content["tasks"].values() for step in task["steps"]]
    for step in rng.sample(steps, min(len(steps), rng.choice([1, 2]))):
        step["not_before"] = rng.choice(["sunrise", "sunset", f"{rng.randint(1, 90)} min"])
    if rng.random() < 0.3:
        task = rng.choice(list(content["tasks"].values()))
        task["not_before"] = f"{rng.randint(1, 60)} min"
    for sortie in content["sorties"].values():
        edges = sorted(rng.sample(range(LIMIT // 2), 2 * rng.randint(2, 8)))
        sortie["light"] = [[f"{dawn} min", f"{dusk} min"] for dawn, dusk in zip(edges[::2], edges[1::2], strict=True)]


def moments(content: Content, sortie: Mapping[str, Any], key: str) -> tuple[int, list[int] | None]:
    """From when on the step may begin, in seconds, and the moments at which its gate opens, if it waits for the sun."""
    task, name = key.split("/")
    record = content["tasks"][task]
    raw = next(step for number, step in enumerate(record["steps"], start=1) if name in (str(number), step.get("id")))
    waits = [one for one in (raw.get("not_before"), record.get("not_before")) if one]
    least = max([60 * int(one.split()[0]) for one in waits if one.endswith("min")], default=0)
    suns = [one for one in waits if not one.endswith("min")]
    side = 0 if suns == ["sunrise"] else 1
    return least, [60 * int(pair[side].split()[0]) for pair in sortie.get("light", [])] if suns else None


def begins(content: Content, sortie: Mapping[str, Any], key: str, ready: float) -> float:
    """When a step begins for which all else is ready."""
    least, openings = moments(content, sortie, key)
    ready = max(ready, least)
    if openings is None:
        return ready
    return min([one for one in openings if one >= ready - 1e-6], default=max(ready, 60 * LIMIT))
