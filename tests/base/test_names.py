"""File names that every system takes, no two alike; and the nearest names to a misspelt one.

Reserved names: Microsoft, "Naming Files, Paths, and Namespaces": CON, PRN, AUX, NUL, COM1 to COM9, LPT1 to LPT9 (the
superscripts 1 to 3 count as digits), also with anything after a full stop; no name ends in a space or a full stop;
none of < > : " / \\ | ? * and no control character. A POSIX name is neither "." nor ".." and holds at most 255 bytes.
From memory, not from the page.
"""

from __future__ import annotations

import re
import unicodedata
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mitertool.base.errors import UnknownName
from mitertool.base.names import distinct_file_names, nearest, refuse_unknown_keys, safe_file_name

RESERVED = {"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in "123456789¹²³")}
LONGEST_MARK = 20

NASTY = (
    *("", " ", ".", "..", "...", "../../etc/passwd", "/", "//", "\\", "C:\\x", "a/b", "a\\b", "~", "~root", "-rf"),
    *("con", "CON", "Con", "con.", "CON.1", "nul.dxf", "aux ", "com1", "COM¹", "lpt9.a.b", "console", "com10"),
    *(".hidden", "a.", "a ", "a\0b", "a\nb", "a\tb", "<>", 'a"b', "a|b?c*d:e", "$HOME", "%PATH%", "a;b", "`x`"),
    *("Träger 1", "支柱", "балка", "é", "e\u0301", "𝒜" * LONGEST_MARK, "W" * 300, "\u202egnp.x", "\u200b", "🔧"),
)


def is_safe(name: str) -> bool:
    """Whether `name`.dxf is a plain file name on every common system; written apart from the package."""
    plain = bool(name) and not re.search(r'[<>:"/\\|?*\x00-\x1f\x7f]', name) and name[-1] not in ". " and name[0] != "."
    return plain and name.split(".")[0].casefold() not in RESERVED and len(f"{name}.dxf".encode()) <= 255


def the_same_file(one: str, other: str) -> bool:
    """Whether a system that ignores case and how accents are composed takes two names for one."""
    return unicodedata.normalize("NFC", one).casefold() == unicodedata.normalize("NFC", other).casefold()


@pytest.mark.parametrize("mark", NASTY)
def test_a_nasty_mark_gives_a_safe_name(mark: str, tmp_path: Path) -> None:
    name = safe_file_name(mark)
    assert is_safe(name), name
    (tmp_path / f"{name}.dxf").write_bytes(b"")
    assert [p.name for p in tmp_path.iterdir()] == [f"{name}.dxf"]


@given(st.text(max_size=LONGEST_MARK))
def test_any_mark_gives_a_safe_name(mark: str) -> None:
    assert is_safe(safe_file_name(mark))


@pytest.mark.parametrize("mark", ["A", "LEAF-1", "P_12.3", "Träger", "支柱", "1"])
def test_a_plain_mark_keeps_its_name(mark: str) -> None:
    assert safe_file_name(mark) == mark


@pytest.mark.parametrize("word", ["nul", "PRN", "com1", "lpt9"])
def test_a_reserved_word_within_a_longer_name_is_kept(word: str) -> None:
    assert safe_file_name(f"{word}-1") == f"{word}-1"


MARKS = (
    ("Rail", "RAIL", "rail"),
    ("a/b", "a_b", "a b", "a?b", "a_b"),
    ("..", ".", "", "/", "mark", "Mark"),
    ("con", "con_", "CON"),
    ("a", "A", "a_2", "a~2", "A~2"),
    ("ß", "SS", "ss"),
    ("Å", "\u212b", "A\u030a"),  # a letter with a ring, the unit sign, a letter and a combining ring
    ("가", "\u1100\u1161"),  # one syllable, composed and in parts
    ("W" * 90, "W" * 91, "w" * 92),
)


@pytest.mark.parametrize("marks", MARKS, ids=lambda marks: ascii(marks)[:40])
def test_no_two_names_are_one_file(marks: tuple[str, ...]) -> None:
    names = distinct_file_names(marks)
    assert len(names) == len(marks)
    assert all(map(is_safe, names))
    clashes = [(a, b) for i, a in enumerate(names) for b in names[:i] if the_same_file(a, b)]
    assert not clashes


@settings(max_examples=60)
@given(st.lists(st.text("aAbB./_~2 ", max_size=4), max_size=12))
def test_no_two_names_of_any_marks_are_one_file(marks: list[str]) -> None:
    names = distinct_file_names(marks)
    assert len({name.casefold() for name in names}) == len(marks)
    assert all(map(is_safe, names))


def test_names_stand_in_the_order_of_their_marks() -> None:
    assert distinct_file_names(["B", "A", "b"]) == ("B", "A", "b~2")


KNOWN = ("RHS 80x40x3", "RHS 80x40x4", "SHS 40x40x3", "IPE 200", "bevel", "miter")


@pytest.mark.parametrize(
    ("given_name", "first"),
    [
        ("rhs 80x40x3", "RHS 80x40x3"),
        ("RHS 80x40x3.", "RHS 80x40x3"),
        ("RHS80x40x4", "RHS 80x40x4"),
        ("mitre", "miter"),
        ("ipe200", "IPE 200"),
    ],
)
def test_the_nearest_name_comes_first(given_name: str, first: str) -> None:
    assert nearest(given_name, KNOWN)[0] == first


def test_there_are_no_more_nearest_names_than_asked_for() -> None:
    assert len(nearest("RHS 80x40x3", KNOWN, 2)) == 2
    assert set(nearest("RHS 80x40x3", KNOWN)) <= set(KNOWN)


@pytest.mark.parametrize("name", ["", "zzzz", "🔧", "q" * 100_000])
def test_nothing_near_gives_no_name(name: str) -> None:
    assert nearest(name, KNOWN) == ()


def test_an_unknown_key_is_refused_with_the_nearest_ones() -> None:
    with pytest.raises(UnknownName, match=r"cut, unknown key: found 'mitre'; did you mean miter\?") as refusal:
        refuse_unknown_keys("cut", ["bevel", "mitre"], ("miter", "bevel"))
    assert refusal.value.choices == ("miter",)
    with pytest.raises(UnknownName, match="the keys are miter, bevel"):
        refuse_unknown_keys("cut", ["zzzz"], ("miter", "bevel"))


def test_known_keys_pass() -> None:
    assert refuse_unknown_keys("cut", ["bevel"], ("miter", "bevel")) is None  # type: ignore[func-returns-value]
