/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define OG_TYPE_TEXT_FIELD (og_text_field_get_type ())
G_DECLARE_FINAL_TYPE (OgTextField, og_text_field, OG, TEXT_FIELD, GtkBox)

/*
 * A line of a form: what is asked for, an entry, and below them what is wrong with the text.
 * Signals: "changed" (the text is another one; what was wrong is no longer told), "activate" (Enter
 * was pressed).
 */

/** @hint: (nullable): shown while nothing is typed */
GtkWidget  *og_text_field_new         (const char   *title,
                                       const char   *hint);
/** Returns: (transfer full) (nullable): what is typed, without space around it; %NULL for nothing */
char       *og_text_field_get_text    (OgTextField  *self);
/** @text: (nullable) */
void        og_text_field_set_text    (OgTextField  *self,
                                       const char   *text);
/** @problem: (nullable): a translated sentence */
void        og_text_field_set_problem (OgTextField  *self,
                                       const char   *problem);
/** Returns: FALSE, having said so, if the text is no day written YYYY-MM-DD; nothing is one */
gboolean    og_text_field_check_day   (OgTextField  *self);
/** Lets the title take part in a common width. */
void        og_text_field_join        (OgTextField  *self,
                                       GtkSizeGroup *titles);

G_END_DECLS
