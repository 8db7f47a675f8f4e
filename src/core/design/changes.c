/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/changes.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Decimals of an amount in wt %: one millionth of the recipe. */
#define PCT_DECIMALS 4
#define GRAM_DECIMALS 3
#define CELSIUS_DECIMALS 1

/* A line and the phase it stands in. */
typedef struct _Place Place;
struct _Place
{
  const OgFormulaLine  *line;
  const OgFormulaPhase *phase;
  const Place          *other; /* nullable: the same line in the other recipe */
};

typedef struct
{
  const OgFormula *before;
  const OgFormula *after;
  OgCatalog       *old_catalog;
  OgCatalog       *new_catalog;
  gboolean         same_ids;
  GArray          *old_lines; /* of Place */
  GArray          *new_lines;
  GPtrArray       *words;
} Changes;

static void
say (Changes  *changes,
     OgSaying *saying)
{
  g_ptr_array_add (changes->words, saying);
}

static OgWord
amount (const OgFormulaLine *line)
{
  return og_word_trimmed (og_ppm_to_pct (line->amount), PCT_DECIMALS);
}

static OgWord
material (OgCatalog           *catalog,
          const OgFormulaLine *line)
{
  const OgIngredient *ingredient = og_catalog_get (catalog, line->ingredient_id);

  return og_word_text (ingredient != NULL ? ingredient->name : line->ingredient_id);
}

/* --- lines ----------------------------------------------------------------- */

static void
add_place (OgFormulaPhase *phase,
           OgFormulaLine  *line,
           gpointer        user_data)
{
  const Place place = { line, phase, NULL };

  g_array_append_val ((GArray *) user_data, place);
}

static GArray *
places_of (const OgFormula *formula)
{
  GArray *places = g_array_new (FALSE, FALSE, sizeof (Place));

  og_formula_foreach_line (formula, add_place, places);
  return places;
}

/* How a line of the new recipe is known again in the old one, the surest first. */
typedef enum
{
  KNOWN_BY_BOTH,
  KNOWN_BY_MATERIAL,
  KNOWN_BY_ID,
  N_KNOWN_BY
} KnownBy;

static gboolean
is_known (const OgFormulaLine *old,
          const OgFormulaLine *new,
          KnownBy              by)
{
  if (by != KNOWN_BY_MATERIAL && old->id != new->id)
    return FALSE;
  return by == KNOWN_BY_ID || g_str_equal (old->ingredient_id, new->ingredient_id);
}

static void
find_old (const Changes *changes,
          Place         *new,
          KnownBy        by)
{
  for (guint i = 0; i < changes->old_lines->len && new->other == NULL; i++)
    {
      Place *old = &g_array_index (changes->old_lines, Place, i);

      if (old->other != NULL || !is_known (old->line, new->line, by))
        continue;
      old->other = new;
      new->other = old;
    }
}

static void
pair_lines (const Changes *changes)
{
  for (KnownBy by = changes->same_ids ? KNOWN_BY_BOTH : KNOWN_BY_MATERIAL; by < N_KNOWN_BY; by++)
    for (guint i = 0; i < changes->new_lines->len; i++)
      if (by != KNOWN_BY_ID || changes->same_ids)
        find_old (changes, &g_array_index (changes->new_lines, Place, i), by);
}

static gboolean
same_phase (const Changes        *changes,
            const OgFormulaPhase *old,
            const OgFormulaPhase *new)
{
  return changes->same_ids ? old->id == new->id : g_str_equal (old->name, new->name);
}

static void
say_amount (Changes             *changes,
            const OgFormulaLine *old,
            const OgFormulaLine *new)
{
  if (!g_str_equal (old->ingredient_id, new->ingredient_id))
    /* Translators: material, amount, material that was there before, its amount */
    say (changes, og_saying_new (N_("%1$s (%2$s %%) stands in for %3$s (%4$s %%)."),
                                 material (changes->new_catalog, new), amount (new),
                                 material (changes->old_catalog, old), amount (old)));
  else if (new->amount > old->amount)
    /* Translators: material, amount now, amount before */
    say (changes, og_saying_new (N_("%1$s: more, %2$s %% instead of %3$s %%."),
                                 material (changes->new_catalog, new), amount (new), amount (old)));
  else if (new->amount < old->amount)
    say (changes, og_saying_new (N_("%1$s: less, %2$s %% instead of %3$s %%."),
                                 material (changes->new_catalog, new), amount (new), amount (old)));
}

