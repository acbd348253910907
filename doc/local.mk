# SPDX-License-Identifier: GPL-3.0-or-later
EXTRA_DIST += doc/COPYING

# jawline(1), from the table that drives the command.
check_PROGRAMS += doc/make_command_page
doc_make_command_page_SOURCES = \
	doc/make_command_page.c \
	src/cli/examples.h \
	src/cli/options.h \
	src/report/cautions.h
doc_make_command_page_LDADD =
dist_man_MANS += doc/jawline.1
CLEANFILES += doc/jawline.1
doc/jawline.1: doc/make_command_page$(EXEEXT)
	$(AM_V_GEN)./doc/make_command_page$(EXEEXT) >$@.tmp && mv $@.tmp $@
