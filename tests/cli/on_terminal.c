/* SPDX-License-Identifier: GPL-3.0-or-later */
/* on_terminal.c: runs a command whose output is a terminal and copies what it
 * writes, for the tests of colour: on_terminal COMMAND [ARGUMENT...].  Exits as
 * the command does; 77 when no terminal can be had. */
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

static void run(const char *name, char *argv[])
{
    int fd = open(name, O_RDWR);
    if (fd < 0 || dup2(fd, 1) < 0 || dup2(fd, 2) < 0)
        _exit(77);
    execvp(argv[0], argv);
    _exit(77);
}

/* Reading ends with an error when the last user of the terminal is gone. */
static void copy(int fd)
{
    char text[4096];
    ssize_t n;
    while ((n = read(fd, text, sizeof text)) > 0)
        fwrite(text, 1, (size_t)n, stdout);
}

int main(int argc, char *argv[])
{
    int fd = posix_openpt(O_RDWR | O_NOCTTY);
    int status;
    if (argc < 2 || fd < 0 || grantpt(fd) != 0 || unlockpt(fd) != 0)
        return 77;
    pid_t child = fork();
    if (child < 0)
        return 77;
    if (child == 0)
        run(ptsname(fd), argv + 1);
    copy(fd);
    if (waitpid(child, &status, 0) < 0 || !WIFEXITED(status))
        return 77;
    return WEXITSTATUS(status);
}
