/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/material/catalog.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/json-read.h"
#include "core/material/ingredient-private.h"

#define FORMAT "oleograph-catalog"
#define VERSION 1 /* of the format, see data/catalog/SCHEMA.md */

#define MAX_CANDIDATES 3 /* names that a message about an unknown one offers */

/* The ways to call a material, strongest first. */
typedef enum
{
  CALL_ID,
  CALL_NAME,
  CALL_ALIAS,
  CALL_INCI,
  N_CALLS
} Call;

struct _OgCatalog
{
  gatomicrefcount ref_count;
  OgCatalog      *base;             /* nullable */
  OgParameters   *parameters;       /* nullable */
  OgRules        *rules;            /* nullable */
  GHashTable     *rule_shares;      /* OgIngredient -> GArray of OgRuleShare: those added here, or all
                                     * where @rules are not those of @base */
  GHashTable     *own;              /* id -> OgIngredient: what this catalog adds */
  GHashTable     *calls[N_CALLS];   /* folded text -> GPtrArray of own OgIngredient */
  GPtrArray      *items;            /* all visible ones, in order */
  OgSearchIndex  *index;            /* nullable: of @items, see get_index() */
};

static int
compare_ingredients (const OgIngredient *a,
                     const OgIngredient *b)
{
  if (a->kind != b->kind)
    return a->kind < b->kind ? -1 : 1;
  return strcmp (a->sort_key, b->sort_key);
}

static int
compare_names (gconstpointer a,
               gconstpointer b,
               gpointer      user_data)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

static int
compare_items (gconstpointer a,
               gconstpointer b)
{
  return compare_ingredients (*(const OgIngredient *const *) a, *(const OgIngredient *const *) b);
}

static OgCatalog *
catalog_new (OgParameters *parameters,
             OgRules      *rules)
{
  OgCatalog *catalog = g_new0 (OgCatalog, 1);

  g_atomic_ref_count_init (&catalog->ref_count);
  catalog->parameters = parameters != NULL ? og_parameters_ref (parameters) : NULL;
  catalog->rules = rules != NULL ? og_rules_ref (rules) : NULL;
  catalog->rule_shares = g_hash_table_new_full (NULL, NULL, NULL, (GDestroyNotify) g_array_unref);
  catalog->own = g_hash_table_new_full (g_str_hash, g_str_equal, NULL,
                                        (GDestroyNotify) og_ingredient_unref);
  for (guint i = 0; i < N_CALLS; i++)
    catalog->calls[i] = g_hash_table_new_full (g_str_hash, g_str_equal, g_free,
                                               (GDestroyNotify) g_ptr_array_unref);
  catalog->items = g_ptr_array_new ();
  return catalog;
}

OgCatalog *
og_catalog_ref (OgCatalog *catalog)
{
  g_return_val_if_fail (catalog != NULL, NULL);

  g_atomic_ref_count_inc (&catalog->ref_count);
  return catalog;
}

void
og_catalog_unref (OgCatalog *catalog)
{
  if (catalog == NULL || !g_atomic_ref_count_dec (&catalog->ref_count))
    return;

  og_search_index_free (catalog->index);
  g_ptr_array_unref (catalog->items);
  for (guint i = 0; i < N_CALLS; i++)
    g_hash_table_unref (catalog->calls[i]);
  g_hash_table_unref (catalog->rule_shares);
  og_rules_unref (catalog->rules);
  g_hash_table_unref (catalog->own);
  og_parameters_unref (catalog->parameters);
  og_catalog_unref (catalog->base);
  g_free (catalog);
}

static char *
fold_call (const char *text)
{
  return g_strstrip (og_search_fold (text));
}

static void
add_call (OgCatalog          *catalog,
          Call                call,
          const char         *text,
          const OgIngredient *ingredient)
{
  g_autofree char *key = NULL;
  GPtrArray *called;

  if (text == NULL)
    return;

  key = fold_call (text);
  called = g_hash_table_lookup (catalog->calls[call], key);
  if (called == NULL)
    {
      called = g_ptr_array_new ();
      g_hash_table_insert (catalog->calls[call], g_steal_pointer (&key), called);
    }
  if (!g_ptr_array_find (called, ingredient, NULL))
    g_ptr_array_add (called, (gpointer) ingredient);
}

static void
catalog_match (OgCatalog          *catalog,
               const OgIngredient *ingredient)
{
  if (catalog->rules != NULL)
    g_hash_table_insert (catalog->rule_shares, (gpointer) ingredient,
                         og_rules_match (catalog->rules, ingredient));
}

