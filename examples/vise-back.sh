#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The vise comes off the table and goes back: a setup is kept, read back, found
# again and compared.  What is typed stands behind $, what is answered below it.
# The book lies in a folder that goes away, and the times are stated, so that it
# comes out the same every day.
set -u
examples=$(cd "$(dirname "$0")" && pwd) || exit 1
. "$examples/show.inc"

cp "$examples/corner.jaw" plate.jaw

echo '# Monday: the plate is touched, solved and kept, and the values entered'
do_at 2026-03-02T07:15 -2 solve plate.jaw --keep
do_at 2026-03-02T07:20 12 entered plate.jaw G54 X -9.4127 Y -6.2038 Z -10.2175 \
    turn 0.0257 H1 4.8125 H2 3.9407 H3 5.1220 --keep
do_at 2026-03-02T07:22 3 entered plate.jaw G54 X -9.4172 Y -6.2038 Z -10.2175 \
    turn 0.0257 H1 4.8125 H2 3.9407 H3 5.1220 --keep

echo
echo '# Tuesday: is it still where it was?  The same touches, taken again'
sed -e 's/-6.3028/-6.3029/; s/-9.3167/-9.3168/; s/-5.9050/-5.9051/' \
    "$examples/corner.jaw" >plate.jaw
do_at - 0 moved plate.jaw

echo
echo '# Thursday: the vise was off, and is back a little to the right and turned'
sed -e 's/-6.3036/-6.2911/; s/-6.3028/-6.2892/; s/-6.3019/-6.2865/' \
    -e 's/-9.3167/-9.3012/' "$examples/corner.jaw" >plate.jaw
do_at 2026-03-05T09:10 -10 solve plate.jaw --keep

echo
echo '# One value is not entered anew: the control still holds that of Monday'
do_at 2026-03-05T09:14 9 entered focuser G54 X -9.4026 Y -6.2038 Z -10.2175 \
    turn 0.0702 H1 4.8125 H2 3.9407 H3 5.1220 --keep

echo
echo '# Next month: a minus is lost at the stop, and it is said before the values'
sed -e 's/ -9.3167/  9.3167/' "$examples/corner.jaw" >plate.jaw
do_at - 12 moved plate.jaw

echo
echo '# What is kept, as it was then'
do_at - 0 setups
do_at - 14 setups focuser
do_at - 6 setups 1
do_at - 0 setups 1 --sheet monday.jaw
do_at - 8 solve monday.jaw
do_at 2026-03-05T09:20 0 book undo 22
do_at - 0 book check
do_at - 0 book log
