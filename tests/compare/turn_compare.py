#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Compares rigid fits in space and sweeps with SciPy, NumPy's long double and
mpmath on random problems.

    turn_compare.py DRIVER [-n PROBLEMS] [--seed SEED]

  - rigid3: the same sum of squares brought to rest in long double by Newton's
    method, in the axes of the coordinates; scipy.spatial.transform.Rotation
    .align_vectors on one problem in ten, which must not leave less; the worst
    and some more by a singular value decomposition with 40 digits (mpmath);
  - sweep: normal equations of the angles seen from their middle, in long
    double; numpy.linalg.lstsq on all whose condition leaves it enough digits;
    some with 40 digits straight from cosine and sine.

An answer fails when it is farther off than fit.h promises.  The last line is
plain counts; the exit status is 1 when anything failed.
"""
import sys
import time
import warnings

import mpmath as mp
import numpy as np
from scipy.spatial.transform import Rotation

from yardstick import arguments, drive, EPS, finish, LD, print_end, Tally, text

K = 8  # fit.h, "Accuracy"

mp.mp.dps = 40


def inverse3(m):
    """Of symmetric 3 x 3 matrices, by Gauss and Jordan, in their own type."""
    n = len(m)
    a = np.concatenate([m, np.broadcast_to(np.eye(3, dtype=m.dtype),
                                           (n, 3, 3))], 2).copy()
    for k in range(3):
        a[:, k] /= a[:, k, k][:, None]
        for i in range(3):
            if i != k:
                a[:, i] -= a[:, i, k][:, None] * a[:, k]
    return a[:, :, 3:]


def packed(m):
    return np.stack([m[:, i, j] for i in range(3) for j in range(i, 3)], 1)


# ---------------------------------------------------------------------- rigid3

CLASSES = ("quiet", "usual", "noisy", "weights", "flat", "thin")


def make_rigid3(rng, n, count, cls):
    size = 10.0 ** rng.uniform(-1, 2.5, n)
    odd = rng.random(n)
    size = np.where(odd < 0.1, 10.0 ** rng.uniform(-9, 12, n), size)
    p = rng.uniform(-1, 1, (n, count, 3))
    if cls == "flat":
        p[:, :, 2] = 0
    if cls == "thin":
        p[:, :, 1:] *= 10.0 ** rng.uniform(-5, 0, n)[:, None, None]
    p = p * size[:, None, None]
    rough = {"quiet": (-12, -6), "usual": (-6, -3), "noisy": (-3, -0.5),
             "weights": (-6, -2), "flat": (-9, -3), "thin": (-12, -7)}[cls]
    noise = size * 10.0 ** rng.uniform(*rough, n)
    turn = Rotation.random(n, random_state=rng.integers(2 ** 31)).as_matrix()
    small = rng.random(n) < 0.2
    turn[small] = Rotation.from_rotvec(
        rng.normal(0, 1, (n, 3)) * 10.0 ** rng.uniform(-9, -2, (n, 1))
    ).as_matrix()[small]
    first = Rotation.random(n, random_state=rng.integers(2 ** 31)).as_matrix()
    own = rng.random(n) < 0.2
    first[own] = np.eye(3)
    p = np.einsum("nij,nkj->nki", first, p)
    q = np.einsum("nij,nkj->nki", turn, p)
    q = q + noise[:, None, None] * rng.normal(0, 1, q.shape)
    far = size[:, None] * 10.0 ** rng.uniform(-2, 3, (n, 1))
    q = q + (far * rng.normal(0, 1, (n, 3)))[:, None, :]
    p = p + (size[:, None] * rng.normal(0, 1, (n, 3)))[:, None, :]
    w = np.ones((n, count))
    if cls == "weights":
        w = 10.0 ** rng.uniform(-3, 3, (n, count))
    return p, q, w


def about_mean(a, w, total):
    d = a - a[:, :1]
    m = (w[:, :, None] * d).sum(1) / total[:, None]
    return a[:, 0] + m, d - m[:, None, :]


def small_turn(v):
    """Rodrigues, by the quaternion (1, v / 2)."""
    h = v / 2
    k = 2 / (1 + (h * h).sum(1))
    x = np.zeros((len(v), 3, 3), v.dtype)
    x[:, 0, 1], x[:, 0, 2], x[:, 1, 2] = -h[:, 2], h[:, 1], -h[:, 0]
    x[:, 1, 0], x[:, 2, 0], x[:, 2, 1] = h[:, 2], -h[:, 1], h[:, 0]
    xx = np.einsum("nij,njk->nik", x, x)
    return np.eye(3, dtype=v.dtype) + k[:, None, None] * (x + xx)


def rest_rigid3(a, b, w, turn, rounds=4):
    """Newton's method on the turn, and the matrix of second derivatives."""
    for _ in range(2):  # square to long double
        turn = turn - 0.5 * np.einsum(
            "nij,nkj,nkl->nil", turn, turn, turn) + 0.5 * turn
    eye = np.eye(3, dtype=LD)
    for _ in range(rounds):
        p = np.einsum("nij,nkj->nki", turn, a)
        g = (w[:, :, None] * np.cross(p, b - p)).sum(1)
        s = np.einsum("nk,nki,nkj->nij", w, p, b)
        s = (s + s.transpose(0, 2, 1)) / 2
        m = np.einsum("nii->n", s)[:, None, None] * eye - s
        v = np.einsum("nij,nj->ni", inverse3(m), g)
        turn = np.einsum("nij,njk->nik", small_turn(v), turn)
    p = np.einsum("nij,nkj->nki", turn, a)
    return turn, p, b - p, m


