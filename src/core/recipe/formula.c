/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/recipe/formula.h"

#include <math.h>

#include "core/base/json-write.h"
#include "core/base/physics.h"
#include "core/material/catalog.h"
#include "core/recipe/bench.h"

/* --- lines and phases ------------------------------------------------------ */

static JsonObject *
extra_ref (JsonObject *extra)
{
  /* Members kept for the file are never changed after reading, so copies may share them. */
  return extra != NULL ? json_object_ref (extra) : NULL;
}

static void
line_free (OgFormulaLine *line)
{
  g_free (line->ingredient_id);
  g_free (line->note);
  g_clear_pointer (&line->extra, json_object_unref);
  g_free (line);
}

static OgFormulaLine *
line_copy (const OgFormulaLine *line)
{
  OgFormulaLine *copy = g_memdup2 (line, sizeof *line);

  copy->ingredient_id = g_strdup (line->ingredient_id);
  copy->note = g_strdup (line->note);
  copy->extra = extra_ref (line->extra);
  return copy;
}

static void
phase_free (OgFormulaPhase *phase)
{
  g_free (phase->name);
  g_free (phase->note);
  g_ptr_array_unref (phase->lines);
  g_clear_pointer (&phase->extra, json_object_unref);
  g_free (phase);
}

static OgFormulaPhase *
phase_copy (const OgFormulaPhase *phase)
{
  OgFormulaPhase *copy = g_memdup2 (phase, sizeof *phase);

  copy->name = g_strdup (phase->name);
  copy->note = g_strdup (phase->note);
  copy->lines = g_ptr_array_new_full (phase->lines->len, (GDestroyNotify) line_free);
  for (guint i = 0; i < phase->lines->len; i++)
    g_ptr_array_add (copy->lines, line_copy (g_ptr_array_index (phase->lines, i)));
  copy->extra = extra_ref (phase->extra);
  return copy;
}

static void
insert_at (GPtrArray *array,
           gpointer   element,
           guint      position)
{
  g_ptr_array_insert (array, (int) MIN (position, array->len), element);
}

/* --- the recipe as a value ------------------------------------------------- */

OgFormula *
og_formula_new (void)
{
  OgFormula *formula = g_new0 (OgFormula, 1);

  formula->title = g_strdup ("");
  formula->purpose = g_strdup ("");
  formula->notes = g_strdup ("");
  formula->batch_g = 100;
  formula->target_low_mpa_s = NAN;
  formula->target_high_mpa_s = NAN;
  og_body_bounds_init (&formula->body_bounds);
  og_package_init (&formula->package);
  formula->warnings = g_strdup ("");
  formula->shades = g_new0 (char *, 1);
  formula->nano = g_new0 (char *, 1);
  formula->costs = g_ptr_array_new_with_free_func ((GDestroyNotify) og_cost_line_free);
  g_date_clear (&formula->stability_start, 1);
  formula->stability_results
      = g_ptr_array_new_with_free_func ((GDestroyNotify) og_stability_result_free);
  formula->phases = g_ptr_array_new_with_free_func ((GDestroyNotify) phase_free);
  formula->materials = g_ptr_array_new_with_free_func ((GDestroyNotify) og_ingredient_unref);
  formula->measurements = g_ptr_array_new_with_free_func ((GDestroyNotify) og_measurement_free);
  formula->versions = g_ptr_array_new_with_free_func ((GDestroyNotify) og_version_unref);
  formula->next_id = 1;
  return formula;
}

