"""Changes drawn by lot from those that cosmic-ray knows, a fair share of every place where one can be made.

A place is drawn by a hash of its own text and of the definition that it stands in, and the change at it likewise: what
is drawn elsewhere in a file does not depend on it, and lines that move change nothing. Left out is what says nothing of
the tests: notes of types; bit operators and shifts in place of arithmetic, that end in a TypeError for any float, and a
decorator taken away, mostly a cache or a declaration.
"""

from __future__ import annotations

import ast
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from functools import cache
from hashlib import sha256
from itertools import islice
from pathlib import Path
from typing import Any, Final

import cosmic_ray.plugins as kept
from attrs import frozen
from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code

from .rooms import ROOT, modules, room_of

_SUMS: Final = frozenset({"Add", "Sub", "Mul", "Div", "FloorDiv", "Mod", "Pow"})
_SETS: Final = frozenset({"BitOr", "BitAnd", "Sub"})
_ORDERS: Final = frozenset({"Eq", "NotEq", "Lt", "LtE", "Gt", "GtE"})
_SAME: Final = frozenset({"Is", "IsNot"})
_OTHERS: Final = frozenset(
    {
        *("AddNot", "ReplaceTrueWithFalse", "ReplaceFalseWithTrue", "ReplaceAndWithOr", "ReplaceOrWithAnd"),
        *("ReplaceBreakWithContinue", "ReplaceContinueWithBreak", "ExceptionReplacer", "NumberReplacer"),
        *("ZeroIterationForLoop", "ReplaceUnaryOperator_USub_UAdd", "ReplaceUnaryOperator_Delete_USub"),
        "ReplaceUnaryOperator_Delete_Not",
    }
)


@frozen
class Change:
    """One change of a file: where it stands, by name and text, and what it makes of which lines."""

    file: str
    within: str
    was: str
    now: str
    nth: int
    """Which one it is of the places in that definition whose text is the same."""
    lines: tuple[int, ...]
    source: str

    @property
    def key(self) -> tuple[str, str, str, str, int]:
        """What finds it again when lines have moved."""
        return self.file, self.within, self.was, self.now, self.nth

    @property
    def room(self) -> str:
        """The room that it stands in."""
        return room_of(ROOT / self.file)


def drawn(room: str, count: int, seed: str) -> list[Change]:
    """So many changes of a room."""
    places = [place for path in modules(room) for place in _places(path)]
    lots = sorted((_lot(seed, *place.key), at) for at, place in enumerate(places))
    made = (places[at].change(lot) for lot, at in lots)
    return list(islice((change for change in made if change), count))


def _lot(*of: object) -> int:
    return int.from_bytes(sha256("\n".join(map(str, of)).encode()).digest()[:8])


@frozen
class _Place:
    """Where something can be changed, and the operators that can, each with its number among theirs in the file."""

    path: Path
    source: str
    line: int
    column: int
    nth: int
    operators: tuple[tuple[str, int], ...]

    @property
    def key(self) -> tuple[object, ...]:
        text = self.source.splitlines()[self.line - 1]
        into = self.column - len(text) + len(text.lstrip())
        return self.file, _definitions(self.source).name(self.line), text.strip(), into, self.nth

    @property
    def file(self) -> str:
        return self.path.relative_to(ROOT).as_posix()

    def change(self, lot: int) -> Change | None:
        name, occurrence = self.operators[lot % len(self.operators)]
        source = mutate_code(self.source, kept.get_operator(name)(), occurrence)
        if source is None or not _differs(self.source, source):
            return None
        names = _definitions(self.source)
        was, now = _differ(self.source, source)
        return Change(self.file, names.name(self.line), was, now, self.nth, names.lines(self.line), source)


def _differs(old: str, new: str) -> bool:
    """Whether the new source is a program, and another one; a star before arguments is taken for a power sometimes."""
    try:
        return ast.dump(ast.parse(new)) != ast.dump(ast.parse(old))
    except SyntaxError:
        return False


def _differ(old: str, new: str) -> tuple[str, str]:
    """The lines that differ, each text without the blanks around it."""
    one, other = old.splitlines(), new.splitlines()
    while one and other and one[0] == other[0]:
        one, other = one[1:], other[1:]
    while one and other and one[-1] == other[-1]:
        one, other = one[:-1], other[:-1]
    return " ".join(map(str.strip, one)), " ".join(map(str.strip, other))


