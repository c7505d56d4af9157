"""A command as a value: its options, what it does and examples.

Knows typer and words, and nothing of what a command does.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from copy import copy
from inspect import Parameter, Signature
from pathlib import Path
from typing import Annotated, Any, Final, Generic, TypeVar, dataclass_transform, get_args, get_type_hints

import attrs
import typer
from typer.main import get_command

from mitertool.cli.groups import app_of
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
        app = app_of()
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
