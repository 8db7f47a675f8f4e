/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/**
 * OgPaletteFirst:
 *
 * Ids of the materials that stand first in the palette: those that are pinned, and the last few that
 * were used. Kept in the settings, where all windows read them.
 */
typedef struct _OgPaletteFirst OgPaletteFirst;

/** @settings: (nullable): without, they last as long as the object */
OgPaletteFirst    *og_palette_first_new        (GSettings            *settings);
void               og_palette_first_free       (OgPaletteFirst       *first);

/** Returns: (transfer none): ids in order, %NULL-terminated, until the next call that changes them */
const char *const *og_palette_first_get_pinned (OgPaletteFirst       *first);
/** Returns: (transfer none): ids, the last one first */
const char *const *og_palette_first_get_recent (OgPaletteFirst       *first);
gboolean           og_palette_first_is_pinned  (OgPaletteFirst       *first,
                                                const char           *id);
/** Pins @id, or lets it go if it is pinned. */
void               og_palette_first_toggle     (OgPaletteFirst       *first,
                                                const char           *id);
/** @id was put into a recipe. */
void               og_palette_first_note_use   (OgPaletteFirst       *first,
                                                const char           *id);

G_END_DECLS
