# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck shell=sh
# Common to the tests of the command, which source it.  $JAWLINE is the command
# under test; json_get and on_terminal come from this folder.
set -u
LC_ALL=C
export LC_ALL
: "${JAWLINE:?the command to test}"
# make check runs the tests in the build folder
built=$(pwd)
tools=$built/tests/cli
work=$(mktemp -d) || exit 99
trap 'rm -rf "$work"' EXIT
trap 'exit 99' HUP INT TERM
# no test meets the book of whoever runs it
JAWLINE_BOOK=$work/none/book.sqlite
export JAWLINE_BOOK
passed=0
failed=0
out=$work/out
err=$work/err
status=0

# run ARGUMENT...: stdout to $out, stderr to $err, exit status to $status.
run() {
    "$JAWLINE" "$@" >"$out" 2>"$err"
    status=$?
}

pass() { passed=$((passed + 1)); }

fail() {
    failed=$((failed + 1))
    echo "FAILED: $*"
    sed 's/^/  stdout: /' "$out" | head -n 20
    sed 's/^/  stderr: /' "$err" | head -n 20
}

# exits WANT NAME
exits() {
    if test "$status" -eq "$1"; then
        pass
    else
        fail "$2: exit $status, want $1"
    fi
}

# has FILE TEXT NAME, lacks FILE TEXT NAME: fixed text, somewhere in it.
has() {
    if grep -Fq -e "$2" "$1"; then
        pass
    else
        fail "$3: no '$2'"
    fi
}

lacks() {
    if grep -Fq -e "$2" "$1"; then
        fail "$3: there is '$2'"
    else
        pass
    fi
}

is_empty() {
    if test -s "$1"; then
        fail "$2: not empty"
    else
        pass
    fi
}

# says STATUS TEXT ARGUMENT...: nothing but a message
says() {
    want=$1
    text=$2
    shift 2
    run "$@"
    exits "$want" "$*"
    has "$err" "$text" "$*"
    is_empty "$out" "$*: stdout"
}

# typed TEXT ARGUMENT...: the command on a terminal, where TEXT, as printf takes
# it, is typed; status 77 when no terminal can be had
typed() {
    text=$1
    shift
    # shellcheck disable=SC2059 # the text is a format
    printf -- "$text" | NO_COLOR=1 "$tools/on_terminal" -i "$JAWLINE" "$@" \
        >"$out" 2>"$err"
    status=$?
}

json() { "$tools/json_get" "$1" <"$out"; }

# is PATH WANT NAME: the JSON value in $out is that very text.
is() {
    got=$(json "$1")
    if test "$got" = "$2"; then
        pass
    else
        fail "$3: $1 is '$got', want '$2'"
    fi
}

# close_to GOT WANT TOLERANCE NAME
close_to() {
    if awk -v g="$1" -v w="$2" -v t="$3" 'BEGIN {
            d = g - w; if (d < 0) d = -d
            exit !(g ~ /^[-+.0-9]/ && w ~ /^[-+.0-9]/ && d <= t) }'; then
        pass
    else
        fail "$4: $1, want $2 within $3"
    fi
}

# near PATH WANT TOLERANCE NAME: of the JSON in $out.
near() { close_to "$(json "$1")" "$2" "$3" "$4: $1"; }

finish() {
    echo "$passed passed, $failed failed"
    test "$failed" -eq 0
    exit
}
