# SPDX-License-Identifier: GPL-3.0-or-later
# Random setups with known truth: a short run in check, the long one by
# make check-long, or in parts at once by make -j2 check-long.
check_PROGRAMS += tests/simulate/simulate
tests_simulate_simulate_SOURCES = \
	tests/simulate/asked.h \
	tests/simulate/parts.c \
	tests/simulate/parts.h \
	tests/simulate/simulate.c \
	tests/simulate/tasks.c \
	tests/simulate/world.c \
	tests/simulate/world.h
TESTS += tests/simulate/simulate

# Tools that changed and tools that did not, in books.
check_PROGRAMS += tests/simulate/changes
tests_simulate_changes_SOURCES = \
	tests/simulate/asked.h \
	tests/simulate/changes.c
TESTS += tests/simulate/changes

# What a case's name begins with; parts that take about as long as one another.
simulate_parts = tests/simulate/long-1 tests/simulate/long-2 \
	tests/simulate/long-3 tests/simulate/long-4
cases_1 = edge slot web bore boss
cases_2 = face pattern corner lengths second lobed ball bar dial
cases_3 = stations side rotary datums stock vee tram square

.PHONY: check-long $(simulate_parts)
check-long: $(simulate_parts)
tests/simulate/long-1: tests/simulate/simulate$(EXEEXT)
	tests/simulate/simulate$(EXEEXT) 100000 20240611 $(cases_1)
tests/simulate/long-2: tests/simulate/simulate$(EXEEXT)
	tests/simulate/simulate$(EXEEXT) 100000 20240611 $(cases_2)
tests/simulate/long-3: tests/simulate/simulate$(EXEEXT)
	tests/simulate/simulate$(EXEEXT) 100000 20240611 $(cases_3)
tests/simulate/long-4: tests/simulate/changes$(EXEEXT)
	tests/simulate/changes$(EXEEXT) 100000 20261126
