"""Entries lie in a folder of the user's alone, or nowhere. What is asked of it: common practice, no source."""

from __future__ import annotations

import os
import stat
import time
from pathlib import Path

import pytest

from briefgen.cache import folder as cache_folder
from briefgen.cache.folder import Folder, home


def put(folder: Folder, name: str, content: bytes) -> None:
    with folder.written(name) as file:
        file.write(content)


def got(folder: Folder, name: str) -> bytes | None:
    file = folder.read(name)
    if file is None:
        return None
    with file:
        return file.read()


def test_an_entry_is_read_as_it_was_written_and_only_by_its_user(folder: Folder, place: Path) -> None:
    put(folder, "one", b"first")
    put(folder, "one", b"second")
    assert got(folder, "one") == b"second"
    assert got(folder, "other") is None
    assert [path.name for path in place.iterdir()] == ["one"]
    assert stat.S_IMODE(place.stat().st_mode) == 0o700
    assert stat.S_IMODE((place / "one").stat().st_mode) == 0o600


def test_it_lies_where_the_base_directory_specification_says(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Source: XDG Base Directory Specification 0.8: relative paths are to be ignored."""
    monkeypatch.delenv("BRIEFGEN_CACHE")
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)
    assert home() == tmp_path / ".cache"
    monkeypatch.setenv("XDG_CACHE_HOME", "some/where")
    assert home() == tmp_path / ".cache"
    monkeypatch.setenv("XDG_CACHE_HOME", "/some/where")
    assert home() == Path("/some/where")


def test_without_a_place_nothing_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BRIEFGEN_CACHE", "")
    assert Folder.opened() is None


def test_a_link_in_its_place_is_refused(place: Path, tmp_path: Path) -> None:
    (tmp_path / "theirs").mkdir(mode=0o700)
    place.parent.mkdir()
    place.symlink_to(tmp_path / "theirs")
    assert Folder.opened() is None


@pytest.mark.parametrize("mode", [0o777, 0o770, 0o720, 0o702])
def test_a_folder_that_others_may_write_to_is_refused(place: Path, mode: int) -> None:
    place.mkdir(parents=True)
    place.chmod(mode)
    assert Folder.opened() is None


def test_a_folder_of_somebody_else_is_refused(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    place.mkdir(parents=True, mode=0o700)
    monkeypatch.setattr(os, "geteuid", lambda: place.stat().st_uid + 1)
    assert Folder.opened() is None


def test_a_file_or_nothing_writable_in_its_place_is_no_folder(place: Path) -> None:
    place.parent.parent.joinpath("caches").write_text("in the way")
    assert Folder.opened() is None


def test_a_system_that_tells_no_owners_keeps_nothing(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cache_folder, "_can", lambda: False)
    assert Folder.opened() is None


def test_an_entry_that_is_a_link_a_pipe_or_a_folder_is_none(folder: Folder, place: Path, tmp_path: Path) -> None:
    (tmp_path / "secret").write_text("secret")
    (place / "link").symlink_to(tmp_path / "secret")
    os.mkfifo(place / "pipe")
    (place / "folder").mkdir()
    assert [got(folder, name) for name in ("link", "pipe", "folder")] == [None, None, None]


def test_a_link_that_waits_for_a_writer_is_replaced_and_not_followed(
    folder: Folder, place: Path, tmp_path: Path
) -> None:
    (tmp_path / "theirs").write_text("theirs")
    (place / "one").symlink_to(tmp_path / "theirs")
    put(folder, "one", b"ours")
    assert (tmp_path / "theirs").read_text() == "theirs"
    assert got(folder, "one") == b"ours"


def test_whoever_moves_the_opened_folder_away_moves_the_entries(folder: Folder, place: Path, tmp_path: Path) -> None:
    place.rename(tmp_path / "away")
    (tmp_path / "theirs").mkdir()
    place.symlink_to(tmp_path / "theirs")
    put(folder, "one", b"ours")
    assert not list((tmp_path / "theirs").iterdir())
    assert got(folder, "one") == b"ours"


def test_what_fails_in_the_middle_leaves_the_entry_that_was_there(folder: Folder, place: Path) -> None:
    put(folder, "one", b"first")

    def fail() -> None:
        with folder.written("one") as file:
            file.write(b"sec")
            raise OSError("full")

    with pytest.raises(OSError, match="full"):
        fail()
    assert got(folder, "one") == b"first"
    assert [path.name for path in place.iterdir()] == ["one"]


def test_the_least_lately_used_goes_first_and_what_was_never_finished(folder: Folder, place: Path) -> None:
    for number, name in enumerate(("old", "used", "new")):
        put(folder, name, bytes(100))
        os.utime(place / name, (1000 + number, 1000 + number))
    (place / ".lost.1.aa").write_bytes(bytes(9))
    os.utime(place / ".lost.1.aa", (1, 1))
    (place / ".being-written.1.aa").write_bytes(bytes(9))
    os.utime(place / "new", (time.time(), time.time()))
    assert got(folder, "old") is not None  # and so it is used now
    folder.trim(limit=220)
    assert sorted(path.name for path in place.iterdir()) == [".being-written.1.aa", "new", "old"]
