#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# A writer is killed at random instants: the book stays whole, and every entry
# that was reported as written is there.  KILLS kills (40), SEED for the
# instants.  By hand: KILLS=1000 tests/book/kill.sh in the build folder.
set -u
writer=$(pwd)/tests/book/writer
tmp=$(mktemp -d) || exit 99
trap 'rm -rf "$tmp"' EXIT
trap 'exit 99' HUP INT TERM
kills=${KILLS-40}
seed=${SEED-1}
passed=0
failed=0
reported=0
echo "seed $seed"
# Instants in ms; most fall into opening and the first writes.
awk -v n="$kills" -v seed="$seed" 'BEGIN {
    srand(seed); for (i = 0; i < n; i++) printf "0.%03d\n", 160 * rand() }' \
    >"$tmp/instants"
n=0
while read -r instant; do
    n=$((n + 1))
    # a new book now and then, so that making one is hit too
    test $((n % 20)) -eq 1 && rm -f "$tmp"/book* "$tmp/report"
    : >>"$tmp/report"
    "$writer" write "$tmp/book" 0 "$n" >>"$tmp/report" 2>"$tmp/err" &
    child=$!
    sleep "$instant"
    kill -9 $child
    wait $child 2>/dev/null
    if "$writer" check "$tmp/book" "$tmp/report" >"$tmp/out" 2>&1 &&
        test ! -s "$tmp/err"; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        echo "FAIL kill $n after $instant s"
        cat "$tmp/err" "$tmp/out"
    fi
    test $((n % 20)) -eq 0 &&
        reported=$((reported + $(grep -c . "$tmp/report")))
done <"$tmp/instants"
echo "$reported entries reported"
test "$kills" -lt 20 || test $reported -gt 0 || failed=$((failed + 1))
echo "$passed passed, $failed failed"
test $failed -eq 0 && test $passed -gt 0
