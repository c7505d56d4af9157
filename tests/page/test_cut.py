"""One cut on the screen: what the address asks for, the same figures as the command line, refusals in its words.

Angles are worked out by hand: a corner of 90 is halved, rise and run is an arctangent, from the bar counts from 90.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from math import atan, ceil, degrees
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlsplit

import html5lib
import pytest

from mitertool.cli.main import run
from mitertool.page.asked import address, asked
from mitertool.page.cut_asked import CutAsked, read
from mitertool.page.folder import Folder
from tests.page.conftest import Asks
from tests.page.test_pages import valid

PART = {"hx-request-type": "partial"}
BY_SLIDER = {**PART, "hx-source": "input#turn"}
Told = Callable[..., dict[str, Any]]


@pytest.fixture
def told(shop: Path, capsys: pytest.CaptureFixture[str]) -> Told:
    """What `mitertool cut --json` tells."""

    def record(*arguments: str) -> dict[str, Any]:
        capsys.readouterr()
        run(["cut", *arguments, "--json"])
        answer: dict[str, Any] = json.loads(capsys.readouterr().out)
        return answer

    return record


def rows_of(text: str) -> dict[str, str]:
    """The words and values of the page's lists."""
    tree = html5lib.parse(text, namespaceHTMLElements=False)
    pairs = (("".join(one.itertext()).strip() for one in (row.find("dt"), row.find("dd"))) for row in tree.iter("div"))
    rows = [tuple(pair) for pair, row in zip(pairs, tree.iter("div"), strict=True) if row.find("dt") is not None]
    return {word: value for word, value in rows if word}


