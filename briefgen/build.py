"""The whole way from a content folder to what was found and proved, in one place."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from briefgen.cache.results import NO_RESULTS, KeptResults
from briefgen.collecting import in_one_go
from briefgen.findings import Finding, Level, in_order
from briefgen.language.nearest import few_guesses
from briefgen.model.fields.base import Acceptance, Record
from briefgen.model.library import Library
from briefgen.proof.evidence import Evidence
from briefgen.reading.figures.pictures import picture_findings
from briefgen.reading.folder import Reading, read_folder
from briefgen.reading.prose.links import Made, link_findings
from briefgen.reading.prose.texts import NO_PROSE, Prose, read_prose
from briefgen.reading.record import digests
from briefgen.recorded import NoVersion, recorded, stale
from briefgen.revision.comparison import Comparison
from briefgen.revision.pairing.version import Version
from briefgen.rules.naming.acceptances import unneeded
from briefgen.rules.naming.revisions import STALE
from briefgen.rules.registry import Needs
from briefgen.rules.stages import fixed, rules_at, spoils
from briefgen.source import Position
from briefgen.told_once import told_once


@dataclass(frozen=True)
class Accepted:
    """A finding that the author accepts, and why."""

    finding: Finding
    because: str
    record: tuple[str, str]


@dataclass(frozen=True)
class Beside:
    """What belongs to a content folder: the folder of the author's Markdown pages, and an earlier revision's record.

    `made` says which pages of ours a sound content folder has: it is asked only where an author's page leads to one.
    Without it nothing is said of such links: the site's builder warns of them itself, and once is enough.
    `results` are those of long searches that an earlier build made.
    """

    pages: Path | None = None
    since: Path | None = None
    made: Callable[[Path, Evidence], Made] | None = None
    results: KeptResults = NO_RESULTS


ALONE = Beside()


@dataclass(frozen=True)
class Examination:
    """A content folder, read and proved, and what lies beside it. `proved` says whether the plan could be examined.

    `since` is what changed since the recorded revision; `unreadable` says why that record can't be read, if so.
    """

    reading: Reading
    prose: Prose
    evidence: Evidence
    findings: tuple[Finding, ...]
    accepted: tuple[Accepted, ...]
    proved: bool
    since: Comparison | None = None
    unreadable: str = ""

    @property
    def library(self) -> Library:
        """The content as planned."""
        return self.evidence.library

    @property
    def sources(self) -> Mapping[str, tuple[str, ...]]:
        """The lines of every file in which something may be found."""
        return {**self.reading.sources, **self.prose.sources}


def examine(root: Path, levels: Mapping[str, Level | None] | None = None, beside: Beside = ALONE) -> Examination:
    """Reads and proves a content folder, with what lies beside it: the one way of a check, and of a build.

    `levels` changes the level of rules by name (None: not reported). What keeps the plan from being proved, or a file
    from being published, stays an error, whatever is accepted or said of its level. Raises NoContent where there is no
    folder or nothing in it.
    """
    with few_guesses(), in_one_go():
        return _examine(root, levels or {}, beside)


def _examine(root: Path, levels: Mapping[str, Level | None], beside: Beside) -> Examination:
    reading = read_folder(root)
    prose = read_prose(beside.pages, root) if beside.pages else NO_PROSE
    evidence = Evidence(reading.library, reading.broken, reading.sources, prose.texts, beside.results)
    found = [*reading.findings, *evidence.expansion.findings, *picture_findings(root, reading.library)]
    for stage in Needs:
        # One mistake must not set off a cascade: nor a file that could not be read, one at every name in it.
        if not reading.lost and (stage is Needs.RECORDS or not any(map(spoils, found))):
            found += [finding for rule in rules_at(stage) for finding in rule.findings(evidence)]
    found = told_once(found, evidence.library)
    proved = not reading.lost and not any(map(spoils, found))
    since, unreadable = _since(beside.since if proved else None, reading, evidence)
    found += [*prose.findings, *(stale(since) if since else ())]
    found += link_findings(prose, beside.made(root, evidence)) if proved and beside.made else ()
    findings, accepted = _accept(in_order(_relevel(found, levels)), reading.library)
    if proved:
        needed = {(*one.record, one.finding.rule) for one in accepted}
        silent = {name for name, level in levels.items() if level is None} | (set() if since else {STALE})
        findings = in_order([*findings, *_relevel(unneeded(reading.library, needed, silent), levels)])
    return Examination(reading, prose, evidence, findings, accepted, proved, since, unreadable)


def _since(record: Path | None, reading: Reading, evidence: Evidence) -> tuple[Comparison | None, str]:
    """What changed since a record, or why that can't be said."""
    if record is None:
        return None, ""
    try:
        return Comparison(recorded(record), Version(evidence, digests(reading.root, evidence.library))), ""
    except NoVersion as reason:
        return None, f"{reason} The option “since” in mkdocs.yml names it."


def _relevel(findings: Iterable[Finding], levels: Mapping[str, Level | None]) -> Iterator[Finding]:
    for finding in findings:
        level = finding.level if fixed(finding) else levels.get(finding.rule, finding.level)
        if level is not None:
            yield replace(finding, level=level)


def _accept(findings: Iterable[Finding], library: Library) -> tuple[tuple[Finding, ...], tuple[Accepted, ...]]:
    """Sets aside the findings that the record in which they stand accepts."""
    owners = sorted(((record.id.position, kind, record) for kind, record in library.every()), key=lambda one: one[0])
    open_findings: list[Finding] = []
    accepted: list[Accepted] = []
    for finding in findings:
        owner = _owner(finding, owners)
        acceptance = _acceptance(finding, owner[1]) if owner and not fixed(finding) else None
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
