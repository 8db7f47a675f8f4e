/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/* What every file of the model is read and written with. */

/* Returns: (transfer full): the name of @file for people */
char     *_og_file_display_name (GFile         *file);

/*
 * Refuses what is not an ordinary file, or larger than any of this program.
 * @info: with type and size (%OG_FILE_READABLE_ATTRIBUTES)
 */
gboolean  _og_file_is_readable  (GFileInfo     *info,
                                 const char    *name,
                                 GError       **error);
#define OG_FILE_READABLE_ATTRIBUTES                                                               \
  G_FILE_ATTRIBUTE_STANDARD_TYPE "," G_FILE_ATTRIBUTE_STANDARD_SIZE

/*
 * Replaces @file as a whole, following links; its previous version is kept beside it as "NAME~". Holds
 * _og_file_lock() meanwhile, so that of several programs of this kind each sees what the others wrote.
 * @etag: (nullable): what the file must be now, else %G_IO_ERROR_WRONG_ETAG
 * @new_etag: (out) (nullable): what it is afterwards
 */
gboolean  _og_file_write        (GFile         *file,
                                 GBytes        *bytes,
                                 const char    *etag,
                                 char         **new_etag,
                                 GCancellable  *cancellable,
                                 GError       **error);
/* The same for somebody who holds the lock. */
gboolean  _og_file_write_held   (GFile         *file,
                                 GBytes        *bytes,
                                 const char    *etag,
                                 char         **new_etag,
                                 GCancellable  *cancellable,
                                 GError       **error);
/* Waits for others that write into the folder of @file. @fd: (out): closing it lets them in; -1 where nothing can be
 * locked. Returns: %FALSE with %G_IO_ERROR_BUSY */
gboolean  _og_file_lock         (GFile         *file,
                                 int           *fd,
                                 GError       **error);

G_END_DECLS