def inertia(p, w):
    pp = np.einsum("nk,nki,nkj->nij", w, p, p)
    eye = np.eye(3, dtype=p.dtype)
    return np.einsum("nii->n", pp)[:, None, None] * eye - pp


def inverse_inertia(p, w):
    """Along the principal axes, where what a thin set resists is no difference
    of like numbers; even long double has not digits enough for that."""
    axes = np.linalg.eigh(inertia(p, w).astype(float))[1].astype(p.dtype)
    for _ in range(2):  # square to long double
        axes = 1.5 * axes - 0.5 * np.einsum("nij,nkj,nkl->nil", axes, axes,
                                            axes)
    along = np.einsum("nki,nij->nkj", p, axes)
    pp = np.einsum("nk,nki,nkj->nij", w, along, along)
    resist = -pp
    for i in range(3):
        j, k = (i + 1) % 3, (i + 2) % 3
        resist[:, i, i] = pp[:, j, j] + pp[:, k, k]
    return np.einsum("nij,njk,nlk->nil", axes, inverse3(resist), axes)


def judge_rigid3(tally, cls, out, a, b, w, data):
    n, count = w.shape
    show = lambda i: text(f"rigid3 {count}", data[i])
    aw, bw, ww = a.astype(LD), b.astype(LD), w.astype(LD)
    total = ww.sum(1)
    am, ac = about_mean(aw, ww, total)
    bm, bc = about_mean(bw, ww, total)
    ok = out[:, 0] == 0
    bad = tally.check("status", ~ok, np.full(n, 0.5), show, cls)
    start = np.where(ok[:, None, None], out[:, 1:10].reshape(n, 3, 3),
                     np.eye(3)).astype(LD)
    turn, p, r, m = rest_rigid3(ac, bc, ww, start)
    # about the axes in which the turns are independent
    value, axis = np.linalg.eigh(m.astype(float))
    if cls != "noisy":
        bad |= tally.check("not a minimum", ~(value[:, 0] > 0),
                           np.full(n, 0.5), show, cls)
    ext = np.sqrt(np.maximum((ac * ac).sum(2).max(1),
                             (bc * bc).sum(2).max(1)).astype(float))
    reach = np.maximum(*(np.einsum("nji,njk,nki->ni", axis,
                                   inertia(v, ww).astype(float), axis)
                         for v in (p, bc)))
    move = K * EPS * ext
    lean = move[:, None] * np.sqrt(reach * total.astype(float)[:, None]) / value
    off = np.einsum("nij,nkj->nik", out[:, 1:10].reshape(n, 3, 3), turn)
    off = np.stack([off[:, 2, 1] - off[:, 1, 2], off[:, 0, 2] - off[:, 2, 0],
                    off[:, 1, 0] - off[:, 0, 1]], 1) / 2
    off = np.abs(np.einsum("nji,nj->ni", axis, off.astype(float)))
    bad |= tally.check("turn", (off / (lean + 2 * EPS)).max(1), np.ones(n),
                       show, cls)
    square = np.einsum("nij,nkj->nik", *(out[:, 1:10].reshape(n, 3, 3)
                                         .astype(LD),) * 2) - np.eye(3)
    bad |= tally.check("square", np.abs(square).max((1, 2)),
                       np.full(n, 2 * EPS), show, cls)
    big = np.maximum(np.abs(a).max((1, 2)), np.abs(b).max((1, 2)))
    worst = lean.max(1)
    origin = bm - np.einsum("nij,nj->ni", turn, am)
    bad |= tally.check("origin", np.abs(out[:, 10:13] - origin).max(1),
                       2 * (worst + 4 * EPS) * big + move, show, cls)
    res = out[:, 40:40 + 3 * count].reshape(n, count, 3)
    share = np.sqrt((lean ** 2).sum(1)) * ext if cls != "thin" else \
        (lean * np.sqrt(reach / total.astype(float)[:, None])).sum(1) * count
    bad |= tally.check("residual", np.abs(res - r).max((1, 2)),
                       move + share, show, cls)
    ssr = (ww * (r * r).sum(2)).sum(1)
    bad |= tally.check("rms", np.abs(out[:, 36] - np.sqrt(ssr / total)),
                       move, show, cls)
    i = inertia(p, ww)
    q = inverse_inertia(p, ww)
    thin = np.sqrt(np.linalg.eigvalsh(i.astype(float))[:, 0]
                   / total.astype(float))
    most = np.abs(packed(q)).max(1)
    bad |= tally.check("cofactors", np.abs(out[:, 20:26] - packed(q)).max(1),
                       most * (1e-11 + 64 * EPS * ext / thin), show, cls)
    tally.tried += n
    tally.failed += int(bad.sum())
    return ssr


