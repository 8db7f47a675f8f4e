/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "model/document.h"

G_BEGIN_DECLS

/**
 * og_document_load_async:
 * @file: a document or a recipe table, told apart by content
 *
 * Replaces everything in @self by what @file holds. A document file becomes the file of @self; a
 * recipe table (CSV) is loaded as a new document without a file. On an error @self stays as it was.
 */
void      og_document_load_async   (OgDocument           *self,
                                    GFile                *file,
                                    GCancellable         *cancellable,
                                    GAsyncReadyCallback   callback,
                                    gpointer              user_data);
/**
 * og_document_load_again_async:
 *
 * Reads the file of @self anew, as one step of the history: undo brings back what was here, then
 * unsaved. On an error @self stays as it was. Ends with og_document_load_finish().
 */
void      og_document_load_again_async (OgDocument       *self,
                                    GCancellable         *cancellable,
                                    GAsyncReadyCallback   callback,
                                    gpointer              user_data);
/** Returns: %FALSE with an #OgStorageError, #OgTableError or #GIOErrorEnum */
gboolean  og_document_load_finish  (OgDocument           *self,
                                    GAsyncResult         *result,
                                    GError              **error);

/**
 * og_document_save_async:
 * @file: (nullable): %NULL saves where it was loaded from or saved to before
 * @overwrite: whether to replace a file that somebody else changed meanwhile
 *
 * Saves the recipe as it stands at the call and makes that the saved point; later edits stay
 * unsaved. The file is replaced atomically and its previous version kept beside it as "NAME~".
 * Asking before another file is replaced is up to the caller.
 */
void      og_document_save_async   (OgDocument           *self,
                                    GFile                *file,
                                    gboolean              overwrite,
                                    GCancellable         *cancellable,
                                    GAsyncReadyCallback   callback,
                                    gpointer              user_data);
/**
 * og_document_save_finish:
 *
 * Returns: %FALSE with %G_IO_ERROR_WRONG_ETAG if the file changed on disk since it was loaded,
 *   %G_IO_ERROR_PENDING if another save is under way, or another #GIOErrorEnum or #GFileError; the
 *   document then stays modified
 */
gboolean  og_document_save_finish  (OgDocument           *self,
                                    GAsyncResult         *result,
                                    GError              **error);

/** Returns: (nullable) (transfer none) */
GFile    *og_document_get_file     (OgDocument           *self);
/**
 * Returns: %TRUE once the file is not what was loaded or saved here; follows changes by itself
 * (property "changed-on-disk")
 */
gboolean  og_document_get_changed_on_disk (OgDocument    *self);

/**
 * og_document_keep_draft:
 * @folder: a local folder for drafts, made when needed
 *
 * Starts to keep a draft: within 5 seconds of a change of an unsaved document it is written to
 * @folder, and removed after a good save, when undo comes back to the saved point, or by
 * og_document_drop_draft().
 */
void       og_document_keep_draft  (OgDocument           *self,
                                    GFile                *folder);
/** Removes the draft and keeps none any more: for an orderly close. */
void       og_document_drop_draft  (OgDocument           *self);

/**
 * Returns: (transfer full) (element-type GFile): drafts left behind by programs that ended
 * badly, oldest name first
 */
GPtrArray *og_drafts_list          (GFile                *folder);
/**
 * og_document_adopt_draft:
 * @draft: one of og_drafts_list()
 *
 * Loads @draft into @self as an unsaved document that remembers the file it belonged to, and goes
 * on with it as the draft of @self. Saving over that file is refused like any other change if it is
 * not what it was then.
 *
 * Returns: %FALSE with %G_IO_ERROR_BUSY if a program that runs has it, an #OgStorageError or a
 *   #GIOErrorEnum; draft and document then stay as they were
 */
gboolean   og_document_adopt_draft (OgDocument           *self,
                                    GFile                *draft,
                                    GError              **error);
/**
 * og_draft_get_name:
 * @library: materials that own ones may be derived from
 *
 * Returns: (transfer full): the title of the recipe in a left-behind draft, else the name of the file it
 *   belonged to, else "Untitled recipe", translated; %NULL as og_document_adopt_draft()
 */
char      *og_draft_get_name       (GFile                *draft,
                                    OgCatalog            *library,
                                    GError              **error);
/** Deletes a left-behind draft that nobody wants. Returns: %FALSE as og_document_adopt_draft() */
gboolean   og_draft_discard        (GFile                *draft,
                                    GError              **error);

G_END_DECLS
