#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Compares the fits with SciPy, mpmath and NumPy's long double on random
problems.

    fit_compare.py DRIVER [-n PROBLEMS] [--seed SEED] [--fits a,b]
    fit_compare.py --cli JAWLINE [-n PROBLEMS] [--seed SEED]

Every fit gets PROBLEMS problems (default 100000), shared out over classes:
near and far, tiny and huge, quiet and noisy, short arcs and full turns, narrow
strips, uneven weights.  Three yardsticks:

  - the exact local answer: the same sum of squares brought to rest in long
    double by other formulas than the library's;
  - the global answer: SciPy (least_squares, several starts) on some problems,
    and for circles a vectorised Levenberg-Marquardt search from many starts on
    every noisy one;
  - mpmath, 40 digits, on the problems that came out worst, so that a failure
    is the library's and not the yardstick's.

An answer fails when it is farther off than if each touch had been moved by
K eps of the touched extent, K as promised in fit.h: the bound comes from the
condition of each problem, not from a fixed tolerance.  The last line is plain
counts; the exit status is 1 when anything failed.
"""
import argparse
import json
import subprocess
import sys
import time

import mpmath as mp
import numpy as np
from scipy.optimize import least_squares

from yardstick import drive, EPS, finish, LD, print_end, seed_of, Tally, text

COUNTS = (3, 4, 5, 8, 12, 24, 60)
# The factors of fit.h, "Accuracy".
K = dict.fromkeys(("line", "line-along", "pair", "pair-along", "plane",
                   "circle", "circle-known", "rigid"), 8)
K_RESIDUAL = 12  # of circles

mp.mp.dps = 40


def scales(rng, n):
    """Offset and size for n problems: mostly a shop's, some extreme."""
    size = 10.0 ** rng.uniform(-1, 2.5, n)
    far = 10.0 ** rng.uniform(-1, 3, n)
    odd = rng.random(n)
    size = np.where(odd < 0.1, 10.0 ** rng.uniform(-9, 12, n), size)
    far = np.where(odd < 0.1, size * 10.0 ** rng.uniform(-2, 3, n), far)
    far = np.where(odd > 0.9, size * 10.0 ** rng.uniform(3, 6, n), far)
    angle = rng.uniform(0, 2 * np.pi, n)
    return size, far * np.cos(angle), far * np.sin(angle)


def extent(*coords):
    """Largest distance from the mean: half the touched extent, at least."""
    sq = sum(about_mean(c) ** 2 for c in coords)
    return np.sqrt(sq.max(1)).astype(float)


def biggest(*coords):
    return np.max([np.abs(c).max(1) for c in coords], axis=0)


# ------------------------------------------------------------------------ line

def mean(x):
    """From differences, which keep their digits far from the origin."""
    return x[:, 0] + (x - x[:, :1]).mean(1)


def about_mean(x):
    d = x - x[:, :1]
    return d - d.mean(1, keepdims=True)


def principal(sxx, sxy, syy):
    return 0.5 * np.arctan2(2 * sxy, sxx - syy)


def line_exact(groups, theta=None):
    """Groups of (x, y) that share a direction, in long double: theta, lean
    corrected in the turned frame; means, residuals, sums along and across,
    and the step from the first mean to the last."""
    means = [(mean(x), mean(y)) for x, y in groups]
    apart = tuple((g - groups[0][k][:, :1]).mean(1)
                  - (groups[0][k] - groups[0][k][:, :1]).mean(1)
                  for k, g in enumerate(groups[-1]))
    d = [(about_mean(x), about_mean(y)) for x, y in groups]
    if theta is None:
        th = principal(sum((a * a).sum(1) for a, b in d),
                       sum((a * b).sum(1) for a, b in d),
                       sum((b * b).sum(1) for a, b in d))
        rounds = 3
    else:
        th, rounds = theta, 0
    for i in range(rounds + 1):
        c, s = np.cos(th)[:, None], np.sin(th)[:, None]
        u = np.concatenate([c * a + s * b for a, b in d], 1)
        v = np.concatenate([c * b - s * a for a, b in d], 1)
        if i < rounds:
            th = th + principal((u * u).sum(1), (u * v).sum(1), (v * v).sum(1))
    over = th > np.pi / 2
    th, v = np.where(over, th - LD(np.pi), th), np.where(over[:, None], -v, v)
    return th, means, v, (u * u).sum(1), (v * v).sum(1), apart


def turn_apart(a, b):
    """Angle between directions, either way round."""
    d = np.abs(np.asarray(a - b, float)) % np.pi
    return np.minimum(d, np.pi - d)


def make_line(rng, n, count, cls):
    size, ox, oy = scales(rng, n)
    theta = rng.uniform(-np.pi / 2, np.pi / 2, n)
    theta = np.where(rng.random(n) < 0.2,
                     rng.choice([0, np.pi / 2, -np.pi / 2, np.pi / 4], n)
                     + 10.0 ** rng.uniform(-9, -2, n), theta)
    rough = {"quiet": (-12, -6), "usual": (-6, -3), "noisy": (-3, -0.5),
             "exact": (-30, -29)}[cls]
    u = rng.uniform(-1, 1, (n, count)) * size[:, None]
    noise = size * 10.0 ** rng.uniform(*rough, n)
    v = rng.normal(0, 1, (n, count)) * noise[:, None]
    c, s = np.cos(theta)[:, None], np.sin(theta)[:, None]
    return ox[:, None] + c * u - s * v, oy[:, None] + s * u + c * v, theta


