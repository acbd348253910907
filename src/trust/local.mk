# SPDX-License-Identifier: GPL-3.0-or-later
libjawline_la_SOURCES += \
	src/trust/adjust.c \
	src/trust/adjust.h \
	src/trust/decide.c \
	src/trust/distributions.c \
	src/trust/feature.c \
	src/trust/house.c \
	src/trust/lever.h \
	src/trust/reliability.c
