/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "helpers.h"

#include <glib/gstdio.h>
#include <math.h>

#include "core/recipe/storage.h"
#include "model/data-dir.h"

static const char *const materials[] = {
  "castor-oil", "sunflower-oil", "jojoba-oil", "beeswax", "no-such-material", "own-one", "own-two"
};

OgCatalog *
test_catalog (void)
{
  static OgCatalog *catalog;

  if (catalog == NULL)
    {
      g_autofree char *data_dir = og_data_dir ();
      g_autoptr (GError) error = NULL;

      catalog = og_catalog_load (data_dir, &error);
      g_assert_no_error (error);
    }

  return catalog;
}

OgDocument *
test_document (void)
{
  return og_document_new (test_catalog ());
}

OgDocument *
test_filled_document (void)
{
  OgDocument *document = test_document ();
  guint heated = og_document_add_phase (document, "Heated", G_MAXUINT);
  guint cool = og_document_add_phase (document, "Cool", G_MAXUINT);

  og_document_set_phase_temperature (document, heated, 95);
  og_document_add_line (document, "castor-oil", heated, G_MAXUINT);
  og_document_set_line_ppm (document,
                            og_document_add_line (document, "beeswax", heated, G_MAXUINT), 50000);
  og_document_set_line_ppm (document,
                            og_document_add_line (document, "sunflower-oil", heated, G_MAXUINT),
                            220000);
  og_document_set_line_ppm (document,
                            og_document_add_line (document, "no-such-material", cool, G_MAXUINT),
                            10000);
  og_document_add_line (document, "jojoba-oil", cool, G_MAXUINT);
  og_document_mark_saved (document);

  return document;
}

char *
test_serialise (OgDocument *document)
{
  g_autoptr (GBytes) bytes = og_storage_serialise (og_document_get_formula (document));
  gsize length;
  gconstpointer data = g_bytes_get_data (bytes, &length);

  return g_strndup (data, length);
}

OgIngredient *
test_own_material (const char *id,
                   const char *name)
{
  g_autoptr (JsonObject) object = json_object_new ();
  g_autoptr (GError) error = NULL;
  OgIngredient *material;

  json_object_set_string_member (object, "id", id);
  json_object_set_string_member (object, "name", name);
  json_object_set_string_member (object, "derived_from", "castor-oil");
  material = og_ingredient_new_from_json (object, NULL,
                                          og_catalog_get (test_catalog (), "castor-oil"), &error);
  g_assert_no_error (error);

  return material;
}

OgMeasurement *
test_reading (const char *material_id,
              double      mpa_s)
{
  OgMeasurement *measurement = og_measurement_new ();

  measurement->material_id = g_strdup (material_id);
  measurement->reading.method = OG_METHOD_ROTATIONAL;
  measurement->reading.temperature_c = OG_TEMPERATURE_ROOM_C;
  measurement->reading.mpa_s = mpa_s;
  measurement->reading.shear_rate_1_s = OG_SHEAR_POUR;

  return measurement;
}

OgMeasurement *
test_recipe_reading (OgDocument *document,
                     double      mpa_s)
{
  OgMeasurement *measurement = test_reading (NULL, mpa_s);

  og_measurement_set_recipe (measurement, og_document_get_formula (document));

  return measurement;
}

guint
test_random_line (GRand      *rand,
                  OgDocument *document)
{
  const OgFormula *formula = og_document_get_formula (document);
  guint n = og_formula_get_n_lines (formula);
  guint nth = n > 0 ? (guint) g_rand_int_range (rand, 0, (int) n) : 0;

  for (guint i = 0; i < formula->phases->len; i++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, i);

      if (nth < phase->lines->len)
        return ((OgFormulaLine *) g_ptr_array_index (phase->lines, nth))->id;
      nth -= phase->lines->len;
    }

  return 0;
}

guint
test_random_phase (GRand      *rand,
                   OgDocument *document)
{
  const GPtrArray *phases = og_document_get_formula (document)->phases;

  if (phases->len == 0)
    return 0;

  return ((OgFormulaPhase *) phases->pdata[g_rand_int_range (rand, 0, (int) phases->len)])->id;
}

static const char *
random_material (GRand *rand)
{
  return materials[g_rand_int_range (rand, 0, G_N_ELEMENTS (materials))];
}

