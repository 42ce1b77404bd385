"""Figures' files: below the content folder, of a known type, and nothing but drawings."""

from __future__ import annotations

from pathlib import Path

import pytest

from briefgen.reading.folder import read_folder
from briefgen.reading.pictures import picture_findings, svg_danger
from briefgen.source import Position

PLAIN = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9">{}</svg>'


def rules(folder: Path, file: str) -> list[tuple[str, Position]]:
    (folder / "a.yaml").write_text(f"figures: {{front: {{file: {file}, alt: The front.}}}}\n", "utf-8")
    reading = read_folder(folder)
    return [(finding.rule, finding.position) for finding in picture_findings(folder, reading.library)]


AT = Position("a.yaml", 1, 25)


def test_a_plain_drawing_is_fine(tmp_path: Path) -> None:
    (tmp_path / "front.svg").write_text(PLAIN.format("<path d='M0 0'/>"), "utf-8")
    assert rules(tmp_path, "front.svg") == []


@pytest.mark.parametrize(
    ("file", "rule"),
    [("front.svg", "figure-missing"), ("../front.svg", "figure-outside"), ("/etc/hostname", "figure-outside"),
     ("sub/../../front.svg", "figure-outside"), ("a.yaml", "figure-type")],
)  # fmt: skip
def test_a_file_that_is_not_a_picture_of_the_content_is_refused(tmp_path: Path, file: str, rule: str) -> None:
    content = tmp_path / "content"
    content.mkdir()
    (tmp_path / "front.svg").write_text(PLAIN.format(""), "utf-8")
    assert rules(content, file) == [(rule, AT)]


def test_a_link_that_leads_out_of_the_content_is_refused(tmp_path: Path) -> None:
    content = tmp_path / "content"
    content.mkdir()
    (tmp_path / "front.svg").write_text(PLAIN.format(""), "utf-8")
    (content / "front.svg").symlink_to(tmp_path / "front.svg")
    (content / "there").symlink_to(tmp_path)
    assert rules(content, "front.svg") == [("figure-outside", AT)]
    assert rules(content, "there/front.svg") == [("figure-outside", AT)]


@pytest.mark.parametrize(
    "inside",
    [
        "<script>1</script>",
        "<SCRIPT>1</SCRIPT>",
        "<foreignObject/>",
        "<path onclick='x()'/>",
        "<a href='javascript:x()'><path/></a>",
        "<image href='https://example.org/a.png'/>",
        "<image xmlns:xlink='http://www.w3.org/1999/xlink' xlink:href='//example.org/a.png'/>",
        "<use href='other.svg#a'/>",
        "<style>@import 'a.css';</style>",
        "<style>path { fill: url(https://example.org/a.svg#x) }</style>",
        "<path style='fill: url(https://example.org/x)'/>",
        "<path",
    ],
)
def test_an_svg_that_does_or_loads_something_is_refused(tmp_path: Path, inside: str) -> None:
    (tmp_path / "front.svg").write_text(PLAIN.format(inside), "utf-8")
    assert rules(tmp_path, "front.svg") == [("figure-unsafe", AT)]


def test_references_within_the_drawing_are_fine() -> None:
    inside = "<style>path{fill:url(#g)}</style><use href='#a'/><path fill='url(#g)' style=\"stroke: url('#g')\"/>"
    assert svg_danger(PLAIN.format(inside).encode()) == ""


def test_entities_are_refused_before_they_expand() -> None:
    bomb = b'<!DOCTYPE svg [<!ENTITY a "xxxxxxxx"><!ENTITY b "&a;&a;&a;">]><svg>&b;</svg>'
    assert svg_danger(bomb) == "declares an entity"
