"""A plan that could not be proved never passes, whatever is accepted or turned off; and one mistake hides no other."""

from __future__ import annotations

from pathlib import Path

import pytest

from briefgen.build import examine
from briefgen.findings import Level
from tests.rules.laid_over import errors, examined, sortie

LOOK = "who: ev1, do: Look around., takes: 2 min"
CIRCLE = (
    "id: a, who: ev1, do: Look., takes: 2 min, after: [work/b]",
    "id: b, who: ev2, do: Look., takes: 2 min, after: [work/a]",
)
ORBIT = "orbit: {altitude: 410 km, beta: 128°, first_sunset: 9 min}"
OPEN = "who: ev1, do: Open the cover., takes: 2 min, sets: {cover: open}"


def accepting(rule: str) -> str:
    return f"    accepts: [{{finding: {rule}, because: It is fine.}}]\n"


@pytest.mark.parametrize(
    ("rule", "example"),
    [
        ("order-circle", sortie(*CIRCLE, people="ev1 ev2", task=accepting("order-circle"))),
        ("unknown-reference", sortie(f"{LOOK}, picks: [drivr]", task=accepting("unknown-reference"))),
        ("unknown-state", sortie(f"{LOOK}, sets: {{cover: opn}}", task=accepting("unknown-state"))),
    ],
)
def test_what_keeps_the_plan_from_being_proved_cannot_be_accepted(rule: str, example: str, tmp_path: Path) -> None:
    examination = examined(tmp_path, example)
    assert not examination.proved
    assert sorted(finding.rule for finding in examination.findings if finding.level is Level.ERROR) == sorted(
        [rule, "unknown-rule"]
    )


def test_a_record_accepts_nothing_for_a_broken_one_that_follows_it(tmp_path: Path) -> None:
    example = sortie(LOOK, task=accepting("wrong-value"), more="routes: {a: {between: [lock, k1], length: 6}}")
    assert "wrong-value" in errors(tmp_path, example)


@pytest.mark.parametrize("level", [None, Level.ADVICE, Level.WARNING])
def test_what_keeps_the_plan_from_being_proved_stays_an_error(level: Level | None, tmp_path: Path) -> None:
    examined(tmp_path, sortie(*CIRCLE, people="ev1 ev2"))
    examination = examine(tmp_path, {"order-circle": level})
    assert [finding.rule for finding in examination.findings if finding.level is Level.ERROR] == ["order-circle"]


@pytest.mark.parametrize(
    ("rule", "example"),
    [
        ("broken-link", sortie(OPEN, task="    note: Take [it](tool:drivr).\n")),
        ("start-not-utc", sortie(OPEN).replace("flow:", "starts: noon, flow:")),
        ("unknown-setting", sortie(OPEN, f"{LOOK}, with: [{{driver: losen}}]")),
        ("figure-missing", sortie(OPEN, more="figures: {front: {file: not-there.svg, alt: The front.}}")),
        ("orbit-out-of-range", sortie(OPEN).replace("flow", f"{ORBIT}, flow")),
    ],
)  # fmt: skip
def test_what_leaves_the_plan_whole_hides_nothing_that_is_wrong_with_it(
    rule: str, example: str, tmp_path: Path
) -> None:
    assert {rule, "ends-wrong"} <= set(errors(tmp_path, example))
