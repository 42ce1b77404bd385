"""`briefgen now`: what follows when the day goes otherwise than planned."""

from __future__ import annotations

import argparse
import json
import re

from briefgen.commands.arguments import Commands, add_folder, add_sortie, proved_sorties
from briefgen.commands.output import SOUND, width, write
from briefgen.proof.deciding.underway.day import Day, make_day
from briefgen.proof.deciding.underway.document import document
from briefgen.proof.deciding.underway.situation import Progress, Situation, bad_times, contradictions
from briefgen.refusals import CannotRun
from briefgen.terminal.underway import CAUTION, contradiction_words, underway_text

_CLOCK = re.compile(r"([0-9]{1,2}):([0-5][0-9])(?::([0-5][0-9]))?")
FORMAT = 1


def add(commands: Commands) -> None:
    """Describes the verb."""
    now = commands.add_parser("now", help="show what follows from the clock and the last finished steps (for training)")
    add_folder(now)
    add_sortie(now)
    now.add_argument("--at", required=True, metavar="H:MM", help="elapsed time now, like 3:25 or 3:25:00")
    now.add_argument(
        "--done", action="append", default=[], metavar="PERSON=TASK/STEP[@H:MM]",
        help="the last step that a person has finished, and when; without it they have finished none; may be repeated",
    )  # fmt: skip
    now.add_argument("--json", action="store_true", help="as JSON, seconds and the authors' units")
    now.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Prints the answer for one sortie. Raises CannotRun."""
    found = proved_sorties(options)
    if len(found) != 1:
        raise CannotRun("Say which sortie: --sortie " + " or --sortie ".join(str(proved.sortie.id) for proved in found))
    day = make_day(found[0])
    situation = _situation(day, options)
    its = document(day, situation)
    if options.json:
        head = {"format": FORMAT, "caution": CAUTION, "sortie": str(day.proved.sortie.id)}
        write(json.dumps(head | its, ensure_ascii=False, indent=2) + "\n", commands=True)
    else:
        write(underway_text(day, its, width()))
    return SOUND


def _situation(day: Day, options: argparse.Namespace) -> Situation:
    """What was said, where it can be so."""
    people = dict.fromkeys(day.flows, Progress(0))
    for words in options.done:
        person, progress = _progress(day, words)
        people[person] = progress
    situation = Situation(_seconds(options.at), people)
    for name in bad_times(day, situation):
        if name == "now":
            raise CannotRun("The clock is too far beyond the sortie's length: give the elapsed time, like 3:25.")
        raise CannotRun(f"The last step of “{name}” can't be over after now: give an earlier time behind the @.")
    wrong = contradictions(day, situation)
    if wrong:
        raise CannotRun(contradiction_words(day, wrong[0]))
    return situation


def _progress(day: Day, words: str) -> tuple[str, Progress]:
    person, equals, rest = words.partition("=")
    key, at, clock = rest.partition("@")
    if not equals or person not in day.flows:
        raise CannotRun(
            f"“{words}” names nobody of this sortie. There are: {', '.join(day.flows)}. Write ev1=task/step."
        )
    row = [day.steps[index].key for index in day.flows[person]]
    if key not in row:
        raise CannotRun(f"“{key}” is no step of “{person}” in this sortie. The first is {row[0]}, the last {row[-1]}.")
    return person, Progress(row.index(key) + 1, _seconds(clock) if at else None)


def _seconds(words: str) -> float:
    found = _CLOCK.fullmatch(words)
    if found is None:
        raise CannotRun(f"“{words}” is no elapsed time: write hours:minutes, or hours:minutes:seconds, like 3:25:00.")
    hours, minutes, seconds = (int(one or 0) for one in found.groups())
    return hours * 3600.0 + minutes * 60.0 + seconds
