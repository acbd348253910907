#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Compares spheres and cylinders with SciPy, NumPy's long double and mpmath on
random problems.

    space_compare.py DRIVER [-n PROBLEMS] [--seed SEED]

Each of sphere, sphere of known radius, cylinder, and cylinder with radius,
direction or both given gets PROBLEMS / 10 problems:

  - the exact local answer: the same sum of squares brought to rest in long
    double in other unknowns than the library's (centre or axis, and radius);
  - the global answer: scipy.optimize.least_squares from many starts on some
    rough problems must not leave less; where the library says that the touches
    do not determine a cylinder, SciPy must know a second one that leaves not
    much more;
  - mpmath, 40 digits, on those that came out worst.

An answer fails when it is farther off than fit.h promises.  The last line is
plain counts; the exit status is 1 when anything failed.
"""
import sys
import time

import mpmath as mp
import numpy as np
from scipy.optimize import least_squares

from yardstick import arguments, drive, EPS, finish, LD, print_end, Tally, text

K, K_RESIDUAL = 8, 12  # fit.h, "Accuracy"

mp.mp.dps = 40


def rotations(rng, n):
    q = np.linalg.qr(rng.normal(0, 1, (n, 3, 3)))[0]
    return q * np.sign(np.linalg.det(q))[:, None, None]


def placed(rng, p, size):
    """Turned anyhow and moved, most near, some far off."""
    n = len(p)
    far = size * 10.0 ** np.where(rng.random(n) < 0.8, rng.uniform(-1, 1, n),
                                  rng.uniform(2, 5, n))
    turn = rotations(rng, n)
    to = rng.normal(0, 1, (n, 3)) * far[:, None]
    return np.einsum("nki,nij->nkj", p, turn) + to[:, None, :], turn


def about_mean(p):
    """From differences, which keep their digits far from the origin."""
    d = p.astype(LD) - p[:, :1].astype(LD)
    return d - d.mean(1, keepdims=True), p[:, 0].astype(LD) + d.mean(1)


def dot(a, b):
    return (a * b).sum(-1)


def solve(m, g):
    """Elimination with rows exchanged, vectorised, long double."""
    m, g = m.copy(), g.copy()
    n, k = g.shape
    every = np.arange(n)
    for i in range(k):
        top = i + np.abs(m[:, i:, i]).argmax(1)
        m[every, i], m[every, top] = (m[every, top].copy(),
                                      m[every, i].copy())
        g[every, i], g[every, top] = (g[every, top].copy(),
                                      g[every, i].copy())
        for j in range(i + 1, k):
            share = m[:, j, i] / m[:, i, i]
            m[:, j] -= share[:, None] * m[:, i]
            g[:, j] -= share * g[:, i]
    for i in reversed(range(k)):
        g[:, i] = (g[:, i] - (m[:, i, i + 1:] * g[:, i + 1:]).sum(1)) \
            / m[:, i, i]
    return g


# ---------------------------------------------------------------------- sphere

def make_ball(rng, n, count, cls):
    size = 10.0 ** rng.uniform(-3, 3, n)
    half = {"full": np.full(n, 3.1), "half": rng.uniform(0.8, 2, n),
            "cap": 10.0 ** rng.uniform(-1.5, -0.2, n),
            "rough": rng.uniform(0.8, 3.1, n)}[cls]
    k = np.arange(count)[None, :] + rng.uniform(-0.3, 0.3, (n, count))
    turn = 2.399963 * k
    u = (1 - np.cos(half))[:, None] * (k + 0.5) / count
    noise = 10.0 ** rng.uniform(-10, -4, n) * np.minimum(half, 1) ** 2
    if cls == "rough":
        noise = rng.uniform(0.02, 0.25, n)
    d = size[:, None] * (1 + noise[:, None] * rng.normal(0, 1, (n, count)))
    c = d * np.sqrt(u * (2 - u))
    p = np.stack([c * np.cos(turn), c * np.sin(turn), d * (1 - u)], 2)
    return placed(rng, p, size)[0], size


def rest_sphere(p, c, r, known):
    """Newton on the centre about the mean direction, the radius the mean
    distance unless it is known."""
    for _ in range(10):
        v = p - c[:, None, :]
        d = np.sqrt(dot(v, v))
        u = v / d[:, :, None]
        mean = np.zeros_like(c) if known else u.mean(1)
        r = r if known else d.mean(1)
        f = d - r[:, None]
        w = u - mean[:, None, :]
        eye = np.eye(3)[None, None] - u[:, :, :, None] * u[:, :, None, :]
        m = np.einsum("nki,nkj->nij", w, w) + \
            ((f / d)[:, :, None, None] * eye).sum(1)
        c = c + solve(m, np.einsum("nk,nki->ni", f, w))
    v = p - c[:, None, :]
    f = np.sqrt(dot(v, v))
    r = r if known else f.mean(1)
    return c, r, f - r[:, None], m


def mp_of(value):
    """A long double, all its digits."""
    head = float(value)
    return mp.mpf(head) + mp.mpf(float(value - LD(head)))


def mp_rest_sphere(p, c):
    """The same with 40 digits, of one sphere of free radius."""
    p = [[mp_of(a) for a in x] for x in p]
    c, n = [mp_of(a) for a in c], len(p)
    for _ in range(40):
        v = [[a - b for a, b in zip(x, c)] for x in p]
        d = [mp.sqrt(mp_dot(x, x)) for x in v]
        u = [[a / h for a in x] for x, h in zip(v, d)]
        mean = [mp.fsum(x[i] for x in u) / n for i in range(3)]
        r = mp.fsum(d) / n
        m, g = mp.matrix(3, 3), mp.matrix(3, 1)
        for x, h in zip(u, d):
            f = h - r
            for i in range(3):
                g[i] += f * (x[i] - mean[i])
                for k in range(3):
                    m[i, k] += (x[i] - mean[i]) * (x[k] - mean[k]) \
                        + f / h * ((i == k) - x[i] * x[k])
        step = mp.lu_solve(m, g)
        if mp.norm(step) < mp.mpf(10) ** -30:
            break
        c = [a + b for a, b in zip(c, step)]
    far = lambda t: LD(mp.nstr(t, 25))
    return [far(a) for a in c], far(r), [far(h - r) for h in d]


def mend_weak(p, c, r, f, m):
    """Of touches that hardly determine a sphere long double has not digits
    enough: below this share of the curvature it would err by a tenth of what
    is allowed."""
    weak = np.linalg.eigvalsh((m + m.transpose(0, 2, 1)).astype(float) / 2)
    for i in np.nonzero(np.abs(weak[:, 0]) < 1e-9)[0]:
        c[i], r[i], f[i] = mp_rest_sphere(p[i], c[i])


def fit_sphere(driver, rng, per, tally, known):
    for cls in ("full", "half", "cap", "rough"):
        for count in (5, 6, 8, 12, 24, 60):
            n = per // 24 + 1
            p, r = make_ball(rng, n, count, cls)
            if cls == "rough" and count < 8:
                continue
            given = r * (1 + 1e-4 * rng.normal(0, 1, n) * (cls == "half")) \
                if known else np.zeros(n)
            out = drive(driver, [text(f"sphere {count} {g!r}", q)
                                 for g, q in zip(given.tolist(), p)])
            judge_sphere(tally, cls, out, p, given if known else None)


def judge_sphere(tally, cls, out, p, known):
    n, count = p.shape[:2]
    given = known if known is not None else np.zeros(n)
    show = lambda i: text(f"sphere {count} {given[i]!r}", p[i])
    # of known radius a rough cap may leave the side open
    may = cls == "rough" and known is not None
    bad = tally.check("status", (out[:, 0] != 0) & ~(may & (out[:, 0] == -3)),
                      np.full(n, 0.5), show, cls)
    tally.open += int((out[:, 0] == -3).sum())
    ok = out[:, 0] == 0
    at = np.nonzero(ok)[0]
    pick = lambda i: show(at[i])
    o, x = out[ok], p[ok]
    d, mean = about_mean(x)
    ext = np.sqrt(dot(d, d).max(1))
    d = d / ext[:, None, None]
    c = (o[:, 1:4].astype(LD) - mean) / ext[:, None]
    r = (o[:, 4] if known is None else known[ok]).astype(LD) / ext
    ec, er, f, m = rest_sphere(d, c, r, known is not None)
    if known is None:
        mend_weak(d, ec, er, f, m)
    size = ext.astype(float)
    q = o[:, [5, 9, 12, 14]].max(1)
    if cls == "rough":  # what second derivatives add
        cols = [solve(m, np.tile(np.eye(3, dtype=LD)[i], (len(m), 1)))[:, i]
                for i in range(3)]
        q = np.maximum(q, np.max(cols, 0).astype(float))
    bound = EPS * (K * size * np.sqrt(count * q) +
                   np.abs(o[:, 1:4]).sum(1) + o[:, 4])
    off = np.sqrt(dot(ec - c, ec - c)) * ext
    bad[at] |= tally.check("centre", off, bound, pick, cls)
    if known is None:
        bad[at] |= tally.check("radius", np.abs(er - r) * ext, bound, pick,
                               cls)
    res = o[:, 20:20 + count]
    worse = np.sqrt(np.maximum(1, q / o[:, [5, 9, 12, 14]].max(1)))
    bad[at] |= tally.check("residual",
                           np.abs(res - f * ext[:, None]).max(1),
                           K_RESIDUAL * EPS * size * worse, pick, cls)
    tally.tried += n
    tally.failed += int(bad.sum())


# -------------------------------------------------------------------- cylinder

def make_bar(rng, n, count, cls):
    size = 10.0 ** rng.uniform(-3, 3, n)
    half = {"full": np.full(n, np.pi), "low": np.full(n, np.pi),
            "long": np.full(n, np.pi), "arc": rng.uniform(0.4, 2, n),
            "patch": 10.0 ** rng.uniform(-1.3, -0.4, n),
            "rough": rng.uniform(0.8, np.pi, n)}[cls]
    length = size * {"full": rng.uniform(0.5, 3, n),
                     "low": 10.0 ** rng.uniform(-2, -0.5, n),
                     "long": 10.0 ** rng.uniform(0.5, 1.7, n),
                     "arc": rng.uniform(0.5, 3, n), "patch": half,
                     "rough": rng.uniform(0.5, 3, n)}[cls]
    k = np.arange(count)[None, :]
    angle = half[:, None] * (2 * (k + rng.uniform(0.1, 0.9, (n, count)))
                             / count - 1)
    t = length[:, None] * rng.uniform(-1, 1, (n, count))
    noise = 10.0 ** rng.uniform(-10, -4, n) * np.minimum(half, 1) ** 2 \
        * np.minimum(length / size, 1)
    if cls == "rough":
        noise = rng.uniform(0.01, 0.15, n)
    d = size[:, None] * (1 + noise[:, None] * rng.normal(0, 1, (n, count)))
    p = np.stack([d * np.cos(angle), d * np.sin(angle), t], 2)
    p, turn = placed(rng, p, np.maximum(size * half, length))
    return p, size, turn[:, 2]


def sides(w):
    n = len(w)
    e = np.zeros_like(w)
    e[np.arange(n), np.abs(w).argmin(1)] = 1
    e = e - dot(e, w)[:, None] * w
    e = e / np.sqrt(dot(e, e))[:, None]
    return e, np.cross(w, e)


def cylinder_rows(p, c, w, r):
    e, f = sides(w)
    v = p - c[:, None, :]
    t, x, y = (dot(v, a[:, None, :]) for a in (w, e, f))
    h = np.sqrt(x * x + y * y)
    j = np.stack([-x / h, -y / h, -t * x / h, -t * y / h,
                  -np.ones_like(h)], 2)
    return h - r[:, None], j, e, f


def rest_cylinder(p, c, w, r, free, rounds=9):
    """Gauss & Newton; the noise is small, so each round gains digits.  The
    mean is the origin, and c is taken next to it."""
    for _ in range(rounds):
        res, j, e, f = cylinder_rows(p, c, w, r)
        j = j[:, :, free]
        m = np.einsum("nki,nkj->nij", j, j)
        step = np.zeros((len(p), 5), LD)
        step[:, free] = solve(m, -np.einsum("nki,nk->ni", j, res))
        c = c + step[:, :1] * e + step[:, 1:2] * f
        w = w + step[:, 2:3] * e + step[:, 3:4] * f
        w = w / np.sqrt(dot(w, w))[:, None]
        r = r + step[:, 4]
        c = c - dot(c, w)[:, None] * w
    return c, w, r, cylinder_rows(p, c, w, r)[0]


GIVEN = {"cylinder": (False, False), "cylinder-r": (False, True),
         "cylinder-along": (True, False), "cylinder-both": (True, True)}


def fit_cylinder(driver, rng, per, tally, along, known):
    for cls in ("full", "low", "long", "arc", "patch"):
        for count in (6, 8, 12, 24, 60):
            n = per // 25 + 1
            p, r, w = make_bar(rng, n, count, cls)
            given = np.concatenate(
                [r[:, None] * (1 + 1e-6 * rng.normal(0, 1, (n, 1))
                               * (cls == "full")) * known, w * along], 1)
            out = drive(driver, [
                text(f"cylinder {count}", np.concatenate([g, q.ravel()]))
                for g, q in zip(given, p)])
            judge_cylinder(tally, cls, out, p, given, along, known)


def judge_cylinder(tally, cls, out, p, given, along, known):
    n, count = p.shape[:2]
    show = lambda i: text(f"cylinder {count}",
                          np.concatenate([given[i], p[i].ravel()]))
    may = count < 10 and not along
    bad = tally.check("status", (out[:, 0] != 0) & ~(may & (out[:, 0] == -3)),
                      np.full(n, 0.5), show, cls)
    tally.open += int((out[:, 0] == -3).sum())
    ok = out[:, 0] == 0
    at = np.nonzero(ok)[0]
    pick = lambda i: show(at[i])
    o, x, g = out[ok], p[ok], given[ok].astype(LD)
    d, mean = about_mean(x)
    ext = np.sqrt(dot(d, d).max(1))
    d = d / ext[:, None, None]
    c = (o[:, 1:4].astype(LD) - mean) / ext[:, None]
    w = g[:, 1:] if along else o[:, 4:7].astype(LD)
    w = w / np.sqrt(dot(w, w))[:, None]
    r = (g[:, 0] if known else o[:, 7].astype(LD)) / ext
    free = [0, 1] + ([] if along else [2, 3]) + ([] if known else [4])
    ec, ew, er, f = rest_cylinder(d, c, w, r, free)
    size, root = ext.astype(float), np.sqrt(count)
    q = o[:, [8, 13, 22]].max(1)
    place = EPS * (np.abs(o[:, 1:4]).sum(1) + o[:, 7])
    bound = EPS * K * size * root * np.sqrt(q) + place
    off = ec - c
    t = dot(off, ew)
    across = off - t[:, None] * ew
    bad[at] |= tally.check("axis", np.sqrt(dot(across, across)) * ext, bound,
                           pick, cls)
    lean = EPS * K * size * root * np.sqrt(o[:, [17, 20]].max(1)) + 2 * EPS
    bad[at] |= tally.check("along", np.abs(t) * ext,
                           (K * EPS + lean) * size + place, pick, cls)
    off = ew * np.sign(dot(ew, o[:, 4:7]))[:, None] - o[:, 4:7]
    bad[at] |= tally.check("lean", np.sqrt(dot(off, off)), lean, pick, cls)
    if not known:
        bad[at] |= tally.check("radius", np.abs(er - r) * ext, bound, pick,
                               cls)
    res = o[:, 28:28 + count]
    bad[at] |= tally.check("residual", np.abs(res - f * ext[:, None]).max(1),
                           K_RESIDUAL * EPS * size, pick, cls)
    tally.tried += n
    tally.failed += int(bad.sum())


# ----------------------------------------------------------------------- SciPy

def best_cylinders(p, rng, starts):
    """Every cylinder that SciPy comes to rest at: (ssr, direction, radius)."""
    x = p - p.mean(0)
    size = np.sqrt(dot(x, x).max())
    x = x / size
    found = []

    def distance(v, e, f, w):
        a = w + v[2] * e + v[3] * f
        a = a / np.sqrt(a @ a)
        y = x - (v[0] * e + v[1] * f)
        y = y - np.outer(y @ a, a)
        return np.sqrt(dot(y, y)) - v[4]
    for _ in range(starts):
        w = rng.normal(0, 1, 3)
        w = w / np.sqrt(w @ w)
        e, f = (a[0] for a in sides(w[None]))
        u = np.stack([x @ e, x @ f], 1)
        kasa = np.linalg.lstsq(np.c_[2 * u, np.ones(len(u))], dot(u, u),
                               rcond=None)[0]
        r = np.sqrt(max(kasa[2] + kasa[:2] @ kasa[:2], 1e-6))
        s = least_squares(distance, (*kasa[:2], 0, 0, r), args=(e, f, w),
                          method="lm", xtol=1e-14, ftol=1e-14, max_nfev=400)
        a = w + s.x[2] * e + s.x[3] * f
        if s.x[4] < 1e6:
            found.append((2 * s.cost * size ** 2, a / np.sqrt(a @ a),
                          s.x[4] * size))
    return sorted(found, key=lambda t: t[0])


def allowed(least, count, p):
    """Each residual may be off by rounding."""
    off = K_RESIDUAL * EPS * np.abs(p).max() * np.sqrt(count)
    return (np.sqrt(least) * (1 + 1e-7) + off) ** 2


def scipy_cylinders(driver, rng, number):
    """The least counts; and what is not determined has a rival.  The share of
    its normals is not recomputed here: it is at least a hundredth of the
    ratio."""
    failed = opened = 0
    for i in range(number):
        count = int(rng.choice((6, 7, 8, 12, 24)))
        cls = ("rough", "full", "arc")[i % 3]
        p = make_bar(rng, 1, count, cls)[0][0]
        line = text(f"cylinder {count} 0 0 0 0", p)
        out = drive(driver, [line])[0]
        found = best_cylinders(p, rng, 40)
        least = found[0][0]
        floor = (count * EPS * np.abs(p).max()) ** 2
        if out[0] == 0:
            good = out[23] <= allowed(least, count, p)
        else:
            opened += 1
            limit = 19 ** (2 / (count - 5)) * 1e2 * (least + floor)
            good = out[0] == -3 and any(
                s <= limit and abs(a @ found[0][1]) < 0.9999
                for s, a, _ in found)
        if not good:
            failed += 1
            print(f"  scipy {cls}: {out[0]:g} {out[23]:.17g}, SciPy finds "
                  f"{least:.17g}: {line[:400]}")
    return number, failed, opened


def scipy_spheres(driver, rng, number):
    failed = 0
    for i in range(number):
        count = int(rng.choice((6, 8, 12, 24)))
        p = make_ball(rng, 1, count, ("rough", "half", "full")[i % 3])[0][0]
        line = text(f"sphere {count} 0", p)
        out = drive(driver, [line])[0]
        x = p - p.mean(0)
        size = np.sqrt(dot(x, x).max())
        best = np.inf
        for _ in range(6):
            c = rng.normal(0, 1, 3)
            s = least_squares(
                lambda v: np.sqrt(dot(x / size - v[:3], x / size - v[:3]))
                - v[3], (*c, np.sqrt(c @ c)), method="lm", xtol=1e-14,
                ftol=1e-14)
            best = min(best, 2 * s.cost * size ** 2)
        if out[0] != 0 or out[15] > allowed(best, count, p):
            failed += 1
            print(f"  scipy: {out[0]:g} {out[15]:.17g} against {best:.17g}: "
                  f"{line[:400]}")
    return number, failed


# ---------------------------------------------------------------------- mpmath

def mp_dot(a, b):
    return mp.fsum(x * y for x, y in zip(a, b))


def mp_worst(driver, tally, number=3):
    """The worst once more with 40 digits: the gradient in centre and radius,
    or shifts, tilts and radius, vanishes near the answer."""
    tried = failed = 0
    for ratio, _, line in sorted(tally.hard, reverse=True)[:number]:
        words = line.split()
        out = drive(driver, [line])[0]
        round_ = words[0] == "sphere"
        v = [mp.mpf(float(t)) for t in words[2:]]
        head, v = (v[:1], v[1:]) if round_ else (v[:4], v[4:])
        p = [v[i:i + 3] for i in range(0, len(v), 3)]
        if out[0] != 0:
            continue
        move, q, ext = mp_step(round_, head, out, p)
        bound = EPS * (K * ext * (len(p) * q) ** 0.5 +
                       sum(abs(out[1:4])) + out[4 if round_ else 7])
        tried += 1
        failed += move > bound
        print(f"  mpmath on the worst: long double says {ratio:.2f} of the "
              f"bound, 40 digits {float(move / bound):.2f}")
    return tried, failed


def mp_step(round_, head, out, p):
    """How far Gauss & Newton go from the answer until they rest, 40 digits."""
    mean = [mp.fsum(a[i] for a in p) / len(p) for i in range(3)]
    ext = max(mp.sqrt(mp_dot(d, d)) for d in
              ([a - b for a, b in zip(x, mean)] for x in p))
    c = [mp.mpf(float(t)) for t in out[1:4]]
    r = head[0] or mp.mpf(float(out[4 if round_ else 7]))
    w = None if round_ else [mp.mpf(float(t)) for t in out[4:7]]
    along = not round_ and any(head[1:])
    if along:
        w = head[1:]
    first, radius = list(c), r
    for _ in range(25):
        rows, res = [], []
        if w:
            h = mp.sqrt(mp_dot(w, w))
            w = [a / h for a in w]
            k = min(range(3), key=lambda i: abs(w[i]))
            e = [(i == k) - w[k] * w[i] for i in range(3)]
            h = mp.sqrt(mp_dot(e, e))
            e = [a / h for a in e]
            f = [w[1] * e[2] - w[2] * e[1], w[2] * e[0] - w[0] * e[2],
                 w[0] * e[1] - w[1] * e[0]]
        for a in p:
            v = [x - y for x, y in zip(a, c)]
            if w:
                t, x, y = mp_dot(v, w), mp_dot(v, e), mp_dot(v, f)
                h = mp.sqrt(x * x + y * y)
                row = [-x / h, -y / h] + \
                    ([] if along else [-t * x / h, -t * y / h])
            else:
                h = mp.sqrt(mp_dot(v, v))
                row = [-x / h for x in v]
            rows.append(row + ([] if head[0] else [mp.mpf(-1)]))
            res.append(h - r)
        j = mp.matrix(rows)
        step = mp.lu_solve(j.T * j, -(j.T * mp.matrix(res)))
        if w:
            c = [x + step[0] * a + step[1] * b for x, a, b in zip(c, e, f)]
            if not along:
                w = [x + step[2] * a + step[3] * b for x, a, b in zip(w, e, f)]
        else:
            c = [x + step[i] for i, x in enumerate(c)]
        r += 0 if head[0] else step[len(step) - 1]
        if mp.norm(step) < mp.mpf(10) ** -30 * ext:
            break
    off = [a - b for a, b in zip(c, first)]
    if w:
        t = mp_dot(off, w)
        off = [a - t * b for a, b in zip(off, w)]
    q = max(out[[5, 9, 12, 14]]) if round_ else max(out[[8, 13, 22]])
    return max(mp.sqrt(mp_dot(off, off)), abs(r - radius)), q, float(ext)


# ------------------------------------------------------------------------ main

def main():
    args = arguments(__doc__, 100000)
    tried = failed = 0
    names = ["sphere", "sphere-known", *GIVEN]
    for i, name in enumerate(names):
        rng = np.random.default_rng([args.seed, i])
        tally, start = Tally(name), time.monotonic()
        tally.open = 0
        with np.errstate(all="ignore"):
            if name in GIVEN:
                fit_cylinder(args.driver, rng, args.n, tally,
                             *GIVEN[name])
            else:
                fit_sphere(args.driver, rng, args.n, tally,
                           name == "sphere-known")
            print_end(tally, start)
            t, f = mp_worst(args.driver, tally)
        tried, failed = tried + tally.tried + t, failed + tally.failed + f
    number = max(30, min(args.n // 100, 400))
    rng = np.random.default_rng([args.seed, len(names)])
    with np.errstate(all="ignore"):
        t, f, opened = scipy_cylinders(args.driver, rng, number)
    print(f"cylinder against scipy: {t} tried, {f} failed, {opened} not "
          "determined")
    tried, failed = tried + t, failed + f
    t, f = scipy_spheres(args.driver, rng, number)
    print(f"sphere against scipy: {t} tried, {f} failed")
    tried, failed = tried + t, failed + f
    return finish(tried, failed)


if __name__ == "__main__":
    sys.exit(main())
