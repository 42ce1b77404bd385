"""What is checked against the revision before. The check needs a comparison, above; here it has its page."""

from __future__ import annotations

from briefgen.findings import Level
from briefgen.rules.registry import described

STALE = "revision-unchanged"

described(
    STALE, __name__,
    """
    A sortie that differs from the recorded revision says another revision.

    Two plans that bear the same letter can't be told apart in a briefing room: somebody will have learned the one and
    fly beside somebody who has learned the other. Checked where the site's option `since` names a record.
    """,
    wrong="",
    right="""
    tasks:
      rest:
        title: Rest
        purpose: To begin calmly.
        place: lock
        steps:
          - {who: ev1, do: Look around., takes: 2 min}
    sorties:
      s: {title: S, revision: B, flow: {ev1: [rest]}, limits: {length: 1 h}}
    """,
    spoils=False, level=Level.WARNING,
)  # fmt: skip
