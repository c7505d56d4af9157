"""One drawing with an entity of every kind, and how a separate process writes it."""

from __future__ import annotations

import pytest

from mitertool.drawing import (
    CENTER,
    FILL,
    HIDDEN,
    OUTLINE,
    THIN,
    AngleDimension,
    Arc,
    Dimension,
    Drawing,
    EllipseArc,
    Line,
    Polygon,
    Polyline,
    Text,
)


@pytest.fixture
def every_kind() -> Drawing:
    return Drawing(
        (
            Line((0, 0), (100, 0), OUTLINE),
            Line((0, 5), (100, 5), HIDDEN),
            Line((-5, 20), (105, 20), CENTER),
            Arc((20, 20), 10, 0, 360, OUTLINE),
            Arc((50, 20), 10, 90, -180, THIN),
            EllipseArc((70, 20), (6, 3), 0.5, 0, 360, OUTLINE),
            EllipseArc((85, 20), (6, 3), 0.5, 20, -200, HIDDEN),
            Polygon([(0, 0), (100, 0), (80, 40), (0, 40)], OUTLINE),
            Polyline([(0, 42), (50, 44), (100, 42)], HIDDEN),
            Polygon([(5, 30), (15, 30), (15, 35)], OUTLINE, 0.8),
            Polygon([(25, 32), (35, 32), (35, 35), (25, 35)], FILL, 0.0),
            Text((0, 60), "Plain (text) \\ 90° ±1", 3.5),
            Text((50, 70), "Bold & <heavy>", 5, "center", "middle", bold=True),
            Text((100, 60), "tilted", 3.5, "right", "top", 30),
            Text((0, 80), "≤ Łódź Ω", 3.5),
            Text((0, 90), "≥ bold Ł", 3.5, bold=True),
            Dimension((0, 0), (100, 0), -10, "100"),
            Dimension((100, 0), (80, 40), 30, "40", along=90),
            Dimension((0, 0), (80, 40), 12, "89.44"),
            Dimension((0, 40), (6, 40), 8, "about 6"),
            AngleDimension((0, 0), 0, 90, 12, "90°"),
            AngleDimension((100, 0), 180, -20, 15, "20° here"),
        )
    )
