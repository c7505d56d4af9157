"""Solved values as plain records for JSON, each key declared once: unit, meaning, type and how its value is taken."""

from mitertool.base.doors import door

TYPE_CHECKING = False
if TYPE_CHECKING:
    from mitertool.packet.records import solution
    from mitertool.packet.records.bars import of_plan
    from mitertool.packet.records.fit import of_fit
    from mitertool.packet.records.piece import of_cut, of_piece, of_reach, of_reaches, of_saw
    from mitertool.packet.records.plain import of_corner, of_face, of_landing, of_load, of_section
    from mitertool.packet.records.solution import of_further, of_plan_file, of_solution, of_stop

__all__ = [
    "of_corner",
    "of_cut",
    "of_face",
    "of_fit",
    "of_further",
    "of_landing",
    "of_load",
    "of_piece",
    "of_plan",
    "of_plan_file",
    "of_reach",
    "of_reaches",
    "of_saw",
    "of_section",
    "of_solution",
    "of_stop",
    "solution",
]

__getattr__ = door(
    __name__,
    {
        "bars": "of_plan",
        "fit": "of_fit",
        "piece": "of_cut of_piece of_reach of_reaches of_saw",
        "plain": "of_corner of_face of_landing of_load of_section",
        "solution": "of_further of_plan_file of_solution of_stop",
    },
    modules="solution",
)
