"""Small jobs drawn by lot, and the same jobs as the package takes them: the only module here that calls it."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from math import atan, degrees, radians, tan
from random import Random

import mitertool as mt
from mitertool.nest import BAR_BY_BAR, Allowance, ArmLimits, solve
from mitertool.nest import Item as NestItem
from mitertool.nest import Rates as NestRates
from mitertool.nest import Stock as NestStock
from tests.nest.oracle.model import Job, Piece, Rates, Section, Shop, Stock

LETTERS = {"I": "as-drawn", "Z": "end-for-end", "X": "rolled", "Y": "end-for-end-rolled"}
KINDS = ("tube", "leg")
WIDTH = 40.0


def by_lot(seed: int, most: int = 5) -> Job:
    """Two to `most` pieces of one or two sections, on short bars, with or without rates."""
    lot = Random(seed)
    names = lot.choice((("tube",), ("tube",), ("leg",), ("tube", "leg"), ("tube", "wide")))
    sections = {name: Section(60.0 if name == "wide" else WIDTH, name != "leg") for name in names}
    slopes = [0.0] + [tan(radians(a)) for a in lot.sample((45, -45, 30, -30, 22.5), lot.choice((1, 2, 3)))]
    pieces: list[Piece] = []
    count = lot.randint(2, most)
    while len(pieces) < count:
        name = lot.choice(names)
        length = float(lot.choice((150, 180, 240, 333)))
        one = Piece(name, length, lot.choice(slopes), lot.choice(slopes), "IZXY" if sections[name].over else "I")
        pieces += [one] * min(lot.choice((1, 1, 2)), count - len(pieces))
    costs = [lot.choice(choice) for choice in ((4, 20), (1, 30), (0, 2), (0, 3, 15))]
    rates = None if lot.random() < 0.4 else Rates(*costs)
    arm = lot.choice((90.0, 90.0, 46.0)), lot.choice((90.0, 90.0, 0.0)) if "leg" not in names else 90.0
    over = lot.random() < 0.2
    shop = Shop(2.0, lot.choice((0.0, 8.0)), lot.choice((0.0, 30.0)), *arm, rates=rates, over_the_tip=over)
    stock = [Stock(name, length, length) for name in names for length in lot.sample((500.0, 800.0, 1200.0), 2)]
    return Job(tuple(pieces), sections, tuple(stock), shop)


def tight(job: Job) -> Job:
    """The job with no more bars of each length than it takes where each piece is cut whole, bar by bar."""
    items, stock, allowance = made(job)
    plan = solve(items, stock, allowance, arm=arm(job), way=BAR_BY_BAR)
    used = Counter((bar.section.name, bar.stock_length) for bar in plan.bars for _ in range(bar.count))
    left = (replace(one, quantity=used[one.section, one.length]) for one in job.stock)
    return replace(job, stock=tuple(one for one in left if one.quantity))


def made(job: Job) -> tuple[list[NestItem], list[NestStock], Allowance]:
    """Pieces, bars and what the saw takes."""
    sections = {name: _section(name, one) for name, one in job.sections.items()}
    items = []
    for number, piece in enumerate(dict.fromkeys(job.pieces)):
        ends = (mt.Cut(degrees(atan(slope))) for slope in (piece.left, piece.right))
        whole = mt.Piece(sections[piece.section], piece.length, *ends, at="centerline")
        poses = tuple(LETTERS[letter] for letter in piece.poses)
        items.append(NestItem(f"M{number}", whole, job.pieces.count(piece), turn=poses))
    stock = [NestStock(one.section, one.length, quantity=one.quantity, cost=one.price) for one in job.stock]
    second = "where the piece was" if job.shop.over_the_tip else "clear of the piece"
    return items, stock, Allowance(job.shop.kerf, job.shop.trim, job.shop.grip, second_kerf=second)


def _section(name: str, one: Section) -> mt.Section:
    shape = mt.rect_tube if one.over else mt.angle
    return shape(one.width, one.width, 3).named(name, "")


def arm(job: Job) -> ArmLimits:
    """How far the arm goes."""
    return ArmLimits(job.shop.feed_most, job.shop.discharge_most)


def rates(job: Job) -> NestRates | None:
    """Money for one of each, as minutes at 60 an hour."""
    one = job.shop.rates
    return None if one is None else NestRates(one.swing, one.roll, 60, one.load, one.recut)
