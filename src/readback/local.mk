# SPDX-License-Identifier: GPL-3.0-or-later
libjawline_la_SOURCES += \
	src/readback/digits.c \
	src/readback/readback.c \
	src/readback/readback.h \
	src/readback/words.h
