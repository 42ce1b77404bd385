"""Small inputs that could keep a program busy, or bring it down: each a small sound project with something in it.

A line is `name: a function that spoils a project's folder`. They come as a pull request could bring them.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from pathlib import Path

import yaml

from tests.clips import CAPTIONS, webm
from tests.plugin.small_site import PICTURE, PLAN, WORLD

Spoil = Callable[[Path], None]


def lay_out(folder: Path, spoil: Spoil) -> Path:
    """The small project's content in a folder, spoilt; returns the content folder."""
    content = folder / "content"
    content.mkdir(parents=True, exist_ok=True)
    (content / "world.yaml").write_text(WORLD, "utf-8")
    (content / "plan.yaml").write_text(PLAN, "utf-8")
    (content / "front.svg").write_text(PICTURE, "utf-8")
    spoil(content)
    return content


def _instead(old: str, new: str, file: str = "plan.yaml") -> Spoil:
    """Other words in a file; whatever is replaced must stand there."""

    def spoil(content: Path) -> None:
        text = (content / file).read_text("utf-8")
        assert old in text, old
        (content / file).write_text(text.replace(old, new, 1), "utf-8")

    return spoil


def _more(text: str) -> Spoil:
    """One more file."""
    return lambda content: _write(content / "more.yaml", text)


def _records(make: Callable[[], Mapping[str, object]]) -> Spoil:
    """One more file with many records: they are made when they are asked for, as to write them out takes a while."""
    return lambda content: _write(content / "more.yaml", _dump(make()))


def _picture(text: str, encoding: str = "utf-8") -> Spoil:
    return lambda content: _write(content / "front.svg", text, encoding)


def _write(path: Path, text: str, encoding: str = "utf-8") -> None:
    path.write_bytes(text.encode(encoding, "surrogatepass"))


def _all(*spoils: Spoil) -> Spoil:
    def spoil(content: Path) -> None:
        for one in spoils:
            one(content)

    return spoil


class _Plain(yaml.SafeDumper):
    """Writes out what is said twice, without anchors."""

    def ignore_aliases(self, data: object) -> bool:
        return True


def _dump(records: Mapping[str, object]) -> str:
    return str(yaml.dump(dict(records), Dumper=_Plain, allow_unicode=True, sort_keys=False, width=10**6))


def _script(text: str) -> Spoil:
    return _instead("    place: k2\n", f"    place: k2\n    script: {_dump({'x': text})[3:].strip()}\n")


def _terms(number: int) -> Spoil:
    return _records(lambda: {"terms": {f"t{one}": {"short": f"T{one}", "means": f"Word T{one} of {number}."}
                                       for one in range(number)}})  # fmt: skip


def _dead_references(number: int) -> Spoil:
    places = {f"worksite-{one:04d}": {"name": f"Worksite {one}"} for one in range(number)}
    step = {"who": "ev1", "do": "Look.", "takes": "1 min"}
    steps = [{**step, "at": f"werksite-{one:04d}x"} for one in range(number)]
    tasks = {
        f"lost-{one}": {"title": "L", "purpose": "P.", "steps": steps[one : one + 100]} for one in range(0, number, 100)
    }
    return _records(lambda: {"places": places, "tasks": tasks})


def _bags(number: int, first: str = "k2") -> Spoil:
    outer = {"b0": {"stowed": first}}
    return _records(lambda: {"bags": outer | {f"b{one}": {"stowed": f"b{one - 1}"} for one in range(1, number)}})


def _get_aheads(number: int, takes: str = "1 min") -> Spoil:
    tasks = {
        f"extra-{one}": {
            "title": f"Extra {one}", "purpose": "P.", "place": "k2", "priority": "get-ahead",
            "steps": [{"who": "ev1", "do": "Look at it.", "takes": takes}],
        } for one in range(number)
    }  # fmt: skip
    listed = f"    get_aheads: [{', '.join(tasks)}]\n    limits:"
    return _all(_records(lambda: {"tasks": tasks}), _instead("    limits:", listed))


