/* SPDX-License-Identifier: GPL-3.0-or-later */
/* log.h: mistakes, collected while reading and told in the order of lines. */
#ifndef JAW__LOG_H
#define JAW__LOG_H

#include "lines.h"
#include "messages.h"
#include "quantity.h"

/* More than a person mends before reading again. */
enum { JAW__MISTAKES_MAX = 100, JAW__NOTES_MAX = JAW__MISTAKES_MAX + 8 };

typedef struct jaw__log {
    jaw_notes *notes; /* without file and source */
    size_t mistakes;
    bool full;        /* the next one would be too many; stop reading */
    bool no_memory;
} jaw__log;

/* Words of the text in a message: cut, and nothing that moves a terminal. */
enum { JAW__SHOWN_SIZE = 400 };
typedef struct jaw__shown {
    char text[JAW__SHOWN_SIZE];
} jaw__shown;

jaw__shown jaw__show(const char *s, size_t len);
jaw__shown jaw__show_int(long value);

bool jaw__log_start(jaw__log *log);
void jaw__log_drop(jaw__log *log);

/* jaw__mistake: an error of the text; NULL arguments are not used.
 * jaw__assumed: the same as an assumption. */
void jaw__mistake(jaw__log *log, jaw_place place, jaw__message id,
                  const char *a, const char *b, const char *c, const char *d);
void jaw__assumed(jaw__log *log, jaw_place place, jaw__message id,
                  const char *a);

/* jaw__log_pour: those of one source to `notes`, ordered by their places, with
 * its file and the line of its text.  What stands nowhere belongs to source 0,
 * and what says that more follow to the last: `last`. */
jaw_status jaw__log_pour(const jaw__log *log, int source, bool last,
                         const char *text, size_t len, const char *file,
                         jaw_notes *notes);

/* jaw__log_end: pours a log of one text and drops it.  JAW_OK, JAW_ESYNTAX,
 * JAW_ENOMEM. */
jaw_status jaw__log_end(jaw__log *log, const char *text, size_t len,
                        const char *file, jaw_notes *notes);

/* jaw__log_stopped: reading on is of no use. */
bool jaw__log_stopped(const jaw__log *log);

/* jaw__log_bad_char: the message for a character that can not stand here. */
void jaw__log_bad_char(jaw__log *log, jaw_place place, jaw__bad_char bad);

/* jaw__log_trouble: what keeps a token from being a number.  wanted: what the
 * number would be; example: of the whole. */
void jaw__log_trouble(jaw__log *log, const jaw__token *token,
                      const jaw__quantity *q, const char *wanted,
                      const char *example);

#endif
