"""Whatever is changed in the demo by one slip, the comparison says it, and says it of those whom it concerns."""

from __future__ import annotations

import pytest

from briefgen.proof.evidence import Evidence
from briefgen.revision.comparison import Comparison
from briefgen.revision.pairing.version import Version
from tests.mutation.demo import demo
from tests.mutation.slips import Slip
from tests.mutation.trial import slips

EVERY = 20
"""One in so many, spread over all kinds of slip: they are listed kind by kind."""


def compared(slip: Slip) -> Comparison | None:
    """The demo and the demo with the slip; None where the slip can't be read or laid out."""
    reading = demo().changed(slip.records)
    after = Evidence(reading.library) if reading is not None else None
    if after is None or any(proved.plan.circle for proved in after.sorties.values()):
        return None
    return Comparison(Version(demo().whole.evidence), Version(after))


@pytest.mark.parametrize("start", range(0, EVERY, 5))
def test_every_slip_is_said(start: int) -> None:
    tried = [(slip, compared(slip)) for slip in slips()[start :: EVERY * 2]]
    silent = [f"{slip.kind}: {slip.where}" for slip, comparison in tried if comparison and not comparison.changes]
    assert sum(comparison is not None for _, comparison in tried) > 10
    assert silent == []


def test_a_slip_in_a_step_is_said_of_that_step_or_of_who_waits_for_it() -> None:
    for slip in slips()[3 :: EVERY * 3]:
        comparison = compared(slip)
        if comparison is None or any(kind != "tasks" for kind, _ in slip.records):
            continue
        tasks = {name for _, name in slip.records}
        said = {change.subject.id for change in comparison.changes if change.subject.kind == "task"}
        assert tasks & said, slip.where
