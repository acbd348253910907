#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Compares sweeps of an indicator with SciPy on random problems.

    align_compare.py DRIVER [-n PROBLEMS] [--seed SEED]

  - walls, heads, and rounds whose radius is not known: numpy.linalg.lstsq, and
    the covariance from the inverse of its normal matrix;
  - rounds of known radius: scipy.optimize.least_squares on the distance along a
    ray to a circle, the Jacobian by complex steps;
  - straightness: the narrowest strip over all pairs of readings;
  - roundness: for a round of unknown radius the linear programme of the
    narrowest band about mean, cosine and sine (scipy.optimize.linprog); for a
    known one, minimised by Nelder and Mead from the found centre, which must
    not find a narrower ring.

The last line is plain counts; the exit status is 1 when anything failed.
"""
import sys
import time

import numpy as np
from scipy.optimize import least_squares, linprog, minimize
from scipy.stats import t as student

from yardstick import arguments, drive_rows, finish

COUNTS = (4, 5, 6, 8, 12, 24)


def line_of(head, a, v):
    return head + " " + " ".join(map(repr, np.stack([a, v], 1).ravel()
                                     .tolist()))


def close(have, want, allow):
    """Whether all are; NaN where NaN is wanted."""
    have, want = np.asarray(have, float), np.asarray(want, float)
    both = np.isnan(have) & np.isnan(want)
    same = np.isinf(want) & (have == want)
    with np.errstate(invalid="ignore"):
        return bool(np.all(both | same | (np.abs(have - want) <= allow)))


def spread_of(resid, unknowns, repeat):
    """Standard deviation of one reading and its dof."""
    left = len(resid) - unknowns
    if not np.isnan(repeat):
        return repeat, np.inf
    return np.sqrt((resid ** 2).sum() / left), float(left)


def solve(columns, v):
    """lstsq, then the cofactors."""
    x = np.linalg.lstsq(columns, v, rcond=None)[0]
    x = x + np.linalg.lstsq(columns, v - columns @ x, rcond=None)[0]
    return x, v - columns @ x, np.linalg.inv(columns.T @ columns)


def repeat_of(rng, sigma):
    """Stated in half of all problems, and large enough to be believed."""
    return float(3 * sigma) if rng.random() < 0.5 else float("nan")


# ------------------------------------------------------------------------ walls

def strip(a, v):
    """Over all pairs; ends of the narrowest strip lie on the hull."""
    best = np.inf
    p = np.stack([a - a.mean(), v - v.mean()], 1)
    for i in range(len(p)):
        for j in range(i):
            d = p[i] - p[j]
            n = np.array([-d[1], d[0]]) / np.hypot(*d)
            best = min(best, np.ptp(p @ n))
    return best


def wall(rng):
    n = int(rng.choice(COUNTS))
    span = 10 ** rng.uniform(1, 3)
    sigma = 10 ** rng.uniform(-5, -1.5)
    a = rng.uniform(-1, 1) * 500 + np.sort(rng.uniform(0, span, n))
    v = rng.uniform(-0.1, 0.1) * a + sigma * rng.standard_normal(n)
    repeat = repeat_of(rng, sigma)
    return line_of(f"wall {n} {repeat!r}", a, v), (a, v, repeat)


def judge_wall(out, a, v, repeat):
    n = len(a)
    t = a - a.mean()
    (_, slope), r, q = solve(np.stack([np.ones(n), t], 1), v)
    sigma, dof = spread_of(r, 2, repeat)
    u = sigma * np.sqrt(q[1, 1])
    size = np.abs(v).max() + np.ptp(a)
    lean = 1e-13 * size / np.ptp(a)
    skew = np.arctan(slope)
    factor = 1.959963984540054 if np.isinf(dof) else student.ppf(0.975, dof)
    return [
        ("skew", close(out[1], skew, lean)),
        ("u", close(out[2], u * np.cos(skew) ** 2, 1e-9 * u + 1e-15)),
        ("dof", close(out[3], dof, 0)),
        ("half95", close(out[4], factor * out[2], 1e-9 * out[4])),
        ("tap", close(out[5], abs(slope) * np.ptp(a), 1e-12 * size)),
        ("tap u", close(out[6], u * np.ptp(a), 1e-9 * u * np.ptp(a) + 1e-13)),
        ("span", close(out[7], np.ptp(a), 1e-12 * size)),
        ("straight", close(out[8], strip(a, v), 1e-12 * size)),
        ("rms", close(out[9], np.sqrt((r ** 2).mean()), 1e-12 * size)),
        ("residuals", close(out[10:], r, 1e-12 * size)),
    ]


# ------------------------------------------------------------------------ heads

def around(rng, n):
    """Azimuths all round, or over part of the way."""
    way = rng.choice((2 * np.pi, 2 * np.pi, np.pi, 2))
    return rng.uniform(-9, 9) + way * (np.arange(n) + rng.uniform(-0.3, 0.3, n)
                                       ) / n


def waves(a):
    return np.stack([np.ones(len(a)), np.cos(a), np.sin(a)], 1)


def head(rng):
    n = int(rng.choice(COUNTS))
    radius = float(rng.uniform(30, 300))
    sigma = 10 ** rng.uniform(-5, -2)
    a = around(rng, n)
    v = waves(a) @ rng.uniform(-1, 1, 3) + sigma * rng.standard_normal(n)
    repeat = repeat_of(rng, sigma)
    return (line_of(f"head {n} {repeat!r} {radius!r}", a, v),
            (a, v, radius, repeat))


def judge_head(out, a, v, radius, repeat):
    x, r, q = solve(waves(a), v)
    sigma, dof = spread_of(r, 3, repeat)
    tan = x[1:] / radius
    u = sigma * np.sqrt(np.diag(q)[1:]) / radius / (1 + tan ** 2)
    allow = 1e-14 * np.sqrt(q.max() * len(a)) * (1 + np.abs(x).max())
    return [
        ("tilt", close(out[1:3], np.arctan(tan), 10 * allow / radius)),
        ("u", close(out[3:5], u, 1e-7 * u)),
        ("dof", close(out[5], dof, 0)),
        ("rise", close(out[6:8], 2 * x[1:], 20 * allow)),
        ("dish", close(out[8], radius / 2 * np.sin(np.arctan(np.hypot(*tan))),
                       10 * allow)),
        ("rms", close(out[9], np.sqrt((r ** 2).mean()), 1e-12)),
        ("residuals", close(out[10:], r, 10 * allow)),
    ]


# ----------------------------------------------------------------------- rounds

def ray(a, e, radius):
    """Distance from the origin along each azimuth to a circle about e."""
    w = e[0] * np.sin(a) - e[1] * np.cos(a)
    return e[0] * np.cos(a) + e[1] * np.sin(a) + np.sqrt(radius ** 2 - w ** 2)


def slopes_of(f):
    """The Jacobian by complex steps, which loses no digit."""
    def slopes(x):
        return np.stack([f(x + 1e-30j * unit).imag / 1e-30
                         for unit in np.eye(len(x))], 1)
    return slopes


def round_(rng):
    n = int(rng.choice(COUNTS))
    radius = float(rng.uniform(5, 60))
    known = rng.random() < 0.6
    sigma = 10 ** rng.uniform(-5, -2)
    inside = int(rng.integers(2))
    a = around(rng, n)
    off = radius * 10 ** rng.uniform(-4, -0.5) if known else 0.1
    way = rng.uniform(0, 7)
    e = off * np.array([np.cos(way), np.sin(way)])
    v = (-1 if inside else 1) * ray(a, e, radius) + rng.uniform(-1, 1)
    v += sigma * rng.standard_normal(n)
    repeat = repeat_of(rng, sigma)
    if not known:  # only then is it the same model
        v = waves(a) @ np.array([0, *e]) + sigma * rng.standard_normal(n)
        radius = float("nan")
    return (line_of(f"round {n} {repeat!r} {radius!r} {inside}", a, v),
            (a, v, radius, inside, repeat, e))


def judge_linear(out, a, v, side, repeat):
    x, r, q = solve(waves(a), side * v)
    sigma, dof = spread_of(r, 3, repeat)
    cov = sigma ** 2 * np.array([q[1, 1], q[1, 2], q[2, 2]])
    allow = 1e-13 * np.sqrt(q.max() * len(a)) * (1 + np.abs(v).max())
    # the narrowest band: mean, cosine, sine, half its width
    m = waves(a)
    one = np.ones((len(a), 1))
    unit = np.abs(r).max()
    lp = linprog([0, 0, 0, 1], np.block([[m, -one], [-m, -one]]),
                 np.concatenate([r, -r]) / unit,
                 bounds=[(None, None)] * 3 + [(0, None)], method="highs")
    return [
        ("shift", close(out[1:3], x[1:], allow)),
        ("dof", close(out[3], dof, 0)),
        ("cov", close(out[4:7], cov, 1e-7 * cov.max() + 1e-7 * cov[2])),
        ("roundness", close(out[7], 2 * lp.fun * unit, 1e-5 * unit)),
        ("second", close(out[8], np.nan, 0)),
        ("residuals", close(out[10:], side * r, 10 * allow)),
    ]


def judge_round(out, a, v, radius, inside, repeat, e):
    side = -1 if inside else 1
    if np.isnan(radius):
        return judge_linear(out, a, v, side, repeat)
    f = lambda x: side * v - x[0] - ray(a, x[1:], radius)
    start = [np.mean(side * v - ray(a, e, radius)), *e]
    s = least_squares(f, start, slopes_of(f), method="lm", xtol=1e-15,
                      ftol=1e-15, gtol=1e-15)
    for _ in range(3):  # it stops when the cost does, before x is at rest
        s.x -= np.linalg.lstsq(slopes_of(f)(s.x), f(s.x), rcond=None)[0]
    s.fun, s.jac = f(s.x), slopes_of(f)(s.x)
    q = np.linalg.inv(s.jac.T @ s.jac)
    sigma, dof = spread_of(s.fun, 3, repeat)
    cov = sigma ** 2 * np.array([q[1, 1], q[1, 2], q[2, 2]])
    mine = side * out[10:]
    loss = 2e-14 * (np.abs(v).max() + radius)  # what rounding leaves of them
    allow = 1e-14 * np.sqrt(q.max() * len(a)) * (np.abs(v).max() + radius)
    allow += 1e-9 * np.abs(s.fun).max() * q.max() ** 0.5  # nor is it quite
    w = out[1] * np.sin(a) - out[2] * np.cos(a)
    second = (radius - np.sqrt(radius ** 2 - w ** 2)).max()
    d = side * v - s.x[0]  # of the wall from the spindle
    p = np.stack([d * np.cos(a), d * np.sin(a)], 1)
    width = lambda c: np.ptp(np.hypot(p[:, 0] - c[0], p[:, 1] - c[1]))
    near = minimize(width, s.x[1:], method="Nelder-Mead",
                    options={"xatol": 1e-9 * radius, "fatol": 1e-13,
                             "maxiter": 2000})
    scale = np.abs(s.fun).max()
    return [
        ("shift", close(out[1:3], s.x[1:], 10 * allow)),
        ("cost", np.hypot.reduce(mine) <= np.hypot.reduce(s.fun) +
         1e-14 * len(a) ** 0.5 * (np.abs(v).max() + radius)),
        ("residuals", close(mine, s.fun, 10 * allow)),
        ("dof", close(out[3], dof, 0)),
        ("cov", close(out[4:7], cov, (1e-8 + loss / sigma) *
                      (cov[0] + cov[2]))),
        ("roundness", out[7] <= min(near.fun, width(s.x[1:])) + 1e-6 * scale +
         1e-12 * radius and out[7] > 0),
        ("second", close(out[8], second, 1e-12 * radius)),
    ]


# ------------------------------------------------------------------------- main

KINDS = {"wall": (wall, judge_wall), "head": (head, judge_head),
         "round": (round_, judge_round)}


def run(driver, name, rng, n):
    make, judge = KINDS[name]
    made = [make(rng) for _ in range(n)]
    failed = 0
    for (line, rest), out in zip(made, drive_rows(driver, [m[0] for m in made])):
        said = [w for w, good in judge(out, *rest) if not good] \
            if out[0] == 0 else ["status"]
        if said:
            failed += 1
            if failed < 12:
                print(f"  {name}: {', '.join(said)}: {line}\n    {out}")
    return failed


def main():
    args = arguments(__doc__, 5000)
    failed = 0
    for i, name in enumerate(KINDS):
        start = time.monotonic()
        bad = run(args.driver, name, np.random.default_rng([args.seed, i]), args.n)
        print(f"align {name}: {args.n} tried, {bad} failed "
              f"({time.monotonic() - start:.0f} s)")
        failed += bad
    return finish(len(KINDS) * args.n, failed)


if __name__ == "__main__":
    sys.exit(main())
