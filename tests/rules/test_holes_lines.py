"""Lines to write are YAML whatever the names in them are."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from tests.rules.laid_over import found, sortie

NAMES = ["Hub, upper ring", "K9: the {new} one", "“#9” - the [far] end", "yes", "it's 'K9'"]


@pytest.mark.parametrize("name", NAMES)
def test_a_step_to_write_survives_any_name(name: str, tmp_path: Path) -> None:
    places = yaml.safe_dump(
        {"places": {"lock": {"name": name, "home": "true", "anchor": "true", "restraint": ["hand rail"]}}},
        allow_unicode=True,
    )
    example = sortie("who: ev1, at: k2, do: Look., takes: 2 min", more=places)
    (finding,) = found(tmp_path, example, "not-home-at-end")
    (step,) = yaml.safe_load(finding.write)
    assert step == {"who": "ev1", "at": "lock", "do": f"Go to {name}.", "takes": "2 min"}
