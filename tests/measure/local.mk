# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/measure/measure
tests_measure_measure_SOURCES = tests/measure/main.c
TESTS += tests/measure/measure