/* Takes @ingredient in, with all the ways to call it. @items is left to the caller. */
static void
catalog_add (OgCatalog    *catalog,
             OgIngredient *ingredient)
{
  g_hash_table_replace (catalog->own, ingredient->id, og_ingredient_ref (ingredient));
  add_call (catalog, CALL_ID, ingredient->id, ingredient);
  add_call (catalog, CALL_NAME, ingredient->name, ingredient);
  for (gsize i = 0; ingredient->aliases[i] != NULL; i++)
    add_call (catalog, CALL_ALIAS, ingredient->aliases[i], ingredient);
  add_call (catalog, CALL_INCI, ingredient->inci, ingredient);
  catalog_match (catalog, ingredient);
}

/* A catalog on its way in. */
typedef struct
{
  OgCatalog  *catalog;
  GHashTable *places; /* OgIngredient -> "FILE:LINE" */
  GHashTable *open;   /* materials being taken apart */
  GHashTable *done;   /* materials that were taken apart to the end */
} Loader;

static void
loader_init (Loader       *loader,
             OgParameters *parameters,
             OgRules      *rules)
{
  loader->catalog = catalog_new (parameters, rules);
  loader->places = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  loader->open = g_hash_table_new (NULL, NULL);
  loader->done = g_hash_table_new (NULL, NULL);
}

static void
loader_clear (Loader *loader)
{
  g_clear_pointer (&loader->done, g_hash_table_unref);
  g_clear_pointer (&loader->open, g_hash_table_unref);
  g_clear_pointer (&loader->places, g_hash_table_unref);
  g_clear_pointer (&loader->catalog, og_catalog_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Loader, loader_clear)

static gboolean
add_material (const OgJsonReader *reader,
              gpointer            user_data)
{
  Loader *loader = user_data;
  const OgJsonFile *file = reader->context->file;
  g_autoptr (OgIngredient) ingredient = og_ingredient_read (reader, NULL);
  const OgIngredient *twin;
  OgJsonReader place = *reader;

  if (ingredient == NULL)
    return FALSE;

  place.label = ingredient->id;
  twin = og_catalog_get (loader->catalog, ingredient->id);
  if (twin != NULL)
    return og_json_fail_code (&place, "id", OG_CATALOG_ERROR_DUPLICATE, _("is taken already, in %s"),
                              (const char *) g_hash_table_lookup (loader->places, twin));

  catalog_add (loader->catalog, ingredient);
  g_hash_table_insert (loader->places, ingredient,
                       g_strdup_printf ("%s:%u", file->name,
                                        og_json_file_get_line (file, reader->object)));
  return TRUE;
}

/* Reads the materials of one file; compositions are checked once all files are read. */
static gboolean
add_file (Loader            *loader,
          const OgJsonFile  *file,
          GError           **error)
{
  static const char *const known[] = { "format", "version", "sources", "materials", NULL };
  g_autoptr (GHashTable) used = g_hash_table_new (g_str_hash, g_str_equal);
  OgJsonContext context = { file, OG_CATALOG_ERROR, OG_CATALOG_ERROR_SYNTAX,
                            OG_CATALOG_ERROR_REFERENCE, error, NULL, used };
  OgJsonReader top = { .context = &context, .object = json_node_get_object (file->root) };
  OgJsonReader sources;
  JsonArray *materials;

  if (og_json_read_object (&top, "sources", OG_JSON_REQUIRED, &sources) != OG_JSON_FOUND
      || og_json_read_array (&top, "materials", OG_JSON_REQUIRED, &materials) != OG_JSON_FOUND)
    return FALSE;

  /* It is a catalog; what is wrong from here on is a value. */
  context.code = OG_CATALOG_ERROR_VALUE;
  if (!og_json_check_members (&top, known) || !og_json_check_sources (&sources))
    return FALSE;
  context.sources = sources.object;
  return og_json_read_entries (&top, "materials", materials, add_material, loader)
         && og_json_check_used (&sources);
}

/* Takes @ingredient apart as far as it goes. */
static gboolean
check_composition (Loader              *loader,
                   const OgIngredient  *ingredient,
                   GError             **error)
{
  const char *place = g_hash_table_lookup (loader->places, ingredient);

  if (g_hash_table_contains (loader->done, ingredient))
    return TRUE;
  if (!g_hash_table_add (loader->open, (gpointer) ingredient))
    {
      g_set_error (error, OG_CATALOG_ERROR, OG_CATALOG_ERROR_REFERENCE,
                   _("%s: %s: composition: contains the material itself"), place, ingredient->id);
      return FALSE;
    }

  for (guint i = 0; i < ingredient->composition->len; i++)
    {
      const OgPart *part = &g_array_index (ingredient->composition, OgPart, i);
      const OgIngredient *inner = og_catalog_get (loader->catalog, part->ingredient_id);

      if (inner == NULL)
        {
          g_set_error (error, OG_CATALOG_ERROR, OG_CATALOG_ERROR_REFERENCE,
                       _("%s: %s: composition[%u].ingredient: material “%s” is not defined"),
                       place, ingredient->id, i, part->ingredient_id);
          return FALSE;
        }
      if (!check_composition (loader, inner, error))
        return FALSE;
    }

  g_hash_table_remove (loader->open, ingredient);
  g_hash_table_add (loader->done, (gpointer) ingredient);
  return TRUE;
}

/* Puts the materials in order and checks what only the whole tells. Returns: (transfer full) */
static OgCatalog *
loader_finish (Loader  *loader,
               GError **error)
{
  GPtrArray *items = loader->catalog->items;
  GHashTableIter iter;
  gpointer ingredient;

  g_hash_table_iter_init (&iter, loader->catalog->own);
  while (g_hash_table_iter_next (&iter, NULL, &ingredient))
    g_ptr_array_add (items, ingredient);
  g_ptr_array_sort (items, compare_items);

  for (guint i = 0; i < items->len; i++)
    if (!check_composition (loader, g_ptr_array_index (items, i), error))
      return NULL;
  return og_catalog_ref (loader->catalog);
}

/* Returns: (element-type filename): names of the files of @folder in order */
static GPtrArray *
list_files (const char  *folder,
            GError     **error)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, error);
  const char *name;

  if (dir == NULL)
    return NULL;

  while ((name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, ".json"))
      g_ptr_array_add (names, g_strdup (name));
  if (names->len == 0)
    {
      g_set_error (error, OG_CATALOG_ERROR, OG_CATALOG_ERROR_EMPTY,
                   _("%s: holds no file of the library"), folder);
      return NULL;
    }

  g_ptr_array_sort_with_data (names, compare_names, NULL);
  return g_steal_pointer (&names);
}

