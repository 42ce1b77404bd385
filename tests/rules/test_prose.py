"""Links to records in the author's own Markdown pages."""

from __future__ import annotations

from pathlib import Path

import pytest

from briefgen.proof.evidence import Evidence
from briefgen.reading.prose.texts import read_prose
from briefgen.rules.registry import all_rules
from tests.demo import demo


def said(tmp_path: Path, text: str) -> list[str]:
    """Line, column and sentence of every finding in a page of that text."""
    (tmp_path / "page.md").write_text(text, encoding="utf-8")
    evidence = Evidence(demo().evidence.written, prose=read_prose(tmp_path, tmp_path).texts)
    found = all_rules()["broken-link"].findings(evidence)
    return [f"{one.position.line}:{one.position.column} {one.sentence}" for one in found]


@pytest.mark.parametrize(
    "text",
    [
        "[x](tool:torque-driver)",
        '[x](tool:torque-driver "A title")',
        "[x](<tool:torque-driver>)",
        "[x][d]\n\n[d]: tool:torque-driver",
        "[x](task:swap-pump#close-valves), [y](figure:pump-front#p14)",
        "[x](https://example.invalid/a:b), [y](mailto:a@example.invalid), [z](tel:0123), [w](other.md#a)",
        "`[x](tool:none)` and ``[x](tool:`none)``",
        "~~~ text\n[x](tool:none)\n~~~",
    ],
)
def test_a_sound_link_and_one_that_is_none_of_ours_are_silent(tmp_path: Path, text: str) -> None:
    assert said(tmp_path, text) == []


@pytest.mark.parametrize(
    ("text", "finding"),
    [
        ("See\n\nthe [x](tool:torque-drivr).", "3:9 There is no tool “torque-drivr”. Did you mean “torque-driver”?"),
        ('[x](tool:torque-drivr "T")', "1:5 There is no tool “torque-drivr”. Did you mean “torque-driver”?"),
        ("[x](tool:Torque-driver)", "1:5 There is no tool “Torque-driver”. Did you mean “torque-driver”?"),
        ("[d]: tool:torque-drivr", "1:6 There is no tool “torque-drivr”. Did you mean “torque-driver”?"),
        ("[x](tol:torque-driver)", "1:5 “tol” is no kind of record. Did you mean “tool”?"),
        (
            "[x](figure:pump-front#rear-bolt)",
            "1:5 Figure “pump-front” has no callout “rear-bolt”. Did you mean “rear-bolts”?",
        ),
        ("`code` then [x](task:swap-pmp)", "1:17 There is no task “swap-pmp”. Did you mean “swap-pump”?"),
    ],
)
def test_a_link_that_leads_nowhere_is_found_at_its_address(tmp_path: Path, text: str, finding: str) -> None:
    assert said(tmp_path, text) == [finding]
