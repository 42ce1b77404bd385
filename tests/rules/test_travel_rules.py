"""Rules of travel, tethers, places, supplies, light and time: exact places, no cascades, and lines that settle it."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from briefgen.build import examine
from briefgen.findings import Finding, Level
from briefgen.proof.evidence import Evidence
from briefgen.reading.folder import read_folder
from briefgen.rules.registry import all_rules
from briefgen.rules.ways.travelled import flight
from briefgen.source import Position
from tests.rule_modules import module_of

SMALL_WORLD = Path(__file__).parents[2] / "briefgen" / "examples" / "small_world.yaml"
Check = Callable[[str], tuple[Finding, ...]]
IN = "who: ev1, at: lock, do: Go in., takes: 2 min"
IN2 = "who: ev2, at: lock, do: Go in., takes: 2 min"


@pytest.fixture
def check(tmp_path: Path) -> Check:
    """The findings of an example in the small world."""
    (tmp_path / "small-world.yaml").write_text(SMALL_WORLD.read_text("utf-8"), "utf-8")

    def run(example: str) -> tuple[Finding, ...]:
        (tmp_path / "example.yaml").write_text(example, "utf-8")
        return examine(tmp_path).findings

    return run


def named(findings: tuple[Finding, ...], *rules: str) -> list[Finding]:
    return [finding for finding in findings if finding.rule in rules]


def line_of(example: str, words: str) -> int:
    return next(number for number, line in enumerate(example.splitlines(), start=1) if words in line)


def with_line(example: str, finding: Finding) -> str:
    """The example with the line that a finding says to write: a step before, or a key in the step."""
    spot = finding.write_at or finding.position
    lines = example.splitlines()
    line = lines[spot.line - 1]
    if finding.write.startswith("- "):
        lines.insert(spot.line - 1, " " * (len(line) - len(line.lstrip())) + finding.write)
    elif finding.write.startswith("after:") and "after:" in line:
        lines[spot.line - 1] = re.sub(r"after: \[[^]]*\]", finding.write, line)
    else:
        lines[spot.line - 1] = line.replace("{", "{" + finding.write + ", ", 1)
    return "\n".join(lines)


# The line to write settles it ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("rule", "example"),
    [
        (
            "tether-too-short",
            flight(f"who: ev1, at: k3, do: Look., takes: 2 min\n{IN}", limits="length: 2 h, tether: 8 m"),
        ),
        (
            "tether-left-behind",
            flight(
                f"""
                who: ev1, at: k1, to: plate, do: Step over., takes: 1 min
                who: ev1, at: plate, to: tip, do: Ride., takes: 4 min
                who: ev1, at: tip, to: lock, do: Ride back., takes: 4 min
                {IN}
                """
            ),
        ),
        (
            "tether-left-behind",
            flight(
                f"""
                who: ev1, at: k1, to: plate, do: Step over., takes: 1 min
                who: ev1, at: plate, do: Hang it here., takes: 1 min, anchors: plate
                who: ev1, at: plate, to: k1, do: Step off., takes: 1 min
                {IN}
                """
            ),
        ),
        ("tether-left-out", flight(f"who: ev1, at: k1, do: Hang it here., takes: 1 min, anchors: k1\n{IN}")),
        (
            "crowded-place",
            flight(
                f"""
                who: ev1, at: k3, do: Count., takes: 2 min
                who: ev1, at: k3, do: Count again., takes: 2 min
                who: ev2, at: k3, do: Look., takes: 9 min
                who: ev2, at: k3, do: Look again., takes: 2 min
                {IN}
                {IN2}
                """,
                "ev1 ev2",
            ),
        ),
    ],
)
def test_the_line_to_write_settles_it(check: Check, rule: str, example: str) -> None:
    (finding,) = named(check(example), rule)
    mended = with_line(example, finding)
    assert mended != example
    assert named(check(mended), rule, "order-circle", "anchor-elsewhere", "not-an-anchor") == []


def test_the_step_that_brings_a_person_home_settles_it(check: Check) -> None:
    example = flight("who: ev1, at: k2, do: Look., takes: 2 min")
    (finding,) = named(check(example), "not-home-at-end")
    assert named(check(example.replace("\nsorties:", f"\n      {finding.write}\nsorties:")), "not-home-at-end") == []


def crossing(ev2_first: str, ev1_first: str) -> str:
    """Two people with two steps each at a place with room for one, of which one order is already settled."""
    return flight(
        f"""
        id: a-one, who: ev1, at: k3, do: Count., takes: 2 min{ev1_first}
        id: a-two, who: ev1, at: k3, do: Count again., takes: 2 min
        id: b-one, who: ev2, at: k3, do: Look., takes: 2 min{ev2_first}
        id: b-two, who: ev2, at: k3, do: Look again., takes: 9 min
        {IN}
        {IN2}
        """,
        "ev1 ev2",
    )


def test_the_line_makes_no_circle_where_part_of_the_order_is_settled(check: Check) -> None:
    example = crossing("", ", after: [work/b-one]")
    (finding,) = named(check(example), "crowded-place")
    assert finding.write == "after: [work/a-two]"
    assert finding.write_at is not None
    assert finding.write_at.line == line_of(example, "b-two")
    assert named(check(with_line(example, finding)), "crowded-place", "order-circle") == []


def test_the_line_keeps_whole_stays_apart(check: Check) -> None:
    example = crossing("", "")
    (finding,) = named(check(example), "crowded-place")
    assert finding.write == "after: [work/a-two]"
    assert finding.write_at is not None
    assert finding.write_at.line == line_of(example, "b-one")


# One mistake, one finding -------------------------------------------------------------------------------------------


def test_a_place_out_of_reach_is_told_once_and_nothing_that_follows_from_it(check: Check) -> None:
    example = flight(
        f"""
        who: ev1, at: tip, do: Look., takes: 2 min
        who: ev1, at: tip, do: Look again., takes: 2 min
        who: ev1, at: k2, do: Look here., takes: 2 min
        {IN}
        """,
        limits="length: 2 h, tether: 26 m, return_within: 20 min",
    )
    found = [finding for finding in check(example) if finding.level is Level.ERROR]
    assert [(finding.rule, finding.position.line) for finding in found] == [("unreachable-place", 7)]


def test_several_steps_beyond_the_tether_make_one_finding_at_the_first(check: Check) -> None:
    example = flight(
        f"""
        who: ev1, at: k2, do: Look., takes: 2 min
        who: ev1, at: k3, do: Look there., takes: 2 min
        who: ev1, at: k3, do: Look again., takes: 2 min
        {IN}
        """,
        limits="length: 2 h, tether: 10 m",
    )
    (finding,) = named(check(example), "tether-too-short")
    assert finding.position == Position("example.yaml", line_of(example, "Look there"), 24)
    assert "12 m" in finding.sentence


def test_two_people_with_the_same_trouble_share_a_finding(check: Check) -> None:
    example = flight(
        f"who: [ev1, ev2], at: far, do: Look., takes: 2 min\n{IN}\n{IN2}",
        "ev1 ev2",
        limits="length: 2 h, tether: 26 m, return_within: 5 min",
    )
    found = check(example)
    for rule in ("tether-too-short", "return-too-long"):
        (finding,) = named(found, rule)
        assert "EV1 and EV2" in finding.sentence


def test_a_ride_to_a_place_too_far_from_home_is_told_at_the_ride(check: Check) -> None:
    example = flight(
        f"""
        who: ev1, at: k1, to: plate, do: Step over., takes: 1 min
        who: ev1, at: plate, do: Hang it here., takes: 1 min, anchors: plate
        who: ev1, at: plate, to: tip, do: Ride., takes: 12 min
        who: ev1, at: tip, to: plate, do: Ride back., takes: 12 min
        who: ev1, at: plate, to: lock, do: Step off., takes: 1 min
        {IN}, anchors: lock
        """,
        limits="length: 2 h, return_within: 10 min",
    )
    (finding,) = named(check(example), "return-too-long")
    assert finding.position == Position("example.yaml", 9, line_of_column(example, 9, "tip"))
    assert "14 min" in finding.sentence  # 12 min of ride, 1 min over the plate, 1 min from K1


def line_of_column(example: str, line: int, words: str) -> int:
    return example.splitlines()[line - 1].index(words) + 1


# Without the optional tasks -----------------------------------------------------------------------------------------


def optional(text: str, task: str) -> str:
    """The example with one task marked as optional."""
    return re.sub(rf"(  {task}:\n    title: [^\n]*\n)", r"\1    priority: time-permitting\n", text)


TWO_TASKS = """
tasks:
  hang:
    title: Hang the tether
    purpose: To reach far.
    place: k1
    steps:
      - {id: hook, who: ev1, do: Move the safety tether to K1., takes: 2 min, anchors: k1}
  look:
    title: Look
    purpose: To know.
    place: k3
    steps:
      - {id: see, who: ev1, do: Look at the plates., takes: 2 min}
      - {who: ev1, at: lock, do: Go in., takes: 2 min, anchors: lock}
