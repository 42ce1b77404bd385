"""Mistakes that a beginner makes, each as one change to the folder that `briefgen start` writes.

In `new`, a `▸` stands just before the word at which the finding must point.
"""

from __future__ import annotations

from dataclasses import dataclass

MARK = "▸"


@dataclass(frozen=True)
class Mistake:
    """`old` becomes `new` in a file; `rule` is what must be said. Without `old`, `new` is put at the file's end.

    `at` is where the finding must point, if no mark says so.
    """

    name: str
    file: str
    old: str
    new: str
    rule: str
    at: str = ""


SPELLING = [
    Mistake("key misspelt", "tasks.yaml", "purpose: Both", "▸purpos: Both", "unknown-key"),
    Mistake("key of a step misspelt", "tasks.yaml", "picks:", "▸pick:", "unknown-key"),
    Mistake("key invented", "tasks.yaml", "purpose: Both", "▸reason: Once.\n    purpose: Both", "unknown-key"),
    Mistake("kind in the singular", "things.yaml", "bags:", "▸bag:", "unknown-kind"),
    Mistake("kind invented", "things.yaml", "", "▸robots:\n  arm: {name: Arm}\n", "unknown-kind"),
    Mistake(
        "key on the wrong level",
        "tasks.yaml",
        "    place: airlock\n    script: We b",
        "    ▸who: ev1\n    place: airlock\n    script: We b",
        "unknown-key",
    ),
    Mistake("place misspelt", "tasks.yaml", "place: lamp-foot", "place: ▸lamp-fot", "unknown-reference"),
    Mistake("person misspelt", "tasks.yaml", "who: [ev1, ev2] #", "who: [ev1, ▸ev3] #", "unknown-reference"),
    Mistake(
        "label for an id", "tasks.yaml", "who: ev1\n        do: Open", "who: ▸EV1\n        do: Open", "wrong-value"
    ),
    Mistake("person in the flow misspelt", "programme.yaml", "ground: [change", "▸grund: [change", "unknown-reference"),
    Mistake("task in the flow misspelt", "programme.yaml", "ev2: [go-out,", "ev2: [▸go-uot,", "unknown-step"),
    Mistake("step misspelt", "tasks.yaml", "after: [go-out/check]", "after: [▸go-out/chek]", "unknown-step"),
    Mistake("step without its task", "tasks.yaml", "after: [go-out/check]", "after: [▸check]", "unknown-step"),
    Mistake(
        "state misspelt", "tasks.yaml", "verifies: {lamp-feed: off}", "verifies: {lamp-feed: ▸of}", "unknown-state"
    ),
    Mistake("state not listed", "things.yaml", "starts: worn", "starts: ▸old", "unknown-state"),
    Mistake("equipment misspelt", "tasks.yaml", "sets: {hatch: open}", "sets: {▸hatsh: open}", "unknown-reference"),
    Mistake("tool misspelt", "tasks.yaml", "with: [lamp-grip]", "with: [▸lamp-gripe]", "unknown-reference"),
    Mistake("tool named by its name", "tasks.yaml", "with: [lamp-grip]", "with: [▸Lamp grip]", "wrong-value"),
    Mistake("hazard misspelt", "tasks.yaml", "hazards: [hot-lamp] #", "hazards: [▸hot-lamps] #", "unknown-reference"),
    Mistake(
        "outcome misspelt", "tasks.yaml", "outcomes: [change-a-lamp]", "outcomes: [▸change-lamp]", "unknown-reference"
    ),
    Mistake("suit misspelt", "people.yaml", "suit: suit-two", "suit: ▸suit-tow", "unknown-reference"),
    Mistake("sortie misspelt", "programme.yaml", "sorties: [sortie-1]", "sorties: [▸sorty-1]", "unknown-reference"),
    Mistake(
        "link to nothing",
        "tasks.yaml",
        "The lamp on the post",
        "The [lamp](▸equipment:lmap) on the post",
        "broken-link",
    ),
    Mistake("word of a list misspelt", "people.yaml", "post: ground", "post: ▸grond", "wrong-value"),
    Mistake("signal word invented", "places.yaml", "signal: warning", "signal: ▸alert", "wrong-value"),
    Mistake("pattern invented", "people.yaml", "pattern: rings", "pattern: ▸stripes", "wrong-value"),
    Mistake(
        "priority invented",
        "tasks.yaml",
        "prerequisites: [go-out]",
        "priority: ▸optional\n    prerequisites: [go-out]",
        "wrong-value",
    ),
]

