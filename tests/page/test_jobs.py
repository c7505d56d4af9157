"""Jobs on the page: listed, begun, shown with their errors in place, changed as form and text, made into packets."""

from __future__ import annotations

import re
import time
import tomllib
from collections.abc import Callable
from math import radians, tan
from pathlib import Path

import html5lib
import pytest
from starlette.testclient import TestClient

from mitertool.base.language import spoken
from mitertool.cli.main import run
from mitertool.job import Job, Solution
from mitertool.page.screens import solved
from tests.page.conftest import HOST, Asks

GATE = "boathouse-gate/job.toml"
FORM = {"origin": f"http://{HOST}"}
PART = {"hx-request-type": "partial"}


def text_of(page: str) -> str:
    """What a reader sees, one space between words."""
    tree = html5lib.parse(page, namespaceHTMLElements=False)
    return re.sub(r"\s+", " ", " ".join(tree.itertext()))


def valid(page: str) -> None:
    html5lib.HTMLParser(strict=True).parse(page)


def valid_part(part: str) -> None:
    """The same of a part of a page."""
    html5lib.HTMLParser(strict=True).parseFragment(part)


def version(page: str) -> str:
    found = re.search(r'name="version" value="([0-9a-f]+)"', page)
    assert found
    return found[1]


def done(client: TestClient, file: str, make: str = "plan") -> str:
    """What came of work on a job, waited for."""
    for _ in range(60):
        answer = client.get("/job/solved", params={"file": file, "make": make}, headers=PART)
        if "<progress" not in answer.text:
            return answer.text
        time.sleep(0.05)
    raise AssertionError("the work does not end")


@pytest.fixture
def small(shop: Path) -> str:
    """A job of one piece that is planned in a moment."""
    (shop / "small.toml").write_text(
        '# for the shed\n[job]\nname = "Shed"\nunits = "mm"   # as drawn\nsaw = "saws/hinged.toml"\n\n'
        '[[stock]]\nsection = "SHS 50x50x3"\nlength = 6000\n\n'
        '[[piece]]\nmark = "A"\nsection = "SHS 50x50x3"\nlength = 870\nleft = 45\nright = 45\nquantity = 2\n',
        encoding="utf-8",
    )
    return "small.toml"


def test_the_list_links_every_job(asks: Asks) -> None:
    page = asks().get("/jobs").text
    valid(page)
    assert 'href="/job?file=boathouse-gate%2Fjob.toml"' in page


