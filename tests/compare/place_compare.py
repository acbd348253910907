#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Compares 3-2-1 datums, rotary tables and stations with SciPy, NumPy and
NumPy's long double on random problems.

    place_compare.py DRIVER [-n PROBLEMS] [--seed SEED]

rotary    PROBLEMS: the linear least squares of centre and arm by
          scipy.linalg.lstsq with the covariance from the inverse of the whole
          matrix, and the same in long double to the accuracy that rotary.h
          promises
stations  PROBLEMS / 20: everything as one adjustment, each real place an
          unknown of its own, by scipy.optimize.least_squares; covariance from
          its matrix; `off` by leaving each out and doing it again
datum     PROBLEMS / 20: three minimisations one after the other over
          scipy.spatial.transform.Rotation

The last line is plain counts; the exit status is 1 when anything failed.
"""
import sys
import time

import numpy as np
from scipy.linalg import lstsq
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation
from scipy.stats import f as f_distribution

from yardstick import EPS, LD, arguments, drive_rows, finish, print_end



class Tally:
    """What one kind came to."""

    def __init__(self, name):
        self.name, self.tried, self.failed, self.shown = name, 0, 0, 0
        self.open = None
        self.worst = {}

    def check(self, line, pairs):
        """pairs: (what, off, allowed).  One problem, good or not."""
        good = True
        for what, off, allowed in pairs:
            off = float(np.max(np.abs(off)))
            ratio = off / allowed if off else 0.0
            self.worst[what] = max(self.worst.get(what, 0), ratio)
            if not ratio <= 1:
                good = False
                if self.shown < 5:
                    self.shown += 1
                    print(f"  {self.name}: {what} off {off:.3g}, allowed "
                          f"{allowed:.3g}: {line}")
        self.tried += 1
        self.failed += not good


def text(*parts):
    return " ".join(p if isinstance(p, str)
                    else " ".join(repr(float(v)) for v in np.ravel(p))
                    for p in parts)


# ---------------------------------------------------------------------- rotary

def make_rotary(rng):
    n = int(rng.integers(3, 12))
    size = 10.0 ** rng.uniform(-1, 3)
    arc = rng.choice([6.3, 3.0, 1.0, 10.0 ** rng.uniform(-3, -1)])
    a = rng.uniform(-3, 3) + rng.uniform(0, arc, n)
    a[-1] = a[0] + arc
    c = rng.normal(0, 300, 2)
    arm = size * np.array([np.cos(t := rng.uniform(-3, 3)), np.sin(t)])
    sense = int(rng.choice([-1, 1]))
    noise = size * 10.0 ** rng.uniform(-9, -5) * min(arc, 1)
    co, si = np.cos(sense * a), np.sin(sense * a)
    p = np.stack([c[0] + co * arm[0] - si * arm[1],
                  c[1] + si * arm[0] + co * arm[1]], 1)
    return n, a, p + rng.normal(0, noise, (n, 2)), sense


def design(a, sense):
    co, si = np.cos(sense * a), np.sin(sense * a)
    n = len(a)
    m = np.zeros((2 * n, 4))
    m[0::2, 0] = m[1::2, 1] = 1
    m[0::2, 2], m[0::2, 3] = co, -si
    m[1::2, 2], m[1::2, 3] = si, co
    return m


def exact_rotary(a, p, sense):
    """Long double, complex, about the means: centre, arm, sum |z - mean|^2 and
    mean z."""
    a0 = a[0]
    b = LD(sense) * (a.astype(LD) - LD(a0))
    z = np.cos(b) + 1j * np.sin(b)
    w = p[:, 0].astype(LD) + 1j * p[:, 1].astype(LD)
    # z - 1 keeps its digits where the angles crowd
    d = -2 * np.sin(b / 2) ** 2 + 1j * np.sin(b)
    dm, wm = d.mean(), w[0] + (w - w[0]).mean()
    u, v = d - dm, (w - w[0]) - (w - w[0]).mean()
    q = (np.conj(u) * v).sum() / (np.abs(u) ** 2).sum()
    q = q + (np.conj(u) * (v - u * q)).sum() / (np.abs(u) ** 2).sum()
    back = np.exp(-1j * LD(sense) * LD(a0))
    return wm - (1 + dm) * q, q * back, (np.abs(u) ** 2).sum(), 1 + dm


def hides_sense(a, p, sense):
    """Whether chance may make the right sense's residuals of the other's, as
    rotary.h has it: F test at 0.001 (a third touch after a whole turn leaves
    two angles, say)."""
    ssr = []
    for s in (sense, -sense):
        m = design(a, s)
        r = p.ravel() - m @ lstsq(m, p.ravel())[0]
        ssr.append(r @ r)
    dof = 2 * len(a) - 4
    return ssr[1] <= f_distribution.isf(0.001, dof, dof) * ssr[0] * (1 + 1e-6)


def compare_rotary(driver, rng, number):
    tally = Tally("rotary")
    made = [make_rotary(rng) for _ in range(number)]
    given = rng.choice(["0", "s"], number)
    # over less than half a radian the noise may rightly hide the sense
    lines = [text("rotary", [n], [0 if g == "0" and np.ptp(a) > 0.5 else s],
                  "nan", np.column_stack([a, p]))
             for (n, a, p, s), g in zip(made, given)]
    for (n, a, p, s), line, o in zip(made, lines, drive_rows(driver, lines)):
        if o[0] != 0:
            unsure = line.split()[2] == "0.0" and o[0] == -3
            tally.check(line, [("status", not (unsure and
                                               hides_sense(a, p, s)), 0.5)])
            continue
        c, q, ss, z = exact_rotary(a, p, s)
        extent = np.abs(p - p.mean(0)).max()
        reach = max(extent, float(abs(q)) * np.abs(a).max())
        sure = float(np.sqrt(1 + abs(z) ** 2 * n / ss))
        move = 8 * EPS * reach
        m = design(a, s)
        x, _, _, _ = lstsq(m, p.ravel())
        r = p.ravel() - m @ x
        inverse = np.linalg.pinv(m.T @ m) if ss > 1e-3 else None
        pairs = [("sense", o[1] - s, 0.5),
                 ("centre", [float(c.real - o[2]), float(c.imag - o[3])],
                  move * sure + 2 * EPS * np.abs(p).max()),
                 ("arm", [float(q.real - o[4]), float(q.imag - o[5])],
                  move * float(np.sqrt(n / ss)) + 4 * EPS * float(abs(q)) *
                  max(1, np.abs(a).max()))]
        cond = np.linalg.cond(m)
        loose = 100 * EPS * cond * (np.abs(p).max() + np.abs(x).max())
        pairs += [("lstsq", x - o[2:6], loose),
                  ("residual", r - o[11:], 10 * loose),
                  ("rms", o[9] - np.sqrt((r * r).sum() / n), 10 * loose)]
        if inverse is not None:
            cov = inverse[:2, :2] * (r @ r) / (2 * n - 4)
            size = abs(cov).max()
            wobble = 1e-9 + 20 * loose / max(np.sqrt(r @ r), 1e-300)
            wobble += 1e3 * EPS * cond ** 2
            pairs.append(("cov", [cov[0, 0] - o[6], cov[0, 1] - o[7],
                                  cov[1, 1] - o[8]], size * wobble))
        tally.check(line, pairs)
    return tally


# -------------------------------------------------------------------- stations

def make_stations(rng):
    n = int(rng.integers(3, 9))
    turn = rng.uniform(-3, 3)
    nominal = np.column_stack([rng.uniform(-200, 200, (n, 2)),
                               rng.uniform(-20, 20, n)])
    co, si = np.cos(turn), np.sin(turn)
    known = np.where(rng.random(n) < 0.3, 0, rng.uniform(1e-3, 0.02, n))
    u_xy, u_z = rng.uniform(1e-3, 0.02, (2, n))
    touched = np.column_stack([
        co * nominal[:, 0] - si * nominal[:, 1] + rng.normal(0, 100),
        si * nominal[:, 0] + co * nominal[:, 1] + rng.normal(0, 100),
        nominal[:, 2] - 80])
    touched += rng.normal(0, 1, (n, 3)) * np.column_stack(
        [np.hypot(u_xy, known), np.hypot(u_xy, known), np.hypot(u_z, known)])
    there = rng.random(n) < 0.8
    there[rng.permutation(n)[:2]] = True
    touched[~there] = np.nan
    u = rng.choice([0, 1e-5, 1e-4, 1e-2])
    given = turn + u * rng.normal() if rng.random() < 0.6 else np.nan
    return nominal, touched, u_xy, u_z, known, given, u


def adjust_plane(nominal, touched, u_xy, known, given, u):
    """Unknowns: shift, turn unless it is exact, each place.  A nominal place
    that is exact has no unknown of its own.  Returns places, their covariance,
    turn and its standard deviation; None when it is not determined."""
    n = len(nominal)
    there = ~np.isnan(touched[:, 0])
    free = known > 0
    exact_turn = not np.isnan(given) and u == 0
    if there.sum() < 1 or (np.isnan(given) and there.sum() < 2):
        return None
    mid = np.nanmean(touched[:, :2], 0)
    about = nominal[there, :2].mean(0)
    slots = np.cumsum(np.repeat(free, 2)).reshape(n, 2) + 2

    def unpack(x):
        t = given if exact_turn else x[2]
        co, si = np.cos(t), np.sin(t)
        d = nominal[:, :2] - about
        base = np.stack([co * d[:, 0] - si * d[:, 1],
                         si * d[:, 0] + co * d[:, 1]], 1) + mid + x[:2]
        off = np.where(free[:, None], x[np.minimum(slots, len(x) - 1)], 0)
        return base, off, t

    def f(x):
        base, off, t = unpack(x)
        out = [((touched[:, :2] - base - off) / u_xy[:, None])[there].ravel(),
               (off[free] / known[free][:, None]).ravel()]
        if not np.isnan(given) and not exact_turn:
            out.append([(t - given) / u])
        elif exact_turn:
            out.append([x[2]])
        return np.concatenate(out)

    d = nominal[there, :2] - about
    e = touched[there, :2] - touched[there, :2].mean(0)
    start = np.arctan2((d[:, 0] * e[:, 1] - d[:, 1] * e[:, 0]).sum(),
                       (d * e).sum())
    if there.sum() < 2:
        start = given
    x0 = np.zeros(3 + 2 * free.sum())
    x0[2] = 0 if exact_turn else start
    scale = np.ones(len(x0)) * 0.01
    scale[2] = 1e-4
    s = least_squares(f, x0, jac="3-point", x_scale=scale, xtol=1e-15,
                      ftol=1e-15, gtol=1e-15, method="trf")
    # covariance: derivatives of all that is wanted, by differences
    inverse = np.linalg.pinv(s.jac.T @ s.jac, rcond=1e-25)

    def wanted(x):
        base, off, t = unpack(x)
        return np.append((base + off).ravel(), t)
    h = scale * 1e-2
    g = np.array([(wanted(s.x + h * e) - wanted(s.x - h * e)) / (2 * h[i])
                  for i, e in enumerate(np.eye(len(h)))]).T
    out = wanted(s.x)
    sd = np.sqrt(np.maximum(np.diag(g @ inverse @ g.T), 0))
    return out[:-1].reshape(n, 2), sd[:-1].reshape(n, 2), out[-1], sd[-1]


def adjust_height(nominal, touched, u_z, known):
    """The mean of the touched ones as linear least squares, places included."""
    n = len(nominal)
    there = ~np.isnan(touched[:, 2])
    if not there.any():
        return None
    rows, right = [], []
    for i in range(n):
        if there[i]:
            row = np.zeros(n + 1)
            row[0] = row[1 + i] = 1 / u_z[i]
            rows.append(row)
            right.append((touched[i, 2] - nominal[i, 2] + 80) / u_z[i])
        row = np.zeros(n + 1)
        row[1 + i] = 1 / max(known[i], 1e-9)
        rows.append(row)
        right.append(0)
    m = np.array(rows)
    x = lstsq(m, right)[0]
    # by QR: exact nominal places make the matrix lopsided
    r = np.linalg.qr(m)[1]
    inv = np.linalg.inv(r)
    cov = inv @ inv.T
    z = x[0] + x[1:] + nominal[:, 2] - 80
    pick = np.hstack([np.ones((n, 1)), np.eye(n)])
    return z, np.sqrt(np.diag(pick @ cov @ pick.T))


def compare_stations(driver, rng, number):
    tally = Tally("stations")
    made = [make_stations(rng) for _ in range(number)]
    lines = [text("stations", [len(m[0])], [m[5]], [m[6]], [0],
                  np.column_stack([m[0], m[1], m[2], m[3], m[4]]))
             for m in made]
    for m, line, o in zip(made, lines, drive_rows(driver, lines)):
        if o[0] != 0:
            tally.check(line, [("status", 1, 0.5)])
            continue
        nominal, touched, u_xy, u_z, known, given, u = m
        n = len(nominal)
        v = o[5:].reshape(n, 12)
        p, sd, turn, turn_sd = adjust_plane(nominal, touched, u_xy, known,
                                            given, u)
        z, zsd = adjust_height(nominal, touched, u_z, known)
        pairs = [("turn", np.angle(np.exp(1j * (turn - o[1]))), 1e-9),
                 ("u of turn", turn_sd - o[2], 1e-6 * turn_sd + 1e-15),
                 ("place", p - v[:, [0, 2]], 1e-7),
                 ("u of place", (sd - v[:, [1, 3]]) / sd, 1e-5),
                 ("height", z - v[:, 4], 1e-9),
                 ("u of height", (zsd - v[:, 5]) / zsd, 1e-6)]
        i = int(rng.choice(np.nonzero(~np.isnan(touched[:, 0]))[0]))
        rest = touched.copy()
        rest[i] = np.nan
        one = adjust_plane(nominal, rest, u_xy, known, given, u)
        if one is None:
            pairs.append(("nothing left", not np.isnan(v[i, 6]), 0.5))
        else:
            pairs += [("off", touched[i, :2] - one[0][i] - v[i, 6:8], 1e-7),
                      ("u of off", np.hypot(one[1][i], u_xy[i]) / v[i, 9:11]
                       - 1, 1e-5)]
        other = adjust_height(nominal, rest, u_z, known)
        pairs += [("off z", touched[i, 2] - other[0][i] - v[i, 8], 1e-9),
                  ("u of off z", np.hypot(other[1][i], u_z[i]) / v[i, 11] - 1,
                   1e-6)]
        tally.check(line, pairs)
    return tally


# ----------------------------------------------------------------------- datum

SIDES = [None, (1, 0), (-1, 0), (0, 1), (0, -1)]


def make_datum(rng):
    second, third = rng.permutation([rng.choice([1, 2]), rng.choice([3, 4])])
    side = [None, np.array(SIDES[second]), np.array(SIDES[third])]
    turn = Rotation.from_euler("xyz", rng.uniform(-1, 1, 3) *
                               [0.04, 0.04, 0.3])
    corner = rng.uniform(-200, 200, 3)
    out = side[1] + side[2]
    size = np.array([-90 * out[0], -60 * out[1], -40])
    n = [int(rng.integers(3, 9)), int(rng.integers(2, 7)),
         int(rng.integers(1, 6))]
    r, noise = rng.uniform(0.5, 4), 10.0 ** rng.uniform(-6, -2)
    centres = []
    for k in range(3):
        p = rng.uniform(0.1, 0.9, (n[k], 3)) * size
        if k == 0:
            # three of them wide apart, as anyone would
            p[:3, :2] = np.array([[.1, .1], [.9, .2], [.4, .9]]) * size[:2]
            p[:, 2] = r
        else:
            j = int(np.flatnonzero(side[k])[0])
            p[:, j] = r * side[k][j]
            if k == 1:
                p[:2, 1 - j] = np.array([.1, .9]) * size[1 - j]
        centres.append(turn.apply(p) + corner + rng.normal(0, noise,
                                                           (n[k], 3)))
    return n, r, (second, third), side, centres, noise


def scipy_datum(side, centres, r):
    """One after the other; each minimum by least_squares."""
    tight = dict(jac="3-point", xtol=1e-15, ftol=1e-15, gtol=1e-15)
    mid = centres[0].mean(0)
    up = np.array([0, 0, 1.0])

    def lean(x):
        return Rotation.from_rotvec([x[0], x[1], 0])
    s = least_squares(lambda x: (centres[0] - mid) @ lean(x).apply(up) - x[2],
                      [0, 0, 0], x_scale=[1e-3, 1e-3, 1e-2], **tight)
    n = lean(s.x).apply(up)
    d = [n @ mid + s.x[2] - r]
    base = lean(s.x)
    flat = base.apply(np.append(side[1], 0.0))
    mid = centres[1].mean(0)

    def about(x):
        return Rotation.from_rotvec(n * x[0]).apply(flat)
    s = least_squares(lambda x: (centres[1] - mid) @ about(x) - x[1], [0, 0],
                      x_scale=[1e-3, 1e-2], **tight)
    m = about(s.x)
    d.append(m @ mid + s.x[1] - r)
    k = np.cross(n, m)
    k = k if k[:2] @ side[2] > 0 else -k
    d.append((centres[2] @ k).mean() - r)
    origin = np.linalg.solve(np.array([n, m, k]), d)
    walls = {int(np.flatnonzero(side[1])[0]): m * side[1].sum(),
             int(np.flatnonzero(side[2])[0]): k * side[2].sum()}
    return np.column_stack([walls[0], walls[1], n]), origin


def compare_datum(driver, rng, number):
    tally = Tally("datum")
    made = [make_datum(rng) for _ in range(number)]
    down = np.array([0, 0, 1.0])
    lines = [text("datum", n, [2 * r], [0.01] * 3, list(faces),
                  *[c - r * down for c in centres])
             for n, r, faces, side, centres, noise in made]
    for (n, r, faces, side, centres, noise), line, o in zip(
            made, lines, drive_rows(driver, lines)):
        if o[0] != 0:
            tally.check(line, [("status", 1, 0.5)])
            continue
        turn, origin = scipy_datum(side, centres, r)
        tally.check(line, [("turn", turn - o[1:10].reshape(3, 3), 1e-10),
                           ("origin", origin - o[10:13], 1e-8)])
    return tally


# ------------------------------------------------------------------------ main

def main():
    args = arguments(__doc__, 100000)
    tried = failed = 0
    kinds = ((compare_rotary, args.n), (compare_stations, args.n // 20),
             (compare_datum, args.n // 20))
    for i, (compare, number) in enumerate(kinds):
        start = time.monotonic()
        tally = compare(args.driver, np.random.default_rng([args.seed, i]),
                        max(number, 20))
        print_end(tally, start)
        tried, failed = tried + tally.tried, failed + tally.failed
    return finish(tried, failed)


if __name__ == "__main__":
    sys.exit(main())
