"""The names of the ways of working."""

from typing import Final

BAR_BY_BAR: Final = "bar by bar"
BY_SETTING: Final = "by setting"
MIXED: Final = "mixed"

WAYS: Final = (BAR_BY_BAR, BY_SETTING, MIXED)
"""Ways of working. Bar by bar each cut is set as it comes, and both ends of a piece are cut on the bar. By setting
blanks with one cut at both ends are parted, and the other end of each is cut later, against a stop. Mixed: each section
and grade its own of the two, or some of its pieces as blanks."""
