"""An author's page, cut to what says or shows something: nothing in it runs, loads from elsewhere, or hides the rest.

The HTML is parsed as a browser parses it, and written anew from a list of what is allowed.
"""

from __future__ import annotations

import re

import nh3

from briefgen.model.fields.references import OF_THE_WEB
from briefgen.model.library import SINGULAR
from briefgen.reading.prose.markup import ELEMENTS, from_elsewhere

_ANYWHERE = {"id", "class", "title", "lang", "dir", "role", "aria-label", "aria-hidden"}
_ATTRIBUTES = {
    "*": _ANYWHERE,
    "a": {"href"},
    "img": {"src", "alt", "width", "height"},
    "video": {"src", "poster", "controls", "width", "height"},
    "source": {"src", "type"},
    "track": {"src", "kind", "srclang", "label", "default"},
    "ol": {"start", "type", "reversed"},
    "li": {"value"},
    "col": {"span"},
    "colgroup": {"span"},
    "td": {"colspan", "rowspan", "headers", "style"},
    "th": {"colspan", "rowspan", "headers", "scope", "style"},
    "time": {"datetime"},
    "details": {"open"},
    "input": {"type", "checked", "disabled"},
    "label": {"for"},
}
_LOADED = frozenset({"src", "poster"})
_ALIGNED = re.compile(r"text-align: (?:left|right|center);?")
_OF_THE_FRAME = ("bg-", "md-", "__")
"""What the frame's own names begin with: an author's page must not look or act like a part of it."""
_KINDS_OF_INPUT = frozenset({"checkbox", "radio"})


def cleaned(html: str) -> str:
    """The HTML without what is not allowed; `kind:id` addresses stay.

    >>> cleaned('<p onclick="x()">Turn <b>left</b><script>x()</script>.</p>')
    '<p>Turn <b>left</b>.</p>'
    """
    return _CLEANER.clean(html)


def _kept(element: str, name: str, value: str) -> str | None:
    """An attribute's value as it may stand; None where it may not."""
    if name in _LOADED:
        return None if from_elsewhere(value) else value
    if name == "style":
        return value if _ALIGNED.fullmatch(value.strip()) else None
    if name == "class":
        return " ".join(one for one in value.split() if not one.startswith(_OF_THE_FRAME)) or None
    if name == "id":
        return None if value.startswith(_OF_THE_FRAME) else value
    if (element, name) == ("input", "type"):
        return value if value.lower() in _KINDS_OF_INPUT else "checkbox"
    return value


_CLEANER = nh3.Cleaner(
    tags=set(ELEMENTS),
    attributes=_ATTRIBUTES,
    attribute_filter=_kept,
    url_schemes={*OF_THE_WEB, *SINGULAR},
    link_rel=None,
)
