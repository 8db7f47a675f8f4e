/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "core/recipe/recipe-limits.h"
#include "core/recipe/recipe-table.h"
#include "helpers.h"

#ifdef __SANITIZE_ADDRESS__
#define N_SEQUENCES 200
#else
#define N_SEQUENCES 2000
#endif
#define MAX_EDITS 24
#define SEED 20240517

static const OgFormulaLine *
get_line (OgDocument *document,
          guint       id)
{
  return og_formula_find_line (og_document_get_formula (document), id, NULL, NULL);
}

static guint
line_of (OgDocument *document,
         const char *ingredient_id)
{
  return og_formula_find_ingredient (og_document_get_formula (document), ingredient_id)->id;
}

static void
test_new (void)
{
  OgDocument *document = test_document ();

  g_assert_true (og_document_is_empty (document));
  g_assert_false (og_document_get_modified (document));
  g_assert_cmpstr (og_document_get_title (document), ==, "");
  g_assert_false (og_document_can_undo (document));
  g_assert_false (og_document_can_redo (document));
  g_assert_true (og_document_get_catalog (document) == test_catalog ());
  og_document_undo (document);
  og_document_redo (document);
  g_assert_cmpuint (og_document_get_revision (document), ==, 0);
  g_assert_finalize_object (document);
}

static void
test_first_lines (void)
{
  OgDocument *document = test_document ();
  const guint oil = og_document_add_line (document, "castor-oil", 0, G_MAXUINT);
  const guint wax = og_document_add_line (document, "beeswax", 0, 0);
  const OgFormulaPhase *phase;

  g_assert_cmpuint (og_document_get_formula (document)->phases->len, ==, 1);
  phase = g_ptr_array_index (og_document_get_formula (document)->phases, 0);
  g_assert_cmpstr (phase->name, ==, "Phase A");
  g_assert_true (phase->lines->pdata[0] == get_line (document, wax));

  g_assert_cmpint (get_line (document, oil)->amount, ==, OG_PPM_WHOLE);
  g_assert_cmpuint (get_line (document, oil)->balance_share, ==, 1);
  g_assert_cmpint (get_line (document, wax)->amount, ==, 0);
  g_assert_cmpuint (get_line (document, wax)->balance_share, ==, 0);

  g_assert_true (og_document_set_line_ppm (document, wax, 150000));
  g_assert_cmpint (get_line (document, oil)->amount, ==, 850000);

  g_assert_true (og_document_set_batch_g (document, 250));
  g_assert_true (og_document_set_line_g (document, wax, 25));
  g_assert_cmpint (get_line (document, wax)->amount, ==, 100000);

  g_assert_true (og_document_set_line_ppm (document, oil, 700000));
  g_assert_cmpuint (get_line (document, oil)->balance_share, ==, 0);
  g_assert_cmpint (og_formula_total (og_document_get_formula (document)), ==, 800000);

  g_assert_true (og_document_set_line_balance (document, wax, 2));
  g_assert_cmpint (get_line (document, wax)->amount, ==, 300000);

  /* as typed, held, or the rest: never two of them */
  g_assert_true (og_document_set_line_held (document, wax, TRUE));
  g_assert_cmpuint (get_line (document, wax)->balance_share, ==, 0);
  g_assert_cmpint (get_line (document, wax)->amount, ==, 300000);
  g_assert_true (og_document_set_line_balance (document, wax, 1));
  g_assert_false (get_line (document, wax)->held);
  g_assert_true (og_document_set_line_held (document, wax, TRUE));
  g_assert_true (og_document_set_line_balance (document, wax, 0));
  g_assert_false (get_line (document, wax)->held);
  g_assert_false (og_document_set_line_balance (document, wax, 0));
  g_object_unref (document);
}

/* Part hot, the rest cold: two lines of one, and the same recipe in the end. */
static void
test_duplicate_and_split (void)
{
  OgDocument *document = test_document ();
  guint hot = og_document_add_phase (document, "Hot", G_MAXUINT);
  guint cold = og_document_add_phase (document, "Cold", G_MAXUINT);
  guint oil = og_document_add_line (document, "sunflower-oil", hot, G_MAXUINT);
  guint wax = og_document_add_line (document, "beeswax", hot, G_MAXUINT);
  const OgFormulaPhase *phase;
  guint part;
  guint twin;

  og_document_set_line_ppm (document, wax, 100000);
  og_document_set_line_note (document, oil, "from the drum");
  g_assert_cmpuint (og_document_split_line (document, oil, 900000, cold), ==, 0);
  g_assert_cmpuint (og_document_split_line (document, oil, 0, cold), ==, 0);
  g_assert_cmpuint (og_document_split_line (document, oil, 300000, 999), ==, 0);
  g_assert_cmpuint (og_document_split_line (document, 999, 300000, cold), ==, 0);

  part = og_document_split_line (document, oil, 300000, cold);
  g_assert_cmpstr (og_document_get_undo_label (document), ==, "Split Sunflower oil");
  g_assert_cmpint (get_line (document, oil)->amount, ==, 600000);
  g_assert_cmpuint (get_line (document, oil)->balance_share, ==, 1);
  g_assert_cmpint (get_line (document, part)->amount, ==, 300000);
  g_assert_cmpuint (get_line (document, part)->balance_share, ==, 0);
  g_assert_cmpstr (get_line (document, part)->ingredient_id, ==, "sunflower-oil");
  g_assert_cmpstr (get_line (document, part)->note, ==, "from the drum");
  phase = og_formula_find_phase (og_document_get_formula (document), cold, NULL);
  g_assert_true (phase->lines->len == 1 && phase->lines->pdata[0] == get_line (document, part));
  og_document_undo (document);
  g_assert_cmpint (get_line (document, oil)->amount, ==, 900000);
  g_assert_null (og_formula_find_line (og_document_get_formula (document), part, NULL, NULL));

  twin = og_document_duplicate_line (document, wax);
  g_assert_cmpint (get_line (document, twin)->amount, ==, 100000);
  g_assert_cmpint (get_line (document, oil)->amount, ==, 800000);
  phase = og_formula_find_phase (og_document_get_formula (document), hot, NULL);
  g_assert_true (phase->lines->pdata[2] == get_line (document, twin));

  /* where the lines make the batch, twice the wax makes it larger */
  og_document_undo (document);
  og_document_set_batch_is_sum (document, TRUE);
  twin = og_document_duplicate_line (document, wax);
  g_assert_cmpfloat_with_epsilon (og_document_get_formula (document)->batch_g, 110, 1e-9);
  g_assert_cmpint (get_line (document, twin)->amount, ==, get_line (document, wax)->amount);
  g_assert_cmpuint (og_document_duplicate_line (document, 999), ==, 0);
  g_object_unref (document);
}

