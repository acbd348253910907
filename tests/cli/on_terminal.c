/* SPDX-License-Identifier: GPL-3.0-or-later */
/* on_terminal.c: runs a command whose output is a terminal and copies what it
 * writes, for the tests of colour: on_terminal COMMAND [ARGUMENT...].  With -i
 * before the command its input is the terminal too, on which is typed what
 * stands on standard input, without an echo; ^D in it is the key of that name.
 * Exits as the command does; 77 when no terminal can be had. */
#include <fcntl.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <termios.h>
#include <unistd.h>

static void run(const char *name, bool typed, char *argv[])
{
    int fd = open(name, O_RDWR);
    if (fd < 0 || (typed && dup2(fd, 0) < 0) || dup2(fd, 1) < 0 ||
        dup2(fd, 2) < 0)
        _exit(77);
    execvp(argv[0], argv);
    _exit(77);
}

/* A terminal keeps what is typed until it is read: a few lines.  Returns the
 * terminal, to be open until the command has it, so that it forgets nothing; -1
 * when it can not be had. */
static int type(int fd, const char *name)
{
    char text[2048];
    struct termios t;
    size_t n = fread(text, 1, sizeof text, stdin);
    int other = open(name, O_RDWR | O_NOCTTY);
    if (other < 0 || tcgetattr(other, &t) != 0)
        return -1;
    t.c_lflag &= ~(tcflag_t)ECHO;
    return tcsetattr(other, TCSANOW, &t) == 0 &&
                   write(fd, text, n) == (ssize_t)n
               ? other
               : -1;
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
    bool typed = argc > 2 && strcmp(argv[1], "-i") == 0;
    if (argc < 2 || fd < 0 || grantpt(fd) != 0 || unlockpt(fd) != 0)
        return 77;
    int other = typed ? type(fd, ptsname(fd)) : -1;
    if (typed && other < 0)
        return 77;
    pid_t child = fork();
    if (child < 0)
        return 77;
    if (child == 0)
        run(ptsname(fd), typed, argv + 1 + typed);
    if (typed)
        close(other); /* the child has it too */
    copy(fd);
    if (waitpid(child, &status, 0) < 0 || !WIFEXITED(status))
        return 77;
    return WEXITSTATUS(status);
}
