"""The reports on the proof: `python -m tests.reports [PLANS]` prints them, in some minutes.

First, the proof by order against the judge that plays every execution of so many random plans (10,000 if not said):
how many are sound, and every difference; half of them say things once. Then the cases of as many plans, each met once,
against the same judge. Then every slip that can be made in the demo: which share the findings catch,
kind by kind, which slips are provably harmless, and each survivor with the reason.
"""

from __future__ import annotations

import os
import sys
from collections import Counter
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

from tests.mutation.report import whole_report
from tests.proof import test_cases_judged, test_order_proof


def _tally(compared: Callable[[int], Counter[str]], shares: int) -> Counter[str]:
    """What comes of so many shares, by all processors."""
    tally: Counter[str] = Counter()
    with ProcessPoolExecutor(os.cpu_count(), mp_context=get_context("spawn")) as pool:
        for share in pool.map(compared, range(max(1, shares))):
            tally.update(share)
    return tally


def order_report(plans: int) -> str:
    """How often proof and judge agree, and where they don't."""
    tally = _tally(test_order_proof.compared, plans // test_order_proof.SHARE)
    sound, unsound = tally.pop("sound", 0), tally.pop("unsound", 0)
    lines = [f"{sound + unsound} random plans: {sound} sound, {unsound} not; {len(tally)} differences."]
    return "\n".join([*lines, *sorted(tally)])


def case_report(plans: int) -> str:
    """How often proof and judge agree on cases, what the judge knows nothing of, and every difference."""
    tally = _tally(test_cases_judged.compared, plans // test_cases_judged.SHARE)
    both = {words: tally.pop(words, 0) for words in ("both sound", "both unsound", "not judged")}
    wrong = [words for words in tally if words.startswith("plan ")]
    lines = [
        f"{plans} random plans have {sum(both.values()) + len(tally)} cases that can be met: "
        f"{', '.join(f'{number} {words}' for words, number in both.items())}; {len(wrong)} unsound verdicts, "
        f"{len(tally) - len(wrong)} false alarms."
    ]
    return "\n".join([*lines, *sorted(tally)])


def main(words: list[str]) -> int:
    """Prints the reports; 2 where the number of plans is none."""
    number = words[0] if words else "10000"
    if not number.isdigit():
        print(f"“{number}” is no number of plans.", file=sys.stderr)
        return 2
    print("# The proof by order against an independent judge", order_report(int(number)), sep="\n\n", end="\n\n")
    print("# Cases against the same judge", case_report(int(number)), sep="\n\n", end="\n\n")
    print("# Slips in the demo", whole_report(), sep="\n\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
