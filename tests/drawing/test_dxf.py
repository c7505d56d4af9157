"""The DXF writer, read back and audited by ezdxf."""

from __future__ import annotations

import itertools
import math

import ezdxf
import pytest
from ezdxf import units
from ezdxf.tools.text import plain_text

from mitertool.base.errors import BadInput
from mitertool.drawing import (
    CENTER,
    FILL,
    HIDDEN,
    OUTLINE,
    THIN,
    AngleDimension,
    Arc,
    Dimension,
    Drawing,
    EllipseArc,
    Layer,
    Line,
    Polygon,
    Text,
    dxf,
)


@pytest.fixture
def read(tmp_path):
    def read(*entities, **options):
        path = tmp_path / "drawing.dxf"
        path.write_bytes(dxf.write(Drawing(entities), **options))
        file = ezdxf.readfile(path)
        audit = file.audit()
        assert (audit.errors, audit.fixes) == ([], [])
        return file

    return read


@pytest.fixture
def only(read):
    def only(entity, **options):
        (found,) = read(entity, **options).modelspace()
        return found

    return only


def test_the_file_is_r2010_in_mm_and_free_of_faults(read, every_kind):
    file = read(*every_kind.entities, title="Sketch")
    assert file.dxfversion == "AC1024"
    assert file.units == units.MM
    assert file.header["$INSUNITS"] == 4
    assert file.header["$MEASUREMENT"] == 1
    assert file.header.custom_vars.get("Title") == "Sketch"
    kinds = {entity.dxftype() for entity in file.modelspace()}
    assert kinds == {"LINE", "ARC", "CIRCLE", "ELLIPSE", "LWPOLYLINE", "HATCH", "TEXT", "DIMENSION"}


def test_layers_have_pens_and_line_kinds(read):
    lines = [Line((0, 0), (9, 0), layer) for layer in (OUTLINE, HIDDEN, CENTER, Layer("pale", 0.33, grey=0.6))]
    file = read(*lines)
    seen = {layer.dxf.name: layer for layer in file.layers}
    assert (seen["outline"].dxf.lineweight, seen["outline"].dxf.linetype) == (50, "Continuous")
    assert (seen["hidden edge"].dxf.lineweight, seen["center line"].dxf.lineweight) == (25, 18)
    # 0.33 mm is none of the widths of the format; the nearest one is 0.35 mm. Grey 0.6 of 255 is 153.
    assert (seen["pale"].dxf.lineweight, seen["pale"].rgb) == (35, (153, 153, 153))
    dashes = [
        tag.value for tag in file.linetypes.get(seen["hidden edge"].dxf.linetype).pattern_tags.tags if tag.code == 49
    ]
    assert dashes == pytest.approx([3, -0.75])
    assert [line.dxf.layer for line in file.modelspace()] == ["outline", "hidden edge", "center line", "pale"]


def test_a_line_and_a_polygon_keep_their_points(only):
    line = only(Line((1, 2), (3, 4), THIN))
    assert (line.dxf.start, line.dxf.end) == ((1, 2, 0), (3, 4, 0))
    outline = only(Polygon([(0, 0), (5, 0), (5, 5)], OUTLINE))
    assert outline.closed
    assert [tuple(point) for point in outline.vertices()] == [(0, 0), (5, 0), (5, 5)]


@pytest.mark.parametrize(
    ("start", "sweep", "first", "last"), [(30, 60, 30, 90), (90, -60, 30, 90), (350, 30, 350, 20), (-90, -90, 180, 270)]
)
def test_an_arc_runs_counter_clockwise_between_its_ends(only, start, sweep, first, last):
    arc = only(Arc((1, 2), 10, start, sweep, OUTLINE))
    assert (arc.dxf.center, arc.dxf.radius) == ((1, 2, 0), 10)
    assert (arc.dxf.start_angle, arc.dxf.end_angle) == pytest.approx((first, last))
    ellipse = only(EllipseArc((1, 2), (6, 3), 0.5, start, sweep, OUTLINE))
    assert (ellipse.dxf.major_axis, ellipse.dxf.ratio) == ((6, 3, 0), 0.5)
    assert (math.degrees(ellipse.dxf.start_param), math.degrees(ellipse.dxf.end_param)) == pytest.approx((first, last))


def test_whole_turns_are_circles_and_whole_ellipses(only):
    assert only(Arc((1, 2), 10, 45, -360, OUTLINE)).dxf.radius == 10
    ellipse = only(EllipseArc((1, 2), (6, 3), 0.5, 45, -360, OUTLINE))
    assert (ellipse.dxf.start_param, ellipse.dxf.end_param) == pytest.approx((0, math.tau))


