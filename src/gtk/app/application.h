/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define OG_TYPE_APPLICATION (og_application_get_type ())
G_DECLARE_FINAL_TYPE (OgApplication, og_application, OG, APPLICATION, GtkApplication)

/*
 * The program with its windows. Actions: "app.new-window", "app.quit", "app.show-ledger",
 * "app.batch-record" (string: number of a batch), "app.open-file" (string: URI; uint32: id of a
 * window that may be used if nothing is in it yet, 0 for none).
 */
OgApplication *og_application_new (void);

G_END_DECLS
