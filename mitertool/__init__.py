"""mitertool: exact miter geometry for structural sections, from a frame drawing to a cut sheet."""

from mitertool.base.doors import door

TYPE_CHECKING = False
if TYPE_CHECKING:
    from mitertool import frame, nest
    from mitertool.base.errors import BadInput, CannotMake, MitertoolError, UnknownName
    from mitertool.cut.cut import Cut
    from mitertool.cut.ends import Further
    from mitertool.cut.face import Face
    from mitertool.frame.corners import corner
    from mitertool.frame.elbows import bend
    from mitertool.frame.hoppers import hopper_cut
    from mitertool.frame.rails import rail
    from mitertool.packet.pictures import svg
    from mitertool.piece import batch
    from mitertool.piece.parting import Split, split
    from mitertool.piece.piece import Piece
    from mitertool.saw.saw import Saw
    from mitertool.sections.catalogue import section
    from mitertool.sections.own import from_dxf
    from mitertool.sections.section import Section
    from mitertool.sections.shapes.angle import angle
    from mitertool.sections.shapes.channel import channel
    from mitertool.sections.shapes.flat import flat
    from mitertool.sections.shapes.i_section import i_section
    from mitertool.sections.shapes.rect_tube import rect_tube
    from mitertool.sections.shapes.round_bar import round_bar
    from mitertool.sections.shapes.round_tube import round_tube
    from mitertool.sections.shapes.tee import tee
    from mitertool.sections.shapes.z import z_section

__version__ = "0.1.0"

__all__ = [
    "BadInput",
    "CannotMake",
    "Cut",
    "Face",
    "Further",
    "MitertoolError",
    "Piece",
    "Saw",
    "Section",
    "Split",
    "UnknownName",
    "__version__",
    "angle",
    "batch",
    "bend",
    "channel",
    "corner",
    "flat",
    "frame",
    "from_dxf",
    "hopper_cut",
    "i_section",
    "nest",
    "rail",
    "rect_tube",
    "round_bar",
    "round_tube",
    "section",
    "split",
    "svg",
    "tee",
    "z_section",
]

__getattr__ = door(
    __name__,
    {
        "base.errors": "BadInput CannotMake MitertoolError UnknownName",
        "cut.cut": "Cut",
        "cut.ends": "Further",
        "cut.face": "Face",
        "frame.corners": "corner",
        "frame.elbows": "bend",
        "frame.hoppers": "hopper_cut",
        "frame.rails": "rail",
        "packet.pictures": "svg",
        "piece.parting": "Split split",
        "piece.piece": "Piece",
        "saw.saw": "Saw",
        "sections.catalogue": "section",
        "sections.own": "from_dxf",
        "sections.section": "Section",
        "sections.shapes.angle": "angle",
        "sections.shapes.channel": "channel",
        "sections.shapes.flat": "flat",
        "sections.shapes.i_section": "i_section",
        "sections.shapes.rect_tube": "rect_tube",
        "sections.shapes.round_bar": "round_bar",
        "sections.shapes.round_tube": "round_tube",
        "sections.shapes.tee": "tee",
        "sections.shapes.z": "z_section",
    },
    modules="frame nest piece.batch",
)


def __dir__() -> list[str]:
    return sorted(__all__)
