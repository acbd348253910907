# SPDX-License-Identifier: GPL-3.0-or-later
libjawline_la_SOURCES += \
	src/setup/bound.c \
	src/setup/budget.c \
	src/setup/equations.c \
	src/setup/find.c \
	src/setup/findings.c \
	src/setup/forms.c \
	src/setup/heights.c \
	src/setup/indicated.c \
	src/setup/joint.c \
	src/setup/joint.h \
	src/setup/judge.c \
	src/setup/lengths.c \
	src/setup/names.c \
	src/setup/next.c \
	src/setup/reach.c \
	src/setup/messages.h \
	src/setup/model.h \
	src/setup/setup.c \
	src/setup/setup.h \
	src/setup/solve.c \
	src/setup/solve.h \
	src/setup/store.c \
	src/setup/store.h \
	src/setup/suspects.c \
	src/setup/tasks.c \
	src/setup/tell.c \
	src/setup/tools.c \
	src/setup/trials.c \
	src/setup/twice.c \
	src/setup/unknowns.c \
	src/setup/vise.c \
	src/setup/worth.c \
	src/setup/worth.h \
	src/setup/zero.c \
	src/setup/zero.h \
	src/setup/zero_z.c