def fit_line(driver, rng, per, tally, along=False):
    name = "line-along" if along else "line"
    for cls in ("quiet", "usual", "noisy", "exact"):
        for count in COUNTS:
            n = per // (4 * len(COUNTS)) + 1
            x, y, theta = make_line(rng, n, count, cls)
            p = np.stack([x, y], 2)
            head = f"{name} {count}"
            out = drive(driver, [
                text(head + (f" {theta[i]!r}" if along else ""), p[i])
                for i in range(n)])
            th, means, v, uu, vv, apart = line_exact(
                [(x.astype(LD), y.astype(LD))],
                theta.astype(LD) if along else None)
            judge_line(tally, cls, out, p, th, means, v, uu, vv, along, name)
    return tally


def judge_line(tally, cls, out, p, th, means, v, uu, vv, along, name):
    n, count = p.shape[:2]
    show = lambda i: text(f"{name} {count}", p[i])
    k = K[name]
    ext = extent(p[:, :, 0], p[:, :, 1])
    big = biggest(p[:, :, 0], p[:, :, 1])
    gap = np.sqrt(uu.astype(float)) - np.sqrt(vv.astype(float))
    # a line whose length is its width has no direction; not made here on
    # purpose, but two noisy touches can come near
    sure = gap > 1e3 * count * EPS * big
    bad = tally.check("status", (out[:, 0] != 0) & sure, np.full(n, 0.5), show,
                      cls)
    ok = sure & (out[:, 0] == 0)
    at = np.nonzero(ok)[0]
    pick = lambda i: show(at[i])
    o, e, b = out[ok], ext[ok], big[ok]
    move = k * EPS * e
    root = np.sqrt(float(count))
    for j in range(2):
        off = np.abs(o[:, 1 + j] - means[0][j][ok])
        bad[at] |= tally.check("mean", off, EPS * b + EPS * e * k, pick, cls)
    if not along:
        off = turn_apart(o[:, 7].astype(LD), th[ok])
        bad[at] |= tally.check("theta", off, root * move / gap[ok] + 2 * EPS,
                               pick, cls)
    worse = np.ones(len(at)) if along else \
        (np.sqrt(uu[ok].astype(float)) / gap[ok])
    r = o[:, 17:17 + count]
    sign = np.sign((r * v[ok]).sum(1).astype(float))
    sign[sign == 0] = 1
    off = np.abs(r * sign[:, None] - v[ok]).max(1)
    bad[at] |= tally.check("residual", off, move * worse, pick, cls)
    off = np.abs(np.sqrt(o[:, 12] / count) - np.sqrt(vv[ok] / count))
    bad[at] |= tally.check("rms", off, move * worse, pick, cls)
    tally.tried += n
    tally.failed += int(bad.sum())


# ------------------------------------------------------------------------ pair

def fit_pair(driver, rng, per, tally, along=False):
    name = "pair-along" if along else "pair"
    for cls in ("quiet", "usual", "noisy"):
        for na, nb in ((1, 2), (2, 2), (3, 1), (4, 3), (8, 8), (30, 5)):
            n = per // 18 + 1
            xa, ya, theta = make_line(rng, n, na + nb, cls)
            size = extent(xa, ya)
            gap = size * 10.0 ** rng.uniform(-1.5, 1.5, n)
            gap = gap * rng.choice([-1, 1], n)
            xa[:, na:] -= (gap * np.sin(theta))[:, None]
            ya[:, na:] += (gap * np.cos(theta))[:, None]
            p = np.stack([xa, ya], 2)
            out = drive(driver, [
                text(f"{name} {na} {nb}" + (f" {theta[i]!r}" if along else ""),
                     p[i]) for i in range(n)])
            x, y = xa.astype(LD), ya.astype(LD)
            th, means, v, uu, vv, apart = line_exact(
                [(x[:, :na], y[:, :na]), (x[:, na:], y[:, na:])],
                theta.astype(LD) if along else None)
            judge_pair(tally, cls, out, p, na, nb, th, means, v, uu, vv,
                       apart, along, name)
    return tally


def judge_pair(tally, cls, out, p, na, nb, th, means, v, uu, vv, apart, along,
               name):
    n, count = p.shape[:2]
    show = lambda i: text(f"{name} {na} {nb}", p[i])
    ext = extent(p[:, :, 0], p[:, :, 1])
    big = biggest(p[:, :, 0], p[:, :, 1])
    gap = np.sqrt(uu.astype(float)) - np.sqrt(vv.astype(float))
    sure = along | (gap > 1e3 * count * EPS * big)
    bad = tally.check("status", (out[:, 0] != 0) & sure, np.full(n, 0.5), show,
                      cls)
    ok = sure & (out[:, 0] == 0)
    at = np.nonzero(ok)[0]
    pick = lambda i: show(at[i])
    o = out[ok]
    move = K[name] * EPS * ext[ok]
    lean = np.sqrt(float(count)) * move / gap[ok] * (not along)
    for side in range(2):
        for j in range(2):
            off = np.abs(o[:, 1 + 2 * side + j] - means[side][j][ok])
            bad[at] |= tally.check("mean", off, EPS * big[ok] + move, pick, cls)
    if not along:
        bad[at] |= tally.check("theta", turn_apart(o[:, 9].astype(LD), th[ok]),
                               lean + 2 * EPS, pick, cls)
    dx, dy = apart
    want = (np.cos(th) * dy - np.sin(th) * dx)[ok]
    lever = np.abs((np.cos(th) * dx + np.sin(th) * dy)[ok]).astype(float)
    flip = np.sign(np.cos(th[ok]) * o[:, 5] + np.sin(th[ok]) * o[:, 6])
    bad[at] |= tally.check("gap", np.abs(o[:, 10] * flip - want),
                           move + lever * (lean + 2 * EPS), pick, cls)
    worse = np.ones(len(at)) if along else \
        np.sqrt(uu[ok].astype(float)) / gap[ok]
    r = o[:, 22:22 + count] * flip.astype(float)[:, None]
    bad[at] |= tally.check("residual", np.abs(r - v[ok]).max(1), move * worse,
                           pick, cls)
    tally.tried += n
    tally.failed += int(bad.sum())


