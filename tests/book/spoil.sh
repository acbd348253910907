#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# A disk that fails, from every call on that one recording makes (a first one,
# which makes the book, and a later one; of one entry, and of a setup with its
# parts): the book is then as it was or has the whole of it, and the message
# says which.
set -u
writer=$(pwd)/tests/book/writer
lib=$(pwd)/tests/book/.libs/libspoil.so
tmp=$(mktemp -d) || exit 99
trap 'rm -rf "$tmp"' EXIT
trap 'exit 99' HUP INT TERM
passed=0
failed=0
if test ! -f "$lib" || ldd "$writer" 2>/dev/null | grep -q 'lib[at]san'; then
    echo "left out: no calls can be made to fail here"
    exit 77
fi
# libtool's wrapper would be spoiled too
program=$(pwd)/tests/book/.libs/writer
test -f "$program" || program=$writer

spoiled() { # at, errno, book, kind
    SPOIL_AT=$1 SPOIL_ERRNO=$2 SPOIL_COUNT=$tmp/count LD_PRELOAD=$lib \
        "$program" one "$3" "$4" >"$tmp/report" 2>"$tmp/err"
}

entries() {
    "$writer" check "$1" /dev/null >/dev/null 2>&1 || return 1
    if test -s "$1"; then
        "$writer" count "$1"
    else
        echo 0
    fi
}

try() { # book as it was, errno, what the message must say, kind, its entries
    before=$(entries "$1")
    at=1
    while :; do
        rm -f "$tmp"/now*
        test -f "$1" && cp "$1" "$tmp/now"
        spoiled $at "$2" "$tmp/now" "$4"
        status=$?
        if test $status -eq 0 && test "$at" -gt "$(cat "$tmp/count")"; then
            test "$at" -gt 3 || failed=$((failed + 1))
            break
        fi
        after=$(entries "$tmp/now") || after=broken
        case $status,$((after - before)) in
        0,"$5") ok=yes ;; # what failed did not matter
        3,0) ok=$(grep -Eq "$3" "$tmp/err" && echo yes) ;;
        3,"$5") ok=$(grep -q 'can not be told' "$tmp/err" && echo yes) ;;
        *) ok=no ;;
        esac
        if test "$ok" = yes; then
            passed=$((passed + 1))
        else
            failed=$((failed + 1))
            echo "FAIL call $at, errno $2: status $status," \
                "$before entries before, $after after"
            cat "$tmp/err"
        fi
        at=$((at + 1))
    done
    echo "errno $2, $before entries before, $5 more: $((at - 1)) calls"
}

unsure='can not be told'
"$writer" write "$tmp/full" 10 1 >/dev/null || exit 99
for book in "$tmp/none" "$tmp/full"; do
    for kind in '0 1' '4 3'; do # a length; a setup, its zero and its offset
        # ENOSPC; where it comes from a call that waits SQLite has no more to
        # say
        # shellcheck disable=SC2086 # two words
        try "$book" 28 "is full; make room|disk I/O error; see to|$unsure" $kind
        # EIO
        # shellcheck disable=SC2086 # two words
        try "$book" 5 "written: (Input/output|disk I/O) error; see to|$unsure" \
            $kind
    done
done
echo "$passed passed, $failed failed"
test $failed -eq 0 && test $passed -gt 0
