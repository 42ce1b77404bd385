"""A small project of its own: one person, one task, one prose page, MkDocs's plain theme. It has no findings."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from mkdocs.commands.build import build
from mkdocs.config import load_config

WORLD = """\
programme:
  p: {title: The cover, sorties: [s], paces: {outside: 6 m/min, loaded: 3 m/min}}
people:
  ev1: {label: EV1, callsign: Heron, post: outside, suit: one, mark: {pattern: rings, word: Rings}}
suits:
  one: {name: Suit one, supplies: {battery: {holds: 60 Ah, keeps: 6 Ah, per_hour: 4 Ah}}}
places:
  lock: {name: Lock, map: [0, 0], home: true, anchor: true}
  k2: {name: K2, map: [9, 0]}
routes:
  rail: {name: Rail, between: [lock, k2], length: 9 m}
tools:
  driver: {name: Driver, stowed: bag, mass: 2.4 kg}
bags:
  bag: {name: Bag, stowed: k2, mass: 1 kg}
equipment:
  cover: {name: Cover, place: k2, states: [shut, open], starts: shut}
  valve: {name: Valve, place: k2, states: [open], starts: open}
"""
PLAN = """\
tasks:
  open-cover:
    title: Open the cover
    purpose: Behind it is [the valve](equipment:valve).
    place: k2
    steps:
      - id: open
        who: ev1
        do: Swing the cover open.
        takes: 3/4/7 min
        with: [driver]
        sets: {cover: open}
        verifies: {valve: open}
        figures: [front]
      - {id: shut, who: ev1, do: Swing the cover shut., takes: 2 min, sets: {cover: shut}}
      - {id: home, who: ev1, at: lock, do: Come home., takes: 1 min}
sorties:
  s:
    title: "Sortie S: the cover"
    flow: {ev1: [open-cover]}
    limits: {length: 1 h}
figures:
  front: {file: front.svg, alt: The front., callouts: {cover: {at: [50 %, 50 %], shows: equipment:cover}}}
"""
ABOUT = "# About\n\nSee [the driver](tool:driver) and [step 2](task:open-cover#shut).\n"
PICTURE = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 50"><path d="M0 0h9"/></svg>'
SETTINGS = """\
site_name: Small
docs_dir: docs
theme: {name: mkdocs}
plugins: [briefgen: {content: content}]
"""


class Project:
    """A project in a folder of its own."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.content = folder / "content"
        self.site = folder / "site"
        self.write("mkdocs.yml", SETTINGS)
        self.write("docs/about.md", ABOUT)
        self.write("content/plan.yaml", PLAN)
        self.write("content/front.svg", PICTURE)
        self.write("content/world.yaml", WORLD)

    def write(self, name: str, text: str) -> None:
        """Writes a file of the project."""
        path = self.folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")

    def change(self, name: str, old: str, new: str) -> None:
        """Changes words in a file that must be there."""
        text = (self.folder / name).read_text(encoding="utf-8")
        assert old in text
        self.write(name, text.replace(old, new))

    def build(self, **options: Any) -> None:
        """Builds the site; raises what MkDocs raises."""
        build(self.configuration(**options))

    def configuration(self, **options: Any) -> Any:
        """The project's settings as MkDocs reads them."""
        return load_config(str(self.folder / "mkdocs.yml"), **options)

    def page(self, name: str) -> str:
        """A built page."""
        return (self.site / name).read_text(encoding="utf-8")

    def snapshot(self) -> dict[str, bytes]:
        """Every file of the built site."""
        files = sorted(path for path in self.site.rglob("*") if path.is_file())
        return {path.relative_to(self.site).as_posix(): path.read_bytes() for path in files}
