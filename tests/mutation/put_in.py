"""A change put into a program that is loaded: the code of the functions that differ is replaced where they stand."""

from __future__ import annotations

from collections.abc import Iterator
from inspect import CO_OPTIMIZED
from itertools import zip_longest
from types import CodeType
from typing import Final

from .passed import functions

_FUNCTION: Final = CO_OPTIMIZED
"""The code of a function, not of a module or class, says so."""


class AtTheTop(Exception):
    """The change stands outside every function: it acts when the file is loaded, so the file must be loaded with it."""


def put_in(file: str, old: str, new: str) -> None:
    """Have every function of a file do what the new source says; AtTheTop where that cannot be done."""
    pairs = dict(_pairs(compile(old, file, "exec"), compile(new, file, "exec")))
    loaded = [one for one in functions() if one.__code__ in pairs and one.__code__.co_filename == file]
    if not loaded or {one.__code__ for one in loaded} != set(pairs):
        raise AtTheTop
    for one in loaded:
        code = pairs[one.__code__]
        if len(code.co_freevars) != len(one.__code__.co_freevars):
            raise AtTheTop
        one.__code__ = code


def _pairs(old: CodeType, new: CodeType) -> Iterator[tuple[CodeType, CodeType]]:
    """Each outermost function that differs, as it was and as it is."""
    if old == new:
        return
    if old.co_flags & _FUNCTION:
        yield old, new
        return
    if _own(old) != _own(new):
        raise AtTheTop
    for one, other in zip_longest(_inner(old), _inner(new)):
        yield from _pairs(one, other)


def _own(code: CodeType) -> tuple[object, ...]:
    """What a module or class does itself."""
    return code.co_code, code.co_names, [repr(one) for one in code.co_consts if not isinstance(one, CodeType)]


def _inner(code: CodeType) -> list[CodeType]:
    return [one for one in code.co_consts if isinstance(one, CodeType)]
