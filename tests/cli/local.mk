# SPDX-License-Identifier: GPL-3.0-or-later
# The tests of the command are scripts; these help them.
check_PROGRAMS += tests/cli/json_get tests/cli/on_terminal \
	tests/cli/truth_held
tests_cli_json_get_SOURCES = tests/cli/json_get.c
tests_cli_json_get_LDADD = $(JANSSON_LIBS)
tests_cli_on_terminal_SOURCES = tests/cli/on_terminal.c
tests_cli_on_terminal_LDADD =
tests_cli_truth_held_SOURCES = tests/cli/truth_held.c
tests_cli_truth_held_LDADD = $(JANSSON_LIBS) -lm
EXTRA_DIST += tests/cli/lib.sh

dist_check_SCRIPTS += \
	tests/cli/book \
	tests/cli/entered \
	tests/cli/examples \
	tests/cli/fit \
	tests/cli/input \
	tests/cli/marks \
	tests/cli/links \
	tests/cli/output \
	tests/cli/round \
	tests/cli/selftest \
	tests/cli/setups \
	tests/cli/solve \
	tests/cli/synth \
	tests/cli/tip \
	tests/cli/tool \
	tests/cli/words
TESTS += \
	tests/cli/book \
	tests/cli/entered \
	tests/cli/examples \
	tests/cli/fit \
	tests/cli/input \
	tests/cli/marks \
	tests/cli/links \
	tests/cli/output \
	tests/cli/round \
	tests/cli/selftest \
	tests/cli/setups \
	tests/cli/solve \
	tests/cli/synth \
	tests/cli/tip \
	tests/cli/tool \
	tests/cli/words

# The self-test on a table that is spoiled.
check_PROGRAMS += tests/cli/spoiled
tests_cli_spoiled_SOURCES = \
	src/cli/published.c \
	src/cli/selftest.c \
	tests/cli/spoiled.c
TESTS += tests/cli/spoiled

# The long run of the round trips.
.PHONY: tests/cli/round-long
check-long: tests/cli/round-long
tests/cli/round-long: tests/cli/truth_held$(EXEEXT) jawline$(EXEEXT)
	abs_srcdir="$(abs_srcdir)" JAWLINE="$(abs_builddir)/jawline$(EXEEXT)" \
	  ROUND_SEEDS=1000 sh "$(srcdir)/tests/cli/round"
