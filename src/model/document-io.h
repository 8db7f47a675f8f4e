/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "model/document.h"

G_BEGIN_DECLS

/*
 * Loading and saving. Saving replaces the file atomically and keeps the previous version beside it as "NAME~"; it refuses with
 * G_IO_ERROR_WRONG_ETAG when the file changed on disk since it was loaded (force with @overwrite). Recipe tables (CSV) load as new,
 * untitled documents. A draft of an unsaved document is written to the user data folder within 5 seconds of a change and removed after
 * a good save or an orderly close.
 */
void      og_document_load_async  (OgDocument *self, GFile *file, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user_data);
gboolean  og_document_load_finish (OgDocument *self, GAsyncResult *result, GError **error);
/** @file: (nullable): NULL saves where it was loaded from */
void      og_document_save_async  (OgDocument *self, GFile *file, gboolean overwrite, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user_data);
gboolean  og_document_save_finish (OgDocument *self, GAsyncResult *result, GError **error);
GFile    *og_document_get_file    (OgDocument *self); /* (nullable) (transfer none) */

/** Starts to keep a draft of @self in @folder (the user data folder of the program). */
void       og_document_keep_draft (OgDocument *self, GFile *folder);
/** Removes the draft: after an orderly close. */
void       og_document_drop_draft (OgDocument *self);
/** Returns: (transfer full) (element-type GFile): drafts left behind by a crash */
GPtrArray *og_drafts_list         (GFile *folder);
/** Loads a left-behind draft into @self as an unsaved document that remembers the file it belonged to, and takes the draft over. */
gboolean   og_document_adopt_draft (OgDocument *self, GFile *draft, GError **error);

G_END_DECLS
