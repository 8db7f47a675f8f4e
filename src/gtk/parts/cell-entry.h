/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define OG_TYPE_CELL_ENTRY (og_cell_entry_get_type ())
G_DECLARE_FINAL_TYPE (OgCellEntry, og_cell_entry, OG, CELL_ENTRY, GtkEntry)

/*
 * A text entry that shows a value of the document and asks to change it.
 *
 * It commits on Enter and when the focus leaves; Escape brings the shown value back. Text that is
 * refused stays as typed, marked as invalid, with the reason in the tooltip and in the property
 * "problem", until it is mended, reverted or replaced. A value set from outside while the reader is
 * typing waits until the text is committed or reverted.
 *
 * Properties: "numeric" (boolean, construct-only), "optional" (boolean: empty text is the number
 * NAN), "unit" (string, nullable: may follow the typed number), "other-unit" (string, nullable: makes it a
 * number of another kind, such as grams in a cell of per cents), "problem" (string, nullable, read-only).
 *
 * Signals: "submit-number" (double), "submit-other" (double, in the other unit) and "submit-text" (string), each only for text that differs
 * from what was shown. A handler returns NULL to accept, or a translated sentence (transfer full)
 * that says why not.
 */
GtkWidget  *og_cell_entry_new         (gboolean     numeric);
/** Shows @value with at least @least and at most @most decimals; NAN shows nothing. */
void        og_cell_entry_set_number  (OgCellEntry *self,
                                       double       value,
                                       guint        least,
                                       guint        most);
void        og_cell_entry_set_value   (OgCellEntry *self,
                                       const char  *text);
/** Returns: whether there is nothing left to commit: unchanged, or accepted */
gboolean    og_cell_entry_commit      (OgCellEntry *self);
/** The same for every cell entry in @widget. */
gboolean    og_cell_entry_commit_within (GtkWidget *widget);
void        og_cell_entry_revert      (OgCellEntry *self);
const char *og_cell_entry_get_problem (OgCellEntry *self);
/** Names the entry for screen readers. */
void        og_cell_entry_set_label   (OgCellEntry *self,
                                       const char  *label);

/**
 * Returns: (transfer full): @value in the reader's locale, trailing zeros cut down to @least
 * decimals; "" for NAN
 */
char       *og_number_to_text         (double       value,
                                       guint        least,
                                       guint        most);
/** The cell entry that holds the keyboard focus of @root, or NULL. */
OgCellEntry *og_cell_entry_focused    (GtkRoot     *root);

/** Aligns numbers at their right end, in right-to-left windows too, so that decimal marks stand
 * below each other. */
void og_align_number (GtkEditable *editable);

G_END_DECLS
