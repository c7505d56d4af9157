"""The command line's one door: runs a command, and turns every error into one line and an exit code."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from contextlib import redirect_stdout
from traceback import format_exception
from typing import Any, Final

import typer

from mitertool.base.errors import BadInput, MitertoolError
from mitertool.base.language import spoken_here
from mitertool.base.speech import Answer, complain, hold_streams, remark, say
from mitertool.base.stopping import StopError
from mitertool.cli.program import program
from mitertool.words import phrase

_FAULT: Final = 70
"""A fault of the program itself, as `EX_SOFTWARE` of sysexits.h."""

_INTERRUPTED: Final = 130
"""128 and the number of the signal, as shells count it."""

_MOST_LINES: Final = 100
"""Lines of one refusal; whoever must put right more than that begins at the top."""


def run(arguments: Sequence[str]) -> int:
    """Run one command and return its exit code.

    0 done, 1 cannot be made as asked, 2 bad input or an answer that could not be written, 70 a fault of the program,
    130 interrupted, 128 and its number by another signal.
    """
    try:
        with spoken_here():
            return _run(arguments)
    except BadInput as error:
        return _complain(str(error), error.exit_code)


def _run(arguments: Sequence[str]) -> int:
    answer = Answer()
    try:
        with redirect_stdout(answer):
            code = _command(arguments)
        if code == _INTERRUPTED:  # so some releases of the parser tell of it
            raise KeyboardInterrupt
        say(answer.getvalue())
    except MitertoolError as error:
        return _complain_all(error)
    except (typer.Abort, KeyboardInterrupt, StopError) as stop:
        return _complain(phrase("main.stopped"), getattr(stop, "exit_code", _INTERRUPTED))
    except OSError as error:
        return _complain(str(_unusable(error)), 2) if error.filename is not None else _other(error)
    except Exception as error:
        return _other(error)
    return code


def _unusable(error: OSError) -> BadInput:
    """A file that the system refuses to look at: in a folder that may not be searched, or of too long a name."""
    name = os.fsdecode(error.filename) if isinstance(error.filename, str | bytes) else str(error.filename)
    return BadInput(phrase("what.file"), name, phrase("refuse.unusable", why=error.strerror))


def main() -> int:
    """Run the command of this process's arguments, and return its exit code."""
    hold_streams()
    return run(sys.argv[1:])


def _command(arguments: Sequence[str]) -> int:
    for number, argument in enumerate(arguments, 1):
        if "\0" in argument:  # no shell hands one over, and no file may be named so
            raise BadInput(phrase("what.argument", number=number), argument, phrase("refuse.nul"))
    try:
        return _exit_code(program()(list(arguments), prog_name="mitertool", standalone_mode=False))
    except typer.Exit as stop:
        return stop.exit_code
    except SystemExit as stop:  # of the parser, when it has completed a word
        return _exit_code(stop.code)


def _exit_code(returned: Any) -> int:
    return returned if isinstance(returned, int) else 0


def _other(error: Exception) -> int:
    """A usage error of the parser, whatever class its release gives it, or a fault of the program's own."""
    message = getattr(error, "format_message", None)
    option = str(getattr(error, "option_name", ""))
    if option[:1] == "-" and option[1:2].isdigit():
        return _complain(phrase("main.negative", found=option), 2)
    if callable(message):
        return _complain(phrase("main.usage", message=message().rstrip("."), command=_command_of(error)), 2)
    if os.environ.get("MITERTOOL_TRACEBACK"):
        remark("".join(format_exception(error)).rstrip())
        return _FAULT
    return _complain(phrase("main.fault", kind=type(error).__name__, error=error), _FAULT)


def _command_of(error: Any) -> str:
    """The command whose help tells what may be said."""
    return getattr(getattr(error, "ctx", None), "command_path", "mitertool")


def _complain_all(error: MitertoolError) -> int:
    """Every line of an error, the first hundred of them."""
    lines = error.lines
    for line in lines[:_MOST_LINES]:
        complain(f"mitertool: {line}")
    if len(lines) > _MOST_LINES:
        complain(f"mitertool: {phrase('say.more-lines', count=len(lines) - _MOST_LINES)}")
    return error.exit_code


def _complain(text: str, code: int) -> int:
    complain(f"mitertool: {text}")
    return code
