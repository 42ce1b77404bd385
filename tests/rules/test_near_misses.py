"""How near a race is today: said from the times, whichever of the two comes first."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from briefgen.units import show_duration
from tests.rules.laid_over import examined, sortie

COUNT = "id: count, who: ev1, at: k3, do: Count the plates., takes: 2 min"
LOOK = "id: look, who: ev2, at: k3, do: Look at the plates., takes: 3 min"
BEFORE = "who: {who}, at: lock, do: Get ready., takes: {minutes} min"
HOME = ["who: ev1, at: lock, do: Go in., takes: 1 min", "who: ev2, at: lock, do: Go in., takes: 1 min"]


@pytest.mark.parametrize("minutes", [(1, 1), (1, 2), (2, 1), (1, 20), (20, 1), (1, 3), (4, 1), (5, 3)])
def test_the_minutes_between_the_two_are_those_of_the_timeline(minutes: tuple[int, int], tmp_path: Path) -> None:
    first, second = minutes
    steps = [
        BEFORE.format(who="ev1", minutes=first), COUNT, BEFORE.format(who="ev2", minutes=second), LOOK, *HOME,
    ]  # fmt: skip
    found = examined(tmp_path, sortie(*steps, people="ev1 ev2"))
    [finding] = [one for one in found.findings if one.rule == "crowded-place"]
    times = found.evidence.sorties["s"].timeline.times
    a, b = (next(one for one in times if one.step.key == f"work/{name}") for name in ("count", "look"))
    early, late = sorted((a, b), key=lambda one: one.start)
    if late.start < early.end:
        shared = min(a.end, b.end) - late.start if early.end > late.end else early.end - late.start
        assert f"they overlap by {show_duration(shared)}." in finding.sentence
    else:
        assert f"there are {show_duration(late.start - early.end)} between them" in finding.sentence
    assert re.search(r"As planned today (they overlap by|there are) ", finding.sentence)
