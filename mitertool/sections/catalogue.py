"""The catalogue: finds a section by the name that a mill tag or a drawing gives it."""

from __future__ import annotations

import itertools
import os
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache, lru_cache
from pathlib import Path
from typing import Any, Final

import attrs
from platformdirs import user_data_path

from mitertool.base.errors import BadInput, UnknownName
from mitertool.base.names import either, nearest
from mitertool.base.totals import summed
from mitertool.sections.designation import Designation, parse
from mitertool.sections.profile_file import ProfileFile, read
from mitertool.sections.section import Section, Shape
from mitertool.words import phrase

_NEAR: Final = 5
_WALLS: Final = 12
"""Names that are told where one is not known, and at most where all of them begin with what was typed."""

_FIRST_CHOICE: Final[Mapping[str, str]] = {"SHS": "en10219", "RHS": "en10219", "CHS": "en10219"}
"""A bare hollow-section name is the cold-formed one."""


@attrs.frozen
class Entry:
    """A row of the catalogue: its section as it was named, its file, and which row of it."""

    section: Section
    file: ProfileFile
    index: int

    @property
    def row(self) -> Mapping[str, Any]:
        """The row as typed, by column."""
        return self.file.row(self.index)


def section(name: str) -> Section:
    """The section called `name`, from the catalogue.

    Raises `UnknownName` with the nearest names, or with the choices where the name is ambiguous.

    >>> mt.section("RHS 80x40x3")
    <Section RHS 80x40x3: 40 x 80 mm>
    """
    return find(name).section


def find(name: str) -> Entry:
    """The catalogue row called `name`; same errors as `section`."""
    if not isinstance(name, str) or not name.strip():
        raise BadInput("section", name, phrase("refuse.no-section"))
    wanted = parse(name)
    files = _files_for(wanted)
    for reading in range(_READINGS):
        found = [entry for file in files for entry in _matches(file, wanted, reading)]
        if found:
            return _one_of(name, found)
    raise _unknown(name, wanted)


def families() -> Mapping[str, tuple[ProfileFile, ...]]:
    """Every family with its files."""
    by_family: dict[str, tuple[ProfileFile, ...]] = {}
    for path in profile_paths():
        file = _read(path)
        by_family[file.family] = (*by_family.get(file.family, ()), file)
    return by_family


def profile_paths() -> tuple[Path, ...]:
    """All files of the catalogue: the ones that ship, then the shop's own."""
    return tuple(path for folder in _folders() for path in sorted(folder.glob("*.toml")))


def shipped_folder() -> Path:
    """Where the shipped files are: beside the package in a checkout, inside it in an installation."""
    package = Path(__file__).resolve().parent.parent
    beside = package.parent / "profiles"
    return beside if (package.parent / "pyproject.toml").is_file() and beside.is_dir() else package / "profiles"


def _folders() -> Iterator[Path]:
    yield shipped_folder()
    named = os.environ.get("MITERTOOL_PROFILES")
    if named:
        yield Path(named)
    else:
        yield user_data_path("mitertool", appauthor=False) / "profiles"


@cache
def _read(path: Path) -> ProfileFile:
    return read(path)


def _files_for(wanted: Designation) -> list[ProfileFile]:
    words = wanted.words | ({"pipe"} if wanted.words & {"sch", "std", "xs", "xxs"} else set())
    return [_read(path) for path in profile_paths() if path.stem.partition("-")[0].casefold() in words]


def _matches(file: ProfileFile, wanted: Designation, reading: int) -> Iterator[Entry]:
    if wanted.unit not in ("", file.unit) and file.family != "PIPE":
        return
    if wanted.standard and wanted.standard not in _plain(file.standard):
        return
    numbers = _read_as(reading, file.shape, wanted.numbers)
    index = file.by_key.get(Designation(wanted.words | {file.family.casefold()}, numbers))
    if index is not None:
        yield _entry(file, index, turned=reading == _OTHER_WAY)


_READINGS: Final = 3
_AS_WRITTEN, _SQUARE, _OTHER_WAY = range(_READINGS)
"""A name is first read as written, then with one number for two equal sides, then with the sides changed."""


def _read_as(reading: int, shape: Shape, numbers: tuple[float, ...]) -> tuple[float, ...]:
    """The numbers that a row must have; none where the shape cannot be named in this way."""
    if reading == _AS_WRITTEN:
        return numbers
    if reading == _SQUARE:
        return (numbers[0], *numbers) if shape.one_for_both and len(numbers) == 2 else ()
    return (numbers[1], numbers[0], *numbers[2:]) if shape.either_way and len(numbers) >= 2 else ()


def _entry(file: ProfileFile, index: int, turned: bool) -> Entry:
    made = file.make(index)
    if turned:
        made = made.lay(270, turned=True)
    if _bare_name_is_of_another(file, index):
        made = attrs.evolve(made, name=f"{made.name} {_short(file.standard)}")
    return Entry(made, file, index)


