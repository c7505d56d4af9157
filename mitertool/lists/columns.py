"""Which column of a list holds what: by its heading, or as the job says it; what is not understood is asked for."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import either, nearest
from mitertool.lists.cells import CellRow, letter
from mitertool.lists.keys import COLUMNS
from mitertool.words import phrase

_HEADINGS: Final[Mapping[str, str]] = {
    "mark": "mark;piece mark;part mark;pos;position;item;item no;part;part no;part number;piece;id;no;tag;label;member",
    "section": "section;profile;size;profil;querschnitt",
    "grade": "grade;material;steel;steel grade;quality;mat;werkstoff;güte",
    "length": "length;len;l;lg;cut length;finished length;länge;laenge;gesamtlänge",
    "length at long-point": "long point;length long point;long point length;lp;length lp;long side;longest;"
    "lange seite;längste linie",
    "length at short-point": "short point;length short point;short point length;sp;length sp;short side;"
    "kurze seite;kürzeste linie",
    "length at overall": "overall;overall length;length overall;tip to tip;length tip to tip;oal;"
    "länge über alles;über alles;spitze zu spitze;von spitze zu spitze",
    "length at centerline": "centerline;centreline;center line;centre line;length centerline;cl;axis length",
    "at": "at;measured;measured at;length at;measured to",
    "left": "left;left end;left angle;angle left;angle l;end 1;angle 1;end a;angle a;miter 1;left miter;cut 1;"
    "winkel links;winkel l;winkel 1;gehrung links",
    "right": "right;right end;right angle;angle right;angle r;end 2;angle 2;end b;angle b;miter 2;right miter;cut 2;"
    "winkel rechts;winkel r;winkel 2;gehrung rechts",
    "left_bevel": "left bevel;bevel left;bevel 1;bevel a",
    "right_bevel": "right bevel;bevel right;bevel 2;bevel b",
    "angles": "angles;angle from;angles from;measured from",
    "quantity": "quantity;qty;count;pcs;pieces;no off;off;menge;anzahl;stück;stk",
    "opposite": "opposite;opposite hand;opp;oh;opposite qty;mirrored",
    "hand": "hand",
    "units": "units;unit;uom;einheit",
    "lay": "lay;lies",
    "out": "out;face out;outside",
}
"""Usual headings by what they head: common practice, no source."""

_HEADS: Final[Mapping[str, str]] = {
    heading: what for what, headings in _HEADINGS.items() for heading in headings.split(";")
}
"""What each of them heads."""

_NOT_READ: Final = (
    "remark;remarks;note;notes;comment;comments;weight;mass;weight kg;total weight;drawing;dwg;rev;date;"
    "bemerkung;bemerkungen;anmerkung;notiz;gewicht;masse;zeichnung;datum"
)
"""Headings of what no cut asks for; told as not read."""

_UNIT: Final = re.compile(
    r"""^(?P<name>.*?)\s*[(\[,/]?\s*\b(?P<unit>mm|cm|m|in|inch|inches|ft|feet)\b\.?\s*[)\]]?$""", re.I
)
_UNITS: Final = {"inch": "in", "inches": "in", "feet": "ft"}
_ENOUGH: Final = 2
"""Headings that are understood in a row of headings."""

_LOOKED_AT: Final = 30


@attrs.frozen
class ListColumn:
    """A column that is read: what it holds, where it stands, its heading, and what that says of all its cells."""

    key: str
    number: int
    heading: str = ""
    unit: str = ""
    at: str = ""

    def cell(self, row: int) -> str:
        """How a spreadsheet calls its cell of a row."""
        return f"{letter(self.number)}{row}"


@attrs.frozen
class Columns:
    """The columns that are read, by what they hold, the row of their headings (0: none), and headings not read."""

    read: Mapping[str, ListColumn]
    header: int
    not_read: tuple[str, ...] = ()


def columns_of(rows: Sequence[CellRow], said: Mapping[str, Any]) -> Columns:
    """What the columns of a list hold. Raises `BadInput` with the list's own headings and the nearest."""
    header = _header(rows, said)
    headings = {i: " ".join(str(cell).split()) for i, cell in enumerate(header.cells if header else ()) if cell}
    found = dict(_said(said.get("columns", {}), headings))
    taken = {column.number for column in found.values()}
    ignored = {_place(name, headings) for name in said.get("ignore", ())}
    others: list[str] = []
    for number, heading in headings.items():
        if number not in taken and number not in ignored:
            column = _understood(heading, number)
            if column and column.key not in found:
                found[column.key] = column
            elif column or _plain(heading) not in _NOT_READ.split(";"):
                raise _not_understood(column, heading, number, found)
            else:
                others.append(heading)
    _needed(found, headings, said)
    dropped = [headings[number] for number in sorted(ignored & set(headings))]
    return Columns(found, header.number if header else 0, (*others, *dropped))


