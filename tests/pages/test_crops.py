"""The part of a figure beside a step: what it shows, where its rings are, and that letters cover nothing."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from briefgen.pages.context import PageContext
from briefgen.pages.doing.sequence import sequence
from briefgen.pages.things.crops import CROP, WHOLE, Sight
from briefgen.pages.things.leaders import PAGE, TURNS, Sheet, sides
from tests.demo import demo

TASKS = list(demo().library.tasks)


def letter(sheet: Sheet, side: str, point: tuple[float, float]) -> tuple[float, float]:
    turn = math.radians(TURNS[side])
    return point[0] + sheet.far * math.cos(turn), point[1] + sheet.far * math.sin(turn)


@pytest.mark.parametrize("sheet", [CROP, WHOLE])
@settings(deadline=None)
@given(x=some.floats(0, 1), y=some.floats(0, 1))
def test_a_letter_stands_within_the_picture_and_off_its_ring(sheet: Sheet, x: float, y: float) -> None:
    point = (x * sheet.wide, y * sheet.high)
    (side,) = sides(sheet, [point])
    across, down = letter(sheet, side, point)
    assert sheet.letter - 0.01 <= across <= sheet.wide - sheet.letter + 0.01
    assert sheet.letter - 0.01 <= down <= sheet.high - sheet.letter + 0.01
    assert math.dist(point, (across, down)) >= sheet.ring + sheet.letter


@settings(deadline=None)
@given(some.lists(some.tuples(some.integers(1, 6), some.integers(1, 4)), max_size=5, unique=True))
def test_no_letter_covers_another_or_another_s_ring_where_there_is_room(cells: list[tuple[int, int]]) -> None:
    sheet = Sheet(700, 500, ring=12, letter=8, far=24)
    points = [(100.0 * x, 100.0 * y) for x, y in cells]
    letters = [letter(sheet, side, point) for side, point in zip(sides(sheet, points), points, strict=True)]
    assert all(math.dist(*pair) > 2 * sheet.letter for pair in combinations(letters, 2))
    assert all(math.dist(one, point) > sheet.letter + sheet.ring for one in letters for point in points)


def shown(context: PageContext, task: str) -> list[tuple[Sight, bool]]:
    """Every sight of a task's steps in the order in which they are read, and whether it stands beside its step."""
    pieces = [piece for piece in sequence(context, context.library.tasks[task]).pieces if piece.step]
    return [(sight, sight.anchor == piece.crop) for piece in pieces if piece.step for sight in piece.step.sights]


@pytest.mark.parametrize("task", TASKS)
def test_a_callout_is_shown_beside_the_first_step_that_speaks_of_it_and_then_opens_on_demand(
    context: PageContext, task: str
) -> None:
    seen: set[str] = set()
    for sight, beside in shown(context, task):
        fresh = not seen.issuperset(sight.keys)
        assert fresh or not beside, sight.anchor
        seen.update(sight.keys if beside else ())


def test_most_first_sights_stand_beside_their_steps(context: PageContext) -> None:
    sights = [one for task in TASKS for one in shown(context, task)]
    keys = {(task, key) for task in TASKS for sight, _ in shown(context, task) for key in sight.keys}
    beside = {(task, key) for task in TASKS for sight, first in shown(context, task) if first for key in sight.keys}
    assert len(sights) > 100
    assert len(beside) > 0.8 * len(keys)


@pytest.mark.parametrize("task", TASKS)
def test_every_ring_lies_within_its_crop(context: PageContext, task: str) -> None:
    for sight, _ in shown(context, task):
        assert len(sight.rings) == len(sight.names)
        for ring in (*sight.rings, *sight.whole):
            assert 0 < float(ring.x) < 100
            assert 0 < float(ring.y) < 100
        assert float(sight.wide) >= 99.9
        assert float(sight.left) <= 0.1


@pytest.mark.parametrize("name", list(demo().library.figures))
def test_no_number_of_a_figure_covers_a_point_or_another_number(name: str) -> None:
    figure = demo().library.figures[name]
    wide = Sheet(740, 462, ring=7, letter=15, far=34)  # as the page shows it on a notebook
    shares = [(float(x), float(y)) for x, y in (callout.at for callout in figure.callouts.values())]
    chosen = sides(PAGE, [(x * PAGE.wide, y * PAGE.high) for x, y in shares])
    points = [(x * wide.wide, y * wide.high) for x, y in shares]
    numbers = [letter(wide, side, point) for side, point in zip(chosen, points, strict=True)]
    assert all(math.dist(*pair) > 2 * wide.letter - 4 for pair in combinations(numbers, 2))
    assert all(math.dist(one, point) > wide.letter for one in numbers for point in points)
