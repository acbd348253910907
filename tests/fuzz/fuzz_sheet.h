/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FUZZ_SHEET_H
#define FUZZ_SHEET_H

#include <stddef.h>
#include <stdint.h>

/* One input; aborts when a promise does not hold.  The name is libFuzzer's. */
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

#endif
