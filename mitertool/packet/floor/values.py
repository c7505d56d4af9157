"""The values of the cut sheet: what is fetched, cut in which order, set, keyed and marked; mm and degrees."""

from __future__ import annotations

from itertools import pairwise
from typing import Final, Literal

import attrs

from mitertool.base.tolerances import SAME_SETTING
from mitertool.cut import Cut
from mitertool.frame.alternatives import PastTheScale
from mitertool.job import SolvedPiece
from mitertool.job.further import FurtherRow
from mitertool.job.orders import Head
from mitertool.job.particulars import Particulars
from mitertool.job.runs import Run
from mitertool.piece.marks import EndWork, PieceMark
from mitertool.quantity.problem import Problem, Remark
from mitertool.saw import Machine, Reach
from mitertool.saw.feed.stops import Stop
from mitertool.saw.proof.classes import ToleranceClass
from mitertool.sections import Section

Makes = Literal["piece", "trim", "scrap", "skim"]
"""What comes off with a cut: a piece, the raw end, a wedge between two pieces, or no more than a shaving of one."""

RawFace = Literal["face", "tip", ""]
"""The mill's end is all of the first face, or its tip alone where that slants; "" where a trim takes it off."""

Side = Literal["moving", "fixed", "top", "bottom"]
"""A side of a bar as it lies."""

Ends = Literal["square", "parallel", ""]
"""How the ends of a piece lie that is equally long all over; "" where it is not."""


@attrs.frozen
class Reading:
    """How arm and blade stand for a cut.

    `degrees` is what the scale reads exactly; without a saw file the degrees from square. `line` is the nearest line of
    the scale, None without a saw file, and `tenths` how many tenths of a division past it the reading lies, less than
    0 short of it, nearer to zero. `side` is where a scale that reads up both ways shows it, "feed" or "discharge", else
    "". `arm` is where the moving-jaw end of the blade goes, "feed", "discharge" or "square"; without a saw file where
    the piece is long, "moving", "fixed" or "square". `square` is the angle from square, `tilt` that of the blade from
    upright, its top to the feed side where positive; without a saw file the bevel, long at the top where positive.
    `ok` is False where the saw cannot make it. `comes_back`: the blade stands upright for it and, as far as is known,
    did not for the cut before.
    """

    degrees: float
    line: float | None
    tenths: int
    side: str
    arm: str
    square: float
    tilt: float
    ok: bool = True
    comes_back: bool = False


@attrs.frozen
class Turn:
    """The bar is rolled before a cut: by `half` a turn, or `to` so many degrees from how it is drawn.

    `to` is how it then stands in either case, its top toward the moving jaw where positive. `forward` is that it is
    rolled toward the moving jaw, over which a half turn goes too. `tip` is where on a round bar, which has no top that
    shows, the tip of its cut end then stands: degrees from the top, toward the moving jaw where positive; None where
    that end is square, and of other bars.
    """

    half: bool
    to: float
    forward: bool = True
    tip: float | None = None


@attrs.frozen
class Proof:
    """A setting that the scale cannot hold within the tolerance: the angle from square, and what it may be out.

    `each`: the arm comes back to it, and it is proved each time.
    """

    square: float
    allowed: float
    each: bool = False


@attrs.frozen
class Tape:
    """Where a cut meets the bottom of both sides of the bar, from its leading end, before any roll.

    `past` says on which side of the marks the blade takes its kerf: past them, or before them, toward the leading end.
    `leans`: the cut leans over the height, so that its marks hold at the bed alone.
    """

    number: int
    fixed: float
    moving: float
    past: bool
    leans: bool = False


@attrs.frozen
class ToMeasure:
    """The first piece of a mark, to be measured: its lengths, and what they may be out (None: nothing is said).

    `ends` is "square" or "parallel" where it is equally long all over, else "". `overall` is from tip to tip where its
    ends are turned against each other, so that no tape finds its long point; else None.
    """

    mark: str
    long_point: float
    short_point: float
    allowed: float | None
    ends: Ends = ""
    overall: float | None = None


ANY_ROLL: Final = "any-roll"
"""How a round blank with a square end lies for its second end, where nobody says which face is to show: as it comes."""


