"""A saw file as a form: all its tables with all keys that they may have."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from mitertool.quantity.form import FileForm
from mitertool.quantity.keys import Key
from mitertool.saw.file.keys import ARM_KEYS, ARRAYS, TABLES


def _keys(top: Mapping[str, Any], table: str, _values: Mapping[str, Any]) -> Mapping[str, Key]:
    """The keys of a table; of the arm those of the kind of saw."""
    kind = top["saw"].get("kind") if isinstance(top.get("saw"), dict) else None
    return ARM_KEYS[kind].keys if table == "arm" and kind in tuple(ARM_KEYS) else TABLES[table].keys


SAW_FORM: Final = FileForm(tuple(TABLES), ARRAYS, _keys, ("name",))
"""The tables of a saw file, in the order in which they are explained."""
