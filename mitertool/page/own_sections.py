"""Sections of the folder's own by name: of its jobs, of outlines drawn in it, of its profile files; knows job.

Such a section is called by its name and its file, as `STRAKE @ keel-jig/job.toml`, a drawn outline by its file alone.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from mitertool.base.errors import MitertoolError, UnknownName
from mitertool.base.letters import one_form
from mitertool.job.named import NamedSections
from mitertool.job.read import own_sections
from mitertool.page.folder import DRAWN, Folder, Written, written
from mitertool.page.shop import TextFile, named_inside
from mitertool.quantity.tables import read_toml
from mitertool.sections import Section, catalogue, profile_file
from mitertool.sections.own import from_dxf
from mitertool.words import phrase

_AT: Final = " @ "
"""Between the name of a section and its file."""

_MOST: Final = 12
"""Names that are offered at a time."""

_KEPT: Final = 64
"""Files whose sections are kept, each by when and how it was last written."""


def begun(folder: Folder, text: str) -> tuple[str, ...]:
    """Names that hold a text: the folder's own first, then those of the catalogue."""
    wanted = one_form(text.strip()).casefold()
    own = (name for name in _names(folder) if wanted in name.casefold())
    return (*itertools.islice(own, _MOST), *catalogue.begun(text))


def section_of(folder: Folder, name: str) -> Section:
    """The section of a name: one of the folder's own, or else the catalogue's.

    A name without its file serves where the catalogue has none of it and one file of the folder has. Raises `BadInput`
    as the catalogue does, and for a file that is not as it should be.
    """
    given = one_form(name.strip())
    own, at, file = given.rpartition(_AT)
    if at:
        return _of_file(folder, own, file.strip())
    if given.casefold().endswith(DRAWN):
        return _drawn(written(folder.file(given)))
    try:
        return catalogue.section(name)
    except UnknownName as error:
        meant = [one for one in _names(folder) if one.rpartition(_AT)[0] == given]
        if not meant:
            raise
        return section_of(folder, meant[0]) if len(meant) == 1 else _one_of(error, meant)


def _one_of(error: UnknownName, meant: list[str]) -> Section:
    raise UnknownName(error.what, error.found, phrase("refuse.nearest-names", names=", ".join(meant)), choices=meant)


def _names(folder: Folder) -> Iterator[str]:
    """All names of the folder's own sections; none of a file that cannot be read."""
    for kind in ("job", "profile"):
        for file in folder.files(kind):
            yield from (f"{own}{_AT}{file}" for own in _names_in(kind, written(folder.root / file)))
    yield from folder.drawings()


@lru_cache(maxsize=_KEPT)
def _names_in(kind: str, file: Written) -> tuple[str, ...]:
    try:
        if kind == "profile":
            return profile_file.read(file[0]).names
        return tuple(str(table.raw("name", "")) for table in read_toml(file[0]).tables("section"))
    except MitertoolError:
        return ()


def _of_file(folder: Folder, own: str, file: str) -> Section:
    path = folder.file(file)
    if file in folder.files("profile"):
        return _of_profile(written(path), own)
    text = TextFile.of(folder, file)
    drawn = named_inside(folder, text, read_toml(path, text.text.encode()).values, ("section",))
    found = _of_job(text, tuple(written(one) for one in drawn if one.is_file())).own
    if own not in found:
        raise _unknown(own, file, tuple(found))
    return found[own]


def _unknown(own: str, file: str, names: tuple[str, ...]) -> UnknownName:
    choices = tuple(f"{name}{_AT}{file}" for name in names)
    allowed = phrase("refuse.own-sections", names=", ".join(names), file=file)
    return UnknownName("section", f"{own}{_AT}{file}", allowed, choices=choices)


@lru_cache(maxsize=_KEPT)
def _of_job(text: TextFile, _drawn_at: tuple[Written, ...]) -> NamedSections:
    return own_sections(text.path, text.text.encode())


@lru_cache(maxsize=_KEPT)
def _of_profile(file: Written, own: str) -> Section:
    found = profile_file.read(file[0])
    if own not in found.names:
        raise _unknown(own, file[0].name, found.names)
    return found.make(found.names.index(own))


@lru_cache(maxsize=_KEPT)
def _drawn(file: Written) -> Section:
    return from_dxf(file[0])
