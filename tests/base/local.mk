# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/base/base
tests_base_base_SOURCES = \
	tests/alloc/alloc.c \
	tests/alloc/alloc.h \
	tests/base/base_tests.h \
	tests/base/frame.c \
	tests/base/main.c \
	tests/base/notes.c \
	tests/base/number.c \
	tests/base/status.c \
	tests/base/time.c \
	tests/base/words.c
TESTS += tests/base/base

# The same in a locale whose decimal point is a comma.
dist_check_SCRIPTS += tests/base/comma
TESTS += tests/base/comma
