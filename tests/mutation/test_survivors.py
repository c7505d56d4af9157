"""The list of changes that leave the program the same is in order; the long command tells what of it is out of date."""

from __future__ import annotations

from tests.mutation.rooms import ROOMS
from tests.mutation.survivors import Same, same, stands

LIST = same()


def test_every_change_is_one_and_is_explained() -> None:
    assert len(LIST) > 10
    assert len({one.key for one in LIST}) == len(LIST)
    assert all(one.was != one.now and len(one.why) > 20 and one.why.endswith(".") for one in LIST)
    assert {one.file.split("/")[1] for one in LIST} <= set(ROOMS)


def test_a_line_is_found_where_it_stands() -> None:
    """By the text alone, whatever line of its definition it is; not in another definition, nor as another text."""
    here = "tests/mutation/survivors.py"
    assert stands(Same(here, "same", "return [Same(**one)", "", ""))
    assert stands(Same(here, "Same.key", "def key(self)", "", ""))
    assert stands(Same(here, "", "import ast", "", ""))
    assert not stands(Same(here, "stands", "return [Same(**one)", "", ""))
    assert not stands(Same(here, "same", "return [Other(**one)", "", ""))
    assert not stands(Same(here, "nowhere", "return [Same(**one)", "", ""))
