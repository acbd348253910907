# SPDX-License-Identifier: GPL-3.0-or-later
# What every test finds in its environment: the command that was built, the
# sources, and tools to compile and look into the library with.
AM_TESTS_ENVIRONMENT = \
	JAWLINE='$(abs_top_builddir)/jawline$(EXEEXT)'; export JAWLINE; \
	abs_srcdir='$(abs_top_srcdir)'; export abs_srcdir; \
	CC='$(CC)'; CFLAGS='$(JAW_CFLAGS) $(CFLAGS)'; NM='$(NM)'; \
	PKG_CONFIG='$(PKG_CONFIG)'; MAKE='$(MAKE)'; \
	export CC CFLAGS NM PKG_CONFIG MAKE; \
	prefix='$(prefix)'; exec_prefix='$(exec_prefix)'; \
	libdir='$(libdir)'; includedir='$(includedir)'; bindir='$(bindir)'; \
	pkgconfigdir='$(pkgconfigdir)'; PACKAGE_VERSION='$(PACKAGE_VERSION)'; \
	export prefix exec_prefix libdir includedir bindir pkgconfigdir PACKAGE_VERSION; \
	CK_DEFAULT_TIMEOUT=$${CK_DEFAULT_TIMEOUT-60}; \
	export CK_DEFAULT_TIMEOUT;

EXTRA_DIST += tests/coverage.sh tests/near.h tests/need.sh tests/run

dist_check_SCRIPTS += tests/check-exports
TESTS += tests/check-exports

include tests/base/local.mk
include tests/fit/local.mk
include tests/trust/local.mk
include tests/measure/local.mk
include tests/feature/local.mk
include tests/align/local.mk
include tests/hold/local.mk
include tests/datum/local.mk
include tests/rotary/local.mk
include tests/place/local.mk
include tests/readback/local.mk
include tests/setup/local.mk
include tests/known/local.mk
include tests/sheet/local.mk
include tests/book/local.mk
include tests/report/local.mk
include tests/cli/local.mk
include tests/fuzz/local.mk
include tests/install/local.mk
include tests/compare/local.mk
include tests/simulate/local.mk
include tests/bench/local.mk
