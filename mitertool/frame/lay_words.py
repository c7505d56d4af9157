"""How open sections lie in a frame, by the words that their shapes have for it; knows sections."""

from __future__ import annotations

from mitertool.base.errors import BadInput
from mitertool.base.names import either
from mitertool.sections import Section
from mitertool.sections.section import FrameWord
from mitertool.words import phrase


def laid(section: Section, **words: str | None) -> Section:
    """`section` as it lies in a frame, whose outside is the moving side: by the words that its shape asks for.

    Raises `BadInput` where a word is missing, wrong, or given to a section that has no such part.
    """
    asked = section.shape.frame_words
    for key, given in words.items():
        if given is not None and key not in (word.key for word in asked):
            raise BadInput(key, given, phrase("refuse.no-word", section=section.name, word=key))
    return section.shape.in_frame(section, **{word.key: _answer(section, word, words.get(word.key)) for word in asked})


def _answer(section: Section, word: FrameWord, given: str | None) -> str:
    if given in word.allowed:
        return str(given)
    found = phrase("found.nothing") if given is None else given
    allowed = phrase("refuse.how-it-lies", section=section.name, word=word.key, allowed=either(word.allowed))
    raise BadInput(word.key, found, allowed)