OgFormula *
og_formula_copy (const OgFormula *formula)
{
  OgFormula *copy;

  g_return_val_if_fail (formula != NULL, NULL);

  copy = g_memdup2 (formula, sizeof *formula);
  copy->title = g_strdup (formula->title);
  copy->purpose = g_strdup (formula->purpose);
  copy->notes = g_strdup (formula->notes);
  copy->warnings = g_strdup (formula->warnings);
  copy->shades = g_strdupv (formula->shades);
  copy->nano = g_strdupv (formula->nano);
  copy->costs = g_ptr_array_new_full (formula->costs->len, (GDestroyNotify) og_cost_line_free);
  for (guint i = 0; i < formula->costs->len; i++)
    g_ptr_array_add (copy->costs, og_cost_line_copy (g_ptr_array_index (formula->costs, i)));
  copy->stability_results
      = g_ptr_array_new_full (formula->stability_results->len,
                              (GDestroyNotify) og_stability_result_free);
  for (guint i = 0; i < formula->stability_results->len; i++)
    g_ptr_array_add (copy->stability_results,
                     og_stability_result_copy (g_ptr_array_index (formula->stability_results, i)));
  copy->phases = g_ptr_array_new_full (formula->phases->len, (GDestroyNotify) phase_free);
  for (guint i = 0; i < formula->phases->len; i++)
    g_ptr_array_add (copy->phases, phase_copy (g_ptr_array_index (formula->phases, i)));
  copy->materials = g_ptr_array_new_full (formula->materials->len,
                                          (GDestroyNotify) og_ingredient_unref);
  for (guint i = 0; i < formula->materials->len; i++)
    g_ptr_array_add (copy->materials,
                     og_ingredient_ref (g_ptr_array_index (formula->materials, i)));
  copy->measurements = g_ptr_array_new_full (formula->measurements->len,
                                             (GDestroyNotify) og_measurement_free);
  for (guint i = 0; i < formula->measurements->len; i++)
    g_ptr_array_add (copy->measurements,
                     og_measurement_copy (g_ptr_array_index (formula->measurements, i)));
  copy->versions = g_ptr_array_new_full (formula->versions->len,
                                         (GDestroyNotify) og_version_unref);
  for (guint i = 0; i < formula->versions->len; i++)
    g_ptr_array_add (copy->versions, og_version_ref (g_ptr_array_index (formula->versions, i)));
  copy->extra = extra_ref (formula->extra);
  return copy;
}

void
og_formula_free (OgFormula *formula)
{
  if (formula == NULL)
    return;
  g_free (formula->title);
  g_free (formula->purpose);
  g_free (formula->notes);
  g_free (formula->warnings);
  g_strfreev (formula->shades);
  g_strfreev (formula->nano);
  g_ptr_array_unref (formula->costs);
  g_ptr_array_unref (formula->stability_results);
  g_ptr_array_unref (formula->phases);
  g_ptr_array_unref (formula->materials);
  g_ptr_array_unref (formula->measurements);
  g_ptr_array_unref (formula->versions);
  g_clear_pointer (&formula->extra, json_object_unref);
  g_free (formula);
}

/* --- versions -------------------------------------------------------------- */

OgVersion *
og_version_new (const char  *name,
                const char  *note,
                const GDate *date,
                OgFormula   *recipe)
{
  OgVersion *version;

  g_return_val_if_fail (name != NULL && note != NULL && recipe != NULL, NULL);
  g_return_val_if_fail (date != NULL && g_date_valid (date), NULL);

  g_ptr_array_set_size (recipe->measurements, 0);
  g_ptr_array_set_size (recipe->stability_results, 0);
  g_ptr_array_set_size (recipe->versions, 0);
  g_date_clear (&recipe->stability_start, 1);
  recipe->stability_months = 0;
  g_clear_pointer (&recipe->extra, json_object_unref);

  version = g_atomic_rc_box_new0 (OgVersion);
  version->name = g_strdup (name);
  version->note = g_strdup (note);
  version->date = *date;
  version->recipe = recipe;
  return version;
}

OgVersion *
og_version_ref (OgVersion *version)
{
  return g_atomic_rc_box_acquire (version);
}

static void
version_clear (gpointer data)
{
  OgVersion *version = data;

  g_free (version->name);
  g_free (version->note);
  og_formula_free ((OgFormula *) version->recipe);
}

void
og_version_unref (OgVersion *version)
{
  if (version != NULL)
    g_atomic_rc_box_release_full (version, version_clear);
}

/* --- the same recipe ------------------------------------------------------- */

