/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/substitution-private.h"

#include <string.h>

/* What one phase held of the replaced materials and takes up instead. */
typedef struct
{
  OgFormulaPhase *phase;
  gint64 held;            /* ppm */
  OgFormulaLine *kept;    /* the line whose place the first part takes */
  guint position;         /* of that line */
  guint balance_share;    /* of all replaced lines of the phase */
} Place;

static gboolean
is_replaced (const OgSuggestion *suggestion,
             const char         *ingredient_id)
{
  return g_strv_contains ((const char *const *) suggestion->replaced, ingredient_id);
}

static GArray *
find_places (const OgFormula    *formula,
             const OgSuggestion *suggestion)
{
  GArray *places = g_array_new (FALSE, FALSE, sizeof (Place));

  for (guint p = 0; p < formula->phases->len; p++)
    {
      Place place = { .phase = g_ptr_array_index (formula->phases, p) };

      for (guint l = 0; l < place.phase->lines->len; l++)
        {
          OgFormulaLine *line = g_ptr_array_index (place.phase->lines, l);

          if (!is_replaced (suggestion, line->ingredient_id))
            continue;
          place.held += line->amount;
          place.balance_share += line->balance_share;
          if (place.kept == NULL || (place.kept->balance_share == 0 && line->balance_share > 0))
            place.kept = line;
        }
      if (place.kept != NULL)
        g_array_append_val (places, place);
    }
  return places;
}

static void
remove_replaced (Place              *place,
                 const OgSuggestion *suggestion)
{
  for (guint l = place->phase->lines->len; l-- > 0;)
    {
      const OgFormulaLine *line = g_ptr_array_index (place->phase->lines, l);

      if (line != place->kept && is_replaced (suggestion, line->ingredient_id))
        g_ptr_array_remove_index (place->phase->lines, l);
    }
  g_ptr_array_find (place->phase->lines, place->kept, &place->position);
}

static OgFormulaLine *
find_in_phase (const Place *place,
               const char  *ingredient_id)
{
  for (guint l = 0; l < place->phase->lines->len; l++)
    {
      OgFormulaLine *line = g_ptr_array_index (place->phase->lines, l);

      if (line != place->kept && g_str_equal (line->ingredient_id, ingredient_id))
        return line;
    }
  return NULL;
}

/* Share of @amount that falls to the phases up to @until, which held @until of @total. */
static OgPpm
share_until (OgPpm  amount,
             gint64 until,
             gint64 total)
{
  return total > 0 ? (OgPpm) ((amount * until + total / 2) / total) : amount;
}

static void
fill_place (OgFormula          *formula,
            Place              *place,
            const OgSuggestion *suggestion,
            gint64              before,
            gint64              total)
{
  const gboolean first_place = before == 0;
  OgFormulaLine *kept = place->kept, *bearer = NULL;
  const double add_temperature_c = kept->add_temperature_c;
  gboolean kept_used = FALSE;
  guint position;

  remove_replaced (place, suggestion);
  position = place->position + 1;
  for (guint i = 0; i < suggestion->parts->len; i++)
    {
      const OgSuggestedPart *part = og_suggestion_get_part (suggestion, i);
      OgPpm amount = share_until (part->amount, before + place->held, total)
                     - (first_place ? 0 : share_until (part->amount, before, total));
      OgFormulaLine *line = find_in_phase (place, part->ingredient->id);

      if (line != NULL)
        line->amount += amount;
      else if (amount == 0 && !first_place)
        continue;
      else if (!kept_used)
        {
          line = kept;
          g_free (line->ingredient_id);
          line->ingredient_id = g_strdup (part->ingredient->id);
          line->amount = amount;
          kept_used = TRUE;
        }
      else
        {
          line = og_formula_add_line (formula, place->phase, part->ingredient->id, amount, position++);
          line->add_temperature_c = add_temperature_c;
        }
      if (bearer == NULL || line == kept)
        bearer = line;
    }
  if (!kept_used)
    g_ptr_array_remove (place->phase->lines, kept);
  if (kept_used)
    kept->balance_share = place->balance_share;
  else if (bearer != NULL)
    bearer->balance_share += place->balance_share;
}

