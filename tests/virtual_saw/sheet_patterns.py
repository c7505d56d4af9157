"""The words of the cut sheet that the virtual saw goes by, all in one place."""

from __future__ import annotations

import re

FOOT = re.compile(r"Manual, local codes and qualified people go before this sheet\.|mitertool [0-9.]+, inputs ")

LENGTH = r"""[-\d'" ./]+"""
ANGLE = r"-?\d+(?:\.\d+)?"

FEED_LIST = ["Length to key", "Pieces", "Mark", "Strokes", "Cycle", "Measured on", "Setting before it"]
STOP_LIST = ["Stop from blade", "It touches", "Pieces", "Mark", "Setting before it"]
PLAIN_LIST = ["Cut", "Finishes", "From square", "It is long"]
FURTHER = ["Setting", "Scale", "Pieces", "Mark", "Mark back from cut 1", "How"]
FURTHER_MARK = re.compile(r"(.+?) (left|right) end, cut (\d+)")
FURTHER_BACK = re.compile(rf"(fixed|moving) side(?: at the (bed|top))? ({LENGTH})")
FURTHER_LONG = re.compile(rf"then ((?:{LENGTH}(?:, )?)+) long")
SETTINGS = ["Setting", "Scale", "Arm, blade", "Bar", "Makes"]
MARKS = ["Mark", "Pieces", "Section", "Grade", "Long point", "Short point", "Left end", "Right end"]


BAR = re.compile(rf"Bar (\d+)(?:, (\d+) alike)?: (.+), ({LENGTH}), drop ({LENGTH})")
ORDER = re.compile(r"From the leading end: ")
PIECE = re.compile(r"(?:(\d+) x )?(.+?)(?: (end for end and rolled|end for end|rolled))?$")
POSES = {
    None: "as-drawn",
    "rolled": "rolled",
    "end for end": "end-for-end",
    "end for end and rolled": "end-for-end-rolled",
}
TAPE = re.compile(r"Tape from the leading end, ")
TAPE_PLACE = re.compile(
    rf"cut (\d+): ({LENGTH})(?: fixed side, ({LENGTH}) moving side)?, kerf (before|past)(?:, shared)?(?:;|$)"
)

SETTING = re.compile(rf"(\d+) \(({ANGLE})°(?: (feed|discharge))?\)")
ROLL_HALF = re.compile(r"roll half a turn")
ROLL_TO = re.compile(rf"roll to ({ANGLE}) degrees from as drawn, its top to the (moving|fixed) jaw")
ROLL_BACK = re.compile(r"roll back to as drawn")
ROLL_OVER = re.compile(r"roll to half a turn from as drawn")
EACH = re.compile(r"each of (\d+) times$")
NO_STOP = ("-", "tape")
MOVED = re.compile(rf"bar (on|back) ({LENGTH})")
SCRAP = ("trim cut", "wedge")

READING = re.compile(rf"({ANGLE})°(?: (feed|disch)[a-z…]*)?(?= |$)")
ARM = re.compile(rf"({ANGLE})° to (?:the )?(feed|discharge)\s?side")
TILT = re.compile(rf"tilt ({ANGLE})°,? (?:top )?to (?:the )?(feed|discharge)\s?side")
BLOCK = re.compile(rf"Setting (\d+): ({ANGLE})°(?: (feed|discharge))?, ")
BLOCK_ARM = re.compile(r"swing to the (feed|discharge) side: scale reads|arm straight: scale reads")
BLOCK_TILT = re.compile(r"tilt, blade top to the (feed|discharge) side")
BLOCK_LAY = re.compile(r"lay the bar")
BLOCK_SIZES = re.compile(rf"({LENGTH}) / ({LENGTH})")
BLOCK_COLUMNS = (76.0, 100.0, 309.0)
"""Points from the left: numbers and letters stand before the first, words from it on, values from the second on; beyond
the third stand the pictures of a setting."""

SIZES = re.compile(rf"({LENGTH}) wide, ({LENGTH}) high")

CARD_PIECES = re.compile(r"\d+ pieces?")
CARD_END = re.compile(r"(LEFT|RIGHT) END(?:, CUT 1)?: (scale reads|from square)")
CARD_FURTHER = re.compile(r" CUT (\d+), on the piece: (?:scale reads|from square) ")
PIECE_END = re.compile(rf"(?:(or) )?({ANGLE})°(?: (feed|discharge))?((?:,? (?:roll|tilt|packed|bevel))*)")
LEADING_END = re.compile(r", ?leading end$")
LONG_SIDE = re.compile(r"long point at ((?:moving|fixed) jaw)?(?:, )?(top|bottom)?")
BEVEL = re.compile(rf"bevel ({ANGLE})°")
CARD_LIES = re.compile(
    r"heel at the (?:top|bottom), (?:fixed|moving)-jaw side|toes (?:up|down|toward the (?:fixed|moving) jaw)"
    r"|(?:lies|stands) on its \w+ side"
    r"|web up, flange low toward the (?:fixed|moving) jaw|web flat, flange up at the (?:fixed|moving) jaw"
)
FRAME_ANGLE = re.compile(r"heel (out|in), leg (up|down); face out: moving side")
FRAME_Z = re.compile(r"flange (out|in); face out: moving side")
FRAME_CHANNEL = re.compile(r"toes (out|in); face out: moving side")
CARD_ROLL = re.compile(
    rf"(?:bar rolled from the picture|then rolled) (?:(half a turn)|({ANGLE})°, its top to the (moving|fixed) jaw)"
)
CARD_TURNED = re.compile(r"bar end for end from the picture")
CARD_SETTING = re.compile(r"settings? (\d+(?:, \d+)*)")
CARD_OTHER_WAY = re.compile(r" or (settings? \d+(?:, \d+)*): ")
CARD_PICTURES = re.compile(r"left end, as the bar lies")

PIECES = re.compile(r"(\d+) pieces? of (\d+) marks?")
BARS = re.compile(rf"(\d+) bars?, ({LENGTH}) of stock, (\d+) cuts?")
SETUPS = re.compile(r"(\d+) swings? of the arm,(?: (\d+) tilts? of the blade,)? (\d+) rolls? of the bar")
STEEL = re.compile(
    rf"({LENGTH}) bought: pieces ({LENGTH}), kerf ({LENGTH}), wedges ({LENGTH}), trim ({LENGTH}), grip ({LENGTH}), "
    rf"drops ({LENGTH})\."
)
