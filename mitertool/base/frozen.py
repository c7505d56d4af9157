"""Values that never change, declared as with attrs, their classes made in a tenth of the time.

A command knows some 250 classes of values and makes values of half of them; writing, compiling and signing the methods
of each would take a quarter of a `check`. So what compares, hashes and shows a value is shared by all classes, and an
`__init__` is compiled when the first value is made. A type checker takes them for attrs classes, which they are like:
slots, converters, validators, `__attrs_post_init__`, `cached_property`; a class that is told of `super()` is not.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import cached_property, partial
from operator import attrgetter
from typing import TYPE_CHECKING, Any, Final, NamedTuple

NOTHING: Final = object()
"""In the place of a default that there is not."""


class FrozenField(NamedTuple):
    """What a class says of one of its fields; its name is filled in."""

    default: Any = NOTHING
    factory: Callable[[], Any] | None = None
    converter: Callable[[Any], Any] | None = None
    validator: Callable[[Any, Any, Any], None] | None = None
    init: bool = True
    eq: bool = True
    hash: bool | None = None
    repr: bool = True
    name: str = ""

    @property
    def given(self) -> str:
        """The name of the argument that gives it."""
        return self.name.lstrip("_")


_FIELDS: Final = "__frozen_fields__"
_COMPUTED: Final = "__frozen_computed__"
_GONE: Final = frozenset(("__dict__", "__weakref__"))
"""What a class with slots has anew."""

_set: Final = object.__setattr__


def fields(cls: type) -> Mapping[str, FrozenField]:
    """The fields of a frozen class by name, those of its bases first; of any other class none."""
    found: Mapping[str, FrozenField] = getattr(cls, _FIELDS, {})
    return found


def as_dict(value: object) -> dict[str, Any]:
    """The fields of a frozen value with what they hold."""
    return {name: getattr(value, name) for name in fields(type(value))}


def optional(check: Callable[[Any, Any, Any], None]) -> Callable[[Any, Any, Any], None]:
    """The same check of a value that may be None."""

    def checked(self: Any, one: Any, value: Any) -> None:
        if value is not None:
            check(self, one, value)

    return checked


if TYPE_CHECKING:
    from attrs import evolve as evolve
    from attrs import field as field
    from attrs import frozen as frozen
else:
    field = FrozenField

    def frozen(made=None, **how):
        """Make a class one of values that never change; `eq`, `repr`, `init`, `kw_only`, `slots` as with attrs."""
        return partial(_kept, **how) if made is None else _kept(made, **how)

    def evolve(value, /, **changes):
        """The value with some of its fields changed."""
        cls = value.__class__
        for name, one in getattr(cls, _FIELDS).items():
            if one.init and (given := one.given) not in changes:
                changes[given] = getattr(value, name)
        return cls(**changes)


def _kept(
    made: Any, eq: bool = True, repr: bool = True, init: bool = True, kw_only: bool = False, slots: bool = True
) -> Any:
    own = {name: _field(name, vars(made).get(name, NOTHING)) for name in _annotated(made)}
    every = {name: one for name, one in _inherited(made).items() if name not in own} | own
    parts = {name: part for name, part in _methods(every, eq, repr).items() if name not in vars(made)}
    kept = _slotted(made, own, parts) if slots else _open(made, own, parts)
    name = "__init__" if init else "__attrs_init__"
    setattr(kept, name, _first(kept, name, kw_only))
    return kept


def _annotated(made: type) -> Iterator[str]:
    return (name for name, kind in made.__annotations__.items() if "ClassVar" not in str(kind))


def _field(name: str, said: Any) -> FrozenField:
    return said._replace(name=name) if isinstance(said, FrozenField) else FrozenField(said, name=name)


def _inherited(made: type) -> dict[str, FrozenField]:
    found: dict[str, FrozenField] = {}
    for base in reversed(made.__mro__[1:]):
        for name, one in vars(base).get(_FIELDS, {}).items():
            found.pop(name, None)
            found[name] = one
    return found


def _slotted(made: Any, own: Mapping[str, FrozenField], parts: dict[str, Any]) -> Any:
    """The class anew with slots for its own fields and for what it computes once."""
    computed = {name: part.func for name, part in vars(made).items() if isinstance(part, cached_property)}
    body = {name: part for name, part in vars(made).items() if name not in own | computed.keys() | _GONE}
    taken = {slot for base in made.__mro__[1:] for slot in vars(base).get("__slots__", ())}
    slots = [name for name in (*own, *computed, "__weakref__") if name not in taken]
    if computed:
        every = {**getattr(made, _COMPUTED, {}), **computed}
        parts |= {_COMPUTED: every, "__getattr__": _getattr_of(every)}
    parts |= {"__slots__": tuple(slots), "__setstate__": _restored, "__qualname__": made.__qualname__}
    return type(made)(made.__name__, made.__bases__, body | parts)


def _open(made: Any, own: Mapping[str, FrozenField], parts: Mapping[str, Any]) -> Any:
    for name in own.keys() & vars(made).keys():
        delattr(made, name)
    for name, part in parts.items():
        setattr(made, name, part)
    return made


class _AsAttrs:
    """The fields of a class as attrs tells them, to whoever asks it."""

    def __get__(self, value: object, cls: type) -> Any:
        import attrs

        parts = ("converter", "validator", "init", "eq", "hash", "repr")
        every = {}
        for name, one in fields(cls).items():
            usual = attrs.NOTHING if one.default is NOTHING else one.default
            default = attrs.Factory(one.factory) if one.factory else usual
            every[name] = attrs.field(default=default, kw_only=True, **{part: getattr(one, part) for part in parts})
        return attrs.fields(attrs.make_class(cls.__name__, every))


_AS_ATTRS: Final = _AsAttrs()

# what all classes share


def _methods(every: Mapping[str, FrozenField], eq: bool, repr: bool) -> dict[str, Any]:
    match = tuple(name for name, one in every.items() if one.init)
    found: dict[str, Any] = {_FIELDS: every, "__match_args__": match, "__attrs_attrs__": _AS_ATTRS}
    found |= {"__setattr__": _refused, "__delattr__": _refused}
    if eq:
        compared = tuple(name for name, one in every.items() if one.eq)
        hashed = tuple(name for name, one in every.items() if (one.eq if one.hash is None else one.hash))
        found |= {"__eq__": _eq_of(_getter(compared)), "__hash__": _hash_of(_getter(hashed))}
    return found | {"__repr__": _shown} if repr else found


def _getter(names: tuple[str, ...]) -> Callable[[Any], Any]:
    return attrgetter(*names) if names else lambda _: ()


def _eq_of(get: Callable[[Any], Any]) -> Callable[[Any, Any], Any]:
    def equal(self: Any, other: Any) -> Any:
        return get(self) == get(other) if other.__class__ is self.__class__ else NotImplemented

    return equal


def _hash_of(get: Callable[[Any], Any]) -> Callable[[Any], int]:
    def hashed(self: Any) -> int:
        return hash((self.__class__, get(self)))

    return hashed


def _getattr_of(computed: Mapping[str, Callable[[Any], Any]]) -> Callable[[Any, str], Any]:
    """What a slot holds that is asked for the first time."""

    def found(self: Any, name: str) -> Any:
        if name not in computed:
            raise AttributeError(f"{type(self).__name__!r} object has no attribute {name!r}")
        value = computed[name](self)
        _set(self, name, value)
        return value

    return found


def _shown(self: Any) -> str:
    parts = (f"{name}={getattr(self, name)!r}" for name, one in fields(type(self)).items() if one.repr)
    return f"{type(self).__qualname__.rpartition('>.')[2]}({', '.join(parts)})"


def _refused(self: Any, name: str, *_: Any) -> None:
    raise AttributeError(f"a {type(self).__name__} never changes, nor its {name}")


def _restored(self: Any, state: Any) -> None:
    """What a copy or a pickle holds: by the protocol the values in slots, behind those in a `__dict__`."""
    for name, value in state[1].items():
        _set(self, name, value)


# the one method that is compiled


def _first(cls: Any, name: str, kw_only: bool) -> Callable[..., None]:
    """An `__init__` that puts a compiled one in its place."""

    def first(self: Any, /, *given: Any, **named: Any) -> None:
        made = _compiled(cls, name, kw_only)
        setattr(cls, name, made)
        made(self, *given, **named)

    return first


def _compiled(cls: Any, name: str, kw_only: bool) -> Callable[..., None]:
    space: dict[str, Any] = {"_set": _set, "_none": NOTHING}
    taken, done, checks = ["self", *(["*"] if kw_only else [])], list[str](), list[str]()
    for one in fields(cls).values():
        place = len(done)
        space |= {f"_{place}_{part}": getattr(one, part) for part in ("default", "factory", "converter", "validator")}
        if one.init:
            taken.append(one.given + _default(one, place))
        done.append(f"_set(self, {one.name!r}, {_value(one, place)})")
        if one.validator:
            space[f"_{place}"] = one
            checks.append(f"_{place}_validator(self, _{place}, self.{one.name})")
    last = ["self.__attrs_post_init__()"] if hasattr(cls, "__attrs_post_init__") else []
    body = "\n    ".join((*done, *checks, *last)) or "pass"
    exec(
        compile(f"def {name}({', '.join(taken)}):\n    {body}", f"<{cls.__module__}.{cls.__qualname__}>", "exec"), space
    )
    made: Callable[..., None] = space[name]
    made.__qualname__ = f"{cls.__qualname__}.{name}"
    return made


def _default(one: FrozenField, place: int) -> str:
    if one.factory:
        return "=_none"
    return "" if one.default is NOTHING else f"=_{place}_default"


def _value(one: FrozenField, place: int) -> str:
    made = f"_{place}_factory()" if one.factory else f"_{place}_default"
    value = (f"{made} if {one.given} is _none else {one.given}" if one.factory else one.given) if one.init else made
    return f"_{place}_converter({value})" if one.converter else value
