"""The terminal's tables for deciding say what the proof computed."""

from __future__ import annotations

import pytest

from briefgen.proof.evidence import SortieEvidence
from briefgen.terminal.plan import TABLES, plan_text
from briefgen.units import show_duration, show_elapsed
from tests.authors.start_content import started
from tests.demo import demo
from tests.proof.deciding_world import sortie_of

SMALL = next(iter(started().evidence.sorties.values()))
CASES = [SMALL, *demo().evidence.sorties.values()]
each_case = pytest.mark.parametrize("case", CASES, ids=lambda case: str(case.sortie.id))


@each_case
def test_chances_are_those_of_the_runs(case: SortieEvidence) -> None:
    rows = dict(TABLES["chance"](case).rows)
    chance = case.chance
    assert rows[f"ends by {show_elapsed(chance.usable)}, the reserve kept"] == chance.finish.within(chance.usable).words
    assert rows["50 % of the runs end by"] == show_elapsed(chance.finish.by(0.5))
    assert (f"ends by {show_elapsed(chance.usable)} without optional tasks" in rows) == bool(case.plan.optional_tasks)


@each_case
def test_every_task_has_its_latest_begin_and_every_step_its_spread(case: SortieEvidence) -> None:
    rows = TABLES["latest"](case).rows
    assert [row[2] for row in rows] == [show_elapsed(one.begins) for one in case.latest]
    assert [row[4] for row in rows] == [show_duration(one.spare) for one in case.latest]
    assert [row[-1] for row in TABLES["steps"](case).rows] == [share.words for share in case.chance.critical]


@each_case
def test_drops_and_get_aheads_are_all_told(case: SortieEvidence) -> None:
    assert len(TABLES["drops"](case).rows) == len(case.plan.optional_tasks)
    told = [row[0] for row in TABLES["get-aheads"](case).rows]
    assert sorted(told) == sorted(case.library.tasks[name].label_text for name in case.sortie.get_aheads)


def test_what_must_stay_says_who_needs_it() -> None:
    step = {"who": "ev1", "at": "k1"}
    records = {"warm": ("get-ahead", [step]), "mend": ("required", [step])}
    case = sortie_of(records, changes={"mend": {"prerequisites": ["warm"]}})
    assert "not warm: needed by mend" in plan_text(case, ("drops",), 80)


def test_what_is_too_long_without_a_reserve_says_never_and_names_one_limit() -> None:
    records = {"a": ("required", [{"who": "ev1", "at": "lock", "takes": "60 min"}])}
    case = sortie_of(records, length="5 min")
    rows = dict(TABLES["chance"](case).rows)
    assert [row for row in rows if row.startswith("ends by")] == ["ends by 0:05:00, the limit"]
    assert rows["ends by 0:05:00, the limit"] == "under 0.1 %"
    assert TABLES["latest"](case).rows[0][2:5] == ("0:00:00", "never", "−55 min")
