/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Locks between programs: a descriptor holds one until it is closed, at the latest by the end of
 * the program, however that comes. */

/*
 * @flags: of open(), for a file of the program or a folder (%OG_LOCK_FOLDER). Returns: the
 * descriptor, or -1 with errno: EWOULDBLOCK if somebody else holds the lock
 */
int _og_lock_try  (const char *path,
                   int         flags);
/* The same, but waits for others up to @wait_ms. */
int _og_lock_wait (const char *path,
                   int         flags,
                   guint       wait_ms);
/* How long to wait for another program that writes into the same folder. */
#define OG_LOCK_WAIT_MS 5000
/* A lock on a folder leaves nothing behind. */
#define OG_LOCK_FOLDER (O_RDONLY | O_DIRECTORY)

G_END_DECLS
