"""No sentence is built outside the tables of words, and every code that is said stands there.

What is data stays where it is: codes, values of keys, names, units, formats, keys of JSON, names of layers.
"""

from __future__ import annotations

import re

import pytest
from jinja2 import Environment

from mitertool.words import words_of
from tests.words.sources import (
    HOLE,
    Source,
    code_pattern,
    codes_of,
    is_code,
    sources,
    templates,
    texts,
    worded,
    written_in,
)

WRITERS = {
    "drawing/svg.py": "the tags of SVG",
    "drawing/dxf.py": "the tags of DXF and of its library",
    "drawing/dxf_tags.py": "the tags of DXF",
    "drawing/dxf_shell.py": "the tags of DXF",
    "drawing/pdf.py": "the operators of PDF and names of fonts",
    "drawing/png.py": "a chunk of PNG and a warning of its library",
    "drawing/layers.py": "names of layers",
    "__main__.py": "an interrupt while the program loads, before there is a table",
    "base/faces.py": "names of fonts",
    "rack/book.py": "SQL",
    "rack/schema.py": "SQL",
    "sections/grades.py": "names of grades",
    "lists/columns.py": "headings that customers write",
    "lists/rows.py": "words that customers write",
    "packet/pages/browser/page.py": "the tags and classes of HTML",
    "packet/pages/browser/job_part.py": "classes of HTML",
    "quantity/lengths.py": "units as they are read",
    "quantity/angles.py": "units as they are read",
    "quantity/rates.py": "units as they are read",
}
"""Modules with a language of their own."""

DATA = {
    "the lays and tape lines of a shape, as files have them": {
        *("heel up", "leg flat", "toes up", "toes down", "web up", "web flat", "web leaning"),
        *("over heels", "between legs", "toe to toe", "over webs"),
    },
    "dimensions of a section by their names in files": {
        *("root radius", "toe radius", "inner radius", "outer radius", "flange width", "top flange width"),
        "lip angle deg",
    },
    "names of sections that are made": {
        *("angle {}x{}x{}", "channel {}x{}x{}", "flat {}x{}", "rect tube {}x{}x{}", "round bar {}", "round tube {}x{}"),
        *("tee {}x{}x{}", "{} boxed", "2 x {} boxed"),
    },
    "values of keys, columns and records": {
        *(
            "60 from bar",
            "90 corner",
            "bar begun",
            "bar cut",
            "bar used",
            "left later",
            "length left",
            "right later",
            "not good",
            "second end",
            "clear of the piece",
            "where the piece was",
        ),
        *("as drawn", "DXF outline", "by hand: ", "from square", "from bar", "Pos"),
        "corner bars",
        *("bar by bar", "by setting", "least steel", "fewest set-ups", "steel, then set-ups", "every bar"),
    },
    "a measured piece as the saw file keeps it, to know it again": {"{}, {} {}, {} and {}", "{} {}", "{}: {}"},
    "the program's own name before what it says": {
        "mitertool: {}",
        "mitertool {}",
        "  mitertool {}",
        "mitertool {}, {}",
        "mitertool {}{}{}",
        "{}, mitertool {}, {}",
    },
    "a class that is put together": {"Lying", "Search", "Chain", "Callable[[str], object]", "Mapping[str, str]"},
    "what a solver answers": {"Optimal", "Infeasible"},
    "a fault of the code": {
        *("module {} has no attribute {}", "a {} has no picture", "no roll leads to the lay of a piece on the bar"),
        *("a walk without a start", "a place without a way to it", "a place without a cut before it"),
    },
}
"""Texts that are no words of ours, and why."""

KNOWN = {text for known in DATA.values() for text in known}


def is_data(source: Source) -> bool:
    """Whether it is not told to anybody."""
    names = source.path.endswith("__init__.py")  # what a room has, for its door
    example = "command" in source.calls  # a line to type
    return names or example or source.path in WRITERS or source.text in KNOWN


def told() -> list[Source]:
    return [source for source in sources() if worded(source.text) and not is_data(source)]


def test_no_sentence_is_built_outside_the_tables() -> None:
    found = [f"{one.path}:{one.line}: {one.text!r}" for one in told()]
    assert found == []


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ('say("needs a bar")', True),
        ('say(f"{n} bars")', True),
        ('say("Working")', True),
        ('say(f"{n} mm")', False),
        ('phrase("bar.title", n=1)', False),
        ('"""A docstring."""', False),
        ("def __repr__(self):\n    return f'<Bar {self.n}>'", False),
        (r're.compile(r"(?P<angle>\d+) from bar")', False),
    ],
)
def test_what_counts_as_words(line: str, found: bool) -> None:
    assert any(worded(one.text) for one in texts("room/module.py", line)) is found


def test_no_word_stands_in_a_template() -> None:
    found = [(path, text) for path, tree in templates() for text in written_in(tree) if re.search("[A-Za-z]", text)]
    assert found == []


def test_a_word_in_a_template_is_found() -> None:
    tree = Environment().parse(
        "<p class='a'>{{ phrase('a.b/' ~ c) }}{% if d %}Saw <b title=\"Blade\">{{ e }}</b>{% endif %}</p>"
    )
    assert [text.strip("{} ") for text in written_in(tree) if re.search("[A-Za-z]", text)] == ["Saw", "Blade"]
    assert [one.text for one in codes_of("x.html", tree)] == ["a.b/{}"]


CODES = tuple(words_of("en"))
SAID = ("phrase", "counted", "Remark")
"""What a code is handed to first."""

BEHIND = {"Key": "key.", "need": "key."}


def stands(code: str) -> bool:
    """Whether the table has a code, alone or in cases, or a word of a problem."""
    full = code if "." in code else f"problem.{code}"
    pattern = re.compile(code_pattern(full).pattern + "(/.+)?")
    return any(pattern.fullmatch(one) for one in CODES)


def said() -> list[tuple[Source, str]]:
    """Every code with what it is handed to, as far as it is a code at all."""
    handed = [one for one in sources() if one.calls and is_code(one.text)]
    full = [(one, BEHIND.get(one.calls[0], "") + one.text) for one in handed if one.calls[0] in (*SAID, *BEHIND)]
    return [(one, code) for one, code in full if "." in code and not code.startswith(HOLE)]


def test_every_code_that_is_said_stands_in_the_table() -> None:
    assert said()
    missing = [f"{one.path}:{one.line}: {code}" for one, code in said() if not stands(code)]
    assert missing == []


def test_every_code_of_the_table_is_said() -> None:
    plain = {one.text for one in sources() if HOLE not in one.text}
    patterns = [code_pattern(one.text) for one in sources() if HOLE in one.text and is_code(one.text)]
    made = [one for one in patterns if one.pattern != ".+"]

    def is_said(code: str) -> bool:
        base = code.partition("/")[0]
        ways = (code, base, base.partition(".")[2], code.partition(".")[2])
        return any(way in plain for way in ways) or any(one.fullmatch(code) or one.fullmatch(base) for one in made)

    assert [code for code in CODES if not is_said(code)] == []
