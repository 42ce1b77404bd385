"""Broken and hostile contents, as many as wanted: `python -m tests.hostile.fuzz [HOW MANY [FIRST]]` tries them all.

Each is a sound content with one to four things in it made otherwise, in its values or in its bytes; a few are nothing
but hostile values, and one in 25 is the demo's. The same number gives the same content. Whatever the content: there is
an answer, never an exception, and what is checked without an error can be built.
"""

from __future__ import annotations

import random
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import yaml

from briefgen.language.printable import control_in
from briefgen.model.library import KINDS
from briefgen.start.folder import start_folder
from tests.demo import CONTENT
from tests.hostile.answer import every_answer
from tests.plugin.small_site import PICTURE, PLAN, WORLD

SLOWEST = 5.0
"""Processor seconds within which every content must be answered."""

WORDS = (
    "", " ", "~", "null", "nan", "inf", "1e400", "-1", "0", "0 s", "0 m", "0.0", "1", "2", "999999999", "1000000000",
    "1 h", "1000 h", "1001 h", "3/4/7 min", "7/4/3 min", "0/0/1 s", "1:30", "0.000001 s", "999999999999999 h",
    "0.000000000000001 m", "999999999999999 m", "-5 m", "5 kg", "0 kg", "80 %", "-80 %", "999999999 %", "0 W",
    "1 W/m", "true", "false", "yes", "any", "off", "on", "none", "required", "get-ahead", "time-permitting",
    "outside", "ground", "hard", "rest", "by feel", "danger", "../x", "./front.svg", "/etc/passwd", "front.svg",
    "front.svg/", "a\\b", "a\0b", "plan.yaml", "C:/x", "tool:driver", "tool:none", "task:open-cover#9",
    "task:open-cover#open", "what:ever", "a#b", "[x](tool:driver)", "[x](tool:none)", "[x][y]", "[[[[[[[[",
    "![x](y)", "](", "`", "``` \n x", "<script>alert(1)</script>", "<img src=x onerror=y>", "&amp;lt;", "&", "<",
    "\"'", "*", "**", "_a_", "# a", "- a\n- b", "> > > a", "1. a", "|a|b|", "\x1b[31m", "\u202e", "\x7f", "\ud800",
    "\ufffe", "\u2028", "\ue000", "\u0301", "日本", "𝕏", "ﬁ", "ß", "İ", "x" * 99, "x" * 101, "x" * 251, "x " * 2_000,
    "a-" * 30 + "a", "=1+1", "@x", "2042-05-12T08:30Z", "9999-12-31T23:59Z", "0001-01-01T00:00Z",
    "2042-05-12T08:30+02:00", "amp", "lt", "con", "nul", "index", "constructor", "__proto__", "ev1", "ev2", "lock",
    "k2", "driver", "bag", "cover", "valve", "open", "shut", "home", "open-cover", "open-cover/open",
    "open-cover/home", "open-cover/9", "x/y/z", "front", "front#cover", "front#none", "s", "p", "one", "rail",
    "{root}", "{{ 7 * 7 }}", "{% raise %}", "%s%n", "\\", "$(x)", "::error::x", "##vso[x]",
)  # fmt: skip
TEXTS = tuple(word for word in WORDS if word.strip() and not control_in(word) and len(word) < 250)
IDS = ("a", "b", "ev1", "k2", "driver", "open-cover", "s", "front", "index", "con", "x" * 100, "x" * 101, "A", "", "9")
DEMO = 1_000_000
"""Contents from this number on are made of the demo."""
KEYS = (
    "id", "who", "do", "at", "to", "takes", "each", "with", "picks", "leaves", "hands", "spends", "requires", "sets",
    "verifies", "after", "hazards", "effort", "sight", "needs_light", "restraint", "anchors", "calls", "figures",
    "note", "accepts", "name", "title", "room", "home", "anchor", "map", "one_way", "length", "time", "between",
    "parts", "control", "ends", "starts", "states", "count", "settings", "mass", "stowed", "flow", "limits", "orbit",
    "light", "get_aheads", "carries_over", "prerequisites", "priority", "script", "suit", "supplies", "tether",
    "reserve", "return_within",
)  # fmt: skip
SHAPES: tuple[Any, ...] = ([], {}, [[]], [{}], {"a": {}}, {"a": ["b"]}, [["0 s", "0 s"]], {"x": "y"}, ["a", "a"])
BYTES = (
    b"\x00", b"\xff\xfe", b"\t", b"[", b"{", b"}", b"]", b": ", b"- ", b"&a ", b"*a", b"!t ", b"---\n",
    b"%YAML 1.2\n", b"? ", b"|\n", b">\n", b"'", b'"', b"#", b"\r", b"\x1b", b"\xef\xbb\xbf", b"\xc3", b"<<: ",
    b"\\x",
)  # fmt: skip

