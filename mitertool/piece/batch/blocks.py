"""Arrays of any size worked through in steps that stay in the processor's cache; knows numpy only."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Final, cast

import numpy as np

from mitertool.piece.batch.given import Array

STEP: Final = 8192
"""Numbers in a step: some ten arrays of as many doubles stay in the cache that a core has for itself. Steps of this
size leave nothing to a second core: an operation on one holds the interpreter about as long as it computes."""

Rule = Callable[..., Sequence[Array]]
"""From one step of each argument one step of each answer."""


def worked(rule: Rule, given: Sequence[Array], count: int) -> list[Array]:
    """The `count` answers of `rule` over whole arrays: `given` have one shape, and so has each answer."""
    answers = [np.empty(given[0].shape) for _ in range(count)]
    steps = np.nditer(
        [*given, *answers],
        flags=["external_loop", "buffered", "zerosize_ok"],
        op_flags=cast(Any, [["readonly"]] * len(given) + [["writeonly"]] * count),
        order="C",
        buffersize=STEP,
    )
    for arrays in steps:
        for answer, found in zip(arrays[len(given) :], rule(*arrays[: len(given)]), strict=True):
            answer[...] = found
    return answers
