"""Clips: what their containers say, what is refused, and what is said of captions and callouts beyond their end."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefgen.build import examine
from briefgen.findings import Finding, Level
from briefgen.reading.figures.clip import Clip, NoClip
from briefgen.reading.figures.clips import BUDGET, read_clip
from briefgen.reading.figures.pictures import picture_findings
from briefgen.reading.folder import read_folder
from briefgen.source import Position
from tests.clips import CAPTIONS, box, element, mp4, webm
from tests.demo import CONTENT

CLIP = """figures:
  flag:
    file: {file}
    alt: The flag.
    poster: flag.svg
    captions: flag.vtt
    says: It drops.
{more}"""
FILE, POSTER = Position("a.yaml", 3, 11), Position("a.yaml", 5, 13)


def lay_out(folder: Path, data: bytes, file: str = "flag.webm", captions: str = CAPTIONS, more: str = "") -> None:
    (folder / file).write_bytes(data)
    (folder / "flag.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"/>', "utf-8")
    (folder / "flag.vtt").write_text(captions, "utf-8")
    (folder / "a.yaml").write_text(CLIP.format(file=file, more=more), "utf-8")


def findings(folder: Path) -> list[Finding]:
    reading = read_folder(folder)
    return [*reading.findings, *picture_findings(folder, reading.library)]


def rules(folder: Path) -> list[tuple[str, Position]]:
    return [(finding.rule, finding.position) for finding in findings(folder)]


@pytest.mark.parametrize(
    ("file", "data"),
    [("flag.webm", webm(seconds=2.5, width=320, height=180)), ("flag.mp4", mp4(seconds=2.5, width=320, height=180)),
     ("flag.mp4", mp4(seconds=2.5, width=320, height=180, last=True))],
)  # fmt: skip
def test_a_clip_says_how_long_and_how_large_it_is(tmp_path: Path, file: str, data: bytes) -> None:
    lay_out(tmp_path, data, file)
    assert read_clip(tmp_path / file) == Clip(2.5, 320, 180)
    assert findings(tmp_path) == []


def test_the_demos_clip_is_what_it_should_be() -> None:
    assert read_clip(CONTENT / "figures" / "parting.webm") == Clip(14.0, 720, 360)
    assert (CONTENT / "figures" / "parting.webm").stat().st_size < 150_000


HTML = b"<!DOCTYPE html><script>window.__ran=1</script>"


@pytest.mark.parametrize(
    ("file", "data"),
    [
        ("flag.webm", b""),
        ("flag.webm", HTML),
        ("flag.webm", HTML + webm()),
        ("flag.webm", webm() + HTML),
        ("flag.webm", webm()[:-1]),
        ("flag.webm", webm(kind=b"matroska")),
        ("flag.webm", webm(width=0)),
        ("flag.webm", webm(width=100_000)),
        ("flag.webm", mp4()),
        ("flag.webm", b"\x1a\x45\xdf\xa3" + b"\xff" * 40),
        ("flag.webm", b"\x1a\x45\xdf\xa3" + b"\x00" * 40),
        ("flag.mp4", b""),
        ("flag.mp4", HTML),
        ("flag.mp4", HTML + mp4()),
        ("flag.mp4", mp4() + HTML),
        ("flag.mp4", mp4()[:-1]),
        ("flag.mp4", webm()),
        ("flag.mp4", mp4(width=0)),
        ("flag.mp4", box(b"ftyp", b"isom")),
        ("flag.mp4", box(b"ftyp", b"isom") + box(b"moov", b"\0\0\0\4trak")),
        ("flag.mp4", box(b"ftyp", b"isom") + box(b"free", b"") * 20_001),
        ("flag.mp4", box(b"ftyp", b"isom") + b"\0\0\0\1mdat" + b"\0" * 8),
        ("flag.mp4", box(b"ftyp", b"isom") + b"\0\0\0\1mdat" + b"\xff" * 8),
    ],
    ids=lambda one: one if isinstance(one, str) else str(len(one)),
)
def test_what_is_no_clip_is_refused(tmp_path: Path, file: str, data: bytes) -> None:
    lay_out(tmp_path, data, file)
    assert rules(tmp_path) == [("figure-type", FILE)]


@settings(deadline=None)
@given(
    data=st.binary(max_size=20), whole=st.sampled_from([webm(), mp4()]), at=st.integers(0, 300), gone=st.integers(0, 40)
)
def test_whatever_is_spoilt_in_a_clip_is_read_or_refused(
    data: bytes, whole: bytes, at: int, gone: int, tmp_path_factory: pytest.TempPathFactory
) -> None:
    folder = tmp_path_factory.mktemp("clip")
    for name in ("flag.webm", "flag.mp4"):
        (folder / name).write_bytes(whole[:at] + data + whole[at + gone :])
        try:
            clip = read_clip(folder / name)
        except NoClip:
            continue
        assert clip.width > 0
        assert clip.seconds is None or clip.seconds > 0


def test_elements_within_elements_without_end_are_refused(tmp_path: Path) -> None:
    inside = b""
    for _ in range(200):
        inside = box(b"trak", inside)
    lay_out(tmp_path, box(b"ftyp", b"isom") + box(b"moov", inside), "flag.mp4")
    assert rules(tmp_path) == [("figure-type", FILE)]
    (tmp_path / "flag.mp4").write_bytes(element(0x1A45DFA3, b"") * 5_000)
    assert rules(tmp_path) == [("figure-type", FILE)]


def test_a_large_clip_is_warned_of_and_little_of_it_is_read(tmp_path: Path) -> None:
    lay_out(tmp_path, mp4()[:-48], "flag.mp4")
    head = (tmp_path / "flag.mp4").read_bytes()
    size = 3_000_000_000
    with (tmp_path / "flag.mp4").open("r+b") as stream:
        stream.seek(len(head))
        stream.write(size.to_bytes(4, "big") + b"mdat")
        stream.truncate(len(head) + size)
    (found,) = findings(tmp_path)
    assert (found.rule, found.level, found.position) == ("clip-too-large", Level.WARNING, FILE)
    assert "3000.1 MB" in found.sentence or "3000 MB" in found.sentence
    assert f"{BUDGET // 1_000_000} MB" in found.sentence


def test_a_clip_that_was_never_finished_has_no_length(tmp_path: Path) -> None:
    lay_out(tmp_path, webm(seconds=None))
    assert rules(tmp_path) == [("clip-length-unknown", FILE)]


@pytest.mark.parametrize("key", ["poster", "captions", "says"])
def test_a_clip_without_its_words_or_its_poster_is_incomplete(tmp_path: Path, key: str) -> None:
    lay_out(tmp_path, webm())
    lines = [
        line for line in (tmp_path / "a.yaml").read_text("utf-8").split("\n") if not line.startswith(f"    {key}:")
    ]
    (tmp_path / "a.yaml").write_text("\n".join(lines), "utf-8")
    (found,) = read_folder(tmp_path).findings
    assert (found.rule, found.position) == ("clip-incomplete", Position("a.yaml", 2, 3))
    assert f"`{key}`" in found.sentence


@pytest.mark.parametrize(
    "more", ["poster: front.svg", "captions: a.vtt", "says: It drops.",
             "callouts: {lid: {at: [1 %, 1 %], shows: The lid, from: 1 s}}",
             "callouts: {lid: {at: [1 %, 1 %], shows: The lid, until: 1 s}}"],
)  # fmt: skip
def test_a_picture_has_nothing_of_a_clip(tmp_path: Path, more: str) -> None:
    (tmp_path / "a.yaml").write_text(f"figures:\n  front: {{file: front.svg, alt: The front., {more}}}\n", "utf-8")
    (found,) = read_folder(tmp_path).findings
    assert found.rule == "wrong-value"
    assert "stand only at a clip" in found.sentence


def test_captions_that_outlast_the_clip_are_found_in_their_file(tmp_path: Path) -> None:
    lay_out(tmp_path, webm(seconds=2), captions=CAPTIONS + "\n00:01.500 --> 00:02.500\nMore.\n")
    assert rules(tmp_path) == [("captions-outlast-clip", Position("flag.vtt", 6, 1))]


def test_a_flaw_in_captions_is_found_in_their_file(tmp_path: Path) -> None:
    lay_out(tmp_path, webm(), captions="WEBVTT\n\n00:01.000 --> 00:00.500\nIt drops.\n")
    assert rules(tmp_path) == [("captions-unreadable", Position("flag.vtt", 3, 15))]
    (tmp_path / "flag.vtt").write_bytes(b"WEBVTT\n\n00:01.000 --> 00:01.500\nIt dr\xffps.\n")
    assert rules(tmp_path) == [("captions-unreadable", Position("flag.vtt", 4, 6))]


@pytest.mark.parametrize(("key", "column"), [("from", 54), ("until", 54)])
def test_a_callout_beyond_the_end_is_found_at_its_key(tmp_path: Path, key: str, column: int) -> None:
    lay_out(tmp_path, webm(seconds=2), more=f"    callouts: {{lid: {{at: [1 %, 1 %], shows: The lid, {key}: 9 s}}}}\n")
    (found,) = findings(tmp_path)
    assert (found.rule, found.position) == ("callout-outlasts-clip", Position("a.yaml", 8, column))
    assert found.write == f"{key}: 2 s"


@pytest.mark.parametrize(
    ("old", "new", "rule"),
    [("poster: flag.svg", "poster: ../flag.svg", "figure-outside"),
     ("poster: flag.svg", "poster: no.svg", "figure-missing"),
     ("poster: flag.svg", "poster: flag.webm", "figure-type"),
     ("captions: flag.vtt", "captions: flag.svg", "figure-type"),
     ("captions: flag.vtt", "captions: /etc/hostname", "figure-outside")],
)  # fmt: skip
def test_posters_and_captions_lie_below_the_content_and_are_of_their_type(
    tmp_path: Path, old: str, new: str, rule: str
) -> None:
    lay_out(tmp_path, webm())
    text = (tmp_path / "a.yaml").read_text("utf-8")
    (tmp_path / "a.yaml").write_text(text.replace(old, new), "utf-8")
    assert [name for name, _ in rules(tmp_path)] == [rule]


def test_a_poster_that_runs_a_script_is_refused(tmp_path: Path) -> None:
    lay_out(tmp_path, webm())
    (tmp_path / "flag.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg"><script>1</script></svg>', "utf-8")
    assert [name for name, _ in rules(tmp_path)] == ["figure-unsafe"]


@pytest.mark.parametrize("name", ["flag.webm", "flag.vtt", "flag.svg"])
@pytest.mark.parametrize("kind", ["pipe", "device", "loop", "out"])
def test_pipes_devices_and_links_keep_nobody_waiting(tmp_path: Path, name: str, kind: str) -> None:
    content = tmp_path / "content"
    content.mkdir()
    lay_out(content, webm())
    (content / name).unlink()
    if kind == "pipe":
        os.mkfifo(content / name)
    else:
        (content / name).symlink_to({"device": "/dev/zero", "loop": name, "out": tmp_path / "there"}[kind])
    (tmp_path / "there").write_bytes(webm())
    (found,) = rules(content)
    assert found[0] in ("figure-missing", "figure-outside")


def test_the_check_of_a_whole_folder_says_it_too(tmp_path: Path) -> None:
    lay_out(tmp_path, HTML)
    assert "figure-type" in {finding.rule for finding in examine(tmp_path).findings}
