"""The one table from a record, or a page of ours, to its page and anchor.

A link is written from the site's root, with `ROOT` standing for the way there; `finish` puts that way in when the
page is done. So whatever is linked can be written once and stand on every page.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from types import MappingProxyType
from urllib.parse import quote

from briefgen.model.library import SINGULAR, Library
from briefgen.model.work import Step

ROOT = "\ue000"

# Kinds with a page for each record, and the folder in which these pages lie.
_FOLDERS: Mapping[str, str] = MappingProxyType(
    {
        "sortie": "sorties",
        "timeline": "timelines",
        "play": "plays",
        "telling": "telling",
        "ledger": "ledgers",
        "states": "states",
        "stopping": "stopping",
        "deciding": "deciding",
        "underway": "underway",
        "changed": "changed",
        "practice": "practice",
        "test": "tests",
        "task": "tasks",
        "person": "people",
        "suit": "suits",
        "place": "places",
        "tool": "tools",
        "bag": "bags",
        "equipment": "equipment",
        "hazard": "hazards",
        "figure": "figures",
        "booklet": "booklets",
        "reader": "readers",
        "arm": "arms",
    }
)
# Device names, which a folder can't hold on systems that go back to DOS (“Naming Files, Paths, and Namespaces”, from
# memory).
_TAKEN = frozenset(
    {"index", "con", "prn", "aux", "nul", *(f"{port}{one}" for port in ("com", "lpt") for one in range(10))}
)
# Kinds whose records share a page, each at its own anchor.
_SHARED: Mapping[str, str] = MappingProxyType(
    {"route": "routes", "outcome": "outcomes", "question": "questions", "term": "glossary"}
)


class Links:
    """Addresses of one site. `directory_urls` says whether a page is a folder (`a/`) or a file (`a.html`)."""

    def __init__(self, library: Library, directory_urls: bool = False) -> None:
        self._library = library
        self._directory_urls = directory_urls

    @cached_property
    def _steps(self) -> Mapping[tuple[str, str], Step]:
        """Every step by its task and by both names that it has there, id and number."""
        steps: dict[tuple[str, str], Step] = {}
        for name, task in self._library.tasks.items():
            for step in task.steps:
                steps.setdefault((name, step.key), step)
                steps.setdefault((name, str(step.number)), step)
            for step in task.every_step:
                steps.setdefault((name, step.key), step)
        return steps

    def step(self, task: str, key: str) -> Step | None:
        """A task's step by its id or number, as `Task.step`, found at once; of a block, its first."""
        found = self._steps.get((task, key))
        record = None if found else self._library.tasks.get(task)
        return next(iter(record.named(key)), None) if record else found

    @staticmethod
    def uri(kind: str, identifier: str = "index") -> str:
        """The page's path without an ending, like `tasks/swap-pump`; a kind alone is its index."""
        if kind in _FOLDERS:
            # A record may be called “index”; no id ends with a hyphen.
            return f"{_FOLDERS[kind]}/{identifier}"
        return _SHARED.get(kind, "index" if kind == "programme" else kind)

    def target(self, kind: str, identifier: str, part: str = "") -> str:
        """Where a record stands, or its step or callout `part`. The record must exist."""
        if kind in _SHARED:
            return self.page(_SHARED[kind], identifier)
        if kind == "programme":
            return self.page("index")
        if kind == "sortie" and not self._is_run(identifier):
            return self.page("sorties/index", identifier)
        return self.page(self.record_uri(kind, identifier), self._anchor(kind, identifier, part))

    def record_uri(self, kind: str, identifier: str) -> str:
        """The path of a record's own page.

        Pages called “index” are taken, and so are some names on many a tablet and laptop; no id ends with a hyphen.
        """
        return self.uri(kind, f"{identifier}-" if identifier in _TAKEN else identifier)

    def page(self, uri: str, anchor: str = "") -> str:
        """The address of a page of ours."""
        if self._directory_urls:
            address = "" if uri == "index" else uri.removesuffix("index") if uri.endswith("/index") else f"{uri}/"
            address = address or "./"
        else:
            address = f"{uri}.html"
        return f"{ROOT}{address}#{anchor}" if anchor else f"{ROOT}{address}"

    def in_timeline(self, sortie: str, step: str) -> str:
        """A step (`task/step`) in the chart of a sortie's timeline."""
        return self.page(self.record_uri("timeline", sortie), f"timeline-{sortie}.{step.replace('/', '.')}")

    @staticmethod
    def asset(path: str) -> str:
        """The address of a file of the site."""
        return f"{ROOT}{path}"

    @staticmethod
    def picture(file: str) -> str:
        """The address of a figure's copied file."""
        return f"{ROOT}{quote(picture_path(file))}"

    def leads_somewhere(self, kind: str, identifier: str, part: str = "") -> bool:
        """Whether there is such a record, step or callout."""
        record = self._library.find(SINGULAR.get(kind, ""), identifier)
        if record is None or not part:
            return record is not None
        if kind == "task":
            return self.step(identifier, part) is not None
        return kind == "figure" and part in record.callouts

    def finish(self, html: str, uri: str) -> str:
        """The page with every link written from where the page lies, as short as it can be."""
        depth = uri.count("/")
        folder, _, name = uri.rpartition("/")
        html = html.replace(f"{self.page(uri)}#", "#")
        if self._directory_urls:
            depth += name != "index"
        elif folder:
            html = html.replace(f"{ROOT}{folder}/", "")
        return html.replace(f"{ROOT}./", "../" * depth or "./").replace(ROOT, "../" * depth)

    def _is_run(self, sortie: str) -> bool:
        programme = self._library.programme
        return programme is not None and sortie in programme.sorties

    def _anchor(self, kind: str, identifier: str, part: str) -> str:
        if part and kind == "task":
            step = self.step(identifier, part)
            return step_anchor(step) if step else ""
        return callout_anchor(identifier, part) if part and kind == "figure" else ""


def step_anchor(step: Step) -> str:
    """The anchor of a step on its task's page. No id has two hyphens in a row."""
    return step.key.replace("/", "--")


def callout_anchor(figure: str, callout: str) -> str:
    """The anchor of a callout's line on any page that shows the figure."""
    return f"{figure}-{callout}"


def picture_path(file: str) -> str:
    """Where a figure's file is copied to in the site."""
    return f"pictures/{file}"
