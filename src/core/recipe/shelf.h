/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/** OgShelfItem: one material as it stands in the workshop. */
typedef struct
{
  char   *ingredient_id;
  double  stock_g;      /* what is left of all its lots; 0 or more */
  double  price_per_kg; /* of the lot that would be used next; NAN if not said */
  char   *currency;     /* nullable: as the reader writes it, never converted */
  gint64  best_before;  /* of the earliest lot with something left, Unix time in s; 0 if not said */
} OgShelfItem;

/**
 * OgShelf:
 *
 * What is in stock and what it costs, as far as somebody has said so; a snapshot, immutable once
 * filled, reference counted.
 */
typedef struct _OgShelf OgShelf;

/** Returns: (transfer full): an empty shelf */
OgShelf           *og_shelf_new         (void);
/** Takes a reference. Returns: its argument */
OgShelf           *og_shelf_ref         (OgShelf            *shelf);
/** Gives a reference back; the last one frees. */
void               og_shelf_unref       (OgShelf            *shelf);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgShelf, og_shelf_unref)
/** Adds a copy of @item, or replaces the one of the same id. */
void               og_shelf_put         (OgShelf            *shelf,
                                         const OgShelfItem  *item);
/** Returns: (nullable) (transfer none): %NULL for a material nothing is known of, or without a @shelf */
const OgShelfItem *og_shelf_get         (const OgShelf      *shelf,
                                         const char         *ingredient_id);
/** TRUE if there is more than nothing of it. @shelf: (nullable) */
gboolean           og_shelf_has         (const OgShelf      *shelf,
                                         const char         *ingredient_id);
/** Returns: the number of materials on the shelf */
guint              og_shelf_get_n_items (const OgShelf      *shelf);
/** Returns: (transfer none): item @index, by id */
const OgShelfItem *og_shelf_get_item    (const OgShelf      *shelf,
                                         guint               index);

G_END_DECLS