/* The bench recipe of 20 g, weighed in line by line: the shares are its grams times five. */
static void
test_batch_is_sum (void)
{
  static const struct { const char *id; double g; OgPpm ppm; } lines[] = {
    { "castor-oil", 12.6, 630000 }, { "cranberry-seed-oil", 6.8, 340000 }, { "polyamide-3", 0.3, 15000 },
    { "red-iron-oxide-in-castor-oil", 0.1, 5000 }, { "tocopherol", 0.2, 10000 },
  };
  OgDocument *document = test_document ();
  guint ids[G_N_ELEMENTS (lines)];
  double batch_g = 0.0;

  g_assert_true (og_document_set_batch_is_sum (document, TRUE));
  g_assert_false (og_document_set_batch_is_sum (document, TRUE));
  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      ids[i] = og_document_add_line (document, lines[i].id, 0, G_MAXUINT);
      g_assert_cmpuint (get_line (document, ids[i])->balance_share, ==, 0);
      g_assert_true (og_document_set_line_g (document, ids[i], lines[i].g));
      batch_g += lines[i].g;
      g_assert_cmpfloat_with_epsilon (og_document_get_formula (document)->batch_g, batch_g, 1e-9);
      g_assert_cmpint (og_formula_total (og_document_get_formula (document)), ==, OG_PPM_WHOLE);
    }
  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    g_assert_cmpint (get_line (document, ids[i])->amount, ==, lines[i].ppm);

  g_assert_false (og_document_set_line_g (document, ids[0], 12.6));
  g_assert_false (og_document_set_line_g (document, ids[0], -1));
  g_assert_true (og_document_remove_line (document, ids[0]));
  g_assert_cmpfloat_with_epsilon (og_document_get_formula (document)->batch_g, 7.4, 1e-9);
  og_document_undo (document);
  g_assert_cmpfloat_with_epsilon (og_document_get_formula (document)->batch_g, 20, 1e-9);
  g_assert_cmpint (get_line (document, ids[0])->amount, ==, 630000);
  g_object_unref (document);
}

static void
test_phase_names (void)
{
  OgDocument *document = test_document ();
  const GPtrArray *phases;

  for (guint i = 0; i < 28; i++)
    og_document_add_phase (document, NULL, G_MAXUINT);
  og_document_rename_phase (document, 1, "Heated");
  og_document_add_phase (document, NULL, 0);

  phases = og_document_get_formula (document)->phases;
  g_assert_cmpstr (((OgFormulaPhase *) phases->pdata[0])->name, ==, "Phase A");
  g_assert_cmpstr (((OgFormulaPhase *) phases->pdata[1])->name, ==, "Heated");
  g_assert_cmpstr (((OgFormulaPhase *) phases->pdata[26])->name, ==, "Phase Z");
  g_assert_cmpstr (((OgFormulaPhase *) phases->pdata[27])->name, ==, "Phase 27");
  g_object_unref (document);
}

