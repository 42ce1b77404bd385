"""Exported timelines, read back by somebody else's readers: csv, json, icalendar."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest
from icalendar import Calendar
from icalendar.parser import Contentlines

from briefgen.export.calendar import NoStart, _escaped, as_calendar, folded
from briefgen.export.document import as_json
from briefgen.export.rows import CAUTION
from briefgen.export.sheet import COLUMNS, _cell, as_csv
from briefgen.model.work import Sortie
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import PlannedStep
from briefgen.proof.schedule.agenda import EntryKind, agenda
from briefgen.units import show_elapsed
from tests.authors.start_content import started
from tests.demo import demo

SORTIES = list(demo().evidence.sorties.values())


def test_an_agenda_fills_every_persons_time_without_gap_or_overlap() -> None:
    """Who has no flow waits for nothing in particular: theirs are their steps alone, each once."""
    free = set[str]()
    for proved in SORTIES:
        for person in proved.plan.flows:
            mine = [entry for entry in agenda(proved.timeline) if person in entry.people and entry.end > entry.start]
            if person in proved.plan.free:
                free.add(person)
                steps = [(times.start, times.end, times.step.key) for times in proved.timeline.of(person)]
                assert [(one.start, one.end, one.times.step.key) for one in mine] == steps
                assert {entry.kind for entry in mine} == {EntryKind.STEP}
                continue
            assert mine[0].start == 0
            for entry, following in pairwise(mine):
                assert following.start == pytest.approx(entry.end, abs=1e-6)
    assert free  # the demo leaves a flow out


def test_every_step_of_the_plan_is_in_the_csv_file_once_with_its_times() -> None:
    rows = list(csv.DictReader(io.StringIO(as_csv(SORTIES), newline="")))
    steps = [row for row in rows if row["kind"] == "step"]
    assert sorted((row["sortie"], row["step"]) for row in steps) == sorted(
        (str(proved.sortie.id), step.key) for proved in SORTIES for step in proved.plan.steps
    )
    for proved in SORTIES:
        times = {one.step.key: one for one in proved.timeline.times}
        for row in steps:
            if row["sortie"] == proved.sortie.id:
                assert float(row["start_s"]) == pytest.approx(times[row["step"]].start, abs=1e-3)
                assert float(row["slack_s"]) == pytest.approx(times[row["step"]].slack, abs=1e-3)


def test_csv_lines_end_as_rfc_4180_wants_and_have_all_columns() -> None:
    """RFC 4180, section 2: lines end with CR LF, and each has the same number of fields."""
    text = as_csv(SORTIES)
    assert text.count("\n") == text.count("\r\n")
    assert {len(row) for row in csv.reader(io.StringIO(text, newline=""))} == {len(COLUMNS)}


def test_the_json_file_says_who_the_people_of_its_rows_are_and_what_tells_them_apart() -> None:
    for proved, sortie in zip(SORTIES, json.loads(as_json(SORTIES))["sorties"], strict=True):
        told = {one["id"]: one for one in sortie["people"]}
        assert set(told) == {person for row in sortie["timeline"] for person in row["people"]}
        for name, one in told.items():
            person = proved.library.people[name]
            assert (one["label"], one["callsign"], one["post"]) == (person.label, person.callsign, person.post)
            assert one["mark"] == (person.mark.model_dump() if person.mark else None)
    assert {one["mark"]["colour"] for one in told.values() if one["mark"]} == {"red", "blue"}


def test_cases_stand_beside_their_step_in_every_format() -> None:
    table = {(row["sortie"], row["step"]): row for row in csv.DictReader(io.StringIO(as_csv(SORTIES), newline=""))
             if row["kind"] == "step"}  # fmt: skip
    calendar = [str(event["DESCRIPTION"]) for event in Calendar.from_ical(as_calendar(SORTIES)).walk("VEVENT")]
    document = {sortie["id"]: sortie for sortie in json.loads(as_json(SORTIES))["sorties"]}
    told = 0
    for proved in SORTIES:
        rows = {row["step"]: row for row in document[proved.sortie.id]["timeline"] if row["kind"] == "step"}
        assert sum(len(row["in_case"]) for row in rows.values()) == len(proved.cases)
        assert {step for (sortie, step), row in table.items() if sortie == proved.sortie.id and row["in_case"]} == {
            proof.step.key for proof in proved.cases
        }
        for proof in proved.cases:
            (one,) = rows[proof.step.key]["in_case"]
            assert one["when"] == proof.case.when
            assert [step["what"] for step in one["steps"]] == [step.do for step in proof.case.steps]
            assert (one["later_s"], one["finish_s"]) == (pytest.approx(proof.later), pytest.approx(proof.finish))
            (told_in,) = [words for words in calendar if f"step {proof.step.key}," in words]
            for words in (table[proved.sortie.id, proof.step.key]["in_case"], told_in):
                assert str(proof.case.when) in words
                assert show_elapsed(proof.finish) in words
                assert all(str(step.do).rstrip(".") in words for step in proof.case.steps)
            told += 1
    assert told >= 4


@pytest.mark.parametrize("words", ["=1+1", "+1", "-1", "@SUM(A1)", "\tx", "\rx", " =1", "'x"])
def test_no_cell_of_the_csv_file_is_a_formula(words: str) -> None:
    """What begins a formula in spreadsheets, and the apostrophe against it, are common practice; no source."""
    assert _cell(words) == f"'{words}"
    assert _cell([words, "x"]) == f"'{words} x"


def test_numbers_and_plain_words_of_the_csv_file_are_as_they_were() -> None:
    assert [_cell(value) for value in (-1.5, 0, None, True, "Look at it.", "a-b", "ev1")] == [
        -1.5, 0, None, "yes", "Look at it.", "a-b", "ev1",
    ]  # fmt: skip


def test_json_holds_limits_margin_and_the_same_rows() -> None:
    document = json.loads(as_json(SORTIES))
    assert document["caution"] == CAUTION
    for sortie, proved in zip(document["sorties"], SORTIES, strict=True):
        assert sortie["margin_s"] == pytest.approx(sortie["usable_s"] - sortie["finish_s"], abs=1e-3)
        assert len(sortie["timeline"]) == len(agenda(proved.timeline))
        assert {row["kind"] for row in sortie["timeline"]} == {kind.value for kind in EntryKind}
        assert max(row["end_s"] for row in sortie["timeline"]) == sortie["finish_s"]


def said(step: PlannedStep) -> str:
    """The instruction; of a block's step with the item of its round, as the file has an event for each round."""
    do, origin = str(step.step.do), step.step.origin
    parts = SORTIES[0].library.equipment[origin.equipment].parts if origin.block else {}
    item = ", ".join(f"{part} {name}" for part, name in zip(parts, origin.item, strict=True))
    return f"{do.removesuffix('.')} ({item})." if item else do


