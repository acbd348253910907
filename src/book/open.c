/* SPDX-License-Identifier: GPL-3.0-or-later */
/* open.c: a book from its file.  What must never happen is that a file which
 * is no book, or a newer one, is touched. */
#include "book.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <sys/stat.h>

/* ------------------------------------------------------------------- file */

/* Every folder on the way to the file. */
static jaw_status make_folders(const jaw_book *book)
{
    char *path = strdup(book->path);
    jaw_status status = path == NULL ? JAW_ENOMEM : JAW_OK;
    char *slash = path;

    /* the first character is the root's own slash, or of a name */
    while (status == JAW_OK && (slash = strchr(slash + 1, '/')) != NULL) {
        *slash = '\0';
        if (mkdir(path, 0777) != 0 && errno != EEXIST)
            status = jaw__book_say(book, SAY_FOLDER, path, strerror(errno));
        *slash = '/';
    }
    free(path);
    return status;
}

static bool is_there(const char *path)
{
    struct stat st;

    return stat(path, &st) == 0 || (errno != ENOENT && errno != ENOTDIR);
}

static bool is_folder(const char *path)
{
    struct stat st;

    return stat(path, &st) == 0 && S_ISDIR(st.st_mode);
}

/* For writing even when only reading is meant: what an interrupted write left
 * behind is set right then.  A file that can not be written opens all the
 * same. */
static jaw_status open_file(jaw_book *book, jaw_book_use use)
{
    int flags = SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX |
                SQLITE_OPEN_EXRESCODE;

    if (*book->path == '\0' || is_folder(book->path))
        return jaw__book_say(book, SAY_NOT_A_BOOK, book->path);
    if (!is_there(book->path)) {
        if (use == JAW_BOOK_READ)
            return jaw__book_say(book, SAY_NO_BOOK, book->path);
        jaw_status status = make_folders(book);
        if (status != JAW_OK)
            return status;
        flags |= SQLITE_OPEN_CREATE;
    }
    int code = sqlite3_open_v2(book->path, &book->db, flags, NULL);
    return jaw__book_failed(book, book->db == NULL ? SQLITE_NOMEM : code);
}

/* ------------------------------------------------------------------ is it? */

/* EXTRA also waits for the folder, so that the journal's end is on the disk;
 * a journal that is deleted leaves no second file. */
static const char pragmas[] = "PRAGMA foreign_keys = ON;"
                              "PRAGMA synchronous = EXTRA;"
                              "PRAGMA trusted_schema = OFF;"
                              "PRAGMA cell_size_check = ON;";

/* All of one instant: another program may be making the book just now. */
static jaw_status read_mark(jaw_book *book, long long *mark, long long *number,
                            long long *tables)
{
    jaw_status status = jaw__book_run(book, "BEGIN");

    if (status == JAW_OK)
        status = jaw__book_number(book, "PRAGMA application_id", 0, mark);
    if (status == JAW_OK)
        status = jaw__book_number(book, "PRAGMA user_version", 0, number);
    if (status == JAW_OK)
        status = jaw__book_number(book, "SELECT count(*) FROM sqlite_schema", 0,
                                  tables);
    return status == JAW_OK ? jaw__book_run(book, "COMMIT") : status;
}

/* A new file has no tables; another program's has, without our mark. */
static jaw_status check_mark(jaw_book *book, jaw_book_use use, int *version)
{
    long long mark = 0, number = 0, tables = 0;
    jaw_status status = read_mark(book, &mark, &number, &tables);

    if (status != JAW_OK)
        return status;
    *version = (int)number;
    if (mark == 0 && number == 0 && tables == 0)
        return use == JAW_BOOK_READ
                   ? jaw__book_say(book, SAY_NO_BOOK, book->path)
                   : JAW_OK;
    if (mark != JAW__BOOK_MARK || number < 1)
        return jaw__book_say(book, SAY_NOT_A_BOOK, book->path);
    if (number > JAW__BOOK_VERSION)
        return jaw__book_say(book, SAY_NEWER, book->path, *version,
                             JAW__BOOK_VERSION);
    return JAW_OK;
}

static jaw_status set_up(jaw_book *book, jaw_book_use use)
{
    int version = 0;
    jaw_status status = open_file(book, use);

    if (status != JAW_OK)
        return status;
    jaw_book_patience(book, book->patience);
    status = jaw__book_run(book, pragmas);
    if (status == JAW_OK)
        status = check_mark(book, use, &version);
    if (status == JAW_OK && version < JAW__BOOK_VERSION)
        status = jaw__book_migrate(book);
    return status;
}

/* -------------------------------------------------------------- open, close */

char *jaw__book_file(const char *path)
{
    const char *front = path[0] == ':' ? "./" : "";
    char *name = malloc(strlen(front) + strlen(path) + 1);

    if (name != NULL)
        strcat(strcpy(name, front), path);
    return name;
}

jaw_status jaw_book_open(const char *path, jaw_book_use use, jaw_notes *notes,
                         jaw_book **book)
{
    jaw_book *b = calloc(1, sizeof *b);

    *book = NULL;
    if (b == NULL)
        return JAW_ENOMEM;
    b->notes = notes;
    /* our choice: writing an entry takes milliseconds, and a person still waits
     * this long for an answer */
    b->patience = 5000;
    b->path = jaw__book_file(path);
    jaw_status status = b->path == NULL ? JAW_ENOMEM : set_up(b, use);
    if (status == JAW_OK)
        *book = b;
    else
        jaw_book_close(b);
    return status;
}

void jaw__book_forget(jaw_book *book)
{
    for (size_t i = 0; i < book->n_texts; i++)
        free(book->text[i]);
    book->n_texts = 0;
    free(book->reading);
    book->reading = NULL;
}

void jaw_book_close(jaw_book *book)
{
    if (book == NULL)
        return;
    jaw__book_forget(book);
    sqlite3_close(book->db);
    free(book->path);
    free(book);
}

/* SQLite's own way of waiting looks ten times a second in the end, and so
 * hardly ever hits the moment between two entries of one who writes without a
 * pause. */
static int wait_a_little(void *user, int tries)
{
    jaw_book *book = user;
    struct timespec t;

    clock_gettime(CLOCK_MONOTONIC, &t);
    long long now = 1000LL * t.tv_sec + t.tv_nsec / 1000000;
    if (tries == 0)
        book->waits_since = now;
    if (now - book->waits_since >= book->patience)
        return 0;
    sqlite3_sleep(1 + tries % 7);
    return 1;
}

void jaw_book_patience(jaw_book *book, int milliseconds)
{
    book->patience = milliseconds;
    sqlite3_busy_handler(book->db, wait_a_little, book);
}
