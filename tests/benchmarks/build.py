"""How long each part of building the demo takes, and which share of the whole build is the plugin's own.

Run it with `python -m tests.benchmarks.build [RUNS]`; it prints the median of the runs. Nothing here is a test.
"""

from __future__ import annotations

import logging
import os
import statistics
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Callable
from pathlib import Path
from typing import Any

os.environ["NO_MKDOCS_2_WARNING"] = "1"

from mkdocs.commands.build import build
from mkdocs.config import load_config

from briefgen.build import examine
from briefgen.charts.interactive.figures import plotly_script
from briefgen.plugin import BriefgenPlugin
from briefgen.proof.chance import likelihood
from briefgen.proof.evidence import Evidence
from briefgen.reading.figures.pictures import svg_danger
from briefgen.reading.folder import read_folder
from briefgen.reading.tree import read_tree
from briefgen.rules.registry import all_rules

ROOT = Path(__file__).parent.parent.parent
CONTENT = ROOT / "content_demo"


def timed(work: Callable[[], Any]) -> tuple[float, Any]:
    """Seconds that something takes, and what it gives."""
    begin = time.perf_counter()
    result = work()
    return time.perf_counter() - begin, result


def forget() -> None:
    """What is kept between builds while serving would make the second run a lie."""
    for kept in (read_tree, svg_danger, likelihood._runs):
        kept.cache_clear()


def parts() -> dict[str, float]:
    """The parts of a check, each on its own."""
    forget()
    load, reading = timed(lambda: read_folder(CONTENT))
    evidence = Evidence(reading.library, reading.broken, reading.sources)
    plan, _ = timed(lambda: [proved.timeline for proved in evidence.sorties.values()])
    proof, _ = timed(
        lambda: [
            (proved.variants, proved.supplies, proved.light, proved.travel) for proved in evidence.sorties.values()
        ]
    )
    rules, _ = timed(lambda: [list(rule.findings(evidence)) for rule in all_rules().values()])
    forget()
    whole, _ = timed(lambda: examine(CONTENT))
    return {"load": load, "plan": plan, "proof": proof, "findings": rules, "check, all of it": whole}


def whole_build() -> dict[str, float]:
    """A whole build, and the time inside the plugin's own hooks."""
    spent: dict[str, float] = defaultdict(float)
    names = [name for name in dir(BriefgenPlugin) if name.startswith("on_") and name in vars(BriefgenPlugin)]
    originals = {name: getattr(BriefgenPlugin, name) for name in names}

    def wrapped(name: str) -> Callable[..., Any]:
        def hook(*given: Any, **named: Any) -> Any:
            seconds, result = timed(lambda: originals[name](*given, **named))
            spent[name] += seconds
            return result

        return hook

    forget()
    for name in names:
        setattr(BriefgenPlugin, name, wrapped(name))
    try:
        with tempfile.TemporaryDirectory() as site:
            config = load_config(str(ROOT / "mkdocs.yml"), site_dir=site)
            whole, _ = timed(lambda: build(config))
    finally:
        for name, original in originals.items():
            setattr(BriefgenPlugin, name, original)
    own = sum(spent.values())
    hooks = {f"hook {name}": spent[name] for name in names}
    return {**hooks, "plugin, all hooks": own, "mkdocs build": whole, "share of the plugin": own / whole}


def main() -> None:
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 3
    logging.disable(logging.WARNING)
    all_rules()
    plotly_script()
    rows: dict[str, list[float]] = defaultdict(list)
    for _ in range(runs):
        for name, seconds in {**parts(), **whole_build()}.items():
            rows[name].append(seconds)
    print(f"{'part':<28}{'median of ' + str(runs):>14}")
    for name, seconds in rows.items():
        value = statistics.median(seconds)
        print(f"{name:<28}{value:>12.1%}  " if name.startswith("share") else f"{name:<28}{value:>12.3f} s")


if __name__ == "__main__":
    main()
