"""`briefgen now`: the numbers of the proof in words and as JSON, and a sentence for what can't be so."""

from __future__ import annotations

import json

import pytest

from briefgen.cli import main
from tests.demo import CONTENT, demo

Printed = pytest.CaptureFixture[str]
ASK = ["now", str(CONTENT), "--sortie", "sortie-1", "--at"]
LATE = [
    "2:33:48", "--done", "ev1=swap-pump/pass-old-unit@2:33:48", "--done", "ev2=swap-pump/pass-old-unit@2:33:48",
    "--done", "iv=leave-airlock/give-go", "--done", "ground=swap-pump/confirm-no-flow",
]  # fmt: skip


def test_25_minutes_late_in_the_middle_of_the_pump(capsys: Printed) -> None:
    assert main([*ASK, *LATE, "--json"]) == 0
    its = json.loads(capsys.readouterr().out)
    proved = demo().evidence.sorties["sortie-1"]
    # The old unit is handed across at 7728 s as planned, and 1500 s later here: so much later is the end.
    assert its["late_s"] == pytest.approx(1500, abs=1e-3)
    assert its["finish_s"] == pytest.approx(proved.timeline.finish + 1500, abs=1e-3)
    (drop,) = its["omissions"]
    assert (drop["tasks"], drop["why_not"]) == (["run-water-line"], None)
    latest = {one.task: one.latest for one in proved.latest}
    assert {one["task"]: one["latest_s"] for one in its["due"]} == {
        task: pytest.approx(latest[task])
        for task in ("service-louvre", "collect-plates", "run-water-line", "restore-feeds", "close-cover", "come-in")
    }
    assert its["home"]["open"]
    assert its["home"]["all_s"] > max(its["home"]["bare_s"].values()) > 0


def test_words_say_that_it_is_for_training_and_what_is_assumed(capsys: Printed) -> None:
    assert main([*ASK, *LATE]) == 0
    out = capsys.readouterr().out
    assert out.startswith("For training and rehearsal. Never the approved procedure")
    assert "25 min later than planned" in out
    assert "nobody read a gauge" in out
    assert "Supplies from here (computed, not read)" in out
    assert "The written way back" in out


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (["2:00", "--done", "ev1=swap-pump/pass-old-unit"], "is done together: it is finished for EV1 and EV2, or"),
        (["2:00", "--done", "ev9=swap-pump/pass-old-unit"], "names nobody of this sortie"),
        (["2:00", "--done", "ev1"], "names nobody of this sortie"),
        (["2:00", "--done", "ev1=swap-pump/dance"], "is no step of “ev1”"),
        (["2:00", "--done", "iv=leave-airlock/log-supplies@2:01"], "can't be over after now"),
        (["99:00"], "too far beyond the sortie's length"),
        (["2.5"], "is no elapsed time"),
        (["2:75"], "is no elapsed time"),
    ],
)
def test_what_cannot_be_so_is_refused_in_a_sentence(more: list[str], words: str, capsys: Printed) -> None:
    assert main([*ASK, *more]) == 2
    assert words in capsys.readouterr().err


def test_a_sortie_must_be_named_where_there_are_several(capsys: Printed) -> None:
    assert main(["now", str(CONTENT), "--at", "1:00"]) == 2
    assert "Say which sortie: --sortie sortie-1 or --sortie sortie-2" in capsys.readouterr().err