def against_scipy(tally, cls, out, a, b, w, data):
    """Must not leave less.  It takes the points about their means."""
    bad = 0
    for i in range(0, len(a), 10):
        total = w[i].sum()
        ac = a[i] - (w[i][:, None] * a[i]).sum(0) / total
        bc = b[i] - (w[i][:, None] * b[i]).sum(0) / total
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            found, _ = Rotation.align_vectors(bc, ac, weights=w[i])
        left = bc - ac @ found.as_matrix().T
        theirs = np.sqrt((w[i] * (left ** 2).sum(1)).sum() / total)
        size = np.abs(b[i]).max() + np.abs(a[i]).max()
        if not out[i, 36] <= theirs * (1 + 1e-12) + 8 * EPS * size:
            bad += 1
            print(f"  scipy {cls}: {theirs:.17g} against {out[i, 36]:.17g}: "
                  f"{text(f'rigid3 {w.shape[1]}', data[i])}")
    tally.failed += bad


def mp_rigid3(numbers):
    """The turn by singular value decomposition with 40 digits."""
    rows = [[mp.mpf(v) for v in numbers[k:k + 7]]
            for k in range(0, len(numbers), 7)]
    total = mp.fsum(r[6] for r in rows)
    mean = [mp.fsum(r[6] * r[k] for r in rows) / total for k in range(6)]
    h = mp.matrix(3, 3)
    for i in range(3):
        for j in range(3):
            h[i, j] = mp.fsum(r[6] * (r[3 + i] - mean[3 + i]) *
                              (r[j] - mean[j]) for r in rows)
    u, _, v = mp.svd_r(h)
    last = mp.sign(mp.det(u) * mp.det(v))
    return u * mp.diag([1, 1, last]) * v


