/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation fails once: JAW_ENOMEM, nothing leaked, nothing broken. */
#include "sheet_tests.h"

#include "tests/alloc/alloc.h"

#include <string.h>

/* Enough of everything that every array is grown. */
static const char good[] =
    "title A sheet\nunit mm\ntip t diameter 3\nedge e tip t faces y-\n"
    "  1 2\n  1 2\n  1 2\n  1 2\n  1 2\n  1 2\n  1 2\n  1 2\n  1 2\n  1 2\n"
    "edge n tip dot\n  1 2\n  tip\n"
    "pattern p\n  1 2 3 4\n  hole e at 1 2\n"
    "slot s tip t\n  1 2\n  /\n  1 3\n"
    "setter a top 1 touched 3 with tool 1\nsetter b height 1 on a\n"
    "tool 1 \"x\" touched 1 on a\ntool 2\ntool 3\ntool 4\ntool 5\ntool 6\n"
    "zero G54 x e turn e along x\nzero G54 x q\ninclude outer\n";

/* Reads with allocations failing from the k-th on, or that one alone; true
 * when one failed. */
static bool fail_sheet(const char *text, long k, bool for_ever)
{
    jaw_setup *setup = jaw_setup_alloc();
    jaw_notes *notes = jaw_notes_alloc();
    ck_assert(setup && notes);
    (for_ever ? alloc_fail_always_after : alloc_fail_after)(k);
    jaw_sheet_text sheet = {text, strlen(text), "f"};
    jaw_status status =
        jaw_sheet_read(&sheet, shelf_fetch, NULL, setup, notes);
    bool failed = alloc_failed();
    alloc_fail_never();
    jaw_setup_free(setup);
    jaw_notes_free(notes);
    /* The setup and the notes were there before the count. */
    long left = alloc_live();
    if (failed)
        ck_assert_int_eq(status, JAW_ENOMEM);
    else
        ck_assert_int_eq(status, JAW_ESYNTAX);
    ck_assert_int_eq(left, -2);
    return failed;
}

START_TEST(sheet_without_memory)
{
    long k = 0;
    while (fail_sheet(good, k, _i == 1))
        k++;
    ck_assert_int_gt(k, 20);
}
END_TEST

static bool fail_rows(const char *text, long k, bool for_ever)
{
    jaw_rows *rows;
    (for_ever ? alloc_fail_always_after : alloc_fail_after)(k);
    jaw_status status = jaw_rows_read_text(text, strlen(text), "f", JAW_MM, 2,
                                           3, &rows, NULL);
    bool failed = alloc_failed();
    alloc_fail_never();
    ck_assert_int_eq(rows == NULL, failed);
    jaw_rows_free(rows);
    ck_assert_int_eq(alloc_live(), 0);
    ck_assert_int_eq(status, failed ? JAW_ENOMEM : JAW_ESYNTAX);
    return failed;
}

START_TEST(rows_without_memory)
{
    long k = 0;
    while (fail_rows("1 2\n1 2\n1 2\n1 2\n1 2\n1 2\n1 2\n1 2\n1 2\n1 x\n1\n",
                     k, _i == 1))
        k++;
    ck_assert_int_gt(k, 5);
}
END_TEST

static bool fail_shown(const char *text, long k, bool for_ever)
{
    jaw_shown_list *list;
    jaw_readback_value v = {.name = "G54", .word = "X"};
    (for_ever ? alloc_fail_always_after : alloc_fail_after)(k);
    jaw_status status = jaw_shown_read_text(text, strlen(text), "f", JAW_MM,
                                            &list, NULL);
    if (status == JAW_OK)
        status = jaw_shown_put(list, false, &v, 1, NULL);
    bool failed = alloc_failed();
    alloc_fail_never();
    jaw_shown_free(list);
    ck_assert_int_eq(alloc_live(), 0);
    ck_assert_int_eq(status, failed ? JAW_ENOMEM : JAW_ESYNTAX);
    return failed;
}

START_TEST(shown_without_memory)
{
    static const char *const text[] = {
        "G54 x 1 y 2 z 3 turn 4 H1 1 H2 2 H3 3 H4 4 H5 5 H6 6 H7 7\n",
        "G54 x 1 G60 3\n"};
    for (int t = 0; t < 2; t++) {
        long k = 0;
        while (fail_shown(text[t], k, _i == 1))
            k++;
        ck_assert_int_gt(k, 3);
    }
}
END_TEST

TCase *sheet_alloc_case(void)
{
    if (!alloc_works())
        return NULL;
    TCase *tc = tcase_create("memory");
    tcase_add_loop_test(tc, sheet_without_memory, 0, 2);
    tcase_add_loop_test(tc, rows_without_memory, 0, 2);
    tcase_add_loop_test(tc, shown_without_memory, 0, 2);
    return tc;
}
