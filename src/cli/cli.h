/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli.h: what the files of the command share. */
#ifndef JAW__CLI_H
#define JAW__CLI_H

#include <jawline.h>

#include "options.h"

/* Each runs one command and returns its exit status. */
int command_solve(const arguments *args);
int command_entered(const arguments *args);
int command_moved(const arguments *args);
int command_setups(const arguments *args);
int command_fit(const arguments *args);
int command_selftest(const arguments *args);
int command_synth(const arguments *args);
int command_tip(const arguments *args);
int command_tool(const arguments *args);
int command_tools(const arguments *args);
int command_setter(const arguments *args);
int command_machine(const arguments *args);
int command_mark(const arguments *args);
int command_marks(const arguments *args);
int command_fixture(const arguments *args);
int command_fixtures(const arguments *args);
int command_book(const arguments *args);

/* complain: one line on stderr, `jawline: what; cure`.  cure may be NULL. */
void complain(const char *cure, const char *format, ...) JAW_PRINTF(2, 3);

/* complain_unknown: of a word, with the one that a person most likely meant, or
 * else the cure. */
void complain_unknown(const char *what, const char *word, const char *near,
                      const char *cure);

/* no_memory: complains, and is false. */
bool no_memory(void);

/* exit_from: the exit status that a library status stands for. */
int exit_from(jaw_status status);

/* exit_from_solution: the worst of its status, its flags and the notes. */
int exit_from_solution(const jaw_solution *solution, const jaw_notes *notes,
                       jaw_status status);

/* lengths_read: what --lengths says, JAW_LENGTH_RULES when it was not given;
 * lengths_put: into a setup, in place of what its sheet says.  false after
 * complaining. */
bool lengths_read(const arguments *args, jaw_length_rule *rule);
bool lengths_put(jaw_length_rule rule, jaw_setup *setup);

/* colour_on: a terminal that wants colour (NO_COLOR, TERM). */
bool colour_on(FILE *stream);

/* notes_print: on stderr, those with at least this severity. */
void notes_print(const jaw_notes *notes, jaw_severity severity);

/* Text of a file, or of standard input for `-`. */
typedef struct input {
    const char *name; /* for messages */
    char *text;       /* len bytes and a 0; to be freed by input_drop */
    size_t len;
} input;

enum { INPUT_MAX = 1 << 30 };

/* input_read: false after complaining (no such file, a directory, more than
 * INPUT_MAX bytes, out of memory). */
bool input_read(const char *path, input *in);
/* input_try: of a file, never standard input, without complaining: what is
 * wrong, or NULL. */
const char *input_try(const char *path, input *in);
/* operands_join: operands as a text of one line each; false after complaining
 * (out of memory). */
bool operands_join(char *const operand[], int n, const char *name, input *in);
void input_drop(input *in);

/* A sheet and those that it includes. */
typedef struct sheets {
    const input *first;
    input *included; /* n of them, in the order in which they were fetched */
    size_t n;
} sheets;

/* sheets_read: jaw_sheet_read of a file; sheets_locate: jaw_notes_locate of
 * all; sheets_drop: frees what was fetched, not the first. */
jaw_status sheets_read(sheets *s, const input *in, jaw_setup *setup,
                       jaw_notes *notes);
jaw_status sheets_locate(const sheets *s, const jaw_setup *setup,
                         jaw_notes *notes, size_t from);
void sheets_drop(sheets *s);

/* A sheet that was read and solved. */
typedef struct solved {
    input in;
    sheets all;
    jaw_setup *setup;
    jaw_notes *notes;
    jaw_solution *solution; /* NULL: it has a mistake */
    jaw_status status;      /* of solving it */
} solved;

/* sheets_ready: read, with its lengths and what it leaves to the book filled
 * in; JAW_ESYNTAX with a mistake in it.  sheets_solve: jaw_setup_solve, its
 * notes located. */
jaw_status sheets_ready(const arguments *args, jaw_length_rule lengths,
                        const input *in, sheets *all, jaw_setup *setup,
                        jaw_notes *notes);
jaw_status sheets_solve(const sheets *all, const jaw_setup *setup,
                        jaw_notes *notes, jaw_solution **solution);

/* solved_read: notes from doubts on are not printed yet; args say which book
 * is meant; `where`: with where its features are (jaw_setup_ask_where).  false
 * after complaining; to be dropped either way. */
bool solved_read(const arguments *args, const char *path,
                 jaw_length_rule lengths, bool where, solved *s);
void solved_drop(solved *s);
/* tip_across: mm, across the largest tip. */
double tip_across(const jaw_setup *setup);
/* links_fill: what the setup of these sheets leaves to the book that the
 * arguments mean (jaw_book_fill), its notes located; JAW_EDOMAIN after
 * complaining about an argument. */
jaw_status links_fill(const arguments *args, const sheets *all,
                      jaw_setup *setup, jaw_notes *notes);

/* input_find: what stands behind KIND: POINTs, a FILE or standard input;
 * `bare`: a plain number is a POINT too.  false after complaining. */
bool input_find(const arguments *args, bool bare, input *in);

/* input_slash: the line, from 1, of the first lone `/`; 0: none. */
int input_slash(const input *in);

/* kind_find: false after complaining about an unknown word; `also` are more
 * words to offer, up to a NULL, at most KINDS_ALSO of them. */
enum { KINDS_ALSO = 40 };
bool kind_find(const char *word, const char *const also[],
               jaw_feature_kind *kind);

#endif
