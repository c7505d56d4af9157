"""Every table and key of a saw file with what it means in one sentence; knows words only."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

ARRAYS: Final = ("obstacle", "cutting")
"""Tables that may stand several times."""

KEYS: Final[Mapping[str, Mapping[str, str]]] = {
    "saw": {
        "name": "What the shop calls the saw.",
        "units": "How bare lengths in this file are meant: mm, in or ft-in.",
        "kind": 'How the blade comes down: "hinged" about a pin, or on a "column", parallel to itself.',
        "kerf": "The width that the blade takes, measured square to the blade.",
        "invented": "true where the saw is made up and no machine has these figures.",
    },
    "scale": {
        "square": "What the protractor reads at a square cut: 0 or 90.",
        "positive": "Where the moving-jaw end of the blade goes as the reading grows: feed-side or discharge-side.",
        "two_sided": "true where the protractor reads up from 0 both ways.",
        "feed_side_most": "Degrees that the arm swings from square to the feed side; 0 where it does not.",
        "discharge_side_most": "Degrees that the arm swings from square to the discharge side; 0 where it does not.",
        "division": "The finest division of the protractor, degrees.",
        "offset": "A correction kept from a measured first piece, degrees, added to every reading; "
        "on a two-sided scale to the swing, positive to the feed side.",
        "offset_date": "The day on which that correction was kept.",
        "offset_from": "The measured first piece that it was kept from: the same one is not kept twice.",
    },
    "tilt": {
        "lowest": "How far the blade tilts to the negative side, degrees, 0 or less.",
        "highest": "How far the blade tilts to the positive side, degrees, 0 or more.",
    },
    "arm": {
        "hinge_u": "Where the hinge stands along the blade from the swing axis, negative on the fixed-jaw side.",
        "hinge_z": "How high the hinge stands above the bed.",
        "below_bed": "How far the cutting edge at rest stands below the bed, over the swing axis.",
        "lift_highest": "How far the arm lifts above rest: degrees where it is hinged, a length on a column.",
        "stop_u": "Where along the blade from the swing axis the height of the edge is measured for the lift.",
        "cant": "How far the blade of a column is canted, degrees, positive with the moving-jaw end higher.",
    },
    "bed": {
        "swing_axis": "How far the vertical axis of the swing stands from the face of the fixed jaw.",
        "width": "The widest bar that goes between the jaws.",
        "height": "The highest bar that goes under the arm.",
        "blade_offset": "How far the blade stands from the swing axis in a square cut, positive on the feed side.",
    },
    "guides": {
        "fixed_u": "Where the inner face of the fixed guide stands along the blade, negative on the fixed-jaw side.",
        "opening_least": "The least distance between the guides.",
        "opening_most": "The greatest distance between the guides.",
        "half_thickness": "Half the thickness of a guide, measured square to the blade.",
        "clearance": "How far guides, blade and lifted edge must stay clear, measured square to the bar.",
    },
    "vise": {
        "fixed_jaw": "Which jaw stays where it is, looking with the feed: left or right.",
        "approach": "How near to the bar the jaw is brought before clamping.",
        "grip": "The least length of bar that the vise must hold.",
    },
    "obstacle": {
        "name": "What the thing is called that the blade must not meet.",
        "side": "On which side of the blade it stands: feed or discharge.",
        "stands": "Behind the face of the moving-jaw or of the fixed-jaw, or across the bed from the fixed jaw.",
        "depth": "How far it reaches back from the jaw's face, or across the bed.",
        "edge": "How far its edge stands from the square cut line.",
        "height": "How high it stands above the bed.",
        "adjustable": "true where it can be set back by hand.",
    },
    "feed": {
        "stroke": "How far the bar feed moves a bar in one stroke.",
        "shortest": "The shortest length that its control takes.",
        "longest": "The longest length that its control takes.",
        "counts_kerf": "true where its control adds the plain kerf to the length by itself.",
        "lines": "How many program lines its control holds.",
        "dead_length": "The length at the end of a bar that it cannot push.",
        "decimals": "Decimals of a length on its control, in the units of the file; absent: 1 in mm, 2 in inches.",
        "counts_trim": "Whether its control counts the trim cut as a piece; absent: the sheet says nothing of it.",
        "ends_with_zero": "true where its list must end with a line of zeros for the control to stop there.",
        "caution": "What this machine's manual asks of whoever uses the feed; printed with the cautions.",
    },
    "blade": {
        "teeth_per_inch": 'Teeth in an inch of blade, a variable pitch as "5/7"; give this or the pitch.',
        "pitch": "The distance from tooth to tooth; give this or the teeth per inch.",
        "area_rate": 'The area that the shop\'s blade cuts in a minute: bare in mm2/min, or such as "5 in2/min".',
        "descent": 'The fastest that the blade comes down, over the swing axis: bare in mm/min, or such as "2 in/min".',
    },
    "cost": {
        "swing_minutes": "Minutes that a swing of the arm takes.",
        "roll_minutes": "Minutes that a roll of the bar takes.",
        "rate": "What an hour of the saw costs.",
        "currency": "The money that the rate is in.",
    },
    "cutting": {
        "grade": "The grade that this row of the shop's own table is for; absent: any.",
        "wall_from": "The thinnest wall that the row is for.",
        "wall_to": "The thickest wall that the row is for.",
        "speed": "The blade speed that the shop uses, as text.",
        "feed": "The feed that the shop uses, as text.",
        "coolant": "The coolant that the shop uses, as text.",
        "vise_pressure": "The vise pressure that the shop uses, as text.",
    },
}
"""The tables of a saw file and their keys, each with its meaning."""
