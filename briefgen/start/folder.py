"""Writes the starting files into a folder. Refuses to overwrite anything, and then writes nothing at all."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from briefgen.refusals import CannotRun
from briefgen.schema.content import FILE_NAME, schema_text

# A file whose name begins with a dot would be left out by many tools on the way here.
_RENAMED = {"gitignore": ".gitignore"}


class InTheWay(CannotRun):
    """Something already stands where a file would go; the message says what."""


@dataclass(frozen=True)
class Written:
    """The files written, and what to do next."""

    files: tuple[Path, ...]
    next_steps: str


def start_folder(folder: Path) -> Written:
    """Writes the files below `folder`, which is made if need be. Raises InTheWay, and OSError of the file system."""
    texts = {folder / name: text for name, text in starting_files()}
    _refuse(folder, texts)
    for path, text in texts.items():
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
    return Written(tuple(texts), _next_steps(folder))


def starting_files() -> Iterator[tuple[str, str]]:
    """Each file's path below the folder, and its text."""
    template = files(__package__).joinpath("template")
    yield from sorted((_RENAMED.get(name, name), path.read_text(encoding="utf-8")) for name, path in _below(template))
    yield FILE_NAME, schema_text()


def _below(folder: Traversable, prefix: str = "") -> Iterator[tuple[str, Traversable]]:
    for path in folder.iterdir():
        if path.name == "__pycache__":
            continue
        if path.is_dir():
            yield from _below(path, f"{prefix}{path.name}/")
        else:
            yield f"{prefix}{path.name}", path


def _refuse(folder: Path, texts: dict[Path, str]) -> None:
    if folder.exists() and not folder.is_dir():
        raise InTheWay(f"“{folder}” is a file: name a folder.")
    taken = [path for path in texts if path.exists() or path.is_symlink()]
    taken += [path.parent for path in texts if path.parent.exists() and not path.parent.is_dir()]
    if taken:
        names = ", ".join(f"“{path}”" for path in dict.fromkeys(taken))
        raise InTheWay(f"Nothing was written, because this is already there: {names}. Name another folder.")


def _next_steps(folder: Path) -> str:
    return (
        "\nA briefing of one sortie and three tasks. Look at it:\n"
        f"  briefgen check {folder / 'content'}\n"
        f"  briefgen plan {folder / 'content'}\n"
        f"  mkdocs serve --config-file {folder / 'mkdocs.yml'}\n"
        "Then change the files in its folder “content”: each begins with what it is for.\n"
    )
