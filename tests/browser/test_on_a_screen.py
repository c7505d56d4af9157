"""The page at the saw: ticks, counts, export, keyboard, gloves, light and dark, in a real browser without network.

Sizes of what is touched: 44 CSS pixels, the enhanced target size of WCAG 2.2 (2.5.5). Contrast, names and roles are
judged by axe-core.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from mitertool.job import load, solve
from mitertool.job.done import read_work
from mitertool.job.rest import rest_of
from mitertool.packet.pages.browser.page import cut_sheet_page
from tests.browser.conftest import ROOT

pytestmark = pytest.mark.browser
Open = Callable[..., Any]
JOBS = ("boathouse-gate", "hatch-frame", "lantern-house", "keel-jig")
LEAST = 44
OPENED = "document.querySelectorAll('details').forEach(one => one.open = true)"


def read_again(page: Any) -> None:
    """The page loaded anew, once what it keeps has reached the browser's store, which another process writes."""
    page.wait_for_timeout(KEPT)
    page.reload()


KEPT = 500
"""Milliseconds."""


def shows(page: Any, name: str, within: str = "header") -> str:
    return str(page.locator(f"{within} [data-shows={name}]").first.inner_text())


def tick(page: Any, *names: str) -> None:
    for name in names:
        page.locator(f"#{name}").check()


def cuts_of(page: Any, mark: str) -> list[str]:
    """The boxes of the cuts that make pieces of a mark, in their order, after that of their bar's trim cut."""
    path = f'[data-mark="{mark}"] input'
    found = [str(one) for one in page.eval_on_selector_all(path, "found => found.map(one => one.id)")]
    return [found[0].rpartition("-")[0] + "-1", *found]


def ticked(page: Any) -> list[str]:
    return [str(one) for one in page.eval_on_selector_all("input:checked", "found => found.map(one => one.id)")]


def test_ticks_are_counted_and_stay_after_a_reload(opened: Open) -> None:
    page = opened("boathouse-gate")
    every = page.locator("input[type=checkbox]").count()
    assert (shows(page, "done"), shows(page, "all"), shows(page, "to-do")) == ("0", str(every), str(every))
    cuts = cuts_of(page, "STRAP")[:3]
    tick(page, *cuts)
    read_again(page)
    assert ticked(page) == cuts
    assert (shows(page, "done"), shows(page, "to-do")) == ("3", str(every - 3))
    assert shows(page, "good", '[data-piece="STRAP"]') == "2"
    assert shows(page, "left", '[data-piece="STRAP"]') == "2"


def test_ticks_of_one_job_are_not_those_of_another(opened: Open, sheet: Callable[[str], Path]) -> None:
    page = opened("boathouse-gate")
    tick(page, "b1-1-1")
    other = page.context.new_page()
    other.goto(sheet("jetty-stand").as_uri())
    assert ticked(other) == []


def test_scrap_is_taken_off_the_good_ones(opened: Open) -> None:
    page = opened("boathouse-gate")
    tick(page, *cuts_of(page, "STRAP")[1:3])
    strap = page.locator('[data-piece="STRAP"]')
    strap.locator('[data-step="1"]').click()
    read_again(page)
    assert [shows(page, name, '[data-piece="STRAP"]') for name in ("good", "scrap", "left")] == ["1", "1", "3"]
    strap.locator('[data-step="-1"]').click()
    strap.locator('[data-step="-1"]').click()
    assert [shows(page, name, '[data-piece="STRAP"]') for name in ("good", "scrap", "left")] == ["2", "0", "2"]


REFUSED = "Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError'); } })"


def test_where_nothing_is_kept_it_says_so_and_counts_all_the_same(opened: Open) -> None:
    page = opened("boathouse-gate", before=REFUSED)
    assert page.locator("#not-kept").is_visible()
    tick(page, "b1-1-1")
    assert shows(page, "done") == "1"
    assert not opened("boathouse-gate").locator("#not-kept").is_visible()


