"""Hostile texts for every text field of the format, in a small complete briefing. Invented here; no source."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from html import escape
from pathlib import Path
from typing import Any, get_args, get_origin

import yaml
from pydantic import BaseModel

from briefgen.model.fields.values import Name, Words
from briefgen.model.library import KINDS
from tests.clips import webm

RUN = "window.__ran=1"
AT_ONCE = 2
"""A name has room for two."""
REFUSED = (
    f"[a](javascript:{RUN})", f"[a](JaVaScRiPt:{RUN})", f"[a](data:text/html,{RUN})", f"[a](vbscript:{RUN})",
    f"[x]: javascript:{RUN}",
)  # fmt: skip
"""Links to where no record is: the content is not built at all."""
PAYLOADS = (
    f"<img src=x onerror={RUN}//", f"<img src=x onerror={RUN}>", f"<svg onload={RUN}>", f"<script>{RUN}</script>",
    f"</title><script>{RUN}</script>", f"</script><script>{RUN}</script>", f"&lt;img src=x onerror={RUN}&gt;",
    f"&amp;lt;img src=x onerror={RUN}&amp;gt;", f"`&lt;img src=x onerror={RUN}&gt;`",
    f"<!--> <img src=x onerror={RUN}> x",
    f"<!-- --!> <img src=x onerror={RUN}>",
    f"`<img src=x onerror={RUN}>`", f"<javascript:{RUN}>", f"![a](x onerror={RUN})",
    f"\" onmouseover={RUN} x=\"", f"' onfocus={RUN} autofocus x='",
    f"\"><img src=x onerror={RUN}>", f"'><img src=x onerror={RUN}>", f"<details open ontoggle={RUN}>",
    f"<body onload={RUN}>", f"<iframe srcdoc='<script>parent.{RUN}</script>'>", f"<object data=javascript:{RUN}>",
    f"<embed src=javascript:{RUN}>", f"<math><mtext><img src=x onerror={RUN}></mtext></math>",
    f"<svg><script>{RUN}</script></svg>", f"<svg><animate onbegin={RUN} attributeName=x dur=1s>",
    f"<svg><a xlink:href=javascript:{RUN}><text>x</text></a></svg>",
    "<meta http-equiv=refresh content='0;url=data:,x'>",
    "<base href=//evil.invalid/>", f"<style>*{{background:url(javascript:{RUN})}}</style>",
    f"]]><img src=x onerror={RUN}>",
    "{{ 7 * 7 }}", "{% raw %}x{% endraw %}", "${7*7}", "{{config}}", f"<input autofocus onfocus={RUN}>",
    f"<video><source onerror={RUN}></video>", f"<x contenteditable onblur={RUN}>", f"&#60;img src=x onerror={RUN}&#62;",
    f"&#x3c;img src=x onerror={RUN}&#x3e;", f"<img/src=x/onerror={RUN}>", f"<img\tsrc=x\tonerror={RUN}>",
    f"<IMG SRC=x ONERROR={RUN}>", f"<a href=javascript:{RUN}>x</a>",
    "</article></main></body>",
    f"<IMG SRC=`x` ONERROR={RUN}>", f"<img src=x onerror={RUN} ",
    f"<form action=javascript:{RUN}><button>x</button></form>", f"\\<img src=x onerror={RUN}\\>",
)  # fmt: skip


_READERS = (Words.__metadata__[0], Name.__metadata__[0])  # type: ignore[attr-defined]


def text_fields(model: type[BaseModel], raw: Any) -> Iterator[tuple[str, Any, Any]]:
    """Every place in a record as written that the model reads as a text: its field, the holder and its key."""
    if not isinstance(raw, dict):
        return
    for name, field in model.model_fields.items():
        key = field.alias or name
        if key in raw:
            found = _places(field.annotation, field.metadata, raw, key)
            yield from ((where or f"{model.__name__}.{key}", holder, place) for where, holder, place in found)


def every_text(models: Iterable[type[BaseModel]]) -> set[str]:
    """Every field of the format that is read as a text, by its model's name and its key."""
    found, ahead, seen = set(), list(models), set[type[BaseModel]]()
    while ahead:
        model = ahead.pop()
        if model in seen:
            continue
        seen.add(model)
        for name, field in model.model_fields.items():
            inner = list(_parts(field.annotation))
            if _is_text(field.annotation, field.metadata) or any(_is_text(one, ()) for one in inner):
                found.add(f"{model.__name__}.{field.alias or name}")
            ahead += [one for one in inner if isinstance(one, type) and issubclass(one, BaseModel)]
    return found


