"""What somebody who has learnt it can be seen to do."""

from __future__ import annotations

import re
from collections.abc import Iterator

from briefgen.findings import Level
from briefgen.language.sentences import plain
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule


@rule(
    "outcome-not-seen", Level.ADVICE, Needs.RECORDS,
    wrong="""
    outcomes:
      see: {audience: [ev1], does: ▸understands the louvres, condition: in shade, standard: fully}
    """,
    right="""
    outcomes:
      see: {audience: [ev1], does: drives the louvres shut, condition: in shade, standard: within two minutes}
    """,
)  # fmt: skip
def outcome_not_seen(evidence: Evidence) -> Iterator[Trouble]:
    """An outcome says what somebody can be seen to do.

    Nobody can watch a person understand; so nobody can say whether it was learnt. An objective names behaviour,
    condition and degree: common practice since R. F. Mager, Preparing Instructional Objectives (1962), from memory.
    """
    for outcome in evidence.library.outcomes.values():
        found = _HIDDEN.match(plain(outcome.does))
        if found:
            yield Trouble(
                outcome.does.position,
                f"Nobody can see whether somebody “{found[1]}”: write what they do, like “shows”, “names” or “closes”.",
            )


_HIDDEN = re.compile(
    r"\s*(?:can\s+)?((?:know|understand|learn|appreciate|grasp|realise|realize|believe)s?|(?:is|are|be|becomes?)\s+"
    r"(?:aware|familiar|able to understand)\b|has\s+(?:an?\s+)?(?:understanding|knowledge|feeling))\b",
    re.IGNORECASE,
)
