"""No version makes the comparison fail: whatever key goes away or comes, and whatever stands in a record."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
import yaml

from briefgen import cli
from briefgen.start.folder import starting_files

CONTENT = {
    name.removeprefix("content/"): yaml.load(text, Loader=yaml.CBaseLoader)
    for name, text in starting_files()
    if name.startswith("content/") and name.endswith(".yaml")
}


def keys(raw: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The way to every key below the records of a file."""
    entries = raw.items() if isinstance(raw, dict) else enumerate(raw) if isinstance(raw, list) else ()
    for key, inner in entries:
        if len(path) >= 2:
            yield (*path, key)
        yield from keys(inner, (*path, key))


# A revision is what the versions are called: that alone is no difference.
WAYS = [(name, way) for name, content in CONTENT.items() for way in keys(content) if way[-1] != "revision"]


def write(folder: Path, contents: dict[str, Any]) -> Path:
    folder.mkdir()
    for name, content in contents.items():
        (folder / name).write_text(yaml.safe_dump(content, allow_unicode=True, sort_keys=False), encoding="utf-8")
    return folder


@pytest.mark.parametrize("part", range(8))
def test_a_key_that_goes_away_or_comes_is_said_and_nothing_fails(
    part: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    whole = write(tmp_path / "whole", CONTENT)
    compared = 0
    for number, (name, way) in enumerate(WAYS[part::8]):
        contents = copy.deepcopy(CONTENT)
        holder = contents[name]
        for key in way[:-1]:
            holder = holder[key]
        del holder[way[-1]]
        other = write(tmp_path / str(number), contents)
        codes = [cli.main(["compare", str(one), str(two)]) for one, two in ((whole, other), (other, whole))]
        err = capsys.readouterr().err
        assert "mistake in briefgen itself" not in err, (way, err)
        assert codes[0] == codes[1]
        # The ground's steps wait for each other anyway: written without a flow, the plan is the same.
        assert codes[0] in ((0,) if way[-2:] == ("flow", "ground") else (1, 2)), way
        compared += codes[0] == 1
    assert compared > 5


def record(body: dict[str, Any]) -> str:
    """A record whose digest is right, whatever it holds."""
    rest = json.dumps(body)[1:] + "\n"
    return f'{{"briefgen-record": 1, "sha256": "{sha256(rest.encode()).hexdigest()}",\n{rest}'


HOSTILE: dict[str, Any] = {
    "no content": {"figures": {}},
    "a list for a mapping": {"figures": {}, "content": {"tasks": [1]}},
    "content is a list": {"figures": {}, "content": []},
    "figures is a list": {"figures": [], "content": {}},
    "an unknown kind": {"figures": {}, "content": {"rockets": {"a": {}}}},
    "a number for a record": {"figures": {}, "content": {"tasks": {"a": 7}}},
    "a null": {"figures": {"a": None}, "content": {"tasks": None}},
    "a name that leads nowhere": {"figures": {}, "content": {"sorties": {
        "s": {"title": "S", "flow": {"nobody": ["nothing"]}, "limits": {"length": "1 h"}}}}},
    "a circle": {"figures": {}, "content": {
        "programme": {"p": {"title": "P", "sorties": ["s"], "paces": {"outside": "6 m/min", "loaded": "3 m/min"}}},
        "people": {"g": {"label": "G", "post": "ground"}, "h": {"label": "H", "post": "ground"}},
        "tasks": {"t": {"title": "T", "purpose": "P.", "steps": [
            {"id": "a", "who": "g", "do": "Do.", "takes": "1 min", "after": ["t/b"]},
            {"id": "b", "who": "h", "do": "Do.", "takes": "1 min", "after": ["t/a"]}]}},
        "sorties": {"s": {"title": "S", "flow": {"g": ["t"], "h": ["t"]}, "limits": {"length": "1 h"}}}}},
    "nothing at all": {"figures": {}, "content": {}},
}  # fmt: skip


@pytest.mark.parametrize("case", HOSTILE)
def test_a_hostile_record_is_refused_with_a_sentence(
    case: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    whole = write(tmp_path / "whole", CONTENT)
    bad = tmp_path / "bad.json"
    bad.write_text(record(HOSTILE[case]), encoding="utf-8")
    for order in ([str(bad), str(whole)], [str(whole), str(bad)]):
        assert cli.main(["compare", *order]) == 2
        err = capsys.readouterr().err
        assert err.startswith("briefgen: ")
        assert "mistake in briefgen itself" not in err
        assert "bad.json" in err


def test_an_unexpected_error_is_a_sentence_and_never_says_that_something_differs(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = write(tmp_path / "whole", CONTENT)
    monkeypatch.setattr("briefgen.commands.verbs.compare.version_at", lambda path: 1 // 0)
    assert cli.main(["compare", str(whole), str(whole)]) == 2
    err = capsys.readouterr().err
    assert "ZeroDivisionError" in err
    assert "Traceback" not in err
    monkeypatch.setenv("BRIEFGEN_TRACEBACK", "1")
    assert cli.main(["compare", str(whole), str(whole)]) == 2
    assert "Traceback" in capsys.readouterr().err


def test_a_file_is_written_whole_or_stays_as_it_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    whole, file = write(tmp_path / "whole", CONTENT), tmp_path / "out.json"
    file.write_text("before", encoding="utf-8")
    monkeypatch.setattr("os.fsync", lambda number: (_ for _ in ()).throw(OSError(28, "No space left on device")))
    assert cli.main(["export", str(whole), "--format", "json", "--to", str(file)]) == 2
    assert file.read_text(encoding="utf-8") == "before"
    assert [path.name for path in tmp_path.iterdir() if path.name.startswith(".")] == []
    monkeypatch.undo()
    assert cli.main(["export", str(whole), "--format", "json", "--to", str(file)]) == 0
    assert json.loads(file.read_text(encoding="utf-8"))