static void
test_refusals (void)
{
  OgDocument *document = test_filled_document ();
  g_autofree char *before = test_serialise (document);
  g_autofree char *after = NULL;
  g_autofree char *long_name = g_strnfill (OG_RECIPE_MAX_NAME + 1, 'x');
  const guint line = line_of (document, "beeswax");
  const guint phase = 1;
  const guint64 revision = og_document_get_revision (document);
  const double bad_masses[] = { NAN, INFINITY, -INFINITY, 1e308, -1, 0, G_MINDOUBLE / 2 };
  const double bad_temperatures[] = { INFINITY, -INFINITY, 1e308, -274, 301 };

  for (guint i = 0; i < G_N_ELEMENTS (bad_masses); i++)
    {
      g_assert_false (og_document_set_batch_g (document, bad_masses[i]));
      g_assert_false (og_document_set_target (document, bad_masses[i], 1e300));
    }
  for (guint i = 0; i < G_N_ELEMENTS (bad_temperatures); i++)
    {
      g_assert_false (og_document_set_line_temperature (document, line, bad_temperatures[i]));
      g_assert_false (og_document_set_phase_temperature (document, phase, bad_temperatures[i]));
    }

  g_assert_false (og_document_set_target (document, NAN, 100));
  g_assert_false (og_document_set_target (document, 100, NAN));
  g_assert_false (og_document_set_target (document, 200, 100));
  g_assert_false (og_document_set_line_ppm (document, line, -1));
  g_assert_false (og_document_set_line_ppm (document, line, OG_PPM_WHOLE + 1));
  g_assert_false (og_document_set_line_g (document, line, NAN));
  g_assert_false (og_document_set_line_g (document, line, 100.1));
  g_assert_false (og_document_set_line_g (document, line, -0.1));
  g_assert_false (og_document_set_line_balance (document, line, OG_RECIPE_MAX_TYPED_SHARE + 1));
  g_assert_false (og_document_set_title (document, long_name));
  g_assert_false (og_document_set_purpose (document, long_name));
  g_assert_false (og_document_rename_phase (document, phase, long_name));
  g_assert_cmpuint (og_document_add_phase (document, long_name, 0), ==, 0);
  g_assert_cmpuint (og_document_add_line (document, "", phase, 0), ==, 0);
  g_assert_cmpuint (og_document_add_line (document, "castor-oil", 99, 0), ==, 0);
  g_assert_false (og_document_set_line_ingredient (document, line, ""));
  g_assert_false (og_document_remove_line (document, phase));
  g_assert_false (og_document_remove_phase (document, line));
  g_assert_false (og_document_move_line (document, line, 99, 0));
  g_assert_false (og_document_move_line (document, 99, phase, 0));
  g_assert_false (og_document_move_phase (document, 99, 0));
  g_assert_false (og_document_remove_material (document, "castor-oil"));

  after = test_serialise (document);
  g_assert_cmpstr (after, ==, before);
  g_assert_cmpuint (og_document_get_revision (document), ==, revision);
  g_assert_false (og_document_get_modified (document));
  g_object_unref (document);
}

static void
test_no_change_no_step (void)
{
  OgDocument *document = test_filled_document ();
  g_autoptr (OgIngredient) material = test_own_material ("own-one", "Own");
  const guint wax = line_of (document, "beeswax");
  const guint balance = line_of (document, "castor-oil");
  g_autofree char *label = NULL;

  og_document_put_material (document, material);
  og_document_set_title (document, "Tern Quay gloss");
  og_document_mark_saved (document);
  label = g_strdup (og_document_get_undo_label (document));

  g_assert_false (og_document_set_title (document, "Tern Quay gloss"));
  g_assert_false (og_document_set_purpose (document, ""));
  g_assert_false (og_document_set_notes (document, ""));
  g_assert_false (og_document_set_batch_g (document, 100));
  g_assert_false (og_document_set_target (document, NAN, NAN));
  g_assert_false (og_document_rename_phase (document, 1, "Heated"));
  g_assert_false (og_document_set_phase_temperature (document, 1, 95));
  g_assert_false (og_document_set_phase_temperature (document, 2, NAN));
  g_assert_false (og_document_set_phase_note (document, 1, NULL));
  g_assert_false (og_document_move_phase (document, 1, 0));
  g_assert_false (og_document_move_line (document, wax, 1, 1));
  g_assert_false (og_document_set_line_ppm (document, wax, 50000));
  g_assert_false (og_document_set_line_ppm (document, balance,
                                            get_line (document, balance)->amount));
  g_assert_cmpuint (get_line (document, balance)->balance_share, ==, 1);
  g_assert_false (og_document_set_line_g (document, wax, 5));
  g_assert_false (og_document_set_line_balance (document, wax, 0));
  g_assert_false (og_document_set_line_held (document, wax, FALSE));
  g_assert_false (og_document_set_line_note (document, wax, ""));
  g_assert_false (og_document_set_line_temperature (document, wax, NAN));
  g_assert_false (og_document_set_line_ingredient (document, wax, "beeswax"));
  g_assert_false (og_document_put_material (document, material));

  g_assert_false (og_document_get_modified (document));
  g_assert_cmpstr (og_document_get_undo_label (document), ==, label);
  g_object_unref (document);
}

/* Balance lines of a file that do not balance must not turn an idle edit into a step. */
static void
test_unbalanced_file (void)
{
  OgDocument *document = test_document ();
  OgFormula *formula = og_formula_new ();
  OgFormulaPhase *phase = og_formula_add_phase (formula, "A", NAN, 0);
  OgFormulaLine *line = og_formula_add_line (formula, phase, "castor-oil", 400000, 0);
  const guint id = line->id;

  line->balance_share = 1;
  og_document_reset (document, formula);
  g_assert_cmpint (get_line (document, id)->amount, ==, 400000);

  g_assert_false (og_document_set_title (document, ""));
  g_assert_false (og_document_can_undo (document));
  g_assert_true (og_document_set_title (document, "A"));
  g_assert_cmpint (get_line (document, id)->amount, ==, OG_PPM_WHOLE);
  og_document_undo (document);
  g_assert_cmpint (get_line (document, id)->amount, ==, 400000);
  g_assert_false (og_document_get_modified (document));
  g_object_unref (document);
}

typedef struct
{
  const char *label;
  gboolean  (*edit) (OgDocument *document);
} Edit;

