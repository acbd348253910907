/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench_solve.c: `jawline solve` of a whole sheet as a process, against an
 * empty program linked with the same libraries.  Fails when it takes more than
 * twice as long.  Run from the build folder. */
#include "bench.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

enum { RUNS = 400 };

/* The program itself and not libtool's wrapper, which is a shell script. */
static const char *program(const char *real, const char *plain)
{
    return access(real, X_OK) == 0 ? real : plain;
}

static void child(const char *path, char *const argv[], const char *out)
{
    int fd = open(out, O_WRONLY | O_CREAT | O_TRUNC, 0666);
    if (fd < 0 || dup2(fd, 1) < 0)
        _exit(127);
    execv(path, argv);
    _exit(127);
}

/* Seconds from start to end; ends the bench when the program fails. */
static double run(const char *path, char *const argv[], const char *out)
{
    struct timespec a, b;
    int status;
    clock_gettime(CLOCK_MONOTONIC, &a);
    pid_t pid = fork();
    if (pid == 0)
        child(path, argv, out);
    if (pid < 0 || waitpid(pid, &status, 0) < 0 || !WIFEXITED(status) ||
        WEXITSTATUS(status) > 1) {
        fprintf(stderr, "%s: does not run\n", path);
        exit(EXIT_FAILURE);
    }
    clock_gettime(CLOCK_MONOTONIC, &b);
    return (double)(b.tv_sec - a.tv_sec) +
           1e-9 * (double)(b.tv_nsec - a.tv_nsec);
}

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
