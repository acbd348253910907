/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fuzz.h: what every target of the fuzzers has. */
#ifndef FUZZ_H
#define FUZZ_H

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

/* Aborts, so that a fuzzer keeps the input. */
#define MUST(what)                                                             \
    do {                                                                       \
        if (!(what)) {                                                         \
            fprintf(stderr, "%s:%d: not so: %s\n", __FILE__, __LINE__, #what); \
            abort();                                                           \
        }                                                                      \
    } while (0)

/* One input; aborts when a promise does not hold.  The name is libFuzzer's. */
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

#endif
