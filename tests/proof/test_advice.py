"""Whatever is advised, applied as it is advised, gives no new error: sets of tasks to leave out, on random sound plans.

The errors are those of the rules, on the content as somebody would write it who follows the advice.
"""

from __future__ import annotations

import copy
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml

from briefgen.build import Examination, examine
from briefgen.findings import Level
from briefgen.proof.evidence import SortieEvidence
from tests.proof.plans import random_content
from tests.rules.test_examples import lay_out

SHARES, SHARE = 8, 180
Content = dict[str, Any]


def examined(folder: Path, content: Content) -> Examination:
    folder.mkdir(parents=True)
    for kind, records in content.items():
        text = yaml.safe_dump({kind: records}, allow_unicode=True, sort_keys=False)
        (folder / f"{kind}.yaml").write_text(text, encoding="utf-8")
    return examine(folder)


def errors(examination: Examination) -> list[str]:
    return [f"{one.rule}: {one.sentence}" for one in examination.findings if one.level is Level.ERROR]


def without(content: Content, sortie: str, tasks: frozenset[str]) -> Content:
    """The content up to a sortie, these tasks out of its flows, and what waits for their steps waits no more."""
    changed = copy.deepcopy(content)
    (programme,) = changed["programme"].values()
    names = programme["sorties"] if isinstance(programme["sorties"], list) else [programme["sorties"]]
    programme["sorties"] = names[: names.index(sortie) + 1]
    changed["sorties"] = {name: changed["sorties"][name] for name in programme["sorties"]}
    flow = changed["sorties"][sortie]["flow"]
    for person, entries in list(flow.items()):
        kept = [entry for entry in (entries if isinstance(entries, list) else [entries])
                if str(entry).partition("/")[0] not in tasks]  # fmt: skip
        if kept:
            flow[person] = kept
        else:
            del flow[person]
    for task in changed["tasks"].values():
        for step in task["steps"]:
            links = step.get("after", [])
            links = [
                one for one in (links if isinstance(links, list) else [links]) if one.partition("/")[0] not in tasks
            ]
            step.pop("after", None)
            if links:
                step["after"] = links
    return changed


def advised(proved: SortieEvidence) -> Iterator[frozenset[str]]:
    """Every set of tasks that is to be left out when late, and every one behind a latest beginning."""
    dropped = frozenset[str]()
    for drop in proved.dropping.drops:
        dropped |= {drop.task, *drop.takes_along}
        yield dropped
    yield from (one.left_out for one in proved.latest if one.left_out)


@pytest.mark.parametrize("share", range(SHARES))
def test_what_is_to_be_left_out_leaves_no_error(share: int, tmp_path: Path) -> None:
    applied = 0
    for seed in range(share * SHARE, (share + 1) * SHARE):
        content, rng = random_content(seed), random.Random(seed)
        for task in content["tasks"].values():
            if "serves" not in task:
                task["priority"] = rng.choice(["required", "time-permitting", "time-permitting"])
        examination = examined(tmp_path / str(seed) / "whole", content)
        if errors(examination) or not examination.proved:
            continue
        for name, proved in examination.evidence.sorties.items():
            for number, tasks in enumerate(dict.fromkeys(advised(proved))):
                if tasks >= proved.tasks:
                    continue  # nobody goes out at all
                changed = without(content, name, tasks)
                after = examined(tmp_path / str(seed) / f"{name}-{number}", changed)
                # Whoever has nothing left to do has no flow; that the rest of the content says so is not the plan's.
                found = [one for one in errors(after) if not one.startswith(("not-in-flow", "carried-"))]
                assert found == [], f"plan {seed}, {name} without {sorted(tasks)}"
                applied += 1
    assert applied > 2


# Each of b and c brings the cover back to what a changed; either may be missing, but not both.
TWO_RESTORE = """
tasks:
  a: {title: A, purpose: P., place: k2, priority: time-permitting, steps: [
    {who: ev1, do: Open the cover., takes: 1 min, sets: {cover: open}}]}
  b: {title: B, purpose: P., place: k2, priority: time-permitting, steps: [
    {who: ev1, do: Shut the cover., takes: 20 min, sets: {cover: shut}}]}
  c: {title: C, purpose: P., place: k2, priority: time-permitting, steps: [
    {who: ev1, do: Shut the cover., takes: 15 min, sets: {cover: shut}}]}
  in: {title: In, purpose: P., place: lock, steps: [{who: ev1, do: Go in., takes: 1 min}]}
sorties: {s: {title: S, flow: {ev1: [a, b, c, in]}, limits: {length: 2 h}}}
"""


def test_two_that_stand_in_for_each_other_are_not_both_left_out(tmp_path: Path) -> None:
    lay_out(tmp_path, TWO_RESTORE, override=True)
    examination = examine(tmp_path)
    assert errors(examination) == []
    proved = examination.evidence.sorties["s"]
    sets = list(advised(proved))
    assert sets
    assert frozenset({"b", "c"}) not in sets
    # What gives back most goes first, then what can go with it: after b, only a.
    assert [drop.task for drop in proved.dropping.drops] == ["b", "a", "c"]
