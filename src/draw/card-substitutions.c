/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/card-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/base/number-text.h"
#include "draw/text.h"

#define MOST_BASE_MATERIALS 3
#define MOST_AGENTS 3 /* each takes a search of its own; a recipe has one or two */
#define MOST_SUGGESTIONS 3
#define MOST_REASONS 2
#define SMALLEST_BASE_PPM (5 * OG_PPM_PER_PERCENT)
#define SAME_VISCOSITY 0.03 /* relative change that nobody feels: judgement */

typedef struct
{
  const OgIngredient *ingredient;
  gint64              amount;
} Candidate;

static void
add_candidate (GArray             *candidates,
               const OgIngredient *ingredient,
               OgPpm               amount)
{
  Candidate candidate = { ingredient, amount };

  for (guint i = 0; i < candidates->len; i++)
    if (g_array_index (candidates, Candidate, i).ingredient == ingredient)
      {
        g_array_index (candidates, Candidate, i).amount += amount;
        return;
      }
  g_array_append_val (candidates, candidate);
}

static int
compare_candidates (gconstpointer a,
                    gconstpointer b)
{
  const Candidate *x = a, *y = b;

  if (x->amount != y->amount)
    return x->amount < y->amount ? 1 : -1;

  return strcmp (x->ingredient->id, y->ingredient->id);
}

static gboolean
is_agent (const OgIngredient *ingredient)
{
  return ingredient->gelling.family != OG_GEL_NONE &&
         og_ingredient_has_role (ingredient, "gelling-agent");
}

static void
remove_others (GArray *candidates)
{
  for (guint i = candidates->len; i-- > 0;)
    {
      const OgIngredient *ingredient = g_array_index (candidates, Candidate, i).ingredient;

      if (!og_ingredient_is_triglyceride (ingredient) && !og_ingredient_has_role (ingredient, "base"))
        g_array_remove_index (candidates, i);
    }
}

/* the largest base materials or the largest gelling agents, most first; adds to @left_out how many there are besides */
static GArray *
collect_candidates (const OgCard    *card,
                    const OgFormula *formula,
                    gboolean         agents,
                    guint           *left_out)
{
  const guint most = agents ? MOST_AGENTS : MOST_BASE_MATERIALS;
  GArray *candidates = g_array_new (FALSE, FALSE, sizeof (Candidate));

  for (guint p = 0; p < formula->phases->len; p++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, p);

      for (guint l = 0; l < phase->lines->len; l++)
        {
          const OgFormulaLine *line = g_ptr_array_index (phase->lines, l);
          const OgIngredient *ingredient = og_catalog_get (card->result->catalog, line->ingredient_id);

          if (ingredient != NULL && line->amount > 0 && is_agent (ingredient) == agents)
            add_candidate (candidates, ingredient, line->amount);
        }
    }

  if (!agents)
    remove_others (candidates);
  g_array_sort (candidates, compare_candidates);
  for (guint i = candidates->len; i-- > 0;)
    if (i >= most || (!agents && g_array_index (candidates, Candidate, i).amount < SMALLEST_BASE_PPM))
      {
        g_array_remove_index (candidates, i);
        ++*left_out;
      }

  return candidates;
}

static char *
viscosity_change (const OgEstimate *ratio)
{
  double change = ratio->value - 1;
  g_autofree char *percent = NULL;
  g_autofree char *times = NULL;

  if (!og_estimate_is_known (ratio))
    return g_strdup (_("how the body changes is not known"));
  if (fabs (change) < SAME_VISCOSITY)
    return g_strdup (_("body as before"));
  if (ratio->value >= 3)
    {
      times = og_number_significant (ratio->value, 2);
      return g_strdup_printf (_("%s times as thick when poured"), times);
    }

  percent = og_number_trimmed (100 * fabs (change), 0);
  return change > 0 ? g_strdup_printf (_("thicker by %s %% when poured"), percent)
                    : g_strdup_printf (_("thinner by %s %% when poured"), percent);
}

/* @saying: (transfer full) (nullable) */
static void
add_saying (GString  *text,
            OgSaying *saying)
{
  char *sentence = og_saying_take_text (saying);

  if (sentence != NULL)
    og_sentences_add (text, sentence);
}

