"""A code and what varies, made words in the language that is spoken; knows the tables of words.

The language is that of a context, as the precision of `decimal` is: it is set once, where a command begins or a packet
is written, and holds inside that block only. It changes words and no figure.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from importlib import import_module
from typing import Final

from mitertool.words.en import WORDS

Words = Mapping[str, str]
"""Words by their code; what stands in braces is filled in by its name."""

LANGUAGES: Final = ("en", "de")
"""The languages that there are, by their two letters of ISO 639-1."""

_SPOKEN: ContextVar[Words] = ContextVar("words", default=WORDS)


def words_of(language: str) -> Words:
    """The table of one of the `LANGUAGES`, loaded when it is first asked for. Raises `KeyError` for any other."""
    if language not in LANGUAGES:
        raise KeyError(language)
    table: Words = import_module(f"mitertool.words.{language}").WORDS
    return table


@contextmanager
def speaking(words: Words) -> Iterator[None]:
    """Within the block every phrase is made of these words."""
    before = _SPOKEN.set(words)
    try:
        yield
    finally:
        _SPOKEN.reset(before)


def phrase(code: str, /, **parts: object) -> str:
    """The words of a code, each {name} in them filled by the part of that name. Raises `KeyError` for an unknown one.

    >>> from mitertool.words import phrase
    >>> phrase("side.fixed")
    'fixed side'
    """
    return _SPOKEN.get()[code].format(**parts)


def counted(code: str, count: int, /, **parts: object) -> str:
    """Words that differ by how many there are: those of `code/one` or `code/many`, where {count} is how many."""
    return phrase(f"{code}/{'one' if count == 1 else 'many'}", count=count, **parts)


def own(code: str, otherwise: str) -> str:
    """The words of a code, or others where the table has none: a shape of the shop's own says itself what it means."""
    return phrase(code) if code in _SPOKEN.get() else otherwise


def said(codes: Sequence[str]) -> str:
    """The words of several codes, each once; of one that the table has not, what stands in its place."""
    return " ".join(dict.fromkeys(own(code, code.removeprefix("key.")) for code in codes))


def codes(room: str) -> tuple[str, ...]:
    """What a room says: its codes without its name and their cases, each once, in their order."""
    return tuple(
        dict.fromkeys(code[len(room) + 1 :].partition("/")[0] for code in WORDS if code.startswith(f"{room}."))
    )
