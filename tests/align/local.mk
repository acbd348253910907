# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/align/align
tests_align_align_SOURCES = \
	tests/alloc/alloc.c \
	tests/alloc/alloc.h \
	tests/align/align_tests.h \
	tests/align/head.c \
	tests/align/main.c \
	tests/align/memory.c \
	tests/align/promise.c \
	tests/align/round.c \
	tests/align/square.c \
	tests/align/wall.c \
	tests/align/world.c \
	tests/feature/random.h \
	tests/trust/table.h
TESTS += tests/align/align
