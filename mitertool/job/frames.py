"""A [[frame]] table of a job to a solved assembly; knows its keys and frame."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Final

import attrs

from mitertool import geometry
from mitertool.base.errors import BadInput
from mitertool.frame import Assembly, Joint, Resolution, laid, outlines, planar, rectangle
from mitertool.frame.braces import POINT, corner_to_corner, knee, rise_and_run
from mitertool.frame.branches import OnRun, branch
from mitertool.frame.corner_bars import corner_bars
from mitertool.frame.corner_work import CornerWork
from mitertool.frame.depths import depth_notes
from mitertool.frame.elbows import Straights, elbow
from mitertool.frame.holes import drilled
from mitertool.frame.hoppers import CORNER_BARS, Sizes, hopper
from mitertool.frame.in_space import Named
from mitertool.frame.infills import infill
from mitertool.frame.inside import SPACED, Diagonal, Fill, Spaced, filled, opening_of
from mitertool.frame.joints import FIRST_THROUGH, KINDS, MITER, SECOND_THROUGH
from mitertool.frame.leaves import GAPS, HINGED, Doorway
from mitertool.frame.polygons import REGULAR_SIZES, by_sides_and_angles, regular
from mitertool.frame.rails import Held, along_flights, rail
from mitertool.frame.wyes import wye
from mitertool.geometry.dxf_units import other_units
from mitertool.job.frame_keys import FRAME, FRAME_WORDS
from mitertool.job.model import FrameOrder
from mitertool.job.named import NamedSections
from mitertool.job.orders import PieceOrder
from mitertool.job.particulars import Particulars
from mitertool.job.pieces import lay_of, of_frame
from mitertool.quantity import Units
from mitertool.quantity.keys import Values, exact
from mitertool.quantity.problem import Remark, lengths
from mitertool.quantity.tables import Table
from mitertool.sections import Section
from mitertool.sections.grades import density
from mitertool.words import phrase


@attrs.frozen
class Shop:
    """What reading a frame needs besides its table: the sections, the job's folder and units, what the floor reads."""

    sections: NamedSections
    folder: Path
    resolution: Resolution
    units: Units


def frame_order(table: Table, shop: Shop) -> tuple[FrameOrder, tuple[PieceOrder, ...]]:
    """The frame that a [[frame]] table asks for, and the marks of its pieces."""
    said = FRAME.read(table)
    with table.place():
        opening = _opening(said)
        sizes = {"width": opening.leaf_width, "height": opening.leaf_height} if opening else {}
        assembly = _solved({**said, **sizes}, shop)
        assembly = _finished(assembly, said, shop)
        assembly = drilled(assembly, said["holes"]) if "holes" in said else assembly
        assembly = attrs.evolve(assembly, notes=(*assembly.notes, *_cut_tight(assembly, said)))
        if opening:
            assembly = attrs.evolve(assembly, notes=(*opening.sums(), *_hung(opening, said), *assembly.notes))
    each, drawn, image = said.get("quantity", 1), opening.drawn if opening else 1, opening.image if opening else 0
    hinges = HINGED[0] if opening else ""
    order = FrameOrder(
        assembly, each * (drawn + image), Particulars.taken(said), each * image, hinges=hinges, opening=opening
    )
    worked = _worked(said, shop).ends(assembly)
    return order, tuple(of_frame(order, said.get("grade", ""), _lies(said), worked))


def _finished(assembly: Assembly, said: Values, shop: Shop) -> Assembly:
    """The frame with the notes of what is worked at its corners. Raises `BadInput` for an allowance that none takes."""
    needs = next((key for key in ("cope", "notch", "cap") if key in said), None)
    is_open = len(assembly.joints) < len(assembly.order)
    if needs and all(joint.kind == MITER for joint in assembly.joints) and not (needs == "cap" and is_open):
        found = said[needs] if needs == "notch" else exact(said[needs])
        raise BadInput(needs, found, phrase("refuse.only-butted"))
    work = _worked(said, shop)
    notes = (*assembly.notes, *depth_notes(assembly), *work.notes(assembly))
    return attrs.evolve(assembly, notes=notes, caps=work.capped(assembly))


def _cut_tight(assembly: Assembly, said: Values) -> Iterator[Remark]:
    """That bars inside meet without the gap that the corners have, where nobody asked for one."""
    gaps = [one.get("gap", 0.0) for one in said.get("inside", ())]
    if not all(gaps) and any(joint.gap for joint in assembly.joints):
        yield Remark("note.inside-tight", (), "others" if any(gaps) else "")


def _opening(said: Values) -> Doorway | None:
    """The opening that a frame is to stand in; None where it gives its own sizes."""
    if "opening_width" not in said:
        return None
    gaps = {name: said[f"{name}_gap"] for name in GAPS if f"{name}_gap" in said}
    width = {"own": said.get("leaf_width"), "other": said.get("other_leaf"), "hinged": said.get("hinged", "")}
    return Doorway(said["opening_width"], said["opening_height"], **gaps, leaves=said.get("leaves", 1), **width)


