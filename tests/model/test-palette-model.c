/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/palette-model.h"

#include "helpers.h"

static void
assert_shows (OgPaletteModel *model,
              const GArray   *expected)
{
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (model)), ==, expected->len);
  for (guint i = 0; i < expected->len; i++)
    {
      g_autoptr (OgMaterial) material = g_list_model_get_item (G_LIST_MODEL (model), i);

      g_assert_true (og_material_get_ingredient (material) == g_array_index (expected, OgHit, i).ingredient);
    }
  g_assert_null (g_list_model_get_item (G_LIST_MODEL (model), expected->len));
}

static void
assert_words (OgPaletteModel *model,
              const char     *words)
{
  g_autoptr (GArray) expected = og_catalog_search (test_catalog (), words);

  og_palette_model_set_words (model, words);
  assert_shows (model, expected);
}

static void
test_words (void)
{
  OgPaletteModel *model = og_palette_model_new (test_catalog ());
  static const char *const words[] = {
    "", " ", "castor", "CASTOR", "oil castor", "  castor\toil ", "8001-79-4", "nut", "beeswax cera",
    "zzz", "ö", "wax-ester", "a e i", "castor zzz"
  };

  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (model)), ==,
                    og_catalog_get_n_items (test_catalog ()));
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    assert_words (model, words[i]);

  /* every beginning of every name, as it is typed */
  for (guint i = 0; i < og_catalog_get_n_items (test_catalog ()); i += 7)
    {
      const char *name = og_catalog_get_item (test_catalog (), i)->name;

      for (const char *end = name; *end != '\0'; end = g_utf8_next_char (end))
        {
          g_autofree char *typed = g_strndup (name, (gsize) (end - name));

          assert_words (model, typed);
        }
    }

  og_palette_model_set_words (model, NULL);
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (model)), ==,
                    og_catalog_get_n_items (test_catalog ()));
  g_assert_finalize_object (model);
}

static GArray *
select_naively (const char        *words,
                const char        *kind_nick,
                const char *const *without)
{
  g_autoptr (GArray) hits = og_catalog_search (test_catalog (), words);
  GArray *selected = g_array_new (FALSE, FALSE, sizeof (OgHit));

  for (guint i = 0; i < hits->len; i++)
    {
      const OgHit *hit = &g_array_index (hits, OgHit, i);
      gboolean out = FALSE;

      for (guint j = 0; without != NULL && without[j] != NULL; j++)
        out |= og_ingredient_has_tag (hit->ingredient, without[j]);
      if (!out && (kind_nick == NULL || g_str_equal (og_kind_to_nick (hit->ingredient->kind), kind_nick)))
        g_array_append_val (selected, *hit);
    }

  return selected;
}

static void
test_kind_and_tags (void)
{
  OgPaletteModel *model = og_palette_model_new (test_catalog ());
  static const char *const none[] = { NULL };
  static const char *const some[] = { "nut", "animal-derived", NULL };
  static const char *const *const tags[] = { NULL, none, some };
  static const char *const words[] = { "", "oil", "al" };
  guint n_shorter = 0;

  for (int kind = -1; kind < OG_N_KINDS; kind++)
    for (guint i = 0; i < G_N_ELEMENTS (tags); i++)
      for (guint j = 0; j < G_N_ELEMENTS (words); j++)
        {
          const char *nick = kind >= 0 ? og_kind_to_nick ((OgKind) kind) : NULL;
          g_autoptr (GArray) expected = select_naively (words[j], nick, tags[i]);

          og_palette_model_set_kind (model, nick);
          og_palette_model_set_without (model, tags[i]);
          og_palette_model_set_words (model, words[j]);
          assert_shows (model, expected);
          n_shorter += expected->len > 0
                       && expected->len < og_catalog_get_n_items (test_catalog ());
        }

  g_assert_cmpuint (n_shorter, >, 20);
  g_object_unref (model);
}

