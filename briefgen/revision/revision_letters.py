"""Each sortie's revision before and now, and whether it still says the old one although the sortie has changed.

The next letter leaves out I, O, Q, S, X and Z, and follows Y by AA (ASME Y14.35, revision letters, from memory).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from briefgen.revision.change import Change
from briefgen.revision.pairing.pair import Pair

_LETTERS = "ABCDEFGHJKLMNPRTUVWY"


@dataclass(frozen=True)
class Letter:
    """A sortie's revision, before (empty: there was none, or no such sortie) and now; `changes` is how many differ.

    `stale`: the sortie has changed, and its revision says that it has not; `write` is then the line to write.
    """

    sortie: str
    before: str
    now: str
    changes: int
    stale: bool
    write: str


def letters(pair: Pair, changes: Sequence[Change]) -> Iterator[Letter]:
    """The revisions of the new version's sorties."""
    before = {pair.names.record("sorties", name): letter for name, letter in pair.old.letters.items()}
    for sortie, now in pair.new.letters.items():
        many = sum(sortie in change.sorties for change in changes)
        stale = bool(many) and sortie in before and before[sortie] == now
        write = f"revision: {following(now)}" if stale else ""
        yield Letter(sortie, before.get(sortie, ""), now, many, stale, write)


def following(letter: str) -> str:
    """The revision after this one.

    >>> [following(one) for one in ("", "C", "H", "Y", "AY", "7", "2.9")]
    ['A', 'D', 'J', 'AA', 'BA', '8', '2.10']
    """
    head = letter.rstrip("0123456789")
    if head != letter:
        return f"{head}{int(letter[len(head) :]) + 1}"
    if not letter or letter[-1] not in _LETTERS:
        return f"{letter}A" if not letter else f"{letter}-2"
    if letter[-1] != _LETTERS[-1]:
        return letter[:-1] + _LETTERS[_LETTERS.index(letter[-1]) + 1]
    return f"{following(letter[:-1])}A" if len(letter) > 1 else "AA"
