/* SPDX-License-Identifier: GPL-3.0-or-later */
/* setups.c: which kept setup a person means. */
#include "book.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Upper and lower case of ASCII are the same, other letters as they are. */
static bool same_letter(char a, char b)
{
    return tolower((unsigned char)a) == tolower((unsigned char)b);
}

static bool begins(const char *text, const char *part)
{
    while (*part != '\0' && same_letter(*text, *part)) {
        text++;
        part++;
    }
    return *part == '\0';
}

static bool holds(const char *text, const char *part)
{
    for (; *text != '\0'; text++)
        if (begins(text, part))
            return true;
    return false;
}

typedef struct titles {
    const char *wanted;
    char **title; /* n of them, those of all kept setups */
    size_t n;
    long long exact, same, part; /* entries; 0: none */
    size_t parts;
    char list[300]; /* those that hold it */
    size_t len;
    bool failed;
} titles;

static void list_title(titles *t, const char *title)
{
    if (t->len >= sizeof t->list)
        return;
    int n = snprintf(t->list + t->len, sizeof t->list - t->len, "%s`%s'",
                     t->len > 0 ? ", " : "", title);
    if ((size_t)n >= sizeof t->list - t->len) { /* no half of one */
        snprintf(t->list + t->len, sizeof t->list - t->len, "%s",
                 t->len + 5 < sizeof t->list ? ", ..." : "");
        t->len = sizeof t->list;
        return;
    }
    t->len += (size_t)n;
}

static bool take_title(void *user, const jaw_book_record *r)
{
    titles *t = user;
    char **more = realloc(t->title, (t->n + 1) * sizeof *more);
    char *copy = strdup(r->subject);

    if (more != NULL)
        t->title = more;
    if (more == NULL || copy == NULL) {
        free(copy);
        t->failed = true;
        return false;
    }
    t->title[t->n++] = copy;
    if (strcmp(r->subject, t->wanted) == 0)
        t->exact = r->id;
    if (begins(r->subject, t->wanted) &&
        strlen(r->subject) == strlen(t->wanted))
        t->same = r->id;
    if (holds(r->subject, t->wanted)) {
        t->part = r->id;
        t->parts++;
        list_title(t, r->subject);
    }
    return true;
}

static jaw_status by_entry(jaw_book *book, const char *text,
                           jaw_book_record *record)
{
    long long id = strtoll(text, NULL, 10);
    jaw_status status = jaw_book_get(book, id, record);

    if (status == JAW_EUNKNOWN)
        return jaw__book_say(book, SAY_NO_ENTRY, id);
    if (status == JAW_OK && record->kind != JAW_BOOK_SETUP)
        return jaw__book_say(book, SAY_NO_SETUP_ENTRY, id,
                             jaw_book_kind_word(record->kind));
    return status;
}

static bool is_entry(const char *text)
{
    size_t len = strlen(text);

    return len > 0 && len <= 18 && strspn(text, "0123456789") == len;
}

/* Whether a word of a title is nearly what was wanted. */
static bool has_near_word(const char *title, const char *wanted)
{
    static const char between[] = " \t,;:.()";
    char word[65];
    const char *words[] = {word};

    for (; *title != '\0'; title += strspn(title, between)) {
        size_t len = strcspn(title, between);
        snprintf(word, sizeof word, "%.*s", (int)len, title);
        if (len > 0 && len < sizeof word &&
            jaw_word_nearest(wanted, words, 1) != NULL)
            return true;
        title += len;
    }
    return false;
}

static const char *near_title(const titles *t)
{
    const char *near = jaw_word_nearest(
        t->wanted, (const char *const *)t->title, t->n);

    for (size_t i = 0; near == NULL && i < t->n; i++)
        if (has_near_word(t->title[i], t->wanted))
            near = t->title[i];
    return near;
}

static jaw_status not_found(jaw_book *book, const titles *t,
                            const char *machine)
{
    const char *near = near_title(t);

    if (t->n == 0)
        return jaw__book_say(book, SAY_NO_SETUP, machine);
    if (near != NULL)
        return jaw__book_say(book, SAY_TITLE_NEAR, t->wanted, near);
    return jaw__book_say(book, SAY_TITLE_UNKNOWN, t->wanted, machine);
}

/* Titles that only a number tells apart are those of parts or sides that are
 * counted. */
static bool are_counted(const char *a, const char *b)
{
    static const char digits[] = "0123456789";

    for (;;) {
        bool number = strspn(a, digits) > 0 && strspn(b, digits) > 0;
        a += number ? strspn(a, digits) : 0;
        b += number ? strspn(b, digits) : 0;
        if (*a != *b)
            return false;
        if (*a++ == '\0')
            return true;
        b++;
    }
}

static void say_near(jaw_book *book, const titles *t)
{
    for (size_t i = 0; i < t->n; i++) {
        const char *one[] = {t->title[i]};
        if (jaw_word_nearest(t->wanted, one, 1) == NULL ||
            are_counted(t->wanted, one[0]))
            continue;
        jaw__book_say(book, SAY_TITLE_NEW, t->wanted, one[0]);
        return;
    }
}

static jaw_status pick(jaw_book *book, const titles *t, const char *machine,
                       jaw_book_record *record)
{
    long long id = t->exact ? t->exact : t->same;

    if (id == 0 && is_entry(t->wanted))
        return by_entry(book, t->wanted, record);
    if (id == 0 && t->parts == 1)
        id = t->part;
    if (id > 0)
        return jaw_book_get(book, id, record);
    if (t->parts > 1 && *t->wanted != '\0')
        return jaw__book_say(book, SAY_TITLE_SEVERAL, t->wanted, t->list);
    return not_found(book, t, machine);
}

static void titles_drop(titles *t)
{
    for (size_t i = 0; i < t->n; i++)
        free(t->title[i]);
    free(t->title);
}

static jaw_status titles_read(jaw_book *book, const char *machine, titles *t)
{
    jaw_status status = jaw_book_current(book, JAW_BOOK_SETUP, machine,
                                         take_title, t);

    return status == JAW_OK && t->failed ? JAW_ENOMEM : status;
}

jaw_status jaw_book_setup_find(jaw_book *book, const char *machine,
                               const char *text, jaw_book_record *record)
{
    titles t = {.wanted = text};
    jaw_status status = titles_read(book, machine, &t);

    if (status == JAW_OK)
        status = pick(book, &t, machine, record);
    titles_drop(&t);
    return status;
}

jaw_status jaw_book_setup_near(jaw_book *book, const char *machine,
                               const char *title)
{
    titles t = {.wanted = title};
    jaw_status status = titles_read(book, machine, &t);

    if (status == JAW_OK && t.exact == 0)
        say_near(book, &t);
    titles_drop(&t);
    return status;
}
