/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of notes.c. */
#include "base_tests.h"

#include "tests/alloc/alloc.h"

#include <jawline/base.h>

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wchar.h>

static const jaw_place nowhere = {0, 0, 0};

START_TEST(none_at_first)
{
    jaw_notes *notes = jaw_notes_alloc();
    ck_assert_ptr_nonnull(notes);
    ck_assert_uint_eq(jaw_notes_count(notes), 0);
    ck_assert_uint_eq(jaw_notes_lost(notes), 0);
    ck_assert_uint_eq(jaw_notes_at_least(notes, JAW_ASSUMPTION), 0);
    ck_assert_ptr_null(jaw_notes_get(notes, 0));
    ck_assert_int_eq(jaw_notes_status(notes), JAW_OK);
    jaw_notes_free(notes);
}
END_TEST

START_TEST(null_is_fine)
{
    jaw_notes_free(NULL);
    ck_assert_int_eq(jaw_notes_add(NULL, JAW_ERROR, JAW_EFEW, "f", nowhere,
                                   "s", "c", "%d", 1),
                     JAW_OK);
    ck_assert_uint_eq(jaw_notes_count(NULL), 0);
    ck_assert_uint_eq(jaw_notes_lost(NULL), 0);
    ck_assert_uint_eq(jaw_notes_at_least(NULL, JAW_ASSUMPTION), 0);
    ck_assert_ptr_null(jaw_notes_get(NULL, 0));
    ck_assert_int_eq(jaw_notes_status(NULL), JAW_OK);
}
END_TEST

START_TEST(texts_are_copied)
{
    char file[] = "a.jaw", source[] = "bore pilot", cure[] = "touch it again";
    char word[] = "pilot";
    jaw_notes *notes = jaw_notes_alloc();
    ck_assert_int_eq(jaw_notes_add(notes, JAW_ERROR, JAW_ERANK, file,
                                   (jaw_place){7, 3, 0}, source, cure,
                                   "bore %s has %d touches", word, 2),
                     JAW_OK);
    memset(file, '#', strlen(file));
    memset(source, '#', strlen(source));
    memset(cure, '#', strlen(cure));
    memset(word, '#', strlen(word));
    const jaw_note *n = jaw_notes_get(notes, 0);
    ck_assert_int_eq(n->severity, JAW_ERROR);
    ck_assert_int_eq(n->status, JAW_ERANK);
    ck_assert_int_eq(n->place.line, 7);
    ck_assert_int_eq(n->place.column, 3);
    ck_assert_str_eq(n->file, "a.jaw");
    ck_assert_str_eq(n->source, "bore pilot");
    ck_assert_str_eq(n->cure, "touch it again");
    ck_assert_str_eq(n->what, "bore pilot has 2 touches");
    ck_assert_ptr_null(jaw_notes_get(notes, 1));
    jaw_notes_free(notes);
}
END_TEST

START_TEST(null_texts_are_empty)
{
    jaw_notes *notes = jaw_notes_alloc();
    ck_assert_int_eq(jaw_notes_add(notes, JAW_ASSUMPTION, JAW_OK, NULL, nowhere,
                                   NULL, NULL, "level"),
                     JAW_OK);
    const jaw_note *n = jaw_notes_get(notes, 0);
    ck_assert_str_eq(n->file, "");
    ck_assert_str_eq(n->source, "");
    ck_assert_str_eq(n->cure, "");
    ck_assert_str_eq(n->what, "level");
    jaw_notes_free(notes);
}
END_TEST

/* What was got stays where it is while thousands more arrive. */
START_TEST(order_and_address_stay)
{
    enum { MANY = 5000 };
    jaw_notes *notes = jaw_notes_alloc();
    const jaw_note *first = NULL;
    for (int i = 0; i < MANY; i++) {
        ck_assert_int_eq(jaw_notes_add(notes, JAW_DOUBT, JAW_OK, "f",
                                       (jaw_place){i, 1, 0}, "", "", "no. %d", i),
                         JAW_OK);
        if (i == 0)
            first = jaw_notes_get(notes, 0);
    }
    ck_assert_uint_eq(jaw_notes_count(notes), MANY);
    ck_assert_ptr_eq(jaw_notes_get(notes, 0), first);
    for (int i = 0; i < MANY; i++) {
        char want[32];
        snprintf(want, sizeof want, "no. %d", i);
        ck_assert_str_eq(jaw_notes_get(notes, (size_t)i)->what, want);
        ck_assert_int_eq(jaw_notes_get(notes, (size_t)i)->place.line, i);
    }
    ck_assert_ptr_null(jaw_notes_get(notes, MANY));
    jaw_notes_free(notes);
}
END_TEST

