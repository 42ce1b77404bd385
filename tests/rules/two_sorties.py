"""Two sorties of EV1, one task each, laid over the small world."""

from __future__ import annotations

from collections.abc import Sequence

EFFORT = "effort: {rest: 120 W, light: 220 W, moderate: 320 W, hard: 450 W}"
PROGRAMME = f"programme: {{p: {{title: P, sorties: [s, t], paces: {{outside: 6 m/min, loaded: 3 m/min}}, {EFFORT}}}}}"


def two_sorties(
    first: Sequence[str], second: Sequence[str], *, over: str = "", over_again: str = "", optional: str = "",
    needs: str = "", more: str = "",
) -> str:  # fmt: skip
    """The first sortie's task is `one`, the second's `two`; `optional` names those that may be left out.

    `over` and `over_again` are what each carries over, `needs` the second task's prerequisites.
    """
    return (
        f"{PROGRAMME}\ntasks:\n{_task('one', first, optional)}{_task('two', second, optional, needs)}"
        f"sorties:\n{_sortie('s', 'one', over)}{_sortie('t', 'two', over_again)}{more}"
    )


def _task(name: str, steps: Sequence[str], optional: str, needs: str = "") -> str:
    lines = "\n".join(f"      - {{{step}}}" for step in steps)
    keys = "    priority: time-permitting\n" if name in optional.split() else ""
    keys += f"    prerequisites: [{needs}]\n" if needs else ""
    return (
        f"  {name}:\n    title: {name.title()}\n    purpose: To mend it.\n    place: lock\n{keys}    steps:\n{lines}\n"
    )


def _sortie(name: str, task: str, over: str) -> str:
    carried = f", carries_over: {{{over}}}" if over else ""
    return f"  {name}: {{title: {name.upper()}, flow: {{ev1: [{task}]}}, limits: {{length: 2 h}}{carried}}}\n"
