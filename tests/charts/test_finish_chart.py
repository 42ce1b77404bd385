"""The chart of a sortie's finish: bars, limits and table are those of the runs."""

from __future__ import annotations

import pytest

from briefgen.charts.kinds.finish import finish_rows
from briefgen.proof.chance.share import RUNS
from briefgen.proof.evidence import SortieEvidence
from briefgen.units import show_elapsed
from tests.charts.charts import drawn, made, words
from tests.proof.deciding_world import sortie_of


def test_every_run_is_in_one_bar(sortie: SortieEvidence) -> None:
    rows = finish_rows("s", "S", sortie.chance, sortie.timeline.finish)
    finishes = sortie.chance.finish.seconds
    assert sum(bar.share.hits for bar in rows.bars) == RUNS
    assert 8 <= len(rows.bars) <= 31
    for bar in rows.bars:
        assert bar.share.hits == sum(bar.start < one <= bar.end for one in finishes)
        assert bar.by.hits == sum(one <= bar.end for one in finishes)


def test_the_figures_bars_are_as_high_as_the_tables_shares(sortie: SortieEvidence) -> None:
    chart = made("finish", sortie)
    (bars,) = chart.figure["data"]
    assert sum(bars["y"]) == pytest.approx(100)
    told = {row[0].words: row[2].words for row in chart.table.rows}
    for (begin, _, share, _), height in zip(bars["customdata"], bars["y"], strict=True):
        assert told[begin] == share
        assert share.startswith("under") or float(share.split()[0]) == pytest.approx(height, abs=0.51)


def test_the_limits_are_named_in_still_and_figure(sortie: SortieEvidence) -> None:
    chart = made("finish", sortie)
    moments = (sortie.timeline.finish, sortie.chance.usable, sortie.chance.length)
    notes = [note["text"] for note in chart.figure["layout"]["annotations"]]
    for still in (chart.still, chart.narrow):
        said = words(drawn(still))
        assert all(show_elapsed(moment) in said for moment in moments)
    assert [note.rpartition(" ")[2] for note in notes] == [show_elapsed(moment) for moment in moments]


def test_a_sortie_that_never_varies_has_a_sentence_and_no_chart() -> None:
    proved = sortie_of({"a": ("required", [{"who": "ev1", "at": "lock", "takes": "5 min"}])})
    chart = made("finish", proved)
    assert (chart.still, chart.figure) == ("", {})
    assert chart.summary == "No duration has three points: every run ends at 0:05:00."
