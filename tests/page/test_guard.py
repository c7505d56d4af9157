"""Who is let in: the page's own address and its own forms only, from the network with a key that serves once."""

from __future__ import annotations

import pytest

from mitertool.page.guard import EntryKeys
from tests.page.conftest import HOST, Asks


def test_another_host_is_refused(asks: Asks) -> None:
    """A name of elsewhere that was bent to this address, as in DNS rebinding."""
    assert asks().get("/").status_code == 200
    answer = asks(host="shop.example:8472").get("/")
    assert (answer.status_code, "jobs" in answer.text.lower()) == (421, False)


@pytest.mark.parametrize("origin", ["http://shop.example", "https://" + HOST, "null", f"http://{HOST}.example"])
def test_a_form_of_elsewhere_is_refused(asks: Asks, origin: str) -> None:
    assert asks().post("/", headers={"origin": origin}, content="a=b").status_code == 403
    assert asks().get("/", headers={"origin": origin}).status_code == 403


def test_a_form_without_an_origin_is_refused(asks: Asks) -> None:
    assert asks().post("/", content="a=b").status_code == 403
    assert asks().post("/", headers={"origin": f"http://{HOST}"}, content="a=b").status_code == 405


def test_no_more_than_10_mb_is_taken(asks: Asks) -> None:
    own = {"origin": f"http://{HOST}"}
    assert asks().post("/", headers=own, content=b"a" * 10_000_001).status_code == 413
    assert asks().post("/", headers=own, content=iter([b"a"])).status_code == 411


def test_every_answer_forbids_what_comes_from_elsewhere(asks: Asks) -> None:
    for answer in (asks().get("/"), asks().get("/static/page.css"), asks(host="x.example").get("/")):
        policy = answer.headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert answer.headers["x-content-type-options"] == "nosniff"


def test_a_key_lets_one_browser_in(asks: Asks) -> None:
    told: list[str] = []
    keys = EntryKeys(lambda: told.append(keys.key))
    first, key = asks(keys), keys.key
    assert first.get("/").status_code == 403
    sent_on = first.get("/", params={"key": key, "miter": "45"}, follow_redirects=False)
    assert (sent_on.status_code, sent_on.headers["location"]) == (303, "/?miter=45")
    assert "HttpOnly" in sent_on.headers["set-cookie"]
    assert first.get("/").status_code == 200
    assert told == [keys.key]
    assert keys.key != key
    second = asks(keys)
    assert second.get("/", params={"key": key}).status_code == 403
    assert second.get("/", params={"key": keys.key}).status_code == 200
    assert first.get("/").status_code == 200
