# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/fuzz/replay
tests_fuzz_replay_SOURCES = \
	tests/fuzz/fuzz_sheet.c \
	tests/fuzz/fuzz_sheet.h \
	tests/fuzz/replay.c
dist_check_SCRIPTS += tests/fuzz/replay.sh
TESTS += tests/fuzz/replay.sh
EXTRA_DIST += tests/fuzz/corpus tests/fuzz/sheet.dict
