"""What a DXF R2010 file has besides its entities: header, tables, objects; knows the DXF reference, no library.

Only what a reader needs to open the model: every table with the records that are used, and the objects that the
reference asks for. A whole set of an editor's own styles and settings would be more than most sketches are.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

import attrs

from mitertool.base.totals import summed
from mitertool.drawing.dxf_tags import number, rgb, template
from mitertool.drawing.explode import ARROW, GAP, OVERRUN
from mitertool.drawing.layers import Layer

MODEL: Final = "17"
"""The handle of the block record of the model, which owns every entity in it."""

FIRST_FREE: Final = 0x30
"""The first handle that nothing of the shell has."""

LETTERING: Final = "lettering"
"""The text style of dimensions."""

_KINDS: Final = ("ByBlock", "ByLayer", "Continuous")
"""The kinds of line that every file has."""

_PAPER: Final = "1B"
"""The handle of the block record of the paper."""

DECIMALS: Final = 2
"""Decimals of a measured value that a viewer writes by itself, zeros at the end left out."""

_WEIGHTS: Final = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211)
"""Hundredths of a mm: the widths of lines that the format knows (group code 370)."""

Box = tuple[float, float, float, float]
"""What is shown, left, low, right, high, in mm of the model."""


@attrs.frozen
class AskedFor:
    """What entities name: layers, text styles with their files, dimension styles with their lettering and its scale."""

    layers: Sequence[Layer]
    styles: Mapping[str, str]
    dimension_styles: Mapping[str, tuple[float, float]]


_HEADER: Final = template(
    "0 SECTION|2 HEADER|9 $ACADVER|1 AC1024|9 $DWGCODEPAGE|3 ANSI_1252|{title}|9 $INSBASE|10 0.0|20 0.0|30 0.0|"
    "9 $EXTMIN|10 {left}|20 {low}|30 0.0|9 $EXTMAX|10 {right}|20 {high}|30 0.0|"
    "9 $HANDSEED|5 {seed}|9 $MEASUREMENT|70 1|9 $INSUNITS|70 4|9 $LWDISPLAY|290 1|0 ENDSEC|0 SECTION|2 CLASSES|"
    "0 CLASS|1 ACDBDICTIONARYWDFLT|2 AcDbDictionaryWithDefault|3 ObjectDBX Classes|90 0|91 0|280 0|281 0|"
    "0 CLASS|1 ACDBPLACEHOLDER|2 AcDbPlaceHolder|3 ObjectDBX Classes|90 0|91 0|280 0|281 0|"
    "0 CLASS|1 LAYOUT|2 AcDbLayout|3 ObjectDBX Classes|90 0|91 0|280 0|281 0|0 ENDSEC"
)
_TITLE: Final = template("9 $CUSTOMPROPERTYTAG|1 Title|9 $CUSTOMPROPERTY|1 {title}")

_TABLE: Final = template("0 TABLE|2 {name}|5 {handle}|330 0|100 AcDbSymbolTable|70 {count}")
_VIEW: Final = template(
    "0 VPORT|5 2F|330 8|100 AcDbSymbolTableRecord|100 AcDbViewportTableRecord|2 *Active|70 0|10 0.0|20 0.0|11 1.0|"
    "21 1.0|12 {x}|22 {y}|13 0.0|23 0.0|14 0.5|24 0.5|15 0.5|25 0.5|16 0.0|26 0.0|36 1.0|17 0.0|27 0.0|37 0.0|"
    "40 {tall}|41 1.34|42 50.0|43 0.0|44 0.0|50 0.0|51 0.0|71 0|72 1000|73 1|74 3|75 0|76 0|77 0|78 0|281 0|65 1|"
    "110 0.0|120 0.0|130 0.0|111 1.0|121 0.0|131 0.0|112 0.0|122 1.0|132 0.0|79 0|146 0.0"
)
_LINE_KIND: Final = template(
    "0 LTYPE|5 {handle}|330 2|100 AcDbSymbolTableRecord|100 AcDbLinetypeTableRecord|2 {name}|70 0|3 |72 65|"
    "73 {count}|40 {whole}"
)
_DASH: Final = template("49 {length}|74 0")
_LAYER: Final = template(
    "0 LAYER|5 {handle}|330 1|100 AcDbSymbolTableRecord|100 AcDbLayerTableRecord|2 {name}|70 0|62 7|{grey}|"
    "6 {line}|370 {weight}|390 13"
)
_PLAIN_LAYER: Final = template(
    "0 LAYER|5 27|330 1|100 AcDbSymbolTableRecord|100 AcDbLayerTableRecord|2 0|70 0|62 7|6 Continuous|370 -3|390 13"
)
_GREY: Final = template("420 {rgb}")
_STYLE: Final = template(
    "0 STYLE|5 {handle}|330 5|100 AcDbSymbolTableRecord|100 AcDbTextStyleTableRecord|2 {name}|70 0|40 0.0|41 1.0|"
    "50 0.0|71 0|42 2.5|3 {file}|4 "
)
_PROGRAM: Final = template("0 APPID|5 2A|330 3|100 AcDbSymbolTableRecord|100 AcDbRegAppTableRecord|2 ACAD|70 0")
_DIMENSION_STYLE: Final = template(
    "0 DIMSTYLE|105 {handle}|330 4|100 AcDbSymbolTableRecord|100 AcDbDimStyleTableRecord|2 {name}|70 0|40 {scale}|"
    "41 {arrow}|42 {gap}|43 3.75|44 {overrun}|45 0.0|46 0.0|47 0.0|48 0.0|140 {letters}|141 2.5|142 0.0|144 1.0|"
    "146 1.0|147 {gap}|71 0|72 0|73 0|74 0|75 0|76 0|77 1|78 8|79 2|170 0|171 {decimals}|172 1|173 0|174 0|175 0|"
    "179 {decimals}|271 {decimals}|272 {decimals}|277 2|278 46|280 0|281 0|282 0|283 0|284 8|288 0|289 3|"
    "340 {style}|371 -2|372 -2"
)
_DIMENSION_STYLES: Final = template("100 AcDbDimStyleTable")
_PLAIN_DIMENSION_STYLE: Final = template(
    "0 DIMSTYLE|105 2B|330 4|100 AcDbSymbolTableRecord|100 AcDbDimStyleTableRecord|2 Standard|70 0"
)
_BLOCK_RECORD: Final = template(
    "0 BLOCK_RECORD|5 {handle}|330 9|100 AcDbSymbolTableRecord|100 AcDbBlockTableRecord|2 {name}|340 {layout}|70 0|"
    "280 1|281 0"
)
_BLOCK: Final = template(
    "0 BLOCK|5 {handle}|330 {record}|100 AcDbEntity|8 0|100 AcDbBlockBegin|2 {name}|70 {flag}|10 0.0|20 0.0|30 0.0|"
    "3 {name}|1 "
)
_BLOCK_END: Final = template("0 ENDBLK|5 {handle}|330 {record}|100 AcDbEntity|8 0|100 AcDbBlockEnd")
_SECTION: Final = template("0 SECTION|2 {name}")
ENTITIES: Final = _SECTION.format(name="ENTITIES")
"""Before the entities of the model; behind them comes `END`."""

END: Final = template("0 ENDSEC")
_TABLE_END: Final = template("0 ENDTAB")
_FILE_END: Final = template("0 EOF")

_OBJECTS: Final = template(
    "0 DICTIONARY|5 A|330 0|100 AcDbDictionary|281 1|3 ACAD_GROUP|350 C|3 ACAD_LAYOUT|350 D|"
    "3 ACAD_PLOTSTYLENAME|350 12|0 DICTIONARY|5 C|330 A|100 AcDbDictionary|281 1|0 DICTIONARY|5 D|330 A|"
    "100 AcDbDictionary|281 1|3 Model|350 1A|3 Layout1|350 1E|0 ACDBDICTIONARYWDFLT|5 12|330 A|100 AcDbDictionary|"
    "281 1|3 Normal|350 13|100 AcDbDictionaryWithDefault|340 13|0 ACDBPLACEHOLDER|5 13|330 12"
)
_LAYOUT: Final = template(
    "0 LAYOUT|5 {handle}|330 D|100 AcDbPlotSettings|1 |4 A3|6 |40 7.5|41 20.0|42 7.5|43 20.0|44 420.0|45 297.0|"
    "46 0.0|47 0.0|48 0.0|49 0.0|140 0.0|141 0.0|142 1.0|143 1.0|70 {flags}|72 1|73 0|74 5|7 |75 16|76 0|77 2|"
    "78 300|147 1.0|148 0.0|149 0.0|100 AcDbLayout|1 {name}|70 1|71 {order}|10 0.0|20 0.0|11 420.0|21 297.0|"
    "12 0.0|22 0.0|32 0.0|14 {left}|24 {low}|34 0.0|15 {right}|25 {high}|35 0.0|146 0.0|13 0.0|23 0.0|33 0.0|"
    "16 1.0|26 0.0|36 0.0|17 0.0|27 1.0|37 0.0|76 1|330 {record}"
)


def header(title: str, box: Box, seed: int) -> str:
    """Header and classes; `seed` is the first handle that nothing in the file has."""
    told = _TITLE.format(title=title) if title else ""
    return _HEADER.format(title=told, seed=f"{seed:X}", **_sides(box))


def tables(named: AskedFor, blocks: Mapping[str, str], box: Box, handles: Iterator[str]) -> str:
    """All tables; `blocks` are the handles of the records of anonymous blocks by their names."""
    styles = {name: next(handles) for name in named.styles}
    line_kinds = (_line_kind(layer, next(handles)) for layer in named.layers if layer.dashes)
    plain = (_LINE_KIND.format(handle=f"2{4 + i}", name=name, count=0, whole="0.0") for i, name in enumerate(_KINDS))
    dimensions = (
        _dimension_style(name, letters, styles[LETTERING], scale, next(handles))
        for name, (letters, scale) in named.dimension_styles.items()
    )
    own = (_STYLE.format(handle=styles[name], name=name, file=file) for name, file in named.styles.items())
    return "".join(
        (
            _SECTION.format(name="TABLES"),
            _table("VPORT", "8", [_view(box)]),
            _table("LTYPE", "2", [*plain, *line_kinds]),
            _table("LAYER", "1", [_PLAIN_LAYER, *(_layer(layer, next(handles)) for layer in named.layers)]),
            _table("STYLE", "5", [_STYLE.format(handle="29", name="Standard", file="txt"), *own]),
            _table("VIEW", "7", []),
            _table("UCS", "6", []),
            _table("APPID", "3", [_PROGRAM]),
            _table("DIMSTYLE", "4", [_PLAIN_DIMENSION_STYLE, *dimensions], _DIMENSION_STYLES),
            _table("BLOCK_RECORD", "9", list(_block_records(blocks))),
            END,
        )
    )


def blocks_section(blocks: Mapping[str, tuple[str, str]], handles: Iterator[str]) -> str:
    """The blocks of model and paper, whose entities stand elsewhere, and those given: record and entities by name."""
    own = (
        _block(name, record, (next(handles), next(handles)), 1, entities) for name, (record, entities) in blocks.items()
    )
    spaces = (_block("*Model_Space", MODEL, ("18", "19")), _block("*Paper_Space", _PAPER, ("1C", "1D")))
    return "".join((_SECTION.format(name="BLOCKS"), *spaces, *own, END))


def objects(box: Box) -> str:
    """The dictionaries, and the layouts of model and paper; the file ends behind them."""
    sides = _sides(box)
    model = _LAYOUT.format(handle="1A", name="Model", flags=1024, order=0, record=MODEL, **sides)
    none = {"left": "1e+20", "low": "1e+20", "right": "-1e+20", "high": "-1e+20"}
    paper = _LAYOUT.format(handle="1E", name="Layout1", flags=0, order=1, record=_PAPER, **none)
    return "".join((_SECTION.format(name="OBJECTS"), _OBJECTS, model, paper, END, _FILE_END))


def _sides(box: Box) -> dict[str, str]:
    return dict(zip(("left", "low", "right", "high"), map(number, box), strict=True))


def _table(name: str, handle: str, records: Sequence[str], more: str = "") -> str:
    head = _TABLE.format(name=name, handle=handle, count=len(records))
    return "".join((head, more, *records, _TABLE_END))


def _view(box: Box) -> str:
    """The window that a viewer opens on: all that is shown and a little more."""
    x0, y0, x1, y1 = box
    tall = max(y1 - y0, x1 - x0, 1.0) * 1.1
    return _VIEW.format(x=number((x0 + x1) / 2), y=number((y0 + y1) / 2), tall=number(tall))


def _line_kind(layer: Layer, handle: str) -> str:
    signed = [length if place % 2 == 0 else -length for place, length in enumerate(layer.dashes)]
    head = _LINE_KIND.format(handle=handle, name=layer.name, count=len(signed), whole=number(summed(layer.dashes)))
    return head + "".join(_DASH.format(length=number(length)) for length in signed)


def _layer(layer: Layer, handle: str) -> str:
    """A layer that shows black on white and white on black, or grey; its width is the nearest that the format knows."""
    weight = min(_WEIGHTS, key=lambda known: abs(known - 100.0 * layer.weight))
    grey = _GREY.format(rgb=rgb(layer.grey)) if layer.grey else ""
    line = layer.name if layer.dashes else "Continuous"
    return _LAYER.format(handle=handle, name=layer.name, grey=grey, line=line, weight=weight)


def _dimension_style(name: str, letters: float, style: str, scale: float, handle: str) -> str:
    sizes = {"scale": scale, "arrow": ARROW, "gap": GAP, "overrun": OVERRUN, "letters": letters}
    shown = {key: number(size) for key, size in sizes.items()}
    return _DIMENSION_STYLE.format(handle=handle, name=name, style=style, decimals=DECIMALS, **shown)


def _block_records(blocks: Mapping[str, str]) -> Iterator[str]:
    spaces = {"*Model_Space": (MODEL, "1A"), "*Paper_Space": (_PAPER, "1E")}
    each = {**spaces, **{name: (handle, "0") for name, handle in blocks.items()}}
    yield from (_BLOCK_RECORD.format(name=n, handle=handle, layout=layout) for n, (handle, layout) in each.items())


def _block(name: str, record: str, handles: tuple[str, str], flag: int = 0, entities: str = "") -> str:
    begins = _BLOCK.format(handle=handles[0], record=record, name=name, flag=flag)
    return f"{begins}{entities}{_BLOCK_END.format(handle=handles[1], record=record)}"
