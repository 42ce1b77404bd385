"""How long small hostile inputs take: `python -m tests.benchmarks.hostile [WORDS]` prints a table.

Each input is checked in a process of its own; then it is built, or checked again where the check finds an error.
Processor seconds of each on one core, without the start of Python; after a minute it is given up. Target: 2 s.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

from tests.hostile.inputs import INPUTS, lay_out

TARGET = 2.0
GIVE_UP = 60.0
_RUN = "import sys; from tests.hostile.answer import main; main(sys.argv[1])"


def measured(name: str) -> tuple[float, float, str]:
    """Seconds of the check and of the build, and what came of it."""
    with tempfile.TemporaryDirectory() as folder:
        content = lay_out(Path(folder), INPUTS[name])
        try:
            done = subprocess.run(
                [sys.executable, "-c", _RUN, str(content)], capture_output=True, text=True, timeout=GIVE_UP, check=False
            )
        except subprocess.TimeoutExpired:
            return GIVE_UP, GIVE_UP, "no answer"
    words = (done.stdout or done.stderr).strip().splitlines() or ["nothing"]
    if done.returncode:
        return 0.0, 0.0, f"FAILED: {(done.stderr.strip().splitlines() or ['?'])[-1][:150]}"
    check, build, answer = words[-1].split(" ", 2)
    return float(check), float(build), answer


def main(words: list[str]) -> int:
    """Prints the table; 1 where an input misses the target."""
    missed = 0
    print("| input | check, s | build, s | answer |\n|---|---:|---:|---|")
    for name in INPUTS:
        if all(word in name for word in words):
            check, build, answer = measured(name)
            bad = max(check, build) > TARGET or answer.startswith("FAILED")
            missed += bad
            print(f"| {name} | {check:.2f} | {build:.2f}{' !' if bad else ''} | {answer} |", flush=True)
    print(f"\n{missed} over {TARGET:.0f} s or without an answer.")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
