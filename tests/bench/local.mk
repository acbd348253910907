# SPDX-License-Identifier: GPL-3.0-or-later
EXTRA_PROGRAMS += tests/bench/bench_fit
bench_programs += tests/bench/bench_fit
tests_bench_bench_fit_SOURCES = tests/bench/bench.h tests/bench/bench_fit.c
tests_bench_bench_fit_CFLAGS = $(AM_CFLAGS)
tests_bench_bench_fit_LDADD = $(LDADD)
if HAVE_CMINPACK
tests_bench_bench_fit_CFLAGS += $(CMINPACK_CFLAGS) -DHAVE_CMINPACK
tests_bench_bench_fit_LDADD += $(CMINPACK_LIBS)
endif
CLEANFILES += tests/bench/bench_fit$(EXEEXT)

# `jawline solve` as a process, against a program that does nothing.
EXTRA_PROGRAMS += tests/bench/bench_solve tests/bench/empty
bench_programs += tests/bench/bench_solve
tests_bench_bench_solve_SOURCES = tests/bench/bench.h \
	tests/bench/bench_solve.c tests/bench/process.h
tests_bench_bench_solve_LDADD =
tests_bench_empty_SOURCES = tests/bench/empty.c
tests_bench_empty_LDADD = $(jawline_LDADD)
EXTRA_tests_bench_bench_solve_DEPENDENCIES = tests/bench/empty$(EXEEXT) \
	jawline$(EXEEXT)
CLEANFILES += tests/bench/bench_solve$(EXEEXT) tests/bench/empty$(EXEEXT) \
	tests/bench/solve.jaw

# What it costs to know how good a value is; threads only here.
EXTRA_PROGRAMS += tests/bench/bench_trust
bench_programs += tests/bench/bench_trust
tests_bench_bench_trust_SOURCES = tests/bench/bench_trust.c
tests_bench_bench_trust_LDADD = $(LDADD) -lpthread
CLEANFILES += tests/bench/bench_trust$(EXEEXT)

# Zones of very many touches, and rigid fits of a few.
EXTRA_PROGRAMS += tests/bench/bench_zone
bench_programs += tests/bench/bench_zone
tests_bench_bench_zone_SOURCES = tests/bench/bench.h tests/bench/bench_zone.c
CLEANFILES += tests/bench/bench_zone$(EXEEXT)

# Spheres and cylinders; it starts the other solver where ours starts.
EXTRA_PROGRAMS += tests/bench/bench_space
bench_programs += tests/bench/bench_space
tests_bench_bench_space_SOURCES = tests/bench/bench.h tests/bench/bench_space.c
CLEANFILES += tests/bench/bench_space$(EXEEXT)

# A book of a million measurements.
EXTRA_PROGRAMS += tests/bench/bench_book
bench_programs += tests/bench/bench_book
tests_bench_bench_book_SOURCES = tests/bench/bench.h \
	tests/bench/bench_book.c tests/bench/process.h
EXTRA_tests_bench_bench_book_DEPENDENCIES = tests/bench/empty$(EXEEXT) \
	jawline$(EXEEXT)
CLEANFILES += tests/bench/bench_book$(EXEEXT)