static double
random_temperature (GRand *rand)
{
  return g_rand_boolean (rand) ? NAN : 0.1 * g_rand_int_range (rand, -200, 1800);
}

static guint
random_position (GRand *rand)
{
  return g_rand_int_range (rand, 0, 4) == 0 ? G_MAXUINT : (guint) g_rand_int_range (rand, 0, 6);
}

static char *
random_text (GRand *rand)
{
  static const char *const words[] = {
    "", "gloss", "<b>&amp;", "\"q\"\n\\", "Öl für Lippen", "=1+1"
  };

  return g_strdup_printf ("%s%d", words[g_rand_int_range (rand, 0, G_N_ELEMENTS (words))],
                          g_rand_int_range (rand, 0, 3));
}

static gboolean
random_text_edit (GRand      *rand,
                  OgDocument *document)
{
  g_autofree char *text = random_text (rand);

  switch (g_rand_int_range (rand, 0, 6))
    {
    case 0:
      return og_document_set_title (document, text);
    case 1:
      return og_document_set_purpose (document, text);
    case 2:
      return og_document_set_notes (document, text);
    case 3:
      return og_document_set_line_note (document, test_random_line (rand, document), text);
    case 4:
      return og_document_set_phase_note (document, test_random_phase (rand, document), text);
    default:
      return og_document_rename_phase (document, test_random_phase (rand, document), text);
    }
}

static gboolean
random_number_edit (GRand      *rand,
                    OgDocument *document)
{
  const guint line = test_random_line (rand, document);

  switch (g_rand_int_range (rand, 0, 8))
    {
    case 0:
      return og_document_set_batch_g (document, 0.1 * g_rand_int_range (rand, 1, 100000));
    case 1:
      return g_rand_boolean (rand)
             ? og_document_set_target (document, g_rand_int_range (rand, 1, 500),
                                       g_rand_int_range (rand, 300, 3000))
             : og_document_set_target (document, NAN, NAN);
    case 2:
      return og_document_set_line_ppm (document, line, g_rand_int_range (rand, 0, OG_PPM_WHOLE));
    case 3:
      return og_document_set_line_g (document, line, g_rand_double_range (rand, 0, 50));
    case 4:
      return og_document_set_line_balance (document, line, (guint) g_rand_int_range (rand, 0, 4));
    case 5:
      return og_document_set_line_temperature (document, line, random_temperature (rand));
    case 6:
      return og_document_normalise (document);
    default:
      return og_document_set_phase_temperature (document, test_random_phase (rand, document),
                                                random_temperature (rand));
    }
}

static gboolean
random_material_edit (GRand      *rand,
                      OgDocument *document)
{
  const char *id = g_rand_boolean (rand) ? "own-one" : "own-two";
  g_autofree char *name = g_strdup_printf ("Own oil %d", g_rand_int_range (rand, 0, 3));
  g_autoptr (OgIngredient) material = NULL;

  if (g_rand_int_range (rand, 0, 3) == 0)
    return og_document_remove_material (document, id);

  material = test_own_material (id, name);

  return og_document_put_material (document, material);
}

static OgMeasurement *
random_measurement (GRand      *rand,
                    OgDocument *document)
{
  const double mpa_s = g_rand_double_range (rand, 1, 1e5);
  OgMeasurement *measurement = g_rand_boolean (rand)
                               ? test_recipe_reading (document, mpa_s)
                               : test_reading (random_material (rand), mpa_s);

  g_free (measurement->note);
  measurement->note = random_text (rand);

  return measurement;
}

static const char *
random_measurement_id (GRand      *rand,
                       OgDocument *document)
{
  const GPtrArray *all = og_document_get_formula (document)->measurements;

  if (all->len == 0)
    return "m1";

  return ((OgMeasurement *) all->pdata[g_rand_int_range (rand, 0, (int) all->len)])->id;
}

static gboolean
random_bounds_edit (GRand      *rand,
                    OgDocument *document)
{
  OgBodyBounds bounds;

  og_body_bounds_init (&bounds);
  bounds.from[g_rand_int_range (rand, 0, OG_N_BODY_BOUNDS)] *= g_rand_double_range (rand, 0.5, 2);

  return og_document_set_body_bounds (document, &bounds);
}