def _places(annotation: Any, metadata: Any, holder: Any, key: Any) -> Iterator[tuple[str, Any, Any]]:
    value = holder[key]
    if _is_text(annotation, metadata):
        if isinstance(value, str):
            yield "", holder, key
        return
    for inner in _parts(annotation):
        if isinstance(inner, type) and issubclass(inner, BaseModel):
            for one in value.values() if isinstance(value, dict) and not _fits(inner, value) else [value]:
                for piece in one if isinstance(one, list) else [one]:
                    yield from text_fields(inner, piece)
        elif _is_text(inner, getattr(inner, "__metadata__", ())):
            places = enumerate(value) if isinstance(value, list) else value.items() if isinstance(value, dict) else ()
            yield from (("", value, place) for place, one in list(places) if isinstance(one, str))


def _parts(annotation: Any) -> Iterator[Any]:
    """The types within a type, whatever containers and choices are around them."""
    yield annotation
    for inner in get_args(annotation):
        yield from _parts(inner)


def _is_text(annotation: Any, metadata: Any) -> bool:
    """Whether a type is one of the two for texts, be it one of several choices."""
    if any(one in _READERS for one in (*metadata, *getattr(annotation, "__metadata__", ()))):
        return True
    if get_origin(annotation) in (tuple, list, dict):
        return False
    return any(hasattr(inner, "__metadata__") and _is_text(None, inner.__metadata__) for inner in get_args(annotation))


def _fits(model: type[BaseModel], value: dict[Any, Any]) -> bool:
    keys = {field.alias or name for name, field in model.model_fields.items()}
    return set(value) <= keys


_MORE = """
figures:
  front: {file: front.svg, alt: The front., callouts: {lid: {at: [5 %, 5 %], shows: The lid}}}
  film:
    {file: film.webm, alt: The lid., poster: front.svg, captions: film.vtt, says: Words.,
     callouts: {lid: {at: [5 %, 5 %], shows: The lid, from: 0 s, until: 1 s}}}
hazards:
  glare: {signal: caution, hazard: It glares., consequence: It blinds., avoid: Look away.}
equipment:
  bolts:
    {name: Bolts, place: lamp-foot, states: [tight, slack], starts: tight, ends: [tight, slack],
     parts: {row: [upper, lower]}}
  cover: {name: Cover, place: lamp-foot, states: [closed, ajar], starts: closed, ends: [closed, ajar]}
tools:
  bar: {name: Bar, stowed: lamp-bag, settings: {slow: {turns: 6 turns, turning: clockwise, note: Words.}}}
  spare: {name: Spare, stowed: airlock, accepts: [{finding: unused-record, because: Words.}]}
tasks:
  further:
    title: Further
    purpose: More is done.
    place: lamp-foot
    defaults: {restraint: foot loop}
    steps:
      - id: round
        title: Round
        note: Words.
        each: bolts
        steps:
          - {who: ev1, do: Turn it., takes: 1 min, with: [{tool: bar, setting: slow}], sets: {bolts: slack}}
      - id: lift
        who: ev1
        do: Lift it.
        takes: 1 min
        sets: {cover: ajar}
        confirmed_by:
          {who: ev2, do: Look at it., why: Words., note: Words., takes: 1 min, calls: [{to: ev1, say: Words.}]}
        in_case:
          - when: It does not move.
            then: go on
            steps: [{who: ev1, do: Pull it., why: Words., note: Words., takes: 1 min, sets: {cover: ajar}}]
    undo:
      - of: lift
        steps: [{who: ev1, do: Drop it., why: Words., note: Words., takes: 1 min, sets: {cover: closed}}]
"""


