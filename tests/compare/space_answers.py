#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Makes the cylinders of tests/data/stress: touches as exact decimals, and the
least-squares cylinder through them with 50 digits.

    space_answers.py FOLDER

Own formulas: a point of the axis, its direction and the radius, Gauss-Newton
with the derivatives of the distance, in 110 digits.  Noise makes each step gain
at least two digits, and the loop runs until nothing moves any more.  That the
resting point is the least one is a matter of how the touches were made: the
start is the cylinder that they were made on."""
import math
import random
import sys

import mpmath as mp

mp.mp.dps = 110
SEED = 20240611


def dot(a, b):
    return mp.fsum(x * y for x, y in zip(a, b))


def cross(a, b):
    return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2],
            a[0] * b[1] - a[1] * b[0]]


def unit(a):
    h = mp.sqrt(dot(a, a))
    return [x / h for x in a]


def sides(w):
    k = min(range(3), key=lambda i: abs(w[i]))
    e = unit(cross(w, [mp.mpf(i == k) for i in range(3)]))
    return e, cross(w, e)


def rows(points, c, w, r, free):
    """Residuals and their slopes by shift and tilt along two sides, radius."""
    e, f = sides(w)
    out, jac = [], []
    for p in points:
        v = [a - b for a, b in zip(p, c)]
        t, x, y = dot(v, w), dot(v, e), dot(v, f)
        h = mp.sqrt(x * x + y * y)
        full = [-x / h, -y / h, -t * x / h, -t * y / h, mp.mpf(-1)]
        out.append(h - r)
        jac.append([full[i] for i in free])
    return out, jac, e, f


def normal(jac):
    k = len(jac[0])
    return mp.matrix(k, k) + mp.matrix(
        [[mp.fsum(row[i] * row[j] for row in jac) for j in range(k)]
         for i in range(k)])


def solve(points, c, w, r, free):
    mean = [mp.fsum(p[i] for p in points) / len(points) for i in range(3)]
    c, w, r = list(map(mp.mpf, c)), unit(list(map(mp.mpf, w))), mp.mpf(r)
    for _ in range(400):
        res, jac, e, f = rows(points, c, w, r, free)
        g = mp.matrix([-mp.fsum(row[i] * v for row, v in zip(jac, res))
                       for i in range(len(free))])
        step = mp.lu_solve(normal(jac), g)
        full = [mp.mpf(0)] * 5
        for i, s in zip(free, step):
            full[i] = s
        c = [a + full[0] * x + full[1] * y for a, x, y in zip(c, e, f)]
        w = unit([a + full[2] * x + full[3] * y for a, x, y in zip(w, e, f)])
        r += full[4]
        along = dot([a - b for a, b in zip(mean, c)], w)
        c = [a + along * b for a, b in zip(c, w)]
        if mp.norm(step) < mp.mpf(10) ** -70:
            break
    else:
        raise RuntimeError("not at rest")
    if (w[2], w[1], w[0]) < (0, 0, 0):
        w = [-x for x in w]
    res, jac, _, _ = rows(points, c, w, r, free)
    return c, w, r, res, jac


def answer(points, c, w, r, free):
    c, w, r, res, jac = solve(points, c, w, r, free)
    n = len(points)
    ssr = mp.fsum(v * v for v in res)
    s2 = ssr / (n - len(free))
    q = normal(jac) ** -1
    trace = lambda which: s2 * mp.fsum(q[i, i] for i, u in enumerate(free)
                                       if u in which)
    yield from zip(("px", "py", "pz", "ax", "ay", "az"), [*c, *w])
    yield "r", r
    yield "ssr", ssr
    yield "s", mp.sqrt(s2)
    yield "res_max", max(res)
    yield "res_min", min(res)
    yield "cov_shift", trace((0, 1))
    if 2 in free:
        yield "cov_tilt", trace((2, 3))
    if 4 in free:
        yield "cov_r_r", trace((4,))


def touches(rng, centre, w, r, length, half, rings, each, noise, digits):
    """Rings along the axis; every other turned by a part of a step.  Rings of
    one touch make a spiral."""
    w = [float(x) for x in unit(list(map(mp.mpf, w)))]
    e, f = ([float(x) for x in side] for side in sides(list(map(mp.mpf, w))))
    for i in range(rings):
        for k in range(each):
            a = half * (2 * (k + 0.5 + (i % 2) * 0.3) / each - 1)
            if each == 1:
                a = half * (2 * (0.618 * i % 1) - 1)
            t = length * (i / (rings - 1) - 0.5)
            d = r + noise * rng.gauss(0, 1)
            x, y = d * math.cos(a), d * math.sin(a)
            yield tuple(f"{centre[l] + t * w[l] + x * e[l] + y * f[l]:.{digits}f}"
                        for l in range(3))


CASES = (
    # name, what, centre, direction, r, length, half angle, rings, each,
    # noise, digits, free (0 1 shift, 2 3 tilt, 4 radius), radius given
    ("patch", "10 degrees of the wall, 30 long; r 200",
     (3, -8, 5), (0.2, -0.5, 0.8), 200, 30, math.radians(5), 4, 6, 1e-5, 7,
     (0, 1, 2, 3, 4), None),
    ("far", "bore r 6; centre near 1e6", (1e6 + 12, -2e6 - 7, 5e5 + 3),
     (0.1, 0.9, 0.3), 6, 14, math.pi, 3, 5, 1e-3, 5, (0, 1, 2, 3, 4), None),
    ("six", "no more than six touches, on a spiral", (1, 2, 3),
     (0.05, 0.02, 1), 12, 50, 2.5, 6, 1, 1e-4, 6, (0, 1, 2, 3, 4), None),
    ("long", "rod r 1.5, 300 long", (-4, 9, 2), (0.7, 0.1, 0.6), 1.5, 300,
     math.pi, 6, 3, 1e-3, 6, (0, 1, 2, 3, 4), None),
    ("rough", "noise a twentieth of the radius", (-4, 9, 2), (0.3, -0.4, 0.5),
     10, 60, math.pi, 5, 6, 0.5, 4, (0, 1, 2, 3, 4), None),
    ("known_r", "radius fixed at 15.001; 80 degrees of the wall", (2, 2, -5),
     (0.1, 1, 0.2), 15, 25, math.radians(40), 4, 5, 1e-3, 5, (0, 1, 2, 3),
     "15.001"),
    ("along", "direction fixed; 120 degrees of the wall", (20, -3, 8),
     (0.25, 0.5, 1), 8, 10, math.radians(60), 3, 4, 1e-3, 5, (0, 1, 4), None),
    ("along_r", "direction and radius 8.002 fixed", (20, -3, 8),
     (0.25, 0.5, 1), 8, 10, math.radians(60), 3, 4, 1e-3, 5, (0, 1), "8.002"),
)


def main():
    folder = sys.argv[1]
    for (name, what, centre, w, r, length, half, rings, each, noise, digits,
         free, known) in CASES:
        rng = random.Random(f"{SEED} {name}")
        p = list(touches(rng, centre, w, r, length, half, rings, each, noise,
                         digits))
        head = ("# SPDX-License-Identifier: GPL-3.0-or-later\n"
                f"# {what}; {len(p)} touches, noise {noise:g}\n"
                f"# Computed by the project with mpmath (seed {SEED}, "
                "tests/compare/space_answers.py); not published data.\n"
                "# Input decimals are exact; answers have 50 significant "
                "digits.\n")
        with open(f"{folder}/cylinder_{name}.csv", "w") as out:
            out.write(head + "x,y,z\n")
            out.writelines(",".join(row) + "\n" for row in p)
        points = [[mp.mpf(x) for x in row] for row in p]
        with open(f"{folder}/cylinder_{name}.expect.csv", "w") as out:
            out.write(head + "quantity,published,computed,note\n")
            for key, value in answer(points, centre, w, known or r, free):
                out.write(f"{key},,{mp.nstr(value, 50)},\n")


if __name__ == "__main__":
    main()
