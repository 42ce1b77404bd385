"""What changed between two versions, for other programs and for the comment on a proposed change."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator

from briefgen.revision.change import Change
from briefgen.revision.comparison import Comparison
from briefgen.revision.saying import NOTHING, letter_words, parts, stale_words, value, whom, worth_saying

FORMAT = 1
"""Goes up when a key changes its meaning."""

# What Markdown could take for more than the character itself: behind a backslash (CommonMark 0.31, 2.4), and what not
# every dialect escapes so, as an entity (2.5).
_MEANT = re.compile(r"([\\`*_{}\[\]()#])")
_ENTITIES = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", "|": "&#124;", "~": "&#126;"})


def as_json(comparison: Comparison) -> str:
    """Every difference as an object. `people` and `sorties` are ids, `subject` what an author links to."""
    letters = [
        {"sortie": one.sortie, "before": one.before, "now": one.now, "changes": one.changes, "stale": one.stale}
        for one in comparison.letters
    ]
    changes = [_object(change) for change in comparison.changes]
    return json.dumps({"format": FORMAT, "revisions": letters, "changes": changes}, ensure_ascii=False, indent=2)


def _object(change: Change) -> dict[str, object]:
    return {
        "topic": change.topic.value,
        "verb": change.verb.value,
        "safety": change.safety,
        "subject": change.subject.reference,
        "words": change.subject.words,
        "people": list(change.people),
        "sorties": list(change.sorties),
        "details": [
            {"what": one.what, "before": one.before, "after": one.after, "safety": one.safety} for one in change.details
        ],
    }


def as_markdown(comparison: Comparison) -> str:
    """Headings and lists (CommonMark), whatever stands in the author's words."""
    if not comparison.changes:
        return f"{NOTHING}\n"
    lines = [f"- {_plain(letter_words(comparison, letter))}" for letter in comparison.letters]
    lines += [f"\n**{_plain(stale_words(comparison, one))}**" for one in comparison.letters if one.stale]
    for part in parts(comparison):
        lines += ["", f"### {part.heading}", ""]
        for change in part.changes:
            lines += _lines(comparison, change)
    return "\n".join(lines) + "\n"


def _lines(comparison: Comparison, change: Change) -> Iterator[str]:
    people = whom(comparison, change)
    who = f" · {_plain(people)}" if people else ""
    yield f"- **{change.verb.value}** {_plain(change.subject.words)} `{change.subject.reference}`{who}"
    for detail in worth_saying(change):
        yield f"  - {_plain(detail.what)}: {_plain(value(change, detail))}"


def _plain(words: str) -> str:
    return _MEANT.sub(r"\\\1", words).translate(_ENTITIES)
