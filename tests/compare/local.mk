# SPDX-License-Identifier: GPL-3.0-or-later
# Not part of check: needs python3 with numpy, scipy and mpmath; see run.
EXTRA_PROGRAMS += tests/compare/fit_driver
tests_compare_fit_driver_SOURCES = tests/compare/driver.h \
	tests/compare/fit_driver.c
CLEANFILES += tests/compare/fit_driver$(EXEEXT)
EXTRA_PROGRAMS += tests/compare/place_driver
tests_compare_place_driver_SOURCES = tests/compare/driver.h \
	tests/compare/place_driver.c
CLEANFILES += tests/compare/place_driver$(EXEEXT)
EXTRA_PROGRAMS += tests/compare/align_driver
tests_compare_align_driver_SOURCES = tests/compare/driver.h \
	tests/compare/align_driver.c
CLEANFILES += tests/compare/align_driver$(EXEEXT)
EXTRA_PROGRAMS += tests/compare/turn_driver
tests_compare_turn_driver_SOURCES = tests/compare/driver.h \
	tests/compare/turn_driver.c
CLEANFILES += tests/compare/turn_driver$(EXEEXT)
EXTRA_PROGRAMS += tests/compare/book_driver
tests_compare_book_driver_SOURCES = tests/compare/driver.h \
	tests/compare/book_driver.c
CLEANFILES += tests/compare/book_driver$(EXEEXT)
EXTRA_PROGRAMS += tests/compare/space_driver
tests_compare_space_driver_SOURCES = tests/compare/driver.h \
	tests/compare/space_driver.c
CLEANFILES += tests/compare/space_driver$(EXEEXT)
EXTRA_DIST += tests/compare/space_answers.py tests/compare/space_compare.py
EXTRA_DIST += tests/compare/align_compare.py tests/compare/book_compare.py \
	tests/compare/fit_compare.py tests/compare/place_compare.py \
	tests/compare/turn_compare.py tests/compare/yardstick.py \
	tests/compare/run
