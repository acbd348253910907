/* SPDX-License-Identifier: GPL-3.0-or-later */
/* examples.h: what the manual page shows and make check runs.  Columns: what
 * it shows, arguments, exit status, the whole of stdout. */
#define EXAMPLE_LIST(X)
