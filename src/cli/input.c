/* SPDX-License-Identifier: GPL-3.0-or-later */
/* input.c: whole files into memory, and operands as one. */
#include "cli.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* The size to begin with: the file's own where it is known, and more so that
 * its end is seen without growing. */
static size_t first_room(FILE *f)
{
    struct stat st;
    if (fstat(fileno(f), &st) == 0 && S_ISREG(st.st_mode) &&
        st.st_size < INPUT_MAX)
        return (size_t)st.st_size + 2;
    return 1 << 16;
}

static bool is_directory(FILE *f)
{
    struct stat st;
    return fstat(fileno(f), &st) == 0 && S_ISDIR(st.st_mode);
}

/* Room for the 0 behind it is left. */
static const char *read_all(FILE *f, input *in)
{
    size_t room = first_room(f);
    for (;;) {
        char *text = realloc(in->text, room);
        if (!text)
            return "out of memory";
        in->text = text;
        in->len += fread(text + in->len, 1, room - in->len, f);
        if (ferror(f))
            return strerror(errno);
        if (in->len > INPUT_MAX)
            return "it is larger than 1 GiB";
        if (in->len < room)
            return NULL;
        room *= 2;
    }
}

/* Of an open file; what is wrong, or NULL. */
static const char *input_take(FILE *f, input *in)
{
    const char *wrong =
        is_directory(f) ? "it is a directory" : read_all(f, in);
    if (wrong)
        input_drop(in);
    else
        in->text[in->len] = '\0';
    return wrong;
}

const char *input_try(const char *path, input *in)
{
    *in = (input){.name = path};
    errno = 0;
    FILE *f = fopen(path, "rb");
    if (!f)
        return strerror(errno);
    const char *wrong = input_take(f, in);
    fclose(f);
    return wrong;
}

static const char *input_standard(input *in)
{
    *in = (input){.name = "standard input"};
    return input_take(stdin, in);
}

bool input_read(const char *path, input *in)
{
    const char *wrong =
        strcmp(path, "-") == 0 ? input_standard(in) : input_try(path, in);
    if (wrong)
        complain(NULL, "`%s' can not be read: %s", in->name, wrong);
    return !wrong;
}

/* So that they are read by the same rules as a file, and messages say which of
 * them it was. */
bool operands_join(char *const operand[], int n, const char *name, input *in)
{
    size_t size = 1;

    for (int i = 0; i < n; i++)
        size += strlen(operand[i]) + 1;
    *in = (input){.name = name, .text = calloc(size, 1)};
    if (!in->text)
        return no_memory();
    for (int i = 0; i < n; i++) {
        size_t len = strlen(operand[i]);
        memcpy(in->text + in->len, operand[i], len);
        in->len += len;
        in->text[in->len++] = '\n';
    }
    return true;
}

void input_drop(input *in)
{
    free(in->text);
    in->text = NULL;
    in->len = 0;
}
