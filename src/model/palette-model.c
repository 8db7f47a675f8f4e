/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/palette-model.h"

#include <string.h>

#include "model/material-private.h"
#include "model/span.h"

struct _OgPaletteModel
{
  GObject     parent_instance;

  OgCatalog  *catalog;
  GPtrArray  *shown;   /* of const OgIngredient, borrowed from @catalog */
  GHashTable *objects; /* OgIngredient -> OgMaterial, made when asked for */

  char      **words;   /* folded, as they occur in a search text */
  gboolean    any_kind;
  OgKind      kind;
  char      **without;
};

static void list_model_init (GListModelInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (OgPaletteModel, og_palette_model, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (G_TYPE_LIST_MODEL, list_model_init))

static GType
og_palette_model_get_item_type (GListModel *model)
{
  return OG_TYPE_MATERIAL;
}

static guint
og_palette_model_get_n_items (GListModel *model)
{
  return OG_PALETTE_MODEL (model)->shown->len;
}

static gpointer
og_palette_model_get_item (GListModel *model,
                           guint       position)
{
  OgPaletteModel *self = OG_PALETTE_MODEL (model);
  const OgIngredient *ingredient;
  OgMaterial *material;

  if (position >= self->shown->len)
    return NULL;

  ingredient = g_ptr_array_index (self->shown, position);
  material = g_hash_table_lookup (self->objects, ingredient);
  if (material == NULL)
    {
      material = _og_material_new (ingredient);
      g_hash_table_insert (self->objects, (gpointer) ingredient, material);
    }

  return g_object_ref (material);
}

static void
list_model_init (GListModelInterface *iface)
{
  iface->get_item_type = og_palette_model_get_item_type;
  iface->get_n_items = og_palette_model_get_n_items;
  iface->get_item = og_palette_model_get_item;
}

static void
og_palette_model_finalize (GObject *object)
{
  OgPaletteModel *self = OG_PALETTE_MODEL (object);

  g_hash_table_unref (self->objects);
  g_ptr_array_unref (self->shown);
  g_clear_pointer (&self->catalog, og_catalog_unref);
  g_strfreev (self->words);
  g_strfreev (self->without);

  G_OBJECT_CLASS (og_palette_model_parent_class)->finalize (object);
}

static void
og_palette_model_class_init (OgPaletteModelClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = og_palette_model_finalize;
}

static void
og_palette_model_init (OgPaletteModel *self)
{
  self->any_kind = TRUE;
  self->shown = g_ptr_array_new ();
  self->objects = g_hash_table_new_full (NULL, NULL, NULL, g_object_unref);
}

static gboolean
has_words (const OgPaletteModel *self,
           const OgIngredient   *ingredient)
{
  for (guint i = 0; self->words != NULL && self->words[i] != NULL; i++)
    if (strstr (ingredient->search_text, self->words[i]) == NULL)
      return FALSE;

  return TRUE;
}

static gboolean
is_left_out (const OgPaletteModel *self,
             const OgIngredient   *ingredient)
{
  for (guint i = 0; self->without != NULL && self->without[i] != NULL; i++)
    if (og_ingredient_has_tag (ingredient, self->without[i]))
      return TRUE;

  return FALSE;
}

static gboolean
is_of_kind (const OgPaletteModel *self,
            const OgIngredient   *ingredient)
{
  return self->any_kind || ingredient->kind == self->kind;
}

static gboolean
is_shown (const OgPaletteModel *self,
          const OgIngredient   *ingredient)
{
  return is_of_kind (self, ingredient) && has_words (self, ingredient)
         && !is_left_out (self, ingredient);
}

static void
filter (OgPaletteModel *self)
{
  const guint n = og_catalog_get_n_items (self->catalog);
  g_autoptr (GPtrArray) before = g_steal_pointer (&self->shown);
  g_autoptr (GPtrArray) after = g_ptr_array_new ();

  for (guint i = 0; i < n; i++)
    {
      const OgIngredient *ingredient = og_catalog_get_item (self->catalog, i);

      if (is_shown (self, ingredient))
        g_ptr_array_add (after, (gpointer) ingredient);
    }

  self->shown = g_ptr_array_ref (after);
  og_span_announce (G_LIST_MODEL (self), before, after);
}

static gboolean
is_gone (gpointer ingredient,
         gpointer material,
         gpointer catalog)
{
  return og_catalog_get (catalog, ((const OgIngredient *) ingredient)->id) != ingredient;
}

OgPaletteModel *
og_palette_model_new (OgCatalog *catalog)
{
  OgPaletteModel *self;

  g_return_val_if_fail (catalog != NULL, NULL);

  self = g_object_new (OG_TYPE_PALETTE_MODEL, NULL);
  og_palette_model_set_catalog (self, catalog);

  return self;
}

void
og_palette_model_set_catalog (OgPaletteModel *self,
                              OgCatalog      *catalog)
{
  OgCatalog *old;

  g_return_if_fail (OG_IS_PALETTE_MODEL (self) && catalog != NULL);

  if (self->catalog == catalog)
    return;

  old = g_steal_pointer (&self->catalog);
  self->catalog = og_catalog_ref (catalog);
  filter (self);
  g_hash_table_foreach_remove (self->objects, is_gone, catalog);
  g_clear_pointer (&old, og_catalog_unref);
}

/* The rule of og_ingredient_matches(), with the words folded once for all materials. */
static char **
fold_words (const char *words)
{
  g_autofree char *folded = og_search_fold (words);

  return g_strsplit_set (folded, " \t\r\n", -1);
}

void
og_palette_model_set_words (OgPaletteModel *self,
                            const char     *words)
{
  g_return_if_fail (OG_IS_PALETTE_MODEL (self));

  g_strfreev (self->words);
  self->words = fold_words (words != NULL ? words : "");
  filter (self);
}

void
og_palette_model_set_kind (OgPaletteModel *self,
                           const char     *kind_nick)
{
  OgKind kind = OG_KIND_OIL;

  g_return_if_fail (OG_IS_PALETTE_MODEL (self));
  g_return_if_fail (kind_nick == NULL || og_kind_from_nick (kind_nick, &kind));

  self->any_kind = kind_nick == NULL;
  self->kind = kind;
  filter (self);
}

void
og_palette_model_set_without (OgPaletteModel    *self,
                              const char *const *tags)
{
  g_return_if_fail (OG_IS_PALETTE_MODEL (self));

  g_strfreev (self->without);
  self->without = g_strdupv ((char **) tags);
  filter (self);
}
