"""Which blocks come on which page: what is kept together, and where it is parted when no page holds it."""

from __future__ import annotations

import attrs

from mitertool.drawing import A4, Drawing
from mitertool.packet.paper.layout import Block, Paper, each_page, kept_together, page_numbers

PAPER = Paper(*A4)


def block(height: float, tightly: bool = False) -> Block:
    return Block(height, Drawing(), keep_with_next=tightly, gap=0.0)


def rows(share: float, count: int) -> list[Block]:
    """Blocks of a share of a page each."""
    return [block(PAPER.room * share)] * count


def test_what_a_page_holds_is_on_one() -> None:
    """Half a page is taken: seven tenths of one begin the next."""
    assert page_numbers([*rows(0.5, 1), *kept_together(rows(0.1, 7))], PAPER) == [1, *[2] * 7]


def test_what_no_page_holds_fills_each() -> None:
    """Twenty five tenths of a page: ten, ten and five, wherever the rest would fit one page of its own."""
    assert page_numbers(kept_together(rows(0.0999, 25)), PAPER) == [*[1] * 10, *[2] * 10, *[3] * 5]


def test_a_head_stays_with_its_first_rows() -> None:
    """A title at the foot, with room for two of its twenty rows, goes to the next page with them."""
    title = attrs.evolve(block(PAPER.room * 0.05), keep_with_next=True)
    found = page_numbers([*rows(0.8, 1), *kept_together([title, *rows(0.0666, 20)])], PAPER)
    assert found[:6] == [1, 2, 2, 2, 2, 2]


def test_a_bracket_is_not_parted() -> None:
    """Rows 9 to 11 of twenty are gone through in turn: ten have room on the page, the bracket goes to the next."""
    each = [block(PAPER.room * 0.0999, tightly=i in (8, 9)) for i in range(20)]
    assert page_numbers(kept_together(each), PAPER)[7:11] == [1, 2, 2, 2]


def test_all_titles_of_a_bar_stay_with_its_first_rows() -> None:
    """Title, vise and pictures are six twentieths, each of its rows two, thirty twentieths more in all: with two rows
    behind them they ask for ten, which nine twentieths leave and eleven do not.
    """
    titles, cuts = [block(PAPER.room * 0.0499, tightly=True)] * 6, rows(0.0999, 15)
    for taken, page in ((0.45, 1), (0.55, 2)):
        found = page_numbers([*rows(taken, 1), *kept_together([*titles, *cuts])], PAPER)
        assert found[1:9] == [page] * 8


def test_pages_are_made_one_by_one() -> None:
    """A thousand pages of a great job would take half a gigabyte together. Three blocks of nine tenths are three."""
    made: list[tuple[int, int]] = []

    def head(number: int, of: int) -> Drawing:
        made.append((number, of))
        return Drawing()

    pages = each_page(rows(0.9, 3), PAPER, head)
    assert made == []
    next(pages)
    assert made == [(1, 3)]
    assert len(list(pages)) == 2