# ----------------------------------------------------------------------- plane

def plane_exact(p):
    """One-sided Jacobi on the touches, long double (Hestenes 1958): means,
    axes, residuals, sums along the axes, greatest first."""
    q = p.astype(LD)
    w = np.stack([about_mean(q[:, :, k]) for k in range(3)], 2)
    middle = np.stack([mean(q[:, :, k]) for k in range(3)], 1)
    n = len(q)
    axes = np.zeros((n, 3, 3), LD)
    for i in range(3):
        axes[:, i, i] = 1
    for _ in range(14):
        for i, j in ((0, 1), (0, 2), (1, 2)):
            a, b = w[:, :, i], w[:, :, j]
            th = principal((a * a).sum(1), (a * b).sum(1), (b * b).sum(1))
            c, s = np.cos(th), np.sin(th)
            w[:, :, i], w[:, :, j] = (c[:, None] * a + s[:, None] * b,
                                      c[:, None] * b - s[:, None] * a)
            ai, aj = axes[:, i].copy(), axes[:, j].copy()
            axes[:, i] = c[:, None] * ai + s[:, None] * aj
            axes[:, j] = c[:, None] * aj - s[:, None] * ai
    return middle, axes, w, (w * w).sum(1)


def make_plane(rng, n, count, cls):
    size, ox, oy = scales(rng, n)
    rough = {"quiet": (-12, -6), "usual": (-6, -3), "noisy": (-3, -0.5),
             "strip": (-9, -5)}[cls]
    width = 10.0 ** (rng.uniform(-4, -1, n) if cls == "strip"
                     else rng.uniform(-0.5, 0, n))
    u = rng.uniform(-1, 1, (n, count)) * size[:, None]
    v = rng.uniform(-1, 1, (n, count)) * (size * width)[:, None]
    noise = size * width * 10.0 ** rng.uniform(*rough, n)
    w = rng.normal(0, 1, (n, count)) * noise[:, None]
    axes = np.linalg.qr(rng.normal(0, 1, (n, 3, 3)))[0]
    flat = rng.random(n) < 0.3
    axes[flat] = np.eye(3)
    offset = np.stack([ox, oy, rng.normal(0, 1, n) * np.hypot(ox, oy)], 1)
    return (np.einsum("nki,nij->nkj", np.stack([u, v, w], 2), axes)
            + offset[:, None, :])


def fit_plane(driver, rng, per, tally):
    for cls in ("quiet", "usual", "noisy", "strip"):
        for count in COUNTS:
            n = per // (4 * len(COUNTS)) + 1
            p = make_plane(rng, n, count, cls)
            out = drive(driver, [text(f"plane {count}", q) for q in p])
            judge_plane(tally, cls, out, p)
    return tally


def judge_plane(tally, cls, out, p):
    n, count = p.shape[:2]
    show = lambda i: text(f"plane {count}", p[i])
    middle, axes, w, sums = plane_exact(p)
    sig = np.sqrt(sums.astype(float))
    ext = extent(p[:, :, 0], p[:, :, 1], p[:, :, 2])
    big = biggest(p[:, :, 0], p[:, :, 1], p[:, :, 2])
    gap = sig[:, 1] - sig[:, 2]
    sure = gap > 1e3 * count * EPS * big
    bad = tally.check("status", (out[:, 0] != 0) & sure, np.full(n, 0.5), show,
                      cls)
    ok = sure & (out[:, 0] == 0)
    at = np.nonzero(ok)[0]
    pick = lambda i: show(at[i])
    o = out[ok]
    move = K["plane"] * EPS * ext[ok]
    root = np.sqrt(float(count))
    for j in range(3):
        bad[at] |= tally.check("mean", np.abs(o[:, 1 + j] - middle[ok, j]),
                               EPS * big[ok] + move, pick, cls)
    normal = o[:, 4:7].astype(LD)
    side = np.sign((normal * axes[ok, 2]).sum(1))
    off = np.sqrt(((normal * side[:, None] - axes[ok, 2]) ** 2).sum(1))
    bad[at] |= tally.check("normal", off, root * move / gap[ok] + 2 * EPS,
                           pick, cls)
    r = o[:, 24:24 + count]
    off = np.abs(r * side.astype(float)[:, None] - w[ok, :, 2]).max(1)
    worse = sig[ok, 1] / gap[ok]
    bad[at] |= tally.check("residual", off, move * worse, pick, cls)
    for i in range(2):
        off = np.abs(np.sqrt(1 / o[:, 17 + i]) - sig[ok, i])
        bad[at] |= tally.check("tilt", off, root * move * 2, pick, cls)
    tally.tried += n
    tally.failed += int(bad.sum())


# ---------------------------------------------------------------------- circle

def circle_sums(x, y, a, b, r):
    dx, dy = x - a[:, None], y - b[:, None]
    d = np.sqrt(dx * dx + dy * dy)
    return d - r[:, None], dx / d, dy / d, d


def arc_form(x, y, a, b, r):
    """The circle as A (x^2 + y^2) + B x + C y + D = 0 with
    B^2 + C^2 - 4 A D = 1 (Chernov 2010, 3.2), as A, D and the angle of
    (B, C), seen from the mean of the touches."""
    big = 1 / (2 * r)
    return big, (a * a + b * b - r * r) * big, np.arctan2(-b, -a)


