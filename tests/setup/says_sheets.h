/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sheets for says.c: what is said of rotary tables, datums and zeros that follow
 * from them.  @ marks the line that the message points at. */
#ifndef SETUP_SAYS_SHEETS_H
#define SETUP_SAYS_SHEETS_H

#define TABLE                                                                  \
    ROUND \
    ANGLES
#define HEAD                                                                   \
    "unit mm\n" \
    "control step 0.001 turn yes angle-step 0.0001 lengths gauge-line\n" \
    "tip stylus ball diameter 4 repeat 0.002 length 100\n"
#define PRIMARY                                                                \
    "face top tip stylus\n" \
    "  0 0 -150\n" \
    "  80 0 -150\n" \
    "  40 60 -150\n"
#define FRONT                                                                  \
    "edge front tip stylus faces y-\n" \
    "  0 -2 -160\n" \
    "  80 -2 -160\n"
#define END                                                                    \
    "edge end tip stylus faces x-\n" \
    "  -2 30 -160\n"
#define BLOCK                                                                  \
    "datums block primary top secondary front tertiary end\n"
#define PLACED                                                                 \
    "zero G54\n" \
    "  turn front along x\n" \
    "  x end\n" \
    "  y front\n" \
    "  z top\n"
#define ROUND                                                                  \
    "rotary table about x repeat 0.002\n"
#define ANGLES                                                                 \
    "  0 -20.0000 -200.0000\n" \
    "  90 -50.0000 -170.0000\n" \
    "  180 -80.0000 -200.0000\n" \
    "  270 -50.0000 -230.0000\n"
#define THREE                                                                  \
    "  0 -20.0000 -200.0000\n" \
    "  90 -50.0000 -170.0000\n" \
    "  180 -80.0000 -200.0000\n"

#define ROD                                                                    \
    "bar rod tip stylus\n" \
    "  10 -40 -102\n" \
    "  10 -60 -102\n" \
    "  10 -50 -92\n" \
    "  60 -40 -102\n" \
    "  60 -60 -102\n" \
    "  60 -50 -92\n" \
    "  35 -50 -92\n"

#define NEAR                                                                   \
    "runout near on z+ at 10 repeat 0.001\n" \
    "  0 0.000\n" \
    "  90 0.010\n" \
    "  180 0.020\n" \
    "  270 0.010\n"

