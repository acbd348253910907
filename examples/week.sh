#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# A week in the shop with a book: what is typed stands behind $, what is
# answered below it.  The book lies in a folder that goes away, and the times
# are stated, so that it comes out the same every day.
set -u
folder=$(mktemp -d) || exit 1
trap 'rm -rf "$folder"' EXIT
cd "$folder" || exit 1
JAWLINE_BOOK=week.sqlite
export JAWLINE_BOOK

# do_at TIME ARGUMENT...: shows and runs one command
do_at() {
    time=$1
    shift
    printf '\n$ jawline'
    for word in "$@"; do
        case $word in
        *' '*) printf " '%s'" "$word" ;;
        *) printf ' %s' "$word" ;;
        esac
    done
    echo
    if test "$time" = -; then
        "$JAWLINE" "$@" 2>&1
    else
        "$JAWLINE" "$@" --at "$time" 2>&1
    fi
    status=$?
    test $status -eq 0 || echo "(exit status $status)"
}

echo '# Monday: the machine, a reference pin of known length, the setter'
do_at 2026-03-02T07:00 machine mill --unit mm --travel -380,0 --seat 0.002
do_at 2026-03-02T07:02 tool 1 120.000 --stated --repeat 0.002 \
    --text 'reference pin'
do_at 2026-03-02T07:05 setter setter --tool 1 -180.002 -180.001 -180.003
do_at 2026-03-02T07:10 tool 3 -228.414 -228.416 -228.415 \
    --text '10 mm end mill' --holder er20-1 --new --diameter 9.985,9.984
do_at 2026-03-02T07:14 tool 7 -211.730 -211.731 -211.728 --text '6 mm drill'
echo
echo '# Every evening the end mill is touched again: it wears'
do_at 2026-03-02T17:30 tool 3 -228.421 -228.420 --holder er20-1
do_at 2026-03-03T17:30 tool 3 -228.436 -228.437 --holder er20-1
do_at 2026-03-04T17:30 tool 3 -228.450 -228.449 --holder er20-1
do_at 2026-03-05T17:30 tool 3 -228.465 -228.466 --holder er20-1 \
    --diameter 9.962,9.963
do_at - tools 3
echo
echo '# Friday: a slip, an undo, and a drill that was pushed up'
do_at 2026-03-06T07:05 tool 7 211.730
do_at 2026-03-06T07:06 book undo
do_at 2026-03-06T07:07 tool 7 -214.182 -214.180
do_at - tools
do_at 2026-03-06T07:30 machine --lengths reference-tool --reference 1
do_at - book check
do_at - book export week.csv
do_at - book import week.csv
do_at - book log
