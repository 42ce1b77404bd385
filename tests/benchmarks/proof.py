"""How long the proof takes on generated libraries, part by part: `python -m tests.benchmarks.proof` prints the table.

The smallest library has 10 sorties of 15 tasks of 12 steps (1,800 steps); the larger ones have ten times as many steps,
once as more sorties, once as longer ones. Three tasks of every sortie are optional, so everything is proved five times
over. Each is made in memory: reading files is another matter.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from time import process_time
from typing import Any

from briefgen.collecting import in_one_go
from briefgen.model.library import Library
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.rules.registry import Needs, all_rules
from tests.proof.plans import library_of

Raw = dict[str, Any]
OPTIONAL = 3
SIZES = {"10 sorties × 15 tasks": (10, 15), "100 sorties × 15 tasks": (100, 15), "10 sorties × 150 tasks": (10, 150)}
STEPS = 12


def library(sorties: int, tasks: int) -> Library:
    """The content as read."""
    return library_of(content(sorties, tasks))


def content(sorties: int, tasks: int) -> dict[str, Raw]:
    """Sound content: two people outside, one inside, one on the ground; bags, controls, items, consumables."""
    made: dict[str, Raw] = {
        "programme": {"p": {
            "title": "P", "sorties": [f"s{n}" for n in range(sorties)],
            "paces": {"outside": "9 m/min", "loaded": "5 m/min"},
            "effort": {"rest": "115 W", "light": "205 W", "moderate": "300 W", "hard": "430 W"},
        }},
        "people": {
            "ev1": {"label": "EV1", "post": "outside", "suit": "suit"},
            "ev2": {"label": "EV2", "post": "outside", "suit": "suit"},
            "iv": {"label": "IV", "post": "inside"},
            "ground": {"label": "GND", "post": "ground"},
        },
        "suits": {"suit": {"supplies": {"oxygen": {"holds": "90 kg", "keeps": "0.1 kg", "per_megajoule": "0.07 kg"}}}},
        "places": {"lock": {"home": "true", "anchor": "true"}, **{f"p{n}": {"room": "2"} for n in range(15)}},
        "routes": {
            f"r{n}": {"between": [one, other], "length": "1.5 m"}
            for n, (one, other) in enumerate(pairwise(["lock", *(f"p{n}" for n in range(15))]))
        },
        "tools": {}, "bags": {}, "equipment": {}, "tasks": {}, "sorties": {},
        "hazards": {"shock": {"signal": "danger", "hazard": "Live.", "consequence": "Burns.", "avoid": "Wait."}},
    }  # fmt: skip
    for number in range(tasks):
        made["tools"][f"tool-{number}"] = {"stowed": f"bag-{number}"}
        made["tools"][f"clips-{number}"] = {"stowed": f"bag-{number}", "count": str(4 * sorties)}
        made["bags"][f"bag-{number}"] = {"stowed": "lock"}
        made["equipment"] |= {
            f"feed-{number}": {"states": ["on", "off"], "starts": "on", "control": "true"},
            f"cover-{number}": {"states": ["shut", "open"], "starts": "shut"},
            f"plates-{number}": {
                "states": ["out", "in"],
                "starts": "out",
                "ends": "any",
                "parts": {"row": ["1", "2", "3"]},
            },
        }
    for sortie in range(sorties):
        names = [f"s{sortie}-t{number}" for number in range(tasks)]
        for number, name in enumerate(names):
            priority = "time-permitting" if number >= tasks - OPTIONAL else "required"
            made["tasks"][name] = _task(name, number, priority)
        made["sorties"][f"s{sortie}"] = {
            "title": f"S{sortie}",
            "flow": {"ev1": names[0::2], "ev2": names[1::2], "iv": names, "ground": names},
            "limits": {"length": f"{tasks} h", "return_within": "30 min", "tether": "26 m"},
            "orbit": {"altitude": "410 km", "beta": "28°", "first_sunset": "76 min"},
        }
    return made


def _task(name: str, number: int, priority: str) -> Raw:
    ev, bag, tool = f"ev{1 + number % 2}", f"bag-{number}", f"tool-{number}"
    feed, cover, plates, clips = f"feed-{number}", f"cover-{number}", f"plates-{number}", f"clips-{number}"
    steps: list[Raw] = [
        {"who": ev, "at": "lock", "picks": [bag]},
        {"who": ev, "leaves": {bag: f"p{number % 15}"}},
        {"who": ev, "picks": [tool]},
        {"who": "ground", "sets": {feed: "off"}, "after": [f"{name}/2"]},
        {"who": "iv", "verifies": {feed: "off"}, "after": [f"{name}/4"]},
        {"who": ev, "requires": {feed: "off"}, "with": [tool], "sets": {cover: "open"}, "after": [f"{name}/5"]},
        {"who": ev, "requires": {feed: "off", cover: "open"}, "each": plates, "spends": {clips: "1"}, "effort": "hard"},
        {"who": ev, "sets": {cover: "shut"}},
        {"who": ev, "leaves": {tool: bag}},
        {"who": "ground", "sets": {feed: "on"}, "after": [f"{name}/8"]},
        {"who": ev, "picks": [bag]},
        {"who": ev, "at": "lock", "leaves": {bag: "lock"}},
    ]
    return {
        "title": name, "purpose": "A benchmark.", "place": f"p{number % 15}", "priority": priority,
        "steps": [{"do": "Work on it.", "takes": "2/3/5 min", **step} for step in steps],
    }  # fmt: skip


# Measuring ------------------------------------------------------------------------------------------------------

Part = Callable[[SortieEvidence], object]
PARTS: Mapping[str, Part] = {
    "plan": lambda proved: proved.plan,
    "order": lambda proved: proved.plan.order,
    "timeline": lambda proved: proved.timeline,
    "states": lambda proved: proved.states,
    "custody": lambda proved: proved.custody,
    "variants": lambda proved: proved.variants,
    "travel": lambda proved: (proved.travel, proved.travels),
    "whereabouts": lambda proved: (proved.whereabouts, proved.time_home),
    "supplies": lambda proved: proved.supplies,
    "light": lambda proved: proved.light,
}


@dataclass(frozen=True)
class Measured:
    """The processor seconds of every part for one library, and how many findings its rules gave."""

    steps: int
    seconds: Mapping[str, float]
    findings: int

    @property
    def total(self) -> float:
        return sum(self.seconds.values())


def measure(sorties: int, tasks: int) -> Measured:
    """The proof of one library, each part once, in the order in which they build on one another; as in `examine`."""
    with in_one_go():
        return _measured(sorties, tasks)


def _measured(sorties: int, tasks: int) -> Measured:
    evidence = Evidence(library(sorties, tasks))
    seconds = {}
    for name, part in PARTS.items():
        begin = process_time()
        for proved in evidence.sorties.values():
            part(proved)
        seconds[name] = process_time() - begin
    begin = process_time()
    asked = [rule for rule in all_rules().values() if rule.needs is Needs.ORDER]
    findings = sum(1 for rule in asked for _ in rule.findings(evidence))
    seconds["rules"] = process_time() - begin
    steps = sum(len(proved.plan.steps) for proved in evidence.sorties.values())
    return Measured(steps, seconds, findings)


def growth(small: Measured, large: Measured) -> float:
    """How many times n log n the large library took, measured by the small one: 1 is exactly n log n."""
    expected = large.steps * math.log(large.steps) / (small.steps * math.log(small.steps))
    return large.total / small.total / expected


def table() -> str:
    """The measured times as a table in Markdown."""
    all_rules()
    measured = {words: measure(*size) for words, size in SIZES.items()}
    small = next(iter(measured.values()))
    rows = [f"| seconds | {' | '.join(f'{words} ({one.steps:,} steps)' for words, one in measured.items())} |"]
    rows.append("|---|" + "---:|" * len(measured))
    rows += [
        f"| {part} | {' | '.join(f'{one.seconds[part]:.2f}' for one in measured.values())} |" for part in small.seconds
    ]
    rows.append(f"| all | {' | '.join(f'{one.total:.2f}' for one in measured.values())} |")
    rows.append(f"| times n log n | {' | '.join(f'{growth(small, one):.2f}' for one in measured.values())} |")
    return "\n".join(rows)


if __name__ == "__main__":
    print(table())
