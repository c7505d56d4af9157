"""HTML as text, escaped where it is put together; knows elements and attributes only."""

from __future__ import annotations

import re
from html import escape
from typing import Final

from mitertool.words import phrase

_EMPTY: Final = frozenset({"meta", "input", "br"})
"""Elements that hold nothing and have no end tag."""

_HOLE: Final = re.compile("\ue000([a-z_]+)\ue001")
"""Where markup stands in a sentence until it is escaped: private letters, which no text of a job may hold."""

_BEFORE_FRACTION: Final = re.compile(r"(?<=\d) (?=\d+/\d)")


class Markup(str):
    """Text that is HTML already; any other text is escaped where it is put into an element."""

    __slots__ = ()


Content = str | None
Attribute = str | int | bool | None


def element(name: str, /, *content: Content, **attributes: Attribute) -> Markup:
    """An element around its content; `class_` stands for class, data_x for data-x; None and False are left out."""
    start = f"<{name}{''.join(_attribute(key, value) for key, value in attributes.items())}>"
    return Markup(start if name in _EMPTY else f"{start}{joined(*content)}</{name}>")


def joined(*content: Content) -> Markup:
    """The contents one after another."""
    return Markup("".join(one if isinstance(one, Markup) else _escaped(one) for one in content if one is not None))


def _escaped(says: str) -> str:
    """A text that no end of a line parts between a whole number and its fraction: 4 13/16 would be read as 4."""
    return _BEFORE_FRACTION.sub("\u00a0", escape(says))


def sentence(code: str, **parts: object) -> Markup:
    """The words of a code in which some of what varies is markup."""
    held = {name: part for name, part in parts.items() if isinstance(part, Markup)}
    text = phrase(code, **{**parts, **{name: f"\ue000{name}\ue001" for name in held}})
    return Markup(_HOLE.sub(lambda found: held[found[1]], _escaped(text)))


def _attribute(key: str, value: Attribute) -> str:
    name = key.rstrip("_").replace("_", "-")
    if value is None or value is False:
        return ""
    return f" {name}" if value is True else f' {name}="{escape(str(value))}"'