Change = Callable[[random.Random, dict[str, bytes]], None]


def content(number: int) -> dict[str, bytes]:
    """The files of a content: the same for the same number."""
    rng = random.Random(number)
    if rng.random() < 0.05:
        return {"any.yaml": _written(_anything(rng))}
    files = _demo() if number >= DEMO else _sound(rng)
    if rng.random() < 0.3:
        _mild(rng, files)
        return files
    for _ in range(rng.choice((1, 1, 1, 2, 3, 4))):
        rng.choice(CHANGES)(rng, files)
    return files


def _sound(rng: random.Random) -> dict[str, bytes]:
    if rng.random() < 0.7:
        return {"world.yaml": WORLD.encode(), "plan.yaml": PLAN.encode(), "front.svg": PICTURE.encode()}
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder) / "new"
        start_folder(root)
        below = root / "content"
        return {
            path.relative_to(below).as_posix(): path.read_bytes() for path in sorted(below.rglob("*")) if path.is_file()
        }


def _demo() -> dict[str, bytes]:
    paths = (path for path in CONTENT.rglob("*") if path.suffix in (".yaml", ".svg", ".png"))
    return {path.relative_to(CONTENT).as_posix(): path.read_bytes() for path in sorted(paths)}


def _anything(rng: random.Random) -> dict[str, Any]:
    """Records of all kinds, with keys of all kinds."""
    return {
        kind: {rng.choice(IDS): {key: _any_value(rng, 0) for key in rng.sample(KEYS, 6)} for _ in range(3)}
        for kind in rng.sample(list(KINDS), 6)
    }


def _any_value(rng: random.Random, depth: int) -> Any:
    if depth < 4 and rng.random() < 0.4:
        inner = [_any_value(rng, depth + 1) for _ in range(rng.randrange(4))]
        return inner if rng.random() < 0.5 else {rng.choice((*KEYS, *IDS)): one for one in inner}
    return rng.choice(WORDS)


def _changed(rng: random.Random, files: dict[str, bytes], change: Callable[[Any, Any], Any]) -> None:
    """One file read, one place in it made otherwise, and written again."""
    name = rng.choice([name for name in files if name.endswith((".yaml", ".yml"))])
    try:
        tree = yaml.load(files[name], Loader=yaml.BaseLoader)
    except (yaml.YAMLError, UnicodeDecodeError, ValueError):
        return
    spots = list(_spots(tree))
    if spots:
        change(*rng.choice(spots))
        files[name] = _written(tree)


def _written(tree: Any) -> bytes:
    text = yaml.safe_dump(tree, sort_keys=False, width=10**6)  # escapes whatever is not ASCII
    return str(text).encode("utf-8", "surrogatepass")


def _spots(node: Any) -> Iterator[tuple[Any, Any]]:
    """Every place in a tree: what holds it, and its key there."""
    for key, inner in node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ():
        yield node, key
        yield from _spots(inner)


def _value(rng: random.Random, files: dict[str, bytes]) -> None:
    _changed(rng, files, lambda holder, key: holder.__setitem__(key, rng.choice(WORDS)))


def _text(rng: random.Random, files: dict[str, bytes]) -> None:
    """Another text where one stands: most of these are sound all the same."""

    def other(holder: Any, key: Any) -> None:
        if isinstance(holder[key], str) and " " in holder[key] and not holder[key][0].isdigit():
            holder[key] = f"{holder[key][: rng.randrange(12)]}{rng.choice(WORDS)}{holder[key]}"

    for _ in range(8):
        _changed(rng, files, other)


def _mild(rng: random.Random, files: dict[str, bytes]) -> None:
    """Values in whose stead others may well stand: much of this can be built."""

    def other(holder: Any, key: Any) -> None:
        value = holder[key]
        if isinstance(value, str) and value.endswith((" min", " h", " m", " kg", " s")) and value[0].isdigit():
            holder[key] = f"{rng.choice(('0', '0.5', '1', '7', '59', '600'))} {value.rpartition(' ')[2]}"
        elif isinstance(value, str) and " " in value:
            holder[key] = f"{rng.choice(TEXTS)} {value}"
        elif isinstance(value, dict) and key not in ("programme", "flow", "limits") and rng.random() < 0.5:
            value[rng.choice(("note", "name", "title"))] = rng.choice(TEXTS)

    for _ in range(6):
        _changed(rng, files, other)


