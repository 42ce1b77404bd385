"""The command `briefgen`: finds its verbs, runs one, and never ends in a traceback."""

from __future__ import annotations

import argparse
import os
import sys
import traceback
from collections.abc import Sequence

import briefgen.commands.verbs
from briefgen import __version__
from briefgen.commands.output import COULD_NOT_RUN, SOUND
from briefgen.discovery import modules_in
from briefgen.language.printable import printable
from briefgen.refusals import CannotRun

_STOPPED = 130
"""As shells say that a command was interrupted: 128 and the number of the signal."""
_TRACEBACK = "BRIEFGEN_TRACEBACK"


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs the command; returns the exit code: 0 no error, 1 errors (or warnings under --strict), 2 could not run."""
    options = _parser().parse_args(arguments)
    try:
        code = int(options.run(options))
        sys.stdout.flush()
    except CannotRun as reason:
        _complain(str(reason))
        return COULD_NOT_RUN
    except OSError as error:
        return _output_gone() if isinstance(error, BrokenPipeError) else _no_file(error)
    except KeyboardInterrupt:
        return _STOPPED
    except Exception as error:
        return _own_mistake(error)
    return code


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="briefgen", description="Proves spacewalk briefings written in YAML.")
    parser.add_argument("--version", action="version", version=f"briefgen {__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    for verb in modules_in(briefgen.commands.verbs):
        verb.add(commands)
    return parser


def _complain(sentence: str) -> None:
    print(printable(f"briefgen: {sentence}"), file=sys.stderr)


def _own_mistake(error: Exception) -> int:
    """Never a traceback, and never 1: that would say that the content was looked at."""
    if os.environ.get(_TRACEBACK):
        traceback.print_exception(error)
    _complain(
        f"This is a mistake in briefgen itself, not in your content: {type(error).__name__}: {error}. "
        f"Please report it; with {_TRACEBACK}=1 in the environment it says where."
    )
    return COULD_NOT_RUN


def _no_file(error: OSError) -> int:
    _complain(f"“{error.filename}” can't be written: {error.strerror}.")
    return COULD_NOT_RUN


def _output_gone() -> int:
    """Whoever read our output has stopped, as `head` does; nothing is left to say, not even at exit."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return SOUND
