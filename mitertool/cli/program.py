"""The commands of the program, each by the module that holds it; knows typer."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, Final

import typer
from typer.main import get_command

from mitertool import __version__
from mitertool.cli.commands import ByName

_HELP: Final = {"help_option_names": ["-h", "--help"]}


class Commands(ByName):
    """All commands."""

    listed: ClassVar = {
        "section": "The figures of a section.",
        "cut": "The face, kerf and settings of one cut.",
        "piece": "Every length of a piece, and its settings.",
        "corner": "The miters of two members at an angle.",
        "frame": "Solve one frame: a shape and its sizes.",
        "nest": "Put the pieces of a job on bars.",
        "check": "Solve a job, write nothing.",
        "packet": "Write cut sheet, sketches and tables.",
        "rack": "The shop's left-overs.",
        "saw": "Check a saw file, or draw the saw.",
        "first-piece": "Judge a measured first piece.",
        "schema": "What may stand in a file, for editors.",
    }
    rooms: ClassVar = {name: f"mitertool.cli.{name.replace('-', '_')}" for name in listed}


def program() -> Any:
    """The whole command for the parser."""
    app = typer.Typer(
        name="mitertool",
        help="From a frame drawing to a cut sheet: exact miter geometry for a horizontal band saw.",
        epilog="It gives geometry only. The machine's manual, local codes and qualified people go before it.",
        cls=Commands,
        context_settings=_HELP,
        rich_markup_mode=None,
        pretty_exceptions_enable=False,
    )
    app.callback()(_itself)
    return get_command(app)


def _show_version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"mitertool {__version__}")
        raise typer.Exit


def _itself(
    version: Annotated[
        bool, typer.Option("--version", help="Print the version and stop.", is_eager=True, callback=_show_version)
    ] = False,
) -> None:
    """Options of the program itself, before any command."""
