"""Figures' files: below the content folder, of a known type, and nothing but drawings."""

from __future__ import annotations

from pathlib import Path

import pytest

from briefgen.reading.figures.drawing import svg_danger, svg_size
from briefgen.reading.figures.pictures import picture_findings
from briefgen.reading.folder import read_folder
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
        "<style>@\\69mport 'a.css';</style>",
        "<style>path { fill: u\\72l(https://example.org/a) }</style>",
        "<style>path { fill: url( 'https://example.org/a') }</style>",
        "<style>path { fill: image-set('https://example.org/a' 1x) }</style>",
        "<style>path { fill: src('a') }</style>",
        "<style>path { content: attr(id) }</style>",
        "<style>/*<![CDATA[*/ path{fill:url(a)} /*]]>*/</style>",
        "<style type='text/less'>path{}</style>",
        "<path fill='url(a.svg)'/>",
        "<path fill='&#117;rl(a.svg)'/>",
        "<path mask='image(a.png)'/>",
        "<animate attributeName='href' to='x'/>",
        "<set attributeName='href' to='x'/>",
        "<meta xmlns='http://www.w3.org/1999/xhtml' http-equiv='refresh' content='0'/>",
        "<img xmlns='http://www.w3.org/1999/xhtml' src='a.png'/>",
        "<h:img xmlns:h='http://www.w3.org/1999/xhtml' src='a.png'/>",
        "<path xmlns='http://example.org/'/>",
        "<feImage href='#a'/>",
        "<image href='data:image/png;base64,AAAA'/>",
        "<use href='data:image/svg+xml,x#a'/>",
        "<use href=' #a'/>",
        "<path xml:base='https://example.org/'/>",
        "<path xmlns:e='http://www.w3.org/2001/xml-events' e:event='load'/>",
        "<svg/>",
        "<use href='#a' id='a'/>",
        "<?xml-stylesheet href='a.css'?>",
    ],
)
def test_an_svg_that_does_or_loads_something_is_refused_where_it_does(tmp_path: Path, inside: str) -> None:
    head, foot = PLAIN.split("{}")
    (tmp_path / "front.svg").write_text(f"{head}\n<g>\n  {inside}</g>{foot}", "utf-8")
    (found,) = rules(tmp_path, "front.svg")
    assert found == ("figure-unsafe", Position("front.svg", 3, 3))


def test_the_finding_says_what_is_allowed() -> None:
    danger = svg_danger(PLAIN.format("<blink/>").encode())
    assert danger is not None
    assert "<blink>" in danger.words
    assert "Allowed are:" in danger.words
    assert "path" in danger.words


@pytest.mark.parametrize(
    "text",
    ["<path", "", "no picture", "<html/>", "<svg/>", PLAIN.format("").replace("0 0 9 9", "0 0 9"),
     PLAIN.format("").replace("0 0 9 9", f"0 0 {'9' * 400} 9"), PLAIN.format("").replace("0 0 9 9", "0 0 nan 9"),
     PLAIN.format("").replace("0 0 9 9", "0 0 0 9"), f'<?xml version="1.0" encoding="utf-7"?>{PLAIN.format("")}',
     f'<?xml version="1.0" encoding="x"?>{PLAIN.format("")}', f"<!DOCTYPE svg>{PLAIN.format('')}",
     PLAIN.format("<g>" * 100 + "</g>" * 100)],
)  # fmt: skip
def test_what_is_no_drawing_is_refused(text: str) -> None:
    assert svg_danger(text.encode()) is not None


@pytest.mark.parametrize("encoding", ["utf-16", "utf-32"])
def test_only_utf_8_is_read(encoding: str) -> None:
    assert svg_danger(PLAIN.format("<path d='M0 0'/>").encode(encoding)) is not None


def test_uses_that_repeat_each_other_again_and_again_are_counted_as_often_as_they_show() -> None:
    """Ten levels of ten uses each are 10^10 elements, in less than 5 kB (an “exponential entity expansion” of uses)."""
    levels = "".join(f"<g id='g{one + 1}'>" + f"<use href='#g{one}'/>" * 10 + "</g>" for one in range(10))
    danger = svg_danger(PLAIN.format(f"<path id='g0' d='M0 0'/>{levels}").encode())
    assert danger is not None
    assert "by <use>" in danger.words
    once = "".join(f"<g id='g{one + 1}'><use href='#g{one}'/></g>" for one in range(10))
    assert svg_danger(PLAIN.format(f"<path id='g0' d='M0 0'/>{once}").encode()) is None


@pytest.mark.parametrize(
    ("root", "size"),
    [
        ('viewBox="0 0 40 30"', (40, 30)),
        ('viewBox="-1.5,2 1e2 .5"', (100, 0.5)),
        ('width="12px" height="7.5" viewBox="0 0 40 30"', (12, 7.5)),
        ('width="100%" height="100%" viewBox="0 0 40 30"', (40, 30)),
        ('width="100%"', None),
    ],
)
def test_the_size_of_a_drawing_is_what_its_outermost_element_says(root: str, size: tuple[float, float] | None) -> None:
    assert svg_size(f"<!-- <svg viewBox='0 0 1 1'> --><svg {root}><path".encode()) == size


@pytest.mark.parametrize("path", ["./front.svg", "a/../front.svg", "a//front.svg", "a/./front.svg", "c:/front.svg"])
def test_a_path_that_is_not_plain_is_refused(tmp_path: Path, path: str) -> None:
    (tmp_path / "a").mkdir()
    (tmp_path / "front.svg").write_text(PLAIN.format(""), "utf-8")
    assert rules(tmp_path, path) == [("figure-outside", AT)]


def test_references_within_the_drawing_are_fine() -> None:
    inside = "<style>path{fill:url(#g)}</style><use href='#a'/><path fill='url(#g)' style=\"stroke: url('#g')\"/>"
    assert svg_danger(PLAIN.format(inside).encode()) is None


def test_entities_are_refused_before_they_expand() -> None:
    bomb = b'<!DOCTYPE svg [<!ENTITY a "xxxxxxxx"><!ENTITY b "&a;&a;&a;">]><svg>&b;</svg>'
    danger = svg_danger(bomb)
    assert danger is not None
    assert "document type" in danger.words
