#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Every example sheet and everything in tests/fuzz/corpus, and what lies near.
exec tests/fuzz/replay "$srcdir"/examples/*.jaw "$srcdir"/tests/fuzz/corpus/*
