"""Every slip tried out: caught by a finding, harmless by proof, or survived."""

from __future__ import annotations

import gc
from collections.abc import Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache
from multiprocessing import get_context

from briefgen.proof.evidence import Evidence
from tests.mutation.demo import demo
from tests.mutation.explain import explained
from tests.mutation.harmless import ABOUT_ORDER, reason
from tests.mutation.slips import Slip, all_slips


@dataclass(frozen=True)
class Outcome:
    """What became of a slip.

    `rules` are the rules that caught it; `harmless` says why it changes nothing; `note` explains why it survived.
    `called_harmless` is what would be said of a caught slip about order, were it not caught.
    """

    kind: str
    where: str
    rules: tuple[str, ...]
    harmless: str | None = None
    note: str = ""
    called_harmless: str | None = None

    @property
    def caught(self) -> bool:
        return bool(self.rules)

    @property
    def survived(self) -> bool:
        return not self.rules and self.harmless is None


@cache
def slips() -> tuple[Slip, ...]:
    """All slips that can be made in the demo."""
    return tuple(all_slips(demo()))


def try_out(number: int) -> Outcome:
    """What becomes of one slip."""
    slip, content = slips()[number], demo()
    rules = tuple(sorted({finding.rule for finding in content.findings(slip.records)}))
    about_order, reading = slip.kind in ABOUT_ORDER, content.changed(slip.records)
    if reading is None or (rules and not about_order):
        return Outcome(slip.kind, slip.where, rules)  # an unreadable record is a finding
    before, after = content.whole.evidence, Evidence(reading.library)
    circle = any(case.plan.circle for case in after.sorties.values())
    harmless = reason(before, after) if about_order and not circle else None
    if rules:
        return Outcome(slip.kind, slip.where, rules, called_harmless=harmless)
    return Outcome(slip.kind, slip.where, (), harmless, "" if harmless else explained(slip, before, after))


def _start() -> None:
    """What is read once lives as long as the process: the collector need not look at it again and again."""
    slips()
    gc.freeze()


def try_all(numbers: Iterable[int], workers: int) -> Iterator[Outcome]:
    """The outcomes in order; several processes share the work."""
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn"), initializer=_start) as pool:
        yield from pool.map(try_out, numbers, chunksize=8)