def _hung(opening: Doorway, said: Values) -> Iterator[Remark]:
    """How high above the ground the top of a sloping leaf hangs at its hinges, where it is drawn left, and opposite."""
    if "right_height" in said:
        leaf, floor = said["right_height"], opening.floor
        yield Remark(
            "note.leaf-hung", lengths(hinge=opening.leaf_height + floor, latch=leaf + floor, leaf=leaf, floor=floor)
        )


def _solved(said: Values, shop: Shop) -> Assembly:
    """The frame of a shape, with the bars inside it."""
    if said["shape"] in outlines.WORDS:
        return _outlined(said, shop)
    assembly = _SOLVERS[said["shape"]](said, shop)
    fills = _fills(said, shop)
    return filled(assembly, opening_of(assembly), fills, shop.resolution) if fills else assembly


def _outlined(said: Values, shop: Shop) -> Assembly:
    outline, sections = outlines.of(said["shape"]), _sections(said, shop.sections)
    drawn = outline.drawn(said, sections)
    around = None
    if drawn.corners:
        sides = outlines.one_a_side(sections, drawn.roles, len(outline.roles))
        around = outlines.Around(sides, said["measured"], _joints(said, sides, shop, bends=drawn.bends))
    named = Named(said["mark"], shop.resolution)
    return outlines.solved(said["shape"], drawn, around, named, _fills(said, shop))


def _fills(said: Values, shop: Shop) -> tuple[Fill, ...]:
    """The bars inside, of the first section of the frame where they name none."""
    return tuple(_fill({"section": said["section"][0], **one}, said, shop) for one in said.get("inside", ()))


def _fill(one: Values, said: Values, shop: Shop) -> Fill:
    grade = one.get("grade", said.get("grade", ""))
    section = lay_of(one, shop.sections.named(one["section"], "section")).of_density(density(grade))
    more = {key: one[key] for key in ("bays", "gap", "shortest", "grade") if key in one}
    return Fill(_bars(one, section), **more)


def _bars(one: Values, section: Section) -> Spaced | Diagonal:
    if one["bars"] in SPACED:
        return Spaced(one["bars"], section, one.get("clear_most"), one.get("count"), one.get("at", ()))
    lower, upper = one.get("ends", (POINT, POINT))
    return Diagonal(section, one.get("rising", "right"), (lower, upper), one.get("crossing", ""))


def _lies(said: Values) -> Mapping[str, str]:
    """The words by which the sections of the frame lie, by their keys."""
    return {key: said[key] for key in FRAME_WORDS if key in said}


def _rectangle(said: Values, shop: Shop) -> Assembly:
    return rectangle(
        _sections(said, shop.sections),
        said["width"],
        said["height"],
        said["measured"],
        said.get("root_gap", 0.0),
        said["mark"],
        shop.resolution,
        said.get("corners", "miter"),
        said.get("through", "width"),
        _worked(said, shop),
    )


def _polygon(said: Values, shop: Shop) -> Assembly:
    return _planar(said, shop, _lines(said), said["measured"])


def _drawing(said: Values, shop: Shop) -> Assembly:
    file = shop.folder / said["file"]
    drawn = geometry.read_polygon(file, said.get("layer"), said.get("node", 0.5), said.get("units"))
    solved = _planar(said, shop, drawn.corners, said["line"])
    notes = () if "units" in said else other_units(drawn.unit, file.name, shop.units)
    return attrs.evolve(solved, notes=(*notes, *solved.notes))


def _planar(said: Values, shop: Shop, lines: Sequence[complex], measured: str) -> Assembly:
    closed = said.get("closed", True)
    count = len(lines) if closed else len(lines) - 1
    sections = _sections(said, shop.sections)
    sides = sections * count if len(sections) == 1 else sections
    joints = _joints(said, sides, shop, closed)
    deduct = (said.get("deduct", 0.0) + (0.0 if closed else said.get("cap", 0.0)),) * 2
    return planar(said["shape"], lines, sides, measured, joints, closed, said["mark"], shop.resolution, deduct)


def _brace(said: Values, shop: Shop) -> Assembly:
    section, mark = _sections(said, shop.sections)[0], said["mark"]
    if "legs" in said:
        run, rise = said["legs"]
        return knee(section, run, rise, mark, shop.resolution)
    if "rise" in said:
        return rise_and_run(section, said["rise"], said["run"], said["ends"], mark, shop.resolution)
    wide, high = said["inside_width"], said["inside_height"]
    return corner_to_corner(section, wide, high, said["ends"], mark, shop.resolution)


def _infill(said: Values, shop: Shop) -> Assembly:
    return infill(
        _sections(said, shop.sections)[0],
        said["opening"],
        said["height"],
        said["clear_most"],
        said.get("rake", 0.0),
        said["mark"],
        shop.resolution,
    )


