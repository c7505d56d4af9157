"""Values that show themselves as pictures, as a notebook asks them to; knows nobody who draws.

Who draws is asked at the front door of the package, which stands above all rooms and loads what is asked of it: so no
room imports one to its right, and nothing is loaded before a picture is wanted.
"""

import mitertool


class Shown:
    """A value that has a picture."""

    __slots__ = ()

    def _repr_svg_(self) -> str:
        return mitertool.svg(self)
