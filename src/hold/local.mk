# SPDX-License-Identifier: GPL-3.0-or-later
libjawline_la_SOURCES += \
	src/hold/hold.h \
	src/hold/sine.c \
	src/hold/vee.c \
	src/hold/vise.c
