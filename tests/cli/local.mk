# SPDX-License-Identifier: GPL-3.0-or-later
# The tests of the command are scripts; these help them.
check_PROGRAMS += tests/cli/json_get tests/cli/on_terminal
tests_cli_json_get_SOURCES = tests/cli/json_get.c
tests_cli_json_get_LDADD = $(JANSSON_LIBS)
tests_cli_on_terminal_SOURCES = tests/cli/on_terminal.c
tests_cli_on_terminal_LDADD =
EXTRA_DIST += tests/cli/lib.sh

dist_check_SCRIPTS += \
	tests/cli/examples \
	tests/cli/fit \
	tests/cli/input \
	tests/cli/output \
	tests/cli/selftest \
	tests/cli/solve \
	tests/cli/synth \
	tests/cli/words
TESTS += \
	tests/cli/examples \
	tests/cli/fit \
	tests/cli/input \
	tests/cli/output \
	tests/cli/selftest \
	tests/cli/solve \
	tests/cli/synth \
	tests/cli/words

# The self-test on a table that is spoiled.
check_PROGRAMS += tests/cli/spoiled
tests_cli_spoiled_SOURCES = \
	src/cli/published.c \
	src/cli/selftest.c \
	tests/cli/spoiled.c
TESTS += tests/cli/spoiled

# How long a whole solve takes against a process that does nothing.
EXTRA_PROGRAMS += tests/bench/bench_solve tests/bench/empty
bench_programs += tests/bench/bench_solve
tests_bench_bench_solve_SOURCES = tests/bench/bench_solve.c
tests_bench_bench_solve_LDADD =
EXTRA_tests_bench_bench_solve_DEPENDENCIES = tests/bench/empty$(EXEEXT) \
	jawline$(EXEEXT)
tests_bench_empty_SOURCES = tests/bench/empty.c
tests_bench_empty_LDADD = $(jawline_LDADD)
CLEANFILES += tests/bench/solve.jaw
