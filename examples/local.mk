# SPDX-License-Identifier: GPL-3.0-or-later
dist_check_SCRIPTS += examples/check
TESTS += examples/check
EXTRA_DIST += \
	examples/quickstart \
	examples/bench.jaw examples/bench.out \
	examples/blank.jaw examples/blank.out \
	examples/bore.jaw examples/bore.out \
	examples/cell.jaw examples/cell.out \
	examples/calibrate.rows examples/calibrate.out \
	examples/corner.jaw examples/corner.out \
	examples/dowel-bad.jaw examples/dowel-bad.out \
	examples/dowels.jaw examples/dowels.out \
	examples/from-book.sh examples/from-book.out \
	examples/lengths.jaw examples/lengths.out \
	examples/homed.sh examples/homed.out \
	examples/marks.jaw examples/marks.out \
	examples/plate.jaw examples/plate.out \
	examples/rotary.jaw examples/rotary.out \
	examples/saddle.jaw examples/saddle.out \
	examples/show.inc \
	examples/side-two.jaw examples/side-two.out \
	examples/sine.jaw examples/sine.out \
	examples/slotweb.jaw examples/slotweb.out \
	examples/stylus.jaw examples/stylus.out \
	examples/test-bar.jaw examples/test-bar.out \
	examples/three-two-one.jaw examples/three-two-one.out \
	examples/tombstone.jaw examples/tombstone.out \
	examples/tram.jaw examples/tram.out \
	examples/two-vises.jaw examples/two-vises.out \
	examples/typed.before examples/typed.shown examples/typed.out \
	examples/vee.jaw examples/vee.out \
	examples/vise-back.sh examples/vise-back.out \
	examples/week.sh examples/week.out
