# SPDX-License-Identifier: GPL-3.0-or-later
bin_PROGRAMS += jawline
jawline_SOURCES += \
	src/cli/book.c \
	src/cli/cli.h \
	src/cli/entered.c \
	src/cli/examples.h \
	src/cli/fit.c \
	src/cli/input.c \
	src/cli/keep.c \
	src/cli/keep.h \
	src/cli/lengths.c \
	src/cli/machine.c \
	src/cli/main.c \
	src/cli/moved.c \
	src/cli/options.c \
	src/cli/options.h \
	src/cli/published.c \
	src/cli/published.h \
	src/cli/selftest.c \
	src/cli/selftest.h \
	src/cli/setter.c \
	src/cli/setups.c \
	src/cli/sheets.c \
	src/cli/shop.c \
	src/cli/shop.h \
	src/cli/shownbook.c \
	src/cli/shownbook.h \
	src/cli/solve.c \
	src/cli/solved.c \
	src/cli/synth.c \
	src/cli/synth.h \
	src/cli/synth_align.c \
	src/cli/synth_datums.c \
	src/cli/synth_feature.c \
	src/cli/synth_hold.c \
	src/cli/synth_put.c \
	src/cli/synth_rotary.c \
	src/cli/synth_setup.c \
	src/cli/synth_shape.c \
	src/cli/synth_side.c \
	src/cli/synth_stations.c \
	src/cli/tip.c \
	src/cli/tip.h \
	src/cli/tip_report.c \
	src/cli/tool.c \
	src/cli/tools.c