/* @rules: (out): %NULL if there is no folder of rules */
static gboolean
load_rules (const char  *data_dir,
            OgRules    **rules,
            GError     **error)
{
  g_autofree char *folder = g_build_filename (data_dir, "rules", NULL);
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func ((GDestroyNotify) og_rules_unref);
  g_autoptr (GPtrArray) names = NULL;

  *rules = NULL;
  if (!g_file_test (folder, G_FILE_TEST_IS_DIR))
    return TRUE;
  names = list_files (folder, error);
  if (names == NULL)
    return FALSE;
  for (guint i = 0; i < names->len; i++)
    {
      g_autofree char *path = g_build_filename (folder, g_ptr_array_index (names, i), NULL);
      OgRules *part = og_rules_load (path, FALSE, error);

      if (part == NULL)
        return FALSE;
      g_ptr_array_add (parts, part);
    }
  *rules = og_rules_new_joined (parts, error);
  return *rules != NULL;
}

OgCatalog *
og_catalog_load (const char  *data_dir,
                 GError     **error)
{
  g_autoptr (OgRules) rules = NULL;
  g_autoptr (OgParameters) parameters = NULL;
  g_autoptr (GPtrArray) names = NULL;
  g_autofree char *folder = NULL;
  g_autofree char *parameters_path = NULL;
  g_autofree char *gelling_path = NULL;
  g_auto (Loader) loader = { NULL };

  g_return_val_if_fail (data_dir != NULL, NULL);

  folder = g_build_filename (data_dir, "catalog", NULL);
  parameters_path = g_build_filename (data_dir, "model", "parameters.json", NULL);
  gelling_path = g_build_filename (data_dir, "model", "gelling.json", NULL);
  names = list_files (folder, error);
  if (names == NULL)
    return NULL;
  parameters = og_parameters_load (parameters_path, error);
  if (parameters == NULL || !og_parameters_load_gelling (parameters, gelling_path, error))
    return NULL;

  if (!load_rules (data_dir, &rules, error))
    return NULL;

  loader_init (&loader, parameters, rules);
  for (guint i = 0; i < names->len; i++)
    {
      g_autofree char *path = g_build_filename (folder, g_ptr_array_index (names, i), NULL);
      g_autoptr (OgJsonFile) file = og_json_file_load_data (path, FORMAT, VERSION, error);

      if (file == NULL || !add_file (&loader, file, error))
        return NULL;
    }
  return loader_finish (&loader, error);
}

