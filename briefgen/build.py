"""The whole way from a content folder to what was found and proved, in one place."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from briefgen.findings import Finding, Level, in_order
from briefgen.language.nearest import few_guesses
from briefgen.model.base import Acceptance, Record
from briefgen.model.library import Library
from briefgen.proof.evidence import Evidence
from briefgen.reading.folder import Reading, read_folder
from briefgen.reading.pictures import picture_findings
from briefgen.rules.acceptances import unneeded
from briefgen.rules.registry import Needs, Rule, all_rules
from briefgen.source import Position
from briefgen.told_once import told_once


@dataclass(frozen=True)
class Accepted:
    """A finding that the author accepts, and why."""

    finding: Finding
    because: str
    record: tuple[str, str]


@dataclass(frozen=True)
class Examination:
    """A content folder, read and proved. `proved` says whether the plan could be examined at all."""

    reading: Reading
    evidence: Evidence
    findings: tuple[Finding, ...]
    accepted: tuple[Accepted, ...]
    proved: bool

    @property
    def library(self) -> Library:
        """The content as planned."""
        return self.evidence.library


def examine(root: Path, levels: Mapping[str, Level | None] | None = None) -> Examination:
    """Reads and proves a content folder.

    `levels` changes the level of rules by name (None: not reported). What keeps the plan from being proved, or a file
    from being published, stays an error, whatever is accepted or said of its level. Raises NoContent where there is no
    folder or nothing in it.
    """
    with few_guesses():
        return _examine(root, levels)


def _examine(root: Path, levels: Mapping[str, Level | None] | None) -> Examination:
    reading = read_folder(root)
    evidence = Evidence(reading.library, reading.broken, reading.sources)
    found = [*reading.findings, *evidence.expansion.findings, *picture_findings(root, reading.library)]
    for stage in Needs:
        # One mistake must not set off a cascade: nor a file that could not be read, one at every name in it.
        if not reading.lost and (stage is Needs.RECORDS or not any(map(_spoils, found))):
            found += [finding for rule in _rules_at(stage) for finding in rule.findings(evidence)]
    found = told_once(found, evidence.library)
    findings, accepted = _accept(in_order(_relevel(found, levels or {})), reading.library)
    proved = not reading.lost and not any(map(_spoils, found))
    if proved:
        needed = {(*one.record, one.finding.rule) for one in accepted}
        silent = {name for name, level in (levels or {}).items() if level is None}
        findings = in_order([*findings, *_relevel(unneeded(reading.library, needed, silent), levels or {})])
    return Examination(reading, evidence, findings, accepted, proved=not any(map(_spoils, found)))


def spoilt(evidence: Evidence) -> Finding | None:
    """The first finding because of which nothing can be proved of a library; None where all can be."""
    for stage in Needs:
        for rule in _rules_at(stage):
            found = next(iter(rule.findings(evidence)), None) if rule.spoils else None
            if found:
                return found
    return None


def _rules_at(stage: Needs) -> Iterator[Rule]:
    return (rule for rule in all_rules().values() if rule.needs is stage)


def _spoils(finding: Finding) -> bool:
    """Whether nothing can be proved while this is found."""
    rule = all_rules().get(finding.rule)
    return rule is None or rule.spoils


def _fixed(finding: Finding) -> bool:
    """Whether it stays an error, whatever is accepted or said of its level."""
    rule = all_rules().get(finding.rule)
    return rule is None or rule.fixed


def _relevel(findings: Iterable[Finding], levels: Mapping[str, Level | None]) -> Iterator[Finding]:
    for finding in findings:
        level = finding.level if _fixed(finding) else levels.get(finding.rule, finding.level)
        if level is not None:
            yield replace(finding, level=level)


def _accept(findings: Iterable[Finding], library: Library) -> tuple[tuple[Finding, ...], tuple[Accepted, ...]]:
    """Sets aside the findings that the record in which they stand accepts."""
    owners = sorted(((record.id.position, kind, record) for kind, record in library.every()), key=lambda one: one[0])
    open_findings: list[Finding] = []
    accepted: list[Accepted] = []
    for finding in findings:
        owner = _owner(finding, owners)
        acceptance = _acceptance(finding, owner[1]) if owner and not _fixed(finding) else None
        if owner and acceptance:
            accepted.append(Accepted(finding, str(acceptance.because), (owner[0], str(owner[1].id))))
        else:
            open_findings.append(finding)
    return tuple(open_findings), tuple(accepted)


def _owner(finding: Finding, owners: list[tuple[Position, str, Record]]) -> tuple[str, Record] | None:
    """The record in which a finding stands: the last that begins at or before it in the same file."""
    at = bisect_right(owners, finding.position, key=lambda one: one[0]) - 1
    return owners[at][1:] if at >= 0 and owners[at][0].file == finding.position.file else None


def _acceptance(finding: Finding, record: Record) -> Acceptance | None:
    return next((one for one in record.accepts if one.finding == finding.rule), None)