VALUES = [
    Mistake("duration without unit", "tasks.yaml", "takes: 4 min", "takes: ▸4", "wrong-value"),
    Mistake("duration like a clock", "tasks.yaml", "takes: 4 min", "takes: ▸1:30", "wrong-value"),
    Mistake("unit written out", "tasks.yaml", "takes: 4 min", "takes: ▸4 minutes", "wrong-value"),
    Mistake("unit in capitals", "tasks.yaml", "takes: 4 min", "takes: ▸4 Min", "wrong-value"),
    Mistake("number in letters", "tasks.yaml", "takes: 4 min", "takes: ▸four min", "wrong-value"),
    Mistake("comma for a point", "tasks.yaml", "takes: 4 min", "takes: ▸4,5 min", "wrong-value"),
    Mistake("three points the wrong way", "tasks.yaml", "takes: 4/5/8 min", "takes: ▸8/5/4 min", "wrong-value"),
    Mistake("two points", "tasks.yaml", "takes: 4/5/8 min", "takes: ▸4/8 min", "wrong-value"),
    Mistake("length without unit", "places.yaml", "length: 6 m", "length: ▸6", "wrong-value"),
    Mistake("length in feet", "places.yaml", "length: 6 m", "length: ▸20 ft", "wrong-value"),
    Mistake("mass in pounds", "things.yaml", "mass: 2 kg", "mass: ▸4 lb", "wrong-value"),
    Mistake("share without per cent", "programme.yaml", "pass_mark: 80 %", "pass_mark: ▸80", "wrong-value"),
    Mistake("yes for true", "places.yaml", "home: true", "home: ▸yes", "wrong-value"),
    Mistake("on for true", "things.yaml", "control: true", "control: ▸on", "wrong-value"),
    Mistake("list for one", "tasks.yaml", "place: lamp-foot", "place: ▸[lamp-foot, junction]", "wrong-value"),
    Mistake(
        "word for a mapping",
        "programme.yaml",
        "limits:\n      length: 2 h\n      reserve: 30 min # kept free at the end\n"
        "      return_within: 30 min # the longest way home\n      tether: 26 m",
        "limits: ▸2 h",
        "wrong-value",
    ),
    Mistake(
        "steps without dashes",
        "tasks.yaml",
        "    steps:\n      - id: open-hatch\n        who: ev1",
        "    steps:\n      open-hatch:\n        who: ev1",
        "yaml-syntax",
        "tasks.yaml:15:7",
    ),
    Mistake(
        "nothing written",
        "tasks.yaml",
        "purpose: Both are outside, and each has checked the other.",
        "purpose:▸",
        "wrong-value",
    ),
    Mistake("number as step id", "tasks.yaml", "id: open-hatch", "id: ▸1", "wrong-value"),
    Mistake("no such answer", "learning.yaml", "correct: 3", "correct: 4", "wrong-value", "learning.yaml:11:3"),
    Mistake("one answer", "learning.yaml", "answers: [Base, Finch, Robin]", "answers: ▸[Robin]", "wrong-value"),
    Mistake(
        "reserve above the whole",
        "people.yaml",
        "holds: 0.50 kg, keeps: 0.08 kg",
        "holds: 0.50 kg, keeps: 0.80 kg",
        "wrong-value",
        "people.yaml:25:15",
    ),
    Mistake(
        "supply without a rate",
        "people.yaml",
        "oxygen: {holds: 0.50 kg, keeps: 0.08 kg, per_megajoule: 0.0706 kg}",
        "oxygen: ▸{holds: 0.50 kg, keeps: 0.08 kg}",
        "wrong-value",
    ),
    Mistake(
        "route to itself",
        "places.yaml",
        "between: [airlock, junction]",
        "between: [junction, junction]",
        "wrong-value",
        "places.yaml:21:3",
    ),
]

