"""The saw: its file, its scale, and what must be set for a cut; imports frame and left of it."""

from mitertool.base.doors import door

TYPE_CHECKING = False
if TYPE_CHECKING:
    from mitertool.saw.file import schema
    from mitertool.saw.file.machine import Machine
    from mitertool.saw.file.scale import Scale
    from mitertool.saw.proof.correction import keep_offset, measurement
    from mitertool.saw.saw import Saw
    from mitertool.saw.setting.lays import lays_that_work, lays_told
    from mitertool.saw.setting.reach import Reach
    from mitertool.saw.setting.reasons import Reason
    from mitertool.saw.setting.rows import lead_in

__all__ = [
    "Machine",
    "Reach",
    "Reason",
    "Saw",
    "Scale",
    "keep_offset",
    "lays_that_work",
    "lays_told",
    "lead_in",
    "measurement",
    "schema",
]

__getattr__ = door(
    __name__,
    {
        "proof.correction": "keep_offset measurement",
        "setting.lays": "lays_that_work lays_told",
        "file.machine": "Machine",
        "setting.reach": "Reach",
        "setting.reasons": "Reason",
        "setting.rows": "lead_in",
        "saw": "Saw",
        "file.scale": "Scale",
    },
    modules="file.schema",
)
