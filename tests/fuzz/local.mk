# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/fuzz/replay
tests_fuzz_replay_SOURCES = \
	tests/fuzz/fuzz.h \
	tests/fuzz/fuzz_sheet.c \
	tests/fuzz/replay.c
dist_check_SCRIPTS += tests/fuzz/replay.sh
TESTS += tests/fuzz/replay.sh
EXTRA_DIST += tests/fuzz/corpus tests/fuzz/sheet.dict

# The same for books: imports, and damaged files.
check_PROGRAMS += tests/fuzz/replay_book
tests_fuzz_replay_book_SOURCES = \
	tests/fuzz/fuzz.h \
	tests/fuzz/fuzz_book.c \
	tests/fuzz/replay.c
dist_check_SCRIPTS += tests/fuzz/replay_book.sh
TESTS += tests/fuzz/replay_book.sh
EXTRA_DIST += tests/fuzz/book.dict tests/fuzz/corpus-book