def _bare_name_is_of_another(file: ProfileFile, index: int) -> bool:
    """Whether the name alone means a bar of another standard, so that this one must keep its own."""
    if _is_first_choice(file) or file.family not in _FIRST_CHOICE:
        return False
    family = _files_for(Designation(frozenset({file.family.casefold()}), ()))
    return any(_is_first_choice(other) and file.names[index] in other.names for other in family)


def _is_first_choice(file: ProfileFile) -> bool:
    return _FIRST_CHOICE.get(file.family, " ") in _plain(file.standard)


def _short(standard: str) -> str:
    """A standard without its part and year: "EN 10210" of "EN 10210-2:2006"."""
    return re.split(r"[-:]", standard, maxsplit=1)[0]


def _one_of(name: str, found: Sequence[Entry]) -> Entry:
    if len(found) == 1:
        return found[0]
    for entry in found:
        if _is_first_choice(entry.file):
            return entry
    choices = [f"{e.section.name} {_choice_words(e, found)}" for e in found]
    raise UnknownName("section", name, phrase("refuse.may-be", names=either(choices)), choices=choices)


def _choice_words(entry: Entry, found: Sequence[Entry]) -> str:
    units = {other.file.unit for other in found}
    return entry.file.unit if len(units) > 1 else entry.file.standard


def _unknown(name: str, wanted: Designation) -> UnknownName:
    known = families()
    own = [f for f in known if f.casefold() in wanted.words]
    names = [n for f in own or known for file in known[f] for n in file.names]
    like = _near_sizes(wanted, names) if own or (wanted.numbers and not wanted.words) else nearest(name, names)
    hint = phrase("refuse.nearest-names", names=", ".join(like)) if like else _families(known)
    return UnknownName("section", name, hint, choices=like)


def _families(known: Iterable[str]) -> str:
    return phrase("refuse.families", families=", ".join(sorted(known)))


def _near_sizes(wanted: Designation, names: Sequence[str]) -> tuple[str, ...]:
    """Names whose numbers are nearest to the wanted ones: first those that begin with them, then as many numbers.

    Where that does not tell names apart a hollow section goes first, then the smaller numbers. Of those that begin with
    them there are more: as many as there are usual walls.
    """

    def distance(name: str) -> tuple[bool, bool, float, bool, tuple[float, ...]]:
        known = parse(name)
        numbers, asked = known.numbers, wanted.numbers
        apart = summed(abs(a - b) / (a + b or 1.0) for a, b in zip(numbers, asked, strict=False))
        hollow = any(family.casefold() in known.words for family in _FIRST_CHOICE)
        return numbers[: len(asked)] != asked, len(numbers) != len(asked), apart, not hollow, numbers

    found = tuple(dict.fromkeys(sorted(names, key=distance)))
    begun_so = sum(not distance(name)[0] for name in found[:_WALLS]) if wanted.numbers else 0
    return found[: max(begun_so, _NEAR)]


def _plain(standard: str) -> str:
    return "".join(c for c in standard.casefold() if c.isalnum())


def begun(text: str, most: int = 12) -> tuple[str, ...]:
    """Names that begin with a text, then those that hold it, spaces and capitals aside; else the nearest to it."""
    wanted = _typed(text)
    names = _names(profile_paths())
    first = [name for typed, name in names if typed.startswith(wanted)]
    holding = [name for typed, name in names if wanted in typed and not typed.startswith(wanted)]
    found = tuple(itertools.islice(dict.fromkeys((*first, *holding)), most))
    return found or _unknown(text, parse(text)).choices


def _typed(text: str) -> str:
    return "".join(text.split()).casefold()


@lru_cache(maxsize=4)
def _names(paths: tuple[Path, ...]) -> tuple[tuple[str, str], ...]:
    """Every name of these files, as it is compared and as it is written."""
    return tuple((_typed(name), name) for path in paths for name in _read(path).names)


def like(numbers: str) -> tuple[Entry, ...]:
    """Rows whose name holds the numbers of a text such as "80x40" in this order, from any family and standard."""
    wanted = parse(numbers)
    return tuple(
        _entry(file, index, turned=False)
        for files in families().values()
        for file in files
        for index, name in enumerate(file.names)
        if _holds(parse(name).numbers, wanted.numbers) and wanted.words <= {file.family.casefold()}
    )


def listed(family: str) -> tuple[Entry, ...]:
    """All rows of a family. Raises `UnknownName` with the families."""
    known = families()
    name = next((f for f in known if f.casefold() == family.strip().casefold()), None)
    if name is None:
        choices = sorted(known)
        raise UnknownName("family", family, _families(known), choices=choices)
    return tuple(_entry(file, i, turned=False) for file in known[name] for i in range(len(file.names)))


def _holds(numbers: tuple[float, ...], wanted: tuple[float, ...]) -> bool:
    span = len(wanted)
    return bool(wanted) and any(numbers[i : i + span] == wanted for i in range(len(numbers) - span + 1))
