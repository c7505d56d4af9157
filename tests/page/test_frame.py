"""Frames and corners on the page: the figures of the command, live parts, and a job written of a frame."""

from __future__ import annotations

import re
import shutil
import tomllib
from pathlib import Path

import ezdxf
import html5lib
import pytest

from mitertool.cli.main import run
from mitertool.page.frame_asked import USUAL
from tests.page.conftest import HOST, ROOT, Asks

FORM = {"origin": f"http://{HOST}"}
PART = {"hx-request-type": "partial"}


def text_of(page: str) -> str:
    tree = html5lib.parse(page, namespaceHTMLElements=False)
    return re.sub(r"\s+", " ", " ".join(tree.itertext()))


@pytest.mark.parametrize(
    ("lay", "says"), [("", "40 in the plane"), ("90", "80 in the plane"), ("0", "40 in the plane")]
)
def test_it_says_which_face_of_a_tube_lies_in_the_plane(asks: Asks, lay: str, says: str) -> None:
    """RHS 80x40 stands on its narrow side until it is turned: what lies in the plane goes off the long point twice."""
    asked = {"shape": "rectangle", **USUAL["rectangle"], "section": "RHS 80x40x3", "lay": lay, "saw": ""}
    page = asks().get("/frame", params=asked).text
    assert f"RHS 80x40x3 lies with {says}" in page
    assert f'<td data-says="short point">{1200 - 2 * int(says[:2])}</td>' in page
    first, _, _ = page.partition("More keys")
    assert 'name="lay"' in first
    assert "in the plane" not in asks().get("/frame", params={**asked, "section": "SHS 50x50x3"}).text


@pytest.mark.parametrize("shape", [shape for shape in USUAL if shape != "drawing"])
def test_every_shape_shows_a_frame_at_once(asks: Asks, shape: str) -> None:
    answer = asks().get("/frame", params={"shape": shape, "saw": ""})
    html5lib.HTMLParser(strict=True).parse(answer.text)
    assert answer.status_code == 200
    assert "F-1" in answer.text and "<svg" in answer.text


def test_it_has_the_corners_and_the_stops_of_a_frame(asks: Asks) -> None:
    """A frame 1200 wide whose posts are 900 and 1200 high, 50 wide: corner 3 is the upper right one, and a bar put 300
    from its left inside lands 300 - 20 / 2 along the sill."""
    sizes = {"width": "1200", "height": "900", "right_height": "1200", "measured": "outside"}
    inside = "bars='uprights', section='ROUND 20', at=[300]"
    asked = {"shape": "sloping", "section": "SHS 50x50x3", **sizes, "inside": inside, "saw": ""}
    told = text_of(asks().get("/frame", params=asked).text)
    assert re.search(r"3 F-1 to F-2 75.96° [\d.]+ 1200 1200 ", told)
    assert "F-2, corners 4 to 3 outside 1200 0 1200 1200 90°" in told
    assert "F-3, corners 1 to 4 F-5 290" in told


SAME = [
    ("rectangle", {"section": "RHS 40x80x3; SHS 50x50x3", "width": "1200", "height": "800", "measured": "outside"}),
    ("polygon", {"section": "RHS 60x40x3", "points": "0,0 0,900 1200,0", "measured": "centerline"}),
    ("brace", {"section": "SHS 50x50x3", "rise": "900", "run": "1200", "ends": "level plumb"}),
    ("hopper", {"thickness": "5", "sides": "4", "bottom": "300 200", "top": "800 500", "height": "400",
                "measured": "inside"}),
    ("rail", {"section": "RHS 60x40x3", "flights": "1600,1000 900,0 1600,1000,90", "ends": "plumb square"}),
    ("bend", {"section": "CHS 60.3x4", "radius": "150", "angle": "60", "cuts": "2", "tangents": "100 50"}),
]  # fmt: skip


