"""Whatever is typed where, no screen answers with a fault: a few requests by lot; many in `tests.bench.page_by_lot`."""

from __future__ import annotations

from tests.bench.page_by_lot import faults


def test_no_request_by_lot_ends_in_a_fault() -> None:
    assert faults(12, 5) == []
