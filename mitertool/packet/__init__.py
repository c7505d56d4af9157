"""The packet: everything solved, put on paper and in files for the floor; imports job and left of it, and drawing.

`packet.write_packet` makes the whole; the door offers what a single command draws or lists.
"""

from mitertool.base.doors import door

TYPE_CHECKING = False
if TYPE_CHECKING:
    from mitertool.packet import lists_told
    from mitertool.packet.pages.fitter.picture import frame_sketch
    from mitertool.packet.pages.section_sheet import drawing_scale, lays_drawing, section_drawing
    from mitertool.packet.pages.setting.setting_block import setting_drawing
    from mitertool.packet.pages.setting.walk_down import walk_down
    from mitertool.packet.pages.sketch.sketch import lettering_scale, mark_sketch

__all__ = [
    "drawing_scale",
    "frame_sketch",
    "lays_drawing",
    "lettering_scale",
    "lists_told",
    "mark_sketch",
    "section_drawing",
    "setting_drawing",
    "walk_down",
]

__getattr__ = door(
    __name__,
    {
        "pages.section_sheet": "drawing_scale lays_drawing section_drawing",
        "pages.setting.setting_block": "setting_drawing",
        "pages.setting.walk_down": "walk_down",
        "pages.fitter.picture": "frame_sketch",
        "pages.sketch.sketch": "lettering_scale mark_sketch",
    },
    modules="lists_told",
)
