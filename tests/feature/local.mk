# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/feature/feature
tests_feature_feature_SOURCES = \
	tests/alloc/alloc.c \
	tests/alloc/alloc.h \
	tests/feature/edge.c \
	tests/feature/face.c \
	tests/feature/feature_tests.h \
	tests/feature/main.c \
	tests/feature/memory.c \
	tests/feature/pattern.c \
	tests/feature/promise.c \
	tests/feature/random.h \
	tests/feature/round.c \
	tests/feature/solid.c \
	tests/feature/true.c \
	tests/feature/true.h \
	tests/feature/walls.c \
	tests/feature/words.c
TESTS += tests/feature/feature
