"""What the address of a screen asks for, as a frozen value of texts, and the address of a value; knows no screen.

A field is a text as somebody typed it; whoever reads it refuses it as the command line does.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, TypeVar
from urllib.parse import urlencode

import attrs

T = TypeVar("T")


def asked(made: type[T], query: Mapping[str, str]) -> T:
    """The value of a frozen class whose fields are texts, each as the query has it, or else as usual."""
    names = attrs.fields_dict(made)  # type: ignore[arg-type]
    return made(**{name: text for name, text in query.items() if name in names})


def address(path: str, value: Any) -> str:
    """The address of a screen at `path` that asks for the value; a field that is as usual is left out."""
    fields = attrs.fields_dict(type(value))
    told = [(name, getattr(value, name)) for name, one in fields.items() if getattr(value, name) != one.default]
    return f"{path}?{urlencode(told)}" if told else path