START_TEST(severities_are_counted)
{
    static const jaw_severity s[] = {JAW_DOUBT, JAW_ASSUMPTION, JAW_ERROR,
                                     JAW_DOUBT, JAW_ERROR};
    static const jaw_status status[] = {JAW_OK, JAW_OK, JAW_ESIDE, JAW_OK,
                                        JAW_EFEW};
    jaw_notes *notes = jaw_notes_alloc();
    for (int i = 0; i < COUNT(s); i++)
        jaw_notes_add(notes, s[i], status[i], NULL, nowhere, NULL, NULL, "n");
    ck_assert_uint_eq(jaw_notes_at_least(notes, JAW_ASSUMPTION), 5);
    ck_assert_uint_eq(jaw_notes_at_least(notes, JAW_DOUBT), 4);
    ck_assert_uint_eq(jaw_notes_at_least(notes, JAW_ERROR), 2);
    ck_assert_int_eq(jaw_notes_status(notes), JAW_ESIDE);
    jaw_notes_free(notes);
}
END_TEST

START_TEST(doubts_alone_are_no_error)
{
    jaw_notes *notes = jaw_notes_alloc();
    jaw_notes_add(notes, JAW_DOUBT, JAW_OK, NULL, nowhere, NULL, NULL, "n");
    ck_assert_int_eq(jaw_notes_status(notes), JAW_OK);
    jaw_notes_free(notes);
}
END_TEST

START_TEST(long_texts_are_whole)
{
    enum { LONG = 100000 };
    char *text = malloc(LONG + 1);
    ck_assert_ptr_nonnull(text);
    memset(text, 'x', LONG);
    text[LONG] = '\0';
    jaw_notes *notes = jaw_notes_alloc();
    ck_assert_int_eq(jaw_notes_add(notes, JAW_ERROR, JAW_ESYNTAX, text, nowhere,
                                   text, text, "%s!", text),
                     JAW_OK);
    const jaw_note *n = jaw_notes_get(notes, 0);
    ck_assert_str_eq(n->file, text);
    ck_assert_str_eq(n->source, text);
    ck_assert_str_eq(n->cure, text);
    ck_assert_uint_eq(strlen(n->what), LONG + 1);
    free(text);
    jaw_notes_free(notes);
}
END_TEST

/* A text that printf refuses (half a surrogate pair is no character) is counted
 * as lost, not dropped in silence. */
START_TEST(unprintable_is_lost)
{
    static const wchar_t none[] = {(wchar_t)0xd800, 0};
    jaw_notes *notes = jaw_notes_alloc();
    ck_assert_int_eq(jaw_notes_add(notes, JAW_ERROR, JAW_EFEW, NULL, nowhere,
                                   NULL, NULL, "%ls", none),
                     JAW_ENOMEM);
    ck_assert_uint_eq(jaw_notes_count(notes), 0);
    ck_assert_uint_eq(jaw_notes_lost(notes), 1);
    ck_assert_int_eq(jaw_notes_status(notes), JAW_ENOMEM);
    jaw_notes_free(notes);
}
END_TEST

/* ------------------------------------------------------------------- places */

static void add_at(jaw_notes *notes, const char *file, int line)
{
    ck_assert_int_eq(jaw_notes_add(notes, JAW_ERROR, JAW_EFEW, file,
                                   (jaw_place){line, 2, 0}, NULL, NULL, "line %d",
                                   line),
                     JAW_OK);
}

