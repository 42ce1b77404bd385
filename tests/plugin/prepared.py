"""A process that has loaded all that a build needs, and makes each build in a child of its own.

Whoever kills such a build meets the build, and not the second in which Python gets ready for it.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).parents[2]


class Prepared:
    """Builds of one project, one after the other."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        assert process.stdin
        assert process.stdout
        self._orders, self._answers = process.stdin, process.stdout

    def start(self, site: str) -> int:
        """Begins a build of the project into a folder; the process that makes it."""
        self._orders.write(f"{site}\n")
        self._orders.flush()
        return int(self._answers.readline())

    def end(self) -> int:
        """Waits for the build, and gives its exit code; negative: the signal that ended it.

        Until then its number is nobody else's, even if it is over.
        """
        self._orders.write("\n")
        self._orders.flush()
        return int(self._answers.readline())


@contextmanager
def prepared(project: Path) -> Iterator[Prepared]:
    """Such a process for a project that can be built."""
    command = [sys.executable, "-m", "tests.plugin.prepared", str(project)]
    environment = os.environ | {"NO_MKDOCS_2_WARNING": "1", "PYTHONPATH": str(ROOT)}
    pipe = subprocess.PIPE
    with subprocess.Popen(command, stdin=pipe, stdout=pipe, text=True, env=environment) as process:
        yield Prepared(process)


def main(project: str) -> None:
    """Builds once, so that all is loaded; then a build for each line read, in a child."""
    from mkdocs.__main__ import cli

    os.chdir(project)
    cli(["build", "--quiet"], standalone_mode=False)
    for line in sys.stdin:
        child = os.fork()
        if not child:
            cli(["build", "--quiet", "--site-dir", line.strip()])
        print(child, flush=True)
        sys.stdin.readline()
        print(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), flush=True)


if __name__ == "__main__":
    main(sys.argv[1])
