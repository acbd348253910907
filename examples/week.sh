#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# A week in the shop with a book: what is typed stands behind $, what is
# answered below it.  The book lies in a folder that goes away, and the times
# are stated, so that it comes out the same every day.  homed.sh, vise-back.sh
# and from-book.sh show more of marks, kept setups and sheets that take their
# lengths from the book.
set -u
examples=$(cd "$(dirname "$0")" && pwd) || exit 1
. "$examples/show.inc"

# all_at TIME ARGUMENT...: a command, and all of what it prints
all_at() {
    when=$1
    shift
    do_at "$when" 0 "$@"
}

cp "$examples/marks.jaw" marks.jaw
cp "$examples/cell.jaw" cell.jaw

echo '# Monday: the machine, and where the marks on its table are'
all_at 2026-03-02T07:00 machine mill --unit mm --travel -380,0 --seat 0.002
all_at 2026-03-02T07:01 mark marks.jaw --keep

echo
echo '# A reference pin of known length, the setter, the tools'
all_at 2026-03-02T07:02 tool 1 120.000 --stated --repeat 0.002 \
    --text 'reference pin'
all_at 2026-03-02T07:05 setter setter --tool 1 -180.002 -180.001 -180.003
all_at 2026-03-02T07:10 tool 3 -228.414 -228.416 -228.415 \
    --text '10 mm end mill' --holder er20-1 --new --diameter 9.985,9.984
all_at 2026-03-02T07:14 tool 7 -211.730 -211.731 -211.728 --text '6 mm drill'

echo
echo '# A mirror cell is touched, solved and entered'
do_at 2026-03-02T07:30 9 solve cell.jaw --keep
all_at 2026-03-02T07:34 entered cell.jaw G54 X 10.002 Y -50.001 Z -203.001 \
    turn 0.0014 --keep
all_at 2026-03-02T07:36 entered cell.jaw G54 Z -230.001 --keep

echo
echo '# Every evening the end mill is touched again: it wears'
all_at 2026-03-02T17:30 tool 3 -228.421 -228.420 --holder er20-1
all_at 2026-03-03T17:30 tool 3 -228.436 -228.437 --holder er20-1

echo
echo '# Wednesday: the power was off, the mill is homed again'
touches "$examples/marks.jaw" 0.031 0.001 >marks.jaw
all_at 2026-03-04T07:01 mark marks.jaw --keep
all_at 2026-03-04T07:05 entered 'Mirror cell, side 1' G54 X 10.002 Y -50.000 \
    Z -230.001 turn 0.0014 --keep
echo
all_at 2026-03-04T17:30 tool 3 -228.450 -228.449 --holder er20-1
all_at 2026-03-05T17:30 tool 3 -228.465 -228.466 --holder er20-1 \
    --diameter 9.962,9.963
all_at - tools 3

echo
echo '# Friday: the vise was off; a slip, an undo, a drill that was pushed up'
touches cell.jaw 0.052 -0.013 >cell-back.jaw
all_at - moved cell-back.jaw
all_at 2026-03-06T07:05 tool 7 211.730
all_at 2026-03-06T07:06 book undo
all_at 2026-03-06T07:07 tool 7 -214.182 -214.180
all_at - tools
all_at 2026-03-06T07:30 machine --lengths reference-tool --reference 1
all_at - book check
all_at - book export week.csv
all_at - book import week.csv
all_at - book log
