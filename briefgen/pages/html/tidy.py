"""What no reader sees is left out of finished pages: white space, quotes and end tags that HTML can do without.

That is a sixth of the site's HTML; a browser builds the same tree. Between a number and its unit no line may end.
"""

from __future__ import annotations

import re
from functools import lru_cache

from briefgen.language.unbroken import unbroken

# Within these it is text, or may be.
_KEPT = re.compile(r"(<(pre|script|style|textarea)\b.*?</\2>)", re.DOTALL)
# Before these a browser drops it: they begin and end lines, rows or cells, or show nothing.
_BLOCKS = re.compile(
    r"\n(?=</?(?:!doctype|html|head|body|meta|title|link|header|footer|main|nav|section|article|aside|div|p|ul|ol|li|"
    r"dl|dt|dd|h[1-6]|table|caption|thead|tbody|tr|th|td|figure|figcaption|form|fieldset|legend|details|summary)\b)"
)
_TAG = re.compile(r"""<[a-zA-Z](?:[^"'>]|"[^"]*"|'[^']*')*+>""")
# HTML, 13.1.2.3 "Attributes": a value needs quotes for these marks; and before a slash, which would become part of it.
_QUOTED = re.compile(r"""="([^\s"'=<>`]+)"(?=[\s>])""")
# HTML, 13.1.2.4 "Optional tags": what follows at once ends these, too. Readers of older HTML understand all of them.
_ENDS = re.compile(
    r"</li>(?=<li[ >]|</[uo]l>)|</d[td]>(?=<d[td][ >]|</dl>)|</option>(?=<option[ >]|</select>)|"
    r"</t[dh]>(?=<t[dh][ >]|</tr>)|</tr>(?=<tr[ >]|</t(?:body|head|able)>)|</thead>(?=<tbody[ >])|</tbody>(?=</table>)|"
    r"</p>(?=<(?:p|[uo]l|div|h[1-6]|table|dl|form|fieldset)[ >]|</(?:li|div|section|td|dd|article|details)>)"
)
_SAID = re.compile(r"/\*(?:[^*]|\*(?!/))*\*/")
# Words between two tags.
_WORDS = re.compile(r"(?<=>)[^<>]+(?=<)")


def tidy(html: str) -> str:
    r"""The page without the line breaks and indents of templates; where words could run together one is left.

    Linear in the page's length.

    >>> tidy('<b title="3 s">3 s</b>').replace("\u00a0", "_")
    '<b title="3 s">3_s</b>'
    >>> tidy('<ul class="a">\n  <li>\n <b>a</b>\n  <i title="b c">b</i>\n</li>\n</ul>\n<pre>\n c </pre>')
    '<ul class=a><li>\n<b>a</b>\n<i title="b c">b</i></ul>\n<pre>\n c </pre>'
    """
    pieces = _KEPT.split(html)
    # Between two pieces stands what is kept, and then its tag's name.
    del pieces[2::3]
    pieces[::2] = [_short(_WORDS.sub(_together, _BLOCKS.sub("", _lines(piece)))) for piece in pieces[::2]]
    return "".join(pieces)


def lean(sheet: str) -> str:
    r"""A style sheet without comments, indents and empty lines. None of its strings may hold the marks of a comment.

    >>> lean('/* One. */\n.a {\n  color: red; /* Two. */\n}\n\n.b { top: 0 }\n')
    '.a {\ncolor: red;\n}\n.b { top: 0 }\n'
    """
    lines = map(str.strip, _SAID.sub("", sheet).split("\n"))
    return "\n".join([*filter(None, lines), ""])


def _together(found: re.Match[str]) -> str:
    return unbroken(found[0]) if " " in found[0] else found[0]


def _short(html: str) -> str:
    """Without quotes and end tags that are not needed. Nothing but tags is touched: words may look like attributes."""
    return _ENDS.sub("", _TAG.sub(_unquoted, html))


def _unquoted(tag: re.Match[str]) -> str:
    return _bare(tag[0])


@lru_cache(maxsize=10_000)
def _bare(tag: str) -> str:
    """A tag as it is, if an apostrophe is in it: within such quotes, too, words may look like attributes.

    Most tags stand on many pages.
    """
    return tag if '="' not in tag or "'" in tag else _QUOTED.sub(r"=\1", tag)


def _lines(text: str) -> str:
    """The lines without indents, empty ones left out; what stands before the first break and after the last stays."""
    first, *rest = text.split("\n")
    if not rest:
        return text
    *between, last = rest
    return "\n".join([first.rstrip(), *filter(None, map(str.strip, between)), last.lstrip()])