def _header(rows: Sequence[CellRow], said: Mapping[str, Any]) -> CellRow | None:
    if "header" in said:
        number = said["header"]
        found = next((row for row in rows if row.number == number), None)
        if number and found is None:
            raise BadInput("header", number, phrase("list.empty-header"))
        return found
    named = {_plain(name) for name in said.get("columns", {}).values()}
    for row in rows[:_LOOKED_AT]:
        texts = [cell for cell in row.cells if isinstance(cell, str) and cell]
        known = [one for one in texts if _plain(one) in named or _understood(one, 0)]
        if len(known) >= _ENOUGH:
            return row
    if len(named) >= _ENOUGH and all(re.fullmatch("[a-z]{1,2}", name) for name in named):
        return None
    shown = ", ".join(str(cell) for cell in (rows[0].cells if rows else ()) if cell) or phrase("found.nothing")
    raise BadInput("header", shown, phrase("list.no-header", wanted="mark, length"))


def _said(columns: Mapping[str, str], headings: Mapping[int, str]) -> Iterator[tuple[str, ListColumn]]:
    for key, name in columns.items():
        number = _place(name, headings)
        heading = headings.get(number, "")
        yield key, ListColumn(key, number, heading, *_in_heading(heading)[1:])


def _place(name: str, headings: Mapping[int, str]) -> int:
    """The column that a job names by its heading, or by its letter where no heading reads so."""
    same = [number for number, heading in headings.items() if _plain(heading) == _plain(name)]
    if len(same) == 1:
        return same[0]
    if not same and re.fullmatch("[A-Za-z]{1,2}", name):
        number = 0
        for one in name.upper():
            number = number * 26 + ord(one) - ord("A") + 1
        return number - 1
    like = ", ".join(nearest(name, headings.values(), 3) or headings.values())
    raise BadInput("columns", name, phrase("list.two-alike" if same else "list.no-such-heading", headings=like))


def _plain(heading: str) -> str:
    """A heading without its unit, its dots and what sets letters apart."""
    name = _in_heading(heading)[0]
    return " ".join(re.sub(r"[.:_#°*-]+", " ", name.casefold()).split())


def _in_heading(heading: str) -> tuple[str, str, str]:
    """Name, unit and place of a heading such as "Tip to tip (mm)"."""
    match = _UNIT.fullmatch(re.sub(r"[(\[](deg|degrees|°)[)\]]", "", heading).strip())
    name, unit = (match["name"], match["unit"].lower()) if match and match["name"] else (heading, "")
    name = re.sub(r"[(\[](deg|degrees|°)[)\]]", "", name).strip()
    plain = " ".join(re.sub(r"[.:_#°*-]+", " ", name.casefold()).split())
    _length, at, place = _HEADS.get(plain, "").partition("length at ")
    return name, _UNITS.get(unit, unit), place if at else ""


def _understood(heading: str, number: int) -> ListColumn | None:
    plain = _plain(heading)
    key = _HEADS.get(plain)
    if key is None:
        return None
    return ListColumn(key.partition(" ")[0], number, heading, *_in_heading(heading)[1:])


def _not_understood(column: ListColumn | None, heading: str, number: int, found: Mapping[str, ListColumn]) -> BadInput:
    """A heading that means nothing here, or the same as one before it."""
    if column:
        same = found[column.key]
        return BadInput("column", heading, phrase("list.heading-twice", other=same.heading, key=column.key))
    like = dict.fromkeys(_HEADS[word].partition(" ")[0] for word in nearest(_plain(heading), _HEADS, 3))
    keys = list(like or COLUMNS)
    asked = {"column": letter(number), "keys": either(keys), "key": keys[0], "heading": heading}
    return BadInput("column", heading, phrase("list.heading-unknown", **asked))


def _needed(found: Mapping[str, ListColumn], headings: Mapping[int, str], said: Mapping[str, Any]) -> None:
    for key in ("mark", "length", "section"):
        if key not in found and key not in said:
            shown = ", ".join(headings.values())
            raise BadInput(
                "columns", shown, phrase("list.column-needed", key=key, says=phrase(f"key.list-column.{key}"))
            )
