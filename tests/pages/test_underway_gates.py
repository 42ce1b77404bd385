"""The script of the day's page on plans that wait for the clock or the sun: what the proof says, number for number."""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser

import briefgen
from briefgen.charts.interactive.figures import written
from briefgen.pages.context import PageContext
from briefgen.pages.html.pictures import Pictures
from briefgen.pages.planning.underway import script_data
from briefgen.proof.deciding.underway.day import Day, make_day
from briefgen.proof.deciding.underway.document import document
from briefgen.proof.deciding.underway.forecast import forecast
from briefgen.proof.deciding.underway.situation import Progress, Situation
from briefgen.proof.evidence import Evidence, SortieEvidence
from tests.pages.test_underway_pages import asked, differences
from tests.practice.test_questions import with_words
from tests.proof.plans import library_of, random_content
from tests.proof.test_underway import some_situation

pytestmark = pytest.mark.browser
PLANS, EACH = 60, 12
SCRIPT = (Path(briefgen.__file__).parent / "assets" / "underway.js").read_text("utf-8")


def clocked_cases() -> Iterator[SortieEvidence]:
    """Random plans, sound or not, in which a step waits for a sunrise or a sunset."""
    suns = seed = 0
    while suns < PLANS:
        seed += 1
        for proved in Evidence(library_of(with_words(random_content(seed)))).sorties.values():
            if proved.plan.circle or (proved.before and proved.before.plan.circle):
                continue
            if any(one.event for one in proved.timeline.gates.values()):
                suns += 1
                yield proved


def situations(day: Day, rng: random.Random) -> Iterator[Situation]:
    """Any that can be, and, so that a gate just opens or has just shut, some a hair to either side of an opening."""
    edges = [edge for gate in day.gates.values() for edge in (*gate.openings, gate.earliest, gate.end)]
    for _ in range(EACH):
        some = some_situation(day, rng)
        yield some
        now = max(0.0, min(rng.choice(edges), day.length) + rng.choice([-1e-7, 0.0, 1e-7, -0.5, 0.5]))
        yield Situation(now, {who: Progress(one.steps, rng.choice([None, now])) for who, one in some.people.items()})


def script_answers(browser: Browser, day: Day, context: PageContext, rows: list[Situation]) -> list[dict[str, Any]]:
    page = browser.new_page()
    page.set_content(f'<div data-day><script type="application/json" data-day-data>{written(script_data(context, day))}'
                     "</script></div>")  # fmt: skip
    page.add_script_tag(content=SCRIPT)
    found: list[dict[str, Any]] = page.evaluate(
        "rows => rows.map(document.querySelector('[data-day]').briefgenDay.answer)", [*map(asked, rows)]
    )
    page.close()
    return found


def test_the_script_waits_for_the_sun_as_the_proof_does(browser: Browser, tmp_path: Path) -> None:
    rng, wrong, waited, moved = random.Random(20420915), [], 0, set()
    for proved in clocked_cases():
        context, day = PageContext(proved.evidence, Pictures(tmp_path, proved.library)), make_day(proved)
        rows = list(situations(day, rng))
        for situation, theirs in zip(rows, script_answers(browser, day, context, rows), strict=True):
            ours = document(day, situation, stops=False)
            ours["home"] = {key: ours["home"][key] for key in ("cut", "wait_s", "back_s", "bare_s")}
            wrong += [f"{json.dumps(asked(situation))} {one}" for one in differences(ours, theirs)]
            for index, (start, _) in forecast(day, situation).times.items():
                if index in day.gates and day.gates[index].event and start in day.gates[index].openings:
                    waited += 1
                    moved.add((proved.sortie.id, index, start))
    assert wrong == []
    assert waited > PLANS, "steps that begin as the sun rises or sets"
    assert len(moved) > 20, "at more than one of its openings"
