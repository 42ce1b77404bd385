"""What is accepted or switched off hides nothing else: every failure is told in the task in which it is, by its rule.

An acceptance covers the findings of one rule in one record. So each need that fails, in whichever variant and way, must
be told by the rule for that way, in the task of the step that has the need: then no other rule's and no other task's
acceptance can hide it. The plans are the random broken ones of the tests of the proof.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
import yaml

from briefgen.build import Examination, examine
from briefgen.findings import Finding
from briefgen.proof.evidence import Variant
from briefgen.proof.holding.custody import Act
from tests.proof.plans import random_content

SHARES, SHARE = 8, 60
_ACTS = {Act.LEAVES: "not-held", Act.HANDS: "not-held", Act.INTO: "bag-not-there"}


def failures(variant: Variant) -> Iterator[tuple[str, str, str]]:
    """Each failing need of a variant: the rule for it, the task of its step, and the need."""
    steps = variant.plan.steps
    for met in variant.states.met:
        step, need = steps[met.need.step], f"{met.need.item} {met.need.state}"
        for rule, fails in (
            ("state-by-luck", not met.answer.certain),
            ("state-not-there", met.wrong),
            ("control-not-confirmed", met.unconfirmed),
        ):
            if fails:
                yield rule, str(step.task.id), f"{step.key} {need}"
    for handled in variant.custody.handled:
        step, act = steps[handled.handling.step], handled.handling.act
        if not handled.certain:
            yield "custody-by-luck", str(step.task.id), f"{step.key} {handled.handling.thing}"
        elif not handled.reachable and act in _ACTS:
            yield _ACTS[act], str(step.task.id), f"{step.key} {handled.handling.thing}"


def task_at(examination: Examination, finding: Finding) -> str:
    """The task in which a finding stands: the last that begins at or before it."""
    tasks = sorted(examination.library.tasks.values(), key=lambda task: task.id.position)
    before = [task for task in tasks if task.id.position <= finding.position]
    return str(before[-1].id) if before else ""


def examined(folder: Path, seed: int) -> Examination | None:
    folder.mkdir()
    content = random_content(seed)
    for kind, records in content.items():
        text = yaml.safe_dump({kind: records}, allow_unicode=True, sort_keys=False)
        (folder / f"{kind}.yaml").write_text(text, encoding="utf-8")
    examination = examine(folder)
    return examination if examination.proved else None


@pytest.mark.parametrize("share", range(SHARES))
def test_every_failure_is_told_by_its_own_rule_in_its_own_task(share: int, tmp_path: Path) -> None:
    told_of = 0
    for seed in range(share * SHARE, (share + 1) * SHARE):
        examination = examined(tmp_path / str(seed), seed)
        if examination is None:
            continue
        told = {
            (one.rule, task_at(examination, one)) for one in examination.findings if one.position.file == "tasks.yaml"
        }
        for proved in examination.evidence.sorties.values():
            for variant in proved.variants:
                for rule, task, need in failures(variant):
                    told_of += 1
                    assert (rule, task) in told, f"plan {seed}: {rule} of {need} without {sorted(variant.left_out)}"
    assert told_of > 10


@pytest.mark.parametrize("share", range(2))
def test_what_is_switched_off_takes_only_its_own_findings_away(share: int, tmp_path: Path) -> None:
    tried = 0
    for seed in range(share * 10, (share + 1) * 10):
        examination = examined(tmp_path / str(seed), seed)
        for rule in {one.rule for one in examination.findings} if examination else ():
            assert examination is not None
            without = examine(examination.reading.root, {rule: None})
            kept = [one for one in examination.findings if one.rule != rule]
            assert [replace(one) for one in without.findings if one.rule != rule] == kept
            tried += 1
    assert tried > 5
