# SPDX-License-Identifier: GPL-3.0-or-later
# head.c, round.c and wall.c join when src/fit has sweeps and zones.
libjawline_la_SOURCES += \
	src/align/align.h \
	src/align/spread.c \
	src/align/square.c
