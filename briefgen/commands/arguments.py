"""Arguments that several verbs share, and the sorties that are asked for with them."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TypeAlias

from briefgen.build import examine
from briefgen.findings import Level, count
from briefgen.proof.evidence import SortieEvidence
from briefgen.refusals import CannotRun

Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"


def add_folder(parser: argparse.ArgumentParser) -> None:
    """The content folder."""
    parser.add_argument("folder", type=Path, help="the folder that holds the YAML files")


def add_sortie(parser: argparse.ArgumentParser) -> None:
    """One sortie of the programme."""
    parser.add_argument("--sortie", metavar="ID", help="only this sortie")


def add_to(parser: argparse.ArgumentParser) -> None:
    """A file to write into."""
    parser.add_argument("--to", type=Path, metavar="FILE", help="write into this file instead of printing")


def proved_sorties(options: argparse.Namespace) -> list[SortieEvidence]:
    """The sorties asked for, of a plan that holds together. Raises CannotRun."""
    examination = examine(options.folder)
    if not examination.proved:
        errors = count(examination.findings)[Level.ERROR]
        raise CannotRun(
            f"The plan can't be laid out: it has {errors} error{'' if errors == 1 else 's'}. "
            f"“briefgen check {options.folder}” shows what to mend."
        )
    sorties = examination.evidence.sorties
    if options.sortie is not None and options.sortie not in sorties:
        raise CannotRun(f"There is no sortie “{options.sortie}”. There are: {', '.join(sorties) or 'none'}.")
    return [proved for name, proved in sorties.items() if options.sortie in (None, name)]
