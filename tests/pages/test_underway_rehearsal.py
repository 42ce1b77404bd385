"""A recorded rehearsal in Chromium: what the page shows is what `briefgen now` says, and the export is what it says."""

from __future__ import annotations

import csv
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from playwright.sync_api import Browser, Page

from briefgen.cli import main
from briefgen.practice.rehearsal import Rehearsal
from briefgen.proof.deciding.underway.case_times import case_times
from briefgen.schema.results import REHEARSAL_FILE, rehearsal_schema_text
from briefgen.units import show_duration, show_elapsed
from tests.browser_tools import NARROW, SCHEMES, axe_violations, nu_errors, opened, resize
from tests.demo import CONTENT, demo

pytestmark = pytest.mark.browser
LAST = {"ev1": "swap-pump/pass-old-unit", "ev2": "swap-pump/pass-old-unit", "iv": "leave-airlock/give-go",
        "ground": "swap-pump/confirm-no-flow"}  # fmt: skip
# Where the last row of the answer ends, in pixels from the top of the page.
BOTTOM = """Math.max(...[...document.querySelectorAll('[data-day-row]')]
    .map(one => one.getBoundingClientRect().bottom + scrollY))"""
Rows = list[list[str]]
LOST = 1500
"""What is lost, in seconds."""


def planned() -> float:
    """When the old unit is handed across as planned, in whole seconds."""
    (times,) = (one for one in demo().evidence.sorties["sortie-1"].timeline.times if one.step.key == LAST["ev1"])
    return round(times.end)


def now() -> str:
    """The clock when so much is lost."""
    return show_elapsed(planned() + LOST)


@pytest.fixture
def tab(demo_folder: Path, browser: Browser) -> Iterator[Page]:
    with opened(browser, (demo_folder / "underway/sortie-1.html").as_uri(), height=800) as (page, seen):
        yield page
        assert not [one for one in seen.messages if one.startswith(("error", "uncaught"))]