static void
say_place (Changes     *changes,
           const Place *old,
           const Place *new)
{
  const OgWord name = material (changes->new_catalog, new->line);
  const double temperature_c = new->line->add_temperature_c;

  if (!same_phase (changes, old->phase, new->phase))
    /* Translators: material, phase */
    say (changes, og_saying_new (N_("%1$s: now in the phase “%2$s”."), name,
                                 og_word_text (new->phase->name)));
  if (og_number_equal (old->line->add_temperature_c, temperature_c))
    return;
  if (isnan (temperature_c))
    say (changes, og_saying_new (N_("%s: goes in with its phase."), name));
  else
    /* Translators: material, temperature */
    say (changes, og_saying_new (N_("%1$s: goes in at %2$s °C."), name,
                                 og_word_trimmed (temperature_c, CELSIUS_DECIMALS)));
}

static void
say_lines (Changes *changes)
{
  for (guint i = 0; i < changes->new_lines->len; i++)
    {
      const Place *new = &g_array_index (changes->new_lines, Place, i);

      if (new->other != NULL)
        {
          say_amount (changes, new->other->line, new->line);
          say_place (changes, new->other, new);
        }
      else
        {
          /* Translators: material, amount */
          say (changes, og_saying_new (N_("%1$s is new: %2$s %%."),
                                       material (changes->new_catalog, new->line), amount (new->line)));
        }
    }
  for (guint i = 0; i < changes->old_lines->len; i++)
    {
      const Place *old = &g_array_index (changes->old_lines, Place, i);

      if (old->other == NULL)
        /* Translators: material, amount it had */
        say (changes, og_saying_new (N_("%1$s is gone; it was %2$s %%."),
                                     material (changes->old_catalog, old->line), amount (old->line)));
    }
}

/* --- phases ---------------------------------------------------------------- */

static const OgFormulaPhase *
find_phase (const Changes        *changes,
            const OgFormula      *formula,
            const OgFormulaPhase *phase)
{
  for (guint i = 0; i < formula->phases->len; i++)
    {
      const OgFormulaPhase *candidate = g_ptr_array_index (formula->phases, i);

      if (same_phase (changes, candidate, phase))
        return candidate;
    }

  return NULL;
}

static void
say_phase (Changes              *changes,
           const OgFormulaPhase *old,
           const OgFormulaPhase *new)
{
  const OgWord name = og_word_text (new->name);

  if (!g_str_equal (old->name, new->name))
    /* Translators: old and new name of a phase */
    say (changes, og_saying_new (N_("The phase “%1$s” is called “%2$s”."), og_word_text (old->name), name));
  if (og_number_equal (old->temperature_c, new->temperature_c))
    return;
  if (isnan (new->temperature_c))
    say (changes, og_saying_new (N_("The phase “%s” has no temperature."), name));
  else
    /* Translators: phase, temperature */
    say (changes, og_saying_new (N_("The phase “%1$s” is made at %2$s °C."), name,
                                 og_word_trimmed (new->temperature_c, CELSIUS_DECIMALS)));
}

static void
say_phases (Changes *changes)
{
  for (guint i = 0; i < changes->after->phases->len; i++)
    {
      const OgFormulaPhase *new = g_ptr_array_index (changes->after->phases, i);
      const OgFormulaPhase *old = find_phase (changes, changes->before, new);

      if (old != NULL)
        say_phase (changes, old, new);
      else
        say (changes, og_saying_new (N_("The phase “%s” is new."), og_word_text (new->name)));
    }
  for (guint i = 0; i < changes->before->phases->len; i++)
    {
      const OgFormulaPhase *old = g_ptr_array_index (changes->before->phases, i);

      if (find_phase (changes, changes->after, old) == NULL)
        say (changes, og_saying_new (N_("The phase “%s” is gone."), og_word_text (old->name)));
    }
}

