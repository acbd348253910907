#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Eight writers at once: every entry of each is there, and none fails; nor when
# all of them are the first ones.
set -u
writer=$(pwd)/tests/book/writer
tmp=$(mktemp -d) || exit 99
trap 'rm -rf "$tmp"' EXIT
trap 'exit 99' HUP INT TERM
each=${EACH-25}
failed=0

eight() { # a book, how many each
    children=
    for i in 1 2 3 4 5 6 7 8; do
        "$writer" write "$1" "$2" $i >"$tmp/report.$i" 2>"$tmp/err.$i" &
        children="$children $!"
    done
    for child in $children; do
        wait "$child" || failed=$((failed + 1))
    done
    cat "$tmp"/err.*
}

# 2026-11-26: one that came while another one made the book, between two things
# that it looked at, said that it was none.
for k in 1 2 3 4 5 6 7 8 9 10; do
    eight "$tmp/new.$k" 1
done
eight "$tmp/book" "$each"
cat "$tmp"/report.* >"$tmp/report"
"$writer" check "$tmp/book" "$tmp/report" || failed=$((failed + 1))
n=$(cut -d' ' -f1 "$tmp/report" | sort -u | grep -c .)
test "$n" -eq $((8 * each)) || failed=$((failed + 1))
echo "$n passed, $failed failed"
test $failed -eq 0
