"""Plotly's script without the kinds of charts that no page draws: a quarter of it is left.

The script is one bundle of modules, each wrapped: `var name=wrap((exports,module)=>{…});`. The last module registers
every kind of trace. So a smaller script is the same text without the modules that the registered kinds do not need.
A bundle that is put together in another way is left whole: it draws the same charts, only later.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

_NAME = r"[\w$]+"
# The bundler's two wrappers: a module with `exports`, and one whose values are filled in when it is first used.
_WRAPPERS = (
    re.compile(
        rf"({_NAME})=\(({_NAME}),({_NAME})\)=>\(\)=>\{{(?:try\{{)?"
        r"return \3\|\|\2\(\(\3=\{exports:\{\}\}\)\.exports,\3\),\3\.exports"
    ),
    re.compile(
        rf"({_NAME})=\(({_NAME}),({_NAME})(?:,{_NAME})?\)=>\(\)=>\{{[^=]{{0,40}}return \2&&\(\3=\2\(\2=0\)\),\3"
    ),
)
_REGISTER = re.compile(rf"\.register\(\[((?:{_NAME}\(\),)*{_NAME}\(\))\]\)")
_CALLED = re.compile(rf"(?<![\w$.]){_NAME}(?=\()")
# A module that does nothing but put the style of maps of the earth into a page, whatever the page draws.
_MAP_STYLE = re.compile(
    rf"(var {_NAME}={_NAME}\(\(\)=>\{{)\(function\(\)\{{if\(!document\.getElementById\(.*?\.maplibregl-map\{{.*"
    r"document\.head\.appendChild\(\w+\)\}\}\)\(\)(\}\);?\s*)",
    re.DOTALL,
)
# This kind is part of the core and in no list.
_ALWAYS = "scatter"


class _Whole(Exception):
    """The bundle is not of the known form."""


def cut(script: str, kinds: Collection[str]) -> str:
    """The script for these kinds of traces alone, or the whole of it where it cannot be cut. Linear in its length."""
    try:
        return _Bundle(script).only(sorted({*kinds} - {_ALWAYS}))
    except _Whole:
        return script


@dataclass(frozen=True)
class _Bundle:
    script: str

    @cached_property
    def _wrappers(self) -> list[str]:
        """What the two wrappers are called in this bundle."""
        found = [wrapper.search(self.script) for wrapper in _WRAPPERS]
        names = [one[1] for one in found if one]
        if len(names) != len(_WRAPPERS):
            raise _Whole
        return names

    @cached_property
    def _heads(self) -> list[re.Match[str]]:
        """Where each module begins. What stands before the first runs always; the last module is the entrance."""
        wrappers = "|".join(map(re.escape, self._wrappers))
        # Begins with a literal, which is searched for many times faster than the character before it would be.
        found = re.finditer(rf"var (?:{_NAME},)*({_NAME})=({wrappers})\(", self.script)
        heads = [head for head in found if self.script[head.start() - 1 : head.start()] in {";", "}"}]
        if not heads or len({head[1] for head in heads}) != len(heads):
            raise _Whole
        return heads

    @cached_property
    def _texts(self) -> dict[str, str]:
        """Each module's text, with what follows it up to the next, by its name in the order of the bundle."""
        starts = [head.start() for head in self._heads]
        ends = [*starts[1:], len(self.script)]
        return {head[1]: self.script[start:end] for head, start, end in zip(self._heads, starts, ends, strict=True)}

    @cached_property
    def _tied(self) -> Mapping[str, str]:
        """A module in the second wrapper has its functions at the end of the text before: its name, and that one's."""
        _, second = self._wrappers
        return {head[1]: before[1] for before, head in pairwise(self._heads) if head[2] == second}

    def only(self, kinds: list[str]) -> str:
        """The script with the modules that these kinds, and the core, call."""
        last = self._heads[-1][1]
        registered = _REGISTER.search(self._texts[last])
        if registered is None:
            raise _Whole
        entries = registered[1].replace("()", "").split(",")
        wanted = [self._entry(kind, entries) for kind in kinds]
        core = self._called(self._texts[last].replace(registered[0], "")) - {last}
        live = self._reached([*core, *wanted])
        if not any(_is_trace(self._texts[name], _ALWAYS) for name in live):
            raise _Whole
        kept = live | {last} | set(self._ties(live))
        calls = ",".join(f"{name}()" for name in wanted)
        before = self.script[: self._heads[0].start()]
        return before + "".join(
            _unstyled(text) if name != last else text.replace(registered[1], calls)
            for name, text in self._texts.items()
            if name in kept
        )

    def _entry(self, kind: str, entries: Iterable[str]) -> str:
        """The registered module that is the trace, or that hands it on."""
        for entry in entries:
            text = self._texts.get(entry, "")
            if any(_is_trace(self._texts[name], kind) for name in (entry, *self._called(text)) if name in self._texts):
                return entry
        raise _Whole

    def _called(self, text: str) -> set[str]:
        return set(_CALLED.findall(text)) & self._texts.keys()

    def _reached(self, roots: Iterable[str]) -> set[str]:
        reached: set[str] = set()
        todo = list(roots)
        while todo:
            name = todo.pop()
            if name not in reached:
                reached.add(name)
                todo += self._called(self._texts[name])
        return reached

    def _ties(self, live: Iterable[str]) -> Iterable[str]:
        for name in live:
            before = self._tied.get(name)
            while before:
                yield before
                before = self._tied.get(before)


def _unstyled(text: str) -> str:
    """The module, empty where it only brings the style of maps of the earth."""
    found = _MAP_STYLE.fullmatch(text)
    return found[1] + found[2] if found else text


def _is_trace(text: str, kind: str) -> bool:
    return f'moduleType:"trace",name:"{kind}"' in text
