"""The texts that stand in the modules of mitertool, docstrings aside, and what of them is words or codes."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import NamedTuple

from jinja2 import Environment, nodes

PACKAGE = Path(__file__).resolve().parents[2] / "mitertool"

HOLE = "{}"
"""What stands for a value in a text."""


class Source(NamedTuple):
    """A text of a module with its line; values in it are holes. `calls` are the functions that it is handed to."""

    path: str
    line: int
    text: str
    calls: tuple[str, ...]


@cache
def sources() -> tuple[Source, ...]:
    """Every text of every module outside the tables of words, and every code of every template."""
    in_modules = (found for path in modules() for found in texts(path, (PACKAGE / path).read_text(encoding="utf-8")))
    return (*in_modules, *(found for path, tree in templates() for found in codes_of(path, tree)))


def templates() -> Iterator[tuple[str, nodes.Template]]:
    """The templates of the page, each with its path."""
    made = Environment(trim_blocks=True, lstrip_blocks=True)
    for path in sorted(PACKAGE.rglob("templates/*.html")):
        yield path.relative_to(PACKAGE).as_posix(), made.parse(path.read_text(encoding="utf-8"))


def codes_of(path: str, tree: nodes.Template) -> Iterator[Source]:
    """What a template says by a code; a value in it is a hole."""
    for call in tree.find_all(nodes.Call):
        named = getattr(call.node, "name", "")
        if named in ("phrase", "counted") and call.args:
            yield Source(path, call.lineno, code_in(call.args[0]), (named,))


def code_in(argument: nodes.Expr) -> str:
    """A code as it stands, put together of texts and values, or a hole where it is a value as a whole."""
    if isinstance(argument, nodes.Const):
        return str(argument.value)
    parts = argument.nodes if isinstance(argument, nodes.Concat) else []
    return "".join(str(one.value) if isinstance(one, nodes.Const) else HOLE for one in parts) or HOLE


def written_in(tree: nodes.Template) -> Iterator[str]:
    """What a template shows that is neither said by a code nor a tag."""
    text = "".join(one.data if isinstance(one, nodes.TemplateData) else HOLE for one in _in_order(tree))
    yield from re.findall(r"[^<>]+(?=<|$)", re.sub(r"<[^>]*>", "<>", text))
    yield from re.findall(r'(?:aria-label|alt|title|placeholder)="([^"]*)"', text)


def _in_order(node: nodes.Node) -> Iterator[nodes.Node]:
    for one in node.iter_child_nodes():
        if isinstance(one, nodes.TemplateData) or not isinstance(one, nodes.Output | nodes.Stmt):
            yield one
        else:
            yield from _in_order(one)


def modules() -> list[str]:
    """The modules outside the tables of words."""
    paths = (path.relative_to(PACKAGE).as_posix() for path in sorted(PACKAGE.rglob("*.py")))
    return [path for path in paths if not path.startswith("words/")]


def texts(path: str, content: str) -> Iterator[Source]:
    """The texts of a module: constants, and what stands between the values of an f-string."""
    tree = ast.parse(content)
    around = {child: node for node in ast.walk(tree) for child in ast.iter_child_nodes(node)}
    stated = {node.value for node in ast.walk(tree) if isinstance(node, ast.Expr)} | public_names(tree)
    for node in ast.walk(tree):
        if node in stated or isinstance(around.get(node), ast.JoinedStr) or in_repr(node, around):
            continue
        text = text_of(node)
        if text:
            yield Source(path, node.lineno, text, handed_to(node, around))  # type: ignore[attr-defined]


def public_names(tree: ast.Module) -> set[ast.expr]:
    """What `__all__` lists."""
    lists = (
        node for node in tree.body if isinstance(node, ast.Assign) and getattr(node.targets[0], "id", "") == "__all__"
    )
    return {name for one in lists for name in getattr(one.value, "elts", ())}


def text_of(node: ast.AST) -> str:
    """The text of a constant or an f-string, "" of anything else."""
    if isinstance(node, ast.JoinedStr):
        return "".join(str(part.value) if isinstance(part, ast.Constant) else HOLE for part in node.values)
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else ""


def in_repr(node: ast.AST, around: dict[ast.AST, ast.AST]) -> bool:
    """Whether it is how a value shows itself to a programmer."""
    while node in around:
        node = around[node]
        if isinstance(node, ast.FunctionDef) and node.name == "__repr__":
            return True
    return False


def handed_to(node: ast.AST, around: dict[ast.AST, ast.AST]) -> tuple[str, ...]:
    """The names of the calls around it, the nearest first."""
    names = []
    while node in around:
        node = around[node]
        if isinstance(node, ast.Call):
            func = node.func
            names.append(func.attr if isinstance(func, ast.Attribute) else getattr(func, "id", ""))
    return tuple(names)


_UNITS = re.compile(r"(?<![A-Za-z])(mm2?|mm/min|cm2|in2?|ft|kg|kg/m|lb|lb/ft|deg|min|x)(?![A-Za-z])")
"""Units and the sign between two sizes are no words."""

_WORDS = re.compile(
    r"[A-Za-z]{2,}[,;:.]? +(?:[A-Za-z]+|\{\})|\{\}[,;:.]? +[A-Za-z]{2,}|^[A-Z][a-z]{2,}[.:]?$|^[A-Z]\w* .*[.]$"
)

_PATTERN = re.compile(r"\(\?|\\[a-z]|\[[a-z0-9A-Z]")
"""Of a regular expression."""


def worded(text: str) -> bool:
    """Whether a text has two words in a row, a word beside a value, or is a capitalised word."""
    return not _PATTERN.search(text) and _WORDS.search(_UNITS.sub("", text)) is not None


_CODE = re.compile(r"^[a-z{][a-z0-9_{}-]*(\.[a-zA-Z0-9_{}.-]+)?(/[a-z0-9{}-]+)?$")


def is_code(text: str) -> bool:
    """Whether it may be a code, or part of one."""
    return _CODE.match(text) is not None


def code_pattern(text: str) -> re.Pattern[str]:
    """What a code with values in it may come to."""
    return re.compile(".+".join(map(re.escape, text.split(HOLE))))
