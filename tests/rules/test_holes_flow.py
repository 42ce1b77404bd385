"""Plans whose steps have no place, no flow or too many: nothing is taken for proved that was not."""

from __future__ import annotations

from pathlib import Path

import pytest

from briefgen.findings import Level
from tests.rules.laid_over import errors, found, sortie


def test_a_step_outside_without_a_place_is_an_error(tmp_path: Path) -> None:
    example = sortie("who: ev1, do: Look around., takes: 2 min").replace("    place: lock\n", "")
    (finding,) = found(tmp_path, example, "place-not-said")
    assert finding.level is Level.ERROR


def test_people_inside_need_no_place(tmp_path: Path) -> None:
    example = sortie("who: desk, do: Look around., takes: 2 min", people="desk").replace("    place: lock\n", "")
    assert errors(tmp_path, example) == []


def test_what_must_be_done_is_no_get_ahead(tmp_path: Path) -> None:
    look = "who: ev1, do: Look around., takes: 2 min"
    example = sortie(look, keys=", get_aheads: [wipe]")
    wipe = "  wipe: {title: Wipe, purpose: To see., place: k2, steps: [{who: ev1, do: Wipe it., takes: 1 min}]}\n"
    (finding,) = found(tmp_path, example.replace("sorties:", f"{wipe}sorties:"), "get-ahead-otherwise")
    assert "“Wipe” is required, but only a get-ahead of “S”" in finding.sentence


FLOWN = "flow: {ev1: [work], ground: [work]}"
BOTH = sortie("who: ev1, do: Look around., takes: 2 min", "who: ground, do: Say so., takes: 2 min", people="ev1 ground")


@pytest.mark.parametrize(
    ("sound", "misspelt", "rule"),
    [
        (FLOWN, FLOWN.replace("ground", "grund"), "unknown-reference"),
        (FLOWN, FLOWN.replace("ground: [work]", "ground: [wrok]"), "unknown-step"),
        (FLOWN, FLOWN.replace("ground: [work]", "ground: [work/3]"), "unknown-step"),
        ("who: ground", "who: grund", "unknown-reference"),
    ],
)
def test_a_misspelt_name_in_a_flow_or_a_step_is_one_finding(
    sound: str, misspelt: str, rule: str, tmp_path: Path
) -> None:
    assert sound in BOTH
    assert errors(tmp_path, BOTH.replace(sound, misspelt)) == [rule]


def test_a_step_that_is_in_nobodys_flow_is_found_beside_a_misspelt_name(tmp_path: Path) -> None:
    example = BOTH.replace(FLOWN, "flow: {ground: [work], ev2: [wrok]}")
    assert sorted(errors(tmp_path, example)) == ["step-not-in-flow", "unknown-step"]
