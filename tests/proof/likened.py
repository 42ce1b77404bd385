"""Tasks of random plans that become like another: the same with ids exchanged, so that the plan stays as it is."""

from __future__ import annotations

import random
from collections.abc import Iterator
from typing import Any

from tests.proof.acting import Content
from tests.proof.filled_in import exchanged


def liken(rng: random.Random, content: Content) -> None:
    """A task becomes like another, which nobody flies: the same with ids exchanged, and now and then like a third."""
    name = rng.choice([*content["tasks"]])
    outside = [who for who in content["people"] if content["people"][who]["post"] == "outside"]
    for number in range(rng.choice([1, 1, 2])):
        other = f"like-{number}"
        swaps = [
            ("bay", "rack"),
            ("driver", "socket"),
            ("bag", "pouch"),
            *([tuple(outside[:2])] if outside[1:] else []),
        ]
        chosen = rng.sample(swaps, rng.randint(0, len(swaps)))
        task = content["tasks"][name]
        used = set(_words(task))
        instead = {one: two for pair in chosen for one, two in (pair, pair[::-1])}
        there = exchanged(task, {**instead, name: other})
        # Only what is named there can be exchanged back.
        kept = {one: two for one, two in instead.items() if two in used}
        own = {key: task[key] for key in ("priority", "serves", "not_before") if key in task and rng.random() < 0.5}
        content["tasks"][other] = there
        content["tasks"][name] = {"like": other, **({"instead": kept} if kept else {}), **own}
        name = other


def _words(value: Any) -> Iterator[str]:
    if isinstance(value, dict):
        for key, one in value.items():
            yield from (key, *_words(one))
    elif isinstance(value, list):
        for one in value:
            yield from _words(one)
    else:
        yield value.partition("/")[0]