@attrs.frozen
class LaidBlank:
    """How a blank lies for its second end: in `pose` against the drawing of its mark, `length` mm on the centerline.

    `fixed` and `moving` are how long the finished piece is along the bottom of either side as it lies, before any roll.
    Where the pose is `ANY_ROLL` only its finished end, which is square, lies at the stop.
    Of a piece that is cut already and becomes another `of` is the mark by whose drawing it lies; "" of a blank.
    `pack` mm is how high what holds it so stands above the bed; 0 where it lies safely.
    """

    pose: str
    length: float
    fixed: float
    moving: float
    of: str = ""
    pack: float = 0.0


@attrs.frozen
class EndPast:
    """How far the end of a bar stands past the blade for a trim or a scrap: the least at the bed, with the kerf.

    `side` is the side of the bar where that is, "" where both are alike. `leans`: it is more or less further up. `raw`:
    it is the end that no cut has made.
    """

    past: float
    side: Literal["moving", "fixed", ""]
    leans: bool
    raw: bool


@attrs.frozen
class CutRow:
    """Cuts of a bar that are all made alike, by their numbers on it, which count from 1.

    `sets` says that arm or blade is set before each of them. Where `stays` is not 0 it stands still since the bar of
    that number; where neither is so, since the cut before.

    How the bar is brought to the blade: `key` is keyed into the feed, `stop` holds the end, `end_past` is where the end
    stands for a trim or a scrap that is not keyed, `moved` how far the bar goes by hand for a piece whose length the
    control does not take, back where it is less than 0. Each is None where it does not apply or cannot be known; then
    the tape marks hold. The raw end stands at the pivot line before the first length is keyed. `by_hand`: the control's
    own cycle does not make it, `why` where that is not for what is set before it.

    Of each mark `each` come off at once: of bars side by side so many, of a box also of the mark `beside`, the other
    hand. `said` is what the job says besides of the mark, in the row of its first piece. `raw_face` is how the mill's
    end of the bar is the first face of a piece, where nobody said a trim. What comes off may be a `blank`, mm long on
    the centerline, whose `recut` end, "left" or "right" as drawn, is cut later; 0 and "" of a finished piece. `laid` is
    how blanks lie that get their second end with these cuts, None of cuts on a bar. `again` tells which blanks these
    are, or which pieces that are cut already become others with them. `places` are where a hole is made in the piece or
    another lands, and `worked` what is done at its ends after the saw, in the row of its first. `thick` is how thick a
    shaving is at most along the bar, and `more` by how much it may be thicker, for which the bar is long enough; 0 of
    all else. `long` is how long a finished piece is from tip to tip, where no saw is known. `comes_long` are the sides,
    as the bar stands for the cut, at which a finished piece of a rolled bar is long. `exact`: no saw is known, and set
    as it is read a frame would not close. `guides` is how far apart they are set for it, mm: where that is set with it,
    else None.
    """

    numbers: tuple[int, ...]
    makes: Makes
    mark: str
    reading: Reading
    sets: bool
    stays: int = 0
    turn: Turn | None = None
    key: float | None = None
    strokes: int = 0
    by_hand: bool = False
    why: Remark | None = None
    stop: Stop | None = None
    end_past: EndPast | None = None
    moved: float | None = None
    proof: Proof | None = None
    first: ToMeasure | None = None
    each: int = 1
    beside: str = ""
    said: Particulars = attrs.field(factory=Particulars)
    raw_face: RawFace = ""
    blank: float = 0.0
    recut: str = ""
    laid: LaidBlank | None = None
    again: Remark | None = None
    places: tuple[PieceMark, ...] = ()
    long: float = 0.0
    worked: tuple[EndWork, ...] = ()
    thick: float = 0.0
    more: float = 0.0
    comes_long: tuple[Side, ...] = ()
    exact: bool = False
    guides: float | None = None

    @property
    def several(self) -> bool:
        """Whether it is more cuts than one."""
        return len(self.numbers) > 1

    @property
    def marks(self) -> tuple[str, ...]:
        """The marks of all that it parts off."""
        return tuple(mark for mark in (self.mark, self.beside) if mark)