static void
count_change (GListModel *model,
              guint       position,
              guint       removed,
              guint       added,
              guint      *n)
{
  (*n)++;
}

static void
test_one_signal (void)
{
  OgPaletteModel *model = og_palette_model_new (test_catalog ());
  guint n = 0;

  g_signal_connect (model, "items-changed", G_CALLBACK (count_change), &n);
  og_palette_model_set_words (model, "castor");
  g_assert_cmpuint (n, ==, 1);
  og_palette_model_set_words (model, "Castor ");
  g_assert_cmpuint (n, ==, 1);
  og_palette_model_set_words (model, "");
  g_assert_cmpuint (n, ==, 2);
  og_palette_model_set_kind (model, NULL);
  g_assert_cmpuint (n, ==, 2);
  og_palette_model_set_kind (model, "wax");
  g_assert_cmpuint (n, ==, 3);
  og_palette_model_set_catalog (model, test_catalog ());
  g_assert_cmpuint (n, ==, 3);
  g_object_unref (model);
}

static void
test_own_materials (void)
{
  OgPaletteModel *model = og_palette_model_new (test_catalog ());
  g_autoptr (GPtrArray) own = g_ptr_array_new_with_free_func ((GDestroyNotify) og_ingredient_unref);
  OgCatalog *overlay;
  OgMaterial *before, *after;
  guint n = 0;

  og_palette_model_set_words (model, "beeswax");
  before = g_list_model_get_item (G_LIST_MODEL (model), 0);
  g_signal_connect (model, "items-changed", G_CALLBACK (count_change), &n);

  g_ptr_array_add (own, test_own_material ("quay-oil", "Quay beeswax oil"));
  overlay = og_catalog_new_overlay (test_catalog (), own);
  og_palette_model_set_catalog (model, overlay);
  og_catalog_unref (overlay);
  g_assert_cmpuint (n, ==, 1);

  /* what stays in the catalog keeps its object */
  og_palette_model_set_words (model, "cera alba");
  after = g_list_model_get_item (G_LIST_MODEL (model), 0);
  g_assert_true (before == after);
  g_object_unref (after);

  og_palette_model_set_words (model, "quay-oil");
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (model)), ==, 1);
  after = g_list_model_get_item (G_LIST_MODEL (model), 0);
  g_assert_cmpstr (og_material_get_ingredient (after)->name, ==, "Quay beeswax oil");
  og_palette_model_set_catalog (model, test_catalog ());
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (model)), ==, 0);
  g_assert_cmpstr (og_material_get_ingredient (after)->name, ==, "Quay beeswax oil");
  g_assert_finalize_object (after);

  g_object_unref (before);
  g_assert_finalize_object (model);
}

static void
test_material (void)
{
  OgPaletteModel *model = og_palette_model_new (test_catalog ());
  g_autoptr (OgMaterial) material = NULL;
  g_autofree char *id = NULL;
  g_autofree char *name = NULL;
  g_autofree char *inci = NULL;
  g_autofree char *kind_name = NULL;

  g_assert_true (g_list_model_get_item_type (G_LIST_MODEL (model)) == OG_TYPE_MATERIAL);
  og_palette_model_set_kind (model, "wax");
  og_palette_model_set_words (model, "beeswax");
  material = g_list_model_get_item (G_LIST_MODEL (model), 0);
  g_object_unref (model);

  g_object_get (material, "id", &id, "name", &name, "inci", &inci, "kind-name", &kind_name, NULL);
  g_assert_cmpstr (id, ==, og_material_get_ingredient (material)->id);
  g_assert_cmpstr (name, ==, og_material_get_ingredient (material)->name);
  g_assert_cmpstr (inci, ==, og_material_get_ingredient (material)->inci);
  g_assert_cmpstr (kind_name, ==, og_kind_get_name (OG_KIND_WAX));
}

static char *
list_ids (OgPaletteModel *model,
          guint           n)
{
  GString *ids = g_string_new (NULL);

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (OgMaterial) material = g_list_model_get_item (G_LIST_MODEL (model), i);

      g_string_append_printf (ids, "%s ", og_material_get_ingredient (material)->id);
    }
  return g_string_free (ids, FALSE);
}

