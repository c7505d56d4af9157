"""Exercises of distances at the blade: where the moving guide goes, and whether a block is cut; knows cases."""

from __future__ import annotations

from typing import Final

import attrs

from mitertool.practice.case import Case, SwungCut
from mitertool.practice.exercise import Exercise, RightAnswer
from mitertool.quantity.problem import Remark, lengths, names, words
from mitertool.saw.file.machine import Obstacle

_NEAR: Final = (4.0, 25.0)
"""mm, how near to its limit a block is put, clear of it or in the way."""


def guide(case: Case) -> Exercise | None:
    """How far the moving guide is set for a swung cut."""
    swung = case.swung()
    if swung is None or swung.reach.guide_setting is None:
        return None
    setting, need = swung.reach.setting, swung.reach.guide_setting
    fixed = setting.guides.fixed_u is not None
    return Exercise(
        "guide",
        swung.reach,
        Remark("practice.guide", swung.stands + names(section=case.section.name), "" if fixed else "both"),
        RightAnswer("length", need, 2 * case.step),
        Remark("practice.guide.answer", lengths(need=need), "" if fixed else "both"),
        _to_the_guide(case, swung) if fixed else _between(case, swung),
        given=(*_given(case, swung), *(_axis_and_fixed(swung) if fixed else ())),
    )


def _given(case: Case, swung: SwungCut) -> tuple[Remark, ...]:
    """How wide the bar lies, and what a guide takes beside the blade."""
    guides = swung.reach.setting.guides
    told = lengths(width=case.section.width, half=guides.half_thickness, clear=guides.clearance)
    return (Remark("practice.given.guide", told),)


def _axis_and_fixed(swung: SwungCut) -> tuple[Remark, ...]:
    """Where the swing axis stands, where the fixed guide does, and how far the blade stands beside the axis."""
    setting = swung.reach.setting
    told = lengths(axis=setting.saw.bed.swing_axis or 0.0, fixed=-(setting.guides.fixed_u or 0.0))
    return (Remark("practice.given.axis-and-fixed", told), *_beside_the_axis(swung))


def _beside_the_axis(swung: SwungCut) -> tuple[Remark, ...]:
    """How far a blade in a square cut stands beside the swing axis; nothing where it stands over it."""
    offset = swung.reach.setting.saw.bed.blade_offset
    side = words(side=f"practice.side/{'feed' if offset > 0 else 'discharge'}")
    return (Remark("practice.given.offset", lengths(offset=abs(offset)) + side),) if offset else ()


def _beside(swung: SwungCut) -> tuple[Remark, float]:
    guides = swung.reach.setting.guides
    half, clear = guides.half_thickness * swung.slant, guides.clearance * swung.longer
    told = lengths(half=guides.half_thickness, clear=guides.clearance, beside=half + clear)
    return Remark("practice.guide.beside", told + swung.stands), half + clear


def _between(case: Case, swung: SwungCut) -> tuple[Remark, ...]:
    """The bar along the blade, and what a guide needs at either side of it."""
    along, (says, _) = case.section.width * swung.longer, _beside(swung)
    return (
        Remark("practice.guide.bar", lengths(width=case.section.width, along=along) + swung.stands),
        says,
        Remark("practice.guide.both", lengths(need=swung.reach.guide_setting or 0.0)),
    )


def _to_the_guide(case: Case, swung: SwungCut) -> tuple[Remark, ...]:
    """From the axis to the far side of the bar along the blade, past it, and back to the fixed guide."""
    setting = swung.reach.setting
    axis, far = setting.saw.bed.swing_axis or 0.0, setting.extent[1] if setting.extent else 0.0
    told = lengths(width=case.section.width, axis=axis, far=far) + swung.stands
    fixed = -(setting.guides.fixed_u or 0.0)
    return (
        Remark("practice.guide.far", told, "offset" if setting.saw.bed.blade_offset else ""),
        _beside(swung)[0],
        Remark("practice.guide.from", lengths(fixed=fixed, need=swung.reach.guide_setting or 0.0)),
    )


def support(case: Case) -> Exercise | None:
    """Whether the blade, swung, meets a block that stands beside it."""
    swung = case.swung(excused=("obstacle",))
    asked = [one for one in case.saw.obstacles if swung and swung.reach.set_backs.get(one.name, 0.0) > _NEAR[1]]
    if swung is None or not asked:
        return None
    block = case.lot.one_of(asked)
    need = swung.reach.set_backs[block.name]
    edge = _put(case, need) if block.adjustable else block.edge
    there = attrs.evolve(block, edge=edge, adjustable=False)
    saw = attrs.evolve(case.saw, obstacles=tuple(there if one is block else one for one in case.saw.obstacles))
    clear = edge >= need
    gap, case_of = lengths(gap=abs(edge - need), edge=edge, need=need), "clear" if clear else "cut"
    called = names(block=block.name, section=case.section.name) + words(stood=f"practice.side/{block.side}")
    return Exercise(
        "support",
        saw.reach(case.section, swung.cut, swung.end),
        Remark("practice.support", swung.stands + gap + called),
        RightAnswer("word", case_of, words=("clear", "cut")),
        Remark("practice.support.answer", gap, case_of),
        (*_reached(swung, block), Remark("practice.support.gap", gap, case_of)),
        given=_given_of_block(swung, block),
    )


def _given_of_block(swung: SwungCut, block: Obstacle) -> tuple[Remark, ...]:
    """Where the block stands across the bed, where the axis does, and what blade and guides take."""
    setting = swung.reach.setting
    half = max(setting.saw.kerf / 2, setting.guides.half_thickness)
    across = lengths(depth=block.depth, width=swung.reach.section.width) + names(block=block.name)
    beside = lengths(axis=setting.saw.bed.swing_axis or 0.0, half=half, clear=setting.guides.clearance)
    return (
        Remark("practice.given.block", across, block.stands),
        Remark("practice.given.axis", beside),
        *_beside_the_axis(swung),
    )


def _put(case: Case, need: float) -> float:
    """Where a block that can be set stands, by lot a little too near or far enough, mm."""
    off = case.lot.between(*_NEAR, 1.0) * case.lot.one_of((1.0, -1.0))
    return case.lot.between(need + off, need + off, case.step)


def _reached(swung: SwungCut, block: Obstacle) -> tuple[Remark, ...]:
    """How far the blade reaches at the corner of the block that it comes nearest, and what it needs besides."""
    setting = swung.reach.setting
    toward = 1.0 if block.side == "feed" else -1.0
    axis, offset = setting.saw.bed.swing_axis or 0.0, setting.saw.bed.blade_offset * (swung.longer - 1)
    across = max(((y - axis) for y in setting.across(block)), key=lambda y: toward * setting.cut.p * y)
    reach = toward * (setting.cut.p * across + offset)
    half, clear = max(setting.saw.kerf / 2, setting.guides.half_thickness), setting.guides.clearance
    need = setting.set_backs[block.name]
    stood = lengths(across=abs(across), reach=reach) + words(stood=f"practice.side/{block.side}")
    return (
        Remark("practice.support.reach", stood + swung.stands, "offset" if setting.saw.bed.blade_offset else ""),
        Remark("practice.support.need", lengths(half=half, clear=clear, reach=reach, need=need) + swung.stands),
    )