def _steps(number: int) -> Spoil:
    more = "".join(f"      - {{who: ev1, do: Look at bolt {one}., takes: 1 s}}\n" for one in range(number))
    return _instead("      - {id: home,", f"{more}      - {{id: home,")


def _open_at_once(number: int, things: bool, backs: bool) -> Spoil:
    """Covers opened, or tools taken out of a bag, one after the other; then all shut or put back."""
    kind = "t" if things else "e"
    opens = [{"picks": [f"t{one}"]} if things else {"sets": {f"e{one}": "open"}} for one in range(number)]
    shuts = [{"leaves": {f"t{one}": "bag"}} if things else {"sets": {f"e{one}": "shut"}} for one in range(number)]
    step = {"who": "ev1", "do": "Work on it.", "takes": "1 s"}
    task: dict[str, object] = {
        "title": "Much at once", "purpose": "P.", "place": "k2",
        "steps": [{"id": f"o{one}", **step, **what} for one, what in enumerate(opens)]
        + [{"id": f"c{one}", **step, **what} for one, what in enumerate(shuts)],
    }  # fmt: skip
    if backs:
        task["undo"] = [{"of": f"o{one}", "steps": [{**step, **what}]} for one, what in enumerate(shuts)]
    record = {"stowed": "bag"} if things else {"place": "k2", "states": ["shut", "open"], "starts": "shut"}
    records = {f"{kind}{one}": {"name": f"{kind.upper()}{one}", **record} for one in range(number)}
    flow = "flow: {ev1: [open-cover/open, open-cover/shut, much, open-cover/home]}"
    made = {"tools" if things else "equipment": records, "tasks": {"much": task}}
    return _all(_records(lambda: made), _instead("flow: {ev1: [open-cover]}", flow))


def _optional(number: int) -> Spoil:
    tasks = {
        f"extra-{one}": {
            "title": f"Extra {one}", "purpose": "P.", "place": "k2", "priority": "time-permitting",
            "steps": [{"who": "ev1", "do": "Look at it.", "takes": "1 s"}],
        } for one in range(number)
    }  # fmt: skip
    flow = f"flow: {{ev1: [open-cover/open, open-cover/shut, {', '.join(tasks)}, open-cover/home]}}"
    return _all(_records(lambda: {"tasks": tasks}), _instead("flow: {ev1: [open-cover]}", flow))


def _callouts(number: int) -> Spoil:
    """So many at one point and the lid's own, as the picture has it already."""
    more = ", ".join(f"c{one}: {{at: [1 %, 2 %], shows: bolt {one}}}" for one in range(number - 1))
    return _instead("callouts: {", f"callouts: {{{more}, ")


def _figures(number: int) -> Spoil:
    return _records(
        lambda: {"figures": {f"f{one}": {"file": "front.svg", "alt": "The front."} for one in range(number)}}
    )


def _accepts(number: int) -> Spoil:
    rows = "".join(f"      - {{finding: needless-wait, because: Reason {one}.}}\n" for one in range(number))
    return _instead("    place: k2\n    steps", f"    place: k2\n    accepts:\n{rows}    steps")


def _parts(one: int, other: int) -> Spoil:
    names = [", ".join(f"{letter}{number}" for number in range(many)) for letter, many in (("a", one), ("b", other))]
    return _instead(
        "starts: shut}", f"starts: shut, parts: {{rack: [{names[0]}], plate: [{names[1]}]}}}}", "world.yaml"
    )


def _unknown_keys(number: int) -> Spoil:
    return _records(lambda: {"tools": {f"x{one}": {"stowed": "k2", f"masss{one}": "1 kg"} for one in range(number)}})


def _routes(number: int) -> Spoil:
    places = {f"p{one}": {"name": f"P{one}"} for one in range(number)}
    ends = ["k2", *places]
    routes = {f"r{one}": {"between": [ends[one], ends[one + 1]], "length": "1 m"} for one in range(number)}
    return _records(lambda: {"places": places, "routes": routes})


