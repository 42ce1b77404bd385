"""Slips that an author makes: a link, a pick, a leave, a look dropped, a place, a state, an order changed."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator

from tests.proof.acting import STATES, Content, Raw

Harm = Callable[[random.Random, Content, Raw], bool]


def _steps(content: Content) -> Iterator[Raw]:
    for task in content["tasks"].values():
        yield from task["steps"]


def damage(rng: random.Random, content: Content) -> None:
    """One change of the kind that a slip makes; may leave the plan sound all the same."""
    for _ in range(20):
        step = rng.choice(list(_steps(content)))
        harm = rng.choice(_HARMS)
        if harm(rng, content, step):
            return


def _drop_from(key: str) -> Harm:
    def drop(rng: random.Random, content: Content, step: Raw) -> bool:
        entries = step.get(key)
        if not entries:
            return False
        if isinstance(entries, dict):
            del entries[rng.choice(list(entries))]
        else:
            entries.remove(rng.choice(entries))
        if not entries:
            del step[key]
        return True

    return drop


def _without_links(rng: random.Random, content: Content, step: Raw) -> bool:
    return step.pop("after", None) is not None


def _no_links_at_all(rng: random.Random, content: Content, step: Raw) -> bool:
    dropped = [one.pop("after", None) for one in _steps(content)]
    return any(dropped)


def _move_step(rng: random.Random, content: Content, step: Raw) -> bool:
    if "at" in step:
        step["at"] = rng.choice(["lock", "bay", "rack"])
    return "at" in step


def _other_state(rng: random.Random, content: Content, step: Raw) -> bool:
    key = rng.choice(["requires", "sets", "verifies"])
    for name, state in step.get(key, {}).items():
        step[key][name] = next(one for one in STATES[name] if one != state)
        return True
    return False


def _other_goal(rng: random.Random, content: Content, step: Raw) -> bool:
    for thing in step.get("leaves", {}):
        step["leaves"][thing] = rng.choice(["lock", "bay", "rack", *(bag for bag in content["bags"] if bag != thing)])
        return True
    return False


def _other_hand(rng: random.Random, content: Content, step: Raw) -> bool:
    for thing in step.get("hands", {}):
        step["hands"][thing] = rng.choice(list(content["people"]))
        return True
    return False


def _swap(rng: random.Random, content: Content, step: Raw) -> bool:
    """Two neighbours in somebody's flow, or in a task."""
    sortie = rng.choice(list(content["sorties"].values()))
    rows = [row for row in (*sortie["flow"].values(),) if len(row) > 1]
    if not rows:
        return False
    row = rng.choice(rows)
    at = rng.randrange(len(row) - 1)
    row[at], row[at + 1] = row[at + 1], row[at]
    return True


def _one_more_link(rng: random.Random, content: Content, step: Raw) -> bool:
    """An `after` that may close a circle."""
    sortie = rng.choice(list(content["sorties"].values()))
    own = {entry.split("/")[0] for row in sortie["flow"].values() for entry in row}
    task = rng.choice(sorted(own))
    steps = content["tasks"][task]["steps"]
    number = rng.randint(1, len(steps))
    if steps[number - 1] is step or not any(step in content["tasks"][one]["steps"] for one in own):
        return False
    step.setdefault("after", []).append(f"{task}/{number}")
    return True


def _optional(rng: random.Random, content: Content, step: Raw) -> bool:
    rng.choice(list(content["tasks"].values()))["priority"] = "time-permitting"
    return True


def _fewer(rng: random.Random, content: Content, step: Raw) -> bool:
    clips = content["tools"]["clips"]
    clips["count"] = str(max(2, int(clips["count"]) - 2))
    return any("spends" in one for one in _steps(content))


def _spend_more(rng: random.Random, content: Content, step: Raw) -> bool:
    if "spends" in step:
        step["spends"]["clips"] = str(int(step["spends"]["clips"]) + 2)
    return "spends" in step


def _less_room(rng: random.Random, content: Content, step: Raw) -> bool:
    content["places"][rng.choice(["lock", "bay", "rack"])]["room"] = "1"
    return True


def _stowed_elsewhere(rng: random.Random, content: Content, step: Raw) -> bool:
    content["tools"][rng.choice(list(content["tools"]))]["stowed"] = rng.choice(["lock", "bay", "bag", "box"])
    return True


def _no_ends(rng: random.Random, content: Content, step: Raw) -> bool:
    kind = rng.choice(["tools", "bags", "equipment"])
    return content[kind][rng.choice(list(content[kind]))].pop("ends", None) is not None


def _carries(rng: random.Random, content: Content, step: Raw) -> bool:
    """What a sortie leaves over on purpose."""
    sortie = rng.choice(list(content["sorties"].values()))
    for name, state in step.get("sets", {}).items():
        sortie.setdefault("carries_over", {})[name] = state
        return True
    return False


_HARMS = [
    _without_links, _without_links, _without_links, _no_links_at_all, _no_links_at_all,
    *(_drop_from(key) for key in ("after", "after", "picks", "leaves", "hands", "verifies", "sets")),
    _move_step, _other_state, _other_goal, _other_hand, _swap, _swap, _one_more_link, _optional, _fewer, _spend_more,
    _less_room, _stowed_elsewhere, _no_ends, _carries,
]  # fmt: skip
