"""An author's drawing by night: which colour stands for which, what is rewritten, and what stays as it is."""

from __future__ import annotations

from itertools import combinations
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from briefgen.pages.html.night.colours import Colour, luminance, oklch, read
from briefgen.pages.html.night.drawing import with_night
from briefgen.pages.html.night.palette import GROUND, by_night
from briefgen.reading.figures.drawing import svg_danger
from tests.browser_tools import contrast

SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 60">{}</svg>'
DRAWN = ("#ffffff", "#f7f5f1", "#e3dfd7", "#d2cdc3", "#bab4a9", "#62676f", "#4a4e55", "#2b2f36", "#c2541b", "#4d7d5c")
shares = some.floats(0, 1)


def night(inside: str) -> str:
    """A drawing as it is copied into a site."""
    return with_night(SVG.format(inside).encode()).decode()


def of(digits: str) -> Colour:
    found = read(digits)
    assert found is not None
    return found


@pytest.mark.parametrize(("one", "other"), list(combinations(DRAWN, 2)))
def test_two_colours_keep_their_contrast(one: str, other: str) -> None:
    by_day, in_the_dark = contrast(one, other), contrast(*(by_night(of(digits)).written for digits in (one, other)))
    assert in_the_dark == pytest.approx(by_day, rel=0.03)


@settings(deadline=None)
@given(shares, shares, shares)
def test_whatever_can_be_seen_on_white_can_be_seen_in_the_dark(red: float, green: float, blue: float) -> None:
    colour = Colour(red, green, blue)
    drawn, ground = luminance(by_night(colour)) + 0.05, luminance(GROUND) + 0.05
    # No pair of screen colours has more contrast with this ground than white, 18 to 1.
    assert drawn / ground >= min(17.9, 1.05 / (luminance(colour) + 0.05)) - 0.02


@settings(deadline=None)
@given(shares, shares, shares)
def test_the_hue_stays_where_there_is_one(red: float, green: float, blue: float) -> None:
    _, chroma, hue = oklch(Colour(red, green, blue))
    _, left, turned = oklch(by_night(Colour(red, green, blue)))
    away = abs(hue - turned) % 6.2832
    assert chroma < 0.02 or left < 0.02 or min(away, 6.2832 - away) < 0.12


@pytest.mark.parametrize("signal", ["#ffd31f", "#f28c0f", "#ff0", "#b3141c", "#17509e", "#1c6636"])
def test_a_signal_stands_out_from_the_ground_in_its_own_hue(signal: str) -> None:
    own, dark = oklch(of(signal)), oklch(by_night(of(signal)))
    assert contrast(by_night(of(signal)).written, GROUND.written) >= 2.98
    assert dark[1] > 0.09
    assert dark[2] == pytest.approx(own[2], abs=0.05)


@pytest.mark.parametrize(
    ("drawn", "named"),
    [
        ('<path fill="#fff" stroke="RED"/>', '<path fill="var(--n1)" stroke="var(--n2)"/>'),
        ('<g style="fill:#FFFFFF; stroke : hsl(0,100%,50%)"/>', '<g style="fill:var(--n1); stroke : var(--n2)"/>'),
        ("<style>.a{fill:white;stroke:#f00}</style>", "<style>.a{fill:var(--n1);stroke:var(--n2)}</style>"),
        ("<style>/* { */ g > text,\n#b {fill:#fff}</style>", "<style> g &gt; text,\n#b {fill:var(--n1)}</style>"),
        ('<path fill="url(#fff) #fff"/>', '<path fill="url(#fff) var(--n1)"/>'),
        ('<path fill="none" stroke="currentColor"/>', '<path fill="none" stroke="currentColor"/>'),
        ('<text font-family="Gold">gold &amp; red</text>', '<text font-family="Gold">gold &amp; red</text>'),
        ("<linearGradient><stop/></linearGradient>", '<linearGradient><stop stop-color="var(--n0)"/></linearGradient>'),
    ],
)  # fmt: skip
def test_colours_are_named_and_nothing_else_is_touched(drawn: str, named: str) -> None:
    assert named in night(drawn)


@pytest.mark.parametrize(
    "drawn",
    [
        '<path fill="lab(50% 40 59)"/>',
        '<path fill="#12345"/>',
        '<path fill="rgb(calc(1), 2, 3)"/>',
        '<g style="mix-blend-mode: multiply"/>',
        '<g mix-blend-mode="screen"/>',
        "<filter><feColorMatrix/></filter>",
        "<mask><path/></mask>",
        "<style>a{b{fill:red}}</style>",
        "<style>a{fill:red</style>",
        "<style>a{fill:red}}</style>",
        "<style>a{fill:red}/*</style>",
        "<style>[fill='#fff']{fill:red}</style>",
        "<script/>",
        "<set/>",
        '<rect width="90" height="60"/>',
        '<rect width="100%" height="100%" fill="#123"/>',
        '<path d="M0 0h90v60H0z" style="fill:#000"/>',
        '<style>.a, .b{fill:#111}</style><rect class="b" width="90" height="60"/>',
        "".join(f'<path fill="#{one:06x}"/>' for one in range(600)),
    ],
)
def test_what_cannot_be_said_by_night_stays_as_it_is(drawn: str) -> None:
    assert night(drawn) == SVG.format(drawn)


@pytest.mark.parametrize("bad", [b"", b"<svg", b"\xff\xfe", b"<svg xmlns='http://www.w3.org/2000/svg'/>"])
def test_what_is_no_drawing_stays_as_it_is(bad: bytes) -> None:
    assert with_night(bad) == bad


WORDS = some.text("<>&\"'}{;:#()/*ab1\n] ", max_size=30)


@settings(deadline=None)
@given(WORDS, WORDS, WORDS)
def test_nothing_that_an_author_writes_becomes_more_than_it_was(value: str, style: str, words: str) -> None:
    root = ElementTree.Element("svg", xmlns="http://www.w3.org/2000/svg")
    ElementTree.SubElement(root, "style").text = f".a{{fill:red;stroke:{style}}}"
    ElementTree.SubElement(root, "text", {"fill": value, "style": f"fill:{value}", "class": value}).text = words
    data = ElementTree.tostring(root)
    dark = with_night(data)
    if svg_danger(data) is not None or dark == data:
        assert dark == data
        return
    ours, *rest = ElementTree.fromstring(dark)
    assert ours.text is not None
    assert ours.text.startswith(":root{")
    assert [element.tag.rpartition("}")[2] for element in rest] == ["style", "text"]
    assert rest[1].text == (words or None)
    assert rest[1].get("class") == value
    # Without our own palette it is a drawing that may stand in a site, but for the names of colours.
    plain = (rest[0].text or "") + "".join(rest[1].attrib.values())
    assert "@" not in plain
    assert "url(" not in plain.replace("url(#", "")


def test_a_large_drawing_takes_no_longer_than_its_length() -> None:
    one, four = (SVG.format('<path fill="#fff" style="stroke:red" d="M0 0"/>' * number) for number in (500, 2000))
    assert len(with_night(four.encode())) - len(four) < 4.2 * (len(with_night(one.encode())) - len(one))
