"""The one soundness: whatever a rule that looks at the plan calls an error, it knows."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from briefgen.build import Examination
from briefgen.findings import Level
from briefgen.proof.deciding.faults import FAULTS
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.soundness import Fault, FaultKind, all_faults
from briefgen.rules.registry import Needs, Rule, all_rules
from tests.rules.laid_over import examined
from tests.rules.test_acceptances import examined as random_plan


def test_a_page_has_words_for_every_kind_of_fault() -> None:
    assert set(FAULTS) == set(FaultKind)


ERRORS = [one for one in all_rules().values() if one.level is Level.ERROR and one.needs is Needs.ORDER]
# Said of the record, which does not say when it is dark: no fault of the plan.
OF_THE_RECORDS = {"light-unknown"}


def faults(proved: SortieEvidence) -> Iterator[Fault]:
    """What does not hold of a sortie, as planned and in every variant."""
    yield from proved.faults
    for variant in proved.variants:
        if variant.left_out:
            timeline = proved.timeline_without(variant.left_out)
            yield from all_faults(proved, timeline.plan, timeline)


def wrong(examination: Examination, rule: Rule) -> bool:
    return any(finding.rule == rule.name for finding in examination.findings)


@pytest.mark.parametrize("rule", ERRORS, ids=lambda rule: rule.name)
def test_what_a_rule_calls_an_error_is_a_fault(rule: Rule, tmp_path: Path) -> None:
    bad, good = examined(tmp_path / "wrong", rule.wrong), examined(tmp_path / "right", rule.right)
    assert wrong(bad, rule)
    assert not wrong(good, rule)
    known, usual = (
        {one for proved in found.evidence.sorties.values() for one in faults(proved)} for found in (bad, good)
    )
    assert bool(known - usual) == (rule.name not in OF_THE_RECORDS), known


@pytest.mark.parametrize("share", range(4))
def test_a_random_plan_with_an_error_has_a_fault(share: int, tmp_path: Path) -> None:
    names = {one.name for one in ERRORS} - OF_THE_RECORDS
    met = 0
    for seed in range(share * 60, (share + 1) * 60):
        examination = random_plan(tmp_path / str(seed), seed)
        if examination is None:
            continue
        bad = {one.rule for one in examination.findings if one.level is Level.ERROR and one.rule in names}
        met += bool(bad)
        assert not bad or any(any(faults(proved)) for proved in examination.evidence.sorties.values()), (seed, bad)
    assert met > 10
