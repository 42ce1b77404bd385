"""How long it takes to make everybody's questions: `python -m tests.benchmarks.practice` prints the table."""

from __future__ import annotations

from time import process_time

from briefgen.practice.sheet import paper_test, questions, sheet
from briefgen.proof.evidence import Evidence
from tests.benchmarks.proof import library

SIZES = {"180 steps": (1, 15), "1,800 steps": (1, 150)}


def seconds(tasks: int) -> float:
    """For one sortie that is proved already, all its people, practice and paper."""
    (proved,) = Evidence(library(1, tasks)).sorties.values()
    _ = proved.timeline, proved.custody, proved.holds, proved.travel, proved.plan.order
    begin = process_time()
    every = questions(proved)
    for person in proved.plan.flows:
        sheet(proved, person, every)
        paper_test(proved, person, every)
    return process_time() - begin


if __name__ == "__main__":
    for name, (_, tasks) in SIZES.items():
        print(f"{name:>12}  {seconds(tasks):.3f} s")