@attrs.frozen
class Loop:
    """Rows of a bar, counted from 0, that are gone through in turn so many times."""

    begins: int
    ends: int
    times: int


@attrs.frozen
class SetBack:
    """How far from the square cut line an obstacle must stand at least for every cut of a bar; None: it is clear.

    `moves`: where the saw file has it stand is nearer, so that it is moved.
    """

    name: str
    side: str
    stands: str
    least: float | None
    moves: bool = True


@attrs.frozen
class BarSetting:
    """A setting of the saw that a bar asks for, as `reach` answers it; `number` is that of plan.json."""

    number: int
    reach: Reach
    reading: Reading


@attrs.frozen
class LeftOver:
    """What is left of each of `count` bars behind the last kerf: its length tip to tip, and how its end stands.

    `bar` is its number, or that of a recut off whose pieces it comes. `miter` and `bevel` are degrees from square of
    the end that was cut, as a leading end of a piece has them; of what comes off pieces `ends` are both as the
    catalogue draws the section, None of any other. `kept` says whether it goes on the rack, None where the job does not
    say so; `numbers` are those there, as far as they are known.
    """

    bar: str
    section: Section
    grade: str
    count: int
    length: float
    miter: float
    bevel: float
    ends: tuple[Cut, Cut] | None = None
    kept: bool | None = None
    numbers: tuple[int, ...] = ()
    heats: tuple[str, ...] = ()


@attrs.frozen
class BarWork:
    """A bar, or a batch of equal ones, as it is worked off; without stock a mark by itself, with no `run`.

    `settings` are those of its cuts in the order of work, empty without a saw file. `told_in` is the number of the bar
    whose block shows vise, plan and set-backs of all of them, 0 for this one. `set_backs` hold for all its cuts at
    once. `lines` is how many program lines it takes, where the control holds fewer. `tip_to_tip` is the length of a
    left-over with a slanted end, which its stock length is less than; 0 of any other bar. `outside` tells,
    where all its pieces are plates of hoppers, of each from the leading end whether its outside is up as the strip
    shows the bar. `left_to_hold` is what the last cut leaves in the vise, mm, where nothing is kept for it and no
    piece of the bar is so short; else 0. `least` is how long the bar must be that all of it can be cut, where that is
    close to what it is; else 0. `guides` is how far apart they are set once for all its cuts, mm; None where that is
    not known, or set anew with cuts.
    """

    number: int
    section: Section
    grade: str
    count: int
    rows: tuple[CutRow, ...]
    run: Run | None = None
    loops: tuple[Loop, ...] = ()
    tapes: tuple[Tape, ...] = ()
    settings: tuple[BarSetting, ...] = ()
    told_in: int = 0
    set_backs: tuple[SetBack, ...] = ()
    left_over: LeftOver | None = None
    lines: int = 0
    tip_to_tip: float = 0.0
    outside: tuple[bool, ...] = ()
    left_to_hold: float = 0.0
    least: float = 0.0
    guides: float | None = None

    @property
    def two_angles(self) -> bool:
        """Whether a piece of it is keyed between two angles: what that measures depends on where the pivot line is."""
        pairs = pairwise(self.run.cuts if self.run else ())
        return any(cut.mark and abs(before.reach.swing - cut.reach.swing) > SAME_SETTING for before, cut in pairs)

    @property
    def by_tape(self) -> bool:
        """Whether a cut of it is made at its tape mark, since neither a stop nor a feed holds the bar for it."""
        brought = (
            row.key is not None or row.moved is not None or (row.stop and row.stop.holds)
            for row in self.rows
            if row.makes == "piece"
        )
        return not all(brought)


@attrs.frozen
class SecondEnds:
    """The blanks of one mark that get their other end when the bar numbered `after` is done, as a row of so many cuts.

    `number` is that of the recut in the plan, counted from 1; `section` as it lies in the vise; `setting` how the saw
    is set, None where none is known.
    """

    number: int
    after: int
    section: Section
    grade: str
    row: CutRow
    setting: BarSetting | None = None


@attrs.frozen
class Fetch:
    """Bars to fetch: so many of one section, grade and length, the nominal mass of one, kg, what is said of them.

    `heats` are those that they may be of, none where that of one is not told; `notes` what their rows of stock say.
    `source` is where they come from, None where all comes from one stock.
    """

    section: str
    grade: str
    length: float
    count: int
    bar_mass: float
    heats: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    source: Remark | None = None


