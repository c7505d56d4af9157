"""What decides whether two things are one, whether a frame closes, whether an arm reaches: each with its reason.

What only guards the rounding of one computation stands beside it, likewise with unit and reason.
"""

from __future__ import annotations

from typing import Final

CROSSING: Final = 1e-9
"""mm. A short point above -CROSSING is a pointed piece, not two cuts that cross: the rounding of sums of
lengths of up to 1e5 mm in double precision stays below it."""

SAME_SLOPE: Final = 1e-9
"""Slopes closer than this are parallel: 45 degrees typed twice by different routes agrees to 1e-15, and a
difference of 1e-9 over a width of 1 m is a nanometre."""

COINCIDENT: Final = 1e-7
"""mm. Points of one outline closer than this are one point: well above rounding in a rotated outline, well
below anything a mill can make."""

SAME_ANGLE: Final = 1e-12
"""radians. Arc parameters closer than this are one; guards the question whether a direction lies on an arc."""

SYMMETRIC: Final = 1e-7
"""mm. An outline maps onto itself when no end point, centre or radius moves by more than this."""

CLOSED: Final = 1e-6
"""mm. A frame whose unrounded pieces leave a larger gap or overlap than this does not close: far below any tape."""

LEAST_CORNER: Final = 0.5
"""degrees. Members that meet at less, or within this of straight, make no corner: the seam would be over a
hundred widths long, and no protractor tells the members apart from one straight bar."""

SNAP: Final = 1e-3
"""mm. Ends of an outline drawn elsewhere that lie closer than this meet: drawing programs leave gaps of rounding, and
a micrometre is far below what any bar is rolled to."""

CHORD_ERROR: Final = 1e-3
"""mm. How far a polyline may stand off the curve it stands for: splines of an outline from a drawing, and regions as
they are compared for crossing. No printed number comes from such a polyline unless its source says so."""

CUT_OUT: Final = 0.02
"""mm. How far the lines of a paper template may stand off its curve: scissors and a scriber miss by far more."""

CLOSES: Final = 1e-3
"""mm. Points of a frame's lines closer than this are one, and members that overlap by less touch: far below what any
frame is welded to, far above rounding."""

TYPED: Final = 0.1
"""mm. Sides and angles typed from a drawing close when they miss by less: an angle of two decimals turns the far end
of a 1 m side by up to 0.09 mm. The last side takes the miss up; it is far below what a frame is welded to."""

LEVEL: Final = 0.01
"""mm. Heights in a drawing that differ by less are one: drawing programs leave such rests, and a line of 10 mm that
rises by so much is 5 nanometres longer than it looks from above."""

LARGEST_SECTION: Final = 5000.0
"""mm. No bar that goes in a vise is larger; guards against a slipped decimal point and a drawing in another unit."""

SAME_LENGTH: Final = 1e-6
"""mm. Lengths that differ by less are one, however they were typed or worked out: 24' and 288" come through mm 1e-12
apart, sums over a bar a little more, and a nanometre is far below any tape and any control."""

AT_A_STOP: Final = 1e-7
"""degrees. An arm swings and a blade tilts this far past the stop of its file: far below any scale, far above the
rounding of an angle that is the stop's by another way."""

SAME_SETTING: Final = 1e-7
"""degrees. Swings, tilts and rolls that differ by less are one: no scale shows it, and parallel cuts differ by less."""

SAME_LEFT_OVER: Final = 1.0
"""mm. A length left that differs by no more from a left-over on the rack is that one: a tape is read to half a mm, and
what a page tells of a drop is rounded down to a whole one."""

ONE_GUIDE: Final = 25.4
"""mm. Settings of the guides that lie within so much of each other are one, the widest: an inch more between guide and
bar, which a saw may be worked with all day. Common practice, no source."""
