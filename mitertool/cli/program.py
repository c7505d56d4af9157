"""The commands of the program, each by the module that holds it; knows typer."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, Final

import typer
from typer.main import get_command

from mitertool import __version__
from mitertool.cli.groups import ByName
from mitertool.words import phrase

_HELP: Final = {"help_option_names": ["-h", "--help"]}


_NAMES: Final = (
    "section",
    "cut",
    "piece",
    "corner",
    "frame",
    "nest",
    "check",
    "packet",
    "done",
    "rack",
    "report",
    "page",
    "saw",
    "practice",
    "first-piece",
    "schema",
)


class Commands(ByName):
    """All commands."""

    rooms: ClassVar = {name: f"mitertool.cli.{name.replace('-', '_')}" for name in _NAMES}


def program() -> Any:
    """The whole command for the parser."""
    app = typer.Typer(
        name="mitertool",
        help=phrase("help.program"),
        epilog=phrase("help.geometry-only"),
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
        bool, typer.Option("--version", help=phrase("option.version"), is_eager=True, callback=_show_version)
    ] = False,
) -> None:
    """Options of the program itself, before any command."""
