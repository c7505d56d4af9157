"""A room's door: the names that the room offers, each loaded when it is first asked for (PEP 562)."""

from importlib import import_module
from sys import modules as loaded

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable, Mapping


def door(room: str, shelves: "Mapping[str, str]", modules: str = "") -> "Callable[[str], object]":
    """The `__getattr__` of the package `room`.

    `shelves` has the path of each module below the room with the names that it offers, `modules` the paths of those
    that are offered themselves; spaces between. So who needs a room only sometimes imports the room, and what is used
    of it is loaded then: no import need stand inside a function. No name may be that of another module of the room,
    which would hide it. This module needs nothing of the standard library: every start of the program passes here.
    """
    homes = {name: path for path, names in shelves.items() for name in names.split()}
    whole = {path.rpartition(".")[2]: path for path in modules.split()}

    def found(name: str) -> object:
        if name in homes:
            value: object = getattr(import_module(f"{room}.{homes[name]}"), name)
        elif name in whole:
            value = import_module(f"{room}.{whole[name]}")
        else:
            raise AttributeError(f"module {room!r} has no attribute {name!r}")
        setattr(loaded[room], name, value)
        return value

    return found