static gboolean edit_title (OgDocument *d) { return og_document_set_title (d, "T"); }
static gboolean edit_purpose (OgDocument *d) { return og_document_set_purpose (d, "P"); }
static gboolean edit_notes (OgDocument *d) { return og_document_set_notes (d, "N\nN"); }
static gboolean edit_batch (OgDocument *d) { return og_document_set_batch_g (d, 12.5); }
static gboolean edit_target (OgDocument *d) { return og_document_set_target (d, 300, 1200); }
static gboolean add_phase (OgDocument *d) { return og_document_add_phase (d, NULL, 1) > 0; }
static gboolean rename_phase (OgDocument *d) { return og_document_rename_phase (d, 1, "Hot"); }
static gboolean move_phase (OgDocument *d) { return og_document_move_phase (d, 1, 1); }
static gboolean remove_phase (OgDocument *d) { return og_document_remove_phase (d, 2); }
static gboolean phase_note (OgDocument *d) { return og_document_set_phase_note (d, 2, "slow"); }
static gboolean normalise (OgDocument *d) { return og_document_normalise (d); }

static gboolean
phase_temperature (OgDocument *d)
{
  return og_document_set_phase_temperature (d, 2, 40);
}

static gboolean
add_line (OgDocument *d)
{
  return og_document_add_line (d, "jojoba-oil", 1, 0) > 0;
}

static gboolean
remove_line (OgDocument *d)
{
  return og_document_remove_line (d, line_of (d, "beeswax"));
}

static gboolean
move_line (OgDocument *d)
{
  return og_document_move_line (d, line_of (d, "beeswax"), 2, 0);
}

static gboolean
keep_back (OgDocument *d)
{
  const guint line = line_of (d, "beeswax");
  const OgPpm whole = get_line (d, line)->amount;
  guint position, phase = og_document_keep_back (d, line, whole / 4, 2, "Cold");

  g_assert_cmpint (get_line (d, line)->amount, ==, whole - whole / 4);
  g_assert_cmpstr (og_formula_find_phase (og_document_get_formula (d), phase, &position)->name, ==, "Cold");
  g_assert_cmpuint (position, ==, 1);
  return phase > 0;
}

static gboolean
keep_balance_back (OgDocument *d)
{
  const guint line = line_of (d, "sunflower-oil");
  const OgPpm whole = get_line (d, line)->amount;
  const OgFormulaPhase *first = g_ptr_array_index (og_document_get_formula (d)->phases, 0);
  g_autofree char *taken = g_strdup (first->name);
  const guint phase = og_document_keep_back (d, line, 100000, 0, taken);

  g_assert_cmpint (get_line (d, line)->amount, ==, whole - 100000);
  g_assert_cmpstr (og_formula_find_phase (og_document_get_formula (d), phase, NULL)->name, !=, taken);
  g_assert_cmpuint (og_document_keep_back (d, line, whole, 0, NULL), ==, 0);
  g_assert_cmpuint (og_document_keep_back (d, line, 0, 0, NULL), ==, 0);
  g_assert_cmpuint (og_document_keep_back (d, line, 1000, 4000, NULL), ==, 0);
  g_assert_cmpuint (og_document_keep_back (d, 4000, 1000, 0, NULL), ==, 0);
  return phase > 0;
}

static gboolean
line_amount (OgDocument *d)
{
  return og_document_set_line_ppm (d, line_of (d, "beeswax"), 70000);
}

static gboolean
line_balance (OgDocument *d)
{
  return og_document_set_line_balance (d, line_of (d, "jojoba-oil"), 1);
}

static gboolean
line_held (OgDocument *d)
{
  return og_document_set_line_held (d, line_of (d, "beeswax"), TRUE);
}

static gboolean
line_note (OgDocument *d)
{
  return og_document_set_line_note (d, line_of (d, "beeswax"), "pellets");
}

static gboolean
line_temperature (OgDocument *d)
{
  return og_document_set_line_temperature (d, line_of (d, "beeswax"), 80);
}

static gboolean
line_ingredient (OgDocument *d)
{
  return og_document_set_line_ingredient (d, line_of (d, "sunflower-oil"), "jojoba-oil");
}

static gboolean
unknown_ingredient (OgDocument *d)
{
  return og_document_set_line_ingredient (d, line_of (d, "sunflower-oil"), "moon-oil");
}

static gboolean
put_material (OgDocument *d)
{
  g_autoptr (OgIngredient) material = test_own_material ("own-one", "Quay oil");

  return og_document_put_material (d, material);
}

static gboolean
apply_suggestion (OgDocument *d)
{
  g_autoptr (OgSuggestion) suggestion = og_suggestion_new ((const char *[]) { "sunflower-oil", NULL });

  og_suggestion_add_part (suggestion, og_catalog_get (test_catalog (), "jojoba-oil"),
                          get_line (d, line_of (d, "sunflower-oil"))->amount);
  return og_document_apply_suggestion (d, suggestion);
}

static gboolean
add_recipe_reading (OgDocument *d)
{
  return og_document_add_measurement (d, test_recipe_reading (d, 1200));
}

static gboolean
add_neat_reading (OgDocument *d)
{
  return og_document_add_measurement (d, test_reading ("castor-oil", 700));
}

static gboolean
body_bounds (OgDocument *d)
{
  OgBodyBounds bounds;

  og_body_bounds_init (&bounds);
  bounds.from[OG_BODY_BOUND_HEAVY] = 9000;

  return og_document_set_body_bounds (d, &bounds);
}

static gboolean
product (OgDocument *d)
{
  return og_document_set_product (d, OG_PRODUCT_LIP_APPLICATOR);
}

static gboolean
package (OgDocument *d)
{
  return og_document_set_package (d, &(OgPackage) { 6, OG_NET_ML, 8, 1 });
}

