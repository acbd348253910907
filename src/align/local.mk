# SPDX-License-Identifier: GPL-3.0-or-later
libjawline_la_SOURCES += \
	src/align/align.h \
	src/align/head.c \
	src/align/readings.c \
	src/align/round.c \
	src/align/square.c \
	src/align/wall.c