START_TEST(located_in_any_order)
{
    static const struct {
        const char *file;
        int line;
        const char *want_file, *want_source;
    } row[] = {
        {NULL, 3, "", ""}, /* before `first` */
        {NULL, 4, "a.jaw", "four"},
        {NULL, 1, "a.jaw", "one"},
        {NULL, 0, "", ""}, /* has no line */
        {"b.jaw", 2, "b.jaw", ""}, /* has a file */
        {NULL, 3, "a.jaw", ""},
        {NULL, 4, "a.jaw", "four"},
        {NULL, 9, "a.jaw", ""}, /* beyond the text */
        {NULL, 2, "a.jaw", "two"},
    };
    static const char *const texts[] = {"one\ntwo\n\nfour",
                                        "one\ntwo\n\nfour\n",
                                        "one\r\ntwo\r\n\r\nfour\r\n",
                                        "one\rtwo\r\rfour",
                                        "one\r\ntwo\n\rfour\r",
                                        "\xef\xbb\xbfone\ntwo\n\nfour"};
    jaw_notes *notes = jaw_notes_alloc();
    for (int i = 0; i < COUNT(row); i++)
        add_at(notes, row[i].file, row[i].line);
    const jaw_note *before = jaw_notes_get(notes, 1);
    ck_assert_int_eq(jaw_notes_locate(notes, 1, 0, "a.jaw", texts[_i],
                                      strlen(texts[_i])),
                     JAW_OK);
    ck_assert_ptr_eq(jaw_notes_get(notes, 1), before);
    for (int i = 0; i < COUNT(row); i++) {
        const jaw_note *n = jaw_notes_get(notes, (size_t)i);
        ck_assert_str_eq(n->file, row[i].want_file);
        ck_assert_str_eq(n->source, row[i].want_source);
        ck_assert_int_eq(n->place.line, row[i].line);
        ck_assert_int_eq(n->place.column, 2);
    }
    jaw_notes_free(notes);
}
END_TEST

/* Once a note has a place it keeps it; the texts are copies. */
START_TEST(located_once)
{
    char file[] = "a.jaw", text[] = "one\ntwo";
    jaw_notes *notes = jaw_notes_alloc();
    add_at(notes, NULL, 2);
    jaw_notes_locate(notes, 0, 0, file, text, strlen(text));
    memset(file, '#', strlen(file));
    memset(text, '#', strlen(text));
    ck_assert_int_eq(jaw_notes_locate(notes, 0, 0, "b.jaw", "x\ny", 3), JAW_OK);
    ck_assert_str_eq(jaw_notes_get(notes, 0)->file, "a.jaw");
    ck_assert_str_eq(jaw_notes_get(notes, 0)->source, "two");
    jaw_notes_free(notes);
}
END_TEST

START_TEST(located_nothing)
{
    jaw_notes *notes = jaw_notes_alloc();
    ck_assert_int_eq(jaw_notes_locate(NULL, 0, 0, "a", "x", 1), JAW_OK);
    ck_assert_int_eq(jaw_notes_locate(notes, 0, 0, "a", "x", 1), JAW_OK);
    add_at(notes, NULL, 1);
    ck_assert_int_eq(jaw_notes_locate(notes, 7, 0, "a", "x", 1), JAW_OK);
    ck_assert_str_eq(jaw_notes_get(notes, 0)->file, "");
    ck_assert_int_eq(jaw_notes_locate(notes, 0, 0, "a", "", 0), JAW_OK);
    ck_assert_str_eq(jaw_notes_get(notes, 0)->file, "a");
    ck_assert_str_eq(jaw_notes_get(notes, 0)->source, "");
    jaw_notes_free(notes);
}
END_TEST

/* ------------------------------------------------------- without memory */

START_TEST(alloc_gives_null_without_memory)
{
    alloc_fail_after(0);
    jaw_notes *notes = jaw_notes_alloc();
    bool failed = alloc_failed();
    alloc_fail_never();
    ck_assert(failed);
    ck_assert_ptr_null(notes);
}
END_TEST

/* Adds n notes with the k-th allocation failing; whether one failed. */
static bool add_failing(jaw_notes *notes, int n, long k)
{
    alloc_fail_after(k);
    for (int i = 0; i < n; i++)
        jaw_notes_add(notes, JAW_DOUBT, JAW_OK, "f", nowhere, "s", "c", "%d",
                      i);
    bool failed = alloc_failed();
    alloc_fail_never();
    return failed;
}

START_TEST(each_failure_loses_one_note)
{
    enum { N = 40 }; /* grows three times */
    bool failed = true;
    long k = 0;
    for (; failed; k++) {
        jaw_notes *notes = jaw_notes_alloc();
        failed = add_failing(notes, N, k);
        ck_assert_uint_eq(jaw_notes_lost(notes), failed ? 1 : 0);
        ck_assert_uint_eq(jaw_notes_count(notes), failed ? N - 1 : N);
        ck_assert_int_eq(jaw_notes_status(notes), failed ? JAW_ENOMEM : JAW_OK);
        for (size_t i = 0; i < jaw_notes_count(notes); i++)
            ck_assert_str_eq(jaw_notes_get(notes, i)->file, "f");
        ck_assert_int_eq(
            jaw_notes_add(notes, JAW_ERROR, JAW_EFEW, 0, nowhere, 0, 0, "e"),
            JAW_OK);
        ck_assert_int_eq(jaw_notes_status(notes),
                         failed ? JAW_ENOMEM : JAW_EFEW);
        jaw_notes_free(notes);
    }
    /* one a note and one for each of 8, 16, 32, 64 places */
    ck_assert_int_eq(k - 1, N + 4);
}
END_TEST

