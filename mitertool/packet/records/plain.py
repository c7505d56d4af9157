"""The records that have no schema: of a section, a face, a corner, and the load of a blade."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from mitertool.sections.dimension import record_key

if TYPE_CHECKING:
    from mitertool.cut import Face
    from mitertool.frame import Corner, Landing
    from mitertool.saw import Reach
    from mitertool.sections import Section

Record = dict[str, Any]


def of_section(section: Section) -> Record:
    """A section by its figures."""
    return {
        "name": section.name,
        "shape": section.shape.word,
        "source": section.source,
        "width_mm": section.width,
        "height_mm": section.height,
        "area_mm2": section.area,
        "perimeter_mm": section.perimeter,
        "centroid_mm": list(section.centroid),
        "mass_per_metre_kg": section.mass_per_metre,
        "nominal_mass_per_metre_kg": section.nominal_mass_per_metre,
        "symmetry": sorted(section.symmetry),
        "rotation_deg": section.rotation,
        "turned": section.turned,
        "dimensions": {record_key(word): value for word, value in section.dimensions},
    }


def of_face(face: Face) -> Record:
    """A face by its figures."""
    return {
        "area_mm2": face.area,
        "perimeter_mm": face.perimeter,
        "width_mm": face.width,
        "height_mm": face.height,
        "largest_contact_mm": face.largest_contact,
        "thinnest_wall_mm": face.thinnest_wall,
    }


def of_corner(corner: Corner) -> Record:
    """A corner by its miters and seam."""
    return {
        "width_a_mm": corner.width_a,
        "width_b_mm": corner.width_b,
        "angle_deg": corner.angle,
        "miter_a_deg": corner.miter_a,
        "miter_b_deg": corner.miter_b,
        "seam_mm": corner.seam,
    }


def of_landing(landing: Landing) -> Record:
    """A landing by the cuts of both members, each also as it is rolled in a fixture."""
    cuts = zip(("before", "after"), (landing.before, landing.after), landing.fixtures, strict=True)
    told = {
        key: {"miter_deg": cut.miter, "bevel_deg": cut.bevel, "fixture_roll_deg": roll, "fixture_swing_deg": swing}
        for key, cut, (roll, swing) in cuts
    }
    return {**told, "between_deg": landing.between, "twist_deg": landing.twist}


def of_load(reach: Reach) -> Record | None:
    """The load of the blade over its travel; None where the saw file has no arm that fits the bar."""
    passage = reach.passage
    if passage is None:
        return None
    at = f"position_{passage.arm.unit}"
    return {
        "smallest_mm": passage.smallest,
        "jumps": [{at: jump.position, "before_mm": jump.before, "after_mm": jump.after} for jump in passage.jumps],
        "chart": [{at: s.position, "contact_mm": s.contact, "walls": s.walls} for s in passage.samples()],
    }
