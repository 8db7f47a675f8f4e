/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/recipe/shelf.h"

struct _OgShelf
{
  gatomicrefcount ref_count;
  GPtrArray      *items; /* of OgShelfItem, by id */
};

static void
item_free (OgShelfItem *item)
{
  g_free (item->ingredient_id);
  g_free (item->currency);
  g_free (item);
}

OgShelf *
og_shelf_new (void)
{
  OgShelf *shelf = g_new0 (OgShelf, 1);

  g_atomic_ref_count_init (&shelf->ref_count);
  shelf->items = g_ptr_array_new_with_free_func ((GDestroyNotify) item_free);
  return shelf;
}

OgShelf *
og_shelf_ref (OgShelf *shelf)
{
  g_return_val_if_fail (shelf != NULL, NULL);

  g_atomic_ref_count_inc (&shelf->ref_count);
  return shelf;
}

void
og_shelf_unref (OgShelf *shelf)
{
  g_return_if_fail (shelf != NULL);

  if (!g_atomic_ref_count_dec (&shelf->ref_count))
    return;
  g_ptr_array_unref (shelf->items);
  g_free (shelf);
}

/* Returns: where @ingredient_id stands, or where it would have to. */
static guint
find (const OgShelf *shelf,
      const char    *ingredient_id,
      gboolean      *found)
{
  guint low = 0;
  guint high = shelf->items->len;

  *found = FALSE;
  while (low < high && !*found)
    {
      const guint middle = low + (high - low) / 2;
      const OgShelfItem *item = g_ptr_array_index (shelf->items, middle);
      const int order = g_strcmp0 (ingredient_id, item->ingredient_id);

      *found = order == 0;
      if (order > 0)
        low = middle + 1;
      else
        high = middle;
    }
  return high;
}

void
og_shelf_put (OgShelf           *shelf,
              const OgShelfItem *item)
{
  OgShelfItem *copy;
  gboolean found;
  guint i;

  g_return_if_fail (shelf != NULL && item != NULL && item->ingredient_id != NULL);

  copy = g_memdup2 (item, sizeof *item);
  copy->ingredient_id = g_strdup (item->ingredient_id);
  copy->currency = g_strdup (item->currency);
  i = find (shelf, item->ingredient_id, &found);
  if (found)
    g_ptr_array_remove_index (shelf->items, i);
  g_ptr_array_insert (shelf->items, (int) i, copy);
}

const OgShelfItem *
og_shelf_get (const OgShelf *shelf,
              const char    *ingredient_id)
{
  gboolean found;
  guint i;

  g_return_val_if_fail (ingredient_id != NULL, NULL);

  if (shelf == NULL)
    return NULL;
  i = find (shelf, ingredient_id, &found);
  return found ? g_ptr_array_index (shelf->items, i) : NULL;
}

gboolean
og_shelf_has (const OgShelf *shelf,
              const char    *ingredient_id)
{
  const OgShelfItem *item = og_shelf_get (shelf, ingredient_id);

  return item != NULL && item->stock_g > 0.0;
}

guint
og_shelf_get_n_items (const OgShelf *shelf)
{
  g_return_val_if_fail (shelf != NULL, 0);

  return shelf->items->len;
}

const OgShelfItem *
og_shelf_get_item (const OgShelf *shelf,
                   guint          index)
{
  g_return_val_if_fail (shelf != NULL && index < shelf->items->len, NULL);

  return g_ptr_array_index (shelf->items, index);
}
