"""Frames, jobs, saws, practice in a real browser: a frame of one's own to a packet, live parts, keyboard, axe, sizes.

Sizes of what is touched: 44 CSS pixels (WCAG 2.2, 2.5.5). Contrast, names and roles are judged by axe-core.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

pytestmark = pytest.mark.browser
Visit = Callable[..., Any]
LEAST = 44

JOB = "/job?file=boathouse-gate/job.toml"
SAW = "/saw?file=saws/hinged.toml"
ASKED = "/practice?saw=saws/hinged.toml&set=3"
SCREENS = [
    *("/jobs", JOB, "/frame?saw=saws/hinged.toml", "/frame?shape=hopper&saw=", "/corner", "/saw", SAW),
    *(ASKED, f"{ASKED}&question=6&answer=126", f"{ASKED}&question=6&answer=1"),
    "/first-piece?file=boathouse-gate/job.toml&mark=STAY&long=871&short=811",
]
REFUSED = ["/frame?shape=rectangle&section=SHS+50x50x3&width=-1", "/corner?angle=0", "/first-piece?file=x"]


def long_point(page: Any, length: str) -> Any:
    """The cells of the table of pieces that tell a long point of this length."""
    return page.locator("#answer td[data-says='long point']", has_text=re.compile(f"^{length}$"))


def solved(page: Any) -> None:
    """Waits until what comes of a job is there."""
    page.locator("#solved .acts").wait_for(timeout=60000)


def test_from_a_frame_of_ones_own_to_a_packet(visit: Visit) -> None:
    """What somebody does who has never seen the command line: sizes typed, a job written, its packet opened."""
    page = visit("/")
    page.get_by_role("link", name="Begin with a frame").click()
    page.get_by_label("saw", exact=True).select_option("saws/hinged.toml")
    page.locator("#f-width").fill("930")
    page.locator("#f-height").fill("610")
    long_point(page, "930").first.wait_for()
    page.locator("#s-name").fill("My first gate")
    page.locator("#s-mark").fill("GATE")
    page.locator("#s-stock").fill("6000")
    page.get_by_role("button", name="Write this job").click()
    page.wait_for_url("**/job?file=My_first_gate.toml&saved=yes")
    solved(page)
    assert page.locator("td", has_text="GATE-1").count() and page.locator(".bars svg").count() >= 1
    page.get_by_role("button", name="Make the packet").click()
    page.get_by_role("heading", name="Packet written").wait_for(timeout=60000)
    page.wait_for_function("document.activeElement.id === 'written'")
    link = page.get_by_role("link", name="cut-sheet.html")
    assert page.request.get(page.evaluate("one => one.href", link.element_handle())).status == 200
    with page.expect_popup() as opened:
        link.click()
    sheet = opened.value
    sheet.locator("h1", has_text="My first gate").wait_for()
    sheet.locator("main input[type=checkbox]").first.check()
    assert "1" in sheet.locator("[data-shows=done]").inner_text()


def test_from_an_empty_folder_to_readings_and_a_packet(visit_empty: Visit, tmp_path: Path) -> None:
    """A shop's first day: its saw written down, a frame of its own, the packet; six clicks besides what is typed."""
    page, clicks = visit_empty("/"), 0

    def click(what: Any) -> None:
        nonlocal clicks
        what.click()
        clicks += 1

    click(page.get_by_role("link", name="Write down a saw"))
    page.get_by_label("what the shop calls the saw").fill("Old green saw")
    page.get_by_label("kerf, measured on a cut").fill("1.3")
    page.get_by_label("most degrees the arm swings to the feed side").fill("60")
    page.get_by_label("most degrees the arm swings to the discharge side").fill("0")
    click(page.get_by_role("button", name="Write this saw file"))
    page.locator("[role=status]", has_text="Saved as Old_green_saw.toml.").wait_for()
    click(page.get_by_role("link", name="Begin with a frame"))
    page.locator("#f-section").fill("RHS 60x40x3")
    page.locator("#f-width").fill("930")
    page.locator("#f-height").fill("610")
    long_point(page, "930").first.wait_for()
    page.locator("#s-name").fill("Side gate")
    page.locator("#s-stock").fill("6000")
    click(page.get_by_role("button", name="Write this job"))
    solved(page)
    assert page.locator("td", has_text=re.compile("^45°$")).count()  # this scale reads 0 at a square cut
    click(page.get_by_role("button", name="Make the packet"))
    page.get_by_role("heading", name="Packet written").wait_for(timeout=60000)
    assert page.locator(".files a").first.inner_text() == "cut-sheet.pdf"
    with page.expect_popup() as opened:
        click(page.get_by_role("link", name="cut-sheet.html"))
    opened.value.locator("h1", has_text="Side gate").wait_for()
    assert clicks == 6
    assert (tmp_path / "Side_gate" / "cut-sheet.pdf").is_file()


