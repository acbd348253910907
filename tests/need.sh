# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck shell=sh
# Common to examples/quickstart, tests/run and .ci/run, which source it with
# $top set to the source folder: gets what is missing, builds in .build, runs
# steps quietly, counts tests.

build=$top/.build

say() { printf '%s\n' "$*"; }

have() { command -v "$1" >/dev/null 2>&1; }

have_module() { have pkg-config && pkg-config --exists "$1"; }

have_header() {
    for compiler in cc gcc clang; do
        have $compiler || continue
        echo "#include <$1>" | $compiler -E - >/dev/null 2>&1
        return
    done
    return 1
}

# missing_for build|check: the Debian names of what is not here.
missing_for() {
    have cc || have gcc || have clang || say gcc
    have_header stdio.h || say libc6-dev
    have make || say make
    have autoreconf || say autoconf
    have automake || say automake
    have libtoolize || say libtool
    have pkg-config || say pkg-config
    have_module gsl || say libgsl-dev
    have_module jansson || say libjansson-dev
    have_module sqlite3 || say libsqlite3-dev
    test "$1" = check || return 0
    have_module check || say check
    test -f /usr/share/i18n/locales/de_DE || say locales
}

# Whether packages can be had from apt-get, and how to be root for it.
apt_here() {
    have apt-get && grep -Eqs '^ID(_LIKE)?=.*(debian|ubuntu)' /etc/os-release
}

as_root() {
    if test "$(id -u)" -eq 0; then
        "$@"
    else
        sudo "$@"
    fi
}

# install_packages PACKAGE...: says what it does, then does it.
install_packages() {
    if ! apt_here; then
        say "Not here, and this is no Debian or Ubuntu where they could be got:"
        printf '    %s\n' "$@"
        say "Install what your system calls them, then run this again."
        exit 1
    fi
    if test "$(id -u)" -ne 0 && ! have sudo; then
        say "Not here, and only root can install them:"
        say "    apt-get install $*"
        exit 1
    fi
    say "Installing with apt-get: $*"
    step install-update as_root apt-get update
    step install-packages as_root env DEBIAN_FRONTEND=noninteractive \
        apt-get install -y --no-install-recommends "$@"
}

# need build|check: installs what is missing.  C locales data is a matter of
# one test, which says when it is skipped; elsewhere than on Debian it has no
# package of its own.
need() {
    lacking=$(missing_for "$1")
    apt_here || lacking=$(say "$lacking" | grep -vx locales)
    test -z "$lacking" && return
    # shellcheck disable=SC2086 # one word a package
    install_packages $lacking
}

# step NAME COMMAND...: runs it with its output in .build/NAME.log, and shows
# the end of that when it fails.
step() {
    step_name=$1
    shift
    mkdir -p "$build"
    if "$@" >"$build/$step_name.log" 2>&1 </dev/null; then
        return
    fi
    say "This failed: $*"
    tail -n 40 "$build/$step_name.log"
    say "All of its output: .build/$step_name.log"
    exit 1
}

jobs() { getconf _NPROCESSORS_ONLN 2>/dev/null || echo 1; }

# Generated files that a stopped run left out are made again.
bootstrap() {
    for file in configure Makefile.in .aux/ltmain.sh .aux/test-driver; do
        if ! test -f "$top/$file"; then
            step autoreconf autoreconf -i "$top"
            return
        fi
    done
}

configure_here() { (cd "$build" && ../configure); }

# Into .build.  Configured each time, since a library may have come since.
build_jawline() {
    bootstrap
    step configure configure_here
    step make make -C "$build" -j"$(jobs)"
}

# count_tests FOLDER: from the logs of make check there, on one line: test
# cases passed, failed, and tests skipped.  A Check program counts its cases;
# a script that ends in "N passed, M failed" counts those; any other test is
# one.  A test that failed though none of its cases did counts as one failed.
count_tests() {
    find "$1" -name '*.trs' | sort | while read -r trs; do
        result=$(sed -n 's/^:global-test-result: //p' "$trs")
        awk -v result="$result" '
            /^[0-9]+%: Checks: [0-9]+, Failures: [0-9]+, Errors: [0-9]+$/ {
                bad = $5 + $7; failed += bad; passed += $3 - bad; seen = 1
            }
            /^[0-9]+ passed, [0-9]+ failed$/ { p = $1; f = $3; own = 1 }
            END {
                if (!seen && own) { passed = p; failed = f; seen = 1 }
                if (result == "SKIP") print 0, 0, 1
                else if (result != "PASS")
                    print passed + 0, failed ? failed : 1, 0
                else if (seen) print passed + 0, failed + 0, 0
                else print 1, 0, 0
            }' "${trs%.trs}.log"
    done | awk '{ p += $1; f += $2; s += $3 } END { print p + 0, f + 0, s + 0 }'
}
