/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * A disk in memory for SQLite whose power can be cut: what was not synchronised by then is there in
 * part, in blocks of 512 bytes and in any order, as a real disk may leave it. One connection at a
 * time.
 */

/** Makes it the disk of all ledgers that are opened from now on. */
void     power_disk_install   (void);
/** Everything is forgotten. */
void     power_disk_clear     (void);
/** The power goes when @n_writes more have been made. */
void     power_disk_cut_after (guint       n_writes);
gboolean power_disk_is_dead   (void);
/** The power comes back; @rand: what of the unsynchronised blocks is found. Nobody may have a file
 * open. */
void     power_disk_restore   (GRand      *rand);

G_END_DECLS
