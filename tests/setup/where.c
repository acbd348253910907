/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where features stand, for marks: what is across a wall, and that nothing is
 * said unless it is asked for.  Centres, heights and directions are compared
 * with finite differences in differences.c. */
#include "setup_tests.h"

static void walls(shop *s)
{
    shop_open(s, JAW_MM);
    tip(s, "finder", JAW_TIP_BALL, 4, 0.004, 100);
    edge(s, "rail", "finder", JAW_SIDE_YMINUS);
    touch(s, 0, -52, NOT);
    touch(s, 60, -52, NOT);
    touch(s, 120, -52, NOT);
    edge(s, "stop", "finder", JAW_SIDE_XPLUS);
    touch(s, 12, 7, NOT);
    feature(s, JAW_SLOT, "key", "finder");
    touch(s, 10, 18, NOT);
    touch(s, 50, 18, NOT);
    other_wall(s);
    touch(s, 10, 2, NOT);
    touch(s, 50, 2, NOT);
    feature(s, JAW_FACE, "top", "finder");
    touch(s, 0, 0, -150);
    touch(s, 50, 0, -150);
    touch(s, 0, 50, -150);
}

START_TEST(where_walls_stand)
{
    shop s;
    walls(&s);
    jaw_setup_ask_where(s.setup);
    solve(&s);
    ck_status(s.status, JAW_OK);

    const jaw_where *w = &found(&s, "rail")->where;
    ck_assert(w->wall && isnan(w->at.z) && isnan(w->trust[1].u));
    near(w->at.x, 60, 1e-9, "its middle");
    near(w->at.y, -50, 1e-9, "rail");
    near(w->trust[0].u, 0.004 / sqrt(3), 1e-9, "of three touches");
    near(w->turn.u, 0.004 / sqrt(2 * 60 * 60), 1e-12, "direction");
    w = &found(&s, "stop")->where;
    near(w->at.x, 10, 1e-9, "stop");
    near(fabs(w->theta), PI / 2, 1e-12, "taken along Y");
    near(w->trust[0].u, 0.004, 1e-9, "of one touch");
    ck_assert(isnan(w->turn.u));
    w = &found(&s, "key")->where;
    ck_assert(w->wall);
    near(w->at.y, 10, 1e-9, "middle of the slot");
    near(w->trust[0].u, 0.004 / 2, 1e-9, "of four touches");
    w = &found(&s, "top")->where;
    ck_assert(!w->wall && isnan(w->at.x) && isnan(w->theta));
    near(w->at.z, -250, 1e-9, "a tool of length 0");
    ck_assert(w->trust[2].u > 0);
    shop_close(&s);
}
END_TEST

START_TEST(where_nobody_asks)
{
    shop s;
    walls(&s);
    solve(&s);
    const jaw_where *w = &found(&s, "rail")->where;
    ck_assert(isnan(w->at.x) && isnan(w->trust[0].u) && !w->wall);
    shop_close(&s);
}
END_TEST

TCase *where_case(void)
{
    TCase *tc = tcase_create("where");
    tcase_add_test(tc, where_walls_stand);
    tcase_add_test(tc, where_nobody_asks);
    return tc;
}