def test_a_filled_polygon_is_a_solid_hatch_under_its_outline(read):
    square = [(0, 0), (10, 0), (10, 10), (0, 10)]
    hatch, outline = read(Polygon(square, OUTLINE, 0.8)).modelspace()
    assert (hatch.dxf.solid_fill, hatch.rgb) == (1, (204, 204, 204))
    assert [v[:2] for v in hatch.paths[0].vertices] == square
    assert outline.dxftype() == "LWPOLYLINE"
    (alone,) = read(Polygon(square, FILL, 0.0)).modelspace()
    assert (alone.dxftype(), alone.dxf.color) == ("HATCH", 7)


@pytest.mark.parametrize("says", ["Łódź ≤", "100 %", "^I a^b", "back\\slash {x}"])
def test_a_text_says_what_it_said(only, says):
    text = only(Text((1, 2), says, 3.5, "center", "middle", 30, True))
    assert plain_text(text.dxf.text) == says
    assert (text.dxf.height, text.dxf.rotation, text.dxf.style) == (3.5, 30, "lettering bold")
    # DXF reference, TEXT: group 72 is 1 for centered, group 73 is 2 for the middle of the capitals.
    assert (text.dxf.halign, text.dxf.valign, text.dxf.align_point) == (1, 2, (1, 2, 0))


def test_han_and_hangul_stay_text_in_a_style_that_names_their_face(read):
    document = read(Text((0, 0), "桟橋 강교 1", 3.5))
    (text,) = document.modelspace()
    assert plain_text(text.dxf.text) == "桟橋 강교 1"
    assert document.styles.get(text.dxf.style).dxf.font == "wqy-microhei.ttc"
    assert len(read(Text((0, 0), "Łódź", 3.5)).styles) == len(document.styles) - 1


@pytest.mark.parametrize(("says", "written"), [("100%%", "100%%%%%%"), ("%%d", "%%%%%%d"), ("5%d", "5%d")])
def test_two_per_cent_signs_start_no_symbol(only, says, written):
    # DXF text codes: %%% is one per cent sign, %%d a degree sign.
    assert only(Text((0, 0), says, 3.5)).dxf.text == written


@pytest.mark.parametrize(
    ("dimension", "measured", "kind"),
    [
        (Dimension((0, 0), (30, 40), 10, "50"), 50, 1),
        (Dimension((0, 0), (30, 40), 10, "30", along=0), 30, 0),
        (Dimension((30, 40), (0, 0), 10, "40", along=90), 40, 0),
        (Dimension((0, 0), (30, 40), 10, "49.5", along=45), 70 * math.sqrt(0.5), 0),
        (AngleDimension((5, 5), 10, 35, 20, "35°"), 35, 5),
        (AngleDimension((5, 5), 10, -35, 20, "35°"), 35, 5),
        (AngleDimension((5, 5), 10, 250, 20, "250°"), 250, 5),
    ],
)
def test_a_dimension_stays_one_and_measures_the_model(only, dimension, measured, kind):
    found = only(dimension)
    assert found.dxftype() == "DIMENSION"
    assert found.dimtype == kind
    assert found.get_measurement() == pytest.approx(measured)
    recorded = math.radians(measured) if kind == 5 else measured
    assert found.dxf.actual_measurement == pytest.approx(recorded)


@pytest.mark.parametrize(
    ("dimension", "override"),
    [
        (Dimension((0, 0), (50, 0), 10, "50"), ""),
        (Dimension((0, 0), (50.25, 0), 10, "50.25"), ""),
        (Dimension((0, 0), (50.251, 0), 10, "50.25"), ""),
        (Dimension((0, 0), (50.25, 0), 10, "50.3"), "50.3"),
        (Dimension((0, 0), (50, 0), 10, "1 31/32 in"), "1 31/32 in"),
        (Dimension((0, 0), (50, 0), 10, "{a\\b}"), "\\{a\\\\b\\}"),
        (Dimension((0, 0), (50, 0), 10, ""), " "),
        (AngleDimension((0, 0), 0, 22.5, 30, "22.5°"), ""),
        (AngleDimension((0, 0), 0, 22.5, 30, "22.5° ±1"), "22.5° ±1"),
    ],
)
def test_a_dimension_is_told_its_text_only_where_it_would_say_another(only, dimension, override):
    assert only(dimension).dxf.text == override


