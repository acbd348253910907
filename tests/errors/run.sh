#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Every message, brought about by an input and compared to the letter.
#
#   NAME.jaw, NAME.rows   an input; NAME.shown: what the control shows, for the
#                         sheet shown-sheet.inc
#   NAME.book             commands about a book, run in an empty folder
#   NAME.expect           all notes that it brings about, as tests/errors/tell
#                         prints them
#   not-from-text         ids of messages that only a program can bring about,
#                         each with the reason
#
# Three things are checked: that each input gives its notes; that the command
# prints the same on stderr (the assumptions are no part of that); and that
# each row of every src/*/messages.h, its %1 and %s standing for anything,
# occurs in some NAME.expect, so that no message goes without an input.
#
# With an argument, `tests/errors/run.sh write` in the build folder writes
# NAME.expect for each input that has none yet: read it before you keep it.
set -u
LC_ALL=C
export LC_ALL
: "${abs_srcdir:=$(cd "${srcdir-.}" && pwd)}" "${JAWLINE:=$(pwd)/jawline}"
here=$abs_srcdir/tests/errors
tell=$(pwd)/tests/errors/tell
tmp=$(mktemp -d) || exit 99
trap 'rm -rf "$tmp"' EXIT
trap 'exit 99' HUP INT TERM
# no input meets the book of whoever runs it
JAWLINE_BOOK=$tmp/none
export JAWLINE_BOOK
passed=0
failed=0
cd "$here" || exit 99

pass() {
    passed=$((passed + 1))
}

fail() { # what, file to show
    failed=$((failed + 1))
    echo "FAIL $1"
    cat "$2"
}

same() { # what, expected, got
    if diff "$2" "$3" >"$tmp/diff"; then pass; else fail "$1" "$tmp/diff"; fi
}

# Notes without the assumptions; a note goes on in the lines below its head.
without_assumptions() { # name, file
    awk -v head="$1:" '
        index($0, head) == 1 || /^[a-z0-9-]*[.]inc:/ { keep = !match($0, /: assumption: /) }
        /^(doubt|error): / { keep = 1 }
        keep' "$2"
}

# The command of an input, which stderr is to agree with.
command_of() {
    case $1 in
    *.jaw) "$JAWLINE" solve "$1" ;;
    *.rows) "$JAWLINE" fit edge "$1" ;;
    *.shown) "$JAWLINE" entered shown-sheet.inc "$1" ;;
    esac
}

# What local.mk does not name is missing from a release.
for file in *.jaw *.rows *.shown *.inc *.book *.expect; do
    if grep -q "tests/errors/$file\( \|\$\)" local.mk; then
        pass
    else
        echo "$file" >"$tmp/unnamed"
        fail "not named in tests/errors/local.mk" "$tmp/unnamed"
    fi
done

for input in *.jaw *.rows *.shown; do
    expect=${input%.*}.expect
    "$tell" "$input" >"$tmp/told" || fail "tell $input" "$tmp/told"
    if test ! -f "$expect" && test "${1-}" = write; then
        cp "$tmp/told" "$expect"
        echo "wrote $expect"
    fi
    same "$input: expected (<), told (>)" "$expect" "$tmp/told"
    command_of "$input" >"$tmp/out" 2>"$tmp/err"
    status=$?
    without_assumptions "$input" "$expect" >"$tmp/want"
    same "$input: expected (<), stderr of the command (>)" \
        "$tmp/want" "$tmp/err"
    if grep -q ': error: ' "$expect"; then
        echo "exit status $status" >"$tmp/status"
        if test $status -ge 2; then
            pass
        else
            fail "$input: has errors" "$tmp/status"
        fi
    fi
done

# Commands about a book print their notes themselves, assumptions too.
for input in *.book; do
    expect=${input%.*}.expect
    rm -rf "$tmp/shop"
    mkdir "$tmp/shop" || exit 99
    (
        cd "$tmp/shop" || exit 99
        jawline() { "$JAWLINE" "$@"; }
        JAWLINE_BOOK=book.sqlite
        # shellcheck source=/dev/null
        . "$here/$input"
    ) >"$tmp/out" 2>"$tmp/err" </dev/null
    if test ! -f "$expect" && test "${1-}" = write; then
        cp "$tmp/err" "$expect"
        echo "wrote $expect"
    fi
    same "$input: expected (<), told (>)" "$expect" "$tmp/err"
done

# id, what, cure of each row X(id, ..., "what", "cure"), one a line, parted by
# tabs.  Adjacent literals are one, as in C.
rows_of() {
    awk '
        { sub(/\\$/, ""); text = text $0 "\n" }
        END {
            gsub(/\/\*[^*]*\*+([^\/*][^*]*\*+)*\//, " ", text)
            n = length(text)
            for (i = 1; i < n; i++) {
                if (substr(text, i, 2) != "X(" ||
                    substr(text, i - 1, 1) ~ /[A-Za-z0-9_]/)
                    continue
                args = 1; depth = 0
                delete arg
                for (i += 2; i <= n; i++) {
                    c = substr(text, i, 1)
                    if (c == "\"") {
                        for (i++; (c = substr(text, i, 1)) != "\""; i++) {
                            if (c == "\\") { i++; c = substr(text, i, 1) }
                            arg[args] = arg[args] c
                        }
                        continue
                    }
                    if (c == "(") depth++
                    if (c == ")" && depth-- == 0) break
                    if (c == "," && depth == 0) { args++; continue }
                    if (c !~ /[ \t\n]/) arg[args] = arg[args] c
                }
                if (args >= 3)
                    printf "%s\t%s\t%s\n", arg[1], arg[args - 1], arg[args]
            }
        }' "$1"
}

# As a regular expression in which what is filled in stands for anything.
pattern() {
    printf '%s' "$1" | sed -e 's/[][\.*^$+?(){}|/]/\\&/g' \
        -e 's/%[1-9]/.*/g' -e 's/%[-0-9\\.]*[zlh]*[sdiufgcx]/.*/g'
}

cat ./*.expect >"$tmp/all"
: >"$tmp/ids"
for table in "$abs_srcdir"/src/*/messages.h; do
    rows_of "$table" >"$tmp/rows"
    test -s "$tmp/rows" || { echo "no message found in $table"; exit 99; }
    while IFS='	' read -r id what cure; do
        echo "$id" >>"$tmp/ids"
        search="(assumption|doubt|error): $(pattern "$what")"
        test -n "$cure" && search="$search; $(pattern "$cure")"
        found=no
        grep -Eq -e "$search\$" "$tmp/all" && found=yes
        listed=no
        grep -q "^$id " not-from-text && listed=yes
        echo "$table: $what; $cure" >"$tmp/row"
        case $found$listed in
        yesno | noyes) pass ;;
        nono) fail "$id is in no NAME.expect" "$tmp/row" ;;
        yesyes) fail "$id is in not-from-text, but a text brings it about" \
            "$tmp/row" ;;
        esac
    done <"$tmp/rows"
done

# An id that is no longer there would hide a new one of that name.
sed -n 's/^\([A-Z][A-Z0-9_]*\) .*/\1/p' not-from-text >"$tmp/listed"
while read -r id; do
    echo "$id" >"$tmp/row"
    if grep -qx "$id" "$tmp/ids"; then
        pass
    else
        fail "not-from-text names what is not there" "$tmp/row"
    fi
done <"$tmp/listed"

echo "$passed passed, $failed failed"
test $failed -eq 0
