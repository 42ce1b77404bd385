"""Findings that an author accepts: the rule exists, its findings can be accepted, and there is one to accept."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from briefgen.findings import Finding, Level
from briefgen.language.nearest import hint
from briefgen.model.library import Library
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, all_rules, described, rule


@rule(
    "unknown-rule", Level.ERROR, Needs.RECORDS, spoils=False,
    wrong="""
    places:
      k7: {name: K7, accepts: [{finding: ▸needles-wait, because: It is quiet there.}]}
    """,
    right="""
    places:
      k7: {name: K7, accepts: [{finding: needless-wait, because: It is quiet there.}]}
    """,
)  # fmt: skip
def unknown_rule(evidence: Evidence) -> Iterator[Trouble]:
    """`accepts` names a rule that exists, and one whose findings can be accepted.

    A misspelt name would accept nothing, and nobody would see why the finding stays. What keeps the plan from being
    proved can't be accepted: everything else that is wrong would be hidden with it.
    """
    for _, record in evidence.written.every():
        for acceptance in record.accepts:
            known = all_rules().get(acceptance.finding)
            if known is None:
                yield Trouble(
                    acceptance.finding.position,
                    f"There is no rule “{acceptance.finding}”.{hint(acceptance.finding, all_rules())}",
                )
            elif known.fixed:
                yield Trouble(
                    acceptance.finding.position,
                    f"“{acceptance.finding}” can't be accepted: while it is found, the plan can't be proved or a file "
                    "not published. Mend what it finds, and take this out.",
                )


_UNNEEDED = "unneeded-acceptance"
described(
    _UNNEEDED, __name__,
    """
    What a record accepts is found there.

    An acceptance that outlives its finding lies in wait: it will silence the next one of that rule, which nobody has
    looked at. Only what could be proved is checked in this way, and no rule that is turned off.
    """,
    wrong="""
    places:
      k1: {name: K1, anchor: true, accepts: [{finding: ▸unused-record, because: It is kept for later.}]}
    """,
    right="""
    places:
      k9: {name: K9, accepts: [{finding: unused-record, because: It is kept for later.}]}
    """,
    spoils=False, level=Level.WARNING,
)  # fmt: skip


def unneeded(library: Library, needed: Collection[tuple[str, str, str]], silent: Collection[str]) -> Iterator[Finding]:
    """The acceptances that accept nothing, where everything was checked.

    `needed` are those that do, as the record's kind and id and the rule; `silent` are rules that are turned off.
    """
    for kind, record in library.every():
        for acceptance in record.accepts:
            name = acceptance.finding
            known = all_rules().get(name)
            if known and not known.fixed and name not in silent and (kind, str(record.id), str(name)) not in needed:
                yield Finding(
                    _UNNEEDED, Level.WARNING, name.position,
                    f"“{name}” is accepted here, but nothing of that rule is found in “{record.label_text}”. Take it "
                    "out.",
                )  # fmt: skip
