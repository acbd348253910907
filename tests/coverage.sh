#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Which lines of src have run, from gcov's own text, in the build folder of
# configure --enable-coverage after make check.  A line counts once, however
# many programs compiled it, and has run when it ran in one of them.  Prints
# each file's share and the lines that did not run; fails below 95 in 100.
set -u
LC_ALL=C
export LC_ALL
least=95

find . -name '*.gcda' | sort | while read -r data; do
    ${GCOV:-gcov} -t "$data" 2>/dev/null
done | awk -v least=$least '
    # "    count:  line:text"; count is - (no code), ##### or ===== (never)
    {
        split($0, part, ":")
        count = part[1]; line = part[2] + 0
        gsub(/[ *]/, "", count)
    }
    line == 0 {
        if (part[3] == "Source") {
            file = part[4]
            ours = sub(/^.*\/src\//, "src/", file)
        }
        next
    }
    !ours || count == "-" { next }
    {
        key = file SUBSEP line
        if (!(key in seen)) {
            seen[key] = 1; lines[file]++
            if (line > last[file]) last[file] = line
        }
        if (count !~ /^[#=]+$/) ran[key] = 1
    }
    function report(f,    n, missed, i, key) {
        n = 0; missed = ""
        for (i = 1; i <= last[f]; i++) {
            key = f SUBSEP i
            if (key in ran) n++
            else if (key in seen) missed = missed " " i
        }
        all += lines[f]; done += n
        printf "%-28s %5d of %5d  %5.1f %%%s\n", f, n, lines[f],
            100 * n / lines[f], missed == "" ? "" : "  not:" missed
    }
    END {
        for (f in lines) name[++files] = f
        for (i = 2; i <= files; i++) {
            f = name[i]
            for (k = i; k > 1 && name[k - 1] > f; k--) name[k] = name[k - 1]
            name[k] = f
        }
        for (i = 1; i <= files; i++) report(name[i])
        if (all == 0) { print "no line has run"; exit 1 }
        printf "lines of src that ran: %d of %d, %.1f %%\n", done, all,
            100 * done / all
        exit 100 * done < least * all
    }'
