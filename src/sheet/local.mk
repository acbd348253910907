# SPDX-License-Identifier: GPL-3.0-or-later
libjawline_la_SOURCES += \
	src/sheet/build.c \
	src/sheet/entry.c \
	src/sheet/form.c \
	src/sheet/grammar.c \
	src/sheet/grammar.h \
	src/sheet/include.c \
	src/sheet/lines.c \
	src/sheet/lines.h \
	src/sheet/log.c \
	src/sheet/log.h \
	src/sheet/messages.h \
	src/sheet/names.c \
	src/sheet/quantity.c \
	src/sheet/quantity.h \
	src/sheet/reader.h \
	src/sheet/rows.c \
	src/sheet/sheet.c \
	src/sheet/shown.c \
	src/sheet/tasks.c \
	src/sheet/touch.c
