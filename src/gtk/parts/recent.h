/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/** OgRecent: a recipe file worked on lately. */
typedef struct
{
  char *uri;
  char *name;   /* file name without its suffix */
  char *folder; /* for display */
} OgRecent;

/**
 * Returns: (transfer full) (element-type OgRecent): newest first, at most @most, missing local
 * files left out
 */
GPtrArray *og_recent_list (guint       most);
void       og_recent_add  (GFile      *file);
/** Fills @menu with the recent files; each activates "win.open-recent". */
void       og_recent_fill (GMenu      *menu,
                           guint       most);

G_END_DECLS
