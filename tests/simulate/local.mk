# SPDX-License-Identifier: GPL-3.0-or-later
# Random setups with known truth: a short run in check, the long one by
# make check-long (about two hours on one core).
check_PROGRAMS += tests/simulate/simulate
tests_simulate_simulate_SOURCES = \
	tests/simulate/simulate.c \
	tests/simulate/world.c \
	tests/simulate/world.h
TESTS += tests/simulate/simulate

.PHONY: check-long
check-long: tests/simulate/simulate$(EXEEXT)
	tests/simulate/simulate$(EXEEXT) 100000
