/* SPDX-License-Identifier: GPL-3.0-or-later */
/* buffer.c: a text that grows by doubling. */
#include "buffer.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FIRST_ROOM = 1024 };

/* Room for n more bytes and the final NUL. */
static bool grow(jaw__buffer *b, size_t n)
{
    if (b->failed)
        return false;
    if (n < b->room - b->len)
        return true;
    size_t room = b->room ? b->room : FIRST_ROOM;
    while (room - b->len <= n && room <= SIZE_MAX / 2)
        room *= 2;
    char *text = room - b->len <= n ? NULL : realloc(b->text, room);
    if (!text) {
        b->failed = true;
        return false;
    }
    b->text = text;
    b->room = room;
    return true;
}

void jaw__buffer_add(jaw__buffer *b, const char *text, size_t len)
{
    if (!grow(b, len))
        return;
    memcpy(b->text + b->len, text, len);
    b->len += len;
}

void jaw__buffer_text(jaw__buffer *b, const char *text)
{
    jaw__buffer_add(b, text, strlen(text));
}

void jaw__buffer_pad(jaw__buffer *b, size_t n)
{
    if (!grow(b, n))
        return;
    memset(b->text + b->len, ' ', n);
    b->len += n;
}

void jaw__buffer_printf(jaw__buffer *b, const char *format, ...)
{
    va_list list, again;
    va_start(list, format);
    va_copy(again, list);
    int len = vsnprintf(NULL, 0, format, list);
    if (len < 0)
        b->failed = true;
    else if (grow(b, (size_t)len)) {
        vsnprintf(b->text + b->len, (size_t)len + 1, format, again);
        b->len += (size_t)len;
    }
    va_end(again);
    va_end(list);
}

void jaw__buffer_number(jaw__buffer *b, double value, int decimals, int width)
{
    char text[400];
    if (jaw_number_write(value, decimals, text, sizeof text) != JAW_OK)
        strcpy(text, "?");
    jaw__buffer_printf(b, "%*s", width, text);
}

static bool is_control(char c)
{
    return ((unsigned char)c < ' ' && c != '\t') || c == 0x7f;
}

void jaw__buffer_clean(jaw__buffer *b, const char *text, size_t len)
{
    size_t start = b->len;
    jaw__buffer_add(b, text, len);
    if (b->failed)
        return;
    for (size_t i = start; i < b->len; i++)
        if (is_control(b->text[i]))
            b->text[i] = '?';
}

void jaw__buffer_words(jaw__buffer *b, const char *text, size_t *column,
                       size_t indent)
{
    while (*text) {
        size_t len = strcspn(text, " ");
        if (*column > indent && *column + 1 + len > JAW__PAGE_WIDTH) {
            jaw__buffer_text(b, "\n");
            jaw__buffer_pad(b, indent);
            *column = indent;
        } else if (*column > indent) {
            jaw__buffer_text(b, " ");
            ++*column;
        }
        jaw__buffer_clean(b, text, len);
        *column += len;
        text += len + strspn(text + len, " ");
    }
}

void jaw__buffer_paragraph(jaw__buffer *b, const char *text, size_t indent)
{
    size_t column = indent;

    jaw__buffer_pad(b, indent);
    jaw__buffer_words(b, text, &column, indent);
    jaw__buffer_text(b, "\n");
}

void jaw__buffer_cut(jaw__buffer *b, size_t len)
{
    if (len < b->len)
        b->len = len;
}

void jaw__buffer_colour(jaw__buffer *b, bool on, const char *code)
{
    if (on)
        jaw__buffer_printf(b, "\033[%sm", code ? code : "");
}

char *jaw__buffer_take(jaw__buffer *b)
{
    char *text = NULL;
    if (grow(b, 0)) {
        b->text[b->len] = '\0';
        text = b->text;
    } else {
        free(b->text);
    }
    *b = (jaw__buffer){0};
    return text;
}
