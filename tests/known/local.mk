# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/known/known
tests_known_known_SOURCES = \
	tests/alloc/alloc.c \
	tests/alloc/alloc.h \
	tests/known/aside.c \
	tests/known/budget.c \
	tests/known/decide.c \
	tests/known/known.c \
	tests/known/known_tests.h \
	tests/known/main.c \
	tests/known/memory.c \
	tests/known/next.c \
	tests/known/places.c \
	tests/known/solved.c \
	tests/known/warm.c
TESTS += tests/known/known
