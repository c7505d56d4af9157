"""The collector of cyclic garbage looks seldom within the block, and as before after it, whatever happens there."""

from __future__ import annotations

import gc

import pytest

from mitertool.base.collector import collect_no_more, rarely_collecting


def test_within_and_after() -> None:
    usual = gc.get_threshold()
    with rarely_collecting():
        assert gc.get_threshold()[0] > usual[0]
        assert gc.isenabled()
    assert gc.get_threshold() == usual


def test_after_an_error() -> None:
    usual = gc.get_threshold()
    with pytest.raises(ValueError, match="on purpose"), rarely_collecting():
        raise ValueError("on purpose")
    assert gc.get_threshold() == usual


def test_at_the_end_nothing_is_looked_through() -> None:
    try:
        collect_no_more()
        assert gc.get_freeze_count() > 1000
    finally:
        gc.unfreeze()
