/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/product.h"
#include "gtk/ledger/ledger-page.h"

G_BEGIN_DECLS

#define OG_TYPE_BATCH_NOTES_PAGE (og_batch_notes_page_get_type ())
G_DECLARE_FINAL_TYPE (OgBatchNotesPage, og_batch_notes_page, OG, BATCH_NOTES_PAGE, OgLedgerPage)

/** OgBatchForm: what can be written into a record by hand. */
typedef enum
{
  OG_BATCH_FORM_DEVIATION,   /* what, decision */
  OG_BATCH_FORM_SAMPLE,      /* number, place, until */
  OG_BATCH_FORM_MEASUREMENT, /* what, value, temperature */
  OG_BATCH_FORM_FILLING,     /* empty container, weights of filled ones */
  OG_BATCH_FORM_OUTPUT,      /* units made, version of the label */
  OG_N_BATCH_FORMS
} OgBatchForm;

/**
 * og_batch_notes_page_new:
 * @package: what filled containers are judged by
 *
 * Deviations, photos, samples, measurements, filled containers and output of a batch, and all that
 * the record holds of them.
 */
GtkWidget  *og_batch_notes_page_new         (const char       *number,
                                             const OgPackage  *package,
                                             double            density_20_g_ml);
/** Types into field @index of a form. */
void        og_batch_notes_page_type        (OgBatchNotesPage *self,
                                             OgBatchForm       form,
                                             guint             index,
                                             const char       *text);
/** Records what is typed in a form. Returns: FALSE, having said why, if it is refused */
gboolean    og_batch_notes_page_commit      (OgBatchNotesPage *self,
                                             OgBatchForm       form);
/** Returns: (transfer none): what is said about the weights that are typed */
const char *og_batch_notes_page_get_verdict (OgBatchNotesPage *self);
/** Records that @path is a photo of the batch. Returns: FALSE, having said why, if it is refused */
gboolean    og_batch_notes_page_add_photo   (OgBatchNotesPage *self,
                                             const char       *path);

G_END_DECLS
