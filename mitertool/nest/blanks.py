"""Pieces cut by setting: blanks with one cut at both ends, and the settings that cut them; knows setups and lots.

Which end of a piece a blank has already is chosen so that over the whole job each setting is gone to as seldom as can
be: all settings are put in one order, and a piece is parted at that of its two which comes first.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from itertools import permutations
from typing import Final

import attrs

from mitertool.bar import Allowance, Angles, BarCut, BarPiece
from mitertool.bar.spacing import blank_length
from mitertool.nest.lots import on_bar
from mitertool.nest.plan import Handling, Item
from mitertool.nest.setups import Settings
from mitertool.nest.way_names import BAR_BY_BAR, BY_SETTING, MIXED
from mitertool.piece import Piece
from mitertool.piece.poses import OTHER_END, TURNED
from mitertool.quantity.compare import longer

Arm = tuple[float, float]
"""How arm and blade stand, degrees; rounded, so that equal settings are equal values."""

_DECIMALS: Final = 6
_FEW: Final = 6
"""Settings of which every order is tried."""


def arm_of(angles: Angles) -> Arm:
    """How arm and blade stand."""
    return round(angles.swing, _DECIMALS) + 0.0, round(angles.tilt, _DECIMALS) + 0.0


@attrs.frozen
class RecutWay:
    """How a blank may be laid for its recut: its pose, the plane as it lies so, and how it is set."""

    pose: str
    cut: BarCut
    angles: Angles

    @cached_property
    def arm(self) -> Arm:
        """Where the arm then stands."""
        return arm_of(self.angles)


@attrs.frozen
class BlankWay:
    """A way to cut a piece as a blank: the end that is `finished` first, in `pose`, at any of `arms`; then `recuts`.

    Each of `arms` stands beside whether the bar is rolled for it.
    """

    finished: str
    pose: str
    arms: tuple[tuple[Arm, bool], ...]
    recuts: tuple[RecutWay, ...]

    def first(self, place: Mapping[Arm, int]) -> tuple[int, bool]:
        """The place in an order of its setting that comes first, and whether the bar is rolled for it."""
        return min((place.get(arm, len(place)), rolled) for arm, rolled in self.arms)

    def last(self, place: Mapping[Arm, int]) -> int:
        """The place in an order of the last setting that recuts it; -1 where it holds none."""
        return max(place.get(way.arm, -1) for way in self.recuts)


def mass(item: Item) -> float:
    """What a piece is lifted as, kg."""
    return item.piece.nominal_mass


def is_parallel(item: Item) -> bool:
    """Whether both ends of a piece have one cut."""
    return BarPiece.of(item.mark, item.piece).parallel


def way_of_parts(parts: Iterable[Item]) -> str:
    """How the pieces of a section and grade are worked off, told by which of them are blanks."""
    recut = {bool(part.recut) for part in parts if part.recut or not is_parallel(part)}
    return BAR_BY_BAR if True not in recut else MIXED if False in recut else BY_SETTING


def trailing_poses(item: Item, finished: str, allowance: Allowance) -> tuple[str, ...]:
    """The poses of a piece in which an end lies behind the blade, in the vise, when the other is cut."""
    drawn = finished != allowance.leads
    return tuple(pose for pose in item.poses if (pose in TURNED) != drawn)


def _arms(own: BarPiece, found: Settings) -> tuple[tuple[Arm, bool], ...]:
    """Every setting of its trailing cut, and whether the bar is rolled for it."""
    return tuple((arm_of(one), bool(one.roll)) for one in found.made(own.trail, own.section))


def is_held(piece: BarPiece, grip: float) -> bool:
    """Whether enough of its whole section lies behind the blade for the vise when its leading end is cut."""
    reach = piece.lead.half_reach(piece.section) + piece.trail.half_reach(piece.section)
    return not longer(grip, piece.centerline - reach)


def blank_ways(item: Item, found: Settings, allowance: Allowance, handling: Handling) -> list[BlankWay]:
    """Every way to cut a piece as a blank, the vise holding its finished end when the other is cut.

    None for one whose blank may not be turned, that is too short to be held, or that is no blank at all.
    """
    ways: list[BlankWay] = []
    if not is_held(BarPiece.of(item.mark, item.piece), allowance.grip):
        return ways
    for finished in (allowance.leads, OTHER_END[allowance.leads]):
        poses = trailing_poses(item, finished, allowance)
        heavy = handling.roll_most is not None and mass(item) > handling.roll_most
        for pose in poses[:1] if heavy else poses:
            recuts = tuple(_recuts(item, (pose,) if heavy else poses, found, allowance))
            still = tuple(way for way in recuts if not way.angles.roll) if heavy else recuts
            arms = dict.fromkeys(_arms(on_bar(item, pose, allowance), found))
            may = tuple(arm for arm in arms if not (heavy and arm[1]))
            if still and may:
                ways.append(BlankWay(finished, pose, may, still))
    return ways


def _recuts(item: Item, poses: Iterable[str], found: Settings, allowance: Allowance) -> Iterator[RecutWay]:
    for pose in poses:
        own = on_bar(item, pose, allowance)
        for angles in found.made(own.lead, own.section):
            yield RecutWay(pose, own.lead, angles)


def blanked(item: Item, finished: str, poses: Sequence[str], kerf: float) -> Item:
    """The piece as a blank in some poses, long enough for its other end to be cut from it with a whole kerf."""
    piece, laid = item.piece, BarPiece.of(item.mark, item.piece)
    if finished == "right":
        laid = BarPiece(item.mark, piece.section, piece.right, piece.left, piece.centerline)
    parted = blank_of(piece, finished, blank_length(laid, kerf))
    return attrs.evolve(item, piece=parted, turn=tuple(poses), recut=OTHER_END[finished], whole=piece)


def blank_of(piece: Piece, finished: str, length: float) -> Piece:
    """A blank with both ends parallel to the `finished` one of a piece, so long on the centerline, mm."""
    if finished == "left":
        return Piece(piece.section, length, piece.left, piece.left.reversed, at="centerline")
    return Piece(piece.section, length, piece.right.reversed, piece.right, at="centerline")


def _few_first(arms: frozenset[Arm]) -> tuple[int, list[Arm]]:
    return len(arms), sorted(arms)


@attrs.frozen
class Blanks:
    """All pieces of a job as blanks, and the order of settings that they are meant for."""

    items: tuple[Item, ...]
    order: tuple[Arm, ...]


class BySetting:
    """The pieces that can be blanks, and the ways of each."""

    def __init__(self, items: Sequence[Item], found: Settings, allowance: Allowance, handling: Handling) -> None:
        self.items, self.found, self.allowance = items, found, allowance
        self.ways: dict[str, list[BlankWay]] = {}
        for item in items:
            if not is_parallel(item):
                self.ways[item.mark] = blank_ways(item, found, allowance, handling)

    @property
    def least_changes(self) -> int:
        """Swings and tilts at the least, however the pieces are cut: ends that have no setting in common need two."""
        apart: list[frozenset[Arm]] = []
        for ends in sorted({ends for item in self.items for ends in self.ends(item) if ends}, key=_few_first):
            if not any(ends & other for other in apart):
                apart.append(ends)
        return max(0, len(apart) - 1)

    def orders(self) -> list[tuple[Arm, ...]]:
        """Orders of settings worth a look, the best first."""
        arms = self._fewest()
        ascending = tuple(sorted(arms, key=lambda arm: (abs(arm[0]) + abs(arm[1]), arm)))
        tried = permutations(ascending) if len(arms) <= _FEW else iter([ascending, ascending[::-1], tuple(arms)])
        best = sorted((self._returns(order), number, order) for number, order in enumerate(tried))
        least = best[0][0]
        found = [order for returns, _, order in best if returns == least]
        return list(dict.fromkeys([found[0], found[-1]]))

    def _fewest(self) -> list[Arm]:
        """Few settings with which every end of every piece can be cut, the one that cuts most first."""
        wanted = [(ends, item.quantity) for item in self.items for ends in self.ends(item) if ends]
        arms: list[Arm] = []
        while wanted:
            counts: Counter[Arm] = Counter()
            for ends, quantity in wanted:
                counts.update(dict.fromkeys(ends, quantity))
            best = min(counts, key=lambda arm: (-counts[arm], abs(arm[0]), -arm[0], arm[1]))
            arms.append(best)
            wanted = [(ends, quantity) for ends, quantity in wanted if best not in ends]
        return arms

    def ends(self, item: Item) -> list[frozenset[Arm]]:
        """The settings with which each end can be cut."""
        ways = self.ways.get(item.mark)
        if ways is None:
            return [frozenset(arm for pose in item.poses for arm, _ in self._parallel_arms(item, pose))]
        found: dict[str, set[Arm]] = {"left": set(), "right": set()}
        for way in ways:
            found[way.finished].update(arm for arm, _ in way.arms)
            found[OTHER_END[way.finished]].update(one.arm for one in way.recuts)
        return [frozenset(arms) for arms in found.values()]

    def _parallel_arms(self, item: Item, pose: str) -> tuple[tuple[Arm, bool], ...]:
        return _arms(on_bar(item, pose, self.allowance), self.found)

    def _returns(self, order: Sequence[Arm]) -> int:
        """Pieces that must wait for a setting to come again."""
        place = {arm: i for i, arm in enumerate(order)}
        return sum(item.quantity for item in self.items if self._best(item, place)[0])

    def _best(self, item: Item, place: Mapping[Arm, int]) -> tuple[bool, tuple[int, bool], int]:
        """Whether a piece must wait, its first setting (as `BlankWay.first`), and the number of its way."""
        options = []
        for number, way in enumerate(self.ways.get(item.mark, ())):
            first = way.first(place)
            options.append((way.last(place) < first[0], first, number))
        return min(options, default=(False, (0, False), 0))

    def blanks(self, order: tuple[Arm, ...]) -> Blanks:
        """Every piece that may be one parted at the setting of its own that comes first, the others as they are."""
        place = {arm: i for i, arm in enumerate(order)}
        return Blanks(tuple(self._blank(item, place) for item in self.items), order)

    def _blank(self, item: Item, place: Mapping[Arm, int]) -> Item:
        ways = self.ways.get(item.mark)
        if ways is None:
            return self._parallel(item, place)
        if not ways:
            return item
        _, first, number = self._best(item, place)
        finished = ways[number].finished
        alike = [way.pose for way in ways if way.finished == finished and way.first(place) == first]
        return blanked(item, finished, alike, self.allowance.kerf)

    def _parallel(self, item: Item, place: Mapping[Arm, int]) -> Item:
        """A piece whose cuts are parallel, in the poses in which its setting comes first."""
        none = ((len(place), True),)
        firsts = {
            pose: min([(place.get(arm, len(place)), rolled) for arm, rolled in self._parallel_arms(item, pose)] or none)
            for pose in item.poses
        }
        least = min(firsts.values())
        return attrs.evolve(item, turn=tuple(pose for pose, first in firsts.items() if first == least))

    def recut_ways(self, blank: Item) -> tuple[RecutWay, ...]:
        """How the blanks of a mark may be laid for their recut."""
        finished = OTHER_END[blank.recut]
        return next(way.recuts for way in self.ways[blank.mark] if way.finished == finished)
