"""The command line's one door: builds the commands, and turns every error into one line and an exit code."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from contextlib import redirect_stdout
from io import StringIO
from typing import Any, Final

import typer

from mitertool.base.errors import MitertoolError
from mitertool.base.speech import complain, hold_streams, say
from mitertool.cli import check, corner, cut, first_piece, frame, nest, packet, piece, saw, schema, section

_INTERRUPTED: Final = 130
"""128 and the number of the signal, as shells count it."""

_SHORT: Final = {
    "section": "The figures of a section.",
    "cut": "The face, kerf and settings of one cut.",
    "piece": "Every length of a piece, and its settings.",
    "corner": "The miters of two members at an angle.",
    "nest": "Put the pieces of a job on bars.",
    "check": "Solve a job, write nothing.",
    "packet": "Write cut sheet, sketches and tables.",
    "schema": "What may stand in a file, for editors.",
}


def build() -> typer.Typer:
    """The application with all its commands."""
    app = typer.Typer(
        name="mitertool",
        help="From a frame drawing to a cut sheet: exact miter geometry for a horizontal band saw.",
        epilog="It gives geometry only. The machine's manual, local codes and qualified people go before it.",
        add_completion=False,
        rich_markup_mode=None,
        pretty_exceptions_enable=False,
    )
    app.callback()(_version_option)
    for module in (section, cut, piece, corner, nest, check, packet, schema):
        name = module.__name__.rpartition(".")[2]
        app.command(name, short_help=_SHORT[name])(getattr(module, name))
    app.command("first-piece", short_help="Judge a measured first piece.")(first_piece.first_piece)
    app.add_typer(saw.build(), name="saw", short_help="Check a saw file, or draw the saw.")
    app.add_typer(frame.build(), name="frame", short_help="Solve one frame: a shape and its sizes.")
    return app


def run(arguments: Sequence[str]) -> int:
    """Run one command and return its exit code.

    0 done, 1 cannot be made as asked, 2 bad input or an answer that could not be written, 130 interrupted.
    """
    answer = StringIO()
    try:
        with redirect_stdout(answer):
            code = _command(arguments)
        if code == _INTERRUPTED:  # so some releases of the parser tell of it
            raise KeyboardInterrupt
        say(answer.getvalue())
    except MitertoolError as error:
        return _complain(str(error), error.exit_code)
    except (typer.Abort, KeyboardInterrupt):
        return _complain("stopped", _INTERRUPTED)
    except Exception as error:
        return _other(error)
    return code


def main() -> None:
    """The entry point of the command `mitertool`."""
    hold_streams()
    sys.exit(run(sys.argv[1:]))


def _command(arguments: Sequence[str]) -> int:
    try:
        return _exit_code(build()(list(arguments) or ["--help"], prog_name="mitertool", standalone_mode=False))
    except typer.Exit as stop:
        return stop.exit_code


def _show_version(wanted: bool) -> None:
    if wanted:
        from mitertool import __version__

        typer.echo(f"mitertool {__version__}")
        raise typer.Exit


def _version_option(
    version: bool = typer.Option(
        False, "--version", help="Print the version and stop.", is_eager=True, callback=_show_version
    ),
) -> None:
    """Options of the program itself, before any command."""


def _exit_code(returned: Any) -> int:
    return returned if isinstance(returned, int) else 0


def _other(error: Exception) -> int:
    """A usage error of the parser, whatever class its release gives it, or a fault of the program's own."""
    message = getattr(error, "format_message", None)
    if callable(message):
        return _complain(f"{message()} (see mitertool --help)", 2)
    if os.environ.get("MITERTOOL_TRACEBACK"):
        raise error
    return _complain(f"a fault in mitertool itself, {type(error).__name__}: {error}; please report it", 2)


def _complain(text: str, code: int) -> int:
    complain(f"mitertool: {text}")
    return code
