"""Jobs that the packet is tried on: the gallery's, and nasty ones written here as text; knows file formats only.

`NASTY` holds job files by name. A job that names `saw.toml` gets the file of `SAWS` that its first line asks for.
"""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
GALLERY = tuple(sorted(path.parent.name for path in (ROOT / "gallery").glob("*/job.toml")))

_SAW = """
[saw]
name = "{name}"
units = "mm"
kind = "hinged"
kerf = 1.3
invented = true
[scale]
{scale}
[vise]
fixed_jaw = "{jaw}"
{tilt}
"""

SAWS = {
    "both ways": _SAW.format(
        name="Two-way saw",
        scale='square = 90\npositive = "feed-side"\nfeed_side_most = 60\ndischarge_side_most = 60',
        jaw="left",
        tilt="",
    ),
    "one way": _SAW.format(
        name="One-way saw of a name that goes on and on, as plates on machines do",
        scale='square = 0\npositive = "discharge-side"\nfeed_side_most = 0\ndischarge_side_most = 60\n'
        "offset = -0.13\noffset_date = 2026-02-11",
        jaw="right",
        tilt="",
    ),
    "tilting": _SAW.format(
        name="Tilting saw",
        scale="square = 0\ntwo_sided = true\nfeed_side_most = 60\ndischarge_side_most = 60\n"
        "offset = -1.25\noffset_date = 2026-02-11",
        jaw="right",
        tilt="[tilt]\nlowest = -50\nhighest = 50",
    ),
}
"""Invented saws; none is any maker's."""

LONG_MARK = "W" * 20
"""The widest mark that a job may give: 20 characters (the job's own limit) of the widest letter."""

LONG_NAME = "RHS 300x200x12.5 as measured in the yard on the third of the month, second delivery"
LONG_GRADE = "S355J2H+N EN 10210-1 with 3.1 certificate"


def piece(mark: str, section: str, length: str, more: str = "") -> str:
    """A [[piece]] table."""
    return f'[[piece]]\nmark = "{mark}"\nsection = "{section}"\nlength = "{length}"\n{more}\n'


def stock(section: str, length: str, grade: str = "") -> str:
    """A [[stock]] table."""
    return f'[[stock]]\nsection = "{section}"\nlength = "{length}"\n' + (f'grade = "{grade}"\n' if grade else "")


def head(name: str = "Job", units: str = "mm", saw: str = "", more: str = "") -> str:
    """The first line, which asks for a saw, that every cut is made on the bar, and the [job] table."""
    named = 'saw = "saw.toml"\n' if saw else ""
    by_bar = '[nest]\nway = "bar by bar"\n'
    return f'# {saw}\n{by_bar}[job]\nname = "{name}"\nunits = "{units}"\n{named}{more}\n'


_LONG_SECTION = f'[[section]]\nname = "{LONG_NAME}"\nshape = "rect-tube"\nwidth = 203.5\nheight = 301.2\nwall = 12.4\n'
_ODD = "left = 33.69\nright = -56.31\n"
_BOTH_BEVELED = "left = { miter = 33.69, bevel = 12.34 }\nright = { miter = -21.43, bevel = 27.89 }\n"

