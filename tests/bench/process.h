/* SPDX-License-Identifier: GPL-3.0-or-later */
/* process.h: how long a program takes from start to end. */
#ifndef TESTS_BENCH_PROCESS_H
#define TESTS_BENCH_PROCESS_H

#include "bench.h"

#include <fcntl.h>
#include <stdio.h>
#include <sys/wait.h>
#include <unistd.h>

/* The program itself and not libtool's wrapper, which is a shell script. */
static inline const char *program(const char *real, const char *plain)
{
    return access(real, X_OK) == 0 ? real : plain;
}

static inline void child(const char *path, char *const argv[], const char *out)
{
    int fd = open(out, O_WRONLY | O_CREAT | O_TRUNC, 0666);
    int none = open("/dev/null", O_WRONLY);

    if (fd >= 0 && none >= 0 && dup2(fd, 1) >= 0 && dup2(none, 2) >= 0)
        execv(path, argv);
    _exit(127);
}

/* Seconds, its standard output to the file `out`; ends the bench when the
 * program fails. */
static inline double run(const char *path, char *const argv[], const char *out)
{
    double begin = now();
    int status;
    pid_t pid = fork();

    if (pid == 0)
        child(path, argv, out);
    if (pid < 0 || waitpid(pid, &status, 0) != pid || !WIFEXITED(status) ||
        WEXITSTATUS(status) > 1) {
        fprintf(stderr, "%s: does not run\n", path);
        exit(EXIT_FAILURE);
    }
    return now() - begin;
}

#endif
