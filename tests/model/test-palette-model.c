/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/palette-model.h"

#include <string.h>

#include "helpers.h"

#define N_MANY 10000

static void
assert_shows (OgPaletteModel *model,
              GPtrArray      *expected)
{
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (model)), ==, expected->len);
  for (guint i = 0; i < expected->len; i++)
    {
      g_autoptr (OgMaterial) material = g_list_model_get_item (G_LIST_MODEL (model), i);

      g_assert_true (og_material_get_ingredient (material) == g_ptr_array_index (expected, i));
    }
  g_assert_null (g_list_model_get_item (G_LIST_MODEL (model), expected->len));
}

static void
assert_words (OgPaletteModel *model,
              const char     *words)
{
  g_autoptr (GPtrArray) expected = og_catalog_search (test_catalog (), words);

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

static GPtrArray *
select_naively (const char        *words,
                const char        *kind_nick,
                const char *const *without)
{
  GPtrArray *selected = g_ptr_array_new ();

  for (guint i = 0; i < og_catalog_get_n_items (test_catalog ()); i++)
    {
      const OgIngredient *ingredient = og_catalog_get_item (test_catalog (), i);
      gboolean out = FALSE;

      for (guint j = 0; without != NULL && without[j] != NULL; j++)
        out |= og_ingredient_has_tag (ingredient, without[j]);
      if (og_ingredient_matches (ingredient, words) && !out
          && (kind_nick == NULL || g_str_equal (og_kind_to_nick (ingredient->kind), kind_nick)))
        g_ptr_array_add (selected, (gpointer) ingredient);
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
          g_autoptr (GPtrArray) expected = select_naively (words[j], nick, tags[i]);

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

static OgCatalog *
many_materials (void)
{
  g_autoptr (GString) text = g_string_new ("{\"format\":\"oleograph-catalog\",\"version\":1,"
                                           "\"sources\":{},\"materials\":[");
  g_autoptr (GError) error = NULL;
  OgCatalog *catalog;

  for (guint i = 0; i < N_MANY; i++)
    g_string_append_printf (text,
                            "%s{\"id\":\"sea-buckthorn-%u\",\"name\":\"Sea buckthorn pulp oil %u\","
                            "\"inci\":\"Hippophae Rhamnoides Fruit Oil\",\"aliases\":[\"Lot %u\"],"
                            "\"kind\":\"wax\",\"roles\":[\"base\",\"emollient\"],"
                            "\"uses\":[\"lip\",\"skin\"],\"tags\":[\"grade-varies\"]}",
                            i > 0 ? "," : "", i, i, i);
  g_string_append (text, "]}");
  catalog = og_catalog_new_from_json (text->str, (gssize) text->len, "many.json", NULL, &error);
  g_assert_no_error (error);

  return catalog;
}

static int
compare_doubles (gconstpointer a,
                 gconstpointer b)
{
  const double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

static double
median (GArray *numbers)
{
  g_array_sort (numbers, compare_doubles);

  return g_array_index (numbers, double, numbers->len / 2);
}

static guint
count_naively (OgCatalog  *catalog,
               const char *words)
{
  guint n = 0;

  for (guint i = 0; i < og_catalog_get_n_items (catalog); i++)
    n += og_ingredient_matches (og_catalog_get_item (catalog, i), words);

  return n;
}

/* Compared with asking og_ingredient_matches() one by one: a slow machine does not matter. */
static void
test_speed (void)
{
  OgCatalog *catalog = many_materials ();
  OgPaletteModel *model = og_palette_model_new (catalog);
  g_autoptr (GArray) ours = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (GArray) naive = g_array_new (FALSE, FALSE, sizeof (double));
  const char *typed = "oil buckthorn lot 12";
  double ours_ms, naive_ms;

  for (gsize n = 1; n <= strlen (typed); n++)
    {
      g_autofree char *words = g_strndup (typed, n);
      gint64 start = g_get_monotonic_time ();
      double ms;
      guint expected;

      og_palette_model_set_words (model, words);
      ms = (double) (g_get_monotonic_time () - start) / 1000;
      g_array_append_val (ours, ms);

      start = g_get_monotonic_time ();
      expected = count_naively (catalog, words);
      ms = (double) (g_get_monotonic_time () - start) / 1000;
      g_array_append_val (naive, ms);
      g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (model)), ==, expected);
    }

  ours_ms = median (ours);
  naive_ms = median (naive);
  g_test_message ("%.2f ms a keystroke, %.2f ms one by one", ours_ms, naive_ms);
  g_assert_cmpfloat (ours_ms, <, naive_ms);
  if (g_test_perf ())
    g_assert_cmpfloat (ours_ms, <, 5);

  g_object_unref (model);
  og_catalog_unref (catalog);
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
  g_test_add_func ("/palette-model/speed", test_speed);

  return g_test_run ();
}
