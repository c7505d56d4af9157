"""What a program says on standard output and standard error, whoever listens and whatever letters they can show."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from contextlib import redirect_stdout, suppress
from io import StringIO
from struct import iter_unpack
from typing import Final, TextIO

from mitertool.base.errors import BadInput
from mitertool.words import phrase

_SPELLED: Final[Mapping[str, str]] = {
    "°": " deg",
    "±": "+/-",
    "…": "...",
    "×": "x",
    "·": "*",
    "−": "-",
    "–": "-",
    "—": "-",
    "″": '"',
    "′": "'",
    "“": '"',
    "”": '"',
    "‘": "'",
    "’": "'",
    "≤": "<=",
    "≥": ">=",
    "√": "sqrt",
    "²": "^2",
    "³": "^3",
}
"""Signs of an answer in letters that every terminal has."""


def hold_streams() -> None:
    """Let no file that is opened take the place of a standard stream that is closed: libraries write there."""
    for number in (0, 1, 2):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)  # the lowest free number


def say(text: str) -> None:
    """Write an answer to standard output, and see that it gets there.

    A reader that has gone away has heard enough. Raises `BadInput` where the output is closed or full.
    """
    stream = sys.stdout
    if stream is None:
        raise BadInput(phrase("what.stdout"), phrase("found.closed"), phrase("refuse.closed"))
    try:
        stream.write(sayable(text, stream.encoding))
        stream.flush()
    except BrokenPipeError:
        _turn_away(stream)
    except (OSError, ValueError) as error:
        _turn_away(stream)
        reason = getattr(error, "strerror", None) or phrase("found.closed")
        raise BadInput(phrase("what.stdout"), reason, phrase("refuse.half-said")) from error


def complain(text: str) -> None:
    """Write one line to standard error where anybody can hear it."""
    remark(" ".join(text.split()))


def remark(text: str) -> None:
    """Write lines to standard error where anybody can hear them."""
    stream = sys.stderr
    if stream is None:
        return
    try:
        stream.write(sayable(text, stream.encoding) + "\n")
        stream.flush()
    except (OSError, ValueError):
        _turn_away(stream)


def sayable(text: str, encoding: str | None) -> str:
    r"""The text in letters that the encoding has: signs spelled out, other letters as \u and their number.

    In JSON, known by its first letter, all are so written that it reads back the same.
    """
    return _written(text, encoding, {} if text.startswith("{") else _SPELLED)


def spelled(text: str, encoding: str | None) -> str:
    """The same of words that are never JSON, for whoever counts the columns that they will take."""
    return _written(text, encoding, _SPELLED)


def encoding_of_output() -> str | None:
    """That of standard output, or of the `Answer` that takes its place; None where it is closed."""
    return getattr(sys.stdout, "encoding", None)


class Answer(StringIO):
    """What is said before any of it goes to standard output, whose letters it will be told in."""

    encoding = ""

    def __init__(self) -> None:
        super().__init__()
        self.encoding = encoding_of_output() or "utf-8"
        self.behind = sys.stdout


def say_now(text: str) -> None:
    """Say a whole answer at once, for a command that goes on after it; same errors as `say`."""
    out = sys.stdout
    with redirect_stdout(out.behind if isinstance(out, Answer) else out):
        say(text)


def _written(text: str, encoding: str | None, signs: Mapping[str, str]) -> str:
    codec = encoding or "utf-8"
    if _fits(text, codec):
        return text
    return "".join(one if _fits(one, codec) else signs.get(one, _escaped(one)) for one in text)


def _escaped(letter: str) -> str:
    """A letter by its number, as JSON escapes it: of one past the first 65,536 both halves."""
    return "".join(f"\\u{half:04x}" for (half,) in iter_unpack(">H", letter.encode("utf-16-be", "surrogatepass")))


def _fits(text: str, codec: str) -> bool:
    try:
        text.encode(codec)
    except UnicodeEncodeError:
        return False
    return True


def _turn_away(stream: TextIO) -> None:
    """What is left in the stream goes nowhere, so that nothing fails when the program ends."""
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)