START_TEST(no_memory_at_all)
{
    jaw_notes *notes = jaw_notes_alloc();
    alloc_fail_always_after(0);
    jaw_status status[3];
    for (int i = 0; i < 3; i++)
        status[i] = jaw_notes_add(notes, JAW_ERROR, JAW_EFEW, "f", nowhere, "s",
                                  "c", "e");
    alloc_fail_never();
    for (int i = 0; i < 3; i++)
        ck_assert_int_eq(status[i], JAW_ENOMEM);
    ck_assert_uint_eq(jaw_notes_lost(notes), 3);
    ck_assert_uint_eq(jaw_notes_count(notes), 0);
    ck_assert_ptr_null(jaw_notes_get(notes, 0));
    jaw_notes_free(notes);
}
END_TEST

/* A note that got no place is as it was; the others have theirs. */
START_TEST(located_without_memory)
{
    bool failed = true;
    long k = 0;
    for (; failed; k++) {
        jaw_notes *notes = jaw_notes_alloc();
        for (int line = 1; line <= 3; line++)
            add_at(notes, NULL, line);
        alloc_fail_after(k);
        jaw_status status = jaw_notes_locate(notes, 0, 0, "f", "a\nb\nc", 5);
        failed = alloc_failed();
        alloc_fail_never();
        ck_assert_int_eq(status, failed ? JAW_ENOMEM : JAW_OK);
        int given = 0;
        for (size_t i = 0; i < 3; i++) {
            const jaw_note *n = jaw_notes_get(notes, i);
            bool has = n->file[0] != '\0';
            ck_assert((n->source[0] != '\0') == has);
            given += has;
        }
        ck_assert_int_eq(given, !failed ? 3 : k == 0 ? 0 : 2);
        ck_assert_uint_eq(jaw_notes_lost(notes), 0);
        jaw_notes_free(notes);
    }
    ck_assert_int_eq(k - 1, 4); /* the order, and one a note */
}
END_TEST

START_TEST(everything_is_freed)
{
    alloc_count_start();
    jaw_notes *notes = jaw_notes_alloc();
    for (int i = 0; i < 100; i++)
        jaw_notes_add(notes, JAW_ERROR, JAW_EFEW, "", (jaw_place){2, 1, 0}, "s",
                      "c", "e");
    long held = alloc_live();
    jaw_notes_locate(notes, 0, 0, "f", "a\nb", 3);
    jaw_notes_free(notes);
    long left = alloc_live();
    long asked = alloc_count_stop();
    ck_assert_int_eq(held, 102); /* itself, the array, 100 notes */
    ck_assert_int_eq(left, 0);
    ck_assert_int_eq(asked, 1 + 100 + 5 + 101); /* 5 to grow, 101 to locate */
}
END_TEST

TCase *notes_case(void)
{
    TCase *tc = tcase_create("notes");
    tcase_add_test(tc, none_at_first);
    tcase_add_test(tc, null_is_fine);
    tcase_add_test(tc, texts_are_copied);
    tcase_add_test(tc, null_texts_are_empty);
    tcase_add_test(tc, order_and_address_stay);
    tcase_add_test(tc, severities_are_counted);
    tcase_add_test(tc, doubts_alone_are_no_error);
    tcase_add_test(tc, long_texts_are_whole);
    tcase_add_test(tc, unprintable_is_lost);
    tcase_add_loop_test(tc, located_in_any_order, 0, 6);
    tcase_add_test(tc, located_once);
    tcase_add_test(tc, located_nothing);
    return tc;
}

TCase *notes_alloc_case(void)
{
    if (!alloc_works())
        return NULL;
    TCase *tc = tcase_create("notes without memory");
    tcase_add_test(tc, alloc_gives_null_without_memory);
    tcase_add_test(tc, each_failure_loses_one_note);
    tcase_add_test(tc, no_memory_at_all);
    tcase_add_test(tc, located_without_memory);
    tcase_add_test(tc, everything_is_freed);
    return tc;
}
