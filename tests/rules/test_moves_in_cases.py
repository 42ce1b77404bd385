"""A word stops every move: also one in a block, and one that is made only if a step does not go as planned."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.expansion.worlds import content, task
from tests.rules.laid_over import examined

RIDE = "{id: ride, who: [ev1, desk], at: k1, do: Ride to the lock., takes: 2 min, to: lockCALLS}"
IN_CASE = (
    "- {id: open, who: ev1, at: k1, do: Open it., takes: 1 min,\n"
    f"   in_case: [{{when: It sticks., steps: [{RIDE}], then: go on}}]}}"
)
IN_BLOCK = f"- {{id: every, each: plates, where: {{rack: [1]}}, steps: [{RIDE}]}}"


@pytest.mark.parametrize("steps", [IN_CASE, IN_BLOCK])
@pytest.mark.parametrize("said", ["", ", calls: [{to: desk, say: Moving. I say “stop” to stop.}]"])
def test_a_move_without_a_word_that_stops_it_is_told(tmp_path: Path, steps: str, said: str) -> None:
    text = content(task(steps.replace("CALLS", said)), flow="ev1: [work]")
    rules = [one.rule for one in examined(tmp_path, text).findings]
    assert ("move-without-stop-word" in rules) == (not said)