static gboolean
random_bench_edit (GRand      *rand,
                   OgDocument *document)
{
  g_autofree char *id = g_strdup (random_measurement_id (rand, document));

  switch (g_rand_int_range (rand, 0, 7))
    {
    case 0:
      return og_document_remove_measurement (document, id);
    case 1:
      return og_document_set_measurement_aside (document, id, g_rand_boolean (rand));
    case 2:
      return og_document_accept_measurement (document, id, g_rand_boolean (rand));
    case 3:
      return random_bounds_edit (rand, document);
    default:
      return og_document_add_measurement (document, random_measurement (rand, document));
    }
}

static gboolean
random_order_edit (GRand      *rand,
                   OgDocument *document)
{
  const guint line = test_random_line (rand, document);
  const guint phase = test_random_phase (rand, document);

  switch (g_rand_int_range (rand, 0, 11))
    {
    case 0:
      return og_document_add_phase (document, NULL, random_position (rand)) != 0;
    case 1:
      return og_document_move_phase (document, phase, random_position (rand));
    case 2:
      return og_document_remove_line (document, line);
    case 3:
      return g_rand_int_range (rand, 0, 4) == 0 && og_document_remove_phase (document, phase);
    case 4:
      return og_document_set_line_held (document, line, g_rand_boolean (rand));
    case 5:
      return og_document_set_line_ingredient (document, line, random_material (rand));
    case 6:
      return og_document_add_line (document, random_material (rand), 0, G_MAXUINT) != 0;
    case 7:
    case 8:
      return og_document_move_line (document, line, phase, random_position (rand));
    default:
      return og_document_add_line (document, random_material (rand), phase,
                                   random_position (rand)) != 0;
    }
}

gboolean
test_random_edit (GRand      *rand,
                  OgDocument *document)
{
  switch (g_rand_int_range (rand, 0, 9))
    {
    case 0:
      return random_text_edit (rand, document);
    case 1:
    case 2:
      return random_number_edit (rand, document);
    case 3:
      return random_material_edit (rand, document);
    case 4:
      return random_bench_edit (rand, document);
    default:
      return random_order_edit (rand, document);
    }
}

static gboolean
set_flag (gpointer flag)
{
  *(gboolean *) flag = TRUE;

  return G_SOURCE_REMOVE;
}

void
test_run_until (TestCondition condition,
                gpointer      user_data,
                guint         seconds)
{
  gboolean late = FALSE;
  const guint id = g_timeout_add_seconds (seconds, set_flag, &late);

  while (!condition (user_data) && !late)
    g_main_context_iteration (NULL, TRUE);

  g_assert_false (late);
  g_source_remove (id);
}

static void
on_gone (gpointer  user_data,
         GObject  *where_it_was)
{
  g_atomic_int_set ((int *) user_data, TRUE);
  g_main_context_wakeup (NULL);
}

static gboolean
is_gone (gpointer user_data)
{
  return g_atomic_int_get ((int *) user_data);
}

void
test_finalize (gpointer object)
{
  int gone = FALSE;

  g_object_weak_ref (object, on_gone, &gone);
  g_object_unref (object);
  test_run_until (is_gone, &gone, 20);
}

void
test_run_for (guint milliseconds)
{
  gboolean late = FALSE;

  g_timeout_add (milliseconds, set_flag, &late);
  while (!late)
    g_main_context_iteration (NULL, TRUE);
}

void
test_run_idle (void)
{
  while (g_main_context_iteration (NULL, FALSE))
    ;
}

GFile *
test_make_folder (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_dir_make_tmp ("oleograph-test-XXXXXX", &error);

  g_assert_no_error (error);

  return g_file_new_for_path (path);
}

void
test_remove_folder (GFile *folder)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GDir) dir = g_dir_open (g_file_peek_path (folder), 0, &error);
  const char *name;

  g_assert_no_error (error);
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autoptr (GFile) child = g_file_get_child (folder, name);

      if (g_file_query_file_type (child, G_FILE_QUERY_INFO_NOFOLLOW_SYMLINKS, NULL)
          == G_FILE_TYPE_DIRECTORY)
        test_remove_folder (child);
      else
        g_assert_cmpint (g_unlink (g_file_peek_path (child)), ==, 0);
    }
  g_assert_cmpint (g_rmdir (g_file_peek_path (folder)), ==, 0);
}
