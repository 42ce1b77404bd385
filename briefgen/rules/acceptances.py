"""Findings that an author accepts: the rule exists, and its findings can be accepted."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level
from briefgen.language.nearest import hint
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, all_rules, rule


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
    for _, record in evidence.library.every():
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