static const struct {
    enum jaw__message id;
    jaw_severity severity;
    jaw_status status;
    const char *what, *cure; /* words between bars */
    const char *text;
} sheets[] = {
    {SAY_ROTARY_FEW, JAW_ERROR, JAW_EFEW, "table|3|2", "sense",
     HEAD "@" ROUND "  0 -20.0000 -200.0000\n" "  90 -50.0000 -170.0000\n"},
    {SAY_ROTARY_ANGLES, JAW_ERROR, JAW_ERANK, "table", "index",
     HEAD "@rotary table about x sense right repeat 0.002\n"
     "  90 -50.0000 -170.0000\n" "  -270 -50.0000 -170.0000\n"},
    {SAY_ROTARY_SENSE_OPEN, JAW_ERROR, JAW_ERANK, "table", "sense",
     HEAD "@" ROUND "  0 -20.0000 -200.0000\n" "  180 -80.0000 -200.0000\n"
     "  360 -19.9990 -200.0000\n"},
    {SAY_ROTARY_SENSE, JAW_ERROR, JAW_ECONFLICT, "table|left", "sign",
     HEAD ROUND "@  sense left\n" ANGLES},
    /* of three angles nobody can tell which is off */
    {SAY_ROTARY_SCATTER, JAW_DOUBT, JAW_OK, "table|0.0020 mm", "residual",
     HEAD "@" ROUND "  sense right\n" "  0 -20.0000 -200.0000\n"
     "  90 -49.9500 -170.0000\n" "  180 -80.0000 -200.0000\n"},
    /* one typed as if in inches */
    {SAY_ROTARY_SLIP, JAW_DOUBT, JAW_OK, "table|48.0315", "angle",
     HEAD ROUND "  sense right\n" "  0 -20.0000 -200.0000\n" "@  90 -1.9685 -170.0000\n"
     "  180 -80.0000 -200.0000\n" "  270 -50.0000 -230.0000\n"
     "  300 -35.0000 -225.9808\n"},
    {SAY_ROTARY_CROWD, JAW_DOUBT, JAW_OK, "table", "spread",
     HEAD "@rotary table about x sense right repeat 0.002\n"
     "  0 -20.0000 -200.0000\n" "  2 -20.0183 -198.9530\n"
     "  4 -20.0731 -197.9073\n" "  6 -20.1643 -196.8641\n"},
    {SAY_ROTARY_TWICE, JAW_DOUBT, JAW_OK, "table|number 4", "copied",
     HEAD TABLE "@  270 -50.0000 -230.0000\n"},
    {SAY_ROTARY_MIXED, JAW_ERROR, JAW_ECONFLICT, "table|features and places",
     "same",
     HEAD "bore a tip stylus\n" "  -10.0000 -200.0000\n"
     "  -20.2920 -190.0043\n" "  -29.9914 -199.5842\n" "  -20.1239 -209.9992\n"
     "@rotary table about z repeat 0.002\n" "  at 0 a\n"
     "  90 -50.0000 -170.0000\n" "  180 -80.0000 -200.0000\n"},
    {SAY_ROTARY_UNROUND, JAW_ERROR, JAW_EUNKNOWN, "front", "bore",
     HEAD FRONT "rotary table about z repeat 0.002\n" "@  at 270 front\n"},
    {SAY_RUNOUT_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN, "neer", "'near'",
     HEAD ROD NEAR "rotary table about x sense right\n" "@  runout neer\n"
     "  at 0 rod\n"},
    {SAY_RUNOUT_ALONG, JAW_ERROR, JAW_ECONFLICT, "'near'|table", "`on`",
     HEAD ROD "runout near on x- at 10\n" "  0 0\n" "  90 0.01\n"
     "  180 0.02\n" "rotary table about x sense right\n" "@  runout near\n"
     "  at 0 rod\n"},
    {SAY_RUNOUT_ANGLES, JAW_ERROR, JAW_ECONFLICT, "table|2 angles", "one",
     HEAD NEAR "rotary table about x sense right\n" "@  runout near\n"
     "  0 -50 -200\n" "  90 -50.01 -200\n"},
    {SAY_RUNOUT_PLACES, JAW_ERROR, JAW_ECONFLICT, "table|2 places|runouts in 1",
     "each", HEAD NEAR "rotary table about x sense right\n"
     "@  runout near\n" "  apart 50\n" "  0 -50 -200\n" "  /\n"
     "  0 -50.01 -200\n"},
    {SAY_RUNOUT_SAME, JAW_ERROR, JAW_ERANK, "table", "far",
     HEAD ROD NEAR "runout more on y+ at 10\n" "  0 0\n" "  90 0.01\n"
     "  180 0.02\n" "rotary table about x sense right\n"
     "@  runout near and more\n" "  at 0 rod\n"},
    /* that it needs, and that can not be found */
    {SAY_ROTARY_UNSOLVED, JAW_ERROR, JAW_EUNKNOWN, "'few'|table", "'few'",
     HEAD ROD "runout few on y+ at 10\n" "  0 0\n" "  90 0.01\n"
     "rotary table about x sense right\n" "@  runout few\n" "  at 0 rod\n"},
    {SAY_ROTARY_SENSE_OPEN, JAW_ERROR, JAW_ERANK, "table", "`sense`",
     HEAD ROD NEAR "@rotary table about x runout near\n" "  at 0 rod\n"},
    {SAY_ROTARY_LIES, JAW_ERROR, JAW_EUNKNOWN, "'rod'|lies down", "boss",
     HEAD ROD "rotary table about z\n" "@  at 0 rod\n"},
    {SAY_ROTARY_ACROSS, JAW_ERROR, JAW_ECONFLICT, "'rod'|90.000 deg|table",
     "about", HEAD ROD "rotary table about y\n" "@  at 0 rod\n"},
    {SAY_ROTARY_HEIGHT, JAW_ERROR, JAW_EUNKNOWN, "'rod'|table", "length",
     "unit mm\n"
     "control step 0.001 turn yes angle-step 0.0001 lengths tip-to-part\n"
     "tip stylus ball diameter 4 repeat 0.002\n" ROD
     "rotary table about x\n" "@  at 0 rod\n"},
    {SAY_ROTARY_BARS, JAW_ERROR, JAW_ECONFLICT, "table|leans", "apart",
     HEAD ROD "@rotary table about x sense right apart 50\n" "  at 0 rod\n"
     "  at 180 rod\n"},
    {SAY_ROTARY_OWN_TIP, JAW_ERROR, JAW_ECONFLICT, "table|tips", "out",
     HEAD ROD "rotary table about x sense right\n" "@  tip stylus\n"
     "  at 0 rod\n" "  at 180 rod\n"},
    {SAY_ROTARY_UPRIGHT, JAW_ERROR, JAW_EUNKNOWN, "'a'|upright", "row",
     HEAD "bore a tip stylus\n" "  -10.0000 -200.0000\n"
     "  -20.2920 -190.0043\n" "  -29.9914 -199.5842\n" "  -20.1239 -209.9992\n"
     ROUND "@  at 0 a\n"},
    {SAY_ROTARY_UNSOLVED, JAW_ERROR, JAW_EUNKNOWN, "'a'|table", "'a'",
     HEAD "bore a tip stylus\n" "  1 1\n" "rotary table about z repeat 0.002\n"
     "@  at 0 a\n"},
    {SAY_ROTARY_TIP, JAW_ERROR, JAW_EUNKNOWN, "stylus|table", "length",
     "unit mm\n"
     "control step 0.001 turn yes angle-step 0.0001 lengths gauge-line\n"
     "tip stylus ball diameter 4 repeat 0.002\n" ROUND "@  tip stylus\n" THREE},
    {SAY_ROTARY_APART, JAW_ERROR, JAW_EUNKNOWN, "table", "apart",
     HEAD "@" ROUND THREE "  /\n" THREE},
    {SAY_ROTARY_ONE_PLACE, JAW_ERROR, JAW_EUNKNOWN, "table", "apart",
     HEAD "@rotary table about x repeat 0.002 apart 50\n" THREE},
    {SAY_TABLE_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN, "tabel", "rotary",
     HEAD PRIMARY FRONT END TABLE PLACED "zero G55\n"
     "@  indexed G54 on tabel to 90\n"},
    {SAY_DATUMS_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN, "blocc", "datums",
     HEAD PRIMARY FRONT END BLOCK "zero G54\n" "@  datums blocc\n"},
    {SAY_TASK_UNSOLVED, JAW_ERROR, JAW_EUNKNOWN, "G55|table", "table",
     HEAD PRIMARY FRONT END ROUND "  0 -20.0000 -200.0000\n"
     "  90 -50.0000 -170.0000\n" PLACED "zero G55\n"
     "@  indexed G54 on table to 90\n"},
    {SAY_INDEX_NONE, JAW_ERROR, JAW_EUNKNOWN, "G57", "register",
     HEAD TABLE "zero G55\n" "@  indexed G57 on table to 90\n"},
    {SAY_INDEX_TABLES, JAW_ERROR, JAW_ECONFLICT, "G55|table|other", "anew",
     HEAD PRIMARY FRONT END TABLE
     "rotary other about y repeat 0.002 sense left\n" ANGLES PLACED
     "zero G55\n" "  indexed G54 on table to 90\n" "zero G56\n"
     "@  indexed G55 on other to 90\n"},
    {SAY_INDEX_ROUND, JAW_ERROR, JAW_ECONFLICT, "G55", "touched",
     HEAD PRIMARY FRONT END TABLE PLACED "zero G55\n"
     "@  indexed G56 on table to 90\n" "zero G56\n"
     "  indexed G55 on table to 90\n"},
    {SAY_INDEX_FROM, JAW_ERROR, JAW_ECONFLICT,
     "G55|90.000 deg|G56|0.000 deg", "`from`",
     HEAD PRIMARY FRONT END TABLE PLACED "zero G55\n"
     "  indexed G54 on table to 90\n" "zero G56\n"
     "@  indexed G55 on table to 180 from 0\n"},
    /* one that would do, from one that will not */
    {SAY_TASK_UNSOLVED, JAW_ERROR, JAW_EUNKNOWN, "G56|G55", "'G55'",
     HEAD TABLE "zero G55\n" "  indexed G57 on table to 90\n" "zero G56\n"
     "@  indexed G55 on table to 180\n"},
    {SAY_INDEX_AXIS, JAW_ERROR, JAW_EUNKNOWN, "G54|Z|X", "`z`",
     HEAD PRIMARY FRONT END TABLE "zero G54\n" "  turn front along x\n"
     "  x end\n" "  y front\n" "zero G55\n" "@  indexed G54 on table to 90\n"},
    {SAY_INDEX_HEIGHT, JAW_ERROR, JAW_EUNKNOWN, "G54", "length",
     "unit mm\n"
     "control step 0.001 turn yes angle-step 0.0001 lengths tip-to-part\n"
     "tip stylus ball diameter 4 repeat 0.002\n" PRIMARY FRONT END TABLE PLACED
     "zero G55\n" "@  indexed G54 on table to 90\n"},
    {SAY_INDEX_LEAN, JAW_ASSUMPTION, JAW_OK, "G55|0.143 deg", "straight",
     HEAD PRIMARY "edge front tip stylus faces y-\n" "  0 -2 -160\n"
     "  80 -1.8 -160\n" END TABLE PLACED "zero G55\n"
     "@  indexed G54 on table to 90\n"},
    {SAY_DATUM_KIND, JAW_ERROR, JAW_EUNKNOWN, "face|front|primary", "edges",
     HEAD PRIMARY FRONT END "datums block secondary front tertiary end\n"
     "@  primary front\n"},
    {SAY_DATUM_UNSOLVED, JAW_ERROR, JAW_EUNKNOWN, "front|block", "front",
     HEAD PRIMARY "edge front tip stylus faces y-\n" "  0 -2 -160\n"
     "  0 -2 -160\n" END "datums block primary top tertiary end\n"
     "@  secondary front\n"},
    {SAY_DATUM_FEW, JAW_ERROR, JAW_EFEW, "secondary|front|2|1", "more",
     HEAD PRIMARY "edge front tip stylus faces y-\n" "  0 -2 -160\n" END
     "datums block primary top tertiary end\n" "@  secondary front\n"},
    {SAY_DATUM_Z, JAW_ERROR, JAW_ENOTFINITE, "secondary|front", "x, y and z",
     HEAD PRIMARY "edge front tip stylus faces y-\n" "  0 -2 -160\n"
     "@  80 -2\n" END BLOCK},
    {SAY_DATUM_TIPS, JAW_ERROR, JAW_EUNKNOWN, "finder|stylus", "length",
     HEAD "tip finder diameter 6 repeat 0.002\n" PRIMARY
     "edge front tip finder faces y-\n" "  0 -2 -160\n" "  80 -2 -160\n" END
     "datums block primary top tertiary end\n" "@  secondary front\n"},
    {SAY_DATUM_SIDES, JAW_ERROR, JAW_ESIDE, "front|back", "y+",
     HEAD PRIMARY FRONT "edge back tip stylus faces y+\n" "  0 70 -160\n"
     "  80 70 -160\n" "datums block primary top secondary front\n"
     "@  tertiary back\n"},
    {SAY_DATUM_ASKEW, JAW_ERROR, JAW_ESIDE, "block", "faces",
     HEAD "face top tip stylus\n" "  0 0 -150\n" "  80 0 -60\n"
     "  40 60 -150\n" FRONT END "@" BLOCK},
    {SAY_DATUM_SCATTER, JAW_DOUBT, JAW_OK, "secondary|front", "chips",
     HEAD PRIMARY "edge front tip stylus faces y-\n" "  0 -2 -160\n"
     "  40 -1.9 -160\n" "  80 -2 -160\n" END
     "datums block primary top tertiary end\n" "@  secondary front\n"},
    {SAY_DATUM_STEEP, JAW_DOUBT, JAW_OK, "block", "check",
     HEAD PRIMARY "edge front tip stylus faces y-\n" "  0 -2 -160\n"
     "  80 8 -160\n" END "@" BLOCK},
    {SAY_DATUM_NO_BASE, JAW_ERROR, JAW_EUNKNOWN, "G54", "primary",
     "unit mm\n"
     "control step 0.001 turn yes angle-step 0.0001 lengths tip-to-part\n"
     "tip stylus ball diameter 4 repeat 0.002 length 100\n" PRIMARY FRONT END
     BLOCK "zero G54\n" "@  datums block\n"},
};

#endif
