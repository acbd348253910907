# SPDX-License-Identifier: GPL-3.0-or-later
libjawline_la_SOURCES += \
	src/trust/adjust.c \
	src/trust/adjust.h \
	src/trust/circle_trials.c \
	src/trust/circle_trials.h \
	src/trust/circle_trials_avx2.c \
	src/trust/circle_trials_body.h \
	src/trust/decide.c \
	src/trust/distributions.c \
	src/trust/eliminate.h \
	src/trust/esd.c \
	src/trust/feature.c \
	src/trust/figure.c \
	src/trust/house.c \
	src/trust/lever.h \
	src/trust/monte.c \
	src/trust/monte_circle.c \
	src/trust/monte_cylinder.c \
	src/trust/monte_sphere.c \
	src/trust/random.c \
	src/trust/random.h \
	src/trust/reliability.c \
	src/trust/robust.c \
	src/trust/robust.h \
	src/trust/robust_solid.c \
	src/trust/tails.c \
	src/trust/tails.h \
	src/trust/together.c \
	src/trust/trials.h \
	src/trust/ziggurat.h