def arc_eval(x, y, A, D, t):
    e = np.sqrt(np.maximum(1 + 4 * A * D, 0))
    c, s = np.cos(t), np.sin(t)
    z = x * x + y * y
    tilt = c[:, None] * x + s[:, None] * y
    # (1 + 4 A D)^(1/2) - 1 has no digits to lose here: P is formed from
    # lengths of the size of the arc only
    P = A[:, None] * z + e[:, None] * tilt + D[:, None]
    root = np.sqrt(np.maximum(1 + 4 * A[:, None] * P, LD(1e-30)))
    f = 2 * P / (1 + root)
    de_A, de_D = 2 * D / e, 2 * A / e
    jA = (z + de_A[:, None] * tilt - f * f) / root
    jD = (1 + de_D[:, None] * tilt) / root
    jt = e[:, None] * (c[:, None] * y - s[:, None] * x) / root
    return f, np.stack([jA, jD, jt], 2)


def solve3(m, g):
    """Cholesky solution of small positive systems in long double."""
    k = m.shape[1]
    l = np.zeros_like(m)
    for i in range(k):
        for j in range(i + 1):
            s = m[:, i, j] - (l[:, i, :j] * l[:, j, :j]).sum(1)
            l[:, i, j] = np.sqrt(np.maximum(s, LD(1e-4000))) if i == j \
                else s / l[:, j, j]
    z = np.zeros_like(g)
    for i in range(k):
        z[:, i] = (g[:, i] - (l[:, i, :i] * z[:, :i]).sum(1)) / l[:, i, i]
    for i in reversed(range(k)):
        rest = (l[:, i + 1:, i] * z[:, i + 1:]).sum(1)
        z[:, i] = (z[:, i] - rest) / l[:, i, i]
    return z


def arc_slope(x, y, q):
    f, j = arc_eval(x, y, q[:, 0], q[:, 1], q[:, 2])
    return np.einsum("nki,nk->ni", j, f), j


def rest_arc(x, y, a, b, r, rounds=5):
    """Newton in A, D, angle; long double.  The slope is exact, its slope taken
    from differences of it, which is enough to come to rest."""
    q = np.stack(arc_form(x, y, a, b, r), 1)
    for _ in range(rounds):
        g, j = arc_slope(x, y, q)
        scale = 1 / np.sqrt((j * j).sum(1))
        m = np.zeros((len(x), 3, 3), LD)
        for i in range(3):
            step = LD(1e-7) * scale[:, i]
            ahead, back = q.copy(), q.copy()
            ahead[:, i] += step
            back[:, i] -= step
            m[:, i] = ((arc_slope(x, y, ahead)[0] - arc_slope(x, y, back)[0])
                       / (2 * LD(1e-7)) * scale)
        m = (m + m.transpose(0, 2, 1)) / 2
        q = q + solve3(m, -g * scale) * scale
    A, D, t = q.T
    f, _ = arc_eval(x, y, A, D, t)
    e = np.sqrt(1 + 4 * A * D)
    a, b = -e * np.cos(t) / (2 * A), -e * np.sin(t) / (2 * A)
    return a, b, 1 / (2 * np.abs(A)), f * np.sign(A)[:, None]


def rest_wide(x, y, a, b, rounds=8):
    """Newton on the centre with the radius eliminated, long double."""
    for _ in range(rounds):
        f, u, v, d = circle_sums(x, y, a, b, np.zeros_like(a))
        r = f.mean(1)
        f = f - r[:, None]
        um, vm = u.mean(1), v.mean(1)
        w = 1 / d
        gx, gy = (f * u).mean(1), (f * v).mean(1)
        hxx = 1 - um * um - r * (w * v * v).mean(1)
        hxy = -um * vm + r * (w * u * v).mean(1)
        hyy = 1 - vm * vm - r * (w * u * u).mean(1)
        det = hxx * hyy - hxy * hxy
        a = a + (hyy * gx - hxy * gy) / det
        b = b + (hxx * gy - hxy * gx) / det
    f, u, v, d = circle_sums(x, y, a, b, np.zeros_like(a))
    r = f.mean(1)
    return a, b, r, f - r[:, None]


def hessian_cofactor(x, y, a, b, r, f, known):
    """Largest element of the inverse of half the second derivatives: by how
    much a and b (and r) follow the touches, noise and all."""
    dx, dy = x - a[:, None], y - b[:, None]
    d = np.sqrt(dx * dx + dy * dy)
    u, v = dx / d, dy / d
    g = f / d
    n = x.shape[1]
    m = np.zeros((len(x), 3, 3), LD)
    m[:, 0, 0] = (u * u + g * v * v).sum(1)
    m[:, 0, 1] = m[:, 1, 0] = ((1 - g) * u * v).sum(1)
    m[:, 1, 1] = (v * v + g * u * u).sum(1)
    if known:
        m[:, 2, 2] = 1
    else:
        m[:, 0, 2] = m[:, 2, 0] = u.sum(1)
        m[:, 1, 2] = m[:, 2, 1] = v.sum(1)
        m[:, 2, 2] = n
    eye = np.zeros((len(x), 3), LD)
    most = np.zeros(len(x))
    for i in range(2 if known else 3):
        eye[:] = 0
        eye[:, i] = 1
        most = np.maximum(most, solve3(m, eye)[:, i].astype(float))
    return most