Lean = tuple[float, float]
"""How far a face goes to the right, seen as every picture is, for 1 toward the moving side and for 1 up."""


@attrs.frozen
class AsCut:
    """A piece as it lies when it is cut, as the strip of its bar shows it: the readings and `leans` of its ends there.

    Left and right are those of the picture: which is cut first goes by the saw, as the leading end of its bars lies.
    """

    left: Reading
    right: Reading
    leans: tuple[Lean, Lean]


@attrs.frozen
class PieceRow:
    """A mark in the order of cutting, with every way in which its pieces are cut and the bars on which it lies.

    `cut` holds the ways with different readings in the order of work, at least one. `keys` are the lengths to key,
    `stops` where the stop stands; `refused`: the saw cannot make it, it is on no bar. `heat` is that of all its bars,
    "" where that is not known, or not one. `same_as` is the mark of an earlier row, if it is the same piece, turned.
    """

    solved: SolvedPiece
    cut: tuple[AsCut, ...]
    bars: tuple[int, ...]
    keys: tuple[float, ...] = ()
    stops: tuple[float, ...] = ()
    refused: bool = False
    proved: bool = False
    heat: str = ""
    same_as: str = ""

    @property
    def mark(self) -> str:
        """The mark."""
        return self.solved.mark


@attrs.frozen
class Refusal:
    """Marks that are refused for one reason with the same numbers: the problem as it is told of the first of them."""

    problem: Problem
    marks: tuple[str, ...]


@attrs.frozen
class Totals:
    """What the whole job comes to: counts, kg, and minutes by the shop's own rates (None: not known).

    `mass` is the nominal one; `further` counts cuts on parted pieces, which `cuts` are not. Beside the `pieces` off
    bars `recut` are made of pieces that are cut already, and `kept` are such.
    """

    pieces: int
    marks: int
    mass: float
    bars: int = 0
    cuts: int = 0
    swings: int = 0
    tilts: int = 0
    rolls: int = 0
    further: int = 0
    cutting: float | None = None
    setting_up: float | None = None
    recut: int = 0
    kept: int = 0


@attrs.frozen
class ToCount:
    """How many pieces of a mark are to be cut; `again` is the number of a recut that makes them, "" off bars."""

    mark: str
    count: int
    again: str = ""


@attrs.frozen
class FloorSheet:
    """All that stands on the cut sheet of a job.

    `drawn` tells how the drawings of sections were read, `past` of corners that ask for more than the scale has,
    `left_out` how many pieces of which marks are on no bar. `tolerance` is None where its figures are not known.
    `kerf` is that of the bars, mm square to the blade, and `grip` what stays for the vise, mm; None without stock.
    `recut_pieces` are cuts of pieces that are cut already and become others, before all bars, `counts` all pieces to be
    cut in the order of work, and `kept` pieces that are cut already by their marks. `exact` are the frames
    whose angles are set exactly, since no saw is known and the nearest that can be read leaves them open.
    """

    head: Head
    saw: Machine | None
    digest: str
    fetch: tuple[Fetch, ...]
    pieces: tuple[PieceRow, ...]
    bars: tuple[BarWork, ...]
    second_ends: tuple[SecondEnds, ...]
    further: tuple[FurtherRow, ...]
    refused: tuple[Refusal, ...]
    left_overs: tuple[LeftOver, ...]
    totals: Totals
    drawn: tuple[Remark, ...] = ()
    past: tuple[PastTheScale, ...] = ()
    left_out: tuple[tuple[str, int], ...] = ()
    tolerance: ToleranceClass | None = None
    kerf: float | None = None
    grip: float | None = None
    recut_pieces: tuple[SecondEnds, ...] = ()
    counts: tuple[ToCount, ...] = ()
    kept: tuple[tuple[str, int], ...] = ()
    exact: tuple[str, ...] = ()

    @property
    def proved(self) -> tuple[str, ...]:
        """The marks that want proving with a protractor."""
        return tuple(row.mark for row in self.pieces if row.proved)
