# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/setup/setup
tests_setup_setup_SOURCES = \
	tests/alloc/alloc.c \
	tests/alloc/alloc.h \
	tests/feature/random.h \
	tests/setup/differences.c \
	tests/setup/entries.c \
	tests/setup/heights.c \
	tests/setup/lengths.c \
	tests/setup/links.c \
	tests/setup/main.c \
	tests/setup/memory.c \
	tests/setup/carried.c \
	tests/setup/places.c \
	tests/setup/says.c \
	tests/setup/says_sheets.h \
	tests/setup/setup_tests.h \
	tests/setup/shop.c \
	tests/setup/shop.h \
	tests/setup/solid.c \
	tests/setup/tables.c \
	tests/setup/tasks.c \
	tests/setup/tired.c \
	tests/setup/where.c \
	tests/setup/world.c \
	tests/setup/zero.c
TESTS += tests/setup/setup
