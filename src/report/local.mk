# SPDX-License-Identifier: GPL-3.0-or-later
libjawline_la_SOURCES += \
	src/report/buffer.c \
	src/report/buffer.h \
	src/report/cautions.h \
	src/report/explain.c \
	src/report/feature.c \
	src/report/findings.c \
	src/report/findings.h \
	src/report/json.c \
	src/report/linked.c \
	src/report/linked.h \
	src/report/moved.c \
	src/report/note.c \
	src/report/page.c \
	src/report/page.h \
	src/report/parts.c \
	src/report/parts.h \
	src/report/readback.c \
	src/report/text.c
