"""Lengths of ellipses and their arcs over whole arrays; knows numpy only.

A unit circle in the plane x = p*y + q*z is an ellipse with the half axes 1 and w = sqrt(1 + k^2), k = hypot(p, q).
"""

from __future__ import annotations

from functools import cache
from typing import Final

import numpy as np

from mitertool.piece.batch.given import Array

_SETTLED: Final = 1e-9
"""Half the difference of two means by their size at which one mean more is good to its square, 1e-18."""

_SPREAD: Final = 1e-3
"""Relative spread of the arguments at which the fifth-order series is good to 1e-17 (its error is spread^6)."""


def whole(w: Array) -> Array:
    """Length of the whole ellipse by its arithmetic-geometric mean (NIST DLMF 19.8.6): for half axes a and b,
    2 pi (a^2 - sum of 2^(n-1) c_n^2) / M(a, b) with c_n half the difference of the means before."""
    a, b = w, np.ones_like(w)
    total, weight = w * w, 0.5
    half = (a - b) / 2
    total = total - weight * (a - b) * (a + b)
    while True:
        weight *= 2
        total -= weight * half * half
        a, b = (a + b) / 2, np.sqrt(a * b)
        half = (a - b) / 2
        if half.max() <= _SETTLED * a.max() or np.all(half <= _SETTLED * a):
            return np.asarray(2 * np.pi * total / ((a + b) / 2))


_NODES: Final = (8, 12, 16, 20, 26, 34, 44, 60)
"""Over how many places of the Gauss-Legendre rule an arc is summed; beyond the last, Carlson's forms are faster."""

_ROUNDING: Final = 1e-15
"""Relative error of the rule that is lost among the roundings of double precision."""


def arc(p: Array, q: Array, k: Array, begin: float, sweep: float) -> Array:
    """Length of the image of a unit arc from the angle `begin` through `sweep`, at most pi (radians).

    The integral of sqrt(1 + (q cos t - p sin t)^2) by the Gauss-Legendre rule with as many places as the slope `k`
    asks for, beyond the last rule by Carlson's forms.
    """
    length, below = np.empty_like(k), -1.0
    for count, steepest in zip(_NODES, _steepest(sweep / 2), strict=True):
        mine = np.flatnonzero((k > below) & (k <= steepest))
        if mine.size:
            length[mine] = _summed(p[mine], q[mine], begin, sweep, count)
        below = steepest
    mine = np.flatnonzero(k > below)
    if mine.size:
        length[mine] = _by_second_kind(p[mine], q[mine], begin, sweep)
    return length


@cache
def _steepest(half: float) -> tuple[float, ...]:
    """Up to which slope each rule is good for an arc of so many radians to either side of its middle.

    The root vanishes at asinh(1/k) beside the real axis. A rule of n places errs by rho^(-2 n), rho the sum of the half
    axes of the ellipse through there with its foci at the ends of the arc, scaled to -1 and 1 (Trefethen, "Is Gauss
    Quadrature Better than Clenshaw-Curtis?", SIAM Review 50, 2008, theorem 4.5).
    """
    needed = (_ROUNDING ** (-0.5 / count) for count in _NODES)
    return tuple(1 / np.sinh(half * (rho - 1 / rho) / 2) for rho in needed)


@cache
def _rule(begin: float, sweep: float, count: int) -> tuple[Array, Array]:
    """Sines and cosines of the places, (count, 2), by which p and q are multiplied, and the weight of each."""
    places, weights = np.polynomial.legendre.leggauss(count)
    angles = begin + sweep / 2 * (1 + places)
    return np.column_stack([-np.sin(angles), np.cos(angles)]), sweep / 2 * weights


def _summed(p: Array, q: Array, begin: float, sweep: float, count: int) -> Array:
    directions, weights = _rule(begin, sweep, count)
    rise = directions @ np.stack([p, q])
    rise *= rise
    rise += 1.0
    return np.asarray(weights @ np.sqrt(rise, out=rise))


def _by_second_kind(p: Array, q: Array, begin: float, sweep: float) -> Array:
    """sqrt(1 + k^2) times E(phi | m) between both ends, m = k^2 / (1 + k^2); E(phi + n pi) is E(phi) + 2 n E(pi/2)."""
    k2, phase = p * p + q * q, np.arctan2(p, q)
    w = np.sqrt(1 + k2)
    quarter, total = whole(w) / (4 * w), np.zeros_like(k2)
    for angle, sign in ((begin + sweep, 1), (begin, -1)):
        turns = np.floor((phase + angle) / np.pi + 0.5)
        rest = phase + angle - turns * np.pi
        total = total + sign * (2 * turns * quarter + _second_kind(np.sin(rest), np.cos(rest), k2))
    return np.asarray(w * total)


def _second_kind(s: Array, c: Array, k2: Array) -> Array:
    """E(phi | m) for -pi/2 <= phi <= pi/2 by its sine `s` and cosine `c`, with m = k2 / (1 + k2).

    s R_F(c^2, 1 - m s^2, 1) - m/3 s^3 R_D(c^2, 1 - m s^2, 1); both forms take the same duplications, and each of
    these leaves a quarter of the spread.
    """
    x, y, z = c * c, (1 + k2 * c * c) / (1 + k2), np.ones_like(k2)
    mean, rest, scale = (x + y + 3) / 5, np.zeros_like(k2), 1.0
    spread = (1 - np.minimum(x, y)) / (_SPREAD / 2)
    while np.any(spread * scale >= mean):
        up, across = np.sqrt(z), np.sqrt(x) + np.sqrt(y)
        lam = up * across + np.sqrt(x * y)
        rest = rest + scale / (up * (z + lam))
        x, y, z, mean, scale = (x + lam) / 4, (y + lam) / 4, (z + lam) / 4, (mean + lam) / 4, scale / 4
    third = rest + scale * _rd_series(x, y, z) / 3
    return np.asarray(s * _rf_series(x, y, z) - k2 / (1 + k2) * s**3 * third)


def _rf_series(x: Array, y: Array, z: Array) -> Array:
    mean = (x + y + z) / 3
    dx, dy, dz = 1 - x / mean, 1 - y / mean, 1 - z / mean
    e2, e3 = dx * dy - dz * dz, dx * dy * dz
    return np.asarray((1 - e2 / 10 + e3 / 14 + e2 * e2 / 24 - 3 * e2 * e3 / 44) / np.sqrt(mean))


def _rd_series(x: Array, y: Array, z: Array) -> Array:
    mean = (x + y + 3 * z) / 5
    dx, dy, dz = 1 - x / mean, 1 - y / mean, 1 - z / mean
    ea, eb = dx * dy, dz * dz
    ec, ed = ea - eb, ea - 6 * eb
    tail = dz * ((ed + 2 * ec) / 6 + dz * (-9 / 22 * ec + dz * 3 / 26 * ea))
    series = 1 + ed * (-3 / 14 + 9 / 88 * ed - 9 / 52 * dz * (ed + 2 * ec)) + tail
    return np.asarray(series / (mean * np.sqrt(mean)))
