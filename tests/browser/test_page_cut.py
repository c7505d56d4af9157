"""One cut in a real browser: what is typed and dragged, by keyboard too; numbers as `--json` tells them; no other host.

Sizes of what is touched: 44 CSS pixels (WCAG 2.2, 2.5.5). Contrast, names and roles are judged by axe-core.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from typing import Any

import pytest

from mitertool.cli.main import run
from tests.browser.conftest import ROOT

pytestmark = pytest.mark.browser
Visit = Callable[..., Any]
LEAST = 44
OBSTACLES = ("moving jaw", "support behind the cut")
CUT = "/cut?section=L+80x60x7&angle=38&saw=saws/hinged.toml"
DRAG = """async ([id, last, many]) => {
  const from = Number(document.getElementById(id).value);
  for (let at = 1; at <= many; at++) {
    const slider = document.getElementById(id);
    slider.value = from + (last - from) * at / many;
    slider.dispatchEvent(new Event("input", {bubbles: true}));
    await new Promise(done => setTimeout(done, 8));
  }
}"""
"""A slider drawn to its last place through many others, faster than any answer comes."""


@pytest.fixture
def told(capsys: pytest.CaptureFixture[str]) -> Callable[..., dict[str, Any]]:
    """What `mitertool cut --json` tells of a cut on the hinged saw."""

    def record(name: str, miter: str) -> dict[str, Any]:
        capsys.readouterr()
        run(["cut", name, "--miter", miter, "--saw", str(ROOT / "gallery" / "saws" / "hinged.toml"), "--json"])
        answer: dict[str, Any] = json.loads(capsys.readouterr().out)
        return answer

    return record


def value(page: Any, word: str, within: str = "#answer") -> str:
    row = page.locator(f"{within} dl > div", has=page.locator("dt", has_text=re.compile(f"^{re.escape(word)}$")))
    return str(row.first.locator("dd").inner_text())


def reads(page: Any, says: str) -> None:
    """Waits until the large reading says so."""
    page.locator(".figure", has_text=re.compile(f"^{re.escape(says)}$")).wait_for()


def plain(number: float, decimals: int = 1) -> str:
    return f"{number:.{decimals}f}".rstrip("0").rstrip(".")


def test_numbers_are_those_of_the_command(visit: Visit, told: Callable[..., dict[str, Any]]) -> None:
    page, record = visit(CUT), told("L 80x60x7", "38")
    assert page.locator(".figure").inner_text() == plain(record["reach"]["scale_deg"], 2) + "°"
    assert value(page, "face along the blade") == plain(record["width_mm"])
    assert value(page, "largest contact") == plain(record["largest_contact_mm"])
    assert value(page, "thinnest wall on the blade") == plain(record["thinnest_wall_mm"])
    assert value(page, "kerf along the bar") == plain(record["kerf_along_mm"], 2)


def test_what_is_set_is_what_the_command_tells(visit: Visit, told: Callable[..., dict[str, Any]]) -> None:
    """By its letter in the pictures: limits are rounded away from harm to the printed figure, the rest to nearest."""
    page, reach = visit(CUT), told("L 80x60x7", "38")["reach"]
    rows = page.locator(".steps tr").evaluate_all("rows => rows.map(row => [...row.cells].map(cell => cell.innerText))")
    shown = {letter: float(value.rstrip("°")) for _, letter, _, value in rows if letter not in ("", "WH")}
    backs = dict(zip(("B1", "B3"), (reach["set_backs_mm"][name] for name in OBSTACLES), strict=True))
    limits = {**backs, "C": reach["guide_setting_mm"], "D": reach["guide_opening_mm"], "F": reach["stop_height_mm"]}
    lift = {"E": reach["arm_lift_deg"]}
    for step, wanted in ((0.1, limits), (0.01, lift)):
        for letter, least in wanted.items():
            assert -1e-9 <= shown.pop(letter) - least < step, letter
    assert shown == {
        "A": round(abs(reach["swing_deg"]), 2),
        "G": round(reach["travel_deg"], 2),
        "M": round(reach["mean_contact_mm"], 1),
        "L": round(reach["largest_contact_mm"], 1),
    }


def test_the_arm_goes_from_lifted_clear_to_through(visit: Visit, told: Callable[..., dict[str, Any]]) -> None:
    """The slider's ends and the mark of the first touch, where the thumb (16 CSS pixels wide) stands over it."""
    page, reach = visit(CUT), told("L 80x60x7", "38")["reach"]
    assert value(page, "arm above rest") == f"{reach['arm_lift_deg']:.2f}°"
    before = page.locator("#blade .moved line").first.get_attribute("y1")
    page.locator("#arm").fill("200")
    page.locator("#blade dd", has_text=f"{reach['first_touch_deg']:.2f}°").wait_for()
    slider, mark = page.locator("#arm").bounding_box(), page.locator(".marks .touch").bounding_box()
    thumb = slider["x"] + 8 + 0.2 * (slider["width"] - 16)
    assert abs(mark["x"] + 1 - thumb) < 1.5
    page.locator("#arm").focus()
    page.keyboard.press("End")
    page.locator("#blade dd", has_text=f"{reach['through_deg']:.2f}°").wait_for()
    assert value(page, "cut so far") == value(page, "face area")
    assert page.locator("#blade .moved line").first.get_attribute("y1") != before
    assert page.evaluate("document.activeElement.id") == "arm"
    page.wait_for_url("**arm=1000**")