def search(x, y, starts, known=None, rounds=60):
    """Levenberg-Marquardt on (a, b, r), double, vectorised over problems and
    starts: the least sum of squares that any start leads to."""
    best = np.full(len(x), np.inf)
    for a, b, r in starts:
        s = np.stack([a, b, r if known is None else known], 1)
        lam = np.full(len(x), 1e-2)
        f, u, v, _ = circle_sums(x, y, s[:, 0], s[:, 1], s[:, 2])
        ssr = (f * f).sum(1)
        for _ in range(rounds):
            cols = [-u, -v] + ([-np.ones_like(u)] if known is None else [])
            j = np.stack(cols, 2)
            m = np.einsum("nki,nkj->nij", j, j)
            k = m.shape[1]
            damp = np.einsum("nii->ni", m).max(1) * lam
            m[:, range(k), range(k)] += damp[:, None] + 1e-300
            step = np.linalg.solve(m, -np.einsum("nki,nk->ni", j, f))
            t = s.copy()
            t[:, :k] += step
            g, tu, tv, _ = circle_sums(x, y, t[:, 0], t[:, 1], t[:, 2])
            fell = (g * g).sum(1)
            good = fell < ssr
            s = np.where(good[:, None], t, s)
            f = np.where(good[:, None], g, f)
            u = np.where(good[:, None], tu, u)
            v = np.where(good[:, None], tv, v)
            ssr = np.where(good, fell, ssr)
            lam = np.where(good, lam / 5, lam * 4).clip(1e-12, 1e12)
        best = np.fmin(best, ssr)
    return best


def all_starts(x, y, radius=None):
    """In coordinates about the mean: the mean itself, and circles of several
    sizes through it in sixteen directions."""
    size = np.sqrt((x * x + y * y).mean(1))
    zero = np.zeros(len(x))
    yield zero, zero, size
    for share in (0.5, 1.5, 5, 40) if radius is None else (1,):
        r = size * share if radius is None else radius
        for k in range(16):
            t = 2 * np.pi * k / 16
            yield r * np.cos(t), r * np.sin(t), r


ARCS = ("full", "half", "short", "shortest", "rough", "rough-arc")


def make_circle(rng, n, count, cls):
    size, ox, oy = scales(rng, n)
    mid = rng.uniform(0, 2 * np.pi, n)
    half = {"full": np.full(n, np.pi), "rough": np.full(n, np.pi),
            "half": rng.uniform(0.5, 2, n),
            "short": 10.0 ** rng.uniform(-1.5, -0.3, n),
            "shortest": 10.0 ** rng.uniform(-3, -1.5, n),
            "rough-arc": rng.uniform(0.3, 2, n)}[cls]
    t = np.linspace(-1, 1, count, endpoint=cls not in ("full", "rough"))
    t = t[None, :] + rng.uniform(-0.3, 0.3, (n, count)) / count
    angle = mid[:, None] + t * half[:, None]
    r = np.where(half > 0.4, size, size / half)
    # noise as a share of the radius, and of the bow of a short arc
    rough = 10.0 ** rng.uniform(-10, -2.5, n)
    if cls.startswith("rough"):
        rough = rng.uniform(0.02, 0.3, n)
    bow = r * np.minimum(half * half / 2, 1)
    d = r[:, None] + (bow * rough)[:, None] * rng.normal(0, 1, (n, count))
    # so far off that the bow drowns in the last digits would be no circle
    drown = bow * 1e-4 < EPS * count * (np.hypot(ox, oy) + r)
    ox, oy = np.where(drown, 0, ox), np.where(drown, 0, oy)
    ox = ox - np.where(half < 0.4, r * np.cos(mid), 0)
    oy = oy - np.where(half < 0.4, r * np.sin(mid), 0)
    return ox[:, None] + d * np.cos(angle), oy[:, None] + d * np.sin(angle), r


def fit_circle(driver, rng, per, tally, known=False):
    name = "circle-known" if known else "circle"
    for cls in ARCS:
        for count in COUNTS:
            n = per // (len(ARCS) * len(COUNTS)) + 1
            x, y, r = make_circle(rng, n, count, cls)
            if known:
                r = r * (1 + 10.0 ** rng.uniform(-9, -2, n)
                         * rng.choice([-1, 1], n) * (rng.random(n) < 0.7))
            p = np.stack([x, y], 2)
            out = drive(driver, [
                text(f"{name} {count}" + (f" {r[i]!r}" if known else ""), p[i])
                for i in range(n)])
            judge_circle(tally, cls, out, p, r if known else None)
    return tally


def judge_circle(tally, cls, out, p, known):
    n, count = p.shape[:2]
    name = tally.name
    show = lambda i: text(f"{name} {count}" +
                          ("" if known is None else f" {known[i]!r}"), p[i])
    x, y = p[:, :, 0], p[:, :, 1]
    bad = tally.check("status", out[:, 0] != 0, 0.5 * np.ones(n), show, cls)
    ok = out[:, 0] == 0
    at = np.nonzero(ok)[0]
    pick = lambda i: show(at[i])
    o, x, y = out[ok], x[ok].astype(LD), y[ok].astype(LD)
    mx, my = mean(x), mean(y)
    ext = extent(x, y)
    unit = ext.astype(LD)
    x, y = about_mean(x) / unit[:, None], about_mean(y) / unit[:, None]
    a, b, r = (o[:, 1] - mx) / unit, (o[:, 2] - my) / unit, o[:, 3] / unit
    k = None if known is None else known[ok] / unit
    ea, eb, er, ef = exact_circle(x, y, a, b, r, k)
    q = hessian_cofactor(x, y, ea, eb, er, ef, known is not None)
    big = np.abs(o[:, 1]) + np.abs(o[:, 2]) + o[:, 3]
    bound = EPS * (K[name] * ext * np.sqrt(count * q) + big)
    off = np.sqrt((ea - a) ** 2 + (eb - b) ** 2) * unit
    bad[at] |= tally.check("centre", off, bound, pick, cls)
    if known is None:
        bad[at] |= tally.check("radius", np.abs(er - r) * unit, bound, pick,
                               cls)
    res = o[:, 21:21 + count]
    # the residuals that go with the exact answer, moved by rounding only as
    # far as the touches are
    given = np.maximum(o[:, [10, 13, 15]].max(1), 1e-300)
    worse = np.sqrt(np.maximum(1, q / given))
    moved = K_RESIDUAL * EPS * ext * np.minimum(worse, 1e3)
    bad[at] |= tally.check("residual", np.abs(res - ef * unit[:, None]).max(1),
                           moved, pick, cls)
    if cls.startswith("rough"):
        # Nothing better exists: a search from 65 starts, about the mean.
        xs, ys = x.astype(float), y.astype(float)
        kk = None if k is None else k.astype(float)
        best = search(xs, ys, all_starts(xs, ys, kk), kk)
        mine = (ef * ef).sum(1).astype(float)
        bad[at] |= tally.check("not the least", np.maximum(mine - best, 0),
                               1e-9 * mine + 1e-25, pick, cls)
    tally.tried += n
    tally.failed += int(bad.sum())