def _hopper(said: Values, shop: Shop) -> Assembly:
    sizes = Sizes(said["bottom"], said["top"], said.get("height"))
    named = Named(said["mark"], shop.resolution)
    if said.get("members") == CORNER_BARS:
        return corner_bars(_one(said, shop), said["sides"], sizes, said["measured"], said.get("against", "both"), named)
    made_of = said["thickness"] if "thickness" in said else _sections(said, shop.sections)
    return hopper(made_of, said["sides"], sizes, said["measured"], named)


def _rail(said: Values, shop: Shop) -> Assembly:
    held = Held(said.get("tops", "up"), tuple(said.get("ends", ("square", "square"))), shop.resolution.rolls)
    named = Named(said["mark"], shop.resolution)
    section = _one(said, shop)
    nodes = said["nodes"] if "nodes" in said else along_flights(said["flights"])
    return rail(nodes, section, said.get("closed", False), said.get("roll", 0.0), held, named)


def _bend(said: Values, shop: Shop) -> Assembly:
    named = Named(said["mark"], shop.resolution)
    run = Straights(said.get("tangents", (0.0, 0.0)), said.get("offset"), said.get("ends"))
    return elbow(_one(said, shop), said["radius"], said["angle"], said["cuts"], run, named)


def _wye(said: Values, shop: Shop) -> Assembly:
    named = Named(said["mark"], shop.resolution)
    return wye(_one(said, shop), said["between"], said["trunk"], said["arms"], named)


def _branch(said: Values, shop: Shop) -> Assembly:
    on = OnRun(said["length"], said.get("between", 90.0), said.get("passes", 0.0))
    run = shop.sections.named(said["on"], "on")
    return branch(_one(said, shop), run, on, Named(said["mark"], shop.resolution))


def _one(said: Values, shop: Shop) -> Section:
    """The one section that all members of a shape have. Raises `BadInput` for none, and for more."""
    if "section" not in said:
        raise BadInput("section", phrase("found.none"), phrase("refuse.bars-section"))
    section, *more = _sections(said, shop.sections)
    if more:
        raise BadInput(
            "section", phrase("found.sections", count=len(more) + 1), phrase("refuse.one-section", shape=said["shape"])
        )
    return section


_SOLVERS: Final[Mapping[str, Callable[[Values, Shop], Assembly]]] = {
    "rectangle": _rectangle,
    "polygon": _polygon,
    "drawing": _drawing,
    "brace": _brace,
    "infill": _infill,
    "hopper": _hopper,
    "rail": _rail,
    "bend": _bend,
    "wye": _wye,
    "branch": _branch,
}


def _lines(said: Values) -> tuple[complex, ...]:
    """The measured corners of a polygon: regular, by points, or by sides and angles."""
    if "points" in said:
        corners: tuple[complex, ...] = said["points"]
        return corners
    if "lengths" in said:
        return by_sides_and_angles(said["lengths"], said["angles"], said.get("closed", True))
    (size,) = (name for name in REGULAR_SIZES if name in said)
    return regular(said["sides"], size, said[size])


def _worked(said: Values, shop: Shop) -> CornerWork:
    """What is worked at the corners after the saw. Raises `BadInput` for a notch in other than angle, heel out."""
    thickness = None
    if "notch" in said:
        if said.get("heel") != "out":
            raise BadInput("notch", said["notch"], phrase("refuse.notch"))
        thickness = max(dict(section.dimensions)["thickness"] for section in _sections(said, shop.sections))
    return CornerWork(
        thickness=thickness, **{key: said[key] for key in ("cope", "cap", "bevel", "length_to") if key in said}
    )


def _joints(
    said: Values, sides: Sequence[Section], shop: Shop, closed: bool = True, bends: Sequence[int] = ()
) -> list[Joint]:
    """One joint a corner: a list of words, or one word for all but `bends`, which are mitered."""
    count = len(sides) if closed else len(sides) - 1
    given = said.get("corners", "miter")
    words = {"miter": MITER, "butt": FIRST_THROUGH, **{kind: kind for kind in KINDS}}
    kinds = given if isinstance(given, list) else [MITER if i in bends else given for i in range(count)]
    if len(kinds) != count or any(not isinstance(kind, str) or kind not in words for kind in kinds):
        allowed = phrase("refuse.corners", miter=MITER, first=FIRST_THROUGH, second=SECOND_THROUGH, count=count)
        raise BadInput("corners", given, allowed)
    worked, gap = _worked(said, shop), said.get("root_gap", 0.0)
    met = (sides[i if words[kind] == FIRST_THROUGH else (i + 1) % len(sides)] for i, kind in enumerate(kinds))
    return [worked.joint(words[kind], gap, side.width) for kind, side in zip(kinds, met, strict=True)]


def _sections(said: Values, known: NamedSections) -> list[Section]:
    grade, words = density(said.get("grade", "")), _lies(said)
    lying = (lay_of(said, known.named(name, "section")) for name in said["section"])
    needs = said["shape"] not in ("brace", "infill", "hopper", "rail")
    return [(laid(section, **words) if needs or words else section).of_density(grade) for section in lying]