static void
assert_begins (OgPaletteModel *model,
               guint           n,
               const char     *expected)
{
  g_autofree char *ids = list_ids (model, n);

  g_assert_cmpstr (ids, ==, expected);
}

/* What is pinned, what was used lately, then the rest; each once. */
static void
test_first (void)
{
  static const char *const pinned[] = { "jojoba-oil", "castor-oil", NULL };
  static const char *const recent[] = { "tocopherol", "castor-oil", "not-of-this-world", "beeswax", NULL };
  static const OgPaletteSection sections[] = {
    OG_PALETTE_SECTION_PINNED, OG_PALETTE_SECTION_PINNED, OG_PALETTE_SECTION_RECENT,
    OG_PALETTE_SECTION_RECENT, OG_PALETTE_SECTION_KIND,
  };
  OgPaletteModel *model = og_palette_model_new (test_catalog ());

  og_palette_model_set_first (model, pinned, recent);
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (model)), ==,
                    og_catalog_get_n_items (test_catalog ()));
  assert_begins (model, 4, "jojoba-oil castor-oil tocopherol beeswax ");
  for (guint i = 0; i < G_N_ELEMENTS (sections); i++)
    g_assert_cmpint (og_palette_model_get_section (model, i), ==, sections[i]);

  /* the filters hold for them too */
  og_palette_model_set_kind (model, "wax");
  assert_begins (model, 1, "beeswax ");
  og_palette_model_set_kind (model, NULL);

  og_palette_model_set_first (model, NULL, NULL);
  g_assert_cmpint (og_palette_model_get_section (model, 0), ==, OG_PALETTE_SECTION_KIND);
  g_assert_finalize_object (model);
}

/* Of equal answers the pinned one stands first, never before a better one. */
static void
test_first_found (void)
{
  static const char *const pinned[] = { "sunflower-oil-mid-oleic", "mixed-tocopherols", NULL };
  OgPaletteModel *model = og_palette_model_new (test_catalog ());

  og_palette_model_set_first (model, pinned, NULL);
  og_palette_model_set_words (model, "sunflower");
  assert_begins (model, 2, "sunflower-oil-mid-oleic sunflower-oil ");
  g_assert_cmpint (og_palette_model_get_section (model, 0), ==, OG_PALETTE_SECTION_FOUND);
  og_palette_model_set_words (model, "tocopherol");
  assert_begins (model, 2, "tocopherol mixed-tocopherols ");
  og_palette_model_set_words (model, "castr oil");
  g_assert_cmpint (og_palette_model_get_section (model, 0), ==, OG_PALETTE_SECTION_NEAR);
  g_object_unref (model);
}

/* What Enter may add is judged among what is shown. */
static void
test_sure (void)
{
  OgPaletteModel *model = og_palette_model_new (test_catalog ());

  g_assert_null (og_palette_model_get_sure (model));
  og_palette_model_set_words (model, "castor");
  g_assert_null (og_palette_model_get_sure (model));
  og_palette_model_set_kind (model, "oil");
  g_assert_cmpstr (og_palette_model_get_sure (model)->id, ==, "castor-oil");
  og_palette_model_set_words (model, "");
  g_assert_null (og_palette_model_get_sure (model));
  g_object_unref (model);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/palette-model/words", test_words);
  g_test_add_func ("/palette-model/kind-and-tags", test_kind_and_tags);
  g_test_add_func ("/palette-model/one-signal", test_one_signal);
  g_test_add_func ("/palette-model/own-materials", test_own_materials);
  g_test_add_func ("/palette-model/material", test_material);
  g_test_add_func ("/palette-model/first", test_first);
  g_test_add_func ("/palette-model/first-found", test_first_found);
  g_test_add_func ("/palette-model/sure", test_sure);

  return g_test_run ();
}
