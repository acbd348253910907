# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/readback/readback
tests_readback_readback_SOURCES = \
	tests/readback/kinds.c \
	tests/readback/main.c \
	tests/readback/random.c \
	tests/readback/readback_tests.h \
	tests/readback/register.h \
	tests/readback/slips.c \
	tests/readback/status.c
TESTS += tests/readback/readback
