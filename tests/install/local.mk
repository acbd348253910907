# SPDX-License-Identifier: GPL-3.0-or-later
dist_check_SCRIPTS += tests/install/install.sh
TESTS += tests/install/install.sh
EXTRA_DIST += tests/install/client.c
