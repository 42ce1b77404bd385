"""Links that could lose their address unseen, and abbreviations with a number behind them."""

from __future__ import annotations

from pathlib import Path

import pytest

from briefgen.model.fields.references import links_in
from tests.rules.laid_over import found, sortie

STEP = "who: ev1, do: Look around., takes: 2 min"


def purpose(text: str) -> str:
    """A plan whose task's purpose is this text."""
    return sortie(STEP).replace("purpose: To mend it.", f"purpose: '{text}'")


@pytest.mark.parametrize(
    ("link", "says"),
    [
        ("[the valve](equipment:Valve)", "There is no equipment “Valve”. Did you mean “valve”?"),
        ('[it](tool:drivr "The driver")', "There is no tool “drivr”. Did you mean “driver”?"),
        ("[it](Tool:driver)", "“Tool” is no kind of record. Did you mean “tool”?"),
        ("[it](<tool:drivr>)", "There is no tool “drivr”. Did you mean “driver”?"),
        ("[it](tools:driver)", "“tools” is no kind of record. Did you mean “tool”?"),
        ("[it](task:work#First)", "Task “work” has no step “First”. Known: 1."),
        ("[it](javascript:go)", "“javascript” is no kind of record."),
    ],
)
def test_no_link_of_a_record_loses_its_address_unseen(link: str, says: str, tmp_path: Path) -> None:
    (finding,) = found(tmp_path, purpose(f"See {link} first."), "broken-link")
    assert finding.sentence.startswith(says)
    line = (tmp_path / "example.yaml").read_text("utf-8").splitlines()[finding.position.line - 1]
    assert line[finding.position.column - 1 :].startswith(link.split("(")[1].strip("<")[:7])


@pytest.mark.parametrize(
    "text",
    [
        '[it](tool:driver "The driver")', "[it](<tool:driver>)", "[there](https://example.org/a)",
        "[write](mailto:a@example.org)", "`[it](tool:none)`", "[it](task:work#1)",
    ],
)  # fmt: skip
def test_links_that_lead_somewhere_are_no_findings(text: str, tmp_path: Path) -> None:
    assert found(tmp_path, purpose(f"See {text} first."), "broken-link") == []


def test_a_link_over_two_lines_has_its_place() -> None:
    (ref,) = links_in("One [word\nand another](tool:x).")
    assert (ref.position.line, ref.position.column) == (1, 14)


TERM = "terms: {qd: {short: QD, long: quick-disconnect, means: A coupling.}}"


def test_a_short_form_with_a_number_is_explained_by_the_short_form(tmp_path: Path) -> None:
    example = sortie("who: ev1, do: Open QD4., takes: 2 min", more=TERM)
    assert found(tmp_path / "known", example, "undefined-term", "unused-term") == []
    (finding,) = found(tmp_path / "not", example.replace("QD4", "RV4"), "undefined-term")
    assert finding.sentence.startswith("“RV4” is used and explained nowhere.")


def test_a_part_of_a_word_is_no_use_of_a_term(tmp_path: Path) -> None:
    example = sortie("who: ev1, do: Open the lid., takes: 2 min", more=TERM)
    assert len(found(tmp_path / "a", example.replace("the lid", "AQD"), "unused-term")) == 1
    assert len(found(tmp_path / "b", example.replace("the lid", "QD4X"), "unused-term")) == 1
    assert found(tmp_path / "c", example.replace("the lid", "both QDs"), "unused-term") == []