def test_the_miter_is_dragged(visit: Visit) -> None:
    """This scale reads 90 at a square cut and grows to the feed side; the arm goes 57 there, and to no other."""
    page = visit(CUT.replace("L+80x60x7", "RHS+80x40x3"))
    page.locator("#turn").fill("20")
    reads(page, "110°")
    assert page.locator("#angle").input_value() == "20"
    page.wait_for_url("**angle=20**")
    page.locator("#turn").fill("70")
    reads(page, "cannot be cut")
    assert "Short by 13°." in page.locator(".whys").inner_text()
    page.locator("svg .wrong").first.wait_for(state="attached")
    page.locator("#turn").fill("-20")
    reads(page, "110°")
    assert "bar as drawn, rolled half a turn" in page.locator(".reads").inner_text()
    page.locator("svg .wrong").first.wait_for(state="detached")


@pytest.mark.parametrize("size", ["phone", "desk"])
def test_the_last_place_of_a_fast_drag_is_what_is_read(visit: Visit, size: str) -> None:
    """Many places within a few frames, so that all but the first wait; this scale reads 90 more than the miter."""
    page = visit(CUT.replace("L+80x60x7", "RHS+80x40x3"), size)
    for last in (46, 0, 23, 50):
        page.evaluate(DRAG, ["turn", last, 12])
        reads(page, f"{90 + last}°")
        page.wait_for_load_state("networkidle")
        assert page.locator(".figure").inner_text() == f"{90 + last}°"
        assert page.locator("#angle").input_value() == page.locator("#turn").input_value() == str(last)


def test_the_arm_moved_on_the_heels_of_the_miter_loses_neither(visit: Visit) -> None:
    page = visit(CUT.replace("L+80x60x7", "RHS+80x40x3"))
    page.evaluate(DRAG, ["turn", 20, 6])
    page.evaluate(DRAG, ["arm", 1000, 6])
    reads(page, "110°")
    page.wait_for_url("**angle=20**arm=1000**")
    page.wait_for_load_state("networkidle")
    assert page.locator(".figure").inner_text() == "110°"
    assert value(page, "cut so far") == value(page, "face area")


def test_a_section_is_found_as_one_types(visit: Visit) -> None:
    page = visit(CUT)
    page.locator("#section").press_sequentially("", delay=10)
    page.locator("#section").fill("UPN 1")
    page.locator("#wrong.wrong").wait_for()
    names = page.eval_on_selector_all("#names option", "found => found.map(one => one.value)")
    assert "UPN 120" in names
    assert page.locator("#answer svg").count() > 3  # the last pictures stay
    page.locator("#wrong a", has_text="UPN 100").first.click()
    page.wait_for_url("**section=UPN+100**")
    assert page.locator("#lays input").count() == 4


def test_a_lay_is_chosen_by_its_picture(visit: Visit) -> None:
    page = visit(CUT)
    page.locator("#lay-1").focus()
    page.keyboard.press("ArrowDown")
    page.locator("#vise ~ p", has_text="heel at the bottom, moving-jaw side").wait_for()
    assert page.evaluate("document.activeElement.id") == "lay-2"
    page.wait_for_url("**lay=90**")


def test_an_address_is_a_cut(visit: Visit) -> None:
    page = visit("/cut?section=RHS+80x40x3&way=corner&angle=90&saw=saws/hinged.toml&arm=500")
    again = visit(page.url)
    assert again.locator("#answer").inner_html() == page.locator("#answer").inner_html()
    assert again.locator("#turn").input_value() == "45"


@pytest.mark.parametrize("size", ["phone", "desk"])
def test_the_keyboard_alone_reaches_everything(visit: Visit, size: str) -> None:
    page = visit(CUT, size)
    wanted = page.locator("input, button, select, a[href]").evaluate_all(
        "found => new Set(found.map(one => one.type === 'radio' ? one.name : one)).size"
    )
    met = set()
    for _ in range(wanted + 1):
        page.keyboard.press("Tab")
        met.add(page.evaluate("[...document.querySelectorAll('*')].indexOf(document.activeElement)"))
    assert len(met) >= wanted
    outline = page.locator("#section").evaluate("one => { one.focus(); return getComputedStyle(one).outlineStyle }")
    assert outline != "none"


@pytest.mark.parametrize("path", ["/", CUT, "/cut?angle=x"])
@pytest.mark.parametrize("size", ["phone", "desk"])
def test_targets_are_large_and_nothing_runs_out_of_the_screen(visit: Visit, path: str, size: str) -> None:
    page = visit(path, size, refused="=x" in path)
    found = page.locator("input:not([type=radio]), button, select, a[href], label.lay").evaluate_all(
        "found => found.map(one => [one.outerHTML.slice(0, 80), one.getBoundingClientRect().width, "
        "one.getBoundingClientRect().height])"
    )
    assert [one for one in found if min(one[1:]) < LEAST] == []
    assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]


@pytest.mark.parametrize("path", ["/", CUT, CUT.replace("38", "70"), "/cut?section=RHS+80x40x99"])
@pytest.mark.parametrize("size", ["phone", "desk"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(visit: Visit, path: str, size: str, scheme: str) -> None:
    from axe_playwright_python.base import AXE_SCRIPT

    page = visit(path, size, scheme, refused="x99" in path)
    page.evaluate(AXE_SCRIPT)
    found = page.evaluate("axe.run()")["violations"]
    assert [(one["id"], one["impact"], [node["html"][:120] for node in one["nodes"]][:3]) for one in found] == []


def test_it_works_without_a_script(visit: Visit) -> None:
    page = visit(CUT, scripts=False)
    page.locator("#angle").fill("20")
    page.locator("form button").click()
    reads(page, "110°")
