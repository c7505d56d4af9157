"""A frozen class is as attrs makes it of the same words: what it takes, refuses, compares, shows, computes once."""

from __future__ import annotations

import ast
import copy
import pickle
from collections.abc import Callable
from functools import cached_property
from pathlib import Path
from typing import Any, ClassVar

import attrs
import pytest

from mitertool.base import frozen as house

Maker = Callable[..., Any]
MADE: list[tuple[Maker, Maker]] = [(house.frozen, house.field), (attrs.frozen, attrs.field)]
TIMES: list[str] = []


def positive(_: object, one: Any, value: float) -> None:
    if value <= 0:
        raise ValueError(f"{one.name} {value}")


def classes(frozen: Maker, field: Maker) -> tuple[Any, Any]:
    @frozen
    class Base:
        """A base."""

        unit: ClassVar[str] = "mm"
        size: float = field(converter=float, validator=positive)
        _hidden: str = "h"

        @cached_property
        def double(self) -> float:
            TIMES.append("double")
            return 2 * self.size

    @frozen
    class Further(Base):
        parts: list[int] = field(factory=list, eq=False)
        known: dict[str, int] = field(factory=dict, init=False, eq=False, repr=False)

        def __attrs_post_init__(self) -> None:
            self.known["parts"] = len(self.parts)

    return Base, Further


@pytest.fixture(params=MADE, ids=["house", "attrs"])
def made(request: pytest.FixtureRequest) -> tuple[Any, Any]:
    return classes(*request.param)


def test_what_it_takes(made: tuple[Any, Any]) -> None:
    base, further = made
    one = further("3", hidden="x", parts=[1, 2])
    assert (one.size, one._hidden, one.parts, one.known, one.unit) == (3.0, "x", [1, 2], {"parts": 2}, "mm")
    assert further(3).parts is not further(3).parts
    assert base(1)._hidden == "h"
    for wrong in ({}, {"size": 1, "other": 2}, {"size": 1, "known": {}}):
        with pytest.raises(TypeError, match="__init__"):
            further(**wrong)
    with pytest.raises(ValueError, match="size -1"):
        base(-1)


def test_it_never_changes(made: tuple[Any, Any]) -> None:
    one = made[0](1)
    for change in (lambda: setattr(one, "size", 2), lambda: delattr(one, "size"), lambda: setattr(one, "new", 1)):
        with pytest.raises(AttributeError):
            change()
    with pytest.raises(AttributeError, match="new"):
        _ = one.new
    assert not hasattr(one, "__dict__")


def test_what_compares_and_shows_it(made: tuple[Any, Any]) -> None:
    base, further = made
    assert further(1, parts=[1]) == further(1, parts=[2]) != further(2)
    assert base(1) != further(1)
    assert hash(further(1, parts=[1])) == hash(further(1.0))
    assert len({further(1), further(1), further(2), base(1)}) == 3
    assert repr(further(1)).endswith("Further(size=1.0, _hidden='h', parts=[])")
    match further(1, "x"):
        case further(size, hidden):
            assert (size, hidden) == (1.0, "x")


def test_it_is_computed_once(made: tuple[Any, Any]) -> None:
    TIMES.clear()
    one = made[1](4)
    assert (one.double, one.double, TIMES) == (8.0, 8.0, ["double"])


def test_attrs_knows_it(made: tuple[Any, Any]) -> None:
    one = made[1](4, parts=[3])
    assert attrs.evolve(one, hidden="y") == made[1](4, "y")
    assert [field.name for field in attrs.fields(type(one))] == ["size", "_hidden", "parts", "known"]
    assert attrs.asdict(one) == {"size": 4.0, "_hidden": "h", "parts": [3], "known": {"parts": 1}}


def test_another_with_some_of_it_changed() -> None:
    base, further = classes(house.frozen, house.field)
    one = further(4, "x", [3])
    assert house.evolve(one, size=5) == further(5, "x")
    assert house.evolve(one, size=5).parts is one.parts
    assert house.as_dict(base(1)) == {"size": 1.0, "_hidden": "h"}
    assert dict(house.fields(int)) == {}
    with pytest.raises(TypeError, match="other"):
        house.evolve(one, other=1)


def test_a_field_may_be_called_as_an_argument_of_the_house() -> None:
    @house.frozen
    class One:
        value: int
        cls: int = 2
        name: int = 3

    assert house.evolve(One(1), value=4, cls=5) == One(4, 5)


@house.frozen
class Kept:
    """One that a module has, which is what a pickle asks for."""

    size: float
    parts: tuple[int, ...] = ()

    @cached_property
    def double(self) -> float:
        return 2 * self.size


def test_a_copy_and_a_pickle() -> None:
    one = Kept(2.0, (1,))
    assert one.double == 4.0
    for again in (copy.copy(one), copy.deepcopy(one), pickle.loads(pickle.dumps(one))):
        assert again == one
        assert again.double == 4.0


def test_options_stand_open_and_by_name_only() -> None:
    @house.frozen(kw_only=True, slots=False, eq=False, repr=False)
    class One:
        a: int = 1

    @house.frozen(kw_only=True, slots=False, eq=False, repr=False)
    class Two:
        b: int

    @house.frozen(kw_only=True, slots=False, eq=False, repr=False)
    class Both(One, Two):
        c: int = 3

    assert vars(Both(b=2)) == {"b": 2, "a": 1, "c": 3}
    assert Both(b=2) != Both(b=2)
    with pytest.raises(TypeError):
        Both(1, 2, 3)  # type: ignore[misc]


def test_a_class_has_nothing_compiled_before_its_first_value() -> None:
    base, _ = classes(house.frozen, house.field)
    before = base.__init__
    base(1)
    assert base.__init__ is not before
    assert base.__init__.__qualname__.endswith("Base.__init__")


def test_no_frozen_class_says_super() -> None:
    """`super()` means the class as it was written, and one with slots is made anew."""
    package = Path(house.__file__).parents[1]
    for path in package.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef) and any("frozen" in ast.unparse(one) for one in node.decorator_list):
                assert "super()" not in ast.unparse(node), f"{path}: {node.name}"
