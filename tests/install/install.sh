#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs into a folder of its own and uses only what arrived there: each
# header by itself, the library, shared and static, through pkg-config, and the
# command.  In the build folder; the environment comes from make check.
set -u
unset MAKEFLAGS MFLAGS MAKELEVEL
tmp=$(mktemp -d) || exit 99
trap 'rm -rf "$tmp"' EXIT
trap 'exit 99' HUP INT TERM
passed=0
failed=0

try() { # what, command...
    try_what=$1
    shift
    if "$@" >"$tmp/log" 2>&1; then
        passed=$((passed + 1))
        return 0
    fi
    failed=$((failed + 1))
    echo "$try_what failed: $*"
    cat "$tmp/log"
    return 1
}

try "make install" "$MAKE" -s install DESTDIR="$tmp/root" ||
    { echo "0 passed, 1 failed"; exit 1; }

# The prefix was configured for the real place; here everything stands lower.
eval "libdir=$libdir includedir=$includedir bindir=$bindir"
eval "pkgconfigdir=$pkgconfigdir"
root=$tmp/root
PKG_CONFIG_PATH=$root$pkgconfigdir${PKG_CONFIG_PATH:+:$PKG_CONFIG_PATH}
LD_LIBRARY_PATH=$root$libdir${LD_LIBRARY_PATH:+:$LD_LIBRARY_PATH}
export PKG_CONFIG_PATH LD_LIBRARY_PATH
pc() {
    "$PKG_CONFIG" --define-variable=libdir="$root$libdir" \
        --define-variable=includedir="$root$includedir" "$@" jawline
}
try "pkg-config" pc --exists
cflags=$(pc --cflags)
try "version in jawline.pc" test "$(pc --modversion)" = "$PACKAGE_VERSION"

strict="-std=c17 -Wall -Wextra -Wpedantic -Werror"
for header in $(cd "$root$includedir" && find jawline.h jawline -name '*.h'); do
    printf '#include <%s>\n#include <%s>\n' $header $header >"$tmp/one.c"
    # shellcheck disable=SC2086 # flags are several words
    try "$header alone" $CC $strict $cflags -fsyntax-only "$tmp/one.c"
    if command -v c++ >/dev/null 2>&1; then
        # shellcheck disable=SC2086
        try "$header in C++" c++ -x c++ -Wall -Wextra $cflags -fsyntax-only \
            "$tmp/one.c"
    fi
done

# shellcheck disable=SC2046,SC2086
if test -f "$root$libdir/libjawline.so"; then
    try "a program with the shared library" $CC $CFLAGS $strict $cflags \
        -o "$tmp/shared" "$srcdir/tests/install/client.c" $(pc --libs) -lm &&
        try "running it" "$tmp/shared"
fi
# shellcheck disable=SC2046,SC2086
if test -f "$root$libdir/libjawline.a"; then
    libs=$(pc --static --libs | sed "s|-ljawline|$root$libdir/libjawline.a|")
    try "a program with the static library" $CC $CFLAGS $strict $cflags \
        -o "$tmp/static" "$srcdir/tests/install/client.c" $libs &&
        try "running it" "$tmp/static"
fi
try "the command" "$root$bindir/jawline" --version
echo "$passed passed, $failed failed"
test $failed -eq 0
