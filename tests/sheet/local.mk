# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/sheet/sheet
tests_sheet_sheet_SOURCES = \
	tests/alloc/alloc.c \
	tests/alloc/alloc.h \
	tests/sheet/entries.c \
	tests/sheet/grammar.c \
	tests/sheet/include.c \
	tests/sheet/large.c \
	tests/sheet/lines.c \
	tests/sheet/main.c \
	tests/sheet/memory.c \
	tests/sheet/mistakes.c \
	tests/sheet/quantity.c \
	tests/sheet/random.c \
	tests/sheet/rows.c \
	tests/sheet/sheet_tests.h \
	tests/sheet/shown.c
TESTS += tests/sheet/sheet

include tests/errors/local.mk
