"""The terminal's tables for deciding say what the proof computed."""

from __future__ import annotations

import pytest

from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.naming import by_minute
from briefgen.terminal.plan import plan_text
from briefgen.units import show_duration, show_elapsed
from tests.authors.start_content import started
from tests.authors.test_terminal import words
from tests.demo import demo
from tests.proof.deciding_world import sortie_of

SMALL = next(iter(started().evidence.sorties.values()))
SORTIES = [SMALL, *demo().evidence.sorties.values()]
each_sortie = pytest.mark.parametrize("proved", SORTIES, ids=lambda proved: str(proved.sortie.id))


@each_sortie
def test_chances_are_those_of_the_runs(proved: SortieEvidence) -> None:
    rows = dict(words("chance", proved))
    chance = proved.chance
    assert rows[f"Ends by {show_elapsed(chance.usable)}, the reserve kept"] == chance.finish.within(chance.usable).words
    assert rows["50 % of the runs end by"] == show_elapsed(chance.finish.by(0.5))
    assert (f"Ends by {show_elapsed(chance.usable)} without optional tasks" in rows) == bool(proved.plan.optional_tasks)


@each_sortie
def test_every_task_has_its_latest_begin_and_every_step_its_spread(proved: SortieEvidence) -> None:
    rows = words("latest", proved)
    assert [row[2] for row in rows] == [show_elapsed(one.begins) for one in proved.latest]
    assert [row[3] for row in rows] == [by_minute(one.latest).capitalize() for one in proved.latest]
    assert [row[4] for row in rows] == [show_duration(one.spare) for one in proved.latest]
    assert [row[-1] for row in words("steps", proved)] == [share.words for share in proved.chance.critical]


@each_sortie
def test_drops_and_get_aheads_are_all_told(proved: SortieEvidence) -> None:
    assert len(words("drops", proved)) + len(words("drops", proved, 1)) == len(proved.plan.optional_tasks)
    fitting = [row[0].partition(". ")[2] for row in words("get-aheads", proved)]
    told = [*fitting, *(row[0] for row in words("get-aheads", proved, 1))]
    assert sorted(told) == sorted(proved.library.tasks[name].label_text for name in proved.sortie.get_aheads)


def test_what_must_stay_says_who_needs_it() -> None:
    step = {"who": "ev1", "at": "k1"}
    records = {"warm": ("get-ahead", [step]), "mend": ("required", [step])}
    proved = sortie_of(records, changes={"mend": {"prerequisites": ["warm"]}})
    assert "Needed by Mend" in plan_text(proved, ("drops",), 80)


def test_what_is_too_long_without_a_reserve_says_never_and_names_one_limit() -> None:
    records = {"a": ("required", [{"who": "ev1", "at": "lock", "takes": "60 min"}])}
    proved = sortie_of(records, length="5 min")
    rows = dict(words("chance", proved))
    assert [row for row in rows if row.startswith("Ends by")] == ["Ends by 0:05:00, the limit"]
    assert rows["Ends by 0:05:00, the limit"] == "under 0.1 %"
    assert words("latest", proved)[0][2:5] == ["0:00:00", "Never in time", "Too late by 55 min"]