static gboolean
same_elements (const GPtrArray *a,
               const GPtrArray *b,
               GEqualFunc       equal)
{
  if (a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    {
      if (!equal (g_ptr_array_index (a, i), g_ptr_array_index (b, i)))
        return FALSE;
    }
  return TRUE;
}

static gboolean
line_equal (gconstpointer a,
            gconstpointer b)
{
  const OgFormulaLine *x = a, *y = b;

  return x->id == y->id
         && x->amount == y->amount
         && !x->held == !y->held
         && x->balance_share == y->balance_share
         && og_number_equal (x->add_temperature_c, y->add_temperature_c)
         && g_str_equal (x->ingredient_id, y->ingredient_id)
         && og_text_equal (x->note, y->note)
         && og_json_equal (x->extra, y->extra);
}

static gboolean
phase_equal (gconstpointer a,
             gconstpointer b)
{
  const OgFormulaPhase *x = a, *y = b;

  return x->id == y->id
         && og_number_equal (x->temperature_c, y->temperature_c)
         && g_str_equal (x->name, y->name)
         && og_text_equal (x->note, y->note)
         && og_json_equal (x->extra, y->extra)
         && same_elements (x->lines, y->lines, line_equal);
}

static gboolean
material_equal (gconstpointer a,
                gconstpointer b)
{
  const OgIngredient *x = a, *y = b;

  return x == y || og_json_equal (x->definition, y->definition);
}

static gboolean
same_date (const GDate *a,
           const GDate *b)
{
  return g_date_valid (a) ? g_date_valid (b) && g_date_compare (a, b) == 0 : !g_date_valid (b);
}

static gboolean
version_equal (gconstpointer a,
               gconstpointer b)
{
  const OgVersion *x = a, *y = b;

  return x == y
         || (g_str_equal (x->name, y->name) && g_str_equal (x->note, y->note)
             && g_date_compare (&x->date, &y->date) == 0
             && og_formula_equal (x->recipe, y->recipe));
}

gboolean
og_formula_equal (const OgFormula *a,
                  const OgFormula *b)
{
  g_return_val_if_fail (a != NULL && b != NULL, FALSE);

  return a == b
         || (a->batch_g == b->batch_g
             && !a->batch_is_sum == !b->batch_is_sum
             && og_number_equal (a->target_low_mpa_s, b->target_low_mpa_s)
             && og_number_equal (a->target_high_mpa_s, b->target_high_mpa_s)
             && og_body_bounds_equal (&a->body_bounds, &b->body_bounds)
             && a->product == b->product
             && og_package_equal (&a->package, &b->package)
             && a->open_months == b->open_months
             && g_str_equal (a->warnings, b->warnings)
             && same_elements (a->costs, b->costs, og_cost_line_equal)
             && g_strv_equal ((const char *const *) a->shades, (const char *const *) b->shades)
             && g_strv_equal ((const char *const *) a->nano, (const char *const *) b->nano)
             && !a->gather_scents == !b->gather_scents
             && same_date (&a->stability_start, &b->stability_start)
             && a->stability_months == b->stability_months
             && same_elements (a->stability_results, b->stability_results,
                               og_stability_result_equal)
             && g_str_equal (a->title, b->title)
             && g_str_equal (a->purpose, b->purpose)
             && g_str_equal (a->notes, b->notes)
             && same_elements (a->phases, b->phases, phase_equal)
             && same_elements (a->materials, b->materials, material_equal)
             && same_elements (a->measurements, b->measurements, og_measurement_equal)
             && same_elements (a->versions, b->versions, version_equal)
             && og_json_equal (a->extra, b->extra));
}

/* --- edits ----------------------------------------------------------------- */

OgFormulaPhase *
og_formula_add_phase (OgFormula  *formula,
                      const char *name,
                      double      temperature_c,
                      guint       position)
{
  OgFormulaPhase *phase;

  g_return_val_if_fail (formula != NULL && name != NULL, NULL);

  phase = g_new0 (OgFormulaPhase, 1);
  phase->id = formula->next_id++;
  phase->name = g_strdup (name);
  phase->temperature_c = temperature_c;
  phase->lines = g_ptr_array_new_with_free_func ((GDestroyNotify) line_free);
  insert_at (formula->phases, phase, position);
  return phase;
}

OgFormulaLine *
og_formula_add_line (OgFormula      *formula,
                     OgFormulaPhase *phase,
                     const char     *ingredient_id,
                     OgPpm           amount,
                     guint           position)
{
  OgFormulaLine *line;

  g_return_val_if_fail (formula != NULL && phase != NULL && ingredient_id != NULL, NULL);
  g_return_val_if_fail (amount >= 0 && amount <= OG_PPM_WHOLE, NULL);

  line = g_new0 (OgFormulaLine, 1);
  line->id = formula->next_id++;
  line->ingredient_id = g_strdup (ingredient_id);
  line->amount = amount;
  line->add_temperature_c = NAN;
  insert_at (phase->lines, line, position);
  return line;
}

OgFormulaPhase *
og_formula_find_phase (const OgFormula *formula,
                       guint            phase_id,
                       guint           *position)
{
  g_return_val_if_fail (formula != NULL, NULL);

  for (guint i = 0; i < formula->phases->len; i++)
    {
      OgFormulaPhase *phase = g_ptr_array_index (formula->phases, i);

      if (phase->id != phase_id)
        continue;
      if (position != NULL)
        *position = i;
      return phase;
    }
  return NULL;
}

OgFormulaLine *
og_formula_find_line (const OgFormula  *formula,
                      guint             line_id,
                      OgFormulaPhase  **phase,
                      guint            *position)
{
  g_return_val_if_fail (formula != NULL, NULL);

  for (guint i = 0; i < formula->phases->len; i++)
    {
      OgFormulaPhase *candidate = g_ptr_array_index (formula->phases, i);

      for (guint j = 0; j < candidate->lines->len; j++)
        {
          OgFormulaLine *line = g_ptr_array_index (candidate->lines, j);

          if (line->id != line_id)
            continue;
          if (phase != NULL)
            *phase = candidate;
          if (position != NULL)
            *position = j;
          return line;
        }
    }
  return NULL;
}

OgFormulaLine *
og_formula_split_line (OgFormula *formula,
                       guint      line_id,
                       OgPpm      amount,
                       guint      phase_id)
{
  OgFormulaPhase *phase;
  OgFormulaLine *line, *part;

  g_return_val_if_fail (formula != NULL, NULL);

  phase = og_formula_find_phase (formula, phase_id, NULL);
  line = og_formula_find_line (formula, line_id, NULL, NULL);
  g_return_val_if_fail (phase != NULL && line != NULL && amount > 0 && amount < line->amount, NULL);

  part = og_formula_add_line (formula, phase, line->ingredient_id, amount, G_MAXUINT);
  part->held = line->held;
  line->amount -= amount;
  return part;
}

void
og_formula_remove_line (OgFormula *formula,
                        guint      line_id)
{
  OgFormulaPhase *phase = NULL;
  guint position = 0;

  g_return_if_fail (og_formula_find_line (formula, line_id, &phase, &position) != NULL);

  g_ptr_array_remove_index (phase->lines, position);
}

void
og_formula_remove_phase (OgFormula *formula,
                         guint      phase_id)
{
  guint position = 0;

  g_return_if_fail (og_formula_find_phase (formula, phase_id, &position) != NULL);

  g_ptr_array_remove_index (formula->phases, position);
}

void
og_formula_move_line (OgFormula *formula,
                      guint      line_id,
                      guint      phase_id,
                      guint      position)
{
  OgFormulaPhase *source = NULL;
  OgFormulaPhase *target = og_formula_find_phase (formula, phase_id, NULL);
  guint index = 0;

  g_return_if_fail (target != NULL);
  g_return_if_fail (og_formula_find_line (formula, line_id, &source, &index) != NULL);

  insert_at (target->lines, g_ptr_array_steal_index (source->lines, index), position);
}

void
og_formula_move_phase (OgFormula *formula,
                       guint      phase_id,
                       guint      position)
{
  guint index = 0;

  g_return_if_fail (og_formula_find_phase (formula, phase_id, &index) != NULL);

  insert_at (formula->phases, g_ptr_array_steal_index (formula->phases, index), position);
}

/* --- looking through the lines --------------------------------------------- */

void
og_formula_foreach_line (const OgFormula   *formula,
                         OgFormulaLineFunc  func,
                         gpointer           user_data)
{
  g_return_if_fail (formula != NULL && func != NULL);

  for (guint i = 0; i < formula->phases->len; i++)
    {
      OgFormulaPhase *phase = g_ptr_array_index (formula->phases, i);

      for (guint j = 0; j < phase->lines->len; j++)
        func (phase, g_ptr_array_index (phase->lines, j), user_data);
    }
}

static void
collect_line (OgFormulaPhase *phase,
              OgFormulaLine  *line,
              gpointer        user_data)
{
  g_ptr_array_add (user_data, line);
}

/* Returns: (transfer container): every line in order */
static GPtrArray *
all_lines (const OgFormula *formula)
{
  GPtrArray *lines = g_ptr_array_new ();

  og_formula_foreach_line (formula, collect_line, lines);
  return lines;
}

OgFormulaLine *
og_formula_find_ingredient (const OgFormula *formula,
                            const char      *ingredient_id)
{
  g_autoptr (GPtrArray) lines = NULL;

  g_return_val_if_fail (formula != NULL && ingredient_id != NULL, NULL);

  lines = all_lines (formula);
  for (guint i = 0; i < lines->len; i++)
    {
      OgFormulaLine *line = g_ptr_array_index (lines, i);

      if (g_str_equal (line->ingredient_id, ingredient_id))
        return line;
    }
  return NULL;
}

OgIngredient *
og_formula_find_material (const OgFormula *formula,
                          const char      *id,
                          guint           *position)
{
  g_return_val_if_fail (formula != NULL && id != NULL, NULL);

  for (guint i = 0; i < formula->materials->len; i++)
    {
      OgIngredient *material = g_ptr_array_index (formula->materials, i);

      if (!g_str_equal (material->id, id))
        continue;
      if (position != NULL)
        *position = i;
      return material;
    }

  return NULL;
}

guint
og_formula_get_n_lines (const OgFormula *formula)
{
  guint n = 0;

  g_return_val_if_fail (formula != NULL, 0);

  for (guint i = 0; i < formula->phases->len; i++)
    n += ((OgFormulaPhase *) g_ptr_array_index (formula->phases, i))->lines->len;
  return n;
}

/* --- amounts --------------------------------------------------------------- */

gint64
og_formula_total (const OgFormula *formula)
{
  g_autoptr (GPtrArray) lines = NULL;
  gint64 total = 0;

  g_return_val_if_fail (formula != NULL, 0);

  lines = all_lines (formula);
  for (guint i = 0; i < lines->len; i++)
    total += ((OgFormulaLine *) g_ptr_array_index (lines, i))->amount;
  return total;
}

gint64
og_formula_balance (OgFormula *formula)
{
  g_autoptr (GPtrArray) lines = NULL;
  gint64 missing = OG_PPM_WHOLE, shares = 0, left;

  g_return_val_if_fail (formula != NULL, 0);

  lines = all_lines (formula);
  for (guint i = 0; i < lines->len; i++)
    {
      const OgFormulaLine *line = g_ptr_array_index (lines, i);

      shares += line->balance_share;
      if (line->balance_share == 0)
        missing -= line->amount;
    }
  if (shares == 0)
    return OG_PPM_WHOLE - missing;

  missing = MAX (missing, 0);
  left = missing;
  for (guint i = 0; i < lines->len; i++)
    {
      OgFormulaLine *line = g_ptr_array_index (lines, i);

      if (line->balance_share == 0)
        continue;
      line->amount = (OgPpm) (missing * line->balance_share / shares);
      left -= line->amount;
    }
  for (guint i = 0; left > 0; i++)
    {
      OgFormulaLine *line = g_ptr_array_index (lines, i);

      if (line->balance_share == 0)
        continue;
      line->amount++;
      left--;
    }
  return og_formula_total (formula);
}

typedef struct
{
  OgFormulaLine *line;
  gint64         weight; /* in any unit */
  gint64         remainder;
} Scaled;

/* Largest remainder first; the sort is stable, so of equal ones the earlier line comes first. */
static int
compare_remainder (gconstpointer a,
                   gconstpointer b,
                   gpointer      user_data)
{
  const Scaled *x = a, *y = b;

  return (x->remainder < y->remainder) - (x->remainder > y->remainder);
}

static void
scale_lines (GArray *scaled,
             gint64  sum,
             gint64  target)
{
  gint64 left = target;

  for (guint i = 0; i < scaled->len; i++)
    {
      Scaled *item = &g_array_index (scaled, Scaled, i);
      gint64 product = item->weight * target;

      item->line->amount = (OgPpm) (product / sum);
      item->remainder = product % sum;
      left -= item->line->amount;
    }

  g_qsort_with_data (scaled->data, (int) scaled->len, sizeof (Scaled), compare_remainder, NULL);
  for (guint i = 0; i < left; i++)
    g_array_index (scaled, Scaled, i).line->amount++;
}

gboolean
og_formula_normalise (OgFormula *formula)
{
  g_autoptr (GPtrArray) lines = NULL;
  g_autoptr (GArray) scaled = NULL;
  gint64 sum = 0, target = OG_PPM_WHOLE;

  g_return_val_if_fail (formula != NULL, FALSE);

  lines = all_lines (formula);
  scaled = g_array_new (FALSE, FALSE, sizeof (Scaled));
  for (guint i = 0; i < lines->len; i++)
    {
      Scaled item = { .line = g_ptr_array_index (lines, i) };

      if (item.line->held || item.line->balance_share > 0)
        {
          target -= item.line->amount;
          continue;
        }
      item.weight = item.line->amount;
      sum += item.weight;
      g_array_append_val (scaled, item);
    }
  if (sum == 0 || target < 0)
    return FALSE;

  scale_lines (scaled, sum, target);
  return TRUE;
}

/* Less than any balance of a bench shows: grams come back as they were entered, through shares and all. */
#define WEIGHT_UNITS_PER_G 1e4
/* Units at most, so that their product with OG_PPM_WHOLE stays a gint64. */
#define MOST_WEIGHT_UNITS 1e12

gboolean
og_formula_weigh (OgFormula *formula,
                  guint      line_id,
                  double     g)
{
  g_autoptr (GPtrArray) lines = NULL;
  g_autoptr (GArray) scaled = NULL;
  double units_per_g;
  gint64 sum = 0;

  g_return_val_if_fail (formula != NULL && isfinite (g) && g >= 0.0, FALSE);

  lines = all_lines (formula);
  scaled = g_array_new (FALSE, FALSE, sizeof (Scaled));
  units_per_g = MIN (WEIGHT_UNITS_PER_G, MOST_WEIGHT_UNITS / (formula->batch_g + g));
  for (guint i = 0; i < lines->len; i++)
    {
      Scaled item = { .line = g_ptr_array_index (lines, i) };
      double line_g = item.line->id == line_id ? g : og_ppm_to_g (item.line->amount, formula->batch_g);

      item.weight = llround (line_g * units_per_g);
      sum += item.weight;
      g_array_append_val (scaled, item);
    }
  if (sum == 0)
    return FALSE;

  formula->batch_g = (double) sum / units_per_g;
  scale_lines (scaled, sum, OG_PPM_WHOLE);
  return TRUE;
}

/* --- contents -------------------------------------------------------------- */

/* Mixtures within mixtures: a deeper chain is a mistake of the library. */
#define MAX_MIXTURE_DEPTH 64

/* Blend: materials and their shares, each once, in order of first appearance. */
typedef struct
{
  GPtrArray  *contents; /* of OgContent */
  GHashTable *by_id;    /* id -> OgContent */
} Blend;

/* Unmixer: the mixtures taken apart so far, and those that are being taken apart. */
typedef struct
{
  const OgCatalog *catalog;
  GHashTable      *blends; /* OgIngredient -> Blend */
  GPtrArray       *open;   /* of OgIngredient: path from the line to where we are */
} Unmixer;

static void add_material (Unmixer    *self,
                          Blend      *blend,
                          const char *id,
                          double      fraction);

static void
content_free (OgContent *content)
{
  g_free (content->ingredient_id);
  g_free (content);
}

static Blend *
blend_new (void)
{
  Blend *blend = g_new0 (Blend, 1);

  blend->contents = g_ptr_array_new_with_free_func ((GDestroyNotify) content_free);
  blend->by_id = g_hash_table_new (g_str_hash, g_str_equal);
  return blend;
}

static void
blend_free (Blend *blend)
{
  g_hash_table_unref (blend->by_id);
  g_clear_pointer (&blend->contents, g_ptr_array_unref);
  g_free (blend);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Blend, blend_free)

static void
blend_add (Blend              *blend,
           const OgIngredient *ingredient,
           const char         *id,
           double              fraction)
{
  OgContent *content = g_hash_table_lookup (blend->by_id, id);

  if (content == NULL)
    {
      content = g_new0 (OgContent, 1);
      content->ingredient = ingredient;
      content->ingredient_id = g_strdup (id);
      g_ptr_array_add (blend->contents, content);
      g_hash_table_insert (blend->by_id, content->ingredient_id, content);
    }
  content->fraction += fraction;
}

static double
composition_sum (const OgIngredient *ingredient)
{
  double sum = 0;

  for (guint i = 0; i < ingredient->composition->len; i++)
    sum += g_array_index (ingredient->composition, OgPart, i).pct;
  return sum;
}

/* Each mixture is taken apart once, so that mixtures of mixtures stay cheap. */
static const Blend *
take_apart (Unmixer            *self,
            const OgIngredient *mixture)
{
  Blend *blend = g_hash_table_lookup (self->blends, mixture);
  double sum = composition_sum (mixture);

  if (blend != NULL)
    return blend;

  blend = blend_new ();
  g_ptr_array_add (self->open, (gpointer) mixture);
  for (guint i = 0; i < mixture->composition->len; i++)
    {
      const OgPart *part = &g_array_index (mixture->composition, OgPart, i);

      add_material (self, blend, part->ingredient_id, part->pct / sum);
    }
  g_ptr_array_set_size (self->open, (int) self->open->len - 1);
  g_hash_table_insert (self->blends, (gpointer) mixture, blend);
  return blend;
}

/* A mixture that holds itself, or lies too deep, is taken as one material where it comes up. */
static void
add_material (Unmixer    *self,
              Blend      *blend,
              const char *id,
              double      fraction)
{
  const OgIngredient *ingredient = og_catalog_get (self->catalog, id);
  const Blend *parts;

  if (ingredient == NULL || composition_sum (ingredient) <= 0
      || self->open->len >= MAX_MIXTURE_DEPTH
      || g_ptr_array_find (self->open, ingredient, NULL))
    {
      blend_add (blend, ingredient, id, fraction);
      return;
    }

  parts = take_apart (self, ingredient);
  for (guint i = 0; i < parts->contents->len; i++)
    {
      const OgContent *part = g_ptr_array_index (parts->contents, i);

      blend_add (blend, part->ingredient, part->ingredient_id, fraction * part->fraction);
    }
}

GPtrArray *
og_parts_contents (const GArray            *parts,
                   const struct _OgCatalog *catalog)
{
  g_autoptr (GHashTable) blends = NULL;
  g_autoptr (GPtrArray) open = NULL;
  g_autoptr (Blend) whole = NULL;
  Unmixer self;

  g_return_val_if_fail (parts != NULL && catalog != NULL, NULL);

  blends = g_hash_table_new_full (NULL, NULL, NULL, (GDestroyNotify) blend_free);
  open = g_ptr_array_new ();
  whole = blend_new ();
  self = (Unmixer) { .catalog = catalog, .blends = blends, .open = open };
  for (guint i = 0; i < parts->len; i++)
    {
      const OgPart *part = &g_array_index (parts, OgPart, i);

      add_material (&self, whole, part->ingredient_id, part->pct / 100);
    }
  return g_ptr_array_ref (whole->contents);
}

GPtrArray *
og_formula_contents (const OgFormula         *formula,
                     const struct _OgCatalog *catalog)
{
  g_autoptr (GPtrArray) lines = NULL;
  g_autoptr (GArray) parts = NULL;

  g_return_val_if_fail (formula != NULL && catalog != NULL, NULL);

  lines = all_lines (formula);
  parts = g_array_new (FALSE, FALSE, sizeof (OgPart));
  for (guint i = 0; i < lines->len; i++)
    {
      const OgFormulaLine *line = g_ptr_array_index (lines, i);
      OgPart part = { line->ingredient_id, og_ppm_to_pct (line->amount) };

      g_array_append_val (parts, part);
    }
  return og_parts_contents (parts, catalog);
}

double
og_contents_density (const GPtrArray *contents,
                     double           temperature_c,
                     double          *known_fraction)
{
  double volume = 0.0, known = 0.0, total = 0.0;

  g_return_val_if_fail (contents != NULL, NAN);

  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);
      double density = content->ingredient != NULL
                           ? og_ingredient_density (content->ingredient, temperature_c)
                           : NAN;

      total += content->fraction;
      if (!isfinite (density))
        continue;
      known += content->fraction;
      volume += content->fraction / density;
    }
  if (known_fraction != NULL)
    *known_fraction = total > 0.0 ? known / total : 0.0;
  return volume > 0.0 && known >= OG_MOSTLY_KNOWN * total ? known / volume : NAN;
}
