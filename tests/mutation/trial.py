"""Every slip tried out: caught by a finding, harmless by proof, or survived."""

from __future__ import annotations

import gc
from collections.abc import Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache, partial
from multiprocessing import get_context

from briefgen.findings import Finding
from tests.mutation.demo import UNREADABLE, demo
from tests.mutation.explain import explained
from tests.mutation.harmless import ABOUT_ORDER, NARROWING, reason
from tests.mutation.slips import Slip, all_slips


@dataclass(frozen=True)
class Outcome:
    """What became of a slip.

    `rules` are the rules that caught it, or the first of them that was asked; `harmless` says why it changes nothing;
    `note` explains why it survived.
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


def try_out(number: int, every: bool = True) -> Outcome:
    """What becomes of one slip. Without `every` the first rule that catches it is enough, unless it is about order."""
    slip, content = slips()[number], demo()
    reading = content.changed(slip.records)
    if reading is None:
        return Outcome(slip.kind, slip.where, (UNREADABLE.rule,))  # an unreadable record is a finding
    about_order = slip.kind in (*ABOUT_ORDER, *NARROWING)
    if not every and not about_order:
        found = content.caught(reading)
        if found:
            return Outcome(slip.kind, slip.where, named(found))
    whole = content.examined(reading)
    rules = named(content.fresh(whole))
    if rules and not about_order:
        return Outcome(slip.kind, slip.where, rules)
    before, after = content.whole.evidence, whole.evidence
    circle = any(proved.plan.circle for proved in after.sorties.values())
    narrows = slip.kind in NARROWING
    harmless = reason(before, after, narrows) if about_order and not circle else None
    if rules:
        return Outcome(slip.kind, slip.where, rules, called_harmless=harmless)
    return Outcome(slip.kind, slip.where, (), harmless, "" if harmless else explained(slip, before, after))


def named(findings: Iterable[Finding]) -> tuple[str, ...]:
    """The rules of findings, each once, by name."""
    return tuple(sorted({finding.rule for finding in findings}))


def _start() -> None:
    """What is read once lives as long as the process: the collector need not look at it again and again."""
    slips()
    gc.freeze()


def try_all(numbers: Iterable[int], workers: int, every: bool = True) -> Iterator[Outcome]:
    """The outcomes in order; several processes share the work. `every`: as of one slip."""
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn"), initializer=_start) as pool:
        yield from pool.map(partial(try_out, every=every), numbers, chunksize=8)
