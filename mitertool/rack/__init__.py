"""The shop's rack: left-overs and who has booked them, in one SQLite file; imports bar and what lies left of it.

`book.RackBook` is the file; `bars` turns what lies on the rack into stock, and a plan into what it takes and leaves.
"""

from mitertool.base.doors import door

TYPE_CHECKING = False
if TYPE_CHECKING:
    from mitertool.rack.bars import booked, for_job, numbered, plan_hash, stock_of, taken_by, whole_and_rest, work_hash
    from mitertool.rack.book import NumbersTaken, RackBook
    from mitertool.rack.place import rack_file
    from mitertool.rack.values import BookedBar, Booking, DrawnOn, RackBar

__all__ = [
    "BookedBar",
    "Booking",
    "DrawnOn",
    "NumbersTaken",
    "RackBar",
    "RackBook",
    "booked",
    "for_job",
    "numbered",
    "plan_hash",
    "rack_file",
    "stock_of",
    "taken_by",
    "whole_and_rest",
    "work_hash",
]

__getattr__ = door(
    __name__,
    {
        "bars": "booked for_job numbered plan_hash stock_of taken_by whole_and_rest work_hash",
        "book": "NumbersTaken RackBook",
        "place": "rack_file",
        "values": "BookedBar Booking DrawnOn RackBar",
    },
)