@pytest.mark.parametrize("path", ["/", "/cut", "/frame", "/frame?shape=drawing", "/jobs", "/saw", "/practice"])
@pytest.mark.parametrize("size", ["phone", "desk"])
def test_an_empty_folder_says_what_to_do(visit_empty: Visit, path: str, size: str) -> None:
    from axe_playwright_python.base import AXE_SCRIPT

    page = visit_empty(path, size, "dark" if size == "desk" else "light")
    assert page.locator("main a[href], main form").count()
    assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]
    page.evaluate(AXE_SCRIPT)
    found = page.evaluate("axe.run()")["violations"]
    assert [(one["id"], [node["html"][:120] for node in one["nodes"]][:3]) for one in found] == []


def test_a_frame_follows_what_is_typed(visit: Visit) -> None:
    page = visit("/frame?saw=saws/hinged.toml")
    page.locator("#f-width").fill("-5")
    page.locator("#wrong.wrong").wait_for()
    assert page.locator("#answer svg:visible").count() == 1  # the last picture stays
    page.locator("#f-width").fill("1500")
    long_point(page, "1500").first.wait_for()
    page.locator("#wrong.wrong").wait_for(state="detached")
    assert page.evaluate("document.activeElement.id") == "f-width"
    page.wait_for_url("**width=1500**")


def test_a_saw_follows_what_is_typed_and_refuses_at_the_key(visit: Visit) -> None:
    page = visit(SAW)
    before = page.locator("#drawn svg").first.inner_html()
    page.locator("#saw--kerf").fill("-1")
    page.locator("#wrong-saw--kerf", has_text="more than 0").wait_for()
    assert page.locator("#drawn svg").first.inner_html() == before
    page.locator("#saw--kerf").fill("1.5")
    page.locator("#look-miter").fill("50")
    page.locator("#drawn .says", has_text="140°").wait_for()
    assert page.locator("#wrong-saw--kerf").inner_text() == ""
    assert page.locator("#drawn svg").first.inner_html() != before


def test_practice_by_keyboard(visit: Visit) -> None:
    page = visit(f"{ASKED}&question=6")
    assert page.evaluate("document.activeElement.id") == "answer"
    page.keyboard.type("126")
    page.keyboard.press("Enter")
    page.locator(".right").wait_for()
    page.get_by_role("link", name="Next question").press("Enter")
    page.wait_for_url("**question=7**right=1**")


def test_two_browsers_at_one_job(visit: Visit) -> None:
    """What one writes the other is told of within seconds, and cannot write over."""
    one, other = visit("/job?file=hatch-frame/job.toml"), visit("/job?file=hatch-frame/job.toml", refused=True)
    text = one.locator("#text").input_value()
    one.locator("#text").fill(text + "# by the first\n")
    one.locator("form[action='/job/text'] button").click()
    other.locator("p.wrong", has_text="changed on disk").wait_for()
    other.locator("#text").fill(text + "# by the second\n")
    other.locator("form[action='/job/text'] button").click()
    other.locator(".wrong", has_text="Nothing was written.").wait_for()
    assert visit("/job?file=hatch-frame/job.toml").locator("#text").input_value().endswith("# by the first\n")


