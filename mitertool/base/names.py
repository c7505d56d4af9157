"""Names: the nearest known ones to a misspelt one, and file names that every system takes."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from difflib import get_close_matches
from functools import reduce
from typing import Final

from mitertool.base.errors import UnknownName
from mitertool.words import phrase

_RESERVED: Final = {"con", "prn", "aux", "nul"} | {f"{d}{n}" for d in ("com", "lpt") for n in range(1, 10)}
_LONGEST: Final = 80
_ALIKE: Final = 0.61
"""How like a key must be that is asked for alone: "mitre" is so like "miter", "jaw_fixed" is less like "fixed_jaw"."""


def nearest(name: str, known: Iterable[str], most: int = 5, alike: float = 0.5) -> tuple[str, ...]:
    """The known names most like `name`, best first, at most `most`; empty when none is `alike`, of 1 at most."""
    by_key = {one.casefold(): one for one in known}
    return tuple(by_key[key] for key in get_close_matches(name.casefold(), by_key, n=most, cutoff=alike))


def refuse_unknown_keys(table: str, found: Iterable[str], known: Sequence[str]) -> None:
    """Raise `UnknownName` for the first key of `found` that is not among `known`, with the nearest ones."""
    for key in found:
        if key not in known:
            like = nearest(key, known, 2, _ALIKE) or nearest(key, known, 2)
            raise UnknownName(phrase("what.unknown-key", table=table), key, _keys(key, like, known), choices=like)


def _keys(key: str, like: Sequence[str], known: Sequence[str]) -> str:
    every = ", ".join(known)
    if like and not nearest(key, like, 1, _ALIKE):
        return phrase("refuse.nearest-of-keys", names=either(like), keys=every)
    return meant(like) or phrase("refuse.keys", keys=every)


def meant(like: Sequence[str]) -> str:
    """The question whether one of these names was meant; "" where there is none."""
    return phrase("refuse.nearest", names=either(like)) if like else ""


def among(names: Iterable[str]) -> str:
    """What is allowed, as words: one of these names."""
    return phrase("refuse.allowed", allowed=", ".join(names))


def all_of(names: Sequence[str]) -> str:
    """Names that hold together, as words."""
    return reduce(lambda first, last: phrase("list.and", first=first, last=last), names or ("",))


def either(names: Sequence[str]) -> str:
    """Names of which one holds, as words."""
    return reduce(lambda first, last: phrase("list.or", first=first, last=last), names)


def safe_file_name(mark: str) -> str:
    """A mark as a file name without folders, reserved names or characters that some system refuses.

    Two marks that differ may give one name; callers that write many use `distinct_file_names`.
    """
    one_form = unicodedata.normalize("NFKC", mark)
    plain = re.sub(r"[^\w.-]+", "_", one_form).strip("._ ")[:_LONGEST].rstrip("._ ") or "mark"
    stem, dot, ending = plain.partition(".")
    return f"{stem}_{dot}{ending}" if stem.casefold() in _RESERVED else plain


def distinct_file_names(marks: Sequence[str]) -> tuple[str, ...]:
    """Safe names for `marks`, in their order, no two equal even where case does not count."""
    taken: set[str] = set()
    names = []
    for mark in marks:
        base = name = safe_file_name(mark)
        count = 1
        while name.casefold() in taken:
            count += 1
            name = f"{base}~{count}"
        taken.add(name.casefold())
        names.append(name)
    return tuple(names)
