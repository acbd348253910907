/* SPDX-License-Identifier: GPL-3.0-or-later */
/* status.c: what a status means; the list stands once, in base.h. */
#include <jawline/base.h>

const char *jaw_status_text(jaw_status status)
{
    switch (status) {
#define CASE(name, value, text)                                                \
    case name:                                                                 \
        return text;
        JAW_STATUS_LIST(CASE)
#undef CASE
    }
    return "a status that does not exist";
}
