/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench_solve.c: `jawline solve` of a whole sheet as a process, against an
 * empty program linked with the same libraries.  Fails when it takes more than
 * twice as long.  Run from the build folder. */
#include "process.h"

enum { RUNS = 400 };

int main(void)
{
    static char sheet[] = "tests/bench/solve.jaw";
    static double solving[RUNS], nothing[RUNS];
    const char *jawline = program(".libs/jawline", "./jawline");
    const char *empty =
        program("tests/bench/.libs/empty", "tests/bench/empty");
    char *synth[] = {"jawline", "synth", "setup", "--touches", "6", NULL};
    char *solve[] = {"jawline", "solve", sheet, NULL};
    char *none[] = {"empty", NULL};
    setenv("LD_LIBRARY_PATH", ".libs", 1);
    run(jawline, synth, sheet);
    for (int i = 0; i < RUNS; i++) {
        nothing[i] = run(empty, none, "/dev/null");
        solving[i] = run(jawline, solve, "/dev/null");
    }
    double s = median(solving, RUNS), e = median(nothing, RUNS);
    printf("solve %.3f ms, empty program %.3f ms, ratio %.2f (at most 2)\n",
           1e3 * s, 1e3 * e, s / e);
    return s <= 2 * e ? EXIT_SUCCESS : EXIT_FAILURE;
}