def test_a_job_shows_what_check_tells(asks: Asks, shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The table of pieces on the page has the figures of `mitertool check`, cell for cell."""
    client = asks()
    page = client.get("/job", params={"file": GATE}).text
    valid(page)
    found = text_of(done(client, GATE))
    assert run(["check", str(shop / GATE)]) == 0
    said = capsys.readouterr().out.splitlines()
    rows = [line for line in said if line.startswith(("LEAF-", "PANEL-", "STAY", "STRAP"))]
    assert len(rows) == 6
    for row in rows:
        assert " ".join(row.split()) in found
    assert "check measures from corner to corner" in found


def test_bars_and_frames_are_drawn(asks: Asks, small: str) -> None:
    client = asks()
    client.get("/job", params={"file": small})
    part = done(client, small)
    assert part.count("<svg") == 1 and "6000" in text_of(part)
    assert done(client, GATE).count("<svg") >= 3


@pytest.mark.parametrize(
    ("was", "becomes", "shown"),
    [
        ("length = 870", "length = -870", "line 14: length = -870"),
        ('mark = "A"', 'mark = "A"\nquanity = 3', "line 13: quanity = 3"),
        ("[job]", "[job", "line 2: [job"),
    ],
)
def test_an_error_stands_at_its_line(asks: Asks, shop: Path, small: str, was: str, becomes: str, shown: str) -> None:
    path = shop / small
    path.write_text(path.read_text("utf-8").replace(was, becomes), "utf-8")
    page = asks().get("/job", params={"file": small})
    valid(page.text)
    assert shown in text_of(page.text)


def test_a_broken_job_keeps_its_last_good_picture(asks: Asks, shop: Path, small: str) -> None:
    client = asks()
    client.get("/job", params={"file": small})
    assert "870" in done(client, small)
    (shop / small).write_text("[job]\nname = 'Shed'\n", "utf-8")
    page = client.get("/job", params={"file": small}).text
    assert "what was good last" in page and "<svg" in page


def test_a_value_typed_in_the_form(asks: Asks, shop: Path, small: str) -> None:
    client, before = asks(), (shop / small).read_text("utf-8")
    page = client.get("/job", params={"file": small}).text
    given = {"file": small, "version": version(page), "table": "piece", "number": "0", "k-length": "880", "do": "set"}
    answer = client.post("/job/form", data=given, headers=FORM, follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (303, "/job?file=small.toml&saved=yes")
    assert (shop / small).read_text("utf-8") == before.replace("870", "880")


def test_a_piece_more_and_one_less(asks: Asks, shop: Path, small: str) -> None:
    client = asks()
    for more in (
        {"table": "piece", "do": "add", "k-mark": "B", "k-section": "SHS 50x50x3", "k-length": "300"},
        {"table": "piece", "number": "0", "do": "take"},
    ):
        page = client.get("/job", params={"file": small}).text
        client.post("/job/form", data={"file": small, "version": version(page), **more}, headers=FORM)
    assert [one["mark"] for one in tomllib.loads((shop / small).read_text("utf-8"))["piece"]] == ["B"]


def test_what_is_no_job_is_not_written(asks: Asks, shop: Path, small: str) -> None:
    client, before = asks(), (shop / small).read_bytes()
    page = client.get("/job", params={"file": small}).text
    given = {"file": small, "version": version(page), "table": "piece", "number": "0", "k-length": "-3", "do": "set"}
    answer = client.post("/job/form", data=given, headers=FORM)
    assert answer.status_code == 400 and "Nothing was written." in answer.text
    assert "length = -3" in text_of(answer.text) and (shop / small).read_bytes() == before


def test_what_was_typed_and_refused_stays_in_its_form(asks: Asks, small: str) -> None:
    """Open, to be mended; a table that was to be added is no table of the file yet."""
    client = asks()
    page = client.get("/job", params={"file": small}).text
    given = {"file": small, "version": version(page), "table": "piece"}
    changed = client.post("/job/form", data={**given, "number": "0", "k-length": "-3", "do": "set"}, headers=FORM).text
    (block,) = re.findall(r'<details class="block" open>.*?</details>', changed, re.DOTALL)
    assert 'name="number" value="0"' in block and 'name="k-length" value="-3"' in block
    more = {"k-mark": "B", "k-section": "SHS 50x50x99", "k-length": "300", "do": "add"}
    added = client.post("/job/form", data={**given, **more}, headers=FORM).text
    (block,) = re.findall(r'<details class="block" open>.*?</details>', added, re.DOTALL)
    assert 'name="k-section" value="SHS 50x50x99"' in block and 'name="number"' not in block
    assert added.count('name="number"') == page.count('name="number"')


def test_the_text_is_written_as_typed(asks: Asks, shop: Path, small: str) -> None:
    client, before = asks(), (shop / small).read_text("utf-8")
    page = client.get("/job", params={"file": small}).text
    text = before.replace("for the shed", "for the <shed>").replace("\n", "\r\n")
    client.post("/job/text", data={"file": small, "version": version(page), "text": text}, headers=FORM)
    assert (shop / small).read_text("utf-8") == before.replace("for the shed", "for the <shed>")
    assert "&lt;shed&gt;" in client.get("/job", params={"file": small}).text


def test_a_file_changed_meanwhile_is_told_and_never_overwritten(asks: Asks, shop: Path, small: str) -> None:
    client = asks()
    page = client.get("/job", params={"file": small}).text
    seen = {"file": small, "version": version(page)}
    assert "changed on disk" not in client.get("/job/changed", params=seen).text
    other = (shop / small).read_text("utf-8") + "# by somebody else\n"
    (shop / small).write_text(other, "utf-8")
    assert "changed on disk" in client.get("/job/changed", params=seen).text
    answer = client.post("/job/text", data={**seen, "text": "[job]\nname = 'mine'\n" + other[6:]}, headers=FORM)
    again = client.post("/job/form", data={**seen, "table": "job", "k-name": "Mine", "do": "set"}, headers=FORM)
    assert answer.status_code == again.status_code == 400
    assert "changed on disk since you opened it" in again.text
    assert (shop / small).read_text("utf-8") == other


def test_a_new_job(asks: Asks, shop: Path) -> None:
    given = {"name": "My stand", "units": "mm", "saw": "saws/hinged.toml", "mark": "A", "section": "SHS 50x50x3"}
    more = {"length": "500", "left": "45", "right": "", "quantity": "4"}
    answer = asks().post("/jobs/new", data={**given, **more}, headers=FORM, follow_redirects=False)
    assert answer.headers["location"] == "/job?file=My_stand.toml&saved=yes"
    assert "Saved as My_stand.toml." in asks().get(answer.headers["location"]).text
    found = tomllib.loads((shop / "My_stand.toml").read_text("utf-8"))
    assert found["piece"] == [{"mark": "A", "section": "SHS 50x50x3", "length": 500, "left": 45, "quantity": 4}]
    again = asks().post("/jobs/new", data={**given, **more}, headers=FORM)
    assert again.status_code == 400 and "choose another" in again.text


def test_a_packet_is_made_by_a_button_and_opened_file_by_file(asks: Asks, shop: Path, small: str) -> None:
    client = asks()
    client.get("/job", params={"file": small})
    done(client, small)
    assert not (shop / "Shed").exists()
    client.get("/job/solved", params={"file": small, "make": "packet"}, headers=PART)
    assert not (shop / "Shed").exists()
    client.post("/job/work", data={"file": small, "make": "packet"}, headers={**FORM, **PART})
    part = done(client, small, "packet")
    links = re.findall(r'href="(/packet/file\?[^"]+)"', part)
    assert len(links) >= 8
    first = [link.rpartition("=")[2] for link in links[:4]]
    assert first == ["cut-sheet.pdf", "cut-sheet.html", "labels.pdf", "card.pdf"]
    assert re.search(
        r'file=cut-sheet.html" target="_blank" rel="noopener">cut-sheet.html</a> <small>the sheet on', part
    )
    assert re.search(r'file=plan.json">plan.json</a> <small>the plan for other programs</small>', part)
    for link in links:
        assert client.get(link.replace("&amp;", "&")).status_code == 200
    sheet = client.get("/packet/file", params={"folder": "Shed", "file": "cut-sheet.html"})
    assert sheet.content == (shop / "Shed" / "cut-sheet.html").read_bytes()
    valid(client.get("/packet", params={"folder": "Shed"}).text)


@pytest.mark.parametrize("name", ["../small.toml", "plan.json/../../small.toml", ".mitertool-packet.json", "x.pdf"])
def test_only_files_of_the_packet_are_opened(asks: Asks, shop: Path, small: str, name: str) -> None:
    client = asks()
    client.post("/job/work", data={"file": small, "make": "packet"}, headers={**FORM, **PART})
    done(client, small, "packet")
    assert client.get("/packet/file", params={"folder": "Shed", "file": name}).status_code == 400
    (shop / "Shed" / "cut-sheet.html").write_text("<script>alert(1)</script>", "utf-8")
    assert client.get("/packet/file", params={"folder": "Shed", "file": "cut-sheet.html"}).status_code == 400


def test_ways_are_compared(asks: Asks, small: str) -> None:
    client = asks()
    client.get("/job", params={"file": small})
    done(client, small)
    client.post("/job/work", data={"file": small, "make": "compare"}, headers={**FORM, **PART})
    part = done(client, small, "compare")
    assert '<h2 id="compared" tabindex="-1" autofocus>Ways of working' in part
    assert part.index("compared") < part.index("<h2>Pieces")  # what was asked for comes before what stood there


@pytest.mark.parametrize("named", ["../saw.toml", "/etc/saw.toml"])
def test_a_saw_outside_of_the_folder_is_refused(asks: Asks, shop: Path, small: str, named: str) -> None:
    (shop.parent / "saw.toml").write_text((shop / "saws" / "hinged.toml").read_text("utf-8"), "utf-8")
    (shop / small).write_text((shop / small).read_text("utf-8").replace("saws/hinged.toml", named), "utf-8")
    assert "only files of the folder" in asks().get("/job", params={"file": small}).text


def test_it_speaks_german(asks: Asks, small: str) -> None:
    with spoken("de"):
        client = asks()
        assert "In die Datei schreiben" in client.get("/job", params={"file": small}).text
        assert "Mappe" in done(client, small)


def test_a_first_piece_is_judged_as_by_the_command(asks: Asks, small: str, capsys: pytest.CaptureFixture[str]) -> None:
    asked = {"file": small, "mark": "A"}
    page = asks().get("/first-piece", params=asked).text
    valid(page)
    found = asks().get("/first-piece", params={**asked, "long": "871.5", "short": "769"}).text
    valid(found)
    saw = str(Path(__file__).resolve().parents[2] / "gallery" / "saws" / "hinged.toml")
    drawn = ("--length", "870", "--left", "45", "--right", "45")
    assert run(["first-piece", "SHS 50x50x3", *drawn, "--long", "871.5", "--short", "769", "--saw", saw]) == 0
    said = capsys.readouterr().out.partition("\nCaution")[0]
    for line in said.splitlines()[:6]:
        assert " ".join(line.split()) in text_of(found)
    verdict = found[found.index("What is wrong") :]
    assert re.findall(r"<dt>(.*?)</dt>", verdict)[0] == "change"  # what to do comes first
    assert verdict.count("<dt>change</dt>") == verdict.count('<div class="first">')
    notes = dict(re.findall(r'<small id="m-(\w+)-says">([^<]+)</small>', page))
    assert notes["long"] == notes["short"] == "needed" and notes["width"] == "may stay empty"


def test_where_nothing_is_changed_what_opens_is_told_first(asks: Asks, small: str) -> None:
    """SHS 50 at 45: half a mm more from long to short is 0.29 degrees or less at an end, within what a tape tells."""
    found = asks().get("/first-piece", params={"file": small, "mark": "A", "long": "870.4", "short": "769.6"}).text
    first = re.findall(r'<div class="first"><dt>(.*?)</dt><dd>(.*?)</dd>', found)
    assert [says for says, _ in first] == ["left joint", "right joint", "change"]
    assert first[0][1].startswith("opens ") and first[2][1].startswith("nothing")


@pytest.mark.parametrize(("given", "told"), [({"long": "x", "short": "1"}, "long point"), ({"mark": "Z"}, "found 'Z'")])
def test_bad_measures_are_told(asks: Asks, small: str, given: dict[str, str], told: str) -> None:
    answer = asks().get("/first-piece", params={"file": small, "mark": "A", **given})
    assert answer.status_code == 400 and told in text_of(answer.text)


def test_long_work_tells_how_far_it_is_and_stops(asks: Asks, small: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A search that goes on until it is stopped, three quarters done."""

    def for_ever(_job: Job, progress: Callable[[float, float, float], None], every_way: bool) -> Solution:
        while True:
            progress(40.0, 30.0, 0.75)
            time.sleep(0.01)

    monkeypatch.setattr(solved, "solve", for_ever)
    monkeypatch.setattr(solved, "_WAITS", 0.05)
    client = asks()
    client.get("/job", params={"file": small})
    asked = {"file": small, "make": "plan"}
    running = client.get("/job/solved", params=asked, headers=PART).text
    valid_part(running)
    assert 'value="75"' in running and "Stop" in running
    whole = client.get("/job/solved", params=asked).text
    valid(whole)
    stopped = client.post("/job/work", data={**asked, "stop": "yes"}, headers={**FORM, **PART}).text
    assert "Stopped." in stopped and "<progress" not in stopped
    monkeypatch.undo()
    client.post("/job/work", data=asked, headers={**FORM, **PART})
    assert "870" in done(client, small)


def test_a_form_of_a_browser_is_taken(asks: Asks) -> None:
    """With the policy no-referrer a browser sends the origin "null" with a form (Fetch, section 3.2, append origin)."""
    assert asks().get("/").headers["referrer-policy"] == "same-origin"


def test_a_file_larger_than_ten_megabytes_is_not_read(asks: Asks, shop: Path) -> None:
    (shop / "large.toml").write_text("[job]\nname = 'x'\n" + "# much\n" * 1_500_000, "utf-8")
    answer = asks().get("/job", params={"file": "large.toml"})
    assert answer.status_code == 400 and "larger than 10 MB" in answer.text


def test_a_correction_is_kept_by_a_button_only(asks: Asks, shop: Path, small: str) -> None:
    """Both ends, rolled between and so cut at one reading, are 1.5 degrees too steep: the scale is so much off."""
    client, saw = asks(), shop / "saws" / "hinged.toml"
    short = f"{870 - 2 * 50 * tan(radians(46.5)):.1f}"
    measured = {"file": small, "mark": "A", "long": "870", "short": short, "left": "46.5", "right": "46.5"}
    before = saw.read_bytes()
    page = client.get("/first-piece", params=measured).text
    valid(page)
    assert "Keep this correction in saws/hinged.toml" in page and saw.read_bytes() == before
    kept = client.post("/first-piece/keep", data=measured, headers=FORM)
    valid(kept.text)
    assert kept.status_code == 200 and saw.read_bytes() != before
    assert abs(tomllib.loads(saw.read_text("utf-8"))["scale"]["offset"]) == pytest.approx(1.5, abs=0.1)


def test_a_packet_of_what_can_be_made(asks: Asks, shop: Path, small: str) -> None:
    path = shop / small
    more = '\n[[piece]]\nmark = "STEEP"\nsection = "SHS 50x50x3"\nlength = 300\nleft = 70\n'
    path.write_text(path.read_text("utf-8") + more, "utf-8")
    client = asks()
    client.get("/job", params={"file": small})
    assert "every page saying what cannot be made" in done(client, small)
    client.post("/job/work", data={"file": small, "make": "packet"}, headers={**FORM, **PART})
    assert "STEEP" in done(client, small, "packet") and not (shop / "Shed").exists()
    client.post("/job/work", data={"file": small, "make": "anyway"}, headers={**FORM, **PART})
    done(client, small, "anyway")
    assert (shop / "Shed" / "cut-sheet.pdf").exists()
