# SPDX-License-Identifier: GPL-3.0-or-later
check_PROGRAMS += tests/trust/trust
tests_trust_trust_SOURCES = \
	tests/alloc/alloc.c \
	tests/alloc/alloc.h \
	tests/feature/random.h \
	tests/trust/dense.c \
	tests/trust/distributions.c \
	tests/trust/features.c \
	tests/trust/figure.c \
	tests/trust/limit.c \
	tests/trust/loose.c \
	tests/trust/main.c \
	tests/trust/monte.c \
	tests/trust/monte_circle.c \
	tests/trust/monte_cylinder.c \
	tests/trust/monte_sphere.c \
	tests/trust/problem.c \
	tests/trust/problem.h \
	tests/trust/published.c \
	tests/trust/random.c \
	tests/trust/robust.c \
	tests/trust/robust_solid.c \
	tests/trust/spreads.h \
	tests/trust/table.h \
	tests/trust/together.c \
	tests/trust/trials.c \
	tests/trust/trust_tests.h \
	tests/trust/within.c
TESTS += tests/trust/trust

# Published data; tests/data/README.md says where from.
EXTRA_DIST += \
	tests/data/anova_nist_sirstv.csv \
	tests/data/anova_nist_sirstv.expect.csv \
	tests/data/outlier_grubbs_uranium.csv \
	tests/data/outlier_grubbs_uranium.expect.csv \
	tests/data/outlier_rosner1983.csv \
	tests/data/outlier_rosner1983.expect.csv \
	tests/data/reg_nist_noint1.csv \
	tests/data/reg_nist_noint1.expect.csv \
	tests/data/reg_nist_norris.csv \
	tests/data/reg_nist_norris.expect.csv \
	tests/data/reg_nist_pontius.csv \
	tests/data/reg_nist_pontius.expect.csv \
	tests/data/reliability_constants.expect.csv \
	tests/data/reliability_level_net.csv \
	tests/data/reliability_level_net.expect.csv \
	tests/data/stat_gum_443.csv \
	tests/data/stat_gum_443.expect.csv \
	tests/data/stat_nist_michelson.csv \
	tests/data/stat_nist_michelson.expect.csv \
	tests/data/stat_nist_numacc1.csv \
	tests/data/stat_nist_numacc1.expect.csv \
	tests/data/stat_nist_numacc4.csv \
	tests/data/stat_nist_numacc4.expect.csv \
	tests/data/unc_ea402_s10.csv \
	tests/data/unc_ea402_s10.expect.csv \
	tests/data/unc_ea402_s4.csv \
	tests/data/unc_ea402_s4.expect.csv \
	tests/data/unc_gum_h1.csv \
	tests/data/unc_gum_h1.expect.csv \
	tests/data/unc_gum_h3.csv \
	tests/data/unc_gum_h3.expect.csv \
	tests/data/unc_gum_table_g2.expect.csv \
	tests/data/unc_jcgm101_additive.expect.csv