@pytest.mark.parametrize(("shape", "keys"), SAME)
def test_the_figures_are_those_of_the_command(
    asks: Asks, capsys: pytest.CaptureFixture[str], shape: str, keys: dict[str, str]
) -> None:
    """Every line that the command prints, the head of its table aside, stands on the page."""
    typed = [("section", one.strip()) for one in keys.get("section", "").split(";") if one]
    typed += [(key, value) for key, value in keys.items() if key != "section"]
    options = [part for key, value in typed for part in (f"--{key}", value)]
    run(["frame", shape, *options, "--saw", "none"])
    said = capsys.readouterr().out.splitlines()
    found = text_of(asks().get("/frame", params={"shape": shape, "saw": "", **keys}).text)
    assert len(said) > 2
    for line in said:
        assert " ".join(line.split()) in found


def test_a_part_tells_the_address(asks: Asks) -> None:
    asked = {"shape": "rectangle", "section": "SHS 50x50x3", "width": "900", "height": "600", "measured": "inside"}
    answer = asks().get("/frame", params={**asked, "saw": "saws/hinged.toml"}, headers=PART)
    assert answer.text.startswith("<section id=") and "<html" not in answer.text
    again = asks().get(answer.headers["HX-Replace-Url"])
    assert 'value="900"' in again.text and "123.69" not in again.text and "135°" in again.text


@pytest.mark.parametrize("bad", [{"width": "-5"}, {"section": "SHS 1x1x1"}, {"measured": "<b>"}, {"units": "ell"}])
def test_what_is_wrong_is_told_and_the_picture_stays(asks: Asks, bad: dict[str, str]) -> None:
    asked = {"shape": "rectangle", **USUAL["rectangle"], "saw": "", **bad}
    part = asks().get("/frame", params=asked, headers=PART)
    assert part.headers["HX-Retarget"] == "#wrong" and "<b>" not in part.text
    page = asks().get("/frame", params=asked)
    html5lib.HTMLParser(strict=True).parse(page.text)
    assert page.status_code == 400 and 'role="alert"' in page.text


def test_a_saw_or_a_drawing_of_elsewhere_is_not_read(asks: Asks) -> None:
    usual = {"shape": "rectangle", **USUAL["rectangle"]}
    assert "only files of the folder" in asks().get("/frame", params={**usual, "saw": "../saw.toml"}).text
    drawn = {"shape": "drawing", **USUAL["drawing"], "saw": ""}
    for file in ("../window.dxf", "/etc/hosts"):
        assert "only files of the folder" in asks().get("/frame", params={**drawn, "file": file}).text


