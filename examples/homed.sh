#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The mill is homed again: marks on the table say by what, and which values must
# be entered anew; and a vise comes off and goes back three times.  What is
# typed stands behind $, what is answered below it.  The book lies in a folder
# that goes away, and the times are stated, so that it comes out the same every
# day.
set -u
examples=$(cd "$(dirname "$0")" && pwd) || exit 1
. "$examples/show.inc"

cp "$examples/marks.jaw" marks.jaw
cp "$examples/cell.jaw" cell.jaw

echo '# Monday: homed; the marks first of all, then a setter and the work'
do_at 2026-03-02T07:00 0 machine mill --unit mm --travel -400,0
do_at 2026-03-02T07:02 0 mark marks.jaw --keep
do_at 2026-03-02T07:10 0 setter setter --top -310.002 --top-u 0.002
do_at 2026-03-02T07:20 9 solve cell.jaw --keep

echo
echo '# Tuesday: homed again, and the switches caught as they did the day before'
touches "$examples/marks.jaw" 0.001 -0.001 >marks.jaw
do_at 2026-03-03T07:01 11 mark marks.jaw --keep

echo
echo '# Wednesday: after a power cut X comes to stand 0.03 farther'
touches "$examples/marks.jaw" 0.031 0.001 >marks.jaw
do_at 2026-03-04T07:01 0 mark marks.jaw --keep

echo
echo '# One value was not entered'
do_at - 8 entered 'Mirror cell' G54 X 10.002 Y -50.000 Z -230.001 turn 0.0014

echo
echo '# Thursday: a chip lay in one bore, and nobody knows in which: enter nothing'
touches "$examples/marks.jaw" 0.031 0.001 | awk '
    /^bore east/ { on = 1 }
    /^$/ { on = 0 }
    on && NF == 2 && $1 + 0 == $1 {
        printf "  %.3f  %s\n", $1 + 0.08, $2
        next
    }
    { print }' >chip.jaw
do_at 2026-03-05T07:01 3 mark chip.jaw --keep

echo
echo '# Friday: one mark, typed by hand; in inches by mistake, then in mm'
do_at - 2 mark west=-5.9043,1.5749 --repeat 0.003
do_at - -13 mark west=-149.969,40.002 west=-149.967,40.003

echo
echo '# The vise comes off and goes back; what does it come back to?'
do_at 2026-03-05T08:00 0 fixture cell.jaw --text '150 mm vise' --new --keep
touches cell.jaw 0.021 -0.013 >back.jaw
do_at 2026-03-12T08:00 -12 fixture back.jaw --keep
touches cell.jaw -0.018 0.011 >back.jaw
do_at 2026-03-19T08:00 -12 fixture back.jaw --keep
touches cell.jaw 0.006 0.004 >back.jaw
do_at 2026-03-26T08:00 -14 fixture back.jaw --keep

echo
echo '# What the book has'
do_at - 0 marks
do_at - 0 marks west
do_at - 0 fixtures bench
do_at - 0 book log
do_at - 0 book check
