"""Frames of few sizes drawn at random, each with bars inside it; their sections are T, 50 wide, and P, 20 wide."""

from __future__ import annotations

from hypothesis import strategies as st

from tests.frame.runs import frame


@st.composite
def any_outline(draw: st.DrawFn) -> str:
    """A ring of few sizes with uprights inside."""

    def size(low: int, high: int) -> float:
        return draw(st.floats(low, high).map(lambda value: round(value, 2)))

    shape = draw(st.sampled_from(["sloping", "trapezoid", "arch", "half arch", "truss"]))
    keys: dict[str, object] = {
        "sloping": lambda: {"width": size(600, 2500), "height": size(600, 2500), "right_height": size(600, 2500)},
        "trapezoid": lambda: {"bottom": size(900, 2500), "top": size(700, 900), "height": size(600, 2000)},
        "arch": lambda: {"width": size(1500, 3000), "height": size(1200, 2500), "rise": size(200, 700)},
        "half arch": lambda: {"width": size(900, 2000), "height": size(1200, 2500), "rise": size(200, 800)},
        "truss": lambda: {"span": size(3000, 6000), "rise": size(900, 1500), "panels": draw(st.integers(2, 8))},
    }[shape]()
    if "arch" in shape:
        keys |= {"chords": draw(st.integers(2, 6)), "half": shape == "half arch"}
    sections = ["T", "T", "P"] if shape == "truss" else "T"
    put = "" if shape == "truss" else 'inside = [{ bars = "uprights", section = "P", clear_most = 250 }]\n'
    return frame(shape.removeprefix("half "), sections, measured="outside", **keys) + put