def with_mpmath(driver, tally, number):
    """That the yardstick itself is right: it and the library against 40 digits
    where the library came out worst."""
    bad = 0
    for ratio, _, line in sorted(tally.hard, reverse=True)[:number]:
        numbers = [float(t) for t in line.split()[2:]]
        out = drive(driver, [line])[0]
        exact = mp_rigid3(numbers)
        d = np.array(numbers).reshape(1, -1, 7)
        a, b, w = (d[:, :, :3].astype(LD), d[:, :, 3:6].astype(LD),
                   d[:, :, 6].astype(LD))
        total = w.sum(1)
        turn, _, _, m = rest_rigid3(about_mean(a, w, total)[1],
                                    about_mean(b, w, total)[1], w,
                                    out[1:10].reshape(1, 3, 3).astype(LD))
        got = max(abs(mp.mpf(out[1 + 3 * i + j]) - exact[i, j])
                  for i in range(3) for j in range(3))
        mine = max(abs(mp.mpf(str(turn[0, i, j])) - exact[i, j])
                   for i in range(3) for j in range(3))
        tally.tried += 1
        if mine > max(got, mp.mpf(EPS)) / 4:
            bad += 1
            print(f"  rigid3: the yardstick is off by {float(mine):.3g}, the "
                  f"library by {float(got):.3g}: {line}")
    tally.failed += bad


def compare_rigid3(driver, rng, per):
    tally, start = Tally("rigid3"), time.monotonic()
    for cls in CLASSES:
        for count in (3, 4, 8, 24):
            n = per // (4 * len(CLASSES)) + 1
            a, b, w = make_rigid3(rng, n, count, cls)
            data = np.concatenate([a, b, w[:, :, None]], 2)
            out = drive(driver, [text(f"rigid3 {count}", d) for d in data])
            judge_rigid3(tally, cls, out, a, b, w, data)
            against_scipy(tally, cls, out, a, b, w, data)
    with_mpmath(driver, tally, 40)
    print_end(tally, start)
    return tally


# ----------------------------------------------------------------------- sweep

SWEEPS = ("round", "arc", "far", "opposite", "close")


def make_sweep(rng, n, count, cls):
    angle = rng.uniform(-np.pi, np.pi, (n, count))
    if cls == "arc":
        angle = (rng.uniform(-7, 7, (n, 1)) +
                 angle * 10.0 ** rng.uniform(-4, 0, (n, 1)))
    elif cls == "far":
        angle = angle + 2 * np.pi * rng.integers(-3000, 3000, (n, count))
    elif cls == "opposite":
        half = np.pi * rng.integers(0, 2, (n, count))
        angle = (rng.uniform(-7, 7, (n, 1)) + half +
                 angle * 10.0 ** rng.uniform(-3, 0, (n, 1)))
    elif cls == "close":
        angle[:, 0] = angle[:, 1] + 10.0 ** rng.uniform(-4, -1, n)
    size = 10.0 ** rng.uniform(-3, 1, (n, 1))
    reading = size * (rng.normal(0, 30, (n, 1)) + rng.normal(0, 1, (n, 1)) *
                      np.cos(angle) + rng.normal(0, 1, (n, 1)) * np.sin(angle))
    rough = size * 10.0 ** rng.uniform(-8, 0, (n, 1))
    return angle, reading + rough * rng.normal(0, 1, (n, count))


def exact_sweep(angle, y):
    """From the middle of the angles; long double, from differences to the first
    angle and reading, which lose nothing."""
    first = angle[:, 0].astype(LD)
    a = angle.astype(LD) - first[:, None]
    c, s = np.cos(2 * a).mean(1), np.sin(2 * a).mean(1)
    mid = np.arctan2(s, c) / 2
    mid = mid + np.where(np.cos(a - mid[:, None]).mean(1) < 0, LD(np.pi), LD(0))
    d = a - mid[:, None]
    mid = mid + first
    cols = np.stack([np.ones_like(d), np.sin(d), 2 * np.sin(d / 2) ** 2], 2)
    size = np.sqrt((cols * cols).sum(1))
    cols = cols / size[:, None, :]
    m = np.einsum("nki,nkj->nij", cols, cols)
    back = inverse3(m)
    left, x = y.astype(LD) - y[:, :1].astype(LD), 0
    for _ in range(3):
        step = np.einsum("nij,nkj,nk->ni", back, cols, left)
        x = x + step
        left = left - np.einsum("nki,ni->nk", cols, step)
    cm, sm, z = np.cos(mid), np.sin(mid), np.zeros(len(d), LD)
    o = np.ones(len(d), LD)
    way = np.stack([np.stack([o, z, o], 1), np.stack([z, -sm, -cm], 1),
                    np.stack([z, cm, -sm], 1)], 1) / size[:, None, :]
    q = np.einsum("nij,njk,nlk->nil", way, back, way)
    x = np.einsum("nij,nj->ni", way, x)
    x[:, 0] += y[:, 0]
    return x, left, q