def _loop(content: Path) -> None:
    (content / "one.yaml").symlink_to("two.yaml")
    (content / "two.yaml").symlink_to("one.yaml")
    (content / "round").symlink_to(".", target_is_directory=True)


def _figure_loop(content: Path) -> None:
    (content / "front.svg").unlink()
    (content / "front.svg").symlink_to("front.svg")


def _pipe(name: str) -> Spoil:
    def spoil(content: Path) -> None:
        (content / name).unlink(missing_ok=True)
        os.mkfifo(content / name)

    return spoil


def _device(name: str) -> Spoil:
    def spoil(content: Path) -> None:
        (content / name).unlink(missing_ok=True)
        (content / name).symlink_to("/dev/zero")

    return spoil


def _figure_up(content: Path) -> None:
    (content / "figures").mkdir()
    _write(content / "figures" / "x.svg", PICTURE)
    _instead("file: front.svg", "file: figures/../figures/x.svg")(content)


_SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9">{}</svg>'
LONG_ID = "x" * 255
CUE = "00:00.000 --> 00:01.000\nx\n\n"


def _clip(data: bytes, captions: str = CAPTIONS, spoil: Spoil | None = None) -> Spoil:
    """The small project with one more figure, a clip of these bytes and captions."""

    def lay(content: Path) -> None:
        (content / "flag.webm").write_bytes(data)
        _write(content / "flag.vtt", captions)
        record = {"file": "flag.webm", "alt": "The flag.", "poster": "front.svg", "captions": "flag.vtt", "says": "It."}
        _write(content / "more.yaml", _dump({"figures": {"flag": record}}))
        if spoil:
            spoil(content)

    return lay


