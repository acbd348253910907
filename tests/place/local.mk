# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/place/place
tests_place_place_SOURCES = \
	tests/alloc/alloc.c \
	tests/alloc/alloc.h \
	tests/fit/data.c \
	tests/fit/fit_tests.h \
	tests/place/main.c \
	tests/place/moved.c \
	tests/place/place_tests.h \
	tests/place/published.c \
	tests/place/spread.c \
	tests/place/stations.c \
	tests/place/status.c \
	tests/place/turned.c \
	tests/place/walls.c
tests_place_place_CPPFLAGS = $(AM_CPPFLAGS) \
	-DJAW_TEST_DATA=\"$(abs_top_srcdir)/tests/data\"
TESTS += tests/place/place
