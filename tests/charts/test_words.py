"""An author's Markdown as plain words, cut and wrapped."""

from __future__ import annotations

import html

from hypothesis import given
from hypothesis import strategies as st
from markdown import markdown

from briefgen.charts.drawing.words import clip, for_plotly, plain, width, wrap

WORDS = st.text(st.characters(codec="utf-8", categories=["L", "N", "P", "Zs"]), max_size=80)
SIMPLE = st.text("abc defg", min_size=1, max_size=30).map(str.strip).filter(bool)


def test_links_emphasis_and_code_become_their_words() -> None:
    text = r"Turn the *[driver](tool:torque-driver)* **six** turns with `care`, not 2\*3 or snake_case_words."
    assert plain(text) == "Turn the driver six turns with care, not 2*3 or snake_case_words."


@given(SIMPLE, st.sampled_from(["{}", "*{}*", "**{}**", "`{}`", "[{}](task:swap#b)", "**[{}](tool:a)**"]))
def test_what_is_left_is_what_a_markdown_library_shows(words: str, form: str) -> None:
    # Checked against Python-Markdown, a reference library: its HTML without tags.
    shown = markdown(f"a {form.format(' '.join(words.split()))} z")
    text = html.unescape("".join(part.split(">")[-1] for part in shown.split("<")))
    assert plain(f"a {form.format(' '.join(words.split()))} z") == " ".join(text.split())


def test_plotly_is_given_no_markup() -> None:
    assert for_plotly("<b>a</b> & <a href='x'>b</a>") == "&lt;b&gt;a&lt;/b&gt; &amp; &lt;a href='x'&gt;b&lt;/a&gt;"


@given(WORDS, st.floats(10, 400), st.floats(8, 20))
def test_what_is_cut_fits_and_says_so(text: str, room: float, size: float) -> None:
    cut = clip(text, room, size)
    assert width(cut, size) <= room
    assert cut in ("", text) or cut.endswith("…")


@given(WORDS, st.floats(30, 400), st.integers(1, 5))
def test_no_line_is_wider_than_its_room_and_there_are_never_too_many(text: str, room: float, most: int) -> None:
    lines = wrap(text, room, 12, most)
    assert len(lines) <= most
    assert all(width(line, 12) <= room or len(line) == 1 for line in lines)


@given(WORDS)
def test_nothing_is_lost_where_there_is_room(text: str) -> None:
    assert " ".join(wrap(text, 1e6, 12)) == " ".join(text.split())