OgCatalog *
og_catalog_new_from_json (const char    *text,
                          gssize         length,
                          const char    *name,
                          OgParameters  *parameters,
                          GError       **error)
{
  g_autoptr (OgJsonFile) file = NULL;
  g_auto (Loader) loader = { NULL };

  g_return_val_if_fail (text != NULL, NULL);
  g_return_val_if_fail (name != NULL, NULL);

  file = og_json_file_parse_data (text, length, name, FORMAT, VERSION, error);
  if (file == NULL)
    return NULL;

  loader_init (&loader, parameters, NULL);
  if (!add_file (&loader, file, error))
    return NULL;
  return loader_finish (&loader, error);
}

/* Items of @base that @catalog does not hide, and its own, in order. */
static void
merge_items (OgCatalog *catalog,
             GPtrArray *own)
{
  const GPtrArray *below = catalog->base->items;
  guint next = 0;

  for (guint i = 0; i < below->len; i++)
    {
      OgIngredient *ingredient = g_ptr_array_index (below, i);

      while (next < own->len &&
             compare_ingredients (g_ptr_array_index (own, next), ingredient) < 0)
        g_ptr_array_add (catalog->items, g_ptr_array_index (own, next++));
      if (!g_hash_table_contains (catalog->own, ingredient->id))
        g_ptr_array_add (catalog->items, ingredient);
    }
  while (next < own->len)
    g_ptr_array_add (catalog->items, g_ptr_array_index (own, next++));
}

OgCatalog *
og_catalog_new_overlay (OgCatalog *base,
                        GPtrArray *materials)
{
  g_autoptr (GPtrArray) own = NULL;
  OgCatalog *catalog;

  g_return_val_if_fail (base != NULL, NULL);
  g_return_val_if_fail (materials != NULL, NULL);

  catalog = catalog_new (base->parameters, base->rules);
  catalog->base = og_catalog_ref (base);
  own = g_ptr_array_new ();
  for (guint i = 0; i < materials->len; i++)
    {
      OgIngredient *ingredient = g_ptr_array_index (materials, i);

      if (g_hash_table_contains (catalog->own, ingredient->id))
        continue;
      catalog_add (catalog, ingredient);
      g_ptr_array_add (own, ingredient);
    }
  g_ptr_array_sort (own, compare_items);
  merge_items (catalog, own);
  return catalog;
}

OgCatalog *
og_catalog_new_with_rules (OgCatalog  *base,
                           OgRules    *own,
                           GError    **error)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new ();
  g_autoptr (OgRules) joined = NULL;
  OgCatalog *catalog;

  g_return_val_if_fail (base != NULL && own != NULL, NULL);

  if (base->rules != NULL)
    g_ptr_array_add (parts, base->rules);
  g_ptr_array_add (parts, own);
  joined = og_rules_new_joined (parts, error);
  if (joined == NULL)
    return NULL;

  catalog = catalog_new (base->parameters, joined);
  catalog->base = og_catalog_ref (base);
  for (guint i = 0; i < base->items->len; i++)
    {
      g_ptr_array_add (catalog->items, g_ptr_array_index (base->items, i));
      catalog_match (catalog, g_ptr_array_index (base->items, i));
    }
  return catalog;
}

const OgIngredient *
og_catalog_get (const OgCatalog *catalog,
                const char      *id)
{
  g_return_val_if_fail (catalog != NULL, NULL);
  g_return_val_if_fail (id != NULL, NULL);

  for (; catalog != NULL; catalog = catalog->base)
    {
      const OgIngredient *ingredient = g_hash_table_lookup (catalog->own, id);

      if (ingredient != NULL)
        return ingredient;
    }
  return NULL;
}

guint
og_catalog_get_n_items (const OgCatalog *catalog)
{
  g_return_val_if_fail (catalog != NULL, 0);

  return catalog->items->len;
}

const OgIngredient *
og_catalog_get_item (const OgCatalog *catalog,
                     guint            index)
{
  g_return_val_if_fail (catalog != NULL, NULL);
  g_return_val_if_fail (index < catalog->items->len, NULL);

  return g_ptr_array_index (catalog->items, index);
}

const OgParameters *
og_catalog_get_parameters (const OgCatalog *catalog)
{
  g_return_val_if_fail (catalog != NULL, NULL);

  return catalog->parameters;
}

const OgRules *
og_catalog_get_rules (const OgCatalog *catalog)
{
  g_return_val_if_fail (catalog != NULL, NULL);

  return catalog->rules;
}

const GArray *
og_catalog_get_rule_shares (const OgCatalog    *catalog,
                            const OgIngredient *ingredient)
{
  g_return_val_if_fail (catalog != NULL && ingredient != NULL, NULL);

  for (; catalog != NULL; catalog = catalog->base)
    {
      const GArray *shares = g_hash_table_lookup (catalog->rule_shares, ingredient);

      if (shares != NULL)
        return shares;
    }
  return NULL;
}

