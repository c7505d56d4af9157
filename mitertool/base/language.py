"""Which language is spoken: that of the environment on a screen, that of a job on its paper; knows the languages."""

from __future__ import annotations

import os
from contextlib import AbstractContextManager, nullcontext
from typing import Final

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.words import LANGUAGES, speaking, words_of

_NAMED: Final = "MITERTOOL_LANGUAGE"


def spoken_here() -> AbstractContextManager[None]:
    """Within the block the language that MITERTOOL_LANGUAGE names is spoken; as before where it names none.

    Raises `BadInput` with the languages that there are for any other.
    """
    return spoken(os.environ.get(_NAMED, ""), _NAMED)


def spoken(language: str, what: str = "language") -> AbstractContextManager[None]:
    """Within the block a language is spoken, as before where it is "". Raises `BadInput` naming `what`."""
    if not language:
        return nullcontext()
    if language not in LANGUAGES:
        raise BadInput(what, language, among(LANGUAGES))
    return speaking(words_of(language))
