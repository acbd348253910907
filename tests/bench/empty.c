/* SPDX-License-Identifier: GPL-3.0-or-later */
/* empty.c: does nothing, linked with what the command is linked with: what a
 * process costs before any of our code runs. */
#include <jawline.h>

int main(int argc, char *argv[])
{
    (void)argv;
    /* never; so that the library is really needed */
    return argc > 1000 ? (int)jaw_unit_mm(JAW_IN) : 0;
}
