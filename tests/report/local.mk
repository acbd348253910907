# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/report/report
tests_report_report_SOURCES = \
	tests/alloc/alloc.c \
	tests/alloc/alloc.h \
	tests/report/alloc.c \
	tests/report/feature.c \
	tests/report/main.c \
	tests/report/moved.c \
	tests/report/note.c \
	tests/report/page.c \
	tests/report/readback.c \
	tests/report/report_tests.h
TESTS += tests/report/report
