# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/measure/measure
tests_measure_measure_SOURCES = \
	tests/alloc/alloc.c \
	tests/alloc/alloc.h \
	tests/measure/ball_block.c \
	tests/measure/main.c \
	tests/measure/measure_tests.h \
	tests/measure/memory.c \
	tests/measure/promise.c \
	tests/measure/ring.c \
	tests/measure/spread.c
TESTS += tests/measure/measure