def exact_circle(x, y, a, b, r, known):
    """The resting point next to (a, b, r)."""
    if known is not None:
        return rest_known(x, y, a, b, known)
    far = np.hypot(a, b)
    arc = (far > 0.7 * r)
    ea, eb, er = a.copy(), b.copy(), r.copy()
    ef = np.zeros_like(x)
    for sel, how in ((arc, rest_arc), (~arc, rest_wide)):
        if not sel.any():
            continue
        if how is rest_arc:
            res = rest_arc(x[sel], y[sel], a[sel], b[sel], r[sel])
        else:
            res = rest_wide(x[sel], y[sel], a[sel], b[sel])
        ea[sel], eb[sel], er[sel], ef[sel] = res
    return ea, eb, er, ef


def rest_known(x, y, a, b, r, rounds=10):
    """Newton on the centre, radius given, in the frame of the direction to the
    centre so that a long radius costs no digits."""
    for _ in range(rounds):
        far = np.hypot(a, b)
        near = far < 1e-3 * r
        cx = np.where(near, 1, a / np.where(near, 1, far))
        cy = np.where(near, 0, b / np.where(near, 1, far))
        f, u, v, d = known_sums(x, y, a, b, r)
        g = f / d
        # along t = (-cy, cx) the unit vectors are small for a short arc
        et = cx[:, None] * v - cy[:, None] * u
        en = cx[:, None] * u + cy[:, None] * v
        m = np.zeros((len(x), 2, 2), LD)
        m[:, 0, 0] = (et * et + g * en * en).sum(1)
        m[:, 0, 1] = m[:, 1, 0] = ((1 - g) * et * en).sum(1)
        m[:, 1, 1] = (en * en + g * et * et).sum(1)
        step = solve3(m, np.stack([(f * et).sum(1), (f * en).sum(1)], 1))
        a = a - cy * step[:, 0] + cx * step[:, 1]
        b = b + cx * step[:, 0] + cy * step[:, 1]
    f, _, _, _ = known_sums(x, y, a, b, r)
    return a, b, r + 0 * a, f


def known_sums(x, y, a, b, r):
    dx, dy = x - a[:, None], y - b[:, None]
    d = np.sqrt(dx * dx + dy * dy)
    # (d^2 - r^2) / (d + r), the square of the radius taken from that of the
    # centre first: both are large where the arc is short
    far = a * a + b * b
    k = (np.sqrt(far) - r) * (np.sqrt(far) + r)
    f = ((x * x + y * y) - 2 * (a[:, None] * x + b[:, None] * y) +
         k[:, None]) / (d + r[:, None])
    return f, dx / d, dy / d, d


# ----------------------------------------------------------------------- rigid

def make_rigid(rng, n, count, cls):
    size, ox, oy = scales(rng, n)
    p = rng.uniform(-1, 1, (n, count, 2)) * size[:, None, None]
    turn = rng.uniform(-np.pi, np.pi, n)
    turn = np.where(rng.random(n) < 0.3,
                    rng.choice([0, np.pi, np.pi / 2, -np.pi / 2], n)
                    + 10.0 ** rng.uniform(-9, -3, n), turn)
    rough = {"quiet": (-12, -6), "usual": (-6, -3), "noisy": (-3, -0.5),
             "weights": (-6, -2)}[cls]
    noise = size * 10.0 ** rng.uniform(*rough, n)
    c, s = np.cos(turn)[:, None], np.sin(turn)[:, None]
    q = np.stack([c * p[:, :, 0] - s * p[:, :, 1],
                  s * p[:, :, 0] + c * p[:, :, 1]], 2)
    q = q + noise[:, None, None] * rng.normal(0, 1, q.shape)
    q = q + np.stack([ox, oy], 1)[:, None, :]
    w = np.ones((n, count))
    if cls == "weights":
        w = 10.0 ** rng.uniform(-3, 3, (n, count))
    return p + rng.normal(0, 1, (n, 1, 2)) * size[:, None, None], q, w


def weighted(a, w, total):
    """Weighted mean, and the points about it."""
    d = a - a[:, :1]
    m = (w[:, :, None] * d).sum(1) / total[:, None]
    return a[:, 0] + m, d - m[:, None, :]


def rigid_exact(a, b, w):
    a, b, w = a.astype(LD), b.astype(LD), w.astype(LD)
    total = w.sum(1)
    am, a = weighted(a, w, total)
    bm, b = weighted(b, w, total)
    dot = (w * (a * b).sum(2)).sum(1)
    cross = (w * (a[:, :, 0] * b[:, :, 1] - a[:, :, 1] * b[:, :, 0])).sum(1)
    turn = np.arctan2(cross, dot)
    c, s = np.cos(turn), np.sin(turn)
    ax, ay = a[:, :, 0], a[:, :, 1]
    r = np.stack([b[:, :, 0] - (c[:, None] * ax - s[:, None] * ay),
                  b[:, :, 1] - (s[:, None] * ax + c[:, None] * ay)], 2)
    origin = np.stack([bm[:, 0] - (c * am[:, 0] - s * am[:, 1]),
                       bm[:, 1] - (s * am[:, 0] + c * am[:, 1])], 1)
    aa = (w * (a * a).sum(2)).sum(1)
    return turn, origin, r, np.hypot(dot, cross), aa, total


