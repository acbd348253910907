# SPDX-License-Identifier: GPL-3.0-or-later
libjawline_la_SOURCES += \
	src/datum/between.c \
	src/datum/datum.h \
	src/datum/find.c \
	src/datum/level.c \
	src/datum/scatter.c \
	src/datum/space.h \
	src/datum/spread.c \
	src/datum/wall.c
