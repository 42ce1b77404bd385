"""What is kept from run to run: whole, or not at all."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from briefgen import compiled


@pytest.fixture(autouse=True)
def elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(sys, "pycache_prefix", str(tmp_path))
    return tmp_path


def kept(folder: Path) -> list[Path]:
    return [path for path in folder.rglob("*") if path.is_file()]


def test_what_is_kept_is_found_again_and_nothing_else(elsewhere: Path) -> None:
    assert compiled.recall("one") is None
    compiled.keep("one", b"first")
    compiled.keep("one", b"second")
    assert compiled.recall("one") == b"second"
    assert compiled.recall("other") is None
    assert [path.name for path in kept(elsewhere)] == ["one"]


@pytest.mark.parametrize("spoilt", [b"", b"\0" * 40, b"short"])
def test_what_was_cut_short_does_not_count(elsewhere: Path, spoilt: bytes) -> None:
    compiled.keep("one", b"whole")
    (file,) = kept(elsewhere)
    file.write_bytes(spoilt or file.read_bytes()[:-1])
    assert compiled.recall("one") is None


def test_nothing_is_kept_where_nothing_can_be_written(elsewhere: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (elsewhere / "file").write_text("in the way")
    monkeypatch.setattr(sys, "pycache_prefix", str(elsewhere / "file"))
    compiled.keep("one", b"whole")
    assert compiled.recall("one") is None


def test_a_second_run_compiles_no_template(elsewhere: Path) -> None:
    code = (
        "import sys; sys.pycache_prefix = sys.argv[1]\n"
        "from jinja2 import Environment\n"
        "from briefgen.pages.html.environment import Compiled\n"
        "from jinja2 import DictLoader\n"
        "class Counting(Environment):\n"
        "    count = 0\n"
        "    def compile(self, *args, **kwargs):\n"
        "        Counting.count += 1\n"
        "        return super().compile(*args, **kwargs)\n"
        "env = Counting(loader=DictLoader({'a': sys.argv[2]}), bytecode_cache=Compiled())\n"
        "print(env.get_template('a').render(name='Ann'), Counting.count)\n"
    )

    def run(template: str) -> str:
        words = [sys.executable, "-c", code, str(elsewhere), template]
        return subprocess.run(words, capture_output=True, text=True, check=True).stdout.strip()

    assert run("Hello {{ name }}") == "Hello Ann 1"
    assert run("Hello {{ name }}") == "Hello Ann 0"
    assert run("Bye {{ name }}") == "Bye Ann 1"
