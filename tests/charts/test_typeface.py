"""The typeface: what is measured at build time is what the browser draws, and the faces are small and go along."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Browser

from briefgen.charts.drawing.words import width
from briefgen.pages.html.assets import typeface_files
from briefgen.typeface.faces import WEIGHTS, advances
from briefgen.typeface.subset import cut, face_bytes
from tests.browser_tools import opened
from tests.demo import demo

SAMPLES = sorted({str(step.do) for task in demo().library.tasks.values() for step in task.steps})


@pytest.mark.parametrize("weight", WEIGHTS)
def test_a_face_is_small_and_the_same_every_time(weight: int) -> None:
    assert face_bytes(weight)[:4] == b"wOF2"
    assert len(face_bytes(weight)) < 30_000
    assert cut(weight) == cut(weight) == face_bytes(weight)


def test_the_licence_goes_with_the_faces() -> None:
    files = typeface_files()
    assert "SIL OPEN FONT LICENSE" in str(files["briefgen/face-licence.txt"])
    assert sum(name.endswith(".woff2") for name in files) == len(WEIGHTS)


def test_every_letter_of_the_demo_is_in_the_typeface() -> None:
    assert {letter for text in SAMPLES for letter in text} <= set(advances())


@pytest.mark.browser
@pytest.mark.parametrize("weight", WEIGHTS)
def test_words_are_never_drawn_wider_than_they_are_measured(
    browser: Browser, page_of: Callable[..., str], weight: int
) -> None:
    lines = "".join(
        f"<p><span style='font:{weight} 100px var(--bg-sans);white-space:pre'>{text}</span></p>" for text in SAMPLES
    )
    with opened(browser, page_of(f"face-{weight}.html", lines)) as (tab, _):
        assert tab.evaluate(f"document.fonts.ready.then(() => document.fonts.check('{weight} 20px \"Briefing face\"'))")
        drawn = tab.evaluate("[...document.querySelectorAll('p > span')].map(one => one.getBoundingClientRect().width)")
    shares = [wide / width(text, 100) for wide, text in zip(drawn, SAMPLES, strict=True)]
    assert max(shares) <= 1.001
    # Not a bound that anything keeps: regular words take at least four fifths of what they are given.
    assert min(shares) > 0.8
