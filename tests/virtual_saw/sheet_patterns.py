"""The words of the cut sheet that the virtual saw goes by, all in one place."""

from __future__ import annotations

import re

FOOT = re.compile(r"Manual, local codes and qualified people go before this sheet\.|mitertool [0-9.]+, inputs ")

LENGTH = r"""[-\d'" ./]+"""
ANGLE = r"-?\d+(?:\.\d+)?"

# page one
PIECES = ["Bar", "Mark", "Pcs", "Section", "Long point"]
ENDS = ("1st cut", "2nd cut")
TENTHS = re.compile(r"(\d(?:\.\d)?) div\. (more|less)")
OPPOSITE = "opposite hand"

# a bar
BAR = re.compile(r"Bar (\d+)")
BAR_LENGTH = re.compile(rf", ({LENGTH})(?:, set as bar (\d+))?$")
ALIKE = re.compile(r"(\d+) bars alike")
SIZES = re.compile(rf"({LENGTH}) wide, ({LENGTH}) high")
LIES = re.compile(
    r"heel at the (?:top|bottom), (?:fixed|moving)-jaw side|toes (?:up|down|toward the (?:fixed|moving) jaw)"
    r"|(?:lies|stands) on its \w+ side"
    r"|web up, flange low toward the (?:fixed|moving) jaw|web flat, flange up at the (?:fixed|moving) jaw"
)

# its rows
CUT, OFF = "cut", "comes off"
READS = ("scale reads", "from square")
KEYED = re.compile(r"length to key, (?:control adds|with kerf) .+")
STOPPED = re.compile(r"stop from the blade's discharge face|stop on the feed side, from the blade")
ROLL = "roll"
NUMBERS = re.compile(r"\d+(?: to \d+|(?:, \d+)*(?: and so on to \d+)?)?")
NUMBERS_LINE = re.compile(r"(?:(?:\d+,?|and|so|on|to)(?: |$))+")
"""A line of them, where they are broken over more than one."""
FIGURE = re.compile(rf"({ANGLE})°")
EXACTLY = re.compile(rf"({ANGLE})°")
SIDE = re.compile(r"moving side to (feed|discharge)|on the (feed|discharge) side")
TILT = re.compile(rf"(?:tilt|bevel) ({ANGLE})°")
TOP = re.compile(r"top to the (feed|discharge) side|long at the (top|bottom)")
LONG = re.compile(r"long at the (moving|fixed) side")
HALF = "half turn"
ROLL_TO = re.compile(rf"roll to ({ANGLE})° from as drawn, its top to the (moving|fixed) jaw")
ROLL_BACK = "roll back to as drawn"
ROLL_OVER = "roll to half a turn from as drawn"
MADE = re.compile(r"(?:(\d+) × )?(.+)")
IN_ALL = re.compile(r"\d+ a round, (\d+) in all")
SCRAP = ("trim cut", "first cut", "no cut", "scrap", "shaving only")
ZERO = "end of program"
END_PAST = re.compile(
    r"end past (?:the blade's feed face|blade's feed face, (?:at the bed|(fixed side|moving side)(?:, at the bed)?))"
)
BY_HAND = re.compile(r"(push on|pull back) by hand")
TOUCHES = re.compile(
    rf"stop touches, measured there: (.+)|at the bed; stop touches: (.+), there ({LENGTH}) from the blade"
)
FIRST_LONG = re.compile(
    rf"first: (?:long point|both sides|length) ({LENGTH})(?: ±[^,]*)?(?:, ends (?:parallel|square)|, tip to tip .+)?$"
)
FIRST_SHORT = re.compile(rf"short point ({LENGTH})$")
FIRST_BOTH = re.compile(rf"first: (?:both sides|length) ({LENGTH})(?: ±[^,]*)?, ends (?:parallel|square)$")

# blanks and their second ends
BLANK = re.compile(r"blank of (.+)")
LATER = re.compile(rf"({LENGTH}) on the centerline, (left|right) end later")
SECOND_ENDS = "Second ends of blanks"
LAID = re.compile(
    rf"blank ({LENGTH}) on the centerline, (?:at )?(?:laid )?(any roll|as drawn|rolled half a turn from as drawn"
    r"|end for end from as drawn and rolled half a turn|end for end from as drawn)"
)
POSES = {
    "any roll": "any-roll",
    "as drawn": "as-drawn",
    "rolled half a turn from as drawn": "rolled",
    "end for end from as drawn": "end-for-end",
    "end for end from as drawn and rolled half a turn": "end-for-end-rolled",
}
NO_STOP = re.compile(rf"no stop: finished it is ({LENGTH}) along the fixed side, ({LENGTH}) along the moving side")

# its places by tape
TAPED = ("By tape", "Mark all out first")
KERF = {"beyond": True, "before": False}
"""Whether the kerf lies past a mark, seen from the leading end."""

# cuts on parted pieces
FURTHER_MARK = re.compile(r"(\d+) × (.+)")
FURTHER_END = re.compile(r"(left|right) end, cut (\d+)")
FURTHER_BACK = re.compile(rf"(fixed|moving) side(?: (at the bed|at the top))? ({LENGTH})")
FURTHER_LONG = re.compile(rf"then ((?:{LENGTH}(?:, )?)+) long")
ARM = re.compile(rf"({ANGLE})° to (?:the )?(feed|discharge)\s?side")
FURTHER_TILT = re.compile(rf"tilt ({ANGLE})°,? (?:top )?to (?:the )?(feed|discharge)\s?side")
LONG_SIDE = re.compile(r"long point at ((?:moving|fixed) jaw)?(?:, )?(top|bottom)?")
BEVEL = re.compile(rf"bevel ({ANGLE})°")
PIECE_ROLL = re.compile(
    rf"(?:bar as drawn, rolled|then rolled) (?:(half a turn)|({ANGLE})°, its top to the (moving|fixed) jaw)"
)
PIECE_TURNED = re.compile(r"bar end for end from as drawn")

# the last page
LEFT_OVER, COUNT = "Left over, sides as first clamped", "Count"
AFTER = ("Further cuts, on the parted pieces", LEFT_OVER)
"""Titles that end what is told of bars, however large they are set."""

TOTALS = re.compile(
    r"(\d+) pieces?, [\d.]+ (?:kg|lb), (\d+) bars?, (\d+) cuts?"
    r"(?:, (\d+) cuts? on (?:a )?parted pieces?)?(?:, (\d+) changes? of swing after the first)?"
    r"(?:, (\d+) changes? of tilt after the first)?(?:, (\d+) rolls?)?(?:,|$| )"
)