def test_the_definition_points_of_a_linear_dimension(only):
    found = only(Dimension((0, 0), (40, 30), 20, "40", along=0)).dxf
    assert (found.defpoint2, found.defpoint3, found.defpoint, found.angle) == ((0, 0, 0), (40, 30, 0), (40, 20, 0), 0)
    # The text is 1 mm above the line and 2.5 mm high; its middle is at 20 + 1 + 1.25.
    assert found.text_midpoint == (20, 22.25, 0)


def test_the_picture_of_a_dimension_is_that_of_the_other_formats(read):
    dimension = Dimension((0, 0), (50, 0), 10, "50")
    file = read(dimension)
    (found,) = file.modelspace()
    picture = list(file.blocks.get(found.dxf.geometry))
    lines = [(tuple(p.dxf.start)[:2], tuple(p.dxf.end)[:2]) for p in picture if p.dxftype() == "LINE"]
    # Gap 1 mm, overrun 2 mm, the dimension line 10 mm off.
    assert lines == [((0, 1), (0, 12)), ((50, 1), (50, 12)), ((0, 10), (50, 10))]
    assert [p.dxftype() for p in picture if p.dxftype() != "LINE"] == ["SOLID", "SOLID", "TEXT"]


def test_lettering_grows_with_the_model_it_stands_on(read):
    entities = (
        Line((0, -20), (50, -20), HIDDEN),
        Text((0, -50), "H", 3.5),
        Dimension((0, 0), (500, 0), 10, "500"),
        AngleDimension((0, 0), 0, 90, 20, "90°"),
    )
    file = read(*entities, lettering_scale=10)
    dashes, text, linear, angle = file.modelspace()
    assert (dashes.dxf.ltscale, text.dxf.ltscale) == (10, 1)
    assert text.dxf.height == 35
    assert linear.get_measurement() == 500
    assert linear.dxf.defpoint == (500, 100, 0)
    assert tuple(angle.dxf.defpoint) == pytest.approx((200 * math.sqrt(0.5), 200 * math.sqrt(0.5), 0))
    style = file.dimstyles.get(linear.dxf.dimstyle).dxf
    assert (style.dimscale, style.dimtxt, style.dimasz, style.dimexo, style.dimexe) == (10, 2.5, 3, 1, 2)
    picture = list(file.blocks.get(linear.dxf.geometry))
    assert tuple(picture[0].dxf.start)[:2] == pytest.approx((0, 10))
    assert tuple(picture[0].dxf.end)[:2] == pytest.approx((0, 120))
    (label,) = (part for part in picture if part.dxftype() == "TEXT")
    assert label.dxf.height == 25


def test_the_file_opens_on_what_it_shows(read):
    space = read(Text((0, -50), "H", 3.5), Dimension((0, 0), (500, 0), 10, "500"), lettering_scale=10).modelspace()
    # From the descender below -50 up to the top of the value, 10 + 1 + 2.5 mm above the point, all ten times.
    assert tuple(space.dxf.extmin)[:2] == pytest.approx((0, -50 - 35 * 0.207 / 0.718))
    assert tuple(space.dxf.extmax)[:2] == pytest.approx((500, 135))


@pytest.mark.parametrize("scale", [0, -1, math.nan, math.inf])
def test_a_lettering_scale_is_a_number_above_zero(scale):
    with pytest.raises(BadInput, match="lettering scale"):
        dxf.write(Drawing(), lettering_scale=scale)


def test_an_empty_drawing_is_a_sound_file(read):
    assert len(read().modelspace()) == 0


def test_every_part_has_a_handle_of_its_own_and_an_owner(every_kind):
    """DXF reference: handles, group 5 (105 of a dimension style), are hexadecimal and distinct, $HANDSEED is beyond
    them; 330, 340, 350 and 390 point at a part of the file, 0 at none."""
    lines = dxf.write(every_kind, "Sketch", 2.0).decode().split("\n")
    tags = list(zip([int(code) for code in lines[:-1:2]], lines[1::2], strict=True))
    seed = next(after for tag, after in itertools.pairwise(tags) if tag == (9, "$HANDSEED"))
    named = [value for code, value in tags if code in (5, 105)]
    named.remove(seed[1])
    assert len(named) == len(set(named))
    assert max(int(handle, 16) for handle in named) < int(seed[1], 16)
    assert {value for code, value in tags if code in (330, 340, 350, 390)} <= {*named, "0"}


def test_an_empty_drawing_is_little_beside_its_entities():
    """Some 7 kB of tables and objects that a reader needs; an editor's own styles and settings are 17 kB."""
    assert len(dxf.write(Drawing())) < 8000
