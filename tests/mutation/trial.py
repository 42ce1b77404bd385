"""Every slip tried out: caught by a finding, harmless by proof, or survived."""

from __future__ import annotations

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
    """

    kind: str
    where: str
    rules: tuple[str, ...]
    harmless: str | None = None
    note: str = ""

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
    rules = sorted({finding.rule for finding in content.findings(slip.records)})
    if rules:
        return Outcome(slip.kind, slip.where, tuple(rules))
    reading = content.changed(slip.records)
    assert reading is not None  # an unreadable record is a finding
    before, after = content.whole.evidence, Evidence(reading.library)
    harmless = reason(before, after) if slip.kind in ABOUT_ORDER else None
    return Outcome(slip.kind, slip.where, (), harmless, "" if harmless else explained(slip, before, after))


def try_all(numbers: Iterable[int], workers: int) -> Iterator[Outcome]:
    """The outcomes in order; several processes share the work."""
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn")) as pool:
        yield from pool.map(try_out, numbers, chunksize=8)
