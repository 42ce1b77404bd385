"""Charts are found by being there: one module or folder is all that a new one takes."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

import briefgen.charts.kinds
from briefgen.charts.registry import charts
from briefgen.pages.html.plots import Plots
from briefgen.pages.links import Links
from briefgen.proof.evidence import SortieEvidence

DIALS = """
from dataclasses import replace
from briefgen.charts.kinds.homeward import CHART as HOMEWARD
CHART = replace(HOMEWARD, name="dials")
"""


@pytest.fixture
def package(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[Path]:
    """A folder in which modules are charts, too, for one test."""
    monkeypatch.setattr(briefgen.charts.kinds, "__path__", [*briefgen.charts.kinds.__path__, str(tmp_path)])
    charts.cache_clear()
    yield tmp_path
    charts.cache_clear()


def plots(sortie: SortieEvidence) -> Plots:
    return Plots(sortie.library, Links(sortie.library, directory_urls=False))


def test_the_charts_of_the_site_are_there() -> None:
    assert {"timeline", "steps", "map", "player"} <= set(charts())
    assert all(name == one.name for name, one in charts().items())


def test_a_module_with_a_chart_is_one_that_pages_can_draw(package: Path, first_sortie: SortieEvidence) -> None:
    (package / "dials_of_one_test.py").write_text(DIALS, encoding="utf-8")
    assert 'data-chart="dials"' in plots(first_sortie).draw("dials", first_sortie)


def test_two_charts_of_one_name_are_refused(package: Path) -> None:
    (package / "second_map_of_one_test.py").write_text(DIALS.replace("dials", "map"), encoding="utf-8")
    with pytest.raises(ValueError, match="two charts are called map"):
        charts()


def test_a_chart_that_does_not_exist_and_one_without_its_sortie_are_refused(first_sortie: SortieEvidence) -> None:
    with pytest.raises(KeyError, match="dials"):
        plots(first_sortie).draw("dials", first_sortie)
    with pytest.raises(ValueError, match="shows a sortie"):
        plots(first_sortie).draw("timeline")


@pytest.mark.parametrize("name", sorted(set(charts()) - {"map"}))
def test_while_somebody_writes_only_what_has_other_rows_is_drawn_again(name: str, first_sortie: SortieEvidence) -> None:
    task = str(first_sortie.plan.steps[0].task.id)
    site = plots(first_sortie)
    site.kept = {}
    drawn = site.draw(name, first_sortie, task)
    assert site.draw(name, first_sortie, task) is drawn
    ((key, (_, html)),) = site.kept.items()
    site.kept[key] = ("other rows", html)
    again = site.draw(name, first_sortie, task)
    assert again is not drawn
    assert again == drawn
