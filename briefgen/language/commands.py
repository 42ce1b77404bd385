"""Verbs with which instructions begin, and how a second instruction in a sentence is told.

The list is common practice in procedures, no source; a verb that is missing costs a hint, never a false one.
"""

from __future__ import annotations

import re

_PLAIN_WORDS = """
    add adjust align apply arrange ask assemble attach avoid begin bend bring call carry cast catch change
    choose clean clear close collect come command compare confirm connect continue cool count cut deliver demate
    deploy detach disconnect dismount dispose don draw drill drive drop empty enable enter erect examine
    exchange extend fasten feed fetch fill find fit fix fold follow free gather get give go grab grasp grip hang
    heat help identify insert inspect install isolate join keep kneel latch lay lead leave let lift listen load
    loosen lower make mate measure mind mount observe obtain open operate park pass peel perform pick place
    position pour prepare prevent proceed pull push put raise reach read rebuild receive record recover refer
    refit reinstall relax reload remove repeat replace report reset restore retract retrieve return rotate route
    scan screw search secure see select send separate shut slide slip start steady stow straighten stretch swap
    swing take tell test thread throw tie tighten tilt touch transfer try turn twist uncover undo unfold unhook
    unlatch unload unlock unplug unscrew unstow unstrap untie untwist unwind use verify wait warm wash watch
    weigh wind wipe withdraw work wrap write
"""
# These are as often nouns: they count as verbs only with an object or a direction behind them.
_NOUN_WORDS = """
    anchor bag bolt brush cap check clamp clip cover film guide hand hold hook label latch light load lock look
    mark measure mount move name note park pass photograph pin place plug point press pull push record release
    report return route run seal set slide slip start step stop store stow strap swing switch tape test tether
    touch track transfer try turn twist watch
"""
_PLAIN_VERBS = frozenset(_PLAIN_WORDS.split())
_NOUNS_TOO = frozenset(_NOUN_WORDS.split())
IMPERATIVES = _PLAIN_VERBS | _NOUNS_TOO
"""Words that begin an instruction."""
_NO_COMMAND_WORDS = """
    the a an you we i it this that these those he she they there his her their its
"""
NO_COMMANDS = frozenset(_NO_COMMAND_WORDS.split())
"""Words that begin a statement, and never an instruction."""

_AT_ONCE = frozenset(["hold", "keep", "support", "steady", "watch", "brace"])
_GO_ON = frozenset(["make", "continue", "keep", "wait", "mind", "watch", "avoid"])
_OBJECT = (
    r"(?:the|a|an|it|them|its|your|both|all|each|every|one|two|three|four|five|six|this|that|these|those|his|her|their"
    r"|on|off|out|in|up|down|back|away|through|along|over|aside|forward|to|for|into|from|[A-Z]\w*|\d+)"
)
_JOINED = re.compile(rf"(?:\band\b(?:\s+then)?|,\s*then\b|\bthen\b)\s+(?:\w+ly\s+)?([a-z]+)\b(?=\s+({_OBJECT})\b|(.?))")


def second_instruction(sentence: str) -> str:
    """The verb of a second instruction in a sentence, or nothing (ASD-STE100 Issue 9, rule 5.2 and its examples).

    >>> second_instruction("Set the switch to the middle position and release the other switch.")
    'release'
    >>> second_instruction("Hold the panel in its open position and install the fastener.")
    ''
    """
    words = re.findall(r"[A-Za-z][\w’'-]*", sentence)
    command = command_of(sentence)
    if not words or not command or command in _AT_ONCE or re.search(r"\b(while|at the same time)\b", sentence):
        return ""
    for found in _JOINED.finditer(sentence):
        verb, has_object = found[1], bool(found[2])
        if _adjacent(sentence, found.start()) or verb in ("make",):
            continue
        if (verb in _PLAIN_VERBS - _NOUNS_TOO and verb not in _GO_ON) or (verb in _NOUNS_TOO and has_object):
            return verb
    return ""


def main_clause(sentence: str) -> str:
    """What stands behind a condition and its comma; the whole sentence without one.

    >>> main_clause("When the light comes on, set the switch.")
    'set the switch.'
    """
    return re.split(r",\s+", sentence, maxsplit=1)[-1] if _CONDITIONAL.match(sentence) else sentence


def command_of(sentence: str) -> str:
    """The verb with which the command begins: the first word, or the one after a condition or an adverb; or nothing."""
    words = [word.lower() for word in re.findall(r"[A-Za-z]+", main_clause(sentence))[:2]]
    return next((word for word in words if word in IMPERATIVES), "")


_CONDITIONAL = re.compile(r"^(if|when|after|before|once|unless|with|at|on)\b", re.IGNORECASE)


def _adjacent(sentence: str, start: int) -> bool:
    """Whether the joint follows a verb at once, as in “Cut and remove the wire”: one action on one object."""
    before = re.findall(r"[A-Za-z]+", sentence[:start])
    return len(before) == 1 and before[0].lower() in IMPERATIVES
