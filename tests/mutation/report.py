"""The report of the mutation test: which share of all slips in the demo is caught, kind by kind, and what is not."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterable, Sequence

from tests.mutation.harmless import NOTHING_DEPENDS, SAME_ORDER, STRICTER
from tests.mutation.trial import Outcome, slips, try_all


def share(outcomes: Iterable[Outcome]) -> float:
    """The share of caught slips among those that are not proved harmless."""
    counted = [one for one in outcomes if one.harmless is None]
    return sum(one.caught for one in counted) / len(counted) if counted else 1.0


def strict_share(outcomes: Iterable[Outcome]) -> float:
    """The share of caught slips among all but those that leave the very same order."""
    counted = [one for one in outcomes if one.harmless != SAME_ORDER]
    return sum(one.caught for one in counted) / len(counted) if counted else 1.0


def report(outcomes: Sequence[Outcome]) -> str:
    """The table in Markdown, the harmless slips counted apart, and every survivor."""
    rows = ["| kind of slip | slips | caught | same order | nothing depends on it | stricter | survived | share |"]
    rows.append("|---|---:|---:|---:|---:|---:|---:|---:|")
    kinds = dict.fromkeys(one.kind for one in outcomes)
    rows += [_row(kind, [one for one in outcomes if one.kind == kind]) for kind in kinds]
    rows.append(_row("all", outcomes))
    rows += ["", f"Caught of all but the provably harmless ones: {share(outcomes):.1%}."]
    rows.append(f"Caught of all but those that leave the very same order: {strict_share(outcomes):.1%}.")
    rules = Counter(rule for one in outcomes for rule in one.rules)
    rows.append(f"Rules that caught them: {', '.join(f'{rule} {number}' for rule, number in rules.most_common())}.")
    rows += ["", *_survivors(outcomes)]
    return "\n".join(rows)


def _row(kind: str, outcomes: Sequence[Outcome]) -> str:
    reasons = Counter(one.harmless for one in outcomes)
    numbers = (
        len(outcomes), sum(one.caught for one in outcomes), reasons[SAME_ORDER], reasons[NOTHING_DEPENDS],
        reasons[STRICTER], sum(one.survived for one in outcomes),
    )  # fmt: skip
    return f"| {kind} | {' | '.join(map(str, numbers))} | {share(outcomes):.0%} |"


def _survivors(outcomes: Sequence[Outcome]) -> Iterable[str]:
    yield "Survivors:"
    for one in outcomes:
        if one.survived:
            yield f"- {one.kind}: {one.where}. {one.note or 'Not explained.'}"
    yield ""
    yield "Harmless, because nothing depends on the order that was lost or changed:"
    for one in outcomes:
        if one.harmless == NOTHING_DEPENDS:
            yield f"- {one.kind}: {one.where}"


def whole_report() -> str:
    """All slips, tried out by as many processes as there are processors."""
    return report(list(try_all(range(len(slips())), os.cpu_count() or 1)))
