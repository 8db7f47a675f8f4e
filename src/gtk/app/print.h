/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "model/document.h"

G_BEGIN_DECLS

typedef void (*OgPrintFunc) (GtkWindow *parent, const GError *error, gpointer data);

/**
 * og_print_card:
 *
 * Prints the recipe card of @document after the usual print dialog; page setup and printer settings
 * are kept until the program ends. @func (nullable) is called when it failed.
 */
void     og_print_card        (GtkWindow   *parent,
                               OgDocument  *document,
                               OgPrintFunc  func,
                               gpointer     data);
/** The same pages into a PDF file, without a dialog or a printer. */
gboolean og_print_card_to_pdf (OgDocument  *document,
                               const char  *path,
                               GError     **error);

G_END_DECLS