static void
add_suggestion (OgCardBlock        *block,
                const OgSuggestion *suggestion,
                gint64              amount)
{
  const OgSuggestedPart *part = og_suggestion_get_part (suggestion, 0);
  g_autoptr (OgSaying) title = og_suggestion_get_title (suggestion);
  GString *remarks = g_string_new (NULL);
  g_autofree char *change = viscosity_change (&suggestion->viscosity_ratio);
  OgCardRow *row;

  if (part->amount != amount)
    {
      g_autofree char *number = og_number_trimmed (og_ppm_to_pct (part->amount), 2);
      g_autofree char *text = g_strdup_printf (_("at %s wt %%"), number);

      og_remarks_add (remarks, text);
    }
  og_remarks_add (remarks, change);
  row = og_card_add_row (block, OG_ROW_ITEM, og_remarks_finish (remarks), NULL);
  row->label = g_strdup (og_saying_text (title));

  remarks = g_string_new (NULL);
  add_saying (remarks, og_suggestion_tell_moves (suggestion));
  add_saying (remarks, og_suggestion_tell_rest (suggestion));
  add_saying (remarks, og_suggestion_tell_losses (suggestion));
  for (guint i = 0; i < MIN (suggestion->reasons->len, MOST_REASONS); i++)
    {
      add_saying (remarks, og_saying_ref (g_ptr_array_index (suggestion->reasons, i)));
    }
  row->detail = og_remarks_finish (remarks);
}

static void
add_substitutions_for (OgCard          *card,
                       const OgFormula *formula,
                       const Candidate *candidate)
{
  OgSubstitutionOptions options = { .most = MOST_SUGGESTIONS, .belief = card->result->belief };
  const char *const ids[] = { candidate->ingredient->id, NULL };
  g_autofree char *number = og_number_trimmed ((double) candidate->amount / OG_PPM_PER_PERCENT, 2);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) suggestions = og_substitute (formula, card->result->catalog,
                                                     ids, &options, &error);
  OgCardBlock *block;

  og_card_add_block (card, OG_BLOCK_SUBHEADING,
             g_strdup_printf (_("Instead of %s (%s wt %%)"), candidate->ingredient->name, number), NULL);
  block = og_card_add_block (card, OG_BLOCK_LIST, NULL, NULL);
  if (suggestions == NULL)
    og_card_add_row (block, OG_ROW_ITEM, g_strdup (error->message), NULL);
  else if (suggestions->len == 0)
    og_card_add_row (block, OG_ROW_ITEM, g_strdup (_("Nothing in the library does the same job.")), NULL);
  else
    for (guint i = 0; i < MIN (suggestions->len, MOST_SUGGESTIONS); i++)
      add_suggestion (block, g_ptr_array_index (suggestions, i), candidate->amount);
}

static void
tell_left_out (OgCard *card,
               guint   left_out)
{
  g_autofree char *number = og_number_trimmed (left_out, 0);

  if (left_out > 0)
    og_card_add_block (card, OG_BLOCK_PARAGRAPH,
                       g_strdup_printf (ngettext ("Only the largest were looked at; %s more oil or agent was not.",
                                                  "Only the largest were looked at; %s more oils and agents were not.",
                                                  left_out),
                                        number),
                       NULL);
}

void
og_card_add_substitutions (OgCard          *card,
                           const OgFormula *formula)
{
  guint left_out = 0;
  g_autoptr (GArray) bases = collect_candidates (card, formula, FALSE, &left_out);
  g_autoptr (GArray) agents = collect_candidates (card, formula, TRUE, &left_out);

  if (bases->len + agents->len == 0)
    return;

  og_card_add_block (card, OG_BLOCK_HEADING, g_strdup (_("When something is missing")), NULL);
  for (guint i = 0; i < bases->len; i++)
    add_substitutions_for (card, formula, &g_array_index (bases, Candidate, i));
  for (guint i = 0; i < agents->len; i++)
    add_substitutions_for (card, formula, &g_array_index (agents, Candidate, i));
  tell_left_out (card, left_out);
}
