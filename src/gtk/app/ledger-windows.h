/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "gtk/app/workshop.h"

G_BEGIN_DECLS

/** Shows the one window of the ledger, made at the first call. */
void og_ledger_windows_show        (GtkApplication *application,
                                    OgWorkshop     *workshop);
/** Shows the record of batch @number in its one window, or says why that cannot be. */
void og_ledger_windows_show_record (GtkApplication *application,
                                    OgWorkshop     *workshop,
                                    const char     *number);

G_END_DECLS