def fit_rigid(driver, rng, per, tally):
    for cls in ("quiet", "usual", "noisy", "weights"):
        for count in (2, 3, 4, 8, 24):
            n = per // 20 + 1
            a, b, w = make_rigid(rng, n, count, cls)
            data = np.concatenate([a, b, w[:, :, None]], 2)
            out = drive(driver, [text(f"rigid {count}", d) for d in data])
            judge_rigid(tally, cls, out, a, b, w, data)
    return tally


def judge_rigid(tally, cls, out, a, b, w, data):
    n, count = a.shape[:2]
    show = lambda i: text(f"rigid {count}", data[i])
    turn, origin, r, common, aa, total = rigid_exact(a, b, w)
    ext = np.maximum(extent(a[:, :, 0], a[:, :, 1]),
                     extent(b[:, :, 0], b[:, :, 1]))
    big = biggest(a[:, :, 0], a[:, :, 1], b[:, :, 0], b[:, :, 1])
    bad = tally.check("status", out[:, 0] != 0, 0.5 * np.ones(n), show, cls)
    ok = out[:, 0] == 0
    at = np.nonzero(ok)[0]
    pick = lambda i: show(at[i])
    o = out[ok]
    move = K["rigid"] * EPS * ext[ok]
    lean = move * (np.sqrt(aa * total) / common).astype(float)[ok] + 2 * EPS
    off = np.abs(o[:, 3] - turn[ok])
    off = np.minimum(off, np.abs(off - 2 * LD(np.pi)))
    bad[at] |= tally.check("turn", off, lean, pick, cls)
    for j in range(2):
        bad[at] |= tally.check("origin", np.abs(o[:, 1 + j] - origin[ok, j]),
                               2 * (lean + EPS * 4) * big[ok] + move, pick, cls)
    res = o[:, 21:21 + 2 * count].reshape(len(at), count, 2)
    bad[at] |= tally.check("residual", np.abs(res - r[ok]).max((1, 2)),
                           move + lean * ext[ok], pick, cls)
    off = np.abs(o[:, 13] * aa[ok] - 1)
    bad[at] |= tally.check("cofactor", off, 1e-12 * np.ones(len(at)), pick, cls)
    tally.tried += n
    tally.failed += int(bad.sum())


# ------------------------------------------------------ SciPy and mpmath checks

def scipy_circles(driver, rng, number):
    """least_squares from four starts on each; the least counts."""
    failed = 0
    for i in range(number):
        cls = ("full", "half", "rough", "rough-arc", "short")[i % 5]
        count = int(rng.choice(COUNTS[1:]))
        x, y, _ = make_circle(rng, 1, count, cls)
        line = text(f"circle {count}", np.stack([x[0], y[0]], 1))
        out = drive(driver, [line])[0]
        mx, my = x[0].mean(), y[0].mean()
        size = np.hypot(x[0] - mx, y[0] - my).max()
        u, v = (x[0] - mx) / size, (y[0] - my) / size
        best = np.inf
        for a, b, r in ((0, 0, 1), (1, 0, 1), (-1, 1, 1.5), (0, -3, 3)):
            s = least_squares(lambda t: np.hypot(u - t[0], v - t[1]) - t[2],
                              (a, b, r), method="lm", xtol=1e-14, ftol=1e-14)
            best = min(best, 2 * s.cost)
        mine = out[16] / size ** 2
        allow = best ** 0.5 * (1 + 1e-8) + 8 * EPS * count ** 0.5
        if out[0] != 0 or mine > allow ** 2:
            failed += 1
            print(f"  scipy {cls}: {mine:.17g} against {best:.17g}: {line}")
    return number, failed


def mp_circle(numbers):
    """40 digits: the resting point next to the library's answer."""
    p = [(mp.mpf(a), mp.mpf(b)) for a, b in zip(numbers[::2], numbers[1::2])]

    def slope(a, b, r):
        out = [mp.mpf(0)] * 3
        for x, y in p:
            dx, dy = x - a, y - b
            d = mp.sqrt(dx * dx + dy * dy)
            f = d - r
            out = [out[0] - f * dx / d, out[1] - f * dy / d, out[2] - f]
        return out
    return p, slope


def mp_worst(driver, tally, number=4):
    """The worst of the circles once more with mpmath: how far the library's
    centre is from the 40-digit one, against the bound."""
    tried = failed = 0
    hard = sorted((h for h in tally.hard if h[1] in ("centre", "radius")),
                  reverse=True)[:number]
    for ratio, what, line in hard:
        numbers = [float(t) for t in line.split()[2:]]
        out = drive(driver, [line])[0]
        p, slope = mp_circle(numbers)
        ox, oy = p[0]
        unit = max(max(abs(a - ox), abs(b - oy)) for a, b in p)

        def f(a, b, r):
            return slope(ox + a * unit, oy + b * unit, r * unit)
        start = ((mp.mpf(out[1]) - ox) / unit, (mp.mpf(out[2]) - oy) / unit,
                 mp.mpf(out[3]) / unit)
        try:
            a, b, r = mp.findroot(f, start, tol=mp.mpf(10) ** -50, maxsteps=40)
        except (ValueError, ZeroDivisionError):
            print(f"  mpmath did not come to rest: {line}")
            continue
        tried += 1
        off = mp.hypot(a - start[0], b - start[1]) * unit
        q = max(out[10], out[13], out[15])
        ext = float(unit)  # of the order of the extent
        bound = EPS * (K["circle"] * ext * (len(p) * q) ** 0.5 +
                       abs(out[1]) + abs(out[2]) + out[3])
        print(f"  mpmath on the worst {what}: long double says {ratio:.2f} of "
              f"the bound, 40 digits {float(off / bound):.2f}")
        if off > bound:
            failed += 1
    return tried, failed