def test_frames_and_practice_work_without_a_script(visit: Visit) -> None:
    page = visit("/frame?saw=saws/hinged.toml", scripts=False)
    page.locator("#f-width").fill("1500")
    page.locator("#frame button").click()
    long_point(page, "1500").wait_for()
    page = visit(f"{ASKED}&question=6", scripts=False)
    page.locator("#answer").fill("125")
    page.locator("form button", has_text="Answer").click()
    page.locator(".wrong", has_text="Not so.").wait_for()


@pytest.mark.parametrize("path", [JOB, "/frame?saw=saws/hinged.toml", SAW])
def test_the_keyboard_alone_reaches_everything(visit: Visit, path: str) -> None:
    page = visit(path)
    if path == JOB:
        solved(page)
    found = "input:not([type=hidden]), button, select, textarea, a[href], summary, [tabindex='0']"
    wanted = page.locator(found).evaluate_all("found => found.filter(one => one.checkVisibility()).length")
    met = set()
    for _ in range(wanted + 1):
        page.keyboard.press("Tab")
        met.add(page.evaluate("[...document.querySelectorAll('*')].indexOf(document.activeElement)"))
    assert len(met) >= wanted


@pytest.mark.parametrize("path", SCREENS)
@pytest.mark.parametrize("size", ["phone", "desk"])
def test_targets_are_large_and_nothing_runs_out_of_the_screen(visit: Visit, path: str, size: str) -> None:
    page = visit(path, size)
    if path == JOB:
        solved(page)
    small = page.locator("input:not([type=hidden]), button, select, summary, nav a, .files a").evaluate_all(
        "found => found.filter(one => one.checkVisibility()).map(one => [one.outerHTML.slice(0, 80), "
        "one.getBoundingClientRect().width, one.getBoundingClientRect().height])"
    )
    assert [one for one in small if min(one[1:]) < LEAST] == []
    assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]


@pytest.mark.parametrize("path", [*SCREENS, *REFUSED])
@pytest.mark.parametrize(("size", "scheme"), [("phone", "light"), ("desk", "dark")])
def test_axe_finds_nothing(visit: Visit, path: str, size: str, scheme: str) -> None:
    from axe_playwright_python.base import AXE_SCRIPT

    page = visit(path, size, scheme, refused=path in REFUSED)
    if path == JOB:
        solved(page)
    page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true })")
    page.evaluate(AXE_SCRIPT)
    found = page.evaluate("axe.run()")["violations"]
    assert [(one["id"], one["impact"], [node["html"][:120] for node in one["nodes"]][:3]) for one in found] == []


def test_on_a_telephone_the_reading_stays_and_the_slider_does_not(visit: Visit) -> None:
    page = visit("/cut?angle=30&saw=saws/hinged.toml", "phone")
    page.evaluate("document.querySelector('#piece').scrollIntoView()")
    places = [page.locator(one).bounding_box()["y"] for one in (".figure", ".drag")]
    assert 700 < places[0] < 844 and places[1] < -100
    page.evaluate("scrollTo(0, 0)")
    page.locator("#angle").fill("20")  # while the form is filled in, far above the answer
    page.locator(".figure", has_text=re.compile("^110°$")).wait_for()
    assert 700 < page.locator(".figure").bounding_box()["y"] < 844
    assert page.locator("#turn").evaluate("one => getComputedStyle(one).touchAction") == "pan-y"


