"""A job file as a form, and the text of a new one; knows the keys of a job and the text of a file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

import tomlkit

from mitertool.job.frame_keys import FRAME
from mitertool.job.keys import HEAD, NEST, PIECE, STOCK
from mitertool.quantity.form import FileForm
from mitertool.quantity.keys import Key
from mitertool.quantity.toml_text import with_table

_KEYS: Final = {"job": HEAD.keys, "nest": NEST.keys, "stock": STOCK.keys, "piece": PIECE.keys}


def _keys(_top: Mapping[str, Any], table: str, values: Mapping[str, Any]) -> Mapping[str, Key]:
    """The keys of a table; of a frame those of its shape."""
    if table in _KEYS:
        return _KEYS[table]
    shape = FRAME.each.get(str(values.get("shape")))
    return {**(shape.keys if shape else {}), "shape": FRAME.keys["shape"]}


JOB_FORM: Final = FileForm(
    ("job", "frame", "piece", "stock", "nest"), ("frame", "piece", "stock"), _keys, ("mark", "section")
)
"""The tables of a job that a form has; others are written as text."""


def begun(name: str, values: Mapping[str, Any], tables: Sequence[tuple[str, Mapping[str, Any]]]) -> str:
    """The text of a new job: its [job] of these values, and the other tables in their order."""
    document = tomlkit.document()
    document["format"] = 1
    head = tomlkit.table()
    head.update({"name": name, **values})
    document["job"] = head
    text = tomlkit.dumps(document)
    for table, given in tables:
        text = with_table(text, table, given, name)
    return text
