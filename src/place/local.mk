# SPDX-License-Identifier: GPL-3.0-or-later
libjawline_la_SOURCES += \
	src/place/lie.c \
	src/place/moved.c \
	src/place/place.h \
	src/place/stations.c \
	src/place/turned.c \
	src/place/walls.c
