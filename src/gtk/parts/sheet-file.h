/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "draw/card.h"

G_BEGIN_DECLS

/** @error: (nullable): why the file was not written; %NULL when it was */
typedef void (*OgSheetFunc) (GtkWindow *parent, const GError *error, gpointer data);

/**
 * og_sheet_file_ask:
 * @sheet: (transfer full)
 * @name: file name to suggest, with its suffix
 *
 * Asks where to, and writes @sheet there in the format of the suffix. @func is called once, unless
 * the reader gives up or @parent goes away before.
 */
void og_sheet_file_ask (GtkWindow   *parent,
                        OgCard      *sheet,
                        const char  *name,
                        OgSheetFunc  func,
                        gpointer     data);

G_END_DECLS
