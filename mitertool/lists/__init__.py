"""A customer's list of parts as it came, CSV or XLSX, each row as the keys of a [[piece]]; imports piece and below.

`read.read_list` is the way through: `cells` (a file as rows of cells), `columns` (what each column holds), `numbers`
(points and commas), `rows` (a row as keys). A workbook's library is loaded only where a workbook is read.
"""

from mitertool.base.doors import door

TYPE_CHECKING = False
if TYPE_CHECKING:
    from mitertool.lists.keys import LIST
    from mitertool.lists.read import ListRow, PartsList, as_written, read_list

__all__ = ["LIST", "ListRow", "PartsList", "as_written", "read_list"]

__getattr__ = door(__name__, {"keys": "LIST", "read": "ListRow PartsList as_written read_list"}, modules="workbook")
