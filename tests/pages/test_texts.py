"""The author's texts: Markdown, links, terms, and nothing that could run or load."""

from __future__ import annotations

import re
from html import unescape

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from markdown import markdown

from briefgen.model.learning import Term
from briefgen.model.library import Library
from briefgen.pages.html.terms import Terms
from briefgen.pages.html.texts import Texts
from briefgen.pages.links import ROOT, Links
from briefgen.source import Text
from tests.demo import demo


def texts(library: Library | None = None) -> Texts:
    library = library or Library()
    links = Links(library)
    return Texts(links, Terms(library.terms, links))


BARE = texts()
DEMO = texts(demo().library)
TAG = re.compile(r"<[^>]*>")


def test_a_record_is_linked_by_its_kind_and_id() -> None:
    assert DEMO.inline("Take [the driver](tool:torque-driver) now.") == (
        f'Take <a href="{ROOT}tools/torque-driver.html">the driver</a> now.'
    )


def test_a_step_is_linked_by_its_number_as_by_its_id() -> None:
    task = demo().library.tasks["swap-pump"]
    for name in (task.steps[2].key, "3"):
        assert f"tasks/swap-pump.html#{task.steps[2].key}" in DEMO.inline(f"[x](task:swap-pump#{name})")


def test_a_callout_is_linked_at_its_line() -> None:
    assert 'figures/pump-front.html#pump-front-p14"' in DEMO.inline("[x](figure:pump-front#p14)")


def test_a_link_that_leads_nowhere_is_only_words() -> None:
    assert BARE.inline("See [this](tool:gone) and [that](javascript:alert(1)).") == (
        "See <span>this</span> and <span>that</span>."
    )


@pytest.mark.parametrize(
    "text",
    [
        "<script>alert(1)</script>",
        "Before <b onclick='x'>bold</b> after",
        "<div>\n\nblock\n\n</div>",
        "<!-- comment -->",
        "<img src=x onerror=alert(1)>",
        '<a href="javascript:x">y</a>',
        "&lt;b&gt; and <i>",
    ],
)
def test_raw_html_is_shown_as_text(text: str) -> None:
    html = BARE.block(text)
    assert set(re.findall(r"</?(\w+)", html)) <= {"p"}


@pytest.mark.parametrize("text", ["![a](http://example.invalid/a.png)", "![a][b]\n\n[b]: http://example.invalid/a.png"])
def test_a_text_loads_no_picture(text: str) -> None:
    assert "<img" not in BARE.block(text)


@pytest.mark.parametrize("text", ["[a](data:text/html,x)", "[a](vbscript:x)", "[a]( javascript:x)", "<javascript:x>"])
def test_a_text_links_to_nothing_that_runs(text: str) -> None:
    assert "href" not in BARE.block(text)


@settings(deadline=None)
@given(st.text(alphabet=st.characters(codec="utf-8", exclude_characters="\ue000\r"), max_size=40))
def test_a_text_needs_no_parser_only_where_the_parser_would_say_the_same(text: str) -> None:
    """The short cut for plain texts against Markdown itself."""
    slow = texts()
    slow_html = slow._markdown.convert(text.strip())
    assert texts().block(text) == slow_html


@settings(deadline=None)
@given(st.text(alphabet="ab <>&\"'*_`[]()!#:\n-1.", max_size=60))
def test_no_text_makes_a_tag_that_markdown_has_not(text: str) -> None:
    allowed = {"p", "em", "strong", "code", "pre", "ul", "ol", "li", "blockquote", "hr", "br", "a", "span", "h1", "h2",
               "h3", "h4", "h5", "h6"}  # fmt: skip
    assert set(re.findall(r"<(\w+)", BARE.block(text))) <= allowed


@settings(deadline=None)
@given(st.text(alphabet="ab *_\n", max_size=40))
def test_what_is_no_html_reads_as_with_the_reference_library(text: str) -> None:
    """Python-Markdown with its standard settings, an independent reading of the same text."""
    assert BARE.block(text) == markdown(text.strip(), output_format="html")


def test_plain_words_keep_no_mark_up() -> None:
    assert DEMO.plain("Turn *slowly*, see [it](tool:torque-driver) & wait") == "Turn slowly, see it & wait"
    assert unescape(TAG.sub("", BARE.inline("a < b"))) == BARE.plain("a < b")


def test_a_term_is_marked_at_its_first_use_in_a_text() -> None:
    library = Library({"terms": {"qd": _term(short="QD", long="quick-disconnect", means="A coupling.")}})
    html = texts(library).inline("Open QD 1, then QD 2. A QDX is none.")
    assert html.count("bg-termlink") == 1
    assert html.startswith(
        f'Open <a class="bg-termlink" href="{ROOT}glossary.html#qd"><abbr title="quick-disconnect">QD'
    )


def test_a_term_within_a_link_or_code_is_left_alone() -> None:
    library = Library({"terms": {"qd": _term(short="QD", means="A coupling.")}, "tools": demo().library.tools})
    html = texts(library).inline("[the QD tool](tool:torque-driver), `QD`")
    assert "bg-termlink" not in html


def test_a_longer_term_wins_over_one_within_it() -> None:
    terms = {"plate": _term(short="plate", means="x"), "foot-plate": _term(short="foot plate", means="y")}
    html = texts(Library({"terms": terms})).inline("Step onto the foot plate.")
    assert re.findall(r"#([\w-]+)", html) == ["foot-plate"]


def test_a_word_may_begin_a_sentence_and_an_abbreviation_is_spelt_one_way() -> None:
    terms = {"keel": _term(short="keel", means="x"), "qd": _term(short="QD", means="y")}
    site = texts(Library({"terms": terms}))
    assert "bg-termlink" in site.inline("Keel and mast.")
    assert "bg-termlink" not in site.inline("The qd is none.")


def _term(**fields: str) -> Term:
    return Term.model_validate({key: Text(value) for key, value in fields.items()})