# ------------------------------------------------------------------ the command

def run_cli(cli, kind, rows, more):
    data = "\n".join(" ".join(map(repr, row)) for row in rows) + "\n"
    done = subprocess.run([cli, "fit", kind, "--json", *more, "-"], input=data,
                          text=True, capture_output=True, check=False)
    try:
        return done.returncode, json.loads(done.stdout)
    except ValueError:
        return done.returncode, {}


def cli_problem(rng, turn):
    """Kind, touches, further arguments, and what must come out.  The command
    takes coordinates and sizes that a machine can have, a kilometre at most."""
    while True:
        found = cli_any(rng, turn)
        if max(np.abs(found[1]).max(), np.abs(found[2]).max(),
               found[4].get("diameter", 0)) < 9e5 and \
                np.ptp(found[1]) > 1e-3:
            return found


def cli_any(rng, turn):
    count = int(rng.choice(COUNTS[2:]))
    if turn % 3 == 0:
        x, y, _ = make_line(rng, 1, count, "usual")
        th, means, *_ = line_exact([(x.astype(LD), y.astype(LD))])
        deg = float(th[0] * 180 / LD(np.pi))
        return "edge", x[0], y[0], (), {
            "point": [float(means[0][0][0]), float(means[0][1][0])],
            "direction_deg": deg}
    x, y, r = make_circle(rng, 1, count, "full")
    known = None
    more = ()
    if turn % 3 == 2:
        known = r
        more = ("--diameter", repr(float(2 * r[0])))
    a, b, r = exact_of_circle(x, y, known)
    return "bore", x[0], y[0], more, {"centre": [a, b], "diameter": 2 * r}


def compare_cli(cli, rng, number):
    """The command's edges and bores against the exact answer."""
    tried = failed = 0
    for i in range(number):
        kind, x, y, more, want = cli_problem(rng, i)
        rows = np.stack([x, y], 1).tolist()
        code, have = run_cli(cli, kind, rows, more)
        size = np.abs(rows).max() + np.ptp(x) + np.ptp(y)
        good = code in (0, 1)
        for key, value in want.items():
            allow = 1e-10 if key == "direction_deg" else 64 * EPS * size
            off = np.abs(np.subtract(have.get(key, np.nan), value))
            good = good and bool((off <= allow).all())
        tried += 1
        if not good:
            failed += 1
            print(f"  {cli} fit {kind} {more}: exit {code}, wanted {want}, "
                  f"got {have}: {rows}")
    return tried, failed


def exact_of_circle(x, y, known):
    x, y = x.astype(LD), y.astype(LD)
    mx, my = mean(x), mean(y)
    unit = extent(x, y).astype(LD)
    u, v = about_mean(x) / unit[:, None], about_mean(y) / unit[:, None]
    zero = np.zeros(1, LD)
    a, b, r, _ = rest_wide(u, v, zero, zero, 30) if known is None else \
        rest_known(u, v, zero, zero, known / unit, 30)
    return tuple(float(q[0]) for q in (mx + a * unit, my + b * unit, r * unit))


# ------------------------------------------------------------------------- main

FITS = {
    "line": lambda d, g, n, t: fit_line(d, g, n, t),
    "line-along": lambda d, g, n, t: fit_line(d, g, n, t, True),
    "pair": lambda d, g, n, t: fit_pair(d, g, n, t),
    "pair-along": lambda d, g, n, t: fit_pair(d, g, n, t, True),
    "plane": fit_plane,
    "circle": lambda d, g, n, t: fit_circle(d, g, n, t),
    "circle-known": lambda d, g, n, t: fit_circle(d, g, n, t, True),
    "rigid": fit_rigid,
}


def main():
    ap = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    ap.add_argument("driver", nargs="?")
    ap.add_argument("-n", type=int, default=100000)
    ap.add_argument("--seed", type=int, default=None)
    ap.add_argument("--fits", default=",".join(FITS))
    ap.add_argument("--cli")
    args = ap.parse_args()
    if not args.driver and not args.cli:
        ap.error("a driver or --cli is wanted")
    seed = seed_of(args)
    tried = failed = 0
    if args.driver:
        for name in args.fits.split(","):
            rng = np.random.default_rng([seed, list(FITS).index(name)])
            tally = Tally(name)
            start = time.monotonic()
            with np.errstate(all="ignore"):
                FITS[name](args.driver, rng, args.n, tally)
                print_end(tally, start)
                tried, failed = tried + tally.tried, failed + tally.failed
                if name == "circle":
                    t, f = mp_worst(args.driver, tally)
                    tried, failed = tried + t, failed + f
                    t, f = scipy_circles(args.driver, rng,
                                         max(20, min(args.n // 50, 500)))
                    print(f"circle against scipy: {t} tried, {f} failed")
                    tried, failed = tried + t, failed + f
    if args.cli:
        rng = np.random.default_rng([seed, 99])
        with np.errstate(all="ignore"):
            t, f = compare_cli(args.cli, rng, max(10, args.n // 50))
        print(f"{args.cli} fit: {t} tried, {f} failed")
        tried, failed = tried + t, failed + f
    return finish(tried, failed)


if __name__ == "__main__":
    sys.exit(main())
