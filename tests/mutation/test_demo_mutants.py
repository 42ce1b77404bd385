"""The findings catch what is broken in the demo. A sample is tried here; `python -m tests.reports` tries every slip."""

from __future__ import annotations

import shutil
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from briefgen.build import examine
from briefgen.findings import Level
from briefgen.proof.evidence import Evidence
from tests.mutation.demo import CONTENT, demo
from tests.mutation.harmless import SAME_ORDER, reason
from tests.mutation.report import report, share
from tests.mutation.trial import Outcome, sample, slips, try_out

EVERY = 14
NUMBERS = sample(EVERY)
# Of these not a single one may slip through.
DEADLY = {
    "pick left out", "leave left out", "set or restore left out", "control not required", "other state set",
    "ride or carry left out", "anchor taken off", "light shifted", "supply halved", "tether shortened by a half",
}  # fmt: skip


@cache
def outcome_of(number: int) -> Outcome:
    return try_out(number)


def outcomes() -> tuple[Outcome, ...]:
    return tuple(map(outcome_of, NUMBERS))


def test_nothing_at_all_is_found_in_the_unbroken_demo() -> None:
    assert [f"{finding.rule}: {finding.sentence}" for finding in demo().whole.findings] == []


def test_there_is_a_slip_of_every_kind_and_many_in_all() -> None:
    assert len(slips()) > 1000
    assert {slips()[number].kind for number in NUMBERS} == {slip.kind for slip in slips()}


def test_at_least_95_of_100_slips_are_caught() -> None:
    assert share(outcomes()) >= 0.95, report(outcomes())


def test_no_deadly_slip_survives_and_every_survivor_is_explained() -> None:
    survivors = [one for one in outcomes() if one.survived]
    assert [f"{one.kind}: {one.where}" for one in survivors if one.kind in DEADLY] == []
    assert [f"{one.kind}: {one.where}" for one in survivors if not one.note] == []


def outcome(kind: str, where: str) -> Outcome:
    (number,) = [number for number, slip in enumerate(slips()) if (slip.kind, slip.where) == (kind, where)]
    return try_out(number)


def test_the_control_of_the_coolant_can_not_be_left_unconfirmed() -> None:
    assert outcome("look left out", "swap-pump/confirm-no-flow: qd-valves").rules == ("control-not-confirmed",)


def test_steps_of_different_people_listed_the_other_way_round_are_the_same_plan() -> None:
    found = outcome("neighbours swapped", "isolate-feeds/confirm-a and isolate-feeds/isolate-b")
    assert found.harmless == SAME_ORDER


# That nothing is called harmless which is not ---------------------------------------------------------------------

RELIANCES = {"state-by-luck", "state-not-there", "custody-by-luck", "not-in-hand", "not-there-to-take", "not-held"}


@pytest.mark.parametrize("kind", ["neighbours swapped", "neighbours in a flow swapped", "link left out"])
def test_a_slip_that_breaks_a_reliance_is_never_called_harmless(kind: str) -> None:
    broken = [one for one in NUMBERS if slips()[one].kind == kind and set(outcome_of(one).rules) & RELIANCES]
    assert broken
    for number in broken:
        reading = demo().changed(slips()[number].records)
        assert reading is not None
        assert reason(demo().whole.evidence, Evidence(reading.library)) is None


# The shortcut ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("number", NUMBERS[:: len(NUMBERS) // 5])
def test_the_shortcut_finds_what_the_command_finds_in_the_files(number: int, tmp_path: Path) -> None:
    """Slips are tried out on records in memory; written out and read again, the same is found."""
    records = slips()[number].records
    shutil.copytree(CONTENT, tmp_path / "content")
    for path in (tmp_path / "content").rglob("*.yaml"):
        path.unlink()
    kinds: dict[str, dict[str, Any]] = {}
    for (kind, name), raw in {**demo().raw, **records}.items():
        kinds.setdefault(kind, {})[name] = raw
    for kind, entries in kinds.items():
        text = yaml.safe_dump({kind: plain(entries)}, allow_unicode=True, sort_keys=False)
        (tmp_path / "content" / f"{kind}.yaml").write_text(text, encoding="utf-8")
    found = {finding.rule for finding in examine(tmp_path / "content").findings if finding.level is not Level.ADVICE}
    assert found == {finding.rule for finding in demo().findings(records)}


def plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {str(key): plain(one) for key, one in value.items()}
    if isinstance(value, list):
        return [plain(one) for one in value]
    return str(value)
