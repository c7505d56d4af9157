"""A saw file on the page: every key and how it is measured, refused at its key, drawn as typed, written by a button."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import html5lib
import pytest

import mitertool as mt
from mitertool.saw.file.form import SAW_FORM
from mitertool.saw.file.keys import ARM_KEYS, TABLES
from tests.page.conftest import HOST, ROOT, Asks

SAW = "saws/hinged.toml"
FORM = {"origin": f"http://{HOST}"}


def text_of(page: str) -> str:
    tree = html5lib.parse(page, namespaceHTMLElements=False)
    return re.sub(r"\s+", " ", " ".join(tree.itertext()))


def typed(page: str, number: int = 0) -> dict[str, str]:
    """What the form of a saw holds as it is opened, as a browser would send it; 1: that of one obstacle more."""
    tree = html5lib.parse(page, namespaceHTMLElements=False)
    form = [one for one in tree.iter("form") if one.get("action") == "/saw/save"][number]
    found = {one.get("name"): one.get("value") or "" for one in form.iter("input")}
    for select in form.iter("select"):
        chosen = [one.text or "" for one in select.iter("option") if one.get("selected") is not None]
        found[select.get("name")] = next(iter(chosen), "")
    return {name: value for name, value in found.items() if name}


@pytest.mark.parametrize("saw", ["saws/hinged.toml", "saws/column.toml", "boathouse-gate/saw.toml"])
def test_a_saw_has_every_key_of_its_kind(asks: Asks, shop: Path, saw: str) -> None:
    page = asks().get("/saw", params={"file": saw}).text
    html5lib.HTMLParser(strict=True).parse(page)
    kind = mt.Saw.load(shop / saw).kind
    names = set(typed(page))
    for table in ("saw", "scale", "tilt", "bed", "guides", "vise", "feed", "blade", "cost", "handling"):
        assert {f"{table}||{key}" for key in TABLES[table].keys} <= names
    assert {f"arm||{key}" for key in ARM_KEYS[kind].keys} == {name for name in names if name.startswith("arm|")}
    assert "Tape from the face of the fixed jaw" in text_of(page) or "fixed jaw" in text_of(page)
    assert page.count("<svg") == 4


def test_a_form_that_is_not_changed_changes_nothing(asks: Asks, shop: Path) -> None:
    client, before = asks(), (shop / SAW).read_bytes()
    given = typed(client.get("/saw", params={"file": SAW}).text)
    answer = client.post("/saw/save", data={**given, "do": "form"}, headers=FORM, follow_redirects=False)
    assert answer.status_code == 303 and (shop / SAW).read_bytes() == before


def test_a_figure_is_written_and_every_comment_stays(asks: Asks, shop: Path) -> None:
    client, before = asks(), (shop / SAW).read_text("utf-8")
    given = typed(client.get("/saw", params={"file": SAW}).text)
    changed = {**given, "bed||swing_axis": "31.5", "obstacle|0|edge": "40", "do": "form"}
    client.post("/saw/save", data=changed, headers=FORM)
    lines = zip(before.splitlines(), (shop / SAW).read_text("utf-8").splitlines(), strict=True)
    assert [b.split("#")[0].strip() for a, b in lines if a != b] == ["swing_axis = 31.5", "edge = 40"]


@pytest.mark.parametrize(
    ("key", "value", "slot"),
    [
        ("saw||kerf", "-1", "saw--kerf"),
        ("scale||square", "45", "scale--square"),
        ("guides||opening_least", "9000", "guides--opening_most"),
        ("obstacle|1|depth", "0", "obstacle-1-depth"),
        ("arm||hinge_z", "", "arm--hinge_z"),
    ],
)
def test_a_figure_is_refused_at_its_key(asks: Asks, shop: Path, key: str, value: str, slot: str) -> None:
    client, before = asks(), (shop / SAW).read_bytes()
    given = {**typed(client.get("/saw", params={"file": SAW}).text), key: value}
    live = client.post("/saw/draw", data=given, headers={**FORM, "hx-request-type": "partial"}).text
    at_key = re.findall(r'id="wrong-([^"]+)"[^>]*>([^<]+)<', live)
    assert [place for place, _ in at_key] == [slot]
    saved = client.post("/saw/save", data={**given, "do": "form"}, headers=FORM)
    html5lib.HTMLParser(strict=True).parse(saved.text)
    assert saved.status_code == 400 and "Nothing was written." in saved.text
    assert re.findall(r'id="wrong-([^"]+)"[^>]*>[^<]+<', saved.text) == [slot]
    assert typed(saved.text)[key] == value  # what was typed stays there to be mended
    assert (shop / SAW).read_bytes() == before


def test_the_last_drawing_that_held_stays_and_says_so(asks: Asks) -> None:
    """While one types it is the refusal that bears the mark by which the drawing says it; on a page anew its own."""
    client, words = asks(), "This is the last one that held"
    page = client.get("/saw", params={"file": SAW}).text
    (held,) = re.findall(r'<section id="drawn" class="([^"]*)"', page)
    assert held == "holds" and words in page
    given = {**typed(page), "saw||kerf": "-1"}
    live = client.post("/saw/draw", data=given, headers={**FORM, "hx-request-type": "partial"}).text
    assert 'class="wrong stands-behind" role="alert"' in live and "<svg" not in live
    saved = client.post("/saw/save", data={**given, "do": "form"}, headers=FORM).text
    assert re.findall(r'<section id="drawn" class="([^"]*)"', saved) == ["holds stale"]
    assert words in saved and saved.count("<figure><svg") == page.count("<figure><svg")


def test_the_saw_is_drawn_as_it_is_typed(asks: Asks, shop: Path) -> None:
    client, before = asks(), (shop / SAW).read_bytes()
    given = typed(client.get("/saw", params={"file": SAW}).text)
    pictures = []
    for axis in ("28", "60"):
        part = client.post("/saw/draw", data={**given, "bed||swing_axis": axis}, headers=FORM).text
        pictures.append(part.partition("<figure>")[2].partition("</figure>")[0])
        assert "120°" in part
    assert pictures[0] != pictures[1] and all("<svg" in one for one in pictures)
    assert (shop / SAW).read_bytes() == before


def test_an_obstacle_more_and_one_less(asks: Asks, shop: Path) -> None:
    client = asks()
    page = client.get("/saw", params={"file": SAW}).text
    more = {"file": SAW, "version": typed(page)["version"], "table": "obstacle", "do": "add"}
    keys = {"k-name": "lamp", "k-side": "feed", "k-stands": "across", "k-depth": "100", "k-edge": "90", "k-height": ""}
    client.post("/saw/save", data={**more, **keys}, headers=FORM)
    assert tomllib.loads((shop / SAW).read_text("utf-8"))["obstacle"][3] == {
        "name": "lamp",
        "side": "feed",
        "stands": "across",
        "depth": 100,
        "edge": 90,
    }
    given = typed(client.get("/saw", params={"file": SAW}).text)
    client.post("/saw/save", data={**given, "do": "take-obstacle-3"}, headers=FORM)
    assert len(mt.Saw.load(shop / SAW).obstacles) == 3


def test_an_obstacle_that_is_refused_stays_typed(asks: Asks) -> None:
    client = asks()
    more = {
        "file": SAW,
        "version": typed(client.get("/saw", params={"file": SAW}).text)["version"],
        "table": "obstacle",
    }
    keys = {"k-name": "lamp", "k-side": "discharge", "k-stands": "across", "k-depth": "-100", "k-edge": "90"}
    refused = client.post("/saw/save", data={**more, **keys, "do": "add"}, headers=FORM)
    again = typed(refused.text, 1)
    assert refused.status_code == 400 and {key: again[key] for key in keys} == keys


def test_a_file_changed_meanwhile_is_not_overwritten(asks: Asks, shop: Path) -> None:
    client = asks()
    given = typed(client.get("/saw", params={"file": SAW}).text)
    other = (shop / SAW).read_text("utf-8") + "# by somebody else\n"
    (shop / SAW).write_text(other, "utf-8")
    seen = {"file": SAW, "version": given["version"], "at": "saw"}
    assert 'href="/saw?file=saws%2Fhinged.toml"' in client.get("/job/changed", params=seen).text
    answer = client.post("/saw/save", data={**given, "saw||kerf": "1.5", "do": "form"}, headers=FORM)
    assert answer.status_code == 400 and "changed on disk" in answer.text
    assert (shop / SAW).read_text("utf-8") == other


def test_a_new_saw(asks: Asks, shop: Path) -> None:
    given = {
        "name": "Our saw",
        "units": "mm",
        "kind": "hinged",
        "kerf": "1.3",
        "square": "90",
        "positive": "feed-side",
        "feed_side_most": "60",
        "discharge_side_most": "45",
        "fixed_jaw": "right",
    }
    answer = asks().post("/saw/new", data=given, headers=FORM, follow_redirects=False)
    assert answer.headers["location"] == "/saw?file=Our_saw.toml&saved=yes"
    written = asks().get(answer.headers["location"]).text
    assert "Saved as Our_saw.toml." in written and 'href="/frame?saw=Our_saw.toml"' in written
    saw = mt.Saw.load(shop / "Our_saw.toml")
    assert (saw.name, saw.kerf, saw.fixed_jaw, saw.scale.reading(30)) == ("Our saw", 1.3, "right", 120)
    page = asks().get("/saw", params={"file": "Our_saw.toml"})
    html5lib.HTMLParser(strict=True).parse(page.text)
    bad = asks().post("/saw/new", data={**given, "name": "Other", "kerf": "x"}, headers=FORM)
    assert bad.status_code == 400 and not (shop / "Other.toml").exists()


def test_a_table_that_is_emptied_goes() -> None:
    text = (ROOT / "gallery" / "saws" / "column.toml").read_text("utf-8")
    tilt = next(one for one in SAW_FORM.read(text, "f") if one.table == "tilt")
    emptied = {("tilt", None, field.key): "" for field in tilt.fields}
    assert "tilt" not in tomllib.loads(SAW_FORM.filled_in(text, "f", emptied))