static gboolean
open_months (OgDocument *d)
{
  return og_document_set_open_months (d, 12);
}

static gboolean
warnings (OgDocument *d)
{
  return og_document_set_warnings (d, "Keep off the eyes");
}

static gboolean
costs (OgDocument *d)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new_with_free_func ((GDestroyNotify) og_cost_line_free);

  g_ptr_array_add (lines, og_cost_line_new ("Tube", 0.4, "EUR", OG_COST_PER_CONTAINER));

  return og_document_set_costs (d, lines);
}

static gboolean
label (OgDocument *d)
{
  const char *const shades[] = { "red-7-lake", NULL };
  const char *const nano[] = { "zinc-oxide", NULL };

  return og_document_set_label (d, shades, nano, TRUE);
}

static gboolean
stability_plan (OgDocument *d)
{
  GDate start;

  g_date_clear (&start, 1);
  g_date_set_dmy (&start, 29, G_DATE_FEBRUARY, 2028);

  return og_document_set_stability_plan (d, &start, 12);
}

static gboolean
stability_result (OgDocument *d)
{
  GDate date;

  g_date_clear (&date, 1);
  g_date_set_dmy (&date, 1, G_DATE_MARCH, 2028);

  return og_document_add_stability_result (d, og_stability_result_new (&date, OG_STABILITY_WARM,
                                                                       OG_READING_LOOK, NAN,
                                                                       "clear"));
}

static gboolean
replace (OgDocument *d)
{
  g_autoptr (GError) error = NULL;
  OgFormula *formula = og_recipe_table_parse ("phase,ingredient,percent\nA,castor-oil,balance\n",
                                              -1, "table.csv", test_catalog (), &error);

  g_assert_no_error (error);

  return og_document_replace (d, formula, "Take over table.csv");
}

static const Edit edits[] = {
  { "Change title", edit_title },
  { "Change purpose", edit_purpose },
  { "Change notes", edit_notes },
  { "Change batch size", edit_batch },
  { "Change target", edit_target },
  { "Add Phase A", add_phase },
  { "Rename Heated", rename_phase },
  { "Change temperature of Cool", phase_temperature },
  { "Change note of Cool", phase_note },
  { "Remove Cool", remove_phase },
  { "Move Heated", move_phase },
  { "Add Jojoba oil", add_line },
  { "Remove Beeswax", remove_line },
  { "Move Beeswax", move_line },
  { "Split Beeswax", keep_back },
  { "Split Sunflower oil", keep_balance_back },
  { "Change amount of Beeswax", line_amount },
  { "Let Jojoba oil take the rest", line_balance },
  { "Hold Beeswax", line_held },
  { "Change note of Beeswax", line_note },
  { "Change temperature of Beeswax", line_temperature },
  { "Replace Sunflower oil by Jojoba oil", line_ingredient },
  { "Replace Sunflower oil by moon-oil", unknown_ingredient },
  { "Add own material Quay oil", put_material },
  { "Replace Sunflower oil by Jojoba oil", apply_suggestion },
  { "Add measurement m1", add_recipe_reading },
  { "Add measurement m1", add_neat_reading },
  { "Change bounds of the body", body_bounds },
  { "Change product", product },
  { "Change container", package },
  { "Change period after opening", open_months },
  { "Change warnings", warnings },
  { "Change costs", costs },
  { "Change label", label },
  { "Plan stability tests", stability_plan },
  { "Add stability reading", stability_result },
  { "Take over table.csv", replace },
};

static void
check_edit (OgDocument *document,
            const Edit *edit)
{
  g_autofree char *before = test_serialise (document);
  g_autofree char *after = NULL;
  g_autofree char *undone = NULL;
  g_autofree char *redone = NULL;

  g_test_message ("%s", edit->label);
  g_assert_true (edit->edit (document));
  g_assert_cmpstr (og_document_get_undo_label (document), ==, edit->label);
  g_assert_true (og_document_get_modified (document));
  after = test_serialise (document);
  g_assert_cmpstr (after, !=, before);

  og_document_undo (document);
  undone = test_serialise (document);
  g_assert_cmpstr (undone, ==, before);
  g_assert_false (og_document_get_modified (document));
  g_assert_cmpstr (og_document_get_redo_label (document), ==, edit->label);

  og_document_redo (document);
  redone = test_serialise (document);
  g_assert_cmpstr (redone, ==, after);
  g_assert_true (og_document_get_modified (document));
  og_document_undo (document);
}

static void
test_every_edit (void)
{
  OgDocument *document = test_filled_document ();

  for (guint i = 0; i < G_N_ELEMENTS (edits); i++)
    check_edit (document, &edits[i]);
  g_object_unref (document);
}

static void
test_normalise (void)
{
  OgDocument *document = test_filled_document ();

  og_document_set_line_ppm (document, line_of (document, "castor-oil"), 500000);
  og_document_mark_saved (document);
  g_assert_cmpint (og_formula_total (og_document_get_formula (document)), !=, OG_PPM_WHOLE);
  check_edit (document, &(Edit) { "Scale to 100 %", normalise });
  og_document_redo (document);
  g_assert_cmpint (og_formula_total (og_document_get_formula (document)), ==, OG_PPM_WHOLE);
  g_assert_false (og_document_normalise (document));
  g_object_unref (document);
}

static gboolean
reading_aside (OgDocument *d)
{
  return og_document_set_measurement_aside (d, "m2", TRUE);
}

static gboolean
reading_again (OgDocument *d)
{
  return og_document_set_measurement_aside (d, "m1", FALSE);
}