def judge_sweep(tally, cls, out, angle, y):
    n, count = y.shape
    data = np.stack([angle, y], 2)
    show = lambda i: text(f"sweep {count}", data[i])
    bad = tally.check("status", out[:, 0] != 0, np.full(n, 0.5), show, cls)
    x, left, q = exact_sweep(angle, y)
    far = (np.abs(y - y.mean(1, keepdims=True)).max(1) +
           np.hypot(x[:, 1], x[:, 2]).astype(float))
    most = np.sqrt(np.stack([q[:, k, k] for k in range(3)], 1).max(1)
                   .astype(float))
    bound = EPS * (K * far * np.sqrt(count) * most +
                   np.abs(x).astype(float).max(1))
    bad |= tally.check("value", np.abs(out[:, 1:4] - x).max(1), bound, show,
                       cls)
    res = out[:, 23:23 + count]
    bad |= tally.check("residual", np.abs(res - left).max(1), K * EPS * far,
                       show, cls)
    bad |= tally.check("cofactors", np.abs(out[:, 12:18] - packed(q)).max(1),
                       K * EPS * most ** 2 * (1 + np.sqrt(count) * most), show,
                       cls)
    tally.tried += n
    tally.failed += int(bad.sum())


def against_lstsq(tally, cls, out, angle, y):
    bad = 0
    for i in range(len(y)):
        m = np.stack([np.ones(y.shape[1]), np.cos(angle[i]),
                      np.sin(angle[i])], 1)
        x, _, _, s = np.linalg.lstsq(m, y[i], rcond=None)
        if s[2] < 1e-3 * s[0] or np.abs(angle[i]).max() > 100:
            continue
        off = np.abs(out[i, 1:4] - x).max()
        if not off <= 1e-12 * np.abs(y[i]).max() / (s[2] / s[0]):
            bad += 1
            print(f"  lstsq {cls}: off {off:.3g}: {angle[i]} {y[i]}")
    tally.failed += bad


def sweep_mpmath(tally, out, angle, y):
    for i in range(min(len(y), 3)):
        m = mp.matrix([[1, mp.cos(mp.mpf(t)), mp.sin(mp.mpf(t))]
                       for t in angle[i]])
        v = mp.matrix([mp.mpf(t) for t in y[i]])
        back = (m.T * m) ** -1
        x = back * (m.T * v)
        far = np.abs(y[i] - y[i].mean()).max() + out[i, 4]
        most = float(max(back[k, k] for k in range(3))) ** 0.5
        bound = EPS * (K * far * len(v) ** 0.5 * most +
                       float(max(abs(t) for t in x)))
        off = max(abs(mp.mpf(out[i, 1 + k]) - x[k]) for k in range(3))
        tally.tried += 1
        if not off <= bound:
            tally.failed += 1
            print(f"  sweep, 40 digits: off {float(off):.3g}, allowed "
                  f"{bound:.3g}: {angle[i]} {y[i]}")


def compare_sweep(driver, rng, per):
    tally, start = Tally("sweep"), time.monotonic()
    for cls in SWEEPS:
        for count in (3, 4, 6, 12, 36):
            n = per // (5 * len(SWEEPS)) + 1
            angle, y = make_sweep(rng, n, count, cls)
            data = np.stack([angle, y], 2)
            out = drive(driver, [text(f"sweep {count}", d) for d in data])
            judge_sweep(tally, cls, out, angle, y)
            against_lstsq(tally, cls, out, angle, y)
            sweep_mpmath(tally, out, angle, y)
    print_end(tally, start)
    return tally


def main():
    args = arguments(__doc__, 100000)
    tallies = []
    with np.errstate(all="ignore"):
        for k, compare in enumerate((compare_rigid3, compare_sweep)):
            rng = np.random.default_rng([args.seed, k])
            tallies.append(compare(args.driver, rng, args.n))
    return finish(sum(t.tried for t in tallies),
                  sum(t.failed for t in tallies))


if __name__ == "__main__":
    sys.exit(main())
