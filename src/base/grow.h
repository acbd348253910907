/* SPDX-License-Identifier: GPL-3.0-or-later */
/* grow.h: arrays that grow; shared by the modules, not public. */
#ifndef JAW__GROW_H
#define JAW__GROW_H

#include <stddef.h>

/* jaw__grow: room for one more of `size` bytes after the n that are used.
 * The same array comes back when there is room; on failure NULL, and the old
 * array stands as it was. */
void *jaw__grow(void *array, size_t n, size_t *room, size_t size);

#endif
