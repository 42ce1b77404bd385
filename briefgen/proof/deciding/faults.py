"""What is said of each kind of fault of a plan."""

from __future__ import annotations

from collections.abc import Mapping

from briefgen.proof.soundness import Kind

FAULTS: Mapping[str, str] = {
    Kind.WAY: "no way leads there and on",
    Kind.TETHER: "the tether does not reach",
    Kind.HOME: "the way home would be too long",
    Kind.NO_HOME: "no way would lead home",
    Kind.LEFT_OUT: "somebody would not be home in the end",
    Kind.DARK: "work that needs light would fall into the night",
    Kind.RESERVE: "a suit's reserve would be touched",
    Kind.LIMIT: "the sortie would end too late",
    Kind.CROWD: "there would not be room for everybody",
    Kind.TAKEN: "somebody would stay where others need the room",
    Kind.CLASH: "a tool would be needed in two places at once",
    Kind.PREREQUISITE: "something would not be done before what needs it",
    Kind.STATE: "equipment would not be in the state that a step needs",
    Kind.CUSTODY: "a tool or a bag would not be where a step needs it",
    Kind.LOAD: "somebody would carry more than they can",
    Kind.FITTED: "something would be taken away while it is fitted",
    Kind.ENDS: "something would be left as it may not stay",
    Kind.CARRIED: "something would be left otherwise than the sortie says",
    Kind.SPENT: "too little of something is left",
    Kind.HAZARD: "a hazard on the way would not be controlled",
    Kind.HELD: "somebody would not be in the restraint that the work needs, or would go on from it without getting out",
    Kind.KEPT_FREE: "somebody would be where others must keep away",
    Kind.TAKEN_BACK: "a way back would not lead to how things were",
}
"""What is said of each kind of fault."""
