"""Findings as text: the place, the sentence, the line with a mark under the word, and what to write."""

from __future__ import annotations

import io

import pytest

from briefgen.findings import Finding, Level, Related
from briefgen.reporters.colour import wants_colour
from briefgen.reporters.excerpt import WIDEST, excerpt
from briefgen.reporters.text import as_text, summary
from briefgen.source import Position
from tests.reporters.samples import FINDINGS, SOURCES


def test_a_finding_is_a_paragraph_with_all_that_is_known() -> None:
    text = as_text(FINDINGS[:1], SOURCES)
    assert text == (
        "tasks/pump run.yaml:3:5: error unknown-key\n"
        "  “purpos” is no key of task “swap-pump”. Did you mean “purpose”?\n"
        "     3 |     purpos: The pump leaks; 50 % is gone.\n"
        "       |     ^^^^^^\n"
        "  see tasks/pump run.yaml:2:3: the task begins here\n"
        "  write: purpose: …\n"
        "  why:   briefgen rule unknown-key\n"
    )


@pytest.mark.parametrize("width", [40, 80])
def test_in_a_terminal_no_line_but_the_one_to_copy_is_wider(width: int) -> None:
    long = Finding(
        "x-rule", Level.ERROR, Position("a.yaml", 1, 150), "Nothing orders the one and the other. " * 6,
        related=(Related(Position("b.yaml", 2, 1), "this is what it relies on, as somebody has written it here"),),
    )  # fmt: skip
    source = {"a.yaml": [f"do: {'word ' * 29}here {'word ' * 29}"]}
    lines = as_text([long], source, width=width).splitlines()
    assert max(map(len, lines)) <= width
    words = " ".join(" ".join(lines).split())
    assert " ".join(long.sentence.split()) in words
    assert "as somebody has written it here" in words
    shown = next(line for line in lines if "here" in line and "|" in line)
    mark = lines[lines.index(shown) + 1]
    assert shown[mark.index("^") :].startswith("here")


def test_a_line_to_write_elsewhere_says_where() -> None:
    assert as_text(FINDINGS[2:3], SOURCES).endswith(
        "  write: stowed: k9\n     at tools.yaml:2:9\n  why:   briefgen rule long-sentence\n"
    )


def test_findings_stand_in_the_order_of_their_places_each_once() -> None:
    text = as_text([*FINDINGS, *FINDINGS], SOURCES)
    heads = [line for line in text.splitlines() if line and not line.startswith(" ")]
    assert heads == [
        "the content folder: error no-programme",
        "notes.yaml: error not-utf-8",
        "tasks/pump run.yaml:3:5: error unknown-key",
        "tools.yaml:2:3: warning unused-record",
        "tools.yaml:2:17: advice long-sentence",
    ]


def test_no_findings_are_no_text() -> None:
    assert as_text([], SOURCES) == ""
    assert summary([]) == "No findings."


def test_the_summary_counts_each_level() -> None:
    assert summary(FINDINGS) == "3 errors, 1 warning, 1 piece of advice."


def test_colour_changes_no_word() -> None:
    import re

    plain, painted = (as_text(FINDINGS, SOURCES, colour) for colour in (False, True))
    assert "\x1b" not in plain
    assert painted != plain
    assert re.sub(r"\x1b\[[0-9;]*m", "", painted) == plain


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(
    ("stream", "environment", "wanted"),
    [
        (Terminal(), {}, True),
        (io.StringIO(), {}, False),
        (Terminal(), {"NO_COLOR": "1"}, False),
        (Terminal(), {"NO_COLOR": ""}, True),
        (Terminal(), {"TERM": "dumb"}, False),
    ],
)
def test_colour_is_for_terminals_that_show_it_and_people_who_want_it(
    stream: io.StringIO, environment: dict[str, str], wanted: bool
) -> None:
    """NO_COLOR counts when it is not empty: the NO_COLOR convention."""
    assert wants_colour(stream, environment) is wanted


@pytest.mark.parametrize(
    ("line", "column", "mark"),
    [
        ("  hook: {stowed: k9}", 18, " " * 17 + "^^"),
        ("\tdo: Look.", 2, "    ^^"),
        ("  name: 月の門, place: k9", 14, " " * 16 + "^^^^^"),
        ("  at: [30 %, 5 %]", 8, " " * 7 + "^^"),
        ("", 1, "^"),
        ("short", 40, "     ^"),
    ],
)
def test_the_mark_stands_under_the_word(line: str, column: int, mark: str) -> None:
    shown = excerpt({"a.yaml": (line,)}, Position("a.yaml", 1, column))
    assert shown is not None
    assert shown.mark == mark


def test_a_long_line_is_shown_around_its_word() -> None:
    line = "x" * 300 + " here " + "y" * 300
    shown = excerpt({"a.yaml": (line,)}, Position("a.yaml", 1, 302))
    assert shown is not None
    assert len(shown.line) == WIDEST + 2
    assert shown.line[shown.mark.index("^") : shown.mark.index("^") + 4] == "here"
    assert shown.mark.endswith("^^^^")


@pytest.mark.parametrize("position", [Position("a.yaml", 2, 1), Position("b.yaml", 1, 1), Position("a.yaml", 0, 0)])
def test_a_place_outside_the_file_has_no_excerpt(position: Position) -> None:
    assert excerpt({"a.yaml": ("one",)}, position) is None


def test_an_authors_line_cannot_move_the_cursor_or_paint() -> None:
    evil = "  name: \x1b[2Jgone \x07 \u202e"
    finding = Finding("x", Level.ERROR, Position("a\x1b.yaml", 1, 3), f"Says {evil}", write=evil)
    text = as_text([finding], {"a\x1b.yaml": (evil,)})
    assert not set(text) & {"\x1b", "\x07", "\u202e"}
    assert "\\u001b[2Jgone \\u0007 \\u202e" in text
