/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "model/document.h"

G_BEGIN_DECLS

/* What document-edit.c does to a document. */

/* Returns: an id above all that lines and phases ever had, undone ones too */
guint          _og_document_get_next_id    (OgDocument    *self);
/* Makes @formula (transfer full), whose balance is solved, the next step. See og_history_push(). */
void           _og_document_push           (OgDocument    *self,
                                            OgFormula     *formula,
                                            const char    *label,
                                            const char    *key);

/* What document-io.c and drafts.c keep with a document, and what only they may do to it. */

typedef struct _OgFileState OgFileState;
typedef struct _OgDraftKeeper OgDraftKeeper;

/* Returns: (nullable) (transfer none) */
OgFileState   *_og_document_get_file_state (OgDocument    *self);
/* @state: (nullable) (transfer full): takes the place of the one before, which is freed */
void           _og_document_set_file_state (OgDocument    *self,
                                            OgFileState   *state);
/* Returns: (nullable) (transfer none) */
OgDraftKeeper *_og_document_get_keeper     (OgDocument    *self);
/* @keeper: (nullable) (transfer full): takes the place of the one before, which is freed */
void           _og_document_set_keeper     (OgDocument    *self,
                                            OgDraftKeeper *keeper);

/* Returns: (transfer none): what own materials lie over */
OgCatalog     *_og_document_get_library    (OgDocument    *self);
/* Tells that "file" is another one. */
void           _og_document_notify_file    (OgDocument    *self);
/* Tells that "changed-on-disk" is otherwise. */
void           _og_document_notify_disk    (OgDocument    *self);
/* Tells "draft-failed" with @error, which stays the caller's. */
void           _og_document_draft_failed   (OgDocument    *self,
                                            const GError  *error);

/**
 * Ends typing, so that the recipe of the returned number stays in the history until it is marked
 * as saved.
 */
guint64        _og_document_begin_save     (OgDocument    *self);
/* @serial 0: nothing that the history holds is saved. */
void           _og_document_mark_saved_at  (OgDocument    *self,
                                            guint64        serial);

/* document-io.c */

/* Frees @state with all it holds; its file monitor goes silent. */
void           _og_file_state_free         (OgFileState   *state);
/* Says which file, and which version of it, the document belongs to. Both nullable. */
void           _og_document_attach         (OgDocument    *self,
                                            GFile         *file,
                                            const char    *etag);
/* Returns: (nullable) (transfer none) */
const char    *_og_document_get_etag       (OgDocument    *self);

/* drafts.c */

/* Ends the keeping of drafts; drafts on disk stay. */
void           _og_draft_keeper_free       (OgDraftKeeper *keeper);
/* After a good save: removes the draft, unless there are newer changes. */
void           _og_document_draft_is_saved (OgDocument    *self);

G_END_DECLS