def test_a_frame_is_read_off_a_drawing_of_the_folder(
    asks: Asks, shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Chosen among those that lie there, read as the command reads it, and kept as a job that names it."""
    assert "There is no drawing here" in asks().get("/frame", params={"shape": "drawing"}).text
    shutil.copy(ROOT / "gallery" / "loft-window" / "window.dxf", shop / "saws" / "window.dxf")
    first = asks().get("/frame", params={"shape": "drawing"})
    assert first.status_code == 200 and "Choose the drawing" in first.text
    assert "<option>saws/window.dxf</option>" in first.text
    keys = {"section": "SHS 30x30x2", "file": "saws/window.dxf", "layer": "FRAME", "line": "centerline"}
    options = [
        part for key, value in {**keys, "file": str(shop / keys["file"])}.items() for part in (f"--{key}", value)
    ]
    assert run(["frame", "drawing", *options, "--saw", "none"]) == 0
    asked = {"shape": "drawing", **keys, "saw": "", "units": "mm"}
    answer = asks().get("/frame", params=asked)
    for line in capsys.readouterr().out.splitlines():
        assert " ".join(line.split()) in text_of(answer.text)
    asks().post("/frame/save", data={**asked, "job-name": "window"}, headers=FORM)
    assert tomllib.loads((shop / "window.toml").read_text("utf-8"))["frame"][0]["file"] == "saws/window.dxf"
    assert run(["check", str(shop / "window.toml")]) == 0


def test_a_drawing_without_a_unit_is_given_one(asks: Asks, shop: Path) -> None:
    """The unit of the drawing is another than that of bare numbers.

    A square of 12 along its inside, of bars 3 in wide, is 18 in long on the outside: 457.2 mm.
    """
    drawing = ezdxf.new(units=0)
    drawing.modelspace().add_lwpolyline([(0, 0), (12, 0), (12, 12), (0, 12)], close=True)
    drawing.saveas(shop / "square.dxf")
    asked = {"shape": "drawing", "section": "HSS 3x3x1/8", "file": "square.dxf", "line": "inside", "saw": ""}
    assert "the file states no unit" in asks().get("/frame", params=asked).text
    answer = asks().get("/frame", params={**asked, "drawing_units": "in"})
    assert answer.status_code == 200 and "457.2" in text_of(answer.text)


def test_a_frame_is_kept_as_a_job(asks: Asks, shop: Path) -> None:
    asked = {"shape": "rectangle", **USUAL["rectangle"], "saw": "saws/hinged.toml", "units": "mm"}
    given = {"job-name": "My gate", "job-mark": "GATE", "job-stock": "6000", "job-quantity": "2"}
    answer = asks().post("/frame/save", data={**asked, **given}, headers=FORM, follow_redirects=False)
    assert answer.headers["location"] == "/job?file=My_gate.toml&saved=yes"
    found = tomllib.loads((shop / "My_gate.toml").read_text("utf-8"))
    assert found["stock"] == [{"section": "SHS 50x50x3", "length": 6000}]
    frame = {"mark": "GATE", "shape": "rectangle", "section": "SHS 50x50x3", "width": 1200, "height": 800}
    assert found["frame"] == [{**frame, "measured": "outside", "quantity": 2}]
    assert run(["check", str(shop / "My_gate.toml")]) == 0
    again = asks().post("/frame/save", data={**asked, **given}, headers=FORM)
    assert again.status_code == 400 and "choose another" in again.text


def test_bars_are_planned_without_a_saw_where_the_kerf_is_told(asks: Asks, shop: Path) -> None:
    """Of the frame and of what stands inside it; what cannot be read is refused, not left out."""
    inside = "bars = 'uprights', section = 'ROUND 12', clear_most = 110"
    asked = {"shape": "rectangle", **USUAL["rectangle"], "inside": inside, "saw": "", "job-name": "Gate"}
    for bad in ({"job-stock": "6000"}, {"job-stock": "long", "job-kerf": "1.5"}, {"job-quantity": "two"}):
        answer = asks().post("/frame/save", data={**asked, **bad}, headers=FORM)
        assert answer.status_code == 400 and not (shop / "Gate.toml").exists()
    given = {"job-stock": "6.5 m", "job-kerf": "1.5"}
    asks().post("/frame/save", data={**asked, **given}, headers=FORM)
    found = tomllib.loads((shop / "Gate.toml").read_text("utf-8"))
    assert found["nest"] == {"kerf": 1.5}
    assert [(one["section"], one["length"]) for one in found["stock"]] == [
        ("SHS 50x50x3", "6.5 m"),
        ("ROUND 12", "6.5 m"),
    ]
    assert run(["check", str(shop / "Gate.toml"), "--saw", "none"]) == 0


def test_what_stands_in_the_form_is_what_is_written(asks: Asks, shop: Path) -> None:
    """The button that writes a job is of the form itself, so that it sends what is typed, and shows that refused."""
    whole = asks().get("/frame").text
    assert re.search(r'<button type="submit" form="frame" formaction="/frame/save" formmethod="post">', whole)
    assert len(re.findall(r'name="width"', whole)) == 1
    asked = {"shape": "rectangle", **USUAL["rectangle"], "width": "-5", "saw": "", "job-name": "bad"}
    part = asks().get("/frame", params=asked, headers=PART).text
    assert re.search(r'<p id="write" data-hx-swap-oob="true"><button [^>]* disabled>', part)
    answer = asks().post("/frame/save", data=asked, headers=FORM)
    assert answer.status_code == 400 and "-5" in answer.text and 'value="bad"' in answer.text
    assert not (shop / "bad.toml").exists()
    mended = asks().get("/frame", params={**asked, "width": "1300"}, headers=PART).text
    assert re.search(r'<p id="write" data-hx-swap-oob="true"><button [^>]*post">', mended)


@pytest.mark.parametrize(("path", "key"), [("/frame", "width"), ("/cut", "angle"), ("/corner", "angle")])
def test_an_answer_to_something_else_says_so(asks: Asks, path: str, key: str) -> None:
    """The refusal bears the mark by which the answer that stays is shown grey, with its words."""
    whole = asks().get(path).text
    answer = html5lib.parse(whole, namespaceHTMLElements=False).find(".//*[@id='answer']")
    assert answer is not None and "not of what is typed now" in "".join(answer.itertext())
    refused = asks().get(path, params={key: "x"}, headers=PART).text
    assert re.search(r'id="wrong" class="wrong stands-behind" role="alert"', refused)
    assert "stands-behind" not in asks().get(path, params={key: "x"}).text


def test_every_value_of_a_table_has_its_heading_at_hand(asks: Asks) -> None:
    """Where a table does not fit beside each other its values stand below each other, each with what it is."""
    tree = html5lib.parse(asks().get("/frame").text, namespaceHTMLElements=False)
    tables = list(tree.iter("table"))
    assert len(tables) > 1
    for table in tables:
        heads = [one.text for one in table.iter("th")]
        rows = [
            [one.get("data-says") for one in row.iter("td")] for row in table.iter("tr") if row.find("td") is not None
        ]
        assert rows and all(row == heads for row in rows)
    assert heads[0] == "mark"


@pytest.mark.parametrize("hx", [PART, {}])
def test_a_section_without_its_family_is_offered_with_it(asks: Asks, hx: dict[str, str]) -> None:
    """The other section of the frame stays as it is, and so do its sizes."""
    asked = {"shape": "rectangle", **USUAL["rectangle"], "saw": "", "section": "SHS 50x50x3; 60x40x3", "width": "870"}
    text = asks().get("/frame", params=asked, headers=hx).text
    assert "60x40x3. Did you mean:" in text
    links = re.findall(r'<a class="button" href="([^"]+)">([^<]+)</a>', text)
    assert links[0][1] == "RHS 60x40x3"
    again = asks().get(links[0][0].replace("&amp;", "&"))
    assert again.status_code == 200 and 'value="SHS 50x50x3; RHS 60x40x3"' in again.text and "870" in again.text


def test_a_frame_in_inches(asks: Asks) -> None:
    page = asks().get("/frame", params={"shape": "rectangle", "units": "in", "saw": ""}).text
    assert 'value="1200 mm"' in page and '47.244"' in page


@pytest.mark.parametrize(
    ("keys", "options"),
    [
        ({"first": "RHS 80x40x3", "second": "SHS 50x50x3", "angle": "60"}, ("SHS 50x50x3", "--angle", "60")),
        ({"first": "RHS 80x40x3", "slopes": "32 0", "to": "right"}, ("--slopes", "32 0", "--to", "right")),
    ],
)
def test_a_corner_has_the_figures_of_the_command(
    asks: Asks, capsys: pytest.CaptureFixture[str], keys: dict[str, str], options: tuple[str, ...]
) -> None:
    assert run(["corner", "RHS 80x40x3", *options]) == 0
    page = asks().get("/corner", params=keys)
    html5lib.HTMLParser(strict=True).parse(page.text)
    for line in capsys.readouterr().out.splitlines():
        assert " ".join(line.split()) in text_of(page.text)
    assert ("<svg" in page.text) is ("second" in keys)


@pytest.mark.parametrize("bad", [{"angle": "0"}, {"first": "XX"}, {"slopes": "1"}, {"to": "up", "slopes": "1 2"}])
def test_a_bad_corner_is_told(asks: Asks, bad: dict[str, str]) -> None:
    assert asks().get("/corner", params=bad).status_code == 400
    assert asks().get("/corner", params=bad, headers=PART).headers["HX-Retarget"] == "#wrong"


def test_sections_are_offered_as_one_types(asks: Asks) -> None:
    asked = {"shape": "rectangle", **USUAL["rectangle"], "saw": "", "section": "SHS 50x50x3; UPN 1"}
    part = asks().get("/frame", params=asked, headers=PART).text
    assert '<option value="UPN 120">' in part and part.startswith("<div id=")