/* --- everything else ------------------------------------------------------- */

static void
say_head (Changes *changes)
{
  const OgFormula *before = changes->before, *after = changes->after;

  if (before->batch_g != after->batch_g)
    /* Translators: mass now, mass before */
    say (changes, og_saying_new (N_("The batch is %1$s g instead of %2$s g."),
                                 og_word_trimmed (after->batch_g, GRAM_DECIMALS),
                                 og_word_trimmed (before->batch_g, GRAM_DECIMALS)));
  if (og_number_equal (before->target_low_mpa_s, after->target_low_mpa_s)
      && og_number_equal (before->target_high_mpa_s, after->target_high_mpa_s))
    return;
  if (isnan (after->target_low_mpa_s))
    say (changes, og_saying_plain (N_("No viscosity is wanted any more.")));
  else
    /* Translators: lower and upper bound of the target in mPa·s */
    say (changes, og_saying_new (N_("Wanted are %1$s to %2$s mPa·s."),
                                 og_word_viscosity (after->target_low_mpa_s),
                                 og_word_viscosity (after->target_high_mpa_s)));
}

static gboolean
same_costs (const GPtrArray *a,
            const GPtrArray *b)
{
  if (a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    if (!og_cost_line_equal (g_ptr_array_index (a, i), g_ptr_array_index (b, i)))
      return FALSE;

  return TRUE;
}

static gboolean
same_label (const OgFormula *a,
            const OgFormula *b)
{
  return a->open_months == b->open_months && g_str_equal (a->warnings, b->warnings)
         && g_strv_equal ((const char *const *) a->shades, (const char *const *) b->shades)
         && g_strv_equal ((const char *const *) a->nano, (const char *const *) b->nano)
         && !a->gather_scents == !b->gather_scents;
}

static void
say_handover (Changes *changes)
{
  const OgFormula *before = changes->before, *after = changes->after;

  if (!g_str_equal (before->title, after->title))
    say (changes, og_saying_new (N_("The title is “%s”."), og_word_text (after->title)));
  if (!g_str_equal (before->purpose, after->purpose))
    say (changes, og_saying_new (N_("The purpose is “%s”."), og_word_text (after->purpose)));
  if (!g_str_equal (before->notes, after->notes))
    say (changes, og_saying_plain (N_("The notes are others.")));
  if (before->product != after->product)
    say (changes, og_saying_plain (N_("It is another kind of product.")));
  if (!og_package_equal (&before->package, &after->package))
    say (changes, og_saying_plain (N_("The container is another one.")));
  if (!same_costs (before->costs, after->costs))
    say (changes, og_saying_plain (N_("Packaging and labour cost something else.")));
  if (!same_label (before, after))
    say (changes, og_saying_plain (N_("The label says something else.")));
  if (!og_body_bounds_equal (&before->body_bounds, &after->body_bounds))
    say (changes, og_saying_plain (N_("The words for the body have other bounds.")));
}

GPtrArray *
og_changes_in_words (const OgFormula *before,
                     const OgFormula *after,
                     OgCatalog       *old_catalog,
                     OgCatalog       *new_catalog,
                     gboolean         same_ids)
{
  g_autoptr (GArray) old_lines = NULL;
  g_autoptr (GArray) new_lines = NULL;
  Changes changes = { before, after, old_catalog, new_catalog, same_ids, NULL, NULL, NULL };

  g_return_val_if_fail (before != NULL && after != NULL, NULL);
  g_return_val_if_fail (old_catalog != NULL && new_catalog != NULL, NULL);

  changes.old_lines = old_lines = places_of (before);
  changes.new_lines = new_lines = places_of (after);
  changes.words = og_sayings_new ();
  pair_lines (&changes);
  say_lines (&changes);
  say_phases (&changes);
  say_head (&changes);
  say_handover (&changes);
  return changes.words;
}
