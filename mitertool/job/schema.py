"""The JSON Schema of a job file, made of the reader's own lists of keys, so that editors complete and check it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final

from mitertool.frame.braces import ENDS, POINT
from mitertool.frame.joints import KINDS
from mitertool.frame.polygons import REGULAR_SIZES
from mitertool.frame.rectangles import CORNERS, THROUGH
from mitertool.job import frames, pieces, rack, read
from mitertool.piece import AT, POSES
from mitertool.quantity import UNITS
from mitertool.quantity import schema as kind
from mitertool.quantity.schema import Schema
from mitertool.sections import shapes

_LAY: Final[Schema] = {
    "type": ["number", "string"],
    "pattern": r"\S",
    "description": "How it lies: degrees counter-clockwise seen with the feed, or a word for angle or channel.",
    "examples": [90, "toes up", "heel up"],
}

_DXF_UNIT: Final = kind.choice(
    ("mm", "in"), "The unit of the drawing, where the file itself states none; it must not gainsay the file."
)
_DXF_LAYER: Final = kind.text("The layer of the drawing that is read; all of them where it is not given.")

_LESS_THAN_90: Final = {"exclusiveMinimum": -90, "exclusiveMaximum": 90}

_CUT_KEYS: Final[Mapping[str, Schema]] = {
    "miter": kind.angle("Degrees from square, positive with the long point on the moving side.", **_LESS_THAN_90),
    "bevel": kind.angle("Degrees from upright, positive with the long point at the top.", **_LESS_THAN_90),
    "slope": kind.text("Rise and run of the cut, such as 3:12.", pattern=r"^[^,:]*[0-9][^,:]*:[^,:]*[0-9][^,:]*$"),
    "from_bar": kind.angle("Degrees between blade and bar, 90 for a square cut.", exclusiveMinimum=0, maximum=90),
    "long": kind.choice(("moving", "fixed"), "Which side has the long point of a cut given by from_bar."),
    "corner": kind.angle(
        "The angle inside the corner of two equal members; each takes half.", exclusiveMinimum=0, maximum=180
    ),
}


_MEETS: Final = kind.length("How far from the fixed side, at half the height, the plane meets that of the first cut.")

_FURTHER_KEYS: Final[Mapping[str, Schema]] = {
    **_CUT_KEYS,
    "meets": {
        "anyOf": [_MEETS, kind.several(kind.length("From the fixed side, and above the bed."), 2, 2)],
        "description": "Where its plane meets that of the first cut: from the fixed side, or [from the fixed side, "
        "above the bed]; the middle of the section if not given.",
    },
}


def _end(end: str) -> Schema:
    """The ways in which an end may be given: as one cut, or as a list."""
    says = f"The {end} cut: degrees from square, or a text, or a table that gives it one way"
    many = (
        f"{says}; or a list of cuts, the steel inside all of them: the first parts the bar, the others are cut after."
    )
    first, further = _cut(_CUT_KEYS), _cut(_FURTHER_KEYS)
    listed = {"type": "array", "prefixItems": [{"anyOf": first}], "items": {"anyOf": further}, "minItems": 1}
    examples = [22.5, "3:12", "60 from bar", "90 corner", [45, {"miter": -45, "meets": 20}]]
    return {"anyOf": [*first, listed], "description": many, "examples": examples}


def _cut(keys: Mapping[str, Schema]) -> list[Schema]:
    """A cut as a number or a text, or as a table of these keys."""
    one_way = kind.apart("miter", "slope", "from_bar", "corner")
    more = {"dependentRequired": {"long": ["from_bar"]}, "dependentSchemas": one_way}
    written = kind.angle("Degrees from square, or rise:run, or such as 60 from bar, or 90 corner.", **_LESS_THAN_90)
    return [written, kind.table(keys, (), "A cut that is given one way.", **more)]


def _quantity(says: str, least: int = 1) -> Schema:
    return kind.count(f"{says}; 1 where it is not given.", least)


_SECTION_NAME: Final = "As the mill tag names it, or a name of this job's own sections."
_GRADE: Final = "The material, such as S355; pieces and bars of different grades never mix."
_MARK: Final = kind.text("The name on drawing and sheet; no two alike.", maxLength=pieces.LONGEST_MARK)


def _dimension(key: str) -> Schema:
    """A dimension that one or several shapes have, each with its own words for it."""
    ones = [one for one in shapes.dimensions() if one.key == key]
    says = " ".join(one.says for one in ones)
    if ones[0].kind == "word":
        return kind.choice(ones[0].words, says)
    if ones[0].kind == "angle":
        return kind.angle(says, exclusiveMinimum=0, maximum=ones[0].most)
    if ones[0].kind == "percent":
        return kind.number(says, minimum=0)
    return kind.positive_length(says) if ones[0].kind == "length" else kind.length_from_zero(says)


WORDS: Final[Mapping[str, Mapping[str, Schema]]] = {
    "job": {
        "name": kind.text("What the job is called; it stands on every page."),
        "revision": kind.printed("The revision, printed as it is written here."),
        "date": kind.printed("The day of the job, printed as it is written here."),
        "customer": kind.printed("Whom the job is for."),
        "units": kind.choice(UNITS, "How bare lengths in this file are meant, and how lengths are printed."),
        "saw": kind.text("The shop's saw file, from this file's folder; without one angles are degrees from square."),
        "tolerance": kind.printed("The general tolerance, such as ISO 13920-B, printed as it is written here."),
    },
    "section": {
        "name": kind.text("The name by which stock, pieces and frames of this job call the section."),
        "shape": kind.choice(
            (*shapes.words(), "dxf"), "The family of the section, or dxf for an outline from a drawing."
        ),
        "as_measured": kind.text("A catalogue size, of which some dimensions below are as they were measured."),
        "file": kind.text("The DXF file with the outline, from this file's folder."),
        "layer": _DXF_LAYER,
        "units": _DXF_UNIT,
        **{key: _dimension(key) for key in dict.fromkeys(one.key for one in shapes.dimensions())},
    },
    "stock": {
        "section": kind.text(_SECTION_NAME),
        "grade": kind.text(_GRADE),
        "length": kind.positive_length("The length of a bar."),
        "quantity": kind.count("How many such bars there are; as many as needed where it is not given.", 0),
        "cost": kind.number("What a bar costs; its length counts where no cost is given.", minimum=0),
    },
    "piece": {
        "mark": _MARK,
        "section": kind.text(_SECTION_NAME),
        "grade": kind.text(_GRADE),
        "length": kind.length_from_zero("The length, measured as `at` says."),
        "at": kind.choice(AT, "Where the length is measured; to the long point if not given."),
        "left": _end("left"),
        "right": _end("right"),
        "quantity": _quantity("How many as drawn", 0),
        "opposite": kind.count("How many of the opposite hand; none where it is not given.", 0),
        "lay": _LAY,
        "out": kind.text("Which face shows, printed as it is written here."),
        "turn": kind.several(kind.choice(POSES, "The ways the piece may lie on a bar; all if none is given."), 0),
    },
    "frame": {
        "mark": _MARK,
        "shape": kind.choice(frames.SHAPES, "What kind of frame it is."),
        "section": kind.one_or_several(kind.text(f"{_SECTION_NAME} One for all sides, or a list.")),
        "grade": kind.text(_GRADE),
        "quantity": _quantity("How many such frames"),
        "lay": _LAY,
        **{word.key: kind.choice(word.allowed, word.says) for word in shapes.frame_words()},
        "root_gap": kind.length_from_zero("The gap left open in each joint for the weld."),
        "measured": kind.choice(shapes.tape_words(), "Which line of the members the sizes are measured on."),
        "corners": kind.one_or_several(
            kind.choice(dict.fromkeys((*CORNERS, *KINDS)), "How the members meet: one word for all corners, or a list.")
        ),
        "through": kind.choice(THROUGH, "Which sides run through where the corners of a rectangle are butted."),
        "width": kind.positive_length("The width of a rectangle."),
        "height": kind.positive_length("The height of a rectangle; of an infill the plumb distance of its rails."),
        "sides": kind.count("How many sides a regular polygon has.", 3),
        "side": kind.positive_length("The length of a side of a regular polygon."),
        "across_flats": kind.positive_length("The size of a regular polygon: twice its inscribed radius."),
        "across_corners": kind.positive_length("The size of a regular polygon: twice its circumscribed radius."),
        "points": kind.several(kind.several(kind.length("The corners, each [x, y]."), 2, 2), 2),
        "lengths": kind.several(kind.positive_length("The sides of a polygon, one after the other."), 3),
        "angles": kind.several(kind.angle("The angle inside after each side; the last may be left out."), 2),
        "closed": kind.flag("false where the members do not come back to where they began."),
        "deduct": kind.length_from_zero("What is taken off each free end of an open frame."),
        "file": kind.text("The DXF file with the frame's lines, from this file's folder."),
        "layer": _DXF_LAYER,
        "line": kind.choice(shapes.tape_words(), "Which line of the members is drawn."),
        "units": _DXF_UNIT,
        "node": kind.positive_length("How near two ends of lines must lie to be one corner; 0.5 mm if not given."),
        "inside_width": kind.positive_length("The width between the posts that a brace from corner to corner joins."),
        "inside_height": kind.positive_length("The height between the rails that a brace from corner to corner joins."),
        "rise": kind.positive_length("How far a brace rises between the middles of its cuts."),
        "run": kind.positive_length("How far a brace runs between the middles of its cuts."),
        "legs": kind.several(kind.positive_length("Of a knee brace: along the beam, and down the post."), 2, 2),
        "ends": kind.one_or_several(
            kind.choice((*ENDS, POINT), "How a brace's ends are cut: one word, or the lower and the upper end.")
        ),
        "opening": kind.positive_length("The level distance between the posts of an infill."),
        "clear_most": kind.positive_length("The greatest clear gap between the uprights of an infill."),
        "rake": kind.angle("Degrees at which the rails of an infill rise.", exclusiveMinimum=-85, exclusiveMaximum=85),
    },
    "nest": {
        "kerf": kind.length_from_zero("The width that the blade takes; goes before the saw file's."),
        "trim": kind.length_from_zero("What the first cut of a bar takes off the raw end at least; 0 if not given."),
        "grip": kind.length_from_zero("What the vise must hold of a bar; goes before the saw file's."),
        "wedge_least": kind.length_from_zero("The thinnest offcut wanted between two cuts; 0 if not given."),
    },
}
"""Every key of a job file by its table: what it means, and how its value is written."""

_SIZES: Final[Mapping[str, Schema]] = {
    "rectangle": {
        "required": ["width", "height", "measured"],
        "properties": {"corners": {"enum": list(CORNERS)}},
    },
    "polygon": {
        "required": ["measured"],
        "dependentRequired": {"lengths": ["angles"]},
        "dependentSchemas": {
            "sides": kind.exactly_one(*REGULAR_SIZES),
            "deduct": {"required": ["closed"], "properties": {"closed": {"const": False}}},
        },
        **kind.exactly_one("sides", "points", "lengths"),
    },
    "drawing": {"required": ["file", "line"], "properties": {"deduct": False}},
    "brace": {
        "dependentRequired": {"inside_width": ["inside_height", "ends"], "rise": ["run", "ends"]},
        **kind.exactly_one("inside_width", "rise", "legs"),
    },
    "infill": {"required": ["opening", "height", "clear_most"]},
}
"""What each shape of frame asks for."""


_KERF: Final[Schema] = {
    "if": {"required": ["stock"]},
    "then": {
        "anyOf": [
            {"properties": {"job": {"required": ["saw"]}}},
            {"properties": {"nest": {"required": ["kerf"]}}, "required": ["nest"]},
        ]
    },
}
"""A job with stock gets its kerf from a saw file or says it."""


def schema() -> Schema:
    """The schema of a job file."""
    made = {
        "format": kind.file_format(),
        "job": kind.table(_words("job", read.HEAD), ("name",), "The job itself."),
        "section": kind.tables(_section()),
        "stock": kind.tables(_stock()),
        "piece": kind.tables(_piece()),
        "frame": kind.tables(_frame()),
        "nest": kind.table(_words("nest", read.NEST), (), "What the saw takes of a bar besides the pieces."),
    }
    some: Schema = {"anyOf": [{"required": ["piece"]}, {"required": ["frame"]}]}
    says = "A job: pieces and frames, and the bars they are cut from. Bare lengths are in the units of [job]."
    return kind.document("mitertool job file", {key: made[key] for key in read.TABLES}, ("job",), says, **some, **_KERF)


def _words(table: str, keys: Iterable[str]) -> dict[str, Schema]:
    return {key: WORDS[table][key] for key in keys}


def _stock() -> Schema:
    says = "Bars to cut from; one table each length."
    return kind.table(_words("stock", read.STOCK), ("section", "length"), says)


def _piece() -> Schema:
    says = "A mark: a length of bar with its two cuts, and how many; one table each."
    return kind.table(_words("piece", pieces.KEYS), ("mark", "section", "length"), says)


def _section() -> Schema:
    """A section of the job's own: a catalogue size as measured, an outline, or a shape with its dimensions."""
    measured = ("name", "as_measured", *rack.measurable())
    drawn = ("name", "shape", *rack.DRAWN)
    made = [kind.where("shape", "dxf", {**_only(drawn), "required": ["file"]})]
    for word in shapes.words():
        given = shapes.of(word).dimensions
        keys = ("name", "shape", *(one.key for one in given))
        needed = [one.key for one in given if one.needed]
        made.append(kind.where("shape", word, {**_only(keys), "required": needed}))
    every = dict.fromkeys((*measured, *drawn, *(one.key for one in shapes.dimensions())))
    return kind.table(
        _words("section", every),
        ("name",),
        "A section of the shop's own, or a catalogue size as measured; one table each.",
        **{"if": {"required": ["as_measured"]}, "then": {**_only(measured), "minProperties": 3}},
        **{"else": {"required": ["shape"]}, "allOf": made},
    )


def _frame() -> Schema:
    shapes = [
        kind.where("shape", shape, {**_only((*frames.COMMON, *keys)), **_SIZES[shape]})
        for shape, (keys, _) in frames.SHAPES.items()
    ]
    every = dict.fromkeys((*frames.COMMON, *(key for keys, _ in frames.SHAPES.values() for key in keys)))
    says = "A frame by its shape and sizes; its pieces are marked MARK-1, MARK-2 and so on. One table each."
    return kind.table(_words("frame", every), ("mark", "shape", "section"), says, allOf=shapes)


def _only(keys: Iterable[str]) -> Schema:
    return {"propertyNames": {"enum": list(keys)}}
