"""What is checked while the files are read. The checks live with the readers; here each has its page and examples."""

from __future__ import annotations

from briefgen.findings import Level
from briefgen.rules.registry import described

_RIGHT = """
terms:
  qd: {short: QD, long: quick-disconnect, means: A coupling that shuts as it parts.}
"""

described(
    "yaml-syntax", __name__,
    """The file is YAML: one document of mappings, lists and words.

    A file that can't be parsed is left out whole, so everything in it is missing from the briefing.
    """,
    wrong="terms:\n  qd: ▸{short: QD, means: A coupling.\n", right=_RIGHT,
)  # fmt: skip
described(
    "duplicate-key", __name__,
    """No key stands twice in one mapping.

    Plain YAML readers silently keep the later of the two, and a step or a limit is gone without a word.
    """,
    wrong="terms:\n  qd: {short: QD, means: A coupling., ▸means: A valve.}", right=_RIGHT,
)  # fmt: skip
described(
    "alias", __name__,
    """Values are written out, not repeated with `*name`.

    An alias has the place of what it repeats, so a finding would point at the wrong line; nested aliases can also
    grow without bound.
    """,
    wrong="terms:\n  qd: &one {short: QD, means: A coupling.}\n  other: ▸*one", right=_RIGHT,
)  # fmt: skip
described(
    "custom-tag", __name__,
    """No value carries a YAML tag (`!word`).

    Tags ask the reader to make something other than words of a value; this format has none.
    """,
    wrong="terms:\n  qd: {short: ▸!word QD, means: A coupling.}", right=_RIGHT,
)  # fmt: skip
described(
    "unknown-kind", __name__,
    """Every top-level key is a kind of record.

    All that stands below a misspelt kind would be missing from the briefing.
    """,
    wrong="▸term:\n  qd: {short: QD, means: A coupling.}", right=_RIGHT,
)  # fmt: skip
described(
    "unknown-key", __name__,
    """Every key is one that its record knows.

    A misspelt `requires` or `after` would be a safeguard that is not there.
    """,
    wrong="terms:\n  qd: {short: QD, ▸meaning: A coupling.}", right=_RIGHT,
)  # fmt: skip
described(
    "missing-key", __name__,
    """A record has all that it cannot do without.

    A hazard without a consequence, or a step without a duration, can't be briefed or planned.
    """,
    wrong="terms:\n  ▸qd: {short: QD}", right=_RIGHT,
)  # fmt: skip
described(
    "wrong-value", __name__,
    """Every value is of the form that its key asks for: a duration with its unit, a whole number, a known word.

    `1:30` may be an hour and a half or ninety seconds; the crew must not have to guess.
    """,
    wrong="routes:\n  a: {between: [lock, k1], length: ▸6}", right="routes:\n  a: {between: [lock, k1], length: 6 m}",
)  # fmt: skip
described(
    "bad-id", __name__,
    """An id is lower-case words joined by hyphens.

    Ids become addresses of pages, and must be typed the same by everybody.
    """,
    wrong="terms:\n  ▸Q_D: {short: QD, means: A coupling.}", right=_RIGHT,
)  # fmt: skip
described(
    "duplicate-id", __name__,
    """An id stands once within its kind, in all files together.

    Of two records with one id, only one would be briefed.
    """,
    wrong="tools:\n  ▸driver: {stowed: lock}", right="tools:\n  ratchet: {stowed: lock}",
)  # fmt: skip
described(
    "empty-file", __name__,
    """A content file says something.

    An empty file is mostly one that was not saved.
    """,
    wrong="▸", right=_RIGHT,
)  # fmt: skip
described(
    "not-utf-8", __name__,
    """A content file is UTF-8 text.

    In another encoding, units and names come out as other characters.
    """,
    wrong="", right=_RIGHT,
)  # fmt: skip
described(
    "unreadable-file", __name__,
    """A content file can be read and lies in the content folder, not behind a link that leaves it.

    What lies elsewhere is not under the same revision.
    """,
    wrong="", right=_RIGHT,
)  # fmt: skip
described(
    "figure-outside", __name__,
    """A figure's file lies below the content folder, also behind links, and its path is plain, without “.” or “..”.

    The site takes along only what belongs to the content, under the path that is written.
    """,
    wrong="figures:\n  front: {file: ▸../front.svg, alt: The front.}", right=_RIGHT, spoils=False,
)  # fmt: skip
described(
    "figure-missing", __name__,
    """A figure's file is there.

    A crew that is told to look at a picture must find it.
    """,
    wrong="figures:\n  front: {file: ▸front.svg, alt: The front.}", right=_RIGHT, spoils=False,
)  # fmt: skip
described(
    "figure-type", __name__,
    """A figure's file is of a type that every browser shows, and is by its own bytes what its name says.

    A picture that opens at the desk and not on the tablet is no picture. A clip is an MP4 or WebM file, whole, with a
    picture in it and nothing besides.
    """,
    wrong="", right=_RIGHT, spoils=False,
)  # fmt: skip
described(
    "figure-unsafe", __name__,
    """A figure's SVG is a drawing and nothing else: only listed elements, attributes and style functions stand in it.

    A picture must not be able to load anything, or to change what the page says. The finding stands at the element in
    the picture's file and says what is allowed.
    """,
    wrong="", right=_RIGHT, spoils=False,
)  # fmt: skip
described(
    "too-long", __name__,
    """No value is longer than anybody would brief: an id of 100 letters, a name or a key of 250, a duration of 200, a
    text of 5,000 in 200 lines, a word of 500.

    What is longer is mostly pasted by mistake. It can't be read on a card, and file names end at 255 letters.
    """,
    wrong=f"terms:\n  qd: {{short: ▸{'QD' * 130}, means: A coupling.}}", right=_RIGHT,
)  # fmt: skip
described(
    "too-deep", __name__,
    """Nothing is nested deeper than anybody could follow: a file's mappings and lists 50 levels, a text's lists,
    quotations and open brackets 20.

    What is deeper is a slip, and can keep a program busy for minutes.
    """,
    wrong=f"terms:\n  qd: {{short: QD, means: ▸\"{'[' * 21}\"}}", right=_RIGHT,
)  # fmt: skip
described(
    "control-character", __name__,
    """No text holds a character that shows nothing: a control character, one that turns the direction of writing, one
    for private use, or half a character.

    Such a character can hide words from whoever reviews a change, and moves things about in a terminal.
    """,
    wrong='terms:\n  qd: {short: QD, means: ▸"A\\u202e coupling."}', right=_RIGHT,
)  # fmt: skip
described(
    "page-file", __name__,
    """What lies beside your own Markdown pages is what a page shows: pictures, clips, captions, tables of data.

    A file that a browser runs by itself, a drawing that is more than a drawing, and a link to another place are left
    out of the site. Whoever opens the briefing must be safe to do so.
    """,
    wrong="", right=_RIGHT, spoils=False, level=Level.WARNING,
)  # fmt: skip
described(
    "page-html", __name__,
    """HTML in your own Markdown pages says or shows something: it runs nothing, loads nothing from another place, hides
    nothing, and does not choose another frame.

    Whatever else stands there is left out of the site, which is read without a network and trusted by a crew.
    """,
    wrong="", right=_RIGHT, spoils=False, level=Level.WARNING,
)  # fmt: skip
described(
    "page-link", __name__,
    """The files to which your own Markdown pages lead are there: other pages, pictures, pages that are made.

    Lead to a record by `kind:id`, as `[the driver](tool:driver)`: that address stays right when a page moves. A build
    says the same in words of its own.
    """,
    wrong="", right=_RIGHT, spoils=False, level=Level.WARNING,
)  # fmt: skip
