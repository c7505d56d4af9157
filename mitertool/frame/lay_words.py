"""How open sections lie in a frame, by the words that their shapes have for it; knows sections."""

from __future__ import annotations

from mitertool.base.errors import BadInput
from mitertool.sections import Section
from mitertool.sections.section import FrameWord


def laid(section: Section, **words: str | None) -> Section:
    """`section` as it lies in a frame, whose outside is the moving side: by the words that its shape asks for.

    Raises `BadInput` where a word is missing, wrong, or given to a section that has no such part.
    """
    asked = section.shape.frame_words
    for key, given in words.items():
        if given is not None and key not in (word.key for word in asked):
            raise BadInput(key, given, f"{section.name} has no {key}; leave the word out")
    return section.shape.in_frame(section, **{word.key: _answer(section, word, words.get(word.key)) for word in asked})


def _answer(section: Section, word: FrameWord, given: str | None) -> str:
    if given in word.allowed:
        return str(given)
    found = "nothing" if given is None else given
    allowed = f"a frame of {section.name} must say how it lies: {word.key} = {' or '.join(word.allowed)}"
    raise BadInput(word.key, found, allowed)
