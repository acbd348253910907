# SPDX-License-Identifier: GPL-3.0-or-later
libjawline_la_SOURCES += \
	src/feature/ball.c \
	src/feature/bar.c \
	src/feature/centres.c \
	src/feature/edge.c \
	src/feature/face.c \
	src/feature/feature.h \
	src/feature/pattern.c \
	src/feature/round.c \
	src/feature/walls.c \
	src/feature/words.c