MISSING = [
    Mistake(
        "nobody does it",
        "tasks.yaml",
        "      - id: open-hatch\n        who: ev1\n",
        "      - ▸id: open-hatch\n",
        "missing-key",
    ),
    Mistake(
        "no duration",
        "tasks.yaml",
        "        do: Open the hatch.\n        takes: 4 min\n",
        "        do: Open the hatch.\n",
        "missing-key",
        "tasks.yaml:10:9",
    ),
    Mistake("no title", "tasks.yaml", "    title: Leave the airlock\n", "", "missing-key", "tasks.yaml:4:3"),
    Mistake(
        "hazard without a way out",
        "places.yaml",
        "    avoid: Touch the lamp only when the feed is off.\n",
        "",
        "missing-key",
        "places.yaml:25:3",
    ),
]

YAML_ITSELF = [
    Mistake("tab", "tasks.yaml", "    title: Leave", "▸\ttitle: Leave", "yaml-syntax"),
    Mistake("no colon", "tasks.yaml", "    purpose: Both are", "    purpose Both are", "yaml-syntax", "tasks.yaml:6:5"),
    Mistake(
        "no blank behind the colon",
        "tasks.yaml",
        "    place: airlock\n    script: We b",
        "    place:airlock\n    script: We b",
        "yaml-syntax",
        "tasks.yaml:7:10",
    ),
    Mistake(
        "brace left open",
        "tasks.yaml",
        "verifies: {lamp-feed: off}",
        "verifies: {lamp-feed: off",
        "yaml-syntax",
        "tasks.yaml:49:19",
    ),
    Mistake(
        "quote left open",
        "programme.yaml",
        'title: "Sortie 1: the lamp"',
        'title: "Sortie 1: the lamp',
        "yaml-syntax",
        "programme.yaml:14:12",
    ),
    Mistake(
        "colon in a title", "programme.yaml", 'title: "Sortie 1: the lamp"', "title: Sortie 1▸: the lamp", "yaml-syntax"
    ),
    Mistake("indented by one too few", "tasks.yaml", "    purpose: Both", "   ▸purpose: Both", "yaml-syntax"),
    Mistake(
        "no blank behind the dash",
        "tasks.yaml",
        "      - id: open-hatch",
        "      -id: open-hatch",
        "yaml-syntax",
        "tasks.yaml:10:7",
    ),
    Mistake(
        "key twice",
        "tasks.yaml",
        "        takes: 4 min\n",
        "        takes: 4 min\n        ▸takes: 5 min\n",
        "duplicate-key",
    ),
    Mistake("kind twice", "things.yaml", "", "▸tools:\n  spare-grip: {stowed: lamp-bag}\n", "duplicate-key"),
    Mistake("alias", "tasks.yaml", "sets: {lamp: new}", "sets: ▸*same", "alias"),
    Mistake("tag", "tasks.yaml", "takes: 4 min", "takes: ▸!duration 4 min", "custom-tag"),
    Mistake("two documents", "things.yaml", "", "▸---\ntools: {}\n", "yaml-syntax"),
    Mistake(
        "list at the top",
        "learning.yaml",
        "outcomes:\n  change-a-lamp:",
        "- outcomes:\n  change-a-lamp:",
        "yaml-syntax",
        "learning.yaml:10:1",
    ),
    Mistake("id in capitals", "things.yaml", "  lamp-grip:", "  ▸Lamp-Grip:", "bad-id"),
    Mistake("id with blanks", "things.yaml", "  lamp-grip:", "  ▸lamp grip:", "bad-id"),
    Mistake("id with underscore", "things.yaml", "  lamp-grip:", "  ▸lamp_grip:", "bad-id"),
    Mistake(
        "id twice in one kind",
        "people.yaml",
        "",
        "places:\n  airlock: {home: true}\n",
        "duplicate-id",
        "places.yaml:4:3",
    ),
    Mistake("kind without records", "things.yaml", "", "figures:▸\n", "wrong-value"),
]

