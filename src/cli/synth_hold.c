/* SPDX-License-Identifier: GPL-3.0-or-later */
/* synth_hold.c: what holds the part: a vise, stock in it, a V-block.  Heights
 * are sums of lengths, each stated with an error of its own. */
#include "synth.h"

#include <math.h>
#include <stdio.h>

/* High enough to hold by, which no height follows from. */
static void put_jaws(const job *j)
{
    printf("  jaws ");
    put_number(j, 0.4 * j->size, "  wide ");
    put_number(j, 1.5 * j->size, "  open ");
    put_number(j, 2 * j->size, "\n");
}

/* One whose bed and jaw are touched, and one whose bed is known and whose jaw
 * is swept. */
void synth_vise(const job *j)
{
    jaw_vec3 at = any_place(j);
    lie w = {{at.x, at.y, at.z - 250}, j->skew};
    double stylus = between(j, 90, 110);
    put_truth(j, "bench.bed,_machine_Z", w.zero.z);
    put_truth_angle("bench.skew_of_the_fixed_jaw", w.skew);
    put_truth(j, "second.bed,_machine_Z", w.zero.z + 0.1 * j->size);
    put_truth_angle("second.skew_of_the_fixed_jaw", w.skew / 2);
    put_head(j, "Made-up pair of vises");
    put_stylus(j, stylus, j->noise);
    put_front(j, "jaw", &w, 1.5 * j->size);
    printf("sweep swept  along x  faces y-");
    put_repeat(j);
    put_swept(j, at.x, 1.5 * j->size, -tan(w.skew / 2));
    puts("vise bench");
    for (unsigned long i = 0; i < j->touches; i++) {
        printf("  touched ");
        put_number(j, noisy(j, w.zero.z + stylus), " with stylus\n");
    }
    put_jaws(j);
    puts("  fixed jaw\nvise second\n");
    put_known(j, "bed", w.zero.z + 0.1 * j->size, j->noise);
    puts("");
    put_jaws(j);
    puts("  fixed swept");
}

void synth_stock(const job *j)
{
    jaw_vec3 at = any_place(j);
    lie w = {{at.x, at.y, 0}, j->skew};
    double s = j->size, bed = at.z - 250, under = 0.2 * s, high = 0.5 * s;
    double stylus = between(j, 90, 110);
    w.zero.z = bed + under + high;
    put_truth(j, "G54.Z", w.zero.z);
    put_truth(j, "G55.Z", w.zero.z);
    put_truth(j, "bench.bed,_machine_Z", bed);
    put_truth(j, "blank.top_by_the_stack,_machine_Z", w.zero.z);
    put_truth(j, "blank.'top'_as_touched,_above_it", 0);
    put_head(j, "Made-up stock in a vise");
    put_stylus(j, stylus, j->noise);
    puts("vise bench");
    put_known(j, "bed", bed, 2 * j->noise);
    puts("");
    put_jaws(j);
    printf("stock blank in bench\n  size ");
    put_number(j, s, " ");
    put_number(j, 0.6 * s, "");
    put_known(j, "", high, 3 * j->noise);
    puts("");
    put_known(j, "parallels", under, j->noise);
    puts("\n  top top");
    put_flat(j, "top", &w, (jaw_vec3){0.5 * s, 0.3 * s, 0},
             (jaw_vec2){0.4 * s, 0.2 * s}, stylus);
    puts("zero G54\n  z blank\nzero G55\n  z top");
}

/* Round stock rests where its flanks are as far from its axis as its radius:
 * that stands r / sin(angle / 2) above the V's sharp bottom. */
void synth_vee(const job *j)
{
    jaw_vec3 at = any_place(j);
    double apex = at.z - 250, r = 0.2 * j->size, angle = between(j, 60, 120);
    double axis = apex + r / sin(jaw_rad(angle) / 2);
    double puck = between(j, -320, -280), tool = between(j, 60, 120);
    put_truth(j, "G54.Z", axis + r);
    put_truth(j, "block.axis_of_the_stock,_machine_Z", axis);
    put_truth(j, "block.its_top,_machine_Z", axis + r);
    put_truth(j, "tool_1", tool);
    put_head(j, "Made-up tube in a V-block");
    puts("vee block");
    put_known(j, "apex", apex, j->noise);
    printf("\n  angle %.17g\n", angle);
    put_known(j, "stock", 2 * r, j->noise);
    printf("\nsetter puck");
    put_known(j, "top", puck, j->noise);
    printf("\ntool 1 \"made-up tool\"\n  touched ");
    put_number(j, noisy(j, puck + tool), " on puck\n");
    puts("zero G54\n  z block at 0");
}