def to_a_tenth(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")


@pytest.mark.parametrize(
    ("name", "miter", "saw"),
    [
        ("RHS 80x40x3", "45", "saws/hinged.toml"),
        ("L 80x60x7", "-22.5", "saws/column.toml"),
        ("UPN 120", "30", "boathouse-gate/saw.toml"),
    ],
)
def test_the_figures_are_those_of_the_command(
    asks: Asks, told: Told, shop: Path, name: str, miter: str, saw: str
) -> None:
    text = asks().get("/cut", params={"section": name, "angle": miter, "saw": saw}).text
    record = told(name, "--miter", miter, "--saw", str(shop / saw))
    rows = rows_of(text)
    assert rows["face along the blade"] == to_a_tenth(record["width_mm"])
    assert rows["face up the blade's plane"] == to_a_tenth(record["height_mm"])
    assert rows["largest contact"] == to_a_tenth(record["largest_contact_mm"])
    assert rows["kerf along the bar"] == f"{record['kerf_along_mm']:.2f}".rstrip("0").rstrip(".")
    assert rows["scale reads"].rstrip("°") == f"{record['reach']['scale_deg']:.2f}".rstrip("0").rstrip(".")
    valid(text)


@pytest.mark.parametrize(
    ("way", "angle", "miter"),
    [
        ("square", "22.5", 22.5),
        ("corner", "90", 45),
        ("corner", "-120", -30),
        ("bar", "60", 30),
        ("bar", "-60", -30),
        ("slope", "3:12", degrees(atan(3 / 12))),
        ("slope", "-3:12", -degrees(atan(3 / 12))),
    ],
)
def test_an_angle_in_every_way(shop: Path, way: str, angle: str, miter: float) -> None:
    found = read(CutAsked(way=way, angle=angle), Folder.of(shop))
    assert found.cut.miter == pytest.approx(miter, abs=1e-12)


def test_the_arm_goes_from_lifted_clear_by_first_touch_to_through(asks: Asks, told: Told, shop: Path) -> None:
    """A fifth of the slider is above the bar, whatever the cut, and its marks tell the positions of the command."""
    record = told("L 80x60x7", "--miter", "38", "--saw", str(shop / "saws/hinged.toml"))["reach"]
    cut = {"section": "L 80x60x7", "angle": "38", "saw": "saws/hinged.toml"}
    keys = {"0": "arm_lift_deg", "200": "first_touch_deg", "1000": "through_deg"}
    for arm, key in keys.items():
        answer = asks().get("/cut/blade", params={**cut, "arm": arm}, headers=PART)
        assert rows_of(answer.text)["arm above rest"] == f"{record[key]:.2f}°"
        valid(f"<!doctype html><title>a</title>{answer.text}")
    whole = asks().get("/cut", params=cut).text
    assert rows_of(answer.text)["cut so far"] == rows_of(whole)["face area"]
    lifted = ceil(record["arm_lift_deg"] * 100 - 1e-6) / 100  # as the step tells it: no less
    told = {"lifted clear": lifted, "first touch": record["first_touch_deg"], "through": record["through_deg"]}
    assert all(f"{word} at {position:.2f}°" in whole for word, position in told.items())
    above = rows_of(asks().get("/cut/blade", params={**cut, "arm": "100"}, headers=PART).text)
    assert (above["steel on the blade here"], above["walls it is in"], above["cut so far"]) == ("0", "0", "0 cm2")
    half = (record["arm_lift_deg"] + record["first_touch_deg"]) / 2
    assert above["arm above rest"] == f"{half:.2f}°"


def test_the_slider_of_the_miter_goes_before_what_is_typed(asks: Asks) -> None:
    cut = {"way": "corner", "angle": "90", "turn": "12.5", "lay": "90"}
    answer = asks().get("/cut", params=cut, headers=BY_SLIDER)
    kept = parse_qs(urlsplit(answer.headers["hx-replace-url"]).query)
    assert kept == {"angle": ["12.5"], "lay": ["90"]}
    assert 'id="angle" name="angle" value="12.5"' in answer.text
    typed = asks().get("/cut", params=cut, headers={**PART, "hx-source": "form#cut"})
    assert parse_qs(urlsplit(typed.headers["hx-replace-url"]).query)["angle"] == ["90"]
    assert 'value="45"' in typed.text  # the slider stands where half of 90 is


def test_the_address_holds_everything(asks: Asks) -> None:
    wanted = CutAsked("UPN 120", "90", "corner", "100", "5", "left", "750", "in", "saws/column.toml", "300")
    sent = address("/cut", wanted)
    assert asked(CutAsked, {name: found[0] for name, found in parse_qs(urlsplit(sent).query).items()}) == wanted
    answer = asks().get(sent)
    assert answer.status_code == 200
    valid(answer.text)


def test_a_miter_dragged_and_not_answered_comes_with_the_arm(asks: Asks) -> None:
    """The slider stands at 38 for 38.2, its nearest notch; at 20 it was dragged, and the whole cut is told."""
    cut = {"section": "RHS 80x40x3", "angle": "38.2", "saw": "saws/hinged.toml", "arm": "1000"}
    still = asks().get("/cut/blade", params={**cut, "turn": "38"}, headers=PART)
    assert still.headers["hx-retarget"] == "#blade"
    dragged = asks().get("/cut/blade", params={**cut, "turn": "20"}, headers=PART)
    assert dragged.headers["hx-retarget"] == "#answer"
    kept = parse_qs(urlsplit(dragged.headers["hx-replace-url"]).query)
    assert (kept["angle"], kept["arm"]) == (["20"], ["1000"])


def test_the_shops_table_is_asked_for_the_grade_that_is_given(asks: Asks) -> None:
    """The hinged saw's file has 66 m/min for S235JRH with a wall of 2 to 5 mm, and no row of thin walls for any."""
    cut = {"section": "RHS 80x40x3", "angle": "45", "saw": "saws/hinged.toml"}
    told = {grade: asks().get("/cut", params={**cut, "grade": grade}).text for grade in ("", "none", "S235JRH")}
    assert "no grade is given" in told[""] and "no row for this grade and wall" in told["none"]
    assert "66 m/min" in told["S235JRH"] and "no row for this grade" not in told["S235JRH"]


def test_names_come_as_one_types(asks: Asks) -> None:
    answer = asks().get("/cut", params={"section": "rhs80x4"}, headers=PART)
    assert '<option value="RHS 80x40x3">' in answer.text
    assert answer.headers["hx-retarget"] == "#wrong"  # no such section yet: the pictures stay


def test_a_wrong_name_offers_the_nearest(asks: Asks) -> None:
    answer = asks().get("/cut", params={"section": "RHS 80x40x99", "angle": "30"})
    assert answer.status_code == 400
    assert 'href="/cut?section=RHS+80x40x4&amp;angle=30"' in answer.text
    valid(answer.text)


@pytest.mark.parametrize(
    ("field", "text"),
    [
        *(("angle", "forty"), ("angle", "95"), ("bevel", "x"), ("lay", "upside"), ("length", "-3"), ("units", "ell")),
        *(("way", "sideways"), ("end", "middle"), ("arm", "1001"), ("saw", "../saw.toml"), ("angle", "<b>")),
    ],
)
def test_what_is_refused_is_said_and_the_pictures_stay(asks: Asks, field: str, text: str) -> None:
    answer = asks().get("/cut", params={field: text}, headers=PART)
    assert (answer.status_code, answer.headers["hx-retarget"]) == (200, "#wrong")
    assert 'role="alert"' in answer.text
    assert "<svg" not in answer.text
    assert "<b>" not in answer.text
    whole = asks().get("/cut", params={field: text})
    assert whole.status_code == 400
    valid(whole.text)


SHORT = """
[saw]
name = "short of room"
kind = "hinged"
kerf = 1
invented = true
[vise]
fixed_jaw = "left"
grip = 0
[scale]
square = 0
positive = "feed-side"
feed_side_most = 60
discharge_side_most = 60
[bed]
swing_axis = 0
[[obstacle]]
name = "post"
side = "feed"
stands = "moving-jaw"
depth = 60
edge = 50
"""


def test_what_is_in_the_way_is_told_with_its_distance(asks: Asks, shop: Path) -> None:
    """At 45 the blade leaves the square line by as much as it lies across: 40 of bar, 60 of post, and half a kerf.

    100 + 0.5/cos 45 = 100.71 where the post stands at 50; a limit is rounded away from harm.
    """
    (shop / "short.toml").write_text(SHORT, encoding="utf-8")
    answer = asks().get("/cut", params={"section": "RHS 80x40x3", "angle": "45", "saw": "short.toml"})
    assert "Short by 50.8." in answer.text
    assert '<g class="wrong"' in answer.text
    valid(answer.text)
    tree = html5lib.parse(answer.text, namespaceHTMLElements=False)
    (other, *_) = [one.get("href") for one in tree.iter("a") if one.get("class") == "lay"]
    assert parse_qs(urlsplit(other).query)["lay"] == ["180"]  # the blade then swings away from the post
    turned = asks().get(other)
    assert "cannot be cut" not in turned.text
    assert '<g class="wrong"' not in turned.text


def test_where_no_lay_makes_the_cut_no_roll_is_offered(asks: Asks) -> None:
    cut = {"section": "RHS 80x40x3", "angle": "-75", "saw": "saws/hinged.toml"}
    says = asks().get("/cut", params=cut).text
    assert "no lay in which it lies safely makes this cut" in says and "no hindrance" not in says


def test_where_no_lay_makes_the_cut_it_is_said(asks: Asks) -> None:
    """This arm does not swing to the discharge side, and an angle does not lie safely on its head."""
    cut = {"section": "L 80x60x7", "angle": "-20", "saw": "saws/hinged.toml"}
    assert "no lay in which it lies safely makes this cut" in asks().get("/cut", params=cut).text


def test_without_a_saw_it_shows_face_piece_and_bar(asks: Asks) -> None:
    text = asks().get("/cut", params={"saw": "", "angle": "45"}).text
    rows = rows_of(text)
    assert rows["long point"] == "500"
    assert rows["short point"] == "460"  # 40 wide at 45 degrees
    assert 'id="arm"' not in text
    valid(text)
    blade = asks().get("/cut/blade", params={"saw": "", "arm": "500"})
    assert (blade.status_code, "<svg" in blade.text) == (200, False)


def test_the_usual_length_is_the_same_in_any_units(asks: Asks) -> None:
    """500 mm are 19.685 in."""
    rows = rows_of(asks().get("/cut", params={"saw": "", "units": "in", "angle": "30"}).text)
    assert rows["long point"] == '19.685"'


@pytest.mark.parametrize(
    ("name", "miter", "says"),
    [
        ("RHS 80x40x3", "30", "Rolled half a turn instead: scale reads -30°, arm 30° to discharge side."),
        ("RHS 80x40x3", "0", ""),
        ("L 80x60x7", "20", "Rolled half a turn instead: L 80x60x7 does not lie safely rolled half a turn"),
    ],
)
def test_what_a_roll_would_do(asks: Asks, shop: Path, name: str, miter: str, says: str) -> None:
    """This scale reads 0 at a square cut and grows to the feed side; rolled half a turn the arm swings to the other."""
    (shop / "roomy.toml").write_text(SHORT.replace("edge = 50", "edge = 500"), encoding="utf-8")
    text = asks().get("/cut", params={"section": name, "angle": miter, "saw": "roomy.toml"}).text
    assert says in text
    assert ("Rolled half a turn" in text) == bool(says)
