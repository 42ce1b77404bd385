"""In which stages rules are asked, and which of their findings keep a plan from being proved."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Finding
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Rule, all_rules


def rules_at(stage: Needs) -> Iterator[Rule]:
    """The rules that are asked at a stage."""
    return (rule for rule in all_rules().values() if rule.needs is stage)


def spoils(finding: Finding) -> bool:
    """Whether nothing can be proved while this is found."""
    rule = all_rules().get(finding.rule)
    return rule is None or rule.spoils


def fixed(finding: Finding) -> bool:
    """Whether it stays an error, whatever is accepted or said of its level."""
    rule = all_rules().get(finding.rule)
    return rule is None or rule.fixed


def spoilt(evidence: Evidence) -> Finding | None:
    """The first finding because of which nothing can be proved of a library; None where all can be."""
    for stage in Needs:
        for rule in rules_at(stage):
            found = next(iter(rule.findings(evidence)), None) if rule.spoils else None
            if found:
                return found
    return None
