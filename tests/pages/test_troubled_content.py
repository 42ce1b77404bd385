"""Content with findings that somebody has silenced still makes pages, tables and files: none of them breaks."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

import pytest

from briefgen.build import examine
from briefgen.export.calendar import NoStart, as_calendar
from briefgen.export.document import as_json
from briefgen.export.sheet import as_csv
from briefgen.pages.context import PageContext
from briefgen.pages.html.pictures import Pictures
from briefgen.pages.publishing.site import Site
from briefgen.rules.registry import Rule, all_rules
from briefgen.tables.registry import tables
from briefgen.terminal.plan import plan_text
from tests.rules.test_examples import lay_out

SILENT = [rule for rule in all_rules().values() if not rule.fixed and rule.wrong]


@pytest.mark.parametrize("rule", SILENT, ids=lambda rule: rule.name)
def test_it_is_shown_all_the_same(rule: Rule, tmp_path: Path) -> None:
    lay_out(tmp_path, rule.wrong, override=True)
    examination = examine(tmp_path, {rule.name: None})
    assert examination.proved
    assert rule.name not in {finding.rule for finding in examination.findings}

    site = Site(PageContext(examination.evidence, Pictures(tmp_path, examination.library)))
    pages = {uri: site.html(uri) for uri in site.pages}
    sorties = examination.evidence.sorties.values()
    plans = [plan_text(proved, tables(), 80) for proved in sorties]
    files = [as_json(sorties), as_csv(sorties)]
    with suppress(NoStart):
        files.append(as_calendar(sorties))
    for proved, plan in zip(sorties, plans, strict=True):
        title = " ".join(str(proved.sortie.title).split())
        assert title in pages[f"sorties/{proved.sortie.id}"]
        assert title in plan
        assert all(str(step.task.id) in text for step in proved.plan.steps for text in files[:2])
    assert not [uri for uri, html in pages.items() if ">inf<" in html or ">nan<" in html or "None</td>" in html]


def test_a_file_that_is_not_fit_to_publish_can_not_be_silenced(tmp_path: Path) -> None:
    rule = all_rules()["figure-missing"]
    lay_out(tmp_path, rule.wrong, override=True)
    found = [finding for finding in examine(tmp_path, {rule.name: None}).findings if finding.rule == rule.name]
    assert [finding.level for finding in found] == [rule.level]
