/* SPDX-License-Identifier: GPL-3.0-or-later */
/* findings.h: answers to tasks, as text and as JSON. */
#ifndef JAW__REPORT_FINDINGS_H
#define JAW__REPORT_FINDINGS_H

#include "parts.h"

void jaw__put_finding(jaw__buffer *b, jaw__scale scale, const jaw_finding *f);
json_t *jaw__json_finding(const jaw_finding *f, jaw_unit unit, bool *failed);

#endif
