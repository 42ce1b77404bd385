"""How long the demo takes to build again: with nothing changed, one instruction, one duration, one callsign.

`python -m tests.benchmarks.again [RUNS]` prints processor seconds of each build in a process of its own, with the start
of Python, all modules compiled before: the median of the runs. Each change comes on top of those before.
"""

from __future__ import annotations

import os
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
from collections import defaultdict
from pathlib import Path

ROOT = Path(__file__).parents[2]
CHANGES = {
    "nothing": ("content_demo/people.yaml", "callsign: Heron", "callsign: Heron"),
    "an instruction": (
        "content_demo/tasks/change-filter.yaml",
        "Switch off the vent fan",
        "Switch off the vent fan {}",
    ),
    "the duration of a step": ("content_demo/tasks/change-filter.yaml", "takes: 1/2", "takes: 1/2.{}"),
    "the callsign of a person": ("content_demo/people.yaml", "callsign: Heron", "callsign: Heron {}"),
}


def seconds(project: Path, caches: str) -> float:
    """Processor seconds of a build in a process of its own."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    given = {**os.environ, "NO_MKDOCS_2_WARNING": "1", "PYTHONDONTWRITEBYTECODE": "", "BRIEFGEN_CACHE": caches}
    subprocess.run([sys.executable, "-m", "mkdocs", "build", "--quiet"], check=True, env=given, cwd=project)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 3
    rows: dict[str, list[float]] = defaultdict(list)
    with tempfile.TemporaryDirectory() as folder:
        project, caches = Path(folder), Path(folder, "caches")
        for name in ("content_demo", "theme_overrides"):
            shutil.copytree(ROOT / name, project / name)
        shutil.copy(ROOT / "mkdocs.yml", project)
        seconds(project, "")
        for run in range(1, runs + 1):
            shutil.rmtree(caches, ignore_errors=True)
            rows["without a cache"].append(seconds(project, ""))
            rows["first, with an empty cache"].append(seconds(project, str(caches)))
            for what, (name, old, new) in CHANGES.items():
                text = (project / name).read_text(encoding="utf-8")
                (project / name).write_text(text.replace(old, new.format(run), 1), encoding="utf-8")
                rows[f"again, changed: {what}"].append(seconds(project, str(caches)))
        kept = sum(path.stat().st_size for path in caches.rglob("*") if path.is_file())
    for what, found in rows.items():
        print(f"{what:<45}{statistics.median(found):6.2f} s")
    print(f"{'kept':<45}{kept / 1e6:6.1f} MB")


if __name__ == "__main__":
    main()