sorties: {s: {title: S, flow: {ev1: [hang, look]}, limits: {length: 2 h, tether: 8 m}}}
"""


def test_an_anchor_in_an_optional_task_is_not_relied_on_without_it(check: Check) -> None:
    whole = named(check(TWO_TASKS), "tether-too-short")
    assert [finding.position.line for finding in whole] == []
    (finding,) = named(check(optional(TWO_TASKS, "hang")), "tether-too-short")
    assert "when “Hang the tether” is left out" in finding.sentence


ROOM = """
tasks:
  count: {title: Count, purpose: To know., place: k3, steps: [{id: all, who: ev1, do: Count them., takes: 2 min}]}
  call:
    title: Call
    purpose: To say so.
    steps: [{id: out, who: desk, do: Say that the count is over., takes: 1 min, after: [count/all]}]
  look:
    title: Look
    purpose: To know.
    place: k3
    steps: [{id: see, who: ev2, do: Look at them., takes: 2 min, after: [call/out]}]
  come: {title: In, purpose: To end., place: lock, steps: [{who: [ev1, ev2], do: Go in., takes: 2 min}]}
sorties:
  s:
    title: S
    flow: {ev1: [count, come], ev2: [look, come], desk: [call]}
    limits: {length: 2 h}
"""


def test_an_order_by_way_of_an_optional_task_does_not_keep_people_apart_without_it(check: Check) -> None:
    assert named(check(ROOM), "crowded-place") == []
    (finding,) = named(check(optional(ROOM, "call")), "crowded-place")
    assert "when “Call” is left out" in finding.sentence
    assert finding.write == "after: [call/out, count/all]"


# Sentences with figures ---------------------------------------------------------------------------------------------


def test_a_supply_names_the_step_at_which_it_reaches_its_reserve(check: Check) -> None:
    example = flight(
        """
        who: ev1, do: Turn the crank., takes: 60 min
        who: ev1, do: Turn it back., takes: 60 min
        """,
        limits="length: 3 h",
    ).replace("flow:", "flow:")
    suits = "\nsuits:\n  thin: {supplies: {battery: {holds: 10 Ah, keeps: 1 Ah, per_hour: 6 Ah}}}\npeople:\n"
    ev3 = "  ev3: {label: EV3, post: outside, suit: thin, mark: {pattern: dots, word: Dots}}\n"
    found = check(example.replace("ev1", "ev3") + suits + ev3)
    (finding,) = named(found, "supply-runs-short")
    # 9 Ah at 6 Ah an hour last for an hour and a half.
    assert "1 Ah at 1:30:00, during “Turn it back” (EV3, work/2)" in finding.sentence
    assert "at 2:00:00, 2 Ah would be missing" in finding.sentence
    assert named(found, "limit-beyond-supplies") == []  # one mistake, one finding


def test_listed_days_may_touch(check: Check) -> None:
    example = flight("who: ev1, do: Look., takes: 2 min") + "\n    light: [[0 min, 60 min], [60 min, 90 min]]"
    assert named(check(example), "light-out-of-order") == []


def test_the_first_sunset_is_found_however_late_the_one_named(check: Check) -> None:
    orbit = "\n    orbit: {altitude: 410 km, beta: 28°, first_sunset: 5 h}"
    (finding,) = named(check(flight("who: ev1, do: Look., takes: 2 min") + orbit), "sunset-not-first")
    assert "every 1 h 32 min 46 s" in finding.sentence
    assert "there is one at 0:21:42" in finding.sentence  # 5 h less three turns of 92 min 45.9 s


def test_too_long_a_plan_says_which_optional_task_is_enough_to_leave_out(check: Check) -> None:
    example = """
