"""The page of the day as it goes: its script says what the proof says, number for number, on random situations."""

from __future__ import annotations

import json
import random
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser

from briefgen.proof.deciding.underway.day import make_day
from briefgen.proof.deciding.underway.document import document
from briefgen.proof.deciding.underway.situation import Situation
from tests.browser_tools import opened
from tests.demo import demo
from tests.pages.site_tools import BuiltSite
from tests.proof.test_underway import on_plan, some_situation

pytestmark = pytest.mark.browser
SEED, MANY, KNOWN = 20420914, 1000, 450
SORTIES = ("sortie-1", "sortie-2")


def asked(situation: Situation) -> dict[str, Any]:
    return {"now": situation.now, "people": [[one.steps, one.since] for one in situation.people.values()]}


def differences(ours: Any, theirs: Any, where: str = "") -> list[str]:
    """Where two documents differ, numbers by more than a millionth of a second or unit."""
    if isinstance(ours, dict):
        rows = [differences(ours[key], theirs.get(key, "missing"), f"{where}.{key}") for key in ours]
        return [one for row in rows for one in row]
    if isinstance(ours, list):
        if not isinstance(theirs, list) or len(ours) != len(theirs):
            return [f"{where}: {ours} {theirs}"]
        pairs = enumerate(zip(ours, theirs, strict=True))
        return [one for place, (a, b) in pairs for one in differences(a, b, f"{where}[{place}]")]
    if isinstance(ours, float | int) and not isinstance(ours, bool) and isinstance(theirs, float | int):
        return [] if abs(ours - theirs) <= 1e-6 * max(1.0, abs(ours) * 1e-3) else [f"{where}: {ours} {theirs}"]
    return [] if ours == theirs else [f"{where}: {ours} {theirs}"]


@pytest.mark.parametrize("name", SORTIES)
def test_the_script_says_what_the_proof_says(name: str, demo_folder: Path, browser: Browser) -> None:
    day, rng = make_day(demo().evidence.sorties[name]), random.Random(SEED)
    situations = [some_situation(day, rng) for _ in range(MANY)]
    situations += [on_plan(day, day.finish * part / 20) for part in range(21)]
    with opened(browser, (demo_folder / f"underway/{name}.html").as_uri()) as (tab, _):
        answers = tab.evaluate(
            "rows => rows.map(document.querySelector('[data-day]').briefgenDay.answer)", [*map(asked, situations)]
        )
    wrong, known = [], 0
    for situation, theirs in zip(situations, answers, strict=True):
        # What the page knows of a stop was searched ahead, on the way from the plan; here it is searched by itself.
        ours, home = document(day, situation, stops=theirs["home"]["known"]), theirs["home"]
        if home["known"]:
            known += 1
        else:
            ours["home"] = {key: ours["home"][key] for key in ("cut", "wait_s", "back_s", "bare_s")}
        wrong += [f"{json.dumps(asked(situation))} {one}" for one in differences(ours, theirs)]
    assert wrong == []
    assert known > KNOWN, "stops that the page knows, compared number for number as well"


def test_the_page_says_first_that_it_is_for_training_and_has_tables_without_a_script(demo_site: BuiltSite) -> None:
    for name in SORTIES:
        article = demo_site.article(f"underway/{name}.html")
        assert "For training and rehearsal." in article.select("p")[1].get_text()
        assert "responsible authority" in article.select("p")[1].get_text()
        assert len(article.select("tbody tr")) >= 4
        assert article.select_one("[data-day-live][hidden]")
        assert article.select_one("[role=status]")


def test_without_a_script_nothing_leads_to_what_is_not_there(demo_folder: Path, browser: Browser) -> None:
    with opened(browser, (demo_folder / "underway/sortie-1.html").as_uri(), scripts=False) as (tab, _):
        links = tab.locator(".bg-toc a[href*='#_']")
        shown = [link for link in links.all() if link.is_visible()]
        assert [tab.locator("#" + str(link.get_attribute("href")).split("#")[1]).is_visible() for link in shown] == [
            True
        ]
    with opened(browser, (demo_folder / "underway/sortie-1.html").as_uri()) as (tab, _):
        assert sum(link.is_visible() for link in tab.locator(".bg-toc a[href*='#_']").all()) == 4
