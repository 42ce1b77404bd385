"""The tables of `briefgen plan`: the numbers of the proof, within the width of the terminal."""

from __future__ import annotations

import csv
import io

import pytest

from briefgen.export.sheet import tables_as_csv
from briefgen.proof.evidence import SortieEvidence
from briefgen.reference.rules import rule_pages
from briefgen.rules.registry import all_rules
from briefgen.tables.registry import tables
from briefgen.tables.table import Column, Table, cells
from briefgen.terminal.plan import CAUTION, plan_text
from briefgen.terminal.rule import list_text, rule_text
from briefgen.terminal.table import columns_of, draw
from briefgen.units import show_duration, show_elapsed
from tests.authors.start_content import started
from tests.demo import demo
from tests.proof.deciding_world import sortie_of

SMALL = next(iter(started().evidence.sorties.values()))
SORTIES = [SMALL, *demo().evidence.sorties.values()]


def words(name: str, proved: object, place: int = 0) -> list[list[str]]:
    """The words of one of the tables that are asked for by a name."""
    table = tables()[name].make(proved)[place]  # type: ignore[arg-type]
    return [[cell.words for cell in row] for row in table.rows]


def test_a_table_sets_numbers_right_and_wraps_words() -> None:
    table = Table(
        "things",
        "Things",
        (Column("Id"), Column("Words", wide=True), Column("m", number=True)),
        (cells("a", "one two three four", "3.5"), cells("bb", "five", "12")),
    )
    assert draw(table, 19) == (
        "Things\nId  Words         m\n──  ──────────  ───\na   one two     3.5\n    three four\nbb  five         12\n"
    )


def test_wide_letters_take_two_columns() -> None:
    assert columns_of("月 e\u0301") == 4
    rows = cells("月の", "x"), cells("abcd", "y")
    lines = draw(Table("t", "T", (Column("A"), Column("B")), rows), 40).splitlines()
    assert lines[3] == "月の  x"


def test_an_empty_table_says_so() -> None:
    assert draw(Table("holds", "Holds", (Column("A"),), (), "Nobody holds."), 40) == "Holds\nNobody holds.\n"


@pytest.mark.parametrize("width", [80, 100, 160])
@pytest.mark.parametrize("proved", SORTIES, ids=lambda proved: str(proved.sortie.id))
def test_no_line_is_wider_than_the_terminal(proved: object, width: int) -> None:
    text = plan_text(proved, ("timeline", "holds", "light"), width)  # type: ignore[arg-type]
    body = text.split(CAUTION)[1]
    assert max(map(columns_of, body.splitlines())) <= width


@pytest.mark.parametrize("proved", SORTIES, ids=lambda proved: str(proved.sortie.id))
def test_every_step_stands_in_the_timeline_with_its_times(proved: object) -> None:
    rows = words("timeline", proved)
    said = {(row[0], row[1], row[3].rpartition("[")[2].rstrip("]")) for row in rows if row[3].endswith("]")}
    plan = proved.timeline  # type: ignore[attr-defined]
    assert said == {(show_elapsed(one.start), show_elapsed(one.end), one.step.key) for one in plan.times}


def test_the_heading_says_finish_limit_margin_and_caution() -> None:
    text = plan_text(SMALL, ("margins",), 100)
    assert text.startswith("Sortie 1: the lamp, revision A, starts 2043-03-02T09:00Z\n")
    assert f"Over at {show_elapsed(SMALL.timeline.finish)} elapsed; allowed 2 h 00 min with 30 min in reserve" in text
    assert f"{show_duration(SMALL.timeline.margin)} to spare" in text
    assert CAUTION in text


def test_margins_add_up_to_the_finish() -> None:
    for person in SMALL.plan.flows:
        assert sum(SMALL.timeline.sums(person).values()) == pytest.approx(SMALL.timeline.finish)


def test_every_supply_of_every_suit_outside_is_listed() -> None:
    rows = words("supplies", SMALL)
    called = [str(person.callsign or person.label) for person in SMALL.library.people.values() if person.outside]
    assert [row[0] for row in rows] == [f"{name}: {supply}" for name in called for supply in ("oxygen", "battery")]
    assert sum(row[-1].endswith("(first of all)") for row in rows) == 1


def test_holds_are_those_of_the_proof() -> None:
    assert len(words("holds", SMALL)) == len(SMALL.holds) > 0


def test_all_rules_are_listed_and_each_can_be_read() -> None:
    pages = rule_pages(all_rules().values())
    listed = list_text(pages, 200)
    for page in pages:
        assert f" {page.name} " in listed
        text = rule_text(page, 80)
        assert all(line in text for line in page.wrong.strip().splitlines()[:1])
        assert "Right:" in text


@pytest.mark.parametrize("proved", SORTIES, ids=lambda proved: str(proved.sortie.id))
def test_every_moment_at_which_a_step_ends_is_a_stop(proved: object) -> None:
    rows = words("stops", proved)
    times = proved.timeline.times  # type: ignore[attr-defined]
    assert [row[1] for row in rows] == [show_elapsed(end) for end in sorted({round(one.end, 6) for one in times})]
    clean = [stop.clean for stop in proved.stops]  # type: ignore[attr-defined]
    assert [row[-1] == "yes" for row in rows] == clean
    assert clean[-1]


@pytest.mark.parametrize("proved", SORTIES, ids=lambda proved: str(proved.sortie.id))
def test_a_spreadsheet_has_the_rows_of_the_terminal(proved: SortieEvidence) -> None:
    lines = list(csv.reader(io.StringIO(tables_as_csv([proved], tables()))))
    told = [
        [cell.words for cell in row] for kind in tables().values() for table in kind.make(proved) for row in table.rows
    ]
    assert told
    unmarked = [[cell.removeprefix("'") for cell in line] for line in lines]
    assert all([cell.removeprefix("'") for cell in row] in unmarked for row in told)


@pytest.mark.parametrize("proved", SORTIES, ids=lambda proved: str(proved.sortie.id))
def test_every_row_has_a_cell_a_column_and_every_table_a_name_of_its_own(proved: SortieEvidence) -> None:
    made = [table for kind in tables().values() for table in kind.make(proved)]
    assert len({table.name for table in made}) == len(made) > 12
    for table in made:
        assert all((table.columns, table.title, table.empty))
        assert all(len(row) == len(table.columns) for row in table.rows), table.name


def test_a_cell_that_a_spreadsheet_could_compute_is_words() -> None:
    proved = sortie_of({"a": ("required", [{"who": "ev1", "at": "lock"}])}, changes={"a": {"title": "=HYPERLINK(1)"}})
    text = tables_as_csv([proved], ["latest"])
    assert "'=HYPERLINK(1)" in text
    assert not [cell for line in csv.reader(io.StringIO(text)) for cell in line if cell.startswith("=")]
