# SPDX-License-Identifier: GPL-3.0-or-later
"""What the comparisons share: how a driver is asked, and how far off each answer
is against what the headers allow."""
import argparse
import subprocess
import time

import numpy as np

LD = np.longdouble
EPS = float(np.finfo(float).eps)


class Tally:
    """What one fit came to, many problems at a time."""

    def __init__(self, name):
        self.name = name
        self.tried = self.failed = self.shown = 0
        self.open = None  # how many are not determined, where that can be
        self.worst = {}
        self.hard = []  # (ratio, what, data) for mpmath

    def check(self, what, off, bound, data, cls):
        """off, bound: arrays over problems; data(i) makes one to show."""
        off = np.asarray(off, float)
        bound = np.broadcast_to(np.asarray(bound, float), off.shape)
        ratio = np.where(off == 0, 0.0, off / np.maximum(bound, 5e-324))
        bad = ~(ratio <= 1)
        if not ratio.size:
            return bad
        self.worst[what] = max(self.worst.get(what, 0.0),
                               float(np.nanmax(ratio)))
        for i in np.nonzero(bad)[0]:
            if self.shown < 12:
                self.shown += 1
                print(f"  {self.name} {cls}: {what} off {off[i]:.3g}, "
                      f"allowed {bound[i]:.3g}: {data(i)[:400]}")
        i = int(np.nanargmax(ratio))
        self.hard.append((float(ratio[i]), what, data(i)))
        return bad


def print_end(tally, start):
    """The line of one fit that was begun at `start`."""
    worst = ", ".join(f"{k} {v:.2f}" for k, v in tally.worst.items())
    more = "" if tally.open is None else f", {tally.open} not determined"
    print(f"{tally.name}: {tally.tried} tried, {tally.failed} failed{more}; "
          f"worst share of what is allowed: {worst} "
          f"({time.monotonic() - start:.0f} s)")


def drive_rows(driver, lines):
    """Each line's numbers, however many."""
    out = subprocess.run([driver], input="\n".join(lines) + "\n", text=True,
                         capture_output=True, check=True).stdout.splitlines()
    assert len(out) == len(lines), "an answer is missing"
    return [np.array(line.split(), float) for line in out]


def drive(driver, lines):
    """The same of lines that are alike: an array; the status first."""
    return np.array(drive_rows(driver, lines))


def text(head, row):
    return head + " " + " ".join(map(repr, row.ravel().tolist()))


def arguments(doc, problems):
    """Of a comparison with one driver: what run hands on to fit_compare.py is
    not for the others.  The seed is printed."""
    ap = argparse.ArgumentParser(description=doc.split("\n")[0])
    ap.add_argument("driver")
    ap.add_argument("-n", type=int, default=problems)
    ap.add_argument("--seed", type=int, default=None)
    args, _ = ap.parse_known_args()
    args.seed = seed_of(args)
    return args


def seed_of(args):
    seed = args.seed if args.seed is not None else time.time_ns() % 2 ** 32
    print(f"seed {seed}")
    return seed


def finish(tried, failed):
    """The last line, plain counts; returns the exit status."""
    print(f"{tried} tried, {failed} failed")
    return 1 if failed else 0
