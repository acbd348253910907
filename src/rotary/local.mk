# SPDX-License-Identifier: GPL-3.0-or-later
libjawline_la_SOURCES += \
	src/rotary/centre.c \
	src/rotary/index.c \
	src/rotary/runout.c \
	src/rotary/slip.c \
	src/rotary/turns.h