PLAN = [
    Mistake(
        "second home",
        "places.yaml",
        "    name: Junction",
        "    name: Junction\n    home: true",
        "one-home",
        "places.yaml:10:3",
    ),
    Mistake(
        "no home",
        "places.yaml",
        "    home: true # every sortie starts and ends here\n",
        "",
        "one-home",
        "places.yaml:4:3",
    ),
    Mistake(
        "circle",
        "tasks.yaml",
        "after: [go-out/check] # not",
        "after: [change-lamp/see-light] # not",
        "order-circle",
        "tasks.yaml:43:17",
    ),
    Mistake(
        "hold forgotten",
        "tasks.yaml",
        "        after: [change-lamp/see-dark]\n",
        "",
        "state-by-luck",
        "tasks.yaml:58:31",
    ),
    Mistake(
        "switched and confirmed by one",
        "tasks.yaml",
        "who: ev2 # not the one who switched it",
        "who: ground",
        "control-not-confirmed",
        "tasks.yaml:58:31",
    ),
    Mistake(
        "hazard without its control",
        "tasks.yaml",
        "        requires: {lamp-feed: off}\n        sets: {lamp: removed}",
        "        sets: {lamp: removed}",
        "hazard-not-controlled",
        "tasks.yaml:57:19",
    ),
    Mistake(
        "bag left outside",
        "tasks.yaml",
        "leaves: {lamp-bag: airlock}\n        after: [change-lamp/see-light]",
        "after: [change-lamp/see-light]",
        "never-put-back",
        "tasks.yaml:26:17",
    ),
    Mistake("tool not brought", "tasks.yaml", "        picks: [lamp-bag]\n", "", "not-in-hand", "tasks.yaml:55:16"),
    Mistake(
        "left where nobody is",
        "tasks.yaml",
        "leaves: {lamp-bag: airlock}",
        "leaves: {lamp-bag: junction}",
        "left-elsewhere",
        "tasks.yaml:101:28",
    ),
    Mistake(
        "state not restored", "tasks.yaml", "        sets: {lamp-feed: on}\n", "", "ends-wrong", "tasks.yaml:42:27"
    ),
    Mistake(
        "step in nobody's flow",
        "programme.yaml",
        "ev2: [go-out, change-lamp, come-in]",
        "ev2: [go-out, come-in]",
        "step-not-in-flow",
        "tasks.yaml:46:14",
    ),
    Mistake(
        "task before its prerequisite",
        "programme.yaml",
        "ev2: [go-out, change-lamp, come-in]",
        "ev2: [change-lamp, go-out, come-in]",
        "order-circle",
        "tasks.yaml:43:17",
    ),
    Mistake(
        "too long for the limit",
        "programme.yaml",
        "length: 2 h",
        "length: 50 min",
        "past-the-limit",
        "programme.yaml:22:7",
    ),
    Mistake(
        "reserve longer than the sortie",
        "programme.yaml",
        "reserve: 30 min",
        "reserve: 3 h",
        "limit-without-sense",
        "programme.yaml:23:7",
    ),
    Mistake(
        "tether too short", "programme.yaml", "tether: 26 m", "tether: 8 m", "tether-too-short", "tasks.yaml:31:12"
    ),
    Mistake(
        "home too far",
        "programme.yaml",
        "return_within: 30 min",
        "return_within: 1 min",
        "return-too-long",
        "tasks.yaml:31:12",
    ),
    Mistake(
        "no way there",
        "places.yaml",
        "  junction-lamp: {between: [junction, lamp-foot], length: 5 m}\n",
        "",
        "unreachable-place",
        "tasks.yaml:31:12",
    ),
    Mistake(
        "supply too small",
        "people.yaml",
        "oxygen: {holds: 0.50 kg",
        "oxygen: {holds: 0.10 kg",
        "supply-runs-short",
        "programme.yaml:18:7",
    ),
    Mistake(
        "hold that is not there",
        "tasks.yaml",
        "restraint: foot loop\n        effort: moderate\n      - id: fit",
        "restraint: foot plate\n        effort: moderate\n      - id: fit",
        "restraint-not-there",
        "tasks.yaml:61:20",
    ),
    Mistake(
        "not back home",
        "tasks.yaml",
        "and the hatch is shut.\n    place: airlock",
        "and the hatch is shut.\n    place: junction",
        "not-home-at-end",
        "programme.yaml:18:34",
    ),
    Mistake(
        "start that is no time",
        "programme.yaml",
        "starts: 2043-03-02T09:00Z",
        "starts: tomorrow",
        "start-not-utc",
        "programme.yaml:16:13",
    ),
    Mistake(
        "too many at a place",
        "places.yaml",
        "    anchor: true",
        "    room: 1\n    anchor: true",
        "room-too-small",
        "tasks.yaml:16:20",
    ),
    Mistake(
        "picture forgotten",
        "things.yaml",
        "",
        "figures:\n  lamp: {file: lamp.svg, alt: The lamp.}\n",
        "figure-missing",
        "things.yaml:34:16",
    ),
    Mistake(
        "picture elsewhere",
        "things.yaml",
        "",
        "figures:\n  lamp: {file: ../lamp.svg, alt: The lamp.}\n",
        "figure-outside",
        "things.yaml:34:16",
    ),
]