def _shape(rng: random.Random, files: dict[str, bytes]) -> None:
    _changed(rng, files, lambda holder, key: holder.__setitem__(key, rng.choice(SHAPES)))


def _less(rng: random.Random, files: dict[str, bytes]) -> None:
    _changed(rng, files, lambda holder, key: holder.pop(key))


def _key(rng: random.Random, files: dict[str, bytes]) -> None:
    def more(holder: Any, key: Any) -> None:
        inner = holder[key]
        place = inner if isinstance(inner, dict) else holder
        if isinstance(place, dict):
            value = rng.choice((*WORDS, *SHAPES))
            place[rng.choice((*KEYS, *WORDS[:40]))] = value
        else:
            place.append(rng.choice(WORDS))

    _changed(rng, files, more)


def _twice(rng: random.Random, files: dict[str, bytes]) -> None:
    def again(holder: Any, key: Any) -> None:
        if isinstance(holder, dict):
            holder[f"{key}-{rng.randrange(3)}"] = holder[key]
        else:
            holder.extend([holder[key]] * rng.choice((1, 2, 30)))

    _changed(rng, files, again)


def _bytes(rng: random.Random, files: dict[str, bytes]) -> None:
    name = rng.choice(sorted(files))
    data, at = files[name], rng.randrange(len(files[name]) + 1)
    files[name] = data[:at] + rng.choice(BYTES) + data[at + rng.randrange(4) :]


def _cut(rng: random.Random, files: dict[str, bytes]) -> None:
    name = rng.choice(sorted(files))
    lines = files[name].splitlines(keepends=True)
    if lines:
        at = rng.randrange(len(lines))
        files[name] = b"".join([*lines[:at], *lines[at + rng.randrange(1, 4) :]])


def _picture(rng: random.Random, files: dict[str, bytes]) -> None:
    inside = rng.choice(("<g>", "<script/>", "<use href='#a'/>", "<style>*{fill:url(x)}</style>", "&x;", "<!-- -- -->",
                         "<text>\u202e</text>", "<path d='M0 0'/>", "<a/>", "\x00"))  # fmt: skip
    box = rng.choice(
        ("0 0 9 9", "0 0 0 0", "0 0 9", "nan nan nan nan", "0 0 1e9 1", f"0 0 {'9' * 400} 9", "-1 -1 1e3 .5")
    )
    for name in files:
        if name.endswith(".svg"):
            files[name] = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}">{inside}</svg>'.encode()


CHANGES: tuple[Change, ...] = (
    _value, _value, _value, _text, _text, _text, _key, _shape, _less, _twice, _bytes, _cut, _picture,
)  # fmt: skip


def tried(number: int) -> tuple[int, float, str]:
    """A content's number, the processor seconds until its answer, and the answer; “FAILED” for an exception."""
    with tempfile.TemporaryDirectory() as folder:
        for name, data in content(number).items():
            path = Path(folder) / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(data)
        begin = time.process_time()
        try:
            answer = every_answer(Path(folder))
        except Exception:
            answer = f"FAILED {traceback.format_exc(limit=-3)}"
        return number, time.process_time() - begin, answer


def main(words: list[str]) -> int:
    """Tries contents; prints what they came to, and all that failed or took too long. 1 where there is such."""
    many, first = (int(words[0]) if words else 2500), (int(words[1]) if len(words) > 1 else 0)
    tally: Counter[str] = Counter()
    slowest, bad = (0.0, 0), 0
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as pool:
        numbers = (*range(first, first + many - many // 25), *range(DEMO + first, DEMO + first + many // 25))
        for number, seconds, answer in pool.map(tried, numbers, chunksize=5):
            slowest = max(slowest, (seconds, number))
            tally["failed" if answer.startswith("FAILED") else "built" if answer.endswith("pages") else "refused"] += 1
            if answer.startswith("FAILED") or seconds > SLOWEST:
                bad += 1
                print(f"{number}: {seconds:.1f} s {answer}", flush=True)
    print(f"{many} contents: {dict(tally)}; the slowest took {slowest[0]:.1f} s (number {slowest[1]}).")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
