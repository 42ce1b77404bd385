"""What the project's mkdocs.yml says of a content folder, so that a check sees what a build would see.

Only the few keys that matter here are read; the builder itself reads the rest.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from briefgen.reading.files import Unreadable, bytes_of, is_ordinary
from briefgen.refusals import CannotRun

NAMES = ("mkdocs.yml", "mkdocs.yaml")
_ABOVE = 4
_LARGEST = 1_000_000
_INHERITED = 8
"""So many files may inherit from each other; a circle is longer."""


class BadProject(CannotRun):
    """The project's file can't be read; the message says why and what to do."""


@dataclass(frozen=True)
class Project:
    """The folder of the author's Markdown pages, the record to compare with, and levels of rules as written."""

    file: Path
    pages: Path | None = None
    since: Path | None = None
    levels: Mapping[str, object] = field(default_factory=dict)


def project_of(content: Path) -> Project | None:
    """The project that builds from a content folder: its file lies in a folder above. Raises BadProject."""
    root = content.resolve()
    for folder in [*root.parents][:_ABOVE]:
        for file in (folder / name for name in NAMES):
            if is_ordinary(file):
                settings = _read(file)
                for options in _options(settings):
                    if (folder / str(options.get("content") or "content")).resolve() == root:
                        return _project(file, settings, options)
    return None


def _project(file: Path, settings: Mapping[str, Any], options: Mapping[str, Any]) -> Project:
    pages, since, levels = settings.get("docs_dir") or "docs", options.get("since"), options.get("levels")
    return Project(
        file,
        file.parent / str(pages),
        file.parent / str(since) if since else None,
        dict(levels) if isinstance(levels, dict) else {},
    )


def _options(settings: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    """What stands below `briefgen` among the plugins, which may be a list or a mapping."""
    plugins = settings.get("plugins")
    entries = [plugins] if isinstance(plugins, dict) else plugins if isinstance(plugins, list) else []
    for entry in entries:
        if entry == "briefgen":
            yield {}
        elif isinstance(entry, dict) and "briefgen" in entry:
            options = entry["briefgen"]
            yield options if isinstance(options, dict) else {}


def _read(file: Path, depth: int = 0) -> Mapping[str, Any]:
    """A project's file with what it inherits (`INHERIT`, a path from its own folder), merged as the builder does."""
    own = _one(file)
    parent = own.get("INHERIT")
    if parent is None:
        return own
    if depth == _INHERITED:
        raise BadProject(
            f"“{file}” inherits from too many files, or from itself. With --alone only the content folder is checked."
        )
    return _merged(_read(file.parent / str(parent), depth + 1), {key: own[key] for key in own if key != "INHERIT"})


def _merged(under: Mapping[str, Any], over: Mapping[str, Any]) -> Mapping[str, Any]:
    """Mappings are merged key by key; of anything else, lists included, the nearer file's stands."""
    both = {key: _merged(under[key], over[key]) for key in under.keys() & over.keys() if _maps(under[key], over[key])}
    return {**under, **over, **both}


def _maps(*values: object) -> bool:
    return all(isinstance(value, dict) for value in values)


def _one(file: Path) -> Mapping[str, Any]:
    try:
        found = yaml.load(bytes_of(file, _LARGEST), Loader=_Settings)
    except Unreadable as reason:
        raise BadProject(
            f"“{file}” can't be read: {reason}. With --alone only the content folder is checked."
        ) from None
    except (yaml.YAMLError, RecursionError, ValueError) as error:
        mark = getattr(error, "problem_mark", None)
        where = f", line {mark.line + 1}" if mark else ""
        raise BadProject(f"“{file}” is no YAML{where}. With --alone only the content folder is checked.") from None
    return found if isinstance(found, dict) else {}


class _Settings(yaml.SafeLoader):
    """Tags of the builder's (`!ENV`, `!!python/name:…`) stand where nothing of ours is: they are read as nothing."""


_Settings.add_multi_constructor("", lambda loader, suffix, node: None)
