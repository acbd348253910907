# SPDX-License-Identifier: GPL-3.0-or-later
include_HEADERS = include/jawline.h
jawincludedir = $(includedir)/jawline
jawinclude_HEADERS = \
	include/jawline/align.h \
	include/jawline/base.h \
	include/jawline/book.h \
	include/jawline/datum.h \
	include/jawline/feature.h \
	include/jawline/fit.h \
	include/jawline/trust.h \
	include/jawline/hold.h \
	include/jawline/measure.h \
	include/jawline/place.h \
	include/jawline/readback.h \
	include/jawline/report.h \
	include/jawline/rotary.h \
	include/jawline/setup.h \
	include/jawline/sheet.h
