/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define OG_TYPE_TAG_FILTER (og_tag_filter_get_type ())
G_DECLARE_FINAL_TYPE (OgTagFilter, og_tag_filter, OG, TAG_FILTER, GtkWidget)

/* A list of what the reader may want to do without, to be ticked. Signal: "changed". */
GtkWidget         *og_tag_filter_new      (void);
/** Returns: (transfer none) (nullable): tags to leave out, valid until the next change; %NULL if none is ticked */
const char *const *og_tag_filter_get_tags (OgTagFilter *self);
guint              og_tag_filter_get_n    (OgTagFilter *self);
/** Ticks or clears one tag. Returns: whether the list has it */
gboolean           og_tag_filter_set      (OgTagFilter *self,
                                           const char  *tag,
                                           gboolean     without);
void               og_tag_filter_clear    (OgTagFilter *self);

G_END_DECLS
