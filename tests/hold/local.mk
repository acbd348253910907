# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/hold/hold
tests_hold_hold_SOURCES = \
	tests/feature/random.h \
	tests/hold/hold_tests.h \
	tests/hold/main.c \
	tests/hold/sine.c \
	tests/hold/vee.c \
	tests/hold/vise.c
TESTS += tests/hold/hold
