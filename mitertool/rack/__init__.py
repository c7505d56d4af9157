"""The shop's rack: left-overs and who has booked them, in one SQLite file; imports bar and what lies left of it.

`book.RackBook` is the file; `bars` turns what lies on the rack into stock, and a plan into what it takes and leaves.
"""

from mitertool.base.doors import door

TYPE_CHECKING = False
if TYPE_CHECKING:
    from mitertool.rack.book import RackBook
    from mitertool.rack.values import BookedBar, Booking, DrawnOn, RackBar

__all__ = ["BookedBar", "Booking", "DrawnOn", "RackBar", "RackBook"]

__getattr__ = door(__name__, {"book": "RackBook", "values": "BookedBar Booking DrawnOn RackBar"})
