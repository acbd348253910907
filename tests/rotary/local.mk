# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/rotary/rotary
tests_rotary_rotary_SOURCES = \
	tests/alloc/alloc.c \
	tests/alloc/alloc.h \
	tests/rotary/main.c
TESTS += tests/rotary/rotary
