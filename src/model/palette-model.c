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
  GArray     *hits;    /* of OgHit: what is shown; materials borrowed from @catalog */
  gboolean    searched; /* @hits answer @words */
  GHashTable *objects; /* OgIngredient -> OgMaterial, made when asked for */

  char       *words;   /* nullable */
  gboolean    any_kind;
  OgKind      kind;
  char      **without;
  char      **pinned;  /* ids */
  char      **recent;  /* ids, the latest first */
  GHashTable *first;   /* ids of both, borrowed */
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
  return OG_PALETTE_MODEL (model)->hits->len;
}

static const OgIngredient *
get_shown (const OgPaletteModel *self,
           guint                 position)
{
  return g_array_index (self->hits, OgHit, position).ingredient;
}

static gpointer
og_palette_model_get_item (GListModel *model,
                           guint       position)
{
  OgPaletteModel *self = OG_PALETTE_MODEL (model);
  const OgIngredient *ingredient;
  OgMaterial *material;

  if (position >= self->hits->len)
    return NULL;

  ingredient = get_shown (self, position);
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
  g_array_unref (self->hits);
  g_clear_pointer (&self->catalog, og_catalog_unref);
  g_free (self->words);
  g_strfreev (self->without);
  g_hash_table_unref (self->first);
  g_strfreev (self->pinned);
  g_strfreev (self->recent);

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
  self->hits = g_array_new (FALSE, FALSE, sizeof (OgHit));
  self->first = g_hash_table_new (g_str_hash, g_str_equal);
  self->objects = g_hash_table_new_full (NULL, NULL, NULL, g_object_unref);
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
  return is_of_kind (self, ingredient) && !is_left_out (self, ingredient);
}

static gboolean
holds (char       **ids,
       const char  *id)
{
  return ids != NULL && g_strv_contains ((const char *const *) ids, id);
}

static gboolean
is_first (const OgPaletteModel *self,
          const OgIngredient   *ingredient)
{
  return g_hash_table_contains (self->first, ingredient->id);
}

static void
take (OgPaletteModel *self,
      GArray         *found,
      char          **ids,
      char          **but)
{
  for (guint i = 0; ids != NULL && ids[i] != NULL; i++)
    {
      const OgHit hit = { og_catalog_get (self->catalog, ids[i]), OG_MATCH_INSIDE, 0 };

      if (hit.ingredient != NULL && !holds (but, ids[i]) && is_shown (self, hit.ingredient))
        g_array_append_val (found, hit);
    }
}

/* Adds those hits of @start up to @end that are shown and are first, or are not. */
static void
append_hits (OgPaletteModel *self,
             GArray         *found,
             const GArray   *hits,
             guint           start,
             guint           end,
             gboolean        first)
{
  for (guint i = start; i < end; i++)
    {
      const OgHit *hit = &g_array_index (hits, OgHit, i);

      if (is_first (self, hit->ingredient) == first && is_shown (self, hit->ingredient))
        g_array_append_val (found, *hit);
    }
}

/* Of answers that are equally good, what is pinned or in use stands first. */
static void
append_answers (OgPaletteModel *self,
                GArray         *found,
                const GArray   *hits)
{
  guint end;

  for (guint start = 0; start < hits->len; start = end)
    {
      const guint score = g_array_index (hits, OgHit, start).score;

      for (end = start; end < hits->len && g_array_index (hits, OgHit, end).score == score;)
        end++;
      append_hits (self, found, hits, start, end, TRUE);
      append_hits (self, found, hits, start, end, FALSE);
    }
}

static GArray *
find (OgPaletteModel *self)
{
  g_autoptr (GArray) hits = og_catalog_search (self->catalog, self->words);
  GArray *found = g_array_new (FALSE, FALSE, sizeof (OgHit));

  if (self->searched)
    append_answers (self, found, hits);
  else
    {
      take (self, found, self->pinned, NULL);
      take (self, found, self->recent, self->pinned);
      append_hits (self, found, hits, 0, hits->len, FALSE);
    }
  return found;
}

/* Returns: (transfer container): the materials of @hits alone */
static GPtrArray *
list_materials (const GArray *hits)
{
  GPtrArray *materials = g_ptr_array_sized_new (hits->len);

  for (guint i = 0; i < hits->len; i++)
    g_ptr_array_add (materials, (gpointer) g_array_index (hits, OgHit, i).ingredient);
  return materials;
}

static void
filter (OgPaletteModel *self)
{
  g_autoptr (GArray) old = g_steal_pointer (&self->hits);
  g_autoptr (GPtrArray) before = list_materials (old);
  g_autoptr (GPtrArray) after = NULL;

  self->hits = find (self);
  after = list_materials (self->hits);
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

void
og_palette_model_set_words (OgPaletteModel *self,
                            const char     *words)
{
  g_return_if_fail (OG_IS_PALETTE_MODEL (self));

  g_free (self->words);
  self->words = g_strstrip (g_strdup (words != NULL ? words : ""));
  self->searched = *self->words != '\0';
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

static gboolean
are_same (char              **kept,
          const char *const  *ids)
{
  static const char *const none[] = { NULL };

  return g_strv_equal (kept != NULL ? (const char *const *) kept : none, ids != NULL ? ids : none);
}

static void
keep_ids (OgPaletteModel     *self,
          char             ***kept,
          const char *const  *ids)
{
  g_strfreev (*kept);
  *kept = g_strdupv ((char **) ids);
  for (guint i = 0; *kept != NULL && (*kept)[i] != NULL; i++)
    g_hash_table_add (self->first, (*kept)[i]);
}

void
og_palette_model_set_first (OgPaletteModel    *self,
                            const char *const *pinned,
                            const char *const *recent)
{
  g_return_if_fail (OG_IS_PALETTE_MODEL (self));

  if (are_same (self->pinned, pinned) && are_same (self->recent, recent))
    return;
  g_hash_table_remove_all (self->first);
  keep_ids (self, &self->pinned, pinned);
  keep_ids (self, &self->recent, recent);
  filter (self);
}

OgPaletteSection
og_palette_model_get_section (OgPaletteModel *self,
                              guint           position)
{
  const char *id;

  g_return_val_if_fail (OG_IS_PALETTE_MODEL (self) && position < self->hits->len,
                        OG_PALETTE_SECTION_KIND);

  if (self->searched)
    return og_hits_are_near (self->hits) ? OG_PALETTE_SECTION_NEAR : OG_PALETTE_SECTION_FOUND;
  id = get_shown (self, position)->id;
  return holds (self->pinned, id)   ? OG_PALETTE_SECTION_PINNED
         : holds (self->recent, id) ? OG_PALETTE_SECTION_RECENT
                                    : OG_PALETTE_SECTION_KIND;
}

const OgIngredient *
og_palette_model_get_sure (OgPaletteModel *self)
{
  g_return_val_if_fail (OG_IS_PALETTE_MODEL (self), NULL);

  return self->searched ? og_hits_get_sure (self->hits) : NULL;
}