LIKELY = [
    Mistake(
        "tool that nobody uses",
        "things.yaml",
        "tools:",
        "tools:\n  ▸spare-grip: {name: Spare grip, stowed: lamp-bag}",
        "unused-record",
    ),
    Mistake(
        "task that nobody does",
        "tasks.yaml",
        "",
        "  ▸rest: {title: Rest, purpose: Calm., place: airlock, steps: [{who: ev1, do: Rest., takes: 1 min}]}\n",
        "unused-record",
    ),
    Mistake(
        "outcome without a question",
        "learning.yaml",
        "questions:",
        "  ▸see-dark: {audience: ev2, does: sees a dark lamp, condition: at night, standard: at once}\nquestions:",
        "outcome-without-question",
    ),
    Mistake(
        "two instructions",
        "tasks.yaml",
        "do: Open the hatch.",
        "do: ▸Open the hatch and check the seal.",
        "two-instructions",
    ),
    Mistake("no command", "tasks.yaml", "do: Open the hatch.", "do: ▸The hatch should be opened.", "not-imperative"),
    Mistake(
        "long sentence",
        "tasks.yaml",
        "do: Open the hatch.",
        "do: ▸Open the hatch slowly with both hands on its long grey handle while your feet rest against "
        "the wall opposite of the hinge.",
        "long-sentence",
    ),
    Mistake(
        "abbreviation unexplained", "tasks.yaml", "do: Open the hatch.", "do: Open the ▸PMC hatch.", "undefined-term"
    ),
    Mistake(
        "caution in a note",
        "tasks.yaml",
        "do: Open the hatch.",
        'do: Open the hatch.\n        note: "▸Caution: it swings."',
        "hazard-in-words",
    ),
    Mistake(
        "accepted rule misspelt",
        "things.yaml",
        "    name: Lamp grip",
        "    name: Lamp grip\n    accepts: [{finding: ▸unused-recrod, because: Spare.}]",
        "unknown-rule",
    ),
]

EVERY = [*SPELLING, *VALUES, *MISSING, *YAML_ITSELF, *PLAN, *LIKELY]