def test_the_calendar_is_read_back_by_icalendar_with_every_step_at_its_time() -> None:
    calendar = Calendar.from_ical(as_calendar(SORTIES))
    events = {str(event["UID"]): event for event in calendar.walk("VEVENT")}
    assert len(events) == sum(len(proved.plan.steps) for proved in SORTIES)
    assert calendar.errors == []
    starts = {proved.sortie.id: datetime.fromisoformat(str(proved.sortie.starts)) for proved in SORTIES}
    expected = {
        (said(step.step), (starts[proved.sortie.id] + timedelta(seconds=round(step.start))).astimezone(UTC))
        for proved in SORTIES
        for step in proved.timeline.times
        if "](" not in step.step.step.do
    }
    read = {(str(event["SUMMARY"]).partition(": ")[2], event.decoded("DTSTART")) for event in events.values()}
    assert expected <= read
    for event in events.values():
        assert not event.errors
        assert event.decoded("DTSTAMP").tzinfo is not None
        assert "DTEND" not in event or event.decoded("DTEND") > event.decoded("DTSTART")
        assert CAUTION in str(event["DESCRIPTION"])


def test_no_calendar_line_is_longer_than_75_octets() -> None:
    """RFC 5545, section 3.1: lines end with CR LF and should not be longer than 75 octets."""
    data = as_calendar(SORTIES).encode()
    assert data.count(b"\n") == data.count(b"\r\n")
    assert max(map(len, data.split(b"\r\n"))) <= 75


@pytest.mark.parametrize("text", ["x" * 200, "月の門" * 60, "é" * 74, "a" * 75, "a" * 76, ""])
def test_a_folded_line_unfolds_to_itself(text: str) -> None:
    """RFC 5545, section 3.1, unfolded by icalendar; no letter is split between lines."""
    lines = folded(f"SUMMARY:{text}")
    assert all(len(line.encode()) <= 75 for line in lines.split("\r\n"))
    assert Contentlines.from_ical(lines)[0] == f"SUMMARY:{text}"


@pytest.mark.parametrize("text", ["a; b, c \\ d", "one\ntwo", "one\r\ntwo", "\\n stays", "tab\there"])
def test_texts_come_back_as_they_were(text: str) -> None:
    """RFC 5545, section 3.3.11."""
    event = Calendar.from_ical(f"BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\n{folded('SUMMARY:' + _escaped(text))}"
                               "END:VEVENT\r\nEND:VCALENDAR\r\n").walk("VEVENT")[0]  # fmt: skip
    assert str(event["SUMMARY"]) == text.replace("\r\n", "\n")


def test_control_characters_do_not_get_into_a_calendar() -> None:
    assert _escaped("a\x07b\x1bc") == "a b c"


def test_the_same_plan_gives_the_same_bytes() -> None:
    assert as_calendar(SORTIES) == as_calendar(SORTIES)
    assert as_csv(SORTIES) == as_csv(SORTIES)


@dataclass
class Later:
    """A sortie of another content with another start."""

    proved: SortieEvidence
    starts: str | None

    def __post_init__(self) -> None:
        self.plan, self.library, self.timeline = self.proved.plan, self.proved.library, self.proved.timeline
        old = self.proved.sortie
        self.sortie: Sortie = old.model_copy(update={"starts": self.starts}).known_as(old.id)


@pytest.mark.parametrize("starts", [None, "tomorrow", "2043-03-02T09:00", "2043-03-02T09:00+02:00"])
def test_a_sortie_without_a_time_to_start_has_no_calendar_and_says_what_to_write(starts: str | None) -> None:
    later = Later(next(iter(started().evidence.sorties.values())), starts)
    with pytest.raises(NoStart, match="Write “starts: 2031-05-12T08:30Z”"):
        as_calendar([later])  # type: ignore[list-item]
