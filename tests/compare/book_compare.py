#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Compares the line through lengths with SciPy, and what is promised of the
limit of a change and of an interval with simulated errors.

    book_compare.py DRIVER [-n PROBLEMS] [--seed SEED]

  - trend: scipy.stats.theilslopes for the slope, scipy.stats.linregress for
    least squares; the places of the interval by Kendall's exact
    distribution of S (here by convolution), counted from the slopes of all pairs;
  - limit: how many of simulated differences of two parts lie beyond it, and
    outside the 95 % interval, against what trust.h promises.

The last line is plain counts; the exit status is 1 when anything failed.
"""
import sys
import time

import numpy as np
from scipy import stats

from yardstick import arguments, drive, EPS, finish, LD, print_end, Tally, \
    text


def below(n):
    """P(inversions <= k) of n ranks, for every k."""
    share = np.array([1.0])
    for m in range(2, n + 1):
        share = np.convolve(share, np.full(m, 1.0 / m))
    return np.cumsum(share)


def make_trend(rng, n, count):
    x = np.cumsum(rng.uniform(0.1, 2, (n, count)), 1)
    slope = rng.normal(0, 0.02, (n, 1))
    noise = 10.0 ** rng.uniform(-5, -1, (n, 1))
    y = 60 + slope * x + noise * rng.standard_normal((n, count))
    wild = rng.random((n, count)) < 0.05
    return x, y + wild * rng.normal(0, 1, (n, count))


def spread_of(x, y):
    """What is left of least squares, n - 2 degrees of freedom."""
    x = x - x.mean(1, keepdims=True, dtype=LD)
    y = y - y.mean(1, keepdims=True, dtype=LD)
    rest = y - x * ((x * y).sum(1) / (x * x).sum(1))[:, None]
    return np.sqrt((rest * rest).sum(1) / (x.shape[1] - 2))


def compare_trend(driver, rng, per):
    tally, start = Tally("trend"), time.monotonic()
    for count in (3, 4, 5, 8, 13, 30, 60):
        n = per // 50 + 5
        x, y = make_trend(rng, n, count)
        out = drive(driver, [text(f"trend {count}", np.stack([a, b], 1))
                             for a, b in zip(x, y)])
        i, k = np.triu_indices(count, 1)
        pairs = np.sort((y[:, k] - y[:, i]) / (x[:, k] - x[:, i]), 1)
        place = int((below(count) <= 0.025).sum())
        low = pairs[:, place - 1] if place else np.full(n, np.nan)
        high = pairs[:, pairs.shape[1] - place] if place else low
        theil = np.array([stats.theilslopes(b, a)[0] for a, b in zip(x, y)])
        line = [stats.linregress(a, b) for a, b in zip(x, y)]
        size = np.abs(pairs).max(1)

        def show(j):
            return text("trend", np.stack([x[j], y[j]], 1))

        tally.tried += n
        bad = out[:, 0] != 0
        for what, got, want in (("slope", out[:, 1], theil),
                                ("low", out[:, 2], low),
                                ("high", out[:, 3], high)):
            bad |= np.isnan(got) != np.isnan(want)
            off = np.where(np.isnan(want), 0, np.abs(got - want))
            bad |= tally.check(what, off, 4 * EPS * size, show, count)
        mean = y.mean(1, dtype=LD)
        bad |= tally.check("mean", np.abs(out[:, 6] - mean),
                           count / 2 * EPS * np.abs(y).max(1), show, count)
        spread = spread_of(x, y)
        bad |= tally.check("spread", np.abs(out[:, 5] - spread),
                           EPS * (count * spread + np.ptp(y, axis=1)), show,
                           count)
        square = np.array([r.slope for r in line])
        reach = np.abs(y).max(1) / (x - x.mean(1, keepdims=True)).std(1)
        bad |= tally.check("squares", np.abs(out[:, 4] - square),
                           4 * EPS * reach, show, count)
        tally.failed += int(bad.sum())
    print_end(tally, start)
    return tally


# Degrees of freedom of two parts, percent beyond the limit at least and at most,
# percent outside the interval at least: of what tests/trust/limit.c finds by
# quadrature for parts of so many and nearby, with room for the draw.
LIMITS = ((4, 4, 0.3, 1.05, 3), (10, 40, 0.9, 1.05, 4.6), (2, 60, 0.7, 1.2, 4),
          (5, 5, 0.45, 1.05, 4))


def compare_limit(driver, rng, per):
    tally, start = Tally("limit"), time.monotonic()
    n = max(per, 20000)
    for f1, f2, least, most, among in LIMITS:
        true = 10.0 ** rng.uniform(-1, 1, 3)
        s = np.stack([true[0] * np.sqrt(rng.chisquare(f1, n) / f1),
                      np.full(n, f1), true[1] *
                      np.sqrt(rng.chisquare(f2, n) / f2), np.full(n, f2)], 1)
        out = drive(driver, [text(f"limit 2 {true[2]!r}", row) for row in s])
        d = np.hypot(np.hypot(true[0], true[1]), true[2]) * \
            rng.standard_normal(n)
        for what, got, share, low, high in (
                ("limit", out[:, 1], 0.01, least, most),
                ("interval", out[:, 2], 0.05, among, 5.02)):
            seen = 100 * np.mean(np.abs(d) > got)
            spread = 4 * 100 * np.sqrt(share * (1 - share) / n)
            tally.tried += 1
            if not low - spread <= seen <= high + spread:
                tally.failed += 1
                print(f"  {what} {f1} {f2} {true}: {seen:.3f} % beyond")
    print_end(tally, start)
    return tally


def main():
    args = arguments(__doc__, 100000)
    tallies = []
    for k, compare in enumerate((compare_trend, compare_limit)):
        rng = np.random.default_rng([args.seed, k])
        tallies.append(compare(args.driver, rng, args.n))
    return finish(sum(t.tried for t in tallies),
                  sum(t.failed for t in tallies))


if __name__ == "__main__":
    sys.exit(main())