tasks:
  drill: {title: Drill, purpose: To open., place: lock, steps: [{who: ev1, do: Drill it., takes: 40 min}]}
  polish:
    title: Polish
    purpose: To shine.
    place: lock
    priority: time-permitting
    steps: [{who: ev1, do: Polish it., takes: 30 min}]
sorties: {s: {title: S, flow: {ev1: [drill, polish]}, limits: {length: 1 h 30 min, reserve: 30 min}}}
"""
    (finding,) = named(check(example), "past-the-limit")
    assert "takes 1 h 10 min as planned, 10 min more than the 1 h 00 min" in finding.sentence
    assert "Without “Polish” it would take 40 min." in finding.sentence


def test_a_plan_that_just_fits_its_limit_is_no_finding_and_a_second_more_is(check: Check) -> None:
    for takes, found in (("30 min", 0), ("30 min 1 s", 1)):
        example = flight(f"who: ev1, do: Drill it., takes: {takes}", limits="length: 1 h, reserve: 30 min")
        assert len(named(check(example), "past-the-limit")) == found


def test_a_wait_of_less_than_a_quarter_of_an_hour_is_no_finding_and_nobody_inside_waits(check: Check) -> None:
    steps = """
        id: drill, who: ev1, do: Turn the crank., takes: {}
        who: {}, do: Look at the crank., takes: 2 min, after: [work/drill]
    """
    for takes, who, found in (("14 min 50 s", "ev2", 0), ("15 min", "ev2", 1), ("40 min", "desk", 0)):
        example = flight(steps.format(takes, who), f"ev1 {who}")
        assert len(named(check(example), "needless-wait")) == found


def test_a_wait_can_be_accepted_on_its_task(check: Check) -> None:
    example = flight(
        """
        id: drill, who: ev1, do: Turn the crank., takes: 20 min
        who: ev2, do: Look at the crank., takes: 2 min, after: [work/drill]
        """,
        "ev1 ev2",
    )
    (finding,) = named(check(example), "needless-wait")
    accepted = example.replace(
        "    title: Work\n", f"    title: Work\n    {finding.write.replace('…', 'EV2 rests.')}\n"
    )
    assert named(check(accepted), "needless-wait") == []


@pytest.mark.parametrize("tether", ["0 m", "-26 m"])
def test_a_tether_of_nothing_is_told_and_not_measured(check: Check, tether: str) -> None:
    example = flight(f"who: ev1, at: k2, do: Look., takes: 2 min\n{IN}", limits=f"length: 2 h, tether: {tether}")
    assert [finding.rule for finding in check(example) if finding.level is Level.ERROR] == ["limit-without-sense"]


# The demo, broken on purpose ----------------------------------------------------------------------------------------

DEMO = Path(__file__).parents[2] / "content_demo"
MODULES = {"travel", "tether", "places", "supplies", "light", "time"}


def demo_errors(folder: Path, pattern: str = "", change: Callable[[re.Match[str]], str] = lambda found: "") -> set[str]:
    """The rules of these modules that find errors in the demo after one change in all its files."""
    count = 0
    for path in DEMO.rglob("*.yaml"):
        target = folder / path.relative_to(DEMO)
        target.parent.mkdir(parents=True, exist_ok=True)
        text = path.read_text("utf-8")
        if pattern:
            text, times = re.subn(pattern, change, text)
            count += times
        target.write_text(text, "utf-8")
    assert count or not pattern
    reading = read_folder(folder)
    evidence = Evidence(reading.library, reading.broken, reading.sources)
    ours = (rule for rule in all_rules().values() if module_of(rule) in MODULES and rule.level is Level.ERROR)
    return {finding.rule for rule in ours for finding in rule.findings(evidence)}


def test_the_demo_has_none_of_these_errors(tmp_path: Path) -> None:
    assert demo_errors(tmp_path) == set()


def halved(found: re.Match[str]) -> str:
    return f"{found[1]}{float(found[2]) / 2:g}"


@pytest.mark.parametrize(
    ("pattern", "change", "rule"),
    [
        (r"(tether: )([\d.]+)", halved, "tether-too-short"),
        (r"(return_within: )([\d.]+)", halved, "return-too-long"),
        (r"(oxygen: \{holds: )([\d.]+)", halved, "supply-runs-short"),
        (r"(battery: \{holds: )([\d.]+)", halved, "supply-runs-short"),
        (r"(cooling-water: \{holds: )([\d.]+)", halved, "supply-runs-short"),
        (r"(absorber: \{holds: )([\d.]+)", halved, "supply-runs-short"),
        (r"(limits: \{length: )([\d.]+)", halved, "past-the-limit"),
        (r"(?m)^  keel-3-4: .*$", lambda found: "", "unreachable-place"),
        (r"anchors: arm-plate", lambda found: "effort: light", "tether-left-behind"),
        (r"orbit: .*", lambda found: "light: [[0 min, 1 min]]", "work-in-the-dark"),
        (r"orbit: .*", lambda found: "", "light-unknown"),
        (r"(?s)room: 2(.*?)(?=\n  [a-z])", lambda found: f"room: 1{found[1]}", "room-too-small"),
    ],
)
def test_the_demo_broken_on_purpose_is_caught(
    tmp_path: Path, pattern: str, change: Callable[[re.Match[str]], str], rule: str
) -> None:
    assert rule in demo_errors(tmp_path, pattern, change)