def test_what_is_written_is_read_as_done(opened: Open, tmp_path: Path) -> None:
    """Two of four straps good, one spoiled; a tube begun: pieces, whole bars gone, lengths left."""
    page = opened("boathouse-gate")
    tick(page, *cuts_of(page, "STRAP")[:4], *cuts_of(page, "PANEL-2")[:2])
    page.locator('[data-piece="STRAP"] [data-step="1"]').click()
    with page.expect_download() as download:
        page.locator("#write").click()
    assert download.value.suggested_filename == "done.csv"
    download.value.save_as(tmp_path / "done.csv")
    rows = list(csv.reader(io.StringIO((tmp_path / "done.csv").read_text(encoding="utf-8"))))
    assert rows[1][:2] == ["job", "Boathouse gate"]
    inputs = load(ROOT / "gallery" / "boathouse-gate" / "job.toml").digest
    begun = [row[1] for row in rows if row[0] == "bar begun"]
    assert len(begun) == 2
    assert all(name.endswith(f" {inputs}") for name in begun)
    assert sorted(row[:2] for row in rows[2:] if row[0] != "bar begun") == [
        ["bar used", "FLAT 50x10"],
        ["bar used", "SHS 40x40x3"],
        ["length left", "FLAT 50x10"],
        ["length left", "SHS 40x40x3"],
        ["piece", "PANEL-2"],
        ["piece", "STRAP"],
        ["revision", rows[2][1]],
        ["spoiled", "STRAP"],
    ]
    work = read_work(tmp_path / "done.csv", load(ROOT / "gallery" / "boathouse-gate" / "job.toml"))
    assert [(one.mark, one.count) for one in work.of(work.revision).spoiled] == [("STRAP", 1)]
    done = work.done
    assert done.good == {"STRAP": 2, "PANEL-2": 1}
    assert [(bar.length, bar.quantity) for bar in done.used] == [(6000, 1), (6000, 1)]
    # Three straps of 1060 and their kerfs are off the one bar, a tube of 540 to its long point off the other.
    left = {bar.section: bar.length for bar in done.left}
    assert 6000 - 3 * 1070 - 100 < left["FLAT 50x10"] < 6000 - 3 * 1060
    assert 6000 - 540 - 150 < left["SHS 40x40x3"] < 6000 - 540 + 60


def test_start_anew_asks_first(opened: Open) -> None:
    page = opened("hatch-frame")
    tick(page, "b1-1-1")
    page.once("dialog", lambda dialog: dialog.dismiss())
    page.locator("#anew").click()
    assert shows(page, "done") == "1"
    page.once("dialog", lambda dialog: dialog.accept())
    page.locator("#anew").click()
    read_again(page)
    assert shows(page, "done") == "0"


def test_only_what_is_to_do_is_shown(opened: Open) -> None:
    page = opened("hatch-frame", "desk")
    tick(page, "b1-1-1")
    page.locator("#only").click()
    assert not page.locator("#b1-1-1").is_visible()
    assert page.locator("#b1-1-2").is_visible()
    page.locator("#only").click()
    assert page.locator("#b1-1-1").is_visible()


@pytest.mark.parametrize("size", ["phone", "desk"])
def test_the_keyboard_alone_is_enough(opened: Open, size: str) -> None:
    """Tab goes through everything that can be done; space ticks; the button for the next cut brings its box."""
    page = opened("hatch-frame", size)
    wanted = page.locator("input, button, summary, a[href], [tabindex='0']").evaluate_all(
        "found => found.filter(one => one.checkVisibility()).length"
    )
    met = set()
    for _ in range(wanted + 1):
        page.keyboard.press("Tab")
        met.add(page.evaluate("[...document.querySelectorAll('*')].indexOf(document.activeElement)"))
    assert len(met) >= wanted
    page.locator("#next").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Space")
    assert ticked(page) == ["b1-1-1"]
    page.locator("#next").press("Enter")
    focused = page.evaluate("document.activeElement.id")
    assert focused == "b1-1-2"
    box, top = page.locator("#b1-1-2").bounding_box(), page.locator("header").bounding_box()
    assert top["y"] + top["height"] <= box["y"] <= page.viewport_size["height"] - box["height"]
    outline = page.locator("#b1-1-2").evaluate("one => getComputedStyle(one).outlineStyle")
    assert outline != "none"


@pytest.mark.parametrize("name", JOBS)
@pytest.mark.parametrize("size", ["phone", "desk"])
def test_targets_are_large_and_nothing_runs_out_of_the_screen(opened: Open, name: str, size: str) -> None:
    page = opened(name, size)
    page.evaluate(OPENED)
    found = page.locator("input, button, summary, a[href]").evaluate_all(
        "found => found.map(one => [one.outerHTML.slice(0, 80), one.getBoundingClientRect().width, "
        "one.getBoundingClientRect().height])"
    )
    assert [one for one in found if min(one[1:]) < LEAST] == []
    assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]