/* Returns: (transfer container): visible materials called @key that way, in order */
static GPtrArray *
find_called (const OgCatalog *catalog,
             Call             call,
             const char      *key)
{
  GPtrArray *found = g_ptr_array_new ();

  for (const OgCatalog *layer = catalog; layer != NULL; layer = layer->base)
    {
      const GPtrArray *called = g_hash_table_lookup (layer->calls[call], key);

      for (guint i = 0; called != NULL && i < called->len; i++)
        {
          const OgIngredient *ingredient = g_ptr_array_index (called, i);

          if (og_catalog_get (catalog, ingredient->id) == ingredient)
            g_ptr_array_add (found, (gpointer) ingredient);
        }
    }
  g_ptr_array_sort (found, compare_items);
  return found;
}

/* The first few of @ingredients as "Name (id), Name (id)". */
static char *
list_candidates (const GPtrArray *ingredients)
{
  GString *list = g_string_new (NULL);

  for (guint i = 0; i < MIN (ingredients->len, MAX_CANDIDATES); i++)
    {
      const OgIngredient *ingredient = g_ptr_array_index (ingredients, i);

      g_string_append_printf (list, "%s%s (%s)", i > 0 ? ", " : "", ingredient->name,
                              ingredient->id);
    }
  return g_string_free (list, FALSE);
}

/* Made at the first search: most programs never search. */
static const OgSearchIndex *
get_index (const OgCatalog *catalog)
{
  OgSearchIndex **place = (OgSearchIndex **) &catalog->index;

  if (g_once_init_enter (place))
    g_once_init_leave (place, og_search_index_new (catalog->items));
  return *place;
}

static void
set_unknown_error (GError          **error,
                   const OgCatalog  *catalog,
                   const char       *text,
                   const char       *key)
{
  g_autoptr (GArray) hits = og_search_index_find (get_index (catalog), key, NULL);
  g_autoptr (GPtrArray) near = g_ptr_array_new ();
  g_autofree char *list = NULL;

  for (guint i = 0; i < MIN (hits->len, MAX_CANDIDATES); i++)
    g_ptr_array_add (near, (gpointer) g_array_index (hits, OgHit, i).ingredient);
  list = list_candidates (near);
  if (near->len > 0)
    g_set_error (error, OG_TABLE_ERROR, OG_TABLE_ERROR_INGREDIENT,
                 _("no material is called “%s”; near it: %s"), text, list);
  else
    g_set_error (error, OG_TABLE_ERROR, OG_TABLE_ERROR_INGREDIENT,
                 _("no material is called “%s”"), text);
}

const OgIngredient *
og_catalog_resolve (const OgCatalog  *catalog,
                    const char       *text,
                    GError          **error)
{
  const OgIngredient *ingredient;
  g_autofree char *key = NULL;

  g_return_val_if_fail (catalog != NULL, NULL);
  g_return_val_if_fail (text != NULL, NULL);

  /* an exact id is that material even where another id differs in case alone */
  ingredient = og_catalog_get (catalog, text);
  if (ingredient != NULL)
    return ingredient;

  key = fold_call (text);
  for (Call call = CALL_ID; call < N_CALLS; call++)
    {
      g_autoptr (GPtrArray) found = find_called (catalog, call, key);
      g_autofree char *list = NULL;

      if (found->len == 1)
        return g_ptr_array_index (found, 0);
      if (found->len == 0)
        continue;
      list = list_candidates (found);
      g_set_error (error, OG_TABLE_ERROR, OG_TABLE_ERROR_INGREDIENT,
                   _("“%s” is the name of several materials: %s"), text, list);
      return NULL;
    }

  set_unknown_error (error, catalog, text, key);
  return NULL;
}

static GArray *
list_all (const OgCatalog *catalog)
{
  GArray *hits = g_array_sized_new (FALSE, FALSE, sizeof (OgHit), catalog->items->len);

  for (guint i = 0; i < catalog->items->len; i++)
    {
      const OgHit hit = { g_ptr_array_index (catalog->items, i), OG_MATCH_INSIDE, 0 };

      g_array_append_val (hits, hit);
    }
  return hits;
}

GArray *
og_catalog_search (const OgCatalog *catalog,
                   const char      *typed)
{
  g_autofree char *text = g_strstrip (g_strdup (typed != NULL ? typed : ""));

  g_return_val_if_fail (catalog != NULL, NULL);

  return *text == '\0' ? list_all (catalog)
                       : og_search_index_find (get_index (catalog), text, NULL);
}