static gboolean
reading_accepted (OgDocument *d)
{
  return og_document_accept_measurement (d, "m2", TRUE);
}

static gboolean
reading_refused (OgDocument *d)
{
  return og_document_accept_measurement (d, "m1", FALSE);
}

static gboolean
remove_reading (OgDocument *d)
{
  return og_document_remove_measurement (d, "m2");
}

static const Edit reading_edits[] = {
  { "Add measurement m4", add_neat_reading },
  { "Set measurement m2 aside", reading_aside },
  { "Use measurement m1 again", reading_again },
  { "Accept measurement m2", reading_accepted },
  { "Accept measurement m1 no longer", reading_refused },
  { "Remove measurement m2", remove_reading },
};

static void
test_readings (void)
{
  OgDocument *document = test_filled_document ();
  const GPtrArray *all;

  add_recipe_reading (document);
  add_neat_reading (document);
  add_recipe_reading (document);
  og_document_set_measurement_aside (document, "m1", TRUE);
  og_document_accept_measurement (document, "m1", TRUE);
  og_document_mark_saved (document);
  for (guint i = 0; i < G_N_ELEMENTS (reading_edits); i++)
    check_edit (document, &reading_edits[i]);

  g_assert_false (og_document_set_measurement_aside (document, "m1", TRUE));
  g_assert_false (og_document_set_measurement_aside (document, "m2", FALSE));
  g_assert_false (og_document_accept_measurement (document, "m1", TRUE));
  g_assert_false (og_document_set_measurement_aside (document, "m4", TRUE));
  g_assert_false (og_document_accept_measurement (document, "m4", TRUE));
  g_assert_false (og_document_remove_measurement (document, "m4"));
  g_assert_false (og_document_get_modified (document));

  all = og_document_get_formula (document)->measurements;
  g_assert_cmpuint (all->len, ==, 3);
  g_assert_cmpuint (((OgMeasurement *) all->pdata[0])->lines->len, ==, 5);
  g_assert_cmpstr (((OgMeasurement *) all->pdata[1])->material_id, ==, "castor-oil");
  g_assert_cmpfloat (((OgMeasurement *) all->pdata[1])->reduced.mpa_s, ==, 700);
  g_object_unref (document);
}

/* What is kept can be read back; what could not be is not kept. */
static void
test_reading_refusals (void)
{
  OgDocument *document = test_filled_document ();
  OgMeasurement *thin = test_reading ("castor-oil", 700);
  OgMeasurement *undated = test_reading ("castor-oil", 700);
  OgMeasurement *unweighed = test_reading ("castor-oil", NAN);
  g_autoptr (GPtrArray) lines = g_ptr_array_new_with_free_func ((GDestroyNotify) og_cost_line_free);
  OgBodyBounds bounds;

  unweighed->reading.method = OG_METHOD_CUP;
  unweighed->reading.cup = OG_CUP_ISO_4;
  unweighed->reading.seconds[0] = 60;
  unweighed->reading.n_seconds = 1;
  thin->reading.temperature_c = 400;
  g_free (undated->date);
  undated->date = g_strnfill (OG_RECIPE_MAX_NAME + 1, '2');

  g_assert_false (og_document_add_measurement (document, thin));
  g_assert_false (og_document_add_measurement (document, undated));
  g_assert_false (og_document_add_measurement (document, unweighed));
  g_assert_false (og_document_add_measurement (document, test_reading ("", 700)));
  g_assert_false (og_document_add_measurement (document, test_reading (NULL, 700)));
  g_assert_false (og_document_add_measurement (document, test_reading ("castor-oil", NAN)));
  g_assert_false (og_document_add_measurement (document, test_reading ("castor-oil", INFINITY)));
  g_assert_false (og_document_add_measurement (document, test_reading ("castor-oil", -1)));

  og_body_bounds_init (&bounds);
  g_assert_false (og_document_set_body_bounds (document, &bounds));
  bounds.from[OG_BODY_BOUND_SET] = 2 * OG_RECIPE_MAX_TARGET_MPA_S;
  g_assert_false (og_document_set_body_bounds (document, &bounds));
  bounds.from[OG_BODY_BOUND_SET] = NAN;
  g_assert_false (og_document_set_body_bounds (document, &bounds));
  og_body_bounds_init (&bounds);
  bounds.from[OG_BODY_BOUND_LIGHT] = bounds.from[OG_BODY_BOUND_THIN];
  g_assert_false (og_document_set_body_bounds (document, &bounds));

  g_assert_false (og_document_set_product (document, OG_PRODUCT_UNSAID));
  g_assert_false (og_document_set_package (document, &(OgPackage) { -1, OG_NET_ML, 8, 1 }));
  g_assert_false (og_document_set_package (document, &(OgPackage) { 6, OG_NET_ML, 8, 9 }));
  g_assert_false (og_document_set_open_months (document, OG_RECIPE_MAX_MONTHS + 1));
  g_ptr_array_add (lines, og_cost_line_new ("Tube", NAN, "EUR", OG_COST_PER_CONTAINER));
  g_assert_false (og_document_set_costs (document, lines));
  g_assert_false (og_document_set_stability_plan (document, NULL, OG_RECIPE_MAX_MONTHS + 1));
  g_assert_false (og_document_remove_stability_result (document, 0));

  g_assert_false (og_document_get_modified (document));
  g_object_unref (document);
}

