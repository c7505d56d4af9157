"""The JSON Schema of a saw file, made of its keys, so that editors complete and check it."""

from __future__ import annotations

from mitertool.quantity import schema as kind
from mitertool.quantity.schema import Schema
from mitertool.saw.file.keys import ARM_KEYS, ARRAYS, TABLES


def schema() -> Schema:
    """The schema of a saw file."""
    tables = {name: kind.tables(keys.schema) if name in ARRAYS else keys.schema for name, keys in TABLES.items()}
    tables["arm"]["required"] = []
    return kind.document(
        "title.saw-file",
        {"format": kind.file_format(), **tables},
        ("saw", "scale", "vise"),
        "table.saw-file",
        allOf=[_arm_of(word) for word in ARM_KEYS],
    )


def _arm_of(saw: str) -> Schema:
    """What the arm of a kind of saw needs and what it has not."""
    keys = ARM_KEYS[saw]
    is_so = {"properties": {"saw": {"properties": {"kind": {"const": saw}}, "required": ["kind"]}}, "required": ["saw"]}
    foreign = [key for key in TABLES["arm"].keys if key not in keys.keys]
    arm = {"required": keys.needed, "properties": dict.fromkeys(foreign, False), **keys.more}
    return {"if": is_so, "then": {"properties": {"arm": arm}}}