@pytest.fixture
def told(capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    """What `briefgen now` says of the situation that is rehearsed."""
    done = [word for person, key in LAST.items() for word in ("--done", f"{person}={key}@{now()}")]
    assert main(["now", str(CONTENT), "--sortie", "sortie-1", "--at", now(), *done, "--json"]) == 0
    its: dict[str, Any] = json.loads(capsys.readouterr().out)
    return its


def rehearse(page: Page) -> None:
    """The old unit is handed across when planned; then 25 minutes are lost."""
    page.fill("[data-day-now]", show_elapsed(planned()))
    page.press("[data-day-now]", "Tab")
    proved = demo().evidence.sorties["sortie-1"]
    for number, person in enumerate(page.evaluate("document.querySelector('[data-day]').briefgenDay.day.people")):
        seat = [proved.plan.steps[one].key for one in flow_of(page, number)].index(LAST[person["id"]])
        page.select_option(f"[data-day-done='{number}']", str(seat + 1))
    page.click("text=what goes wrong")
    page.click("[data-day-inject=delay]")
    page.click("text=what goes wrong")


def flow_of(page: Page, number: int) -> list[int]:
    found: list[int] = page.evaluate(f"document.querySelector('[data-day]').briefgenDay.day.flows[{number}]")
    return found


def table(page: Page, row: str, place: int = 0) -> Rows:
    """The words of a table behind a row of the answer."""
    found: Rows = page.evaluate(
        """([row, place]) => [...document.querySelectorAll(`[data-day-row="${row}"] table`)[place].tBodies[0].rows]
            .map(one => [...one.cells].map(cell => cell.textContent))""",
        [row, place],
    )
    return found


def says(page: Page, row: str) -> str:
    return page.inner_text(f"[data-day-row='{row}'] > summary > span")


def step_words(key: str) -> str:
    plan = demo().evidence.sorties["sortie-1"].plan
    return next(str(step.step.do) for step in plan.all_steps if step.key == key).rstrip(".")


def task(name: str) -> str:
    return str(demo().library.tasks[name].label_text)


def by_minute(seconds: float) -> str:
    return show_elapsed(seconds // 60 * 60)


def test_every_number_of_a_delay_of_25_minutes_is_that_of_briefgen_now(tab: Page, told: dict[str, Any]) -> None:
    rehearse(tab)
    status = tab.inner_text("[data-day-says]")
    late, spare = show_duration(told["late_s"]), show_duration(abs(told["spare_s"]))
    left = "to spare" if told["spare_s"] >= 0 else "too late"
    assert f"{late} late: the end at {show_elapsed(told['finish_s'])}, {spare} {left}." in status
    assert f"Critical now: {step_words(told['critical'][0])}." in status
    assert told["late_s"] == pytest.approx(LOST, abs=1)
    (out,) = told["omissions"]
    gains, end = show_duration(out["gains_s"]), show_elapsed(out["finish_s"])
    assert table(tab, "out") == [[task(out["tasks"][0]), gains, end]]
    assert says(tab, "out") == f"first {task(out['tasks'][0])}: gains {gains}, the end at {end}"
    assert table(tab, "fits") == [
        [task(one["task"]), show_elapsed(one["begins_s"]), by_minute(one["latest_s"]), "yes" if one["fits"] else "NO"]
        for one in told["due"]
    ]
    unfit = [task(one["task"]) for one in told["due"] if not one["fits"]]
    first = told["due"][0]
    fits = f"all; {task(first['task'])} must begin by {by_minute(first['latest_s'])}"
    assert says(tab, "fits") == ("NO LONGER: " + ", ".join(unfit) if unfit else fits)


def test_every_number_of_the_way_home_and_of_supplies_is_that_of_briefgen_now(tab: Page, told: dict[str, Any]) -> None:
    rehearse(tab)
    home, names = told["home"], {"ev1": "Heron", "ev2": "Wren"}
    assert [row[:2] for row in table(tab, "open")] == [[one["what"], one["how"]] for one in home["open"]]
    assert [row[2] for row in table(tab, "open")] == [
        step_words(one["closed_by"]) if one["closed_by"] else "no way back is written" for one in home["open"]
    ]
    closing = table(tab, "open", 1)
    assert [row[1:] for row in closing] == [
        [f"+{show_elapsed(one['begins_s'])}", f"+{show_elapsed(one['ends_s'])}"] for one in home["closing"]
    ]
    assert [row[0].split(": ", 1)[1] for row in closing] == [step_words(one["step"]) for one in home["closing"]]
    assert says(tab, "open").startswith(f"{len(home['open'])} things; {len(closing)} written steps to close up")
    bare = ", ".join(f"{names[who]} {show_duration(seconds)}" for who, seconds in home["bare_s"].items())
    assert says(tab, "home") == f"at once {bare}; all closed first {show_duration(home['all_s'])}"
    assert table(tab, "supplies") == [
        [
            f"{names[one['person']]}, {one['supply'].replace('-', ' ')}",
            *(f"{one[amount]:.2f} {one['unit']}" for amount in ("now", "end", "keeps")),
            show_elapsed(one["reserve_s"]),
        ]
        for one in told["supplies"]
    ]
    half = "night" if told["light"]["night"] else "day"
    assert says(tab, "light").startswith(f"{half} until {show_elapsed(told['light']['until_s'])}")
    assert len(tab.query_selector_all("[data-day-row=light] li")) == len(told["dark"])


def test_a_stop_tells_the_written_way_back(tab: Page, told: dict[str, Any]) -> None:
    rehearse(tab)
    tab.click("[data-day-stop]")
    closing = told["home"]["closing"]
    rows = tab.locator("[data-day-told] ol > li").all_inner_texts()
    assert len(rows) == len(closing) > 0
    for row, one in zip(rows, closing, strict=True):
        assert row.startswith(f"+{show_elapsed(one['begins_s'])} to +{show_elapsed(one['ends_s'])}, ")
        assert row.endswith(step_words(one["step"]))
    stuck = [one for one in told["home"]["open"] if not one["closed_by"]]
    assert tab.locator("[data-day-told] > ul > li").count() == len(stuck)
    way = (
        f"Stop called at {now()}: the written way back, all home after at most {show_duration(told['home']['all_s'])}."
    )
    assert way in tab.inner_text("[data-day-told]")
    tab.click("[data-day-told] button")
    assert tab.is_hidden("[data-day-told]")


def test_a_case_tells_its_steps_and_what_follows_in_time(tab: Page) -> None:
    rehearse(tab)
    proved = demo().evidence.sorties["sortie-1"]
    (its,) = (one for one in case_times(proved) if one.proof.step.key == "swap-pump/mate-front")
    tab.click("text=what goes wrong")
    tab.select_option("[data-day-case]", label=f"{step_words('swap-pump/mate-front')}: {its.proof.case.when}")
    tab.click("[data-day-strike]")
    assert "It comes when" in tab.inner_text("[data-day-says]")
    for _ in range(60):
        if tab.is_visible("[data-day-told]"):
            break
        tab.click("[data-day-next]")
    rows = tab.locator("[data-day-told] ol > li").all_inner_texts()
    assert [row.split(": ", 1)[1] for row in rows] == [str(step.step.do).rstrip(".") for step, _, _ in its.steps]
    assert [row.split(", ")[0] for row in rows] == [
        f"+{show_elapsed(begin)} to +{show_elapsed(end)}" for _, begin, end in its.steps
    ]
    late = LOST + its.seconds
    assert f"It takes {show_duration(its.seconds)}" in tab.inner_text("[data-day-told]")
    end = f"{show_duration(late)} late: the end at {show_elapsed(proved.timeline.finish + late)}"
    assert end in tab.inner_text("[data-day-told]")
    tab.click("[data-day-told] button")
    assert f"{show_duration(late)} late" in tab.inner_text("[data-day-says]")


def test_nobody_does_what_was_left_and_while_it_counts_that_is_said(tab: Page) -> None:
    """No case of the demo leaves its task: here one does, after the bolt that does not turn."""
    left: list[str] = tab.evaluate(
        """() => {
            const { day } = document.querySelector("[data-day]").briefgenDay, its = day.cases[0];
            const gone = ["second-look", "off-plate", "leave-bay"].map((one) => `swap-pump/${one}`);
            its.skipped = gone.map((key) => day.steps.findIndex((step) => step.key === key));
            return its.skipped.map((index) => day.steps[index].key);
        }"""
    )  # fmt: skip
    assert len(left) == 3
    tab.click("text=what goes wrong")
    tab.select_option("[data-day-case]", "0")
    tab.click("[data-day-strike]")
    for _ in range(60):
        if tab.is_visible("[data-day-told]"):
            break
        tab.click("[data-day-next]")
    tab.click("[data-day-told] button")
    status, counted = tab.locator("[data-day-says]"), []
    assert "not computed" not in says(tab, "home")
    while tab.is_enabled("[data-day-next]"):
        found = re.search(r"(\d+) steps? of what was left still counts?", status.inner_text())
        counted.append(int(found[1]) if found else 0)
        tab.click("[data-day-next]")
    assert "can't have finished" not in status.inner_text()
    assert counted == sorted(counted, reverse=True)
    assert (counted[0], counted[-1]) == (3, 0)
    # Nobody has come off the plate: no stop of the plan says where they are and what is open.
    assert says(tab, "open") == says(tab, "home") == "not computed: a task was left"
    over = tab.evaluate("document.querySelector('[data-day-log]').closest('details').open = true")
    assert over is True
    tab.wait_for_selector("[data-day-log] li")
    done = tab.locator("[data-day-log] li").all_inner_texts()
    assert not [row for row in done if " done: " in row and row.split(" done: ")[1] in left]


def test_the_exported_run_is_what_its_schema_says(
    tab: Page, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """JSON Schema, draft 2020-12, by the `jsonschema` library."""
    rehearse(tab)
    tab.click("[data-day-stop]")
    tab.click("text=save or begin again")
    with tab.expect_download() as download:
        tab.click("[data-day-export=json]")
    download.value.save_as(tmp_path / "run.json")
    run = json.loads((tmp_path / "run.json").read_text(encoding="utf-8"))
    schema = json.loads(rehearsal_schema_text())
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema, format_checker=jsonschema.Draft202012Validator.FORMAT_CHECKER)
    assert list(validator.iter_errors(run)) == []
    for wrong in ({"version": 2}, {"events": {}}, {"people": []}, {"more": 1}, {"length_s": -1}):
        assert list(validator.iter_errors(run | wrong)), wrong
    read = Rehearsal.model_validate_json(json.dumps(run))
    assert [one.event for one in read.events] == ["set"] * 5 + ["delay", "stop"]
    assert (read.events[-1].at_s, read.events[-1].late_s) == (planned() + LOST, pytest.approx(LOST, abs=1))
    with tab.expect_download() as download:
        tab.click("[data-day-export=csv]")
    download.value.save_as(tmp_path / "run.csv")
    lines = (tmp_path / "run.csv").read_text(encoding="utf-8").splitlines()
    assert len(lines) == 1 + len(read.events)
    # It is read in the terminal, too.
    assert main(["results", str(tmp_path / "run.json")]) == 0
    shown = capsys.readouterr().out
    assert f"1 delay and 1 stop injected; in the end {show_duration(LOST)} late." in shown
    rows = [line.split() for line in shown.splitlines() if line.startswith(now())]
    assert [row[1] for row in rows] == ["delay", "stop"]
    # A run is kept: the page opened anew stands where it stood.
    tab.reload()
    assert tab.input_value("[data-day-now]") == now()


def test_every_time_of_an_exported_run_is_in_whole_seconds(tab: Page, tmp_path: Path) -> None:
    """Ways take fractions of a second, and sums of them leave dust."""
    moments = "document.querySelector('[data-day]').briefgenDay.day.steps.map(one => one.end)"
    assert any(not float(one).is_integer() for one in tab.evaluate(moments))
    for _ in range(40):
        tab.click("[data-day-next]")
    tab.click("text=save or begin again")
    for kind in ("json", "csv"):
        with tab.expect_download() as download:
            tab.click(f"[data-day-export={kind}]")
        download.value.save_as(tmp_path / f"run.{kind}")
    run = json.loads((tmp_path / "run.json").read_text(encoding="utf-8"))
    times = [one[key] for one in run["events"] for key in ("at_s", "late_s", "finish_s")]
    assert len(times) == 120
    assert all(isinstance(one, int) for one in (*times, run["length_s"]))
    with (tmp_path / "run.csv").open(encoding="utf-8", newline="") as file:
        rows = [[row["at_s"], row["late_s"], row["finish_s"]] for row in csv.DictReader(file)]
    assert [one for row in rows for one in row] == [*map(str, times)]


def test_the_shipped_schema_is_the_models(demo_folder: Path) -> None:
    assert (demo_folder / "briefgen" / REHEARSAL_FILE).read_text(encoding="utf-8") == rehearsal_schema_text()


@pytest.mark.parametrize("scheme", SCHEMES)
def test_the_answer_fits_one_screen_and_two_of_a_phone_and_is_accessible(
    demo_folder: Path, browser: Browser, scheme: Any
) -> None:
    page = demo_folder / "underway/sortie-1.html"
    with opened(browser, page.as_uri(), height=800, scheme=scheme) as (tab, _):
        rehearse(tab)
        assert tab.evaluate(BOTTOM) <= 800
        assert axe_violations(tab) == []
        tab.click("[data-day-stop]")
        for row in tab.query_selector_all(".bg-day__row:not([open]) > summary"):
            row.click()
        assert axe_violations(tab) == []
        tab.click("[data-day-told] button")
        for row in tab.query_selector_all(".bg-day__row[open] > summary"):
            row.click()
        resize(tab, NARROW, 844)
        assert tab.evaluate(BOTTOM) <= 2 * 844
        assert tab.evaluate("document.documentElement.scrollWidth") <= NARROW
        assert axe_violations(tab) == []
    assert nu_errors([page]) == []
