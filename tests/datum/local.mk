# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/datum/datum
tests_datum_datum_SOURCES = \
	tests/alloc/alloc.c \
	tests/alloc/alloc.h \
	tests/datum/datum_tests.h \
	tests/datum/geometry.c \
	tests/datum/main.c \
	tests/datum/published.c \
	tests/datum/spread.c \
	tests/datum/status.c \
	tests/datum/world.c \
	tests/fit/data.c \
	tests/fit/fit_tests.h
tests_datum_datum_CPPFLAGS = $(AM_CPPFLAGS) \
	-DJAW_TEST_DATA=\"$(abs_top_srcdir)/tests/data\"
TESTS += tests/datum/datum
