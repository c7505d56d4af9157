"""Bars: the pieces put on stock lengths with the least steel and the fewest set-ups; imports bar and left of it."""

from mitertool.bar import Allowance
from mitertool.base.doors import door

TYPE_CHECKING = False
if TYPE_CHECKING:
    from mitertool.nest import abreast, columns, flow, master
    from mitertool.nest.blanks import blank_of
    from mitertool.nest.compared import compare
    from mitertool.nest.done import Done, remaining
    from mitertool.nest.fit import FullBar, how_many
    from mitertool.nest.fitting import what_fits_says
    from mitertool.nest.floor import Purchase, buying_list
    from mitertool.nest.plan import (
        Alternative,
        ArmLimits,
        Bar,
        Bound,
        GroupWay,
        Handling,
        Item,
        Makes,
        Placed,
        Plan,
        Rates,
        Recut,
        SawCut,
        Steel,
        Stock,
        WorkStep,
    )
    from mitertool.nest.set_up_shares import set_up_minutes, shares_of
    from mitertool.nest.setups import swings_from_square, ways_to_set
    from mitertool.nest.shavings import shaving, with_scraps
    from mitertool.nest.solver import NoBars, solve
    from mitertool.nest.way_names import BAR_BY_BAR, BY_SETTING, MIXED, WAYS

__all__ = [
    "BAR_BY_BAR",
    "BY_SETTING",
    "MIXED",
    "WAYS",
    "Allowance",
    "Alternative",
    "ArmLimits",
    "Bar",
    "Bound",
    "Done",
    "FullBar",
    "GroupWay",
    "Handling",
    "Item",
    "Makes",
    "NoBars",
    "Placed",
    "Plan",
    "Purchase",
    "Rates",
    "Recut",
    "SawCut",
    "Steel",
    "Stock",
    "WorkStep",
    "abreast",
    "blank_of",
    "buying_list",
    "columns",
    "compare",
    "flow",
    "how_many",
    "master",
    "remaining",
    "set_up_minutes",
    "shares_of",
    "shaving",
    "solve",
    "swings_from_square",
    "ways_to_set",
    "what_fits_says",
    "with_scraps",
]

__getattr__ = door(
    __name__,
    {
        "blanks": "blank_of",
        "compared": "compare",
        "done": "Done remaining",
        "fit": "FullBar how_many",
        "fitting": "what_fits_says",
        "floor": "Purchase buying_list",
        "plan": "Alternative ArmLimits Bar Bound GroupWay Handling Item Makes Placed Plan Rates Recut SawCut Steel"
        " Stock WorkStep",
        "set_up_shares": "set_up_minutes shares_of",
        "setups": "swings_from_square ways_to_set",
        "shavings": "shaving with_scraps",
        "solver": "NoBars solve",
        "way_names": "BAR_BY_BAR BY_SETTING MIXED WAYS",
    },
    modules="abreast columns flow master",
)
