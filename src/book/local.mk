# SPDX-License-Identifier: GPL-3.0-or-later
libjawline_la_SOURCES += \
	src/book/backup.c \
	src/book/book.h \
	src/book/change.c \
	src/book/change.h \
	src/book/check.c \
	src/book/columns.c \
	src/book/columns.h \
	src/book/csv.c \
	src/book/dof.c \
	src/book/export.c \
	src/book/fill.c \
	src/book/fill.h \
	src/book/fill_tool.c \
	src/book/import.c \
	src/book/included.c \
	src/book/json.c \
	src/book/kept.c \
	src/book/kinds.c \
	src/book/kinds.h \
	src/book/measure.c \
	src/book/messages.h \
	src/book/moved.c \
	src/book/moved.h \
	src/book/open.c \
	src/book/path.c \
	src/book/read.c \
	src/book/register.c \
	src/book/run.c \
	src/book/say.c \
	src/book/schema.c \
	src/book/setups.c \
	src/book/tips.c \
	src/book/trend.c \
	src/book/undo.c \
	src/book/valid.c \
	src/book/write.c
