"""How a text is spoiled: one to three small changes by lot, of the kinds that files and hands bring about."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from random import Random
from typing import Final

NUMBER: Final = re.compile(rb"-?\d+(?:\.\d+)?")
WORD: Final = re.compile(rb"[A-Za-z_][A-Za-z_-]{2,}")

NUMBERS: Final = (
    *(
        b"0",
        b"-1",
        b"-0.0",
        b"1e-308",
        b"1e308",
        b"-1e308",
        b"nan",
        b"inf",
        b"-inf",
        b"1e9",
        b"1e5",
        b"90",
        b"89.999999",
    ),
    *(b"45", b"180", b"-90", b"360", b"0.5", b"1e-9", b"3", b"99999999999", b"9" * 400, b"0x10", b"1_000", b"true"),
    *(b'"12"', b"[]", b"{}", b"1e", b"+5", b".5", b"1,5", b"12'", b"1/0", b"-3 1/2", b"007", b"1979-05-27"),
)
TEXTS: Final = (
    *(
        b"",
        b"x",
        b"\x00",
        b"\xff\xfe",
        b"\xed\xa0\x80",
        "\u05d0\u05d1".encode(),
        "\u202eabc".encode(),
        b"a" * 5000,
        b"../../x",
    ),
    *(
        b"CON",
        b"'",
        b'"',
        b'"""',
        b"\\",
        b"\n",
        b"\r",
        b"\t",
        b"[",
        b"]",
        b"[[",
        b"{",
        b"}",
        b"=",
        b"#",
        b",",
        b";",
        b"$(x)",
    ),
    *(
        b"=1+1",
        b"%s",
        b"{0}",
        b"<b>",
        b"[" * 500,
        b"{a=" * 300,
        b"e\xcc\x81",
        "\U0001f600".encode(),
        b"-",
        b"--",
        b"NaN",
    ),
)


def spoiled(text: bytes, lot: Random) -> bytes:
    """The text with one to three faults."""
    for _ in range(lot.choice((1, 1, 1, 2, 3))):
        text = lot.choice(WAYS)(text, lot)
    return text


def _number(text: bytes, lot: Random) -> bytes:
    return _one(text, lot, list(NUMBER.finditer(text)), NUMBERS)


def _word(text: bytes, lot: Random) -> bytes:
    return _one(text, lot, list(WORD.finditer(text)), TEXTS)


def _other_word(text: bytes, lot: Random) -> bytes:
    found = list(WORD.finditer(text))
    return _one(text, lot, found, [one[0] for one in found])


def _one(text: bytes, lot: Random, found: Sequence[re.Match[bytes]], choices: Sequence[bytes]) -> bytes:
    if not found:
        return text + lot.choice(TEXTS)
    place = lot.choice(found)
    return text[: place.start()] + lot.choice(choices) + text[place.end() :]


def _put_in(text: bytes, lot: Random) -> bytes:
    at = lot.randrange(len(text) + 1)
    return text[:at] + lot.choice(TEXTS) + text[at:]


def _taken_out(text: bytes, lot: Random) -> bytes:
    at = lot.randrange(len(text) + 1)
    return text[:at] + text[at + lot.choice((1, 1, 2, 5, 40)) :]


def _cut_off(text: bytes, lot: Random) -> bytes:
    return text[: lot.randrange(len(text) + 1)]


def _line_gone(text: bytes, lot: Random) -> bytes:
    lines = text.splitlines(keepends=True)
    if lines:
        del lines[lot.randrange(len(lines))]
    return b"".join(lines)


def _line_twice(text: bytes, lot: Random) -> bytes:
    lines = text.splitlines(keepends=True)
    if lines:
        lines.insert(lot.randrange(len(lines)), lot.choice(lines))
    return b"".join(lines)


def _lines_swapped(text: bytes, lot: Random) -> bytes:
    lines = text.splitlines(keepends=True)
    if len(lines) > 1:
        i, j = lot.sample(range(len(lines)), 2)
        lines[i], lines[j] = lines[j], lines[i]
    return b"".join(lines)


def _bit(text: bytes, lot: Random) -> bytes:
    if not text:
        return text
    at = lot.randrange(len(text))
    return text[:at] + bytes([text[at] ^ (1 << lot.randrange(8))]) + text[at + 1 :]


WAYS: Final[tuple[Callable[[bytes, Random], bytes], ...]] = (
    *(_number, _number, _number, _word, _other_word, _put_in, _taken_out),
    *(_cut_off, _line_gone, _line_twice, _lines_swapped, _bit),
)
