/* SPDX-License-Identifier: GPL-3.0-or-later */
/* backup.c: a copy as of one moment, while others may write
 * (sqlite.org/backup.html). */
#include "book.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Made by us and nobody else, so that no file is written over. */
static jaw_status make_file(const jaw_book *book, const char *path)
{
    int fd = open(path, O_WRONLY | O_CREAT | O_EXCL, 0666);

    if (fd >= 0)
        close(fd);
    else if (errno == EEXIST)
        return jaw__book_say(book, SAY_THERE, path);
    else
        return jaw__book_say(book, SAY_NO_COPY, path, strerror(errno));
    return JAW_OK;
}

/* All pages in one step: the source is read-locked meanwhile, which a writer
 * waits for. */
static int copy_pages(jaw_book *book, sqlite3 *copy)
{
    sqlite3_backup *backup =
        sqlite3_backup_init(copy, "main", book->db, "main");
    int code = SQLITE_OK, waited = 0;

    if (backup == NULL)
        return sqlite3_extended_errcode(copy);
    while (((code = sqlite3_backup_step(backup, -1)) & 0xff) == SQLITE_BUSY &&
           waited < book->patience) {
        sqlite3_sleep(20);
        waited += 20;
    }
    int end = sqlite3_backup_finish(backup);
    return code == SQLITE_DONE ? end : code;
}

static jaw_status say_no_copy(const jaw_book *book, sqlite3 *copy, int code,
                              const char *path)
{
    int number = copy == NULL ? 0 : sqlite3_system_errno(copy);

    if ((code & 0xff) == SQLITE_NOMEM || code == SQLITE_IOERR_NOMEM)
        return JAW_ENOMEM;
    if ((code & 0xff) == SQLITE_BUSY)
        return jaw__book_failed(book, code);
    jaw_status status = jaw__book_say(
        book, SAY_NO_COPY, path,
        (code & 0xff) == SQLITE_FULL || number == ENOSPC ? "the disk is full"
        : number != 0 ? strerror(number) : sqlite3_errstr(code));
    return (code & 0xff) == SQLITE_FULL || number == ENOSPC ? JAW_EFULL
                                                            : status;
}

/* Into a file that was made just now. */
static jaw_status copy_to(jaw_book *book, const char *path)
{
    sqlite3 *copy = NULL;
    jaw_status status = JAW_OK;

    int code = sqlite3_open_v2(path, &copy,
                               SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX |
                                   SQLITE_OPEN_EXRESCODE, NULL);
    if (code == SQLITE_OK)
        code = sqlite3_exec(copy, "PRAGMA synchronous = EXTRA", NULL, NULL,
                            NULL);
    if (code == SQLITE_OK)
        code = copy_pages(book, copy);
    if (code != SQLITE_OK)
        status = say_no_copy(book, copy, code, path);
    sqlite3_close(copy);
    if (code != SQLITE_OK)
        unlink(path);
    return status;
}

jaw_status jaw_book_backup(jaw_book *book, const char *path)
{
    char *name = jaw__book_file(path);
    jaw_status status = name == NULL ? JAW_ENOMEM : make_file(book, name);

    if (status == JAW_OK)
        status = copy_to(book, name);
    free(name);
    return status;
}