/* A long way there, all the way back and all the way forth again: the same bytes at every step. */
static void
walk (GRand *rand,
      guint *n_steps)
{
  OgDocument *document = test_document ();
  g_autoptr (GPtrArray) states = g_ptr_array_new_with_free_func (g_free);
  const guint n_edits = (guint) g_rand_int_range (rand, 1, MAX_EDITS + 1);

  g_ptr_array_add (states, test_serialise (document));
  for (guint i = 0; i < n_edits; i++)
    {
      og_document_end_typing (document);
      if (test_random_edit (rand, document))
        g_ptr_array_add (states, test_serialise (document));
    }

  for (guint i = states->len - 1; i > 0; i--)
    {
      g_autofree char *state = test_serialise (document);

      g_assert_cmpstr (state, ==, g_ptr_array_index (states, i));
      g_assert_true (og_document_get_modified (document));
      og_document_undo (document);
    }
  g_assert_false (og_document_can_undo (document));
  g_assert_false (og_document_get_modified (document));

  for (guint i = 0; i < states->len; i++)
    {
      g_autofree char *state = test_serialise (document);

      g_assert_cmpstr (state, ==, g_ptr_array_index (states, i));
      og_document_redo (document);
    }
  g_assert_false (og_document_can_redo (document));

  *n_steps += states->len - 1;
  g_assert_finalize_object (document);
}

static void
test_walks (void)
{
  GRand *rand = g_rand_new_with_seed (SEED);
  guint n_steps = 0;

  for (guint i = 0; i < N_SEQUENCES; i++)
    walk (rand, &n_steps);

  g_test_message ("%u steps", n_steps);
  g_assert_cmpuint (n_steps, >, 5 * N_SEQUENCES);
  g_rand_free (rand);
}

static void
test_saved_point (void)
{
  OgDocument *document = test_filled_document ();

  g_assert_false (og_document_get_modified (document));
  edit_target (document);
  line_held (document);
  og_document_mark_saved (document);
  g_assert_false (og_document_get_modified (document));
  og_document_undo (document);
  g_assert_true (og_document_get_modified (document));
  og_document_undo (document);
  g_assert_true (og_document_get_modified (document));
  og_document_redo (document);
  og_document_redo (document);
  g_assert_false (og_document_get_modified (document));

  og_document_undo (document);
  line_note (document);
  og_document_undo (document);
  g_assert_true (og_document_get_modified (document));
  og_document_undo (document);
  g_assert_true (og_document_get_modified (document));
  g_object_unref (document);
}

static void
test_typing (void)
{
  OgDocument *document = test_filled_document ();
  g_autofree char *before = test_serialise (document);
  g_autofree char *after = NULL;

  og_document_set_title (document, "T");
  og_document_set_title (document, "Te");
  og_document_set_title (document, "Tern");
  og_document_undo (document);
  after = test_serialise (document);
  g_assert_cmpstr (after, ==, before);
  og_document_redo (document);
  g_assert_cmpstr (og_document_get_title (document), ==, "Tern");

  /* the saved text is a step of its own */
  og_document_set_title (document, "Tern ");
  og_document_mark_saved (document);
  og_document_set_title (document, "Tern Q");
  og_document_set_title (document, "Tern Qu");
  og_document_undo (document);
  g_assert_cmpstr (og_document_get_title (document), ==, "Tern ");
  g_assert_false (og_document_get_modified (document));

  og_document_set_notes (document, "a");
  og_document_end_typing (document);
  og_document_set_notes (document, "ab");
  og_document_undo (document);
  g_assert_cmpstr (og_document_get_formula (document)->notes, ==, "a");

  /* typed and taken back by hand */
  og_document_set_batch_g (document, 1);
  og_document_set_batch_g (document, 10);
  og_document_set_batch_g (document, 100);
  g_assert_cmpstr (og_document_get_undo_label (document), ==, "Change notes");
  g_object_unref (document);
}

static void
test_ids_are_not_used_again (void)
{
  OgDocument *document = test_document ();
  const guint first = og_document_add_line (document, "castor-oil", 0, 0);
  guint second;

  og_document_undo (document);
  second = og_document_add_line (document, "beeswax", 0, 0);
  g_assert_cmpuint (second, >, first);
  g_object_unref (document);
}

static void
test_own_materials (void)
{
  OgDocument *document = test_filled_document ();
  g_autoptr (OgIngredient) material = test_own_material ("castor-oil", "Pale castor oil");
  OgCatalog *overlay;

  og_document_put_material (document, material);
  overlay = og_document_get_catalog (document);
  g_assert_true (overlay != test_catalog ());
  g_assert_cmpstr (og_catalog_get (overlay, "castor-oil")->name, ==, "Pale castor oil");
  g_assert_nonnull (og_catalog_get (overlay, "beeswax"));

  /* made anew only when materials change */
  og_document_set_title (document, "T");
  line_amount (document);
  g_assert_true (og_document_get_catalog (document) == overlay);

  og_document_undo (document);
  og_document_undo (document);
  og_document_undo (document);
  g_assert_true (og_document_get_catalog (document) == test_catalog ());
  og_document_redo (document);
  g_assert_cmpstr (og_catalog_get (og_document_get_catalog (document), "castor-oil")->name, ==,
                   "Pale castor oil");

  g_assert_true (og_document_remove_material (document, "castor-oil"));
  g_assert_cmpstr (og_document_get_undo_label (document), ==,
                   "Remove own material Pale castor oil");
  g_assert_true (og_document_get_catalog (document) == test_catalog ());
  g_object_unref (document);
}

