# SPDX-License-Identifier: GPL-3.0-or-later
libjawline_la_SOURCES += \
	src/fit/bend.c \
	src/fit/bend.h \
	src/fit/circle.c \
	src/fit/circle_known.c \
	src/fit/exact.h \
	src/fit/found.c \
	src/fit/lanes.h \
	src/fit/line.c \
	src/fit/long.c \
	src/fit/long.h \
	src/fit/pair.c \
	src/fit/parallel.c \
	src/fit/parallel.h \
	src/fit/passes.c \
	src/fit/passes.h \
	src/fit/passes_avx2.c \
	src/fit/passes_body.h \
	src/fit/plane.c \
	src/fit/rigid.c \
	src/fit/shape.c \
	src/fit/view.c \
	src/fit/view.h \
	src/fit/wide_body.h
