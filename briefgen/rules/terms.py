"""Abbreviations and words that not every reader knows."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.language.sentences import plain
from briefgen.model.references import text_links_of, texts_of
from briefgen.proof.evidence import Evidence
from briefgen.proof.wording import spot_of
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.source import Position, Text

# What follows a number is its unit.
_ABBREVIATION = re.compile(r"(?<![\w-])(?<!\d )([A-Z][A-Z0-9]*[A-Z][A-Z0-9]*)(?:s|['’]s)?(?![\w-])")
_QUOTED = re.compile(r"“[^”]*”|\"[^\"]*\"|`[^`]*`")
_KNOWN_TO_ALL = frozenset({"OK", "UTC", "SI"})  # common practice, no source


@rule(
    "undefined-term", Level.ADVICE, Needs.RECORDS,
    wrong="""
    tasks:
      look:
        title: Look
        purpose: To know.
        place: lock
        steps: [{who: ev1, do: Look along the ▸MLI for tears., takes: 2 min}]
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
    right="""
    terms:
      mli: {short: MLI, long: multilayer insulation, means: The silvery blanket round the keel.}
    tasks:
      look:
        title: Look
        purpose: To know.
        place: lock
        steps: [{who: ev1, do: Look along the MLI for tears., takes: 2 min}]
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def undefined_term(evidence: Evidence) -> Iterator[Trouble]:
    """Every abbreviation in a text is explained under `terms`, or is a person's label or callsign.

    A trainee who has to guess a word guesses wrong sooner or later. An abbreviation helps only a reader who knows its
    meaning: ASD-STE100 Issue 9, rule 8.6.
    """
    found = [(text, word) for text in _texts(evidence) for word in _abbreviations(text)]
    known = _KNOWN_TO_ALL | _explained(evidence)
    # “QD4” is one of several QD.
    unknown = {word for _, word in found if not {word, word.rstrip("0123456789")} & known}
    unknown -= {word for word in unknown if any(_in_small_letters(word, text) for text in _texts(evidence))}
    uses: dict[str, list[Position]] = defaultdict(list)
    for text, word in found:
        if word in unknown:
            uses[word].append(spot_of(evidence, text, word))
    for word, spots in uses.items():
        first, *others = sorted(set(spots))
        yield Trouble(
            first,
            f"“{word}” is used and explained nowhere. Write it under “terms”, or write it out here.",
            tuple(Related(spot, "used here, too") for spot in others[:3]),
            write=f"{word.lower()}: {{short: {word}, long: …, means: …}}",
            write_at=next((term.id.position for term in evidence.library.terms.values()), None),
        )


def _texts(evidence: Evidence) -> Iterator[Text]:
    for _, record in evidence.library.every():
        yield from texts_of(record)


def _abbreviations(text: Text) -> Iterator[str]:
    if not _ABBREVIATION.search(text):
        return
    words = _QUOTED.sub(" ", plain(text))
    if re.search(r"[a-z]", words):
        yield from (found[1] for found in _ABBREVIATION.finditer(words))


def _explained(evidence: Evidence) -> frozenset[str]:
    library = evidence.library
    words = [word for person in library.people.values() for word in (person.label, person.callsign) if word]
    words += [word for term in library.terms.values() for word in (term.short, term.long) if word]
    return frozenset(part for word in words for part in (str(word), *re.findall(r"[A-Z0-9]+", word)))


def _in_small_letters(word: str, text: str) -> bool:
    """Whether a word stands in a text in small letters: then capitals only stress it elsewhere (“to OFF”)."""
    return word.lower() in text and re.search(rf"\b{re.escape(word.lower())}\b", text) is not None


@rule(
    "unused-term", Level.WARNING, Needs.REFERENCES,
    wrong="""
    terms:
      ▸mli: {short: MLI, long: multilayer insulation, means: The silvery blanket round the keel.}
    tasks:
      look: {title: Look, purpose: To know., place: lock, steps: [{who: ev1, do: Look for tears., takes: 2 min}]}
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
    right="""
    terms:
      mli: {short: MLI, long: multilayer insulation, means: The silvery blanket round the keel.}
    tasks:
      look: {title: Look, purpose: To know., place: lock, steps: [{who: ev1, do: Look along the MLI., takes: 2 min}]}
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def unused_term(evidence: Evidence) -> Iterator[Trouble]:
    """Every term of the glossary stands in some text.

    A word that nobody uses is one more for the crew to learn, and often the trace of a text that has since changed its
    words.
    """
    linked = {
        str(link) for _, record in evidence.library.every() for link in text_links_of(record) if link.kind == "term"
    }
    terms = evidence.library.terms
    elsewhere = "\n".join(
        text for kind, record in evidence.library.every() if kind != "terms" for text in texts_of(record)
    )
    for name, term in terms.items():
        words = [word for word in (term.short, term.long) if word]
        if name in linked or any(_stands_in(word, elsewhere) for word in words):
            continue
        others = "\n".join(text for other in terms.values() if other is not term for text in texts_of(other))
        if not any(_stands_in(word, others) for word in words):
            sentence = f"No text uses the term “{term.short}”: take it out, or use it where it belongs."
            yield Trouble(term.id.position, sentence)


def _stands_in(word: str, text: str) -> bool:
    """Whether a word stands in a text, its plural or a number included; small letters match capitals, too."""
    flags = re.IGNORECASE if word != word.upper() else re.NOFLAG
    ending = r"(?:\d+|e?s|['’]s)?(?![\w-])"
    # The expression begins with the word itself, because only then the search is fast.
    return any(
        not re.match(r"[\w-]", text[found.start() - 1 : found.start()])
        for found in re.finditer(rf"{re.escape(word)}{ending}", text, flags)
    )
