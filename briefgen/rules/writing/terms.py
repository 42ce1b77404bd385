"""Abbreviations and words that not every reader knows."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from briefgen.findings import Level, Related
from briefgen.language.sentences import plain
from briefgen.language.spotting import Spotter
from briefgen.model.fields.base import Record
from briefgen.model.fields.references import text_links_of, texts_of
from briefgen.model.learning import Term
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.writing.wording import spot_of
from briefgen.source import Position, Text

# What follows a number is its unit.
_ABBREVIATION = re.compile(r"(?<![\w-])(?<!\d )([A-Z][A-Z0-9]*[A-Z][A-Z0-9]*)(?:s|['’]s)?(?![\w-])")
_QUOTED = re.compile(r"“[^”]*”|\"[^\"]*\"|`[^`]*`")
_ENDING = r"(?:\d+|e?s|['’]s)?"
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
    # In small letters elsewhere, its capitals only stress it (“to OFF”).
    small = {word for text in _texts(evidence) for word in re.findall(r"\w+", text)} if unknown else set()
    unknown = {word for word in unknown if word.lower() not in small}
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
    for _, record in evidence.written.every():
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
        str(link) for _, record in evidence.written.every() for link in text_links_of(record) if link.kind == "term"
    }
    texts = [(record, text) for _, record in evidence.written.every() for text in texts_of(record)]
    used = _users(list(evidence.library.terms.values()), texts)
    for name, term in evidence.library.terms.items():
        if name not in linked and not any(used[str(word)] - {name} for word in (term.short, term.long) if word):
            sentence = f"No text uses the term “{term.short}”: take it out, or use it where it belongs."
            yield Trouble(term.id.position, sentence)


def _users(terms: Sequence[Term], texts: Iterable[tuple[Record, Text]]) -> Mapping[str, set[str]]:
    """For each word of the terms: which terms' texts it stands in, and "" for any other record's. Linear in the texts.

    A plural or a number may follow it; small letters match capitals, too.
    """
    words = {str(word) for term in terms for word in (term.short, term.long) if word}
    capitals = Spotter((word for word in words if word == word.upper()), _ENDING)
    small = defaultdict(set)
    for word in words - {word for word in words if word == word.upper()}:
        small[word.lower()].add(word)
    any_case = Spotter(small, _ENDING)
    used: dict[str, set[str]] = defaultdict(set)
    for record, text in texts:
        owner = str(record.id) if isinstance(record, Term) else ""
        found = capitals.within(text).union(*(small[word] for word in any_case.within(text.lower())))
        for word in found:
            used[word].add(owner)
    return used
