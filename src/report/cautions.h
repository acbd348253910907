/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cautions.h: what stands under every set of values and in the manual. */
#ifndef JAW__CAUTIONS_H
#define JAW__CAUTIONS_H

#define JAW__CAUTION_LIST(X)                                                   \
    X("These values are advice; you enter them and you answer for them.")      \
    X("Check sign and size of each one on the control's screen.")              \
    X("First run above the part: single block, rapids low, hand on the stop.") \
    X("The machine builder's instructions, local rules and trained practice "  \
      "come first.")

#endif
