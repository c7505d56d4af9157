"""The examples in the docstrings of public names run and say what they say; the main names each have one."""

from __future__ import annotations

import doctest
import inspect
import re
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest

import mitertool as mt

WITHOUT = {"BadInput", "CannotMake", "MitertoolError", "Split", "__version__", "from_dxf"}
"""Names that come with others, or that take a file."""


def public() -> Iterator[tuple[str, object]]:
    """Every public name with what it stands for, also those in public modules."""
    for name in mt.__all__:
        value = getattr(mt, name)
        if not isinstance(value, ModuleType):
            yield name, value
            continue
        for inner in getattr(value, "__all__", ()) or ("cuts", "pieces"):
            if callable(getattr(value, inner)):
                yield f"{name}.{inner}", getattr(value, inner)


PUBLIC = dict(public())
MAIN = (set(PUBLIC) & set(mt.__all__)) - WITHOUT | {"frame.rectangle", "nest.solve", "batch.cuts", "batch.pieces"}


def examples(name: str) -> list[doctest.DocTest]:
    module = inspect.getmodule(PUBLIC[name])
    found = doctest.DocTestFinder(exclude_empty=True).find(PUBLIC[name], name, module, globs={"mt": mt})
    return [test for test in found if test.examples]


@pytest.mark.parametrize("name", sorted(MAIN))
def test_a_main_name_has_an_example(name: str) -> None:
    assert examples(name) != []


@pytest.mark.parametrize("name", sorted(name for name in PUBLIC if name != "__version__" and examples(name)))
def test_examples_are_true(name: str) -> None:
    said: list[str] = []
    runner = doctest.DocTestRunner(verbose=False)
    for test in examples(name):
        assert runner.run(test, out=said.append).failed == 0, "".join(said)


def test_the_example_of_the_readme_is_true() -> None:
    text = (Path(__file__).resolve().parents[1] / "README.md").read_text(encoding="utf-8")
    (block,) = re.findall(r"```python\n(.*?)```", text, re.DOTALL)
    said: list[str] = []
    test = doctest.DocTestParser().get_doctest(block, {}, "README.md", None, 0)
    assert len(test.examples) > 5
    assert doctest.DocTestRunner(verbose=False).run(test, out=said.append).failed == 0, "".join(said)
