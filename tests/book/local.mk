# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/book/book
tests_book_book_SOURCES = \
	tests/alloc/alloc.c \
	tests/alloc/alloc.h \
	tests/book/book_tests.h \
	tests/book/change.c \
	tests/book/conventions.c \
	tests/book/diameter.c \
	tests/book/fill.c \
	tests/book/homing.c \
	tests/book/keep.c \
	tests/book/main.c \
	tests/book/move.c \
	tests/book/moved.c \
	tests/book/published.c \
	tests/book/refuse.c \
	tests/book/shop.c \
	tests/book/tips.c \
	tests/book/together.c \
	tests/book/trend.c \
	tests/feature/random.h \
	tests/near.h
EXTRA_DIST += tests/book/version-1.json tests/book/version-1.sql \
	tests/book/version-2.json tests/book/version-2.sql
TESTS += tests/book/book

# Killed, without room, eight at once: the heads of the scripts say how.
check_PROGRAMS += tests/book/writer
tests_book_writer_SOURCES = tests/book/writer.c
check_LTLIBRARIES += tests/book/libspoil.la
tests_book_libspoil_la_SOURCES = tests/book/spoil.c
tests_book_libspoil_la_LDFLAGS = -module -avoid-version -rpath /nowhere
tests_book_libspoil_la_LIBADD = -ldl
dist_check_SCRIPTS += tests/book/kill.sh tests/book/spoil.sh \
	tests/book/together.sh
TESTS += tests/book/kill.sh tests/book/spoil.sh tests/book/together.sh

# A thousand kills, and eight writers with a thousand entries each.
.PHONY: tests/book/long
check-long: tests/book/long
tests/book/long: tests/book/writer$(EXEEXT)
	KILLS=1000 $(SHELL) $(srcdir)/tests/book/kill.sh
	EACH=1000 $(SHELL) $(srcdir)/tests/book/together.sh
