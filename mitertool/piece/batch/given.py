"""What is given to the batch: lengths and angles in arrays that broadcast together, or the first that is wrong."""

from __future__ import annotations

from collections.abc import Callable
from sys import float_info

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mitertool.base.errors import BadInput
from mitertool.words import phrase

Array = NDArray[np.float64]


def angles(name: str, value: ArrayLike) -> Array:
    """Degrees of more than -90 and less than 90; raises `BadInput` with the first index that is none."""
    return _numbers(name, value, lambda v: abs(v) < 90, "refuse.angle")


def lengths(name: str, value: ArrayLike) -> Array:
    """Lengths of 0 or more, mm; raises `BadInput` with the first index that is none."""
    return _numbers(name, value, lambda v: (v >= 0) & (v < np.inf), "refuse.length")


def _numbers(name: str, value: ArrayLike, fits: Callable[[Array], NDArray[np.bool_]], allowed: str) -> Array:
    try:
        given = np.asarray(value)
    except ValueError as error:
        raise BadInput(name, type(value).__name__, phrase("refuse.array")) from error
    if given.dtype.kind not in "iuf":
        _refuse(name, given, np.array([not _is_number(one) for one in given.flat]), allowed)
    values = given.astype(np.float64, copy=False)
    _refuse(name, given, ~fits(values), allowed)
    return values


def _is_number(one: object) -> bool:
    return isinstance(one, int | float) and not isinstance(one, bool) and abs(one) <= float_info.max


def _refuse(name: str, given: NDArray[np.generic], wrong: NDArray[np.bool_], allowed: str) -> None:
    """Raise `BadInput` for the first value that is wrong, by its index."""
    if not wrong.any():
        return
    first = int(np.argmax(wrong))
    index = ", ".join(str(i) for i in np.unravel_index(first, given.shape))
    raise BadInput(f"{name}[{index}]" if index else name, given.flat[first], phrase(allowed))


def together(**values: Array) -> tuple[Array, ...]:
    """All in the one shape that they broadcast to, nothing copied; raises `BadInput` with their shapes."""
    try:
        return tuple(np.broadcast_arrays(*values.values()))
    except ValueError as error:
        shapes = ", ".join(f"{name} {array.shape}" for name, array in values.items())
        raise BadInput(phrase("what.shapes"), shapes, phrase("refuse.broadcast")) from error