static void
count (guint *counter)
{
  (*counter)++;
}

static void
test_result (void)
{
  OgDocument *document = test_filled_document ();
  guint n_results = 0;
  OgResult *result;

  test_run_idle ();
  g_signal_connect_swapped (document, "result-changed", G_CALLBACK (count), &n_results);

  result = og_result_ref (og_document_get_result (document));
  g_assert_true (og_document_get_result (document) == result);
  g_assert_cmpint (result->total_ppm, ==, OG_PPM_WHOLE);
  g_assert_cmpuint (result->curves[OG_CURVE_TEMPERATURE_C].n, >, 0);

  /* never an old one, however soon it is asked for */
  og_document_set_line_ppm (document, line_of (document, "castor-oil"), 100000);
  g_assert_cmpint (og_document_get_result (document)->total_ppm, ==, 380000);
  og_document_set_line_ppm (document, line_of (document, "castor-oil"), 200000);
  g_assert_cmpuint (n_results, ==, 0);
  test_run_idle ();
  g_assert_cmpuint (n_results, ==, 1);
  g_assert_cmpint (og_document_get_result (document)->total_ppm, ==, 480000);
  test_run_idle ();
  g_assert_cmpuint (n_results, ==, 1);

  g_assert_cmpint (result->total_ppm, ==, OG_PPM_WHOLE);
  og_result_unref (result);

  line_amount (document);
  g_assert_finalize_object (document);
}

typedef struct
{
  guint title, modified, result, undo_label, redo_label, formula;
} Notified;

static void
watch (OgDocument *document,
       Notified   *n)
{
  g_signal_connect_swapped (document, "notify::title", G_CALLBACK (count), &n->title);
  g_signal_connect_swapped (document, "notify::modified", G_CALLBACK (count), &n->modified);
  g_signal_connect_swapped (document, "notify::result", G_CALLBACK (count), &n->result);
  g_signal_connect_swapped (document, "notify::undo-label", G_CALLBACK (count), &n->undo_label);
  g_signal_connect_swapped (document, "notify::redo-label", G_CALLBACK (count), &n->redo_label);
  g_signal_connect_swapped (document, "formula-changed", G_CALLBACK (count), &n->formula);
}

static void
test_notifications (void)
{
  OgDocument *document = test_document ();
  Notified n = { 0 };
  g_autofree char *title = NULL;
  g_autofree char *label = NULL;
  gboolean modified;
  gpointer result;

  watch (document, &n);
  og_document_set_title (document, "T");
  g_assert_cmpuint (n.title, ==, 1);
  g_assert_cmpuint (n.modified, ==, 1);
  g_assert_cmpuint (n.undo_label, ==, 1);
  g_assert_cmpuint (n.redo_label, ==, 0);
  g_assert_cmpuint (n.formula, ==, 1);

  og_document_set_target (document, 1, 2);
  g_assert_cmpuint (n.title, ==, 1);
  g_assert_cmpuint (n.modified, ==, 1);
  g_assert_cmpuint (n.undo_label, ==, 2);
  g_assert_cmpuint (n.formula, ==, 2);

  og_document_undo (document);
  g_assert_cmpuint (n.modified, ==, 1);
  g_assert_cmpuint (n.redo_label, ==, 1);
  og_document_undo (document);
  g_assert_cmpuint (n.title, ==, 2);
  g_assert_cmpuint (n.modified, ==, 2);

  g_assert_cmpuint (n.result, ==, 0);
  test_run_idle ();
  g_assert_cmpuint (n.result, ==, 1);

  g_object_get (document, "title", &title, "undo-label", &label, "modified", &modified,
                "result", &result, NULL);
  g_assert_cmpstr (title, ==, "");
  g_assert_null (label);
  g_assert_false (modified);
  g_assert_true (result == og_document_get_result (document));
  g_object_unref (document);
}

static void
test_reset (void)
{
  OgDocument *document = test_filled_document ();

  edit_title (document);
  og_document_reset (document, og_formula_new ());
  g_assert_true (og_document_is_empty (document));
  g_assert_false (og_document_get_modified (document));
  g_assert_false (og_document_can_undo (document));
  g_object_unref (document);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/document/new", test_new);
  g_test_add_func ("/document/first-lines", test_first_lines);
  g_test_add_func ("/document/phase-names", test_phase_names);
  g_test_add_func ("/document/batch-is-sum", test_batch_is_sum);
  g_test_add_func ("/document/duplicate-and-split", test_duplicate_and_split);
  g_test_add_func ("/document/refusals", test_refusals);
  g_test_add_func ("/document/no-change-no-step", test_no_change_no_step);
  g_test_add_func ("/document/unbalanced-file", test_unbalanced_file);
  g_test_add_func ("/document/every-edit", test_every_edit);
  g_test_add_func ("/document/normalise", test_normalise);
  g_test_add_func ("/document/readings", test_readings);
  g_test_add_func ("/document/reading-refusals", test_reading_refusals);
  g_test_add_func ("/document/walks", test_walks);
  g_test_add_func ("/document/saved-point", test_saved_point);
  g_test_add_func ("/document/typing", test_typing);
  g_test_add_func ("/document/ids-are-not-used-again", test_ids_are_not_used_again);
  g_test_add_func ("/document/own-materials", test_own_materials);
  g_test_add_func ("/document/result", test_result);
  g_test_add_func ("/document/notifications", test_notifications);
  g_test_add_func ("/document/reset", test_reset);

  return g_test_run ();
}
