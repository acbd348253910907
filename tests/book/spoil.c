/* SPDX-License-Identifier: GPL-3.0-or-later */
/* spoil.c: a disk that fails, for LD_PRELOAD: the SPOIL_AT-th call (from 1)
 * that changes a file and all behind it fail with SPOIL_ERRNO (a number).
 * SPOIL_COUNT names a file that gets the count of such calls at the end. */
#define _GNU_SOURCE /* RTLD_NEXT */
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/types.h>
#include <unistd.h>

static long calls;

/* Whether this call is to fail; stdout and stderr are not on that disk. */
static int fails(int fd)
{
    const char *at = getenv("SPOIL_AT"), *number = getenv("SPOIL_ERRNO");

    if (fd >= 0 && fd <= 2)
        return 0;
    calls++;
    if (at == NULL || calls < atol(at))
        return 0;
    errno = number ? atoi(number) : EIO;
    return 1;
}

__attribute__((destructor)) static void report(void)
{
    const char *path = getenv("SPOIL_COUNT");
    FILE *f = path ? fopen(path, "w") : NULL;

    if (f == NULL)
        return;
    fprintf(f, "%ld\n", calls);
    calls = -1000000; /* what follows is not on that disk */
    fclose(f);
}

/* ISO C has no way from a void * to a function, POSIX has. */
#define REAL(name)                                                             \
    static __typeof__(name) *real;                                             \
    if (real == NULL)                                                          \
        *(void **)&real = dlsym(RTLD_NEXT, #name)

ssize_t write(int fd, const void *buf, size_t n)
{
    REAL(write);
    return fails(fd) ? -1 : real(fd, buf, n);
}

ssize_t pwrite(int fd, const void *buf, size_t n, off_t at)
{
    REAL(pwrite);
    return fails(fd) ? -1 : real(fd, buf, n, at);
}

ssize_t pwrite64(int fd, const void *buf, size_t n, off64_t at)
{
    REAL(pwrite64);
    return fails(fd) ? -1 : real(fd, buf, n, at);
}

int fsync(int fd)
{
    REAL(fsync);
    return fails(fd) ? -1 : real(fd);
}

int fdatasync(int fd)
{
    REAL(fdatasync);
    return fails(fd) ? -1 : real(fd);
}

int ftruncate(int fd, off_t length)
{
    REAL(ftruncate);
    return fails(fd) ? -1 : real(fd, length);
}

int ftruncate64(int fd, off64_t length)
{
    REAL(ftruncate64);
    return fails(fd) ? -1 : real(fd, length);
}

int unlink(const char *path)
{
    REAL(unlink);
    return fails(-1) ? -1 : real(path);
}