def _places(path: Path) -> Iterator[_Place]:
    """Every place of a file where something can be changed, in its order."""
    source = path.read_text(encoding="utf-8")
    found: dict[tuple[int, int], list[tuple[str, int]]] = defaultdict(list)
    nodes = list(ast_nodes(get_ast(source)))
    notes = _definitions(source)
    for name in filter(_tells, kept.operator_names()):
        operator: Any = kept.get_operator(name)()
        starts = [start for node in nodes for start, _ in operator.mutation_positions(node)]
        for occurrence, start in enumerate(starts):
            if not notes.is_note(start):
                found[start].append((name, occurrence))
    texts: Counter[tuple[object, ...]] = Counter()
    for (line, column), operators in sorted(found.items()):
        place = _Place(path, source, line, column, 0, tuple(sorted(operators)))
        texts[place.key] += 1
        yield _Place(path, source, line, column, texts[place.key] - 1, place.operators)


def _tells(name: str) -> bool:
    """Whether an operator's changes tell of the tests."""
    bare = name.removeprefix("core/")
    what, _, pair = bare.partition("_")
    if bare in _OTHERS:
        return True
    one, _, other = pair.partition("_")
    if what == "ReplaceBinaryOperator":
        return {one, other} <= _SUMS or {one, other} <= _SETS
    return what == "ReplaceComparisonOperator" and ({one, other} <= _ORDERS or {one, other} <= _SAME)


class _Definitions:
    """What a file's lines belong to, and where its notes of types stand."""

    def __init__(self, source: str) -> None:
        tree = ast.parse(source)
        self._names = list(_named(tree.body, ()))
        self._notes = list(_notes(tree))
        self._statements = [node for node in ast.walk(tree) if isinstance(node, ast.stmt)]

    def name(self, line: int) -> str:
        """The innermost definition around a line, or nothing at the top of a file."""
        inside = [(last - first, name) for first, last, name in self._names if first <= line <= last]
        return min(inside)[1] if inside else ""

    def lines(self, line: int) -> tuple[int, ...]:
        """The lines of the statement that a line is of; of one with a body, its head alone."""
        heads = (_head(node) for node in self._statements)
        return tuple(min((head for head in heads if line in head), key=len, default=range(line, line + 1)))

    def is_note(self, start: tuple[int, int]) -> bool:
        """Whether a place stands in a note of a type."""
        return any(first <= start < last for first, last in self._notes)


@cache
def _definitions(source: str) -> _Definitions:
    return _Definitions(source)


def _head(node: ast.stmt) -> range:
    body: Sequence[Any] = getattr(node, "body", None) or getattr(node, "cases", ())
    if isinstance(node, ast.Match):
        return range(node.lineno, node.lineno + 1)
    return range(node.lineno, max(body[0].lineno, node.lineno + 1) if body else (node.end_lineno or node.lineno) + 1)


def _named(body: Sequence[ast.stmt], outer: tuple[str, ...]) -> Iterator[tuple[int, int, str]]:
    for node in body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            first = min([node.lineno, *(one.lineno for one in node.decorator_list)])
            yield first, node.end_lineno or first, ".".join((*outer, node.name))
            yield from _named(node.body, (*outer, node.name))


def _notes(tree: ast.AST) -> Iterator[tuple[tuple[int, int], tuple[int, int]]]:
    """Where notes of types begin and end, and unions of types at the top of a file."""
    for node in ast.walk(tree):
        notes = [getattr(node, "annotation", None), getattr(node, "returns", None)]
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "isinstance":
            notes.append(node.args[-1])
        if isinstance(node, ast.Module):
            values = (one.value for one in node.body if isinstance(one, ast.Assign | ast.AnnAssign))
            notes += [value for value in values if _is_union(value)]
        for note in filter(None, notes):
            yield (note.lineno, note.col_offset), (note.end_lineno or note.lineno, note.end_col_offset or 0)


def _is_union(value: ast.AST | None) -> bool:
    joined = isinstance(value, ast.BinOp) and isinstance(value.op, ast.BitOr)
    return joined and isinstance(getattr(value, "left", None), ast.Name | ast.Subscript)
