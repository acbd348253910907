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

# jawline-sheet(5), from the table that drives the reader.  Its examples are
# files that make check runs.
check_PROGRAMS += doc/make_sheet_page
doc_make_sheet_page_SOURCES = \
	doc/make_sheet_page.c \
	src/sheet/grammar.c \
	src/sheet/grammar.h \
	src/report/cautions.h
doc_make_sheet_page_CFLAGS = $(AM_CFLAGS)
doc_make_sheet_page_LDADD =
sheet_page_parts = \
	$(srcdir)/examples/corner.jaw \
	$(srcdir)/tests/errors/unknown-field-near.jaw \
	$(srcdir)/tests/errors/unknown-field-near.expect
dist_man_MANS += doc/jawline-sheet.5
CLEANFILES += doc/jawline-sheet.5
doc/jawline-sheet.5: doc/make_sheet_page$(EXEEXT) $(sheet_page_parts)
	$(AM_V_GEN)./doc/make_sheet_page$(EXEEXT) $(sheet_page_parts) \
		>$@.tmp && mv $@.tmp $@

# libjawline(3), from the public headers.
EXTRA_DIST += doc/make_library_page
dist_man_MANS += doc/libjawline.3
CLEANFILES += doc/libjawline.3
doc/libjawline.3: $(srcdir)/doc/make_library_page \
		$(include_HEADERS) $(jawinclude_HEADERS)
	$(AM_V_GEN)$(MKDIR_P) doc && $(SHELL) $(srcdir)/doc/make_library_page \
		"$(PACKAGE_STRING)" $(srcdir)/include >$@.tmp && mv $@.tmp $@

# The pages are well formed, and nothing is missing from them.
dist_check_SCRIPTS += doc/check_pages
TESTS += doc/check_pages
