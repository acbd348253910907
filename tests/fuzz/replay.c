/* SPDX-License-Identifier: GPL-3.0-or-later */
/* replay.c: the corpus without a fuzzer: each file as it is, cut off at every
 * length, with each line left out, with each line doubled, and with random
 * slips.  Prints its seed; JAW_TEST_SEED gives another. */
#include "fuzz.h"

#include <inttypes.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { SLIPS = 200, CUTS_MAX = 600 };

static uint64_t state;
static unsigned long tried;

/* splitmix64: Steele, Lea & Flood, OOPSLA 2014, fig. 17. */
static uint64_t random_bits(void)
{
    uint64_t z = state += 0x9e3779b97f4a7c15u;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

static size_t below(size_t n)
{
    return n > 0 ? (size_t)(random_bits() % n) : 0;
}

static void try(const char *text, size_t len)
{
    LLVMFuzzerTestOneInput((const uint8_t *)text, len);
    tried++;
}

/* Every length of a small file; of a large one as many, evenly. */
static void try_cuts(const char *text, size_t len)
{
    size_t by = len / CUTS_MAX + 1;
    for (size_t n = 0; n <= len; n += by)
        try(text, n);
}

/* text with the line from start to end left out (times 0) or doubled (2). */
static void try_line(const char *text, size_t len, size_t start, size_t end,
                     int times)
{
    char *other = malloc(len + (end - start) + 1);
    if (!other)
        abort();
    size_t n = start;
    memcpy(other, text, start);
    for (int i = 0; i < times; i++) {
        memcpy(other + n, text + start, end - start);
        n += end - start;
    }
    memcpy(other + n, text + end, len - end);
    try(other, n + len - end);
    free(other);
}

static void try_lines(const char *text, size_t len)
{
    size_t start = 0;
    for (size_t i = 0; i < len; i++) {
        if (text[i] != '\n' && i + 1 < len)
            continue;
        try_line(text, len, start, i + 1, 0);
        try_line(text, len, start, i + 1, 2);
        start = i + 1;
    }
}

/* What a person or a broken disk does to a text. */
static void slip(char *text, size_t len)
{
    static const char likely[] = "0123456789.-+eE ,\n\t\r/#\"xyzin\xe2\0";
    size_t at = below(len), other = below(len);
    switch (random_bits() % 4) {
    case 0:
        text[at] = likely[below(sizeof likely - 1)];
        break;
    case 1:
        text[at] = (char)random_bits();
        break;
    case 2:
        text[at] = text[other];
        break;
    default: {
        size_t room = len - (at > other ? at : other);
        memmove(text + at, text + other, below(room + 1));
    }
    }
}

static void try_slips(const char *text, size_t len)
{
    char *other = malloc(len ? len : 1);
    if (!other)
        abort();
    for (int i = 0; i < SLIPS && len > 0; i++) {
        memcpy(other, text, len);
        for (size_t n = 1 + below(4); n > 0; n--)
            slip(other, len);
        try(other, len);
    }
    free(other);
}

static bool try_file(const char *path)
{
    static char text[1 << 20];
    FILE *f = fopen(path, "rb");
    if (!f) {
        fprintf(stderr, "%s can not be opened\n", path);
        return false;
    }
    size_t len = fread(text, 1, sizeof text, f);
    fclose(f);
    try_cuts(text, len);
    try_lines(text, len);
    try_slips(text, len);
    return true;
}

int main(int argc, char *argv[])
{
    const char *seed = getenv("JAW_TEST_SEED");
    state = seed ? strtoull(seed, NULL, 10) : 7;
    printf("seed %" PRIu64 "\n", state);
    fflush(stdout);
    int passed = 0, failed = 0;
    for (int i = 1; i < argc; i++) {
        /* last line said when an input aborts */
        fprintf(stderr, "%s\n", argv[i]);
        if (try_file(argv[i]))
            passed++;
        else
            failed++;
    }
    printf("%lu inputs\n%d passed, %d failed\n", tried, passed, failed);
    return passed > 0 && failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
