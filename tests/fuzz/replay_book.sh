#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Every book and damage in tests/fuzz/corpus-book, and what lies near.
exec tests/fuzz/replay_book "$srcdir"/tests/fuzz/corpus-book/*
