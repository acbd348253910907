#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# A sheet that leaves to the book what is there already: the tools, the setter
# and the tip.  What is typed stands behind $, what is answered below it.  The
# book lies in a folder that goes away, and the times are stated, so that it
# comes out the same every day.
set -u
examples=$(cd "$(dirname "$0")" && pwd) || exit 1
. "$examples/show.inc"

# The ring of 50 mm, with the spindle at 0 and turned half a turn.
cat >ring.rows <<'ROWS'
23.0104 0.0002
16.2711 16.2634
0.0001 22.9987
-16.2566 16.2629
-22.9903 0.0004
-16.2561 -16.2640
0.0003 -23.0008
16.2709 -16.2641
22.9901 0.0001 180
16.2569 16.2638 180
0.0004 22.9989 180
-16.2702 16.2631 180
-23.0098 0.0003 180
-16.2705 -16.2643 180
0.0002 -23.0006 180
16.2561 -16.2637 180
ROWS

echo '# Monday: setter, tools and stylus are measured, and kept'
do_at 2026-03-02T07:00 0 machine mill --travel -400,0 --seat 0.002
do_at 2026-03-02T07:02 0 setter puck --top -341.205 --top-u 0.002
do_at 2026-03-02T07:05 1 tool 3 -281.207 -281.209 -281.208 --on puck \
    --text '10 mm end mill' --holder er20-1
do_at 2026-03-02T07:08 1 tool 7 -264.730 -264.731 -264.728 --on puck \
    --text '6 mm drill'
do_at 2026-03-02T07:15 -7 tip ring --size 50 --size-u 0.0005 --shape ball \
    --length 94.315 --length-u 0.003 --keep ring.rows

cat >drawtube.jaw <<'SHEET'
title  Drawtube clamp, side 1
unit   mm
control  step 0.001

tip stylus from book

edge jaw   tip stylus   faces y-   moving y+
  20.0000  -81.2031
  90.0000  -81.1968
edge stop  tip stylus   faces x+   moving x-
  x 12.4402
face top   tip stylus
  30.0  -60.0  -212.114
  80.0  -60.0  -212.117
  80.0  -30.0  -212.116
  30.0  -30.0  -212.113

zero G54
  turn  jaw along x
  x     stop
  y     jaw
  z     top

tool 3  holder er20-1  from book
tool 7  from book
SHEET
echo
echo '# The sheet says whose length it wants, and the book how long that is'
printf '\n$ cat drawtube.jaw\n'
cat drawtube.jaw
do_at - 0 solve drawtube.jaw

echo
echo '# Thursday: the drill is touched on the puck as well, in the sheet'
printf '  touched -264.792 on puck\nsetter puck from book\n' >>drawtube.jaw
tail -n 3 drawtube.jaw
do_at - 26 solve drawtube.jaw
echo
echo '# It is shorter than on Monday; measured anew it is the book that says so'
do_at 2026-03-05T08:10 0 tool 7 -264.791 -264.793 -264.792 --on puck
do_at - 17 solve drawtube.jaw

echo
echo '# Slips that a tired person makes'
sed -e 's/holder er20-1/holder er20-2/; s/^tool 7/tool 17/' drawtube.jaw \
    >slips.jaw
do_at - 0 solve slips.jaw
do_at - 0 solve drawtube.jaw --book shop.sqlit
do_at 2026-03-06T07:15 -11 tip ring --size 50.05 --size-u 0.0005 --keep ring.rows
do_at 2026-03-06T07:16 0 book undo
do_at - 0 tip kept --name stylus
do_at - 0 book check