INPUTS: Mapping[str, Spoil] = {
    "takes: 1 h and 50,000 blanks": _instead("takes: 3/4/7 min", f'takes: "1 h{" " * 50_000}x"'),
    "takes: 50,000 digits": _instead("takes: 3/4/7 min", f"takes: {'1' * 50_000} min"),
    "a drawing with a comment of 20 kB of <svg": _picture(
        f"<!--{'<svg ' * 4000}-->{_SVG.format('')}"),
    "a drawing with 50,000 groups in each other": _picture(_SVG.format("<g>" * 50_000 + "</g>" * 50_000)),
    "a drawing with 50,000 attributes": _picture(
        _SVG.format("<path " + " ".join(f'a{one}="1"' for one in range(50_000)) + "/>")),
    "a drawing with a style of 50,000 brackets": _picture(_SVG.format(f"<style>{'{(' * 25_000}</style>")),
    "viewBox of 400 digits": _picture(f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {"9" * 400} 9"/>'),
    "viewBox of 50,000 digits": _picture(f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {"9" * 50_000} 9"/>'),
    'a drawing in encoding="utf-7"': _picture(f'<?xml version="1.0" encoding="utf-7"?>{_SVG.format("")}'),
    "a drawing in UTF-16": _picture(_SVG.format(""), "utf-16"),
    "script of 50,000 [": _script("[" * 50_000),
    "script of 4,000 [": _script("[" * 4_000),
    "script of 200 [": _script("[" * 200),
    "script of 1,000 [x](": _script("[x](" * 1_000),
    "script of 1,000 ![": _script("![" * 1_000 + "a"),
    "script of 4,000 *": _script("*a " * 1_300),
    "script of 4,000 _ and *": _script("*_a" * 1_300),
    "script of 4,000 back-ticks": _script("`a``b" * 800),
    "script of 4,000 <": _script("<" * 4_000),
    "script of 4,000 &": _script("&" * 4_000),
    "script of 200 nested lists": _script("\n".join(" " * 4 * one + "- a" for one in range(200))),
    "script of 40 nested lists": _script("\n".join(" " * 4 * one + "- a" for one in range(40))),
    "script of 4,000 >": _script("> " * 2_000 + "a"),
    "script of 4,000 lines": _script("- a\n" * 1_000),
    "script of 4,000 #": _script("# a\n" * 1_000),
    "script of link definitions": _script("".join(f"[a{one}]: x\n" for one in range(300))),
    "a word of 50,000 letters": _script("a" * 50_000),
    "a word of 4,000 letters": _script("a" * 4_000),
    "a word of 4,000 capitals": _script("A" * 4_000),
    "a word of 4,000 numbers": _script("1." * 2_000),
    "a text of 4,000 quotation marks": _script("“" * 4_000),
    "a text of 4,000 brackets": _script("(" * 4_000),
    "an instruction of 50,000 words": _instead("Swing the cover open.", "Swing " * 50_000),
    "a title of 50,000 letters": _instead("title: Open the cover", f"title: {'a' * 50_000}"),
    "an id of 255 letters": _more(f"tools:\n  {LONG_ID}: {{stowed: k2}}\n"),
    "an id of 50,000 letters": _more(f"tools:\n  {'x' * 50_000}: {{stowed: k2}}\n"),
    "an id of 50,000 hyphens": _more(f"tools:\n  {'x-' * 25_000}: {{stowed: k2}}\n"),
    "an unknown key of 50,000 letters": _more(f"tools:\n  x: {{stowed: k2, {'m' * 50_000}: 1}}\n"),
    "10,000 unknown keys": _unknown_keys(10_000),
    "5,000 terms": _terms(5_000),
    "terms amp, lt, gt, quot, 39, x27": _records(
        lambda: {"terms": {f"t{one}": {"short": word, "means": "A & B < C > D's \"E\"."}
                           for one, word in enumerate(["amp", "lt", "gt", "quot", "39", "x27"])}}),
    "1,000 dead references x 1,000 places": _dead_references(1_000),
    "3,000 bags in each other": _bags(3_000),
    "3,000 bags in a circle": _bags(3_000, first="b2999"),
    "15 bags in each other": _bags(15),
    "2,000 get-aheads": _get_aheads(2_000),
    "2,000 get-aheads that all fit": _get_aheads(2_000, "1 s"),
    "100 get-aheads": _get_aheads(100),
    "100 get-aheads that all fit": _get_aheads(100, "1 s"),
    "8 get-aheads that all fit": _get_aheads(8, "1 s"),
    "2,000 steps in a task": _steps(2_000),
    "490 steps in a task": _steps(490),
    "120 covers open at once": _open_at_once(120, things=False, backs=False),
    "90 covers open at once, with ways back": _open_at_once(90, things=False, backs=True),
    "120 tools out at once": _open_at_once(120, things=True, backs=False),
    "90 tools out at once, with ways back": _open_at_once(90, things=True, backs=True),
    "60 covers open at once, with ways back": _open_at_once(60, things=False, backs=True),
    "80 optional tasks": _optional(80),
    "1,000 callouts": _callouts(1_000),
    "10,000 callouts": _callouts(10_000),
    "1,000 figures": _figures(1_000),
    "1,000 accepts": _accepts(1_000),
    "400 places in a row": _routes(400),
    "speaking_rate of a hair above nothing": _instead(
        "sorties: [s],", f"sorties: [s], speaking_rate: 0.{'0' * 400}1 words/min,", "world.yaml"),
    "speaking_rate: 0.000000001": _instead(
        "sorties: [s],", "sorties: [s], speaking_rate: 0.000000001 words/min,", "world.yaml"),
    "pace of a hair above nothing": _instead("outside: 6 m/min", f"outside: 0.{'0' * 300}1 m/min", "world.yaml"),
    "pace of 10^15": _instead("outside: 6 m/min", "outside: 999999999999999 m/min", "world.yaml"),
    "a route of 10^15 km": _instead("length: 9 m", "length: 999999999999999 km", "world.yaml"),
    "a place at 10^15 m": _instead("map: [9, 0]", "map: [999999999999999, -999999999999999]", "world.yaml"),
    "all places at one point": _instead("map: [9, 0]", "map: [0, 0]", "world.yaml"),
    "a mass of nan": _instead("mass: 2.4 kg", "mass: nan kg", "world.yaml"),
    "a mass of 1e400": _instead("mass: 2.4 kg", "mass: 1e400 kg", "world.yaml"),
    "count: 10^9": _instead("mass: 2.4 kg", "mass: 2.4 kg, count: 1000000000", "world.yaml"),
    "parts of 1,000 x 1,000": _parts(1_000, 1_000),
    "parts of 30 x 30": _parts(30, 30),
    "starts: 9999-12-31T23:59Z": _instead("    limits:", "    starts: 9999-12-31T23:59Z\n    limits:"),
    "starts: 0001-01-01T00:00Z": _instead("    limits:", "    starts: 0001-01-01T00:00Z\n    limits:"),
    "an orbit of no height": _instead(
        "    limits:", "    orbit: {altitude: 0 km, beta: 99999°, first_sunset: 0 min}\n    limits:"),
    "an orbit of 10^15 km": _instead(
        "    limits:", "    orbit: {altitude: 999999999999999 km, beta: 0°, first_sunset: 0 min}\n    limits:"),
    "10,000 sunrises": _instead(
        "    limits:", "    light: [" + ", ".join(f"[{2*one} s, {2*one+1} s]" for one in range(10_000)) +
        "]\n    limits:"),
    "limits of 1,000 h": _instead("limits: {length: 1 h}", "limits: {length: 1000 h, reserve: 1000 h}"),
    "a step of 1,000 h": _instead("takes: 3/4/7 min", "takes: 1000 h"),
    "a step of no time": _instead("takes: 3/4/7 min", "takes: 0 s"),
    "an egress with an empty battery": _instead("holds: 60 Ah, keeps: 6 Ah", "holds: 0 Ah, keeps: 0 Ah", "world.yaml"),
    "a loop of symbolic links": _loop,
    "a figure that is a link to itself": _figure_loop,
    r"\0 in a path": _instead("file: front.svg", r'file: "front\0.svg"'),
    "a path of 5,000 letters": _instead("file: front.svg", f"file: {'a' * 5_000}.svg"),
    "a path of 300 letters": _instead("file: front.svg", f"file: {'a' * 240}/{'a' * 300}.svg"),
    "a lone surrogate": _instead("Swing the cover open.", r'"Swing \ud800 it."'),
    "a raw escape": _instead("Swing the cover open.", r'"Swing \e[31m it."'),
    "a pipe called x.yaml": _pipe("x.yaml"),
    "a pipe for a figure": _pipe("front.svg"),
    "a device called x.yaml": _device("x.yaml"),
    "a device for a figure": _device("front.svg"),
    "figures/../figures/x.svg": _figure_up,
    "a clip that is a page": _clip(b"<!DOCTYPE html><script>1</script>"),
    "a clip with a page behind it": _clip(webm() + b"<!DOCTYPE html><script>1</script>"),
    "a clip of nothing but beginnings": _clip(b"\x1a\x45\xdf\xa3" * 250_000),
    "a pipe for a clip": _clip(webm(), spoil=_pipe("flag.webm")),
    "a device for a clip": _clip(webm(), spoil=_device("flag.webm")),
    "a pipe for captions": _clip(webm(), spoil=_pipe("flag.vtt")),
    "captions of 900 kB of <": _clip(webm(), f"{CAPTIONS}{'<v ' * 300_000}"),
    "captions of 30,000 cues": _clip(webm(), f"WEBVTT\n\n{CUE * 30_000}"),
    "captions of a word of 900 kB": _clip(webm(), f"{CAPTIONS}{'a' * 900_000}"),
    "captions of 2 MB": _clip(webm(), f"{CAPTIONS}{'a' * 2_000_000}"),
    "a list of 20,000 levels": _more("tools: " + "[" * 20_000),
    "blocks of 2,000 levels": _more("\n".join(" " * one + "a:" for one in range(2_000))),
    "500 anchors": _more("tools:\n" + "".join(f"  &a{one} x{one}: {{stowed: k2}}\n" for one in range(500))),
    "a key of 20,000 lines": _more("tools:\n  ? " + "a\n    " * 20_000),
}  # fmt: skip