@pytest.mark.parametrize("name", JOBS)
@pytest.mark.parametrize("size", ["phone", "desk"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(opened: Open, name: str, size: str, scheme: str) -> None:
    from axe_playwright_python.base import AXE_SCRIPT

    page = opened(name, size, scheme)
    page.evaluate(OPENED)
    tick(page, "b1-1-1")
    page.evaluate(AXE_SCRIPT)
    found = page.evaluate("axe.run()")["violations"]
    assert [(one["id"], one["impact"], [node["html"][:120] for node in one["nodes"]][:3]) for one in found] == []


def test_colours_follow_light_and_dark(opened: Open) -> None:
    shade = "getComputedStyle(document.body).backgroundColor"
    light, dark = (opened("hatch-frame", scheme=scheme).evaluate(shade) for scheme in ("light", "dark"))
    assert (light, dark) == ("rgb(255, 255, 255)", "rgb(16, 18, 20)")


def test_a_great_run_is_counted(opened: Open) -> None:
    page = opened("large numbers")
    page.locator("input[type=number]").nth(1).fill("1200")
    page.locator("h1").click()
    read_again(page)
    assert (shows(page, "done"), shows(page, "all")) == ("1200", str(2 * 9999 + 2 * 8888))
    assert shows(page, "good", '[data-piece="N1"]') == "1200"


def test_print_leaves_the_buttons_out(opened: Open) -> None:
    page = opened("hatch-frame", "desk", "dark")
    page.emulate_media(media="print")
    assert not page.locator("#next").is_visible()
    assert not page.locator("#write").is_visible()
    assert page.locator("#b1-1-1").is_visible()
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"


STAIR = ROOT / "gallery" / "boathouse-gate"


def stair(folder: Path) -> Path:
    """Eight posts, four stringers and six braces, all of them blanks first; POST on the one bar 1."""
    (folder / "saw.toml").write_bytes((STAIR / "saw.toml").read_bytes())
    (folder / "stair.toml").write_bytes((STAIR / "stair.toml").read_bytes())
    return folder / "stair.toml"


def written(page: Any, file: Path) -> list[list[str]]:
    with page.expect_download() as download:
        page.locator("#write").click()
    download.value.save_as(file)
    return list(csv.reader(io.StringIO(file.read_text(encoding="utf-8"))))


def test_ticks_of_blanks_and_second_ends_and_recuts_are_rows(
    chromium: Any, opened: Open, sheet: Callable[[str], Path], tmp_path: Path
) -> None:
    """A blank is no good piece; three second ends of eight posts make three, and the rest has the other five first."""
    path = stair(tmp_path)
    for number, work in enumerate((None, "done.csv")):
        job = load(path)
        job = rest_of(job, read_work(tmp_path / work, job)) if work else job
        sheet("hatch-frame").with_name(f"stair-{number}.html").write_bytes(cut_sheet_page(solve(job)))
        page = chromium.new_context(offline=True, accept_downloads=True).new_page()
        page.goto(sheet("hatch-frame").with_name(f"stair-{number}.html").as_uri())
        if work is None:
            tick(page, *(f"b1-1-{cut}" for cut in range(1, 10)), "r1-1", "r1-2", "r1-3", "b2-1-1")
            assert shows(page, "good", '[data-piece="POST"]') == "3"
            rows = written(page, tmp_path / "done.csv")
            told = {(row[0], row[1].partition(" ")[0]): row[3] for row in rows}
            for what in (("piece", "POST"), ("right later", "POST"), ("bar cut", "1.1"), ("bar begun", "2.1")):
                assert what in told, told
            assert (told["piece", "POST"], told["right later", "POST"], told["bar begun", "E1"]) == ("3", "5", "1")
            done = read_work(tmp_path / "done.csv", load(path)).of(job.head.revision)
            assert (done.good, done.blanks_of("POST"), len(done.bars), len(done.begun)) == ({"POST": 3}, 5, 1, 2)
        else:
            tick(page, "a1-1", "a1-2")
            rows = written(page, tmp_path / "more.csv")
            assert ["second end", "POST", rows[3][2], "2", ""] == rows[3]
            assert rows[4] == ["piece", "POST", "", "2", ""]
            assert rows[5][:2] == ["bar begun", f"R1 {job.digest}"]
        page.context.close()
