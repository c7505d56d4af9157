"""The words in English, by code, in blocks of the rooms that say them.

A code is `room.what`, with `/one` and `/many` behind it where the words differ by how many, or `/case` where a thing is
told in several ways. {name} is filled in, {{ and }} are braces. A sentence is whole: no room glues halves together, so
that another language may order its words.
"""

from __future__ import annotations

from typing import Final

WORDS: Final = {
    # floor: the figures of the cut sheet, on paper and in the browser
    "floor.arm/discharge": "arm to the discharge side",
    "floor.arm/feed": "arm to the feed side",
    "floor.arm/fixed": "long at the fixed side",
    "floor.arm/moving": "long at the moving side",
    "floor.arm/plain": "square",
    "floor.arm/square": "arm square",
    "floor.bar/many": "Bar {number}, {count} alike",
    "floor.bar/one": "Bar {number}",
    "floor.bevel/minus": "bevel {angle}, long at the bottom",
    "floor.bevel/plus": "bevel {angle}, long at the top",
    "floor.by-hand": "by hand",
    "floor.by-hand/why": "by hand: {why}",
    "floor.cycle": "in the control's cycle",
    "floor.end/both": "end {miter} across and {bevel} up from square",
    "floor.end/slant": "end {miter} from square",
    "floor.end/square": "end square",
    "floor.graded": "{section}, {grade}",
    "floor.kerf/before": "cut before the marks",
    "floor.kerf/past": "cut past the marks",
    "floor.loose/many": "Mark {number}, {count} alike",
    "floor.loose/one": "Mark {number}",
    "floor.makes/scrap": "scrap",
    "floor.makes/trim": "trim cut",
    "floor.move/back": "pull the bar back {length}",
    "floor.move/forward": "push the bar forward {length}",
    "floor.proof": "prove with a protractor: {angle}, out by {allowed} at most",
    "floor.raw/before": "raw end {length} before the pivot line",
    "floor.raw/past": "raw end {length} past the pivot line",
    "floor.reading/cannot": "cannot be cut",
    "floor.reading/line": "{line}",
    "floor.reading/past": "{line} +{part}",
    "floor.reading/short": "{line} -{part}",
    "floor.scale/discharge": "discharge side of the scale",
    "floor.scale/feed": "feed side of the scale",
    "floor.stop/none": "no stop holds: cut at the tape mark",
    "floor.strokes/many": "in {count} strokes",
    "floor.strokes/one": "in one stroke",
    "floor.tilt/minus": "tilt {angle}, blade top to the discharge side",
    "floor.tilt/plus": "tilt {angle}, blade top to the feed side",
    "floor.turn/back": "roll the bar back as drawn",
    "floor.turn/fixed": "roll the bar: top {angle} to the fixed side",
    "floor.turn/half": "roll the bar half a turn",
    "floor.turn/moving": "roll the bar: top {angle} to the moving side",
    # frame: a frame for whoever fits it, on paper and on screen
    "frame.around": "around it, left end first: {order}",
    "frame.check.exact": "exact",
    "frame.check.found": "found",
    "frame.check.over": "corners",
    "frame.check.tape": "tape reads",
    "frame.closes": "the exact pieces close; rounded to tape and scale they open {opens}",
    "frame.coordinates": "Tack blocks: outside edges, from corner 1.",
    "frame.corner.across": "to the right",
    "frame.corner.angle": "inside\nangle",
    "frame.corner.gap": "gap to\nleave",
    "frame.corner.joins": "{before} to {after}",
    "frame.corner.number": "corner",
    "frame.corner.opens": "an end {error}\nout opens",
    "frame.corner.pieces": "pieces",
    "frame.corner.up": "up",
    "frame.drawing": "Drawing {drawing}",
    "frame.last_corner": (
        "Every end out so, all corners but one pulled shut: the last stands {much} apart (too much) or {little} "
        "(too little)."
    ),
    "frame.make/many": "{count} to make",
    "frame.make/one": "{count} to make",
    "frame.misses": "the exact pieces miss by {missed}; rounded to tape and scale they open {opens}",
    "frame.over_the_gap": "Tape: over the middle of the gap between the points.",
    "frame.prep": "Weld preparation: {prep}",
    "frame.process": "After the cut: {process}",
    "frame.prove": (
        "Prove each corner to {allowed} either way before it is tacked: the scale of the saw cannot hold it."
    ),
    "frame.root_gap": "root gap left open {gaps}",
    "frame.running.at": "from post",
    "frame.running.number": "no.",
    "frame.shape.bend": "bend",
    "frame.shape.brace": "brace",
    "frame.shape.drawing": "as drawn",
    "frame.shape.hopper": "hopper",
    "frame.shape.infill": "uprights",
    "frame.shape.polygon": "polygon",
    "frame.shape.rail": "rail",
    "frame.shape.rectangle": "rectangle",
    "frame.title": "Frame {mark}: {shape}",
    # shared: the sides of a bar and of a saw, as everyone names them
    "side.fixed": "fixed side",
    "side.moving": "moving side",
    # how-many: how many pieces of one kind a bar gives
    "how-many.pieces": "pieces a bar",
    "how-many.used": "used",
    "how-many.used-of": "{used} of {bar}",
    "how-many.left": "left over",
    "how-many.left-slanted": "{shortest} at its shortest line, {longest} at its longest",
    "how-many.leading": "leading cuts",
    "how-many.lies-at": "{pose} at {place}",
    "how-many.as-drawn": "as drawn",
    "how-many.and-so-on": "and so on",
    "how-many.tip-to-tip": "tip to tip",
    "how-many.a-bar": "{count} a bar",
}
