/* SPDX-License-Identifier: GPL-3.0-or-later */
/* time.c: a moment as text. */
#include <jawline/base.h>

#include <string.h>
#include <time.h>

/* 9999-12-31: beyond it a year has more digits. */
#define AT_MOST 253402300799999LL

jaw_status jaw_time_write(long long at, char *text, size_t size)
{
    time_t seconds = (time_t)(at / 1000);
    struct tm tm;

    if (size > 0)
        text[0] = '\0';
    if (at < 0 || at > AT_MOST || gmtime_r(&seconds, &tm) == NULL)
        return JAW_EDOMAIN;
    if (strftime(text, size, "%Y-%m-%d %H:%M", &tm) > 0)
        return JAW_OK;
    if (size > 0) /* strftime leaves anything there */
        text[0] = '\0';
    return JAW_ESIZE;
}
