"""The saw: its file, its scale, and what must be set for a cut; imports frame and left of it."""

from mitertool.base.doors import door

TYPE_CHECKING = False
if TYPE_CHECKING:
    from mitertool.saw.correction import keep_offset, measurement
    from mitertool.saw.lays import lays_say, lays_that_work
    from mitertool.saw.machine import Machine
    from mitertool.saw.reach import Reach
    from mitertool.saw.reasons import Reason
    from mitertool.saw.rows import lead_in
    from mitertool.saw.saw import Saw
    from mitertool.saw.scale import Scale

__all__ = [
    "Machine",
    "Reach",
    "Reason",
    "Saw",
    "Scale",
    "keep_offset",
    "lays_say",
    "lays_that_work",
    "lead_in",
    "measurement",
]

__getattr__ = door(
    __name__,
    {
        "correction": "keep_offset measurement",
        "lays": "lays_say lays_that_work",
        "machine": "Machine",
        "reach": "Reach",
        "reasons": "Reason",
        "rows": "lead_in",
        "saw": "Saw",
        "scale": "Scale",
    },
)
