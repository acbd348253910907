# SPDX-License-Identifier: GPL-3.0-or-later
libjawline_la_SOURCES += \
	src/measure/block.c \
	src/measure/calibrate.c \
	src/measure/model.c \
	src/measure/model.h \
	src/measure/repeat.c \
	src/measure/tip.c
