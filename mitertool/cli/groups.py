"""Commands below one name, each loaded when it is asked for: all that a start without a command needs.

Knows typer and words, and nothing of what a command does.
"""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from typing import Any, ClassVar, NamedTuple

import typer
from typer.core import TyperGroup
from typer.main import get_command

from mitertool.base.errors import UnknownName
from mitertool.base.names import meant, nearest
from mitertool.words import phrase


class ByName(TyperGroup):
    """Commands below one name, each in a module that is loaded when the command is run.

    `rooms` has the module of each, in the order of the list; the words of the list stand behind the code `says`.
    """

    says: ClassVar[str] = "command"
    rooms: ClassVar[Mapping[str, str]] = {}

    @classmethod
    def held(cls, name: str) -> Any:
        """The command of a name of the list, loaded now."""
        return getattr(import_module(cls.rooms[name]), name.replace("-", "_"))

    def list_commands(self, ctx: Any) -> list[str]:  # noqa: ARG002
        """The names in the order of the list."""
        return list(self.rooms)

    def get_command(self, ctx: Any, cmd_name: str) -> Any:
        """The command of a name. Raises `UnknownName` with the nearest ones."""
        if cmd_name in self.rooms:
            return self.held(cmd_name).built(cmd_name, f"{self.says}.{cmd_name}")
        if ctx.resilient_parsing:
            return None
        like = nearest(cmd_name, self.rooms, 2)
        hint = meant(like) or phrase("refuse.commands", commands=", ".join(self.rooms))
        raise UnknownName(phrase("what.command"), cmd_name, hint, choices=like)

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Without a command the help is shown."""
        return super().parse_args(ctx, args if args or ctx.resilient_parsing else ["--help"])

    def format_commands(self, ctx: Any, formatter: Any) -> None:  # noqa: ARG002
        """The list, without loading a command."""
        with formatter.section(phrase("help.commands")):
            formatter.write_dl([(name, phrase(f"{self.says}.{name}")) for name in self.rooms])


class Group(NamedTuple):
    """Commands below one name, as a command."""

    commands: type[ByName]

    def built(self, name: str, code: str) -> Any:
        """The group for the parser, told by the words of its code."""
        app = app_of(name=name, help=phrase(code), cls=self.commands)
        app.callback()(_nothing)
        return get_command(app)


def app_of(**more: Any) -> typer.Typer:
    """An application of the parser that only says what it is told to."""
    return typer.Typer(add_completion=False, rich_markup_mode=None, pretty_exceptions_enable=False, **more)


def _nothing() -> None:
    """A group does nothing by itself."""
