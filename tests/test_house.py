"""The house stays one to live in: no module too long, no function, no room with too much in it."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1] / "briefgen"
MODULE, FUNCTION, ROOM = 300, 40, 12
"""The most lines of a module, of a function without its docstring, and the most siblings in a room of code."""

MODULES = sorted(ROOT.rglob("*.py"))
ROOMS = sorted({file.parent for file in MODULES} - {ROOT})


def functions(source: str) -> Iterator[tuple[str, int]]:
    """Each function's name, and how many lines it has without its docstring."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            said = node.body[0] if ast.get_docstring(node) else None
            lines = (node.end_lineno or 0) - node.lineno + 1
            yield node.name, lines - ((said.end_lineno or 0) - said.lineno + 1 if said else 0)


def test_lines_of_functions_are_counted_without_docstrings() -> None:
    source = 'def a():\n    """Says\n\n    so."""\n    return 1\n\n\nclass B:\n    def c(self):\n        return 2\n'
    assert dict(functions(source)) == {"a": 2, "c": 2}


@pytest.mark.parametrize("file", MODULES, ids=lambda file: str(file.relative_to(ROOT)))
def test_no_module_and_no_function_is_too_long(file: Path) -> None:
    source = file.read_text(encoding="utf-8")
    assert len(source.splitlines()) <= MODULE
    assert not {name: lines for name, lines in functions(source) if lines > FUNCTION}


@pytest.mark.parametrize("room", ROOMS, ids=lambda room: str(room.relative_to(ROOT)))
def test_no_room_has_more_than_a_dozen_in_it(room: Path) -> None:
    rooms = [path for path in room.iterdir() if path.is_dir() and any(path.glob("*.py"))]
    modules = [path for path in room.glob("*.py") if not path.name.startswith("__")]
    assert len(rooms) + len(modules) <= ROOM


def public_classes() -> Iterator[tuple[str, Path]]:
    """Every public class and its module. A chart is a folder of its own, whose parts bear the same names in each."""
    for file in MODULES:
        if "kinds" not in file.relative_to(ROOT).parts or "charts" not in file.relative_to(ROOT).parts:
            for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
                if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                    yield node.name, file.relative_to(ROOT)


def test_no_two_classes_bear_the_same_name() -> None:
    found: dict[str, list[str]] = {}
    for name, file in public_classes():
        found.setdefault(name, []).append(str(file))
    assert len(found) > 200
    assert not {name: files for name, files in found.items() if len(files) > 1}
