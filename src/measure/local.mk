# SPDX-License-Identifier: GPL-3.0-or-later
libjawline_la_SOURCES += src/measure/tip.c
