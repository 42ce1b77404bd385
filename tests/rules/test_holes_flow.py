"""Plans whose steps have no place, no flow or too many: nothing is taken for proved that was not."""

from __future__ import annotations

from pathlib import Path

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
