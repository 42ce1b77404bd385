"""Ways that nobody needs to go."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.proof.evidence import Evidence
from briefgen.proof.moving.detours import detours
from briefgen.proof.naming import people_words, step_words
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.races import after_line
from briefgen.rules.ways.travelled import flight
from briefgen.units import show_duration

LONG_WAY = 60.0
"""Seconds from which on a needless way is reported; common practice gives no figure, so this one is ours."""

_FEED = "who: ▸ev1, at: k1, do: Look at the feed., takes: 2 min"
_COVER = "who: ev1, at: k2, do: Look at the cover., takes: 2 min"
_SHUT = "who: ev1, at: k2, do: Shut the cover., takes: 2 min"
_IN = "who: ev1, at: lock, do: Go in., takes: 2 min"


@rule("needless-way", Level.WARNING, Needs.ORDER,
      wrong=flight(f"{_COVER}\n{_FEED}\n{_SHUT}\n{_IN}"),
      right=flight(f"{_FEED.replace('▸', '')}\n{_COVER}\n{_SHUT}\n{_IN}"),
)  # fmt: skip
def needless_way(evidence: Evidence) -> Iterator[Trouble]:
    """Nobody goes a way twice for a step that can as well be done in passing.

    Two steps that one person does alone, one after the other, are reported where their ways would be a minute or more
    shorter the other way round, and the whole sortie would be as sound as before: every state, tool, control, tether
    and place. If the order is meant, say so: an `after` at the second step keeps it.
    """
    for proved in evidence.sorties.values():
        for one in detours(proved, LONG_WAY):
            who = next(name for name in one.second.step.who if name == one.person)
            line, spot = after_line(one.first, one.second)
            yield Trouble(
                who.position,
                f"{people_words(proved.library, [one.person])} would save {show_duration(one.seconds)} on the way by "
                f"doing {step_words(proved.library, one.second)} before {step_words(proved.library, one.first)}. "
                "If the order is meant, write it down.",
                (Related(one.first.step.position, "this could come later"),), line, spot,
            )  # fmt: skip
