"""A job file and its frames, read and checked, not yet solved; values only."""

from __future__ import annotations

from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Final

import attrs

from mitertool import nest
from mitertool.frame import Assembly, Resolution
from mitertool.frame.leaves import OTHER_SIDE, Doorway
from mitertool.frame.mirrored import image_of, is_own_image
from mitertool.frame.setting_out import CheckMeasure, SetCorner, SettingOut, setting_out
from mitertool.frame.stops import StopLine, stop_lines
from mitertool.job.labels import LabelSheet
from mitertool.job.named import NamedSections
from mitertool.job.orders import Head, PieceOrder
from mitertool.job.particulars import Particulars
from mitertool.quantity import Units
from mitertool.quantity.units import FRACTIONS, MM_PER_INCH
from mitertool.saw import Saw

if TYPE_CHECKING:
    from mitertool.job.before import Rest
    from mitertool.lists import PartsList
    from mitertool.nest import Allowance, Bar, Stock
    from mitertool.rack import DrawnOn


@attrs.frozen
class FrameOrder:
    """A frame with how many of it are made; its pieces stand among the job's pieces.

    Of these `mirrored` are its mirror image, as the second leaf of a double gate is. `image_of` is the mark of the
    frame that this one is the image of, "" for one as drawn. `hinges`: on which side a leaf has them, one of
    `frame.leaves.HINGED`, "" for what is none; `opening` is what a leaf hangs in.
    """

    assembly: Assembly
    quantity: int
    particulars: Particulars = attrs.field(factory=Particulars)
    mirrored: int = 0
    image_of: str = ""
    hinges: str = ""
    opening: Doorway | None = None

    @cached_property
    def out(self) -> SettingOut | None:
        """How it is set out; None for one that is no ring of members."""
        return setting_out(self.assembly)

    @property
    def corners(self) -> tuple[SetCorner, ...]:
        """Its corners, the lower left one first."""
        return self.out.corners if self.out else ()

    @property
    def measures(self) -> tuple[CheckMeasure, ...]:
        """The lengths that prove its shape."""
        return self.out.measures if self.out else ()

    @cached_property
    def hands(self) -> tuple[FrameOrder, ...]:
        """The frame as drawn and its mirror image, each with its number; one alone where both are the same.

        A mirror image that is made alone keeps the mark. One that is the same may have its hinges on either side.
        """
        if not self.mirrored or is_own_image(self.assembly):
            return (attrs.evolve(self, hinges=""),) if self.mirrored else (self,)
        drawn = attrs.evolve(self, quantity=self.quantity - self.mirrored, mirrored=0)
        mirrored, mark, side = image_of(self.assembly), self.assembly.mark, OTHER_SIDE.get(self.hinges, "")
        image = FrameOrder(mirrored, self.mirrored, self.particulars, image_of=mark, hinges=side, opening=self.opening)
        if drawn.quantity:
            return drawn, image
        return (attrs.evolve(image, assembly=attrs.evolve(image.assembly, mark=self.assembly.mark), image_of=""),)

    @property
    def stops(self) -> tuple[StopLine, ...]:
        """The lines along which the stops of its jig stand; none where it is not set out."""
        return stop_lines(self.assembly, self.out) if self.out else ()

    def from_corner(self, place: complex) -> complex:
        """A place of the frame as its first corner has it, or as it lies where it has none."""
        return place - self.out.origin if self.out else place


_USUAL: Final = 60.0
"""degrees from square at which many scales end: common practice, no source; used where there is no saw file."""


@attrs.frozen
class Job:
    """A job file. `digest` is a hash of everything that was read.

    `saw` has the job's own kerf and grip where the job gives them, `as_measured` is as its file has it. `saw_path` is
    "" where no saw file is named.
    `lists` are the lists of parts that the job names, as they were read.
    `trim_said`: whether the job says what the first cut of a bar takes off, be it nothing. `on_stock` is each row of
    stock as the file has it, with what it says besides, and each left-over of the `rack` that the job draws on.
    `labels` is the shop's own sheet of them, None for a usual one.
    `way` fixes the way of working; None: the best is taken. `rest` tells what was done before, where the job is the
    rest of another, and `whole` has the pieces of that.
    """

    path: Path
    head: Head
    pieces: tuple[PieceOrder, ...]
    frames: tuple[FrameOrder, ...]
    stock: tuple[Stock, ...]
    allowance: Allowance | None
    saw: Saw | None
    saw_path: str
    digest: str
    sections: NamedSections = attrs.field(factory=NamedSections)
    lists: tuple[PartsList, ...] = ()
    trim_said: bool = True
    on_stock: tuple[tuple[Stock, Particulars], ...] = ()
    labels: LabelSheet | None = None
    as_measured: Saw | None = None
    rack: DrawnOn | None = None
    way: str | None = None
    rest: Rest | None = None
    whole: tuple[PieceOrder, ...] = ()

    @property
    def kerf(self) -> float:
        """What the blade takes, mm, square to it; 0 where nobody says."""
        return self.allowance.kerf if self.allowance else self.saw.kerf if self.saw else 0.0

    @property
    def resolution(self) -> Resolution:
        """What the floor can read."""
        return resolution(self.head.units, self.saw)

    @property
    def swing_most(self) -> float:
        """The largest swing of the saw to either side, degrees; a bar may be rolled for the other."""
        scale = self.saw.scale if self.saw else None
        return max(scale.feed_side_most, scale.discharge_side_most) if scale else _USUAL

    @property
    def own_stock(self) -> tuple[tuple[Stock, Particulars], ...]:
        """The rows of stock of its file, without the left-overs of the rack."""
        return self.on_stock[: len(self.on_stock) - len(self.rack.bars if self.rack else ())]

    def of_piece(self, order: PieceOrder) -> Particulars:
        """What holds for a mark: its own, else the job's."""
        return order.particulars.within(self.head.particulars)

    def of_bar(self, bar: Bar) -> tuple[Particulars, ...]:
        """What holds for bars such as this one of its own stock, each different row once: its own, else the job's."""
        such = nest.Stock(bar.section.one_bar.name, bar.stock_length, bar.grade)
        rows = (said.within(self.head.particulars) for stock, said in self.own_stock if stock.same_bar(such))
        return tuple(dict.fromkeys(rows))

    def heats_of(self, bar: Bar) -> tuple[str, ...]:
        """The heats that bars such as this one may be of; none where that of one such row of stock is not told."""
        heats = tuple(dict.fromkeys(said.heat for said in self.of_bar(bar)))
        return heats if all(heats) else ()


def resolution(units: Units, saw: Saw | None) -> Resolution:
    """Half a mm or a sixteenth of an inch on the tape, a 32nd where the job has them, and a division of the scale."""
    length = 0.5 if units == "mm" else MM_PER_INCH / FRACTIONS.get(units, 16)
    if saw is None:
        return Resolution(length)
    return Resolution(length, saw.scale.division, rolls=saw.tilt is None)