NASTY = {
    "long words": head(
        "Replacement of the landing stage's upper handrail and its stays, north side, phase two of three",
        saw="one way",
        more='revision = "issued for the floor, replaces C"\ndate = 2026-11-30\n'
        'customer = "Tarn Hollow Boatyard, moorings and landing stages department, the old net loft"\n'
        'tolerance = "ISO 13920-B, and ISO 13920-F for straightness, flatness and parallelism of all frames"',
    )
    + _LONG_SECTION
    + f'[[piece]]\nmark = "{LONG_MARK}"\nsection = "{LONG_NAME}"\nlength = 11987.6\ngrade = "{LONG_GRADE}"\n'
    'out = "the side with the weld seam, wherever the mill has put it this time"\nquantity = 12\nleft = 33.69\n'
    + f'[[piece]]\nmark = "{LONG_MARK[:-1]}M"\nsection = "L 150x100x12"\nlength = 11987.6\ngrade = "{LONG_GRADE}"\n'
    "left = 33.69\nright = 12.34\nopposite = 9\n"
    + stock(LONG_NAME, "12 m", LONG_GRADE)
    + stock("L 150x100x12", "12 m", LONG_GRADE),
    "fractions": head("Fractions", "ft-in", "both ways")
    + piece("F1", "HSS4x2x3/16", "19' 11-15/16\\\"", _ODD)
    + piece("F2", "L4x3x3/8", "11-63/64 in", "left = 22.5\nopposite = 3")
    + piece("F3", "W10x12", "39' 11-13/16\\\"", "left = 45\nright = 45\nlay = 90")
    + stock("HSS4x2x3/16", "40 ft")
    + stock("L4x3x3/8", "20' 1/16\\\"")
    + stock("W10x12", "60 ft"),
    "inches": head("Inches", "in", "one way") + piece("I1", "HSS4x2x3/16", "239.999", _ODD),
    "thirty-seconds": head("Thirty-seconds", "in/32", "both ways")
    + piece("T1", "HSS4x2x3/16", "239 31/32 in", _ODD)
    + piece("T2", "L4x3x3/8", "11-31/32 in", "left = 22.5\nopposite = 3")
    + stock("HSS4x2x3/16", "480")
    + stock("L4x3x3/8", "240 1/32"),
    "beveled, bar rolled": head("Beveled", saw="both ways")
    + piece("B1", "RHS 80x40x3", "1234.5", _BOTH_BEVELED)
    + piece("B2", "L 65x50x5", "1234.5", _BOTH_BEVELED + "opposite = 2")
    + piece("B3", "CHS 88.9x4", "777.7", _BOTH_BEVELED),
    "beveled, blade tilted": head("Beveled", saw="tilting")
    + piece("B1", "RHS 80x40x3", "1234.5", _BOTH_BEVELED)
    + piece("B2", "L 65x50x5", "1234.5", _BOTH_BEVELED + "opposite = 2")
    + piece("B3", "FLAT 100x10", "400", "left = { bevel = 45 }\nright = { bevel = -45 }"),
    "beveled, no saw": head("Beveled")
    + piece("B1", "RHS 80x40x3", "1234.5", _BOTH_BEVELED)
    + piece("B2", "FLAT 10x100", "400", "left = { bevel = 60 }\nright = { bevel = 60 }"),
    "parallel and pointed": head("Ends", saw="both ways")
    + piece("PARALLEL", "RHS 80x40x3", "1000", "left = 45\nright = -45")
    + piece("POINTED", "FLAT 60x20", "120", "left = 45\nright = 45")
    + piece("SLIVER", "FLAT 60x20", "104", "left = 60\nright = 0")
    + piece("SHARP", "RHS 80x40x3", "400", "left = 60\nright = { corner = 60 }")
    + piece("ACUTE", "FLAT 100x10", "1500", "left = 80\nright = -80"),
    "points": head("Points", saw="both ways")
    + '[[frame]]\nmark = "BRACE"\nshape = "brace"\nsection = "SHS 50x50x3"\ninside_width = 1100\n'
    'inside_height = 1000\nends = "point"\nquantity = 2\n'
    + piece("TONGUE", "FLAT 60x10", "400", 'right = [40, "-30 meets 20"]\nquantity = 3')
    + piece("HEEL", "L 65x50x5", "700", "left = [30, { miter = -30, bevel = 10, meets = 4 }]\nopposite = 2")
    + piece("NOSE", "CHS 88.9x4", "777.7", "left = [40, -40, { bevel = 40 }, { bevel = -40 }]\nright = [0]")
    + piece("CHISEL", "UPN 100", "500", "right = [{ bevel = 30 }, { bevel = -30 }]")
    + stock("SHS 50x50x3", "6 m")
    + stock("FLAT 60x10", "6 m")
    + stock("L 65x50x5", "6 m")
    + stock("CHS 88.9x4", "6 m")
    + stock("UPN 100", "6 m"),
    "points on a scale that reads up both ways": head("Points", "in", "tilting")
    + piece("P", "RHS 80x40x3", "40", "left = [30, -50]\nright = 12\nquantity = 3")
    + piece("B", "L 65x50x5", "20", "left = 0\nright = 45\nquantity = 5\nopposite = 2")
    + piece("NOSE", "CHS 88.9x4", "30", "left = [40, -40, { bevel = 40 }, { bevel = -40 }]\nright = [0]")
    + stock("RHS 80x40x3", "20 ft")
    + stock("L 65x50x5", "20 ft")
    + stock("CHS 88.9x4", "20 ft"),
    "tiny, huge, short": head("Sizes", saw="both ways")
    + '[[section]]\nname = "WIRE"\nshape = "round-bar"\ndiameter = 3\n'
    + '[[section]]\nname = "BOX"\nshape = "rect-tube"\nwidth = 300\nheight = 1000\nwall = 16\n'
    + '[[section]]\nname = "PLATE"\nshape = "flat"\nwidth = 1000\nheight = 2\n'
    + '[[section]]\nname = "SHIM"\nshape = "flat"\nwidth = 2\nheight = 300\n'
    + piece("WIRE", "WIRE", "25", "left = 45\nright = 45")
    + piece("BOX", "BOX", "90 m", "left = 45\nright = 22.5")
    + piece("STUB", "BOX", "310", "left = 45\nright = 0")
    + piece("PLATE", "PLATE", "2000", "left = 30\nright = 30")
    + piece("SHIM", "SHIM", "5", "left = 45\nright = 45")
    + piece("WASHER", "CHS 60.3x3.2", "4")
    + piece("CRUMB", "SHS 20x20x2", "0.4"),
    "every lay": head("Lays", saw="both ways")
    + "".join(
        f'[[frame]]\nmark = "A {heel} {leg}"\nshape = "rectangle"\nsection = "L 65x50x5"\nwidth = 1180\nheight = 640\n'
        f'measured = "outside"\nheel = "{heel}"\nleg = "{leg}"\n'
        for heel in ("in", "out")
        for leg in ("up", "down")
    )
    + "".join(
        f'[[frame]]\nmark = "C {toes}"\nshape = "rectangle"\nsection = "UPN 100"\nwidth = 1180\nheight = 640\n'
        f'measured = "outside"\ntoes = "{toes}"\n'
        for toes in ("in", "out", "up", "down")
    )
    + "".join(
        piece(f"{name} {lay}", section, "700", f"lay = {lay}\nleft = 45\nright = 22.5\nopposite = 1")
        for name, section in (("L", "L 65x50x5"), ("U", "UPN 100"), ("I", "IPE 100"), ("R", "RHS 80x40x3"))
        for lay in (0, 45, 90, 180, 217.5, 270)
    ),
    "no saw": head("No saw", more='customer = "Tarn Hollow Boatyard"')
    + piece("N1", "L 65x50x5", "1234.5", _ODD + "quantity = 12\nopposite = 3")
    + piece("N2", "CHS 60.3x3.2", "1234.5", "left = 22.5"),
    "large numbers": head("Numbers") + piece("N1", "L 65x50x5", "123456.7", _ODD + "quantity = 9999\nopposite = 8888"),
    "many marks": head("Many", saw="both ways")
    + "".join(piece(f"RAIL-{n}", "RHS 80x40x3", f"{300 + n}", "left = 45\nright = 45") for n in range(60))
    + '[[frame]]\nmark = "RING"\nshape = "rectangle"\nsection = "RHS 40x80x3"\nwidth = 1180\nheight = 1840\n'
    'measured = "outside"\n' + stock("RHS 80x40x3", "6 m"),
    "not to be made": head("Problems", saw="one way")
    + piece("HOPELESS", "L 65x50x5", "1234.5", "left = 70\nright = 65\nopposite = 1")
    + piece("TOO LONG, BY FAR: 9", "RHS 80x40x3", "9 m", "left = 45")
    + piece("FINE", "RHS 80x40x3", "500")
    + stock("RHS 80x40x3", "6 m")
    + stock("L 65x50x5", "6 m"),
    "many not to be made": head("Problems", saw="one way")
    + "".join(piece(f"HOPELESS-{n}", "L 65x50x5", "1234.5", "left = 70") for n in range(1, 13)),
    "a page full of reasons": head("Problems", saw="one way")
    + "".join(piece(f"P{n}", "L 65x50x5", "1234.5", "left = 70\nright = 70") for n in range(1, 41)),
    "a bar full of pieces": head("Shims", saw="both ways")
    + piece("SHIM", "FLAT 50x10", "20", "quantity = 250")
    + stock("FLAT 50x10", "6 m"),
    "second ends": head("Second ends", saw="tilting", more='tolerance = "ISO 13920-B"').replace(
        "bar by bar", "by setting"
    )
    + piece("S1", "RHS 80x40x3", "700", 'left = 45\nright = 22.5\nquantity = 3\nprep = "30, land 2"')
    + piece("S2", "RHS 80x40x3", "450", 'left = { bevel = 20 }\nright = -45\nquantity = 2\nnote = "scribe the top"')
    + piece("S3", "L 65x50x5", "640", "left = 30\nright = 45\nquantity = 2\nopposite = 2")
    + stock("RHS 80x40x3", "6 m")
    + stock("L 65x50x5", "6 m"),
    "rows and boxes": head("Rows and boxes", saw="both ways")
    + piece("R1", "RHS 80x40x3", "700", "left = 45\nright = -45\nquantity = 12\nside_by_side = 3")
    + piece("R2", "L 65x50x5", "640", "left = 30\nright = -30\nquantity = 4\nopposite = 4\nboxed = true")
    + piece("R3", "UPN 100", "500", "left = 22.5\nright = -22.5\nquantity = 2\nopposite = 2\nboxed = true")
    + stock("RHS 80x40x3", "6 m")
    + stock("L 65x50x5", "6 m")
    + stock("UPN 100", "6 m"),
    "other scripts": head("Перила пристани Նավամատույց", saw="both ways", more='customer = "Łódź ≤ Ω"')
    + piece("ՖՖՖՖՖՖՖՖՖՖՖՖՖՖՖՖՖՖՖՖ", "RHS 80x40x3", "1234.5", _ODD)
    + piece("БАЛКА-ЖЖЖЖЖЖЖЖЖЖЖЖЖЖ", "L 65x50x5", "1234.5", _ODD + 'opposite = 1\nout = "щщщщщщщщщщщщ"'),
}

JOBS = (*GALLERY, *NASTY)


def write_job(name: str, folder: Path) -> Path:
    """The job file of a gallery job, or of a nasty one written into `folder` with its saw."""
    if name in GALLERY:
        return ROOT / "gallery" / name / "job.toml"
    text = NASTY[name]
    saw = text.partition("\n")[0].removeprefix("# ")
    folder.mkdir(parents=True, exist_ok=True)
    if saw:
        (folder / "saw.toml").write_text(SAWS[saw], encoding="utf-8")
    (folder / "job.toml").write_text(text, encoding="utf-8")
    return folder / "job.toml"