static gboolean
is_balanced (const OgFormula *formula)
{
  for (guint p = 0; p < formula->phases->len; p++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, p);

      for (guint l = 0; l < phase->lines->len; l++)
        if (((OgFormulaLine *) g_ptr_array_index (phase->lines, l))->balance_share > 0)
          return TRUE;
    }
  return FALSE;
}

/* The line that gives way for, or takes up, a carrier: not one that the balance sets anyway. */
static OgFormulaLine *
find_carrier_line (const OgFormula *formula,
                   const char      *ingredient_id)
{
  for (guint p = 0; p < formula->phases->len; p++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, p);

      for (guint l = 0; l < phase->lines->len; l++)
        {
          OgFormulaLine *line = g_ptr_array_index (phase->lines, l);

          if (line->balance_share == 0 && g_str_equal (line->ingredient_id, ingredient_id))
            return line;
        }
    }
  return NULL;
}

static gboolean
is_fixed (const OgSuggestion *suggestion,
          const char         *ingredient_id)
{
  for (guint i = 0; i < suggestion->parts->len; i++)
    if (g_str_equal (og_suggestion_get_part (suggestion, i)->ingredient->id, ingredient_id))
      return TRUE;
  for (guint i = 0; i < suggestion->carriers->len; i++)
    {
      const OgCarrierMove *move = &g_array_index (suggestion->carriers, OgCarrierMove, i);

      if (move->own_line && g_str_equal (move->ingredient->id, ingredient_id))
        return TRUE;
    }
  return FALSE;
}

static void
make_moves (OgFormula          *formula,
            const OgSuggestion *suggestion)
{
  for (guint i = 0; i < suggestion->moves->len; i++)
    {
      const OgLineMove *move = &g_array_index (suggestion->moves, OgLineMove, i);
      OgFormulaLine *line = og_formula_find_line (formula, move->line_id, NULL, NULL);

      if (line != NULL && !move->follows)
        line->amount = move->after;
    }
}

/* Without a balance line the other lines make up for a changed amount, in proportion. */
static void
normalise_others (OgFormula          *formula,
                  const OgSuggestion *suggestion)
{
  g_autoptr (GPtrArray) released = g_ptr_array_new ();

  for (guint p = 0; p < formula->phases->len; p++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, p);

      for (guint l = 0; l < phase->lines->len; l++)
        {
          OgFormulaLine *line = g_ptr_array_index (phase->lines, l);

          if (!line->held && is_fixed (suggestion, line->ingredient_id))
            {
              line->held = TRUE;
              g_ptr_array_add (released, line);
            }
        }
    }
  og_formula_normalise (formula);
  for (guint i = 0; i < released->len; i++)
    ((OgFormulaLine *) g_ptr_array_index (released, i))->held = FALSE;
}

OgFormula *
og_substitution_place (const OgFormula    *formula,
                       const OgSuggestion *suggestion)
{
  OgFormula *changed = og_formula_copy (formula);
  g_autoptr (GArray) places = find_places (changed, suggestion);
  gint64 total = 0, before = 0;

  for (guint i = 0; i < places->len; i++)
    total += g_array_index (places, Place, i).held;
  for (guint i = 0; i < places->len; i++)
    {
      Place *place = &g_array_index (places, Place, i);

      fill_place (changed, place, suggestion, before, total);
      before += place->held;
    }
  for (guint i = 0; i < suggestion->carriers->len; i++)
    {
      const OgCarrierMove *move = &g_array_index (suggestion->carriers, OgCarrierMove, i);
      OgFormulaLine *line = move->own_line ? find_carrier_line (changed, move->ingredient->id) : NULL;

      if (line != NULL)
        line->amount = MAX (0, line->amount + move->change);
    }
  make_moves (changed, suggestion);
  og_formula_balance (changed);
  return changed;
}

OgFormula *
og_substitution_apply (const OgFormula    *formula,
                       const OgSuggestion *suggestion)
{
  OgFormula *changed;

  g_return_val_if_fail (suggestion->parts->len > 0, og_formula_copy (formula));

  changed = og_substitution_place (formula, suggestion);
  if (!is_balanced (changed) && og_formula_total (formula) == OG_PPM_WHOLE
      && og_formula_total (changed) != OG_PPM_WHOLE)
    normalise_others (changed, suggestion);
  return changed;
}