OF_CLIPS = ("poster", "captions", "says")
"""What only a clip has, and not every figure."""
FILES = ("file", "poster", "captions")
"""What names a file: a path is no text."""


def _complete(model: type[BaseModel], raw: dict[str, Any]) -> None:
    """Adds every text that a record may have and has not, and the parts of a sortie and a step that hold texts."""
    for name, field in model.model_fields.items():
        if _is_text(field.annotation, field.metadata) and not ("file" in raw and name in OF_CLIPS):
            raw.setdefault(field.alias or name, "Words.")
    if "sorties" in raw:
        raw["map"] = [{"figure": "front", "title": "Words."}]
    if "flow" in raw:
        for person in ("ev1", "ev2"):
            raw["flow"][person] = [*raw["flow"][person][:-1], "further", raw["flow"][person][-1]]
        raw["scenes"] = [
            {"title": "T", "shows": {"figure": figure, "look": ["lid"]}, "says": "The lid."}
            for figure in ("front", "film")
        ]
        raw["phases"] = [{"title": "P", "tasks": [next(iter(raw["flow"].values()))[0]]}]
    for step in (one for one in raw.get("steps", ()) if "each" not in one):
        step.update({key: step.get(key, "Words.") for key in ("why", "note")})
        step.setdefault("figures", ["front#lid"])
        step.setdefault("hazards", ["glare"])
        step.setdefault("calls", [{"to": "ground", "say": "Words."}])


_WORDS = ("shut", "open", "worn", "removed", "new", "on", "off", "tight", "slack", "closed", "ajar", "upper", "lower",
          "foot loop", "hand rail")  # fmt: skip
"""What the small briefing calls states, parts and restraints: any words will do for these, too."""


def _reworded(value: Any, words: Mapping[str, str]) -> Any:
    """The same content, with other words for states, parts and restraints wherever one stands alone."""
    if isinstance(value, dict):
        return {words.get(key, key): _reworded(one, words) for key, one in value.items()}
    if isinstance(value, list):
        return [_reworded(one, words) for one in value]
    return words.get(value, value)


def attacked(folder: Path, turn: int | None) -> dict[str, set[int]]:
    """Puts hostile texts behind every text of a content folder, other ones each turn (None: none at all).

    Returns which of them reached each field.
    """
    reached: dict[str, set[int]] = {}
    (folder / "more.yaml").write_text(_MORE, encoding="utf-8")
    (folder / "front.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"/>', encoding="utf-8")
    (folder / "film.webm").write_bytes(webm())
    now = [] if turn is None else [(turn * AT_ONCE + step) % len(PAYLOADS) for step in range(AT_ONCE)]
    said = "\n".join(escape(PAYLOADS[number].replace("\n", " ")) for number in now) or "Words."
    (folder / "film.vtt").write_text(f"WEBVTT\n\n00:00.000 --> 00:01.000\n{said}\n", encoding="utf-8")
    words = {word: " ".join([word, *(PAYLOADS[number] for number in now)]) for word in _WORDS}
    for path in sorted(folder.rglob("*.yaml")):
        content = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.CBaseLoader)
        for kind, records in content.items():
            for record in records.values():
                _complete(KINDS[kind].model, record)
                # A part that may be one of two kinds is met as both.
                places = {
                    (id(holder), key): (field, holder, key)
                    for field, holder, key in text_fields(KINDS[kind].model, record)
                }
                for field, holder, key in places.values():
                    # A callout that shows a record has to name it.
                    if key in FILES or (key == "shows" and ":" in holder[key]):
                        continue
                    holder[key] = " ".join([holder[key][:40], *(PAYLOADS[number] for number in now)])
                    reached.setdefault(field, set()).update(now)
        path.write_text(
            yaml.safe_dump(_reworded(content, words), allow_unicode=True, sort_keys=False, width=10_000),
            encoding="utf-8",
        )
    return reached
