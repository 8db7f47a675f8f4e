/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "model/document.h"

G_BEGIN_DECLS

#define OG_TYPE_WORDS_DIALOG (og_words_dialog_get_type ())
G_DECLARE_FINAL_TYPE (OgWordsDialog, og_words_dialog, OG, WORDS_DIALOG, GtkWindow)

/*
 * From which viscosity, and which yield stress, on each word for the body is used in this
 * recipe. Can be applied only while the bounds are numbers that rise. Signal: "applied" (the
 * recipe has other bounds now).
 */
GtkWidget  *og_words_dialog_new   (OgDocument    *document);
/** Types @value as the lower bound of a word. */
void        og_words_dialog_type  (OgWordsDialog *self,
                                   OgBodyBound    bound,
                                   double         value);
/** Types what the program starts from. */
void        og_words_dialog_reset (OgWordsDialog *self);
/** Gives the bounds to the recipe as one step. Returns: FALSE if they are not valid */
gboolean    og_words_dialog_apply (OgWordsDialog *self);

G_END_DECLS
