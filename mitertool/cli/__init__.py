"""The command line: each command reads, calls the library and prints; imports everything left of it."""

from mitertool.base.doors import door

TYPE_CHECKING = False
if TYPE_CHECKING:
    from mitertool.cli.sketches import may_sketch, printed_sketch, write_sketch

__all__ = ["may_sketch", "printed_sketch", "write_sketch"]

__getattr__ = door(__name__, {"sketches": "may_sketch printed_sketch write_sketch"})
