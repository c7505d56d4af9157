"""A command as a value: its options, what it does and examples; commands are loaded when they are asked for.

Knows typer and words, and nothing of what a command does.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from copy import copy
from importlib import import_module
from inspect import Parameter, Signature
from pathlib import Path
from typing import Annotated, Any, ClassVar, Final, Generic, TypeVar, dataclass_transform, get_args, get_type_hints

import attrs
import typer
from typer.core import TyperGroup
from typer.main import get_command

from mitertool.base.errors import UnknownName
from mitertool.base.names import meant, nearest
from mitertool.words import phrase, said

T = TypeVar("T")


@dataclass_transform(frozen_default=True, kw_only_default=True)
def options(made: type[T]) -> type[T]:
    """A frozen class of options, put together from others of its kind; nobody compares or shows one."""
    return attrs.frozen(made, kw_only=True, slots=False, eq=False, repr=False)


_KEPT: Final = "\b\n"
"""What the parser wants before lines that it is not to run together."""


@attrs.frozen
class Command(Generic[T]):
    """What a command does with its options: a class whose fields bear `typer.Option` or `typer.Argument`."""

    does: Callable[[T], None]
    options: type[T]
    examples: tuple[str, ...]

    def built(self, name: str, code: str) -> Any:
        """The command for the parser, what it does told by the code behind `code`.

        The options of the class itself stand before those that it shares.
        """

        def run(**given: Any) -> None:
            self.does(self.options(**given))

        run.__doc__ = phrase(f"{code}.help")
        run.__signature__ = Signature(list(_parameters(self.options)))  # type: ignore[attr-defined]
        app = _app()
        app.command(name, epilog=_examples(self.examples))(run)
        return get_command(app)


def command(options: type[T], *examples: str) -> Callable[[Callable[[T], None]], Command[T]]:
    """Make a function of `options` a command; the examples, without the program's name, stand in its help."""
    return lambda does: Command(does, options, examples)


def choice(code: str, words: Sequence[str], *names: str) -> Any:
    """An option that takes one of these words: the help shows them, the shell completes those without a space."""
    return typer.Option(*names, help=code, metavar="|".join(words), autocompletion=begun(words))


def begun(words: Sequence[str]) -> Callable[[str], list[str]]:
    """What completes the first letters of one of these words."""

    def found(incomplete: str) -> list[str]:
        return [word for word in words if word.startswith(incomplete) and " " not in word]

    return found


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


@attrs.frozen
class Group:
    """Commands below one name, as a command."""

    commands: type[ByName]

    def built(self, name: str, code: str) -> Any:
        """The group for the parser, told by the words of its code."""
        app = _app(name=name, help=phrase(code), cls=self.commands)
        app.callback()(_nothing)
        return get_command(app)


def _app(**more: Any) -> typer.Typer:
    return typer.Typer(add_completion=False, rich_markup_mode=None, pretty_exceptions_enable=False, **more)


def _nothing() -> None:
    """A group does nothing by itself."""


def _examples(examples: Sequence[str]) -> str:
    lines = "\n".join(f"  mitertool {example}" for example in examples)
    return f"{_KEPT}{phrase('help.examples')}\n{lines}"


def _parameters(options: type) -> Iterator[Parameter]:
    hints = get_type_hints(options, include_extras=True)
    fields = attrs.fields_dict(options)
    for name in dict.fromkeys(name for one in options.__mro__ for name in vars(one).get("__annotations__", ())):
        default = Parameter.empty if fields[name].default is attrs.NOTHING else fields[name].default
        yield Parameter(name, Parameter.KEYWORD_ONLY, default=default, annotation=_named(hints[name], name))


def _named(hint: Any, name: str) -> Any:
    """The type of an option with the words of its codes, and a word for its value: FILE, or the last of its name."""
    taken, declared = get_args(hint)
    shown = copy(declared)
    shown.help = said(declared.help.split("\n"))
    if declared.metavar is None and taken is not bool:
        shown.metavar = "FILE" if taken in (Path, Path | None) else name.strip("_").rpartition("_")[2].upper()
    return Annotated[taken, shown]
