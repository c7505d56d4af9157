"""Every word that a person reads, on paper and on screen, in one table a language; knows nothing of mitertool.

A room says what it means by a code, and fills in what varies by name: `phrase("bar.title", number=3)`. What the words
are stands in `en.py`; another language is another such file beside it, with the same codes and the same places.
"""

from mitertool.words.table import LANGUAGES, Words, codes, counted, own, phrase, said, speaking, words_of

__all__ = ["LANGUAGES", "Words", "codes", "counted", "own", "phrase", "said", "speaking", "words_of"]
