"""Random small plans as content: two to four people, up to eight steps or so, everything a proof must see through.

A plan is first acted out (acting.py), so that it is mostly sound; about half of the plans are then damaged (damage.py).
The same seed gives the same plan.
"""

from __future__ import annotations

import random
from typing import Any

from briefgen.model.fields.values import RawList, RawMap
from briefgen.model.library import KINDS, Library
from briefgen.source import Position, Text
from tests.proof.acting import MOST_STEPS, Act, Content, Scene
from tests.proof.carried import limit
from tests.proof.clocked import set_clocks
from tests.proof.damage import damage
from tests.proof.fitted import fit
from tests.proof.held import hold
from tests.proof.kept_free import keep_out
from tests.proof.served import serve
from tests.proof.taken_back import take_back
from tests.proof.told_once import tell_once


def random_content(seed: int, places: bool = False, backs: bool = False, once: bool = False) -> Content:
    """The content with this number; with `places`, some of its steps keep places free or are done in a foot plate.

    With `backs` many of its steps have written ways back; with `once` what holds for several is said once.
    """
    rng = random.Random(seed)
    scene = Scene(rng)
    for name in ["s", "t"][: 1 + (rng.random() < 0.2)]:
        Act(scene, name, most=MOST_STEPS if name == "s" and rng.random() < 0.8 else 4).write()
    scene.content["programme"]["p"]["sorties"] = list(scene.content["sorties"])
    if places:
        need_before(random.Random(-seed - 6_000_000), scene.content)
        leave_behind(random.Random(-seed - 5_000_000), scene.content)
        endanger(random.Random(-seed - 4_000_000), scene.content)
        keep_out(random.Random(-seed - 1), scene.content)
        fit(random.Random(-seed - 2_000_000), scene.content)
        limit(random.Random(-seed - 3_000_000), scene.content)
        hold(random.Random(-seed - 1_000_000), scene.content)
    serve(random.Random(-seed - 8_000_000), scene.content)
    set_clocks(random.Random(-seed - 9_000_000), scene.content)
    if rng.random() < 0.52:
        for _ in range(rng.choice([1, 1, 2])):
            damage(rng, scene.content)
    if backs:
        take_back(random.Random(-seed - 7_000_000), scene.content)
    if once:
        tell_once(random.Random(-seed - 10_000_000), scene.content)
    return scene.content


def endanger(rng: random.Random, content: Content) -> None:
    """In half of the plans a hazard says which state of the feed is the safe one."""
    if rng.random() < 0.5:
        words = {"signal": "danger", "hazard": "It is live.", "consequence": "It burns.", "avoid": "Keep off."}
        content["hazards"] = {"shock": {**words, "controls": {"feed": rng.choice(["on", "off"])}}}


def leave_behind(rng: random.Random, content: Content) -> None:
    """In one plan of six, a sortie says how it in particular must leave an equipment."""
    if rng.random() < 0.17:
        name = rng.choice(["feed", "cover", "plates"])
        states = content["equipment"][name]["states"]
        content["sorties"]["s"]["ends"] = {name: rng.choice([states[0], states[1], [*states]])}


def need_before(rng: random.Random, content: Content) -> None:
    """Half of the prerequisites are asked of some steps alone."""
    for task in content["tasks"].values():
        names = [step.get("id", str(number)) for number, step in enumerate(task["steps"], start=1)]
        task["prerequisites"] = [
            one if rng.random() < 0.5 else {"task": one, "before": rng.sample(names, rng.randint(1, len(names)))}
            for one in task.get("prerequisites", [])
        ]


def library_of(content: Content) -> Library:
    """The same content as validated records; every value has a line of its own."""
    lines = _Lines()
    return Library(
        {
            kind: {
                name: KINDS[kind].model.model_validate(lines.put(raw)).known_as(Text(name, lines.next()))
                for name, raw in records.items()
            }
            for kind, records in content.items()
        }
    )


class _Lines:
    def __init__(self) -> None:
        self.number = 0

    def next(self) -> Position:
        self.number += 1
        return Position("plan.yaml", self.number, 1)

    def put(self, raw: Any) -> Any:
        """The raw value as read from a file."""
        if isinstance(raw, dict):
            made = RawMap({Text(key, self.next()): self.put(value) for key, value in raw.items()})
            made.position = self.next()
            return made
        if isinstance(raw, list):
            row = RawList(self.put(value) for value in raw)
            row.position = self.next()
            return row
        return Text(str(raw), self.next())