def test_on_a_desk_the_answer_stays_in_sight_where_the_form_is_longer(visit: Visit) -> None:
    """The button stands below the fold: what it brings is read without scrolling back, red where it cannot be cut."""
    page = visit("/cut?section=RHS+80x40x3&angle=30&saw=saws/hinged.toml")
    page.locator("#angle").fill("70")
    page.locator("form button").click()
    page.locator(".figure", has_text="cannot be cut").wait_for()
    page.evaluate("scrollTo(0, 900)")
    turn, reads = (page.locator(one).bounding_box() for one in (".drag", ".reads.wrong"))
    assert 0 <= turn["y"] < turn["y"] + turn["height"] <= reads["y"] + 1
    assert reads["y"] + reads["height"] < 300


def test_a_refused_write_leaves_its_tab_lit_and_makes_nothing_of_the_old_job(visit: Visit) -> None:
    page = visit("/job?file=boathouse-gate/job.toml", refused=True)
    page.locator(".acts button").first.wait_for()
    page.locator("#text").fill("x =")
    page.locator("form", has=page.locator("#text")).locator("button").click()
    page.locator(".holds.stale > .behind").wait_for()
    assert page.locator("nav a[aria-current]").inner_text() == "Jobs"
    page.locator("#solved svg").first.wait_for()
    assert not page.locator(".acts").first.is_visible()


@pytest.mark.parametrize("field", ["#saw--kerf", "#look-miter"])
def test_the_ring_of_a_field_covers_no_words(visit: Visit, field: str) -> None:
    """It is 3 CSS pixels wide and lies on the border: less than the gap to the words above and below."""
    page = visit(SAW)
    page.locator(field).focus()
    style = page.locator(field).evaluate(
        "one => [getComputedStyle(one).outlineOffset, getComputedStyle(one).outlineStyle]"
    )
    assert style == ["-2px", "solid"]


def test_a_telephone_shows_pieces_below_each_other_and_lettering_large_enough(visit: Visit) -> None:
    """Lettering of a drawing is at least 10 CSS pixels high: common practice, no source."""
    page = visit("/frame?saw=saws/hinged.toml", "phone")
    drawn = page.locator("figure svg:visible")
    least = drawn.evaluate(
        "one => Math.min(...[...one.querySelectorAll('text')].map("
        "text => parseFloat(getComputedStyle(text).fontSize) * one.getScreenCTM().a))"
    )
    assert least >= 10
    assert drawn.bounding_box()["x"] >= 0 and drawn.bounding_box()["width"] <= 390 - drawn.bounding_box()["x"]
    tables = page.locator(".wide:visible")
    assert tables.count() >= 1
    assert tables.evaluate_all("all => all.every(one => one.scrollWidth <= one.clientWidth)")


@pytest.mark.parametrize(
    ("path", "field"), [(SAW, "#bed--swing_axis"), ("/cut?saw=saws/hinged.toml", "#angle"), ("/corner", "#c-angle")]
)
def test_under_an_error_the_last_picture_that_held_stays_readable(visit: Visit, path: str, field: str) -> None:
    page = visit(path)
    page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true })")
    page.locator(field).fill("x")
    banner = page.locator(".holds > .behind")
    banner.filter(has_text="This is the last one that held").wait_for()
    assert page.locator(".holds svg").first.is_visible()
    assert page.locator(".holds").evaluate("one => [...one.children].every(of => getComputedStyle(of).opacity === '1')")


def test_an_answer_to_something_else_is_grey_and_cannot_be_written(visit: Visit) -> None:
    page = visit("/frame?saw=saws/hinged.toml")
    page.locator("#f-width").fill("-5")
    page.locator(".behind", has_text="not of what is typed now").wait_for()
    assert page.get_by_role("button", name="Write this job").is_disabled()
    box = page.locator("#wrong").bounding_box()
    assert box["y"] >= 0 and box["y"] + box["height"] <= page.viewport_size["height"]
    page.locator("#f-width").fill("1500")
    page.locator("#write button:enabled").wait_for()
    page.locator(".behind").wait_for(state="hidden")
