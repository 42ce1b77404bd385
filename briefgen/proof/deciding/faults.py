"""What is said of each kind of fault of a plan."""

from __future__ import annotations

from collections.abc import Mapping

from briefgen.proof.soundness import FaultKind

FAULTS: Mapping[str, str] = {
    FaultKind.WAY: "no way leads there and on",
    FaultKind.TETHER: "the tether does not reach",
    FaultKind.HOME: "the way home would be too long",
    FaultKind.NO_HOME: "no way would lead home",
    FaultKind.LEFT_OUT: "somebody would not be home in the end",
    FaultKind.DARK: "work that needs light would fall into the night",
    FaultKind.GATE: "no sunrise or sunset that a step waits for would come any more",
    FaultKind.RESERVE: "a suit's reserve would be touched",
    FaultKind.LIMIT: "the sortie would end too late",
    FaultKind.CROWD: "there would not be room for everybody",
    FaultKind.TAKEN: "somebody would stay where others need the room",
    FaultKind.CLASH: "a tool would be needed in two places at once",
    FaultKind.PREREQUISITE: "something would not be done before what needs it",
    FaultKind.STATE: "equipment would not be in the state that a step needs",
    FaultKind.CUSTODY: "a tool or a bag would not be where a step needs it",
    FaultKind.LOAD: "somebody would carry more than they can",
    FaultKind.FITTED: "something would be taken away while it is fitted",
    FaultKind.ENDS: "something would be left as it may not stay",
    FaultKind.CARRIED: "something would be left otherwise than the sortie says",
    FaultKind.SPENT: "too little of something is left",
    FaultKind.HAZARD: "a hazard on the way would not be controlled",
    FaultKind.HELD: "somebody would not be in the restraint that the work needs, or would go on while still in it",
    FaultKind.KEPT_FREE: "somebody would be where others must keep away",
    FaultKind.TAKEN_BACK: "a way back would not lead to how things were",
    FaultKind.CASE: "the plan would not hold if a step did not go as planned",
}
"""What is said of each kind of fault."""
