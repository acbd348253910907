/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A sheet within a sheet: what is its own, what counts for all, and where its
 * places are. */
#include "sheet_tests.h"

#include <math.h>
#include <string.h>

static const struct {
    const char *name, *text;
} shelf[] = {
    {"tips", "title Tips\nunit in\ntip stylus ball diameter 0.1\n"},
    {"shop-tips.jaw", "# of the manual\n"},
    {"bare", "tip stylus ball diameter 3\n"},
    {"twice", "control step 0.01\n"},
    {"outer", "# on line 2:\ninclude tips\n"},
    {"loop", "include loop\n"},
    {"utf16", "\xFF\xFEt\0i\0"},
    {"wrong", "unit mm\nedge e\n"},
};

jaw_status shelf_fetch(void *user, const char *name, const char *from,
                       jaw_sheet_text *sheet)
{
    (void)user;
    if (from == NULL) /* Check itself allocates, so it is not asked here */
        return JAW_EDOMAIN;
    if (strcmp(name, "heavy") == 0)
        return JAW_ENOMEM;
    for (int i = 0; i < COUNT(shelf); i++)
        if (strcmp(name, shelf[i].name) == 0) {
            *sheet = (jaw_sheet_text){shelf[i].text, strlen(shelf[i].text),
                                      shelf[i].name};
            return JAW_OK;
        }
    return JAW_EIO;
}

/* The unit holds in its own text alone, on both sides; so does the title. */
START_TEST(own_title_and_unit)
{
    outcome g = sheet_text("title Cell\nunit mm\ncontrol step 0.001\n"
                     "tip a diameter 2\ninclude outer\ntip b diameter 3\n");
    size_t n;
    const jaw_tip_entry *tip = jaw_setup_tips(g.setup, &n);

    got_good(&g);
    ck_assert_str_eq(jaw_setup_title(g.setup), "Cell");
    ck_assert_int_eq((int)jaw_setup_control(g.setup)->unit, JAW_MM);
    ck_assert_int_eq((int)n, 3);
    ck_assert(tip[0].tip.diameter == 2 && tip[2].tip.diameter == 3);
    ck_assert(fabs(tip[1].tip.diameter - 2.54) < 1e-15);
    ck_assert_int_eq(tip[1].place.source, 2);
    ck_assert_int_eq(tip[1].place.line, 3);
    ck_assert_int_eq(tip[2].place.source, 0);
    ck_assert_int_eq(tip[2].place.line, 6);
    ck_assert_str_eq(jaw_setup_source(g.setup, 1), "outer");
    ck_assert_str_eq(jaw_setup_source(g.setup, 2), "tips");
    ck_assert_str_eq(jaw_setup_source(g.setup, 3), "");
    ck_assert_str_eq(jaw_setup_source(g.setup, 0), "");
    ck_assert_str_eq(jaw_setup_source(g.setup, -1), "");
    got_drop(&g);
}
END_TEST

/* What each mistake says, in which file, on which line. */
static const struct {
    const char *text, *file, *part;
    int line;
} wrong[] = {
    {"unit mm\ninclude nowhere\n", "t.jaw", "'nowhere' can not be read", 2},
    {"unit mm\ninclude bare\n", "bare", "without a unit", 1},
    {"unit mm\ninclude loop\n", "loop", "within itself", 1},
    {"unit mm\ninclude t.jaw\n", "t.jaw", "can not be read", 2},
    {"unit mm\ncontrol step 0.1\ninclude twice\n", "twice",
     "the first, in line 2 of t.jaw", 1},
    {"unit mm\ninclude twice\ncontrol step 0.1\n", "t.jaw",
     "the first, in line 1 of twice", 3},
    {"unit mm\ninclude tips\ninclude tips\n", "tips", "in line 3 of tips", 3},
    {"unit mm\ninclude utf16\n", "utf16", "UTF-16", 0},
    {"unit mm\ninclude wrong\nedge f\n", "t.jaw", "tip", 3},
    {"unit mm\ninclude tips\n  1 2\n", "t.jaw", "takes no rows", 3},
    {"unit mm\ninclude\n", "t.jaw", "text", 2},
};

START_TEST(what_is_wrong)
{
    outcome g = sheet_text(wrong[_i].text);
    const jaw_note *note = jaw_notes_get(g.notes, 0);

    ck_assert_int_eq(g.status, JAW_ESYNTAX);
    got_note(&g, 0, wrong[_i].line, note->place.column, wrong[_i].part);
    ck_assert_str_eq(note->file, wrong[_i].file);
    got_drop(&g);
}
END_TEST

START_TEST(memory_of_the_fetcher)
{
    outcome g = sheet_text("unit mm\ninclude heavy\n");

    ck_assert_int_eq(g.status, JAW_ENOMEM);
    got_drop(&g);
}
END_TEST

/* Without anybody to fetch, no sheet can be read. */
START_TEST(nobody_fetches)
{
    static const char text[] = "unit mm\ninclude tips\n";
    outcome g = {.setup = jaw_setup_alloc(), .notes = jaw_notes_alloc()};

    g.status = jaw_sheet_read_text(text, strlen(text), "t.jaw", g.setup,
                                   g.notes);
    ck_assert_int_eq(g.status, JAW_ESYNTAX);
    got_note(&g, 0, 2, 1, "can not be read");
    got_drop(&g);
}
END_TEST

TCase *include_case(void)
{
    TCase *tc = tcase_create("include");
    tcase_add_test(tc, own_title_and_unit);
    tcase_add_loop_test(tc, what_is_wrong, 0, COUNT(wrong));
    tcase_add_test(tc, memory_of_the_fetcher);
    tcase_add_test(tc, nobody_fetches);
    return tc;
}
