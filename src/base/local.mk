# SPDX-License-Identifier: GPL-3.0-or-later
libjawline_la_SOURCES += \
	src/base/flags.c \
	src/base/frame.c \
	src/base/grow.c \
	src/base/grow.h \
	src/base/name.h \
	src/base/nan.h \
	src/base/notes.c \
	src/base/number.c \
	src/base/status.c \
	src/base/steep.h \
	src/base/time.c \
	src/base/units.c \
	src/base/vec3.h \
	src/base/words.c
