"""The options by which open sections say how they lie in a frame, as their shapes ask; knows sections."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

import typer
from typer.core import TyperGroup, TyperOption

_LYING: Final = "mitertool.lying"

_BEFORE: Final = "lay"
"""The option before which those of the shapes stand, in every command that takes them."""

_JOINED: Final = ("rectangle", "polygon", "drawing")
"""Commands whose members meet at corners, where it counts how they lie."""


class ShapesAsk(TyperGroup):
    """Gives a command the options of all shapes when that command is called, so that no other loads the shapes."""

    def get_command(self, ctx: Any, cmd_name: str) -> Any:
        """The command of this name, or None."""
        command: Any = super().get_command(ctx, cmd_name)
        if command is not None and cmd_name in _JOINED:
            at = next(i for i, param in enumerate(command.params) if param.name == _BEFORE)
            command.params[at:at] = _options()
        return command


def lying(context: typer.Context) -> Mapping[str, str]:
    """The words that were given, by the key of a job file."""
    found: Mapping[str, str] = context.meta.get(_LYING, {})
    return found


def _options() -> list[TyperOption]:
    from mitertool.sections import shapes

    whose: dict[str, list[str]] = {}
    for word in shapes.words():
        for asked in shapes.of(word).frame_words:
            whose.setdefault(asked.key, []).append(word)
    return [_option(asked.key, whose[asked.key], asked.allowed) for asked in shapes.frame_words()]


def _option(key: str, names: list[str], allowed: tuple[str, ...]) -> TyperOption:
    says = f"{' or '.join(names).capitalize()}: {', '.join(allowed[:-1])} or {allowed[-1]}."
    return TyperOption(
        param_decls=[f"--{key}"],
        type=str,
        default="",
        callback=_keep,
        expose_value=False,
        help=says,
        show_default=False,
    )


def _keep(context: Any, option: Any, value: str) -> None:
    context.meta.setdefault(_LYING, {})[option.name] = value
