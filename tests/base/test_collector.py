"""The collector of cyclic garbage looks seldom within the block, and as before after it, whatever happens there."""

from __future__ import annotations

import gc

import pytest

from mitertool.base.collector import rarely_collecting


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
