"""An entry is whole or none: cut short, changed, swapped, foreign. Nothing in it is run."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from briefgen.cache.entries import keep, recall
from briefgen.cache.folder import Folder

TABLE = {"pages": [["a", 0, 3], ["b", 3, 4]], "words": "“ö”"}


def kept(folder: Folder, name: str = "one") -> None:
    assert keep(folder, name, TABLE, (b"aaa", b"bbbb"))


def test_an_entry_comes_back_as_it_was(folder: Folder) -> None:
    kept(folder)
    found = recall(folder, "one")
    assert found is not None
    assert found.table == TABLE
    assert (found.piece(0, 3), found.piece(3, 4)) == (b"aaa", b"bbbb")
    found.close()
    assert recall(folder, "other") is None


def test_a_piece_that_the_file_does_not_have_is_refused(folder: Folder) -> None:
    kept(folder)
    found = recall(folder, "one")
    assert found is not None
    with pytest.raises(ValueError, match="not there"):
        found.piece(3, 400)
    with pytest.raises(ValueError, match="not there"):
        found.piece(-1, 1)
    found.close()


def test_two_entries_that_are_swapped_are_none(folder: Folder, place: Path) -> None:
    kept(folder, "one")
    kept(folder, "two")
    one, two = (place / name for name in ("one", "two"))
    first, second = one.read_bytes(), two.read_bytes()
    one.write_bytes(second)
    two.write_bytes(first)
    assert recall(folder, "one") is None
    assert recall(folder, "two") is None


def test_no_length_but_the_whole_is_an_entry(folder: Folder, place: Path) -> None:
    kept(folder)
    whole = (place / "one").read_bytes()
    for length in range(len(whole)):
        (place / "one").write_bytes(whole[:length])
        assert recall(folder, "one") is None, length
    (place / "one").write_bytes(whole + b"\0")
    assert recall(folder, "one") is None


def test_no_changed_bit_goes_unseen(folder: Folder, place: Path) -> None:
    kept(folder)
    whole, draw = (place / "one").read_bytes(), random.Random(7)
    for place_in_it in range(len(whole)):
        spoilt = bytearray(whole)
        spoilt[place_in_it] ^= 1 << draw.randrange(8)
        (place / "one").write_bytes(spoilt)
        assert recall(folder, "one") is None, place_in_it


def test_a_folder_that_can_not_be_written_to_keeps_nothing(folder: Folder, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(name: str) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(folder, "written", full)
    assert not keep(folder, "one", TABLE)
