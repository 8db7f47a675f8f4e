/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/rulings.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/base/nick.h"

#define MAX_NAMES 4 /* that a sentence lists */
#define ROUNDING 1e-9 /* relative, of doubles */

/* What one line adds to the amount that one rule counts. */
typedef struct
{
  const char *material; /* name */
  const char *within;   /* NULL, or the mixture on the line that holds it */
  guint       line_id;
  double      line_pct;
  double      typical;
  double      high;
  gboolean    declared;
  guint       next; /* index + 1 of the next one of the same rule */
} Addition;

typedef struct
{
  guint first; /* index + 1 of its additions; 0: none */
  guint last;
} Tally;

typedef struct
{
  const OgFormula *formula;
  const OgCatalog *catalog;
  const OgRules   *rules;
  guint            products;
  Tally           *tallies;   /* one a rule */
  GArray          *additions; /* of Addition */
  GPtrArray       *rulings;
  GArray          *notices;   /* of Notice, in the order of lines */
} Finder;

typedef struct
{
  guint    rule;
  Addition addition;
} Notice;

static void
ruling_free (OgRuling *ruling)
{
  og_saying_unref (ruling->material);
  g_free (ruling);
}

guint
og_product_get_choices (OgProduct product)
{
  g_return_val_if_fail (product < OG_N_PRODUCTS, 0);

  return product == OG_PRODUCT_UNSAID ? OG_PRODUCTS_ALL : 1u << product;
}

static const OgNick verdicts[] = {
  [OG_VERDICT_WITHIN] = { "within", NULL },
  [OG_VERDICT_PERHAPS] = { "perhaps", NULL },
  [OG_VERDICT_OVER] = { "over", NULL },
};
OG_DEFINE_TO_NICK (OgVerdict, og_verdict, verdicts)

static void
add_amount (Finder         *finder,
            guint           rule,
            const Addition *addition)
{
  Tally *tally = &finder->tallies[rule];
  Addition *last = tally->last > 0
                       ? &g_array_index (finder->additions, Addition, tally->last - 1)
                       : NULL;

  if (last != NULL && last->line_id == addition->line_id)
    {
      last->typical += addition->typical;
      last->high += addition->high;
      last->declared = last->declared && addition->declared;
      return;
    }
  g_array_append_val (finder->additions, *addition);
  if (last != NULL)
    g_array_index (finder->additions, Addition, tally->last - 1).next = finder->additions->len;
  else
    tally->first = finder->additions->len;
  tally->last = finder->additions->len;
}

/* A notice is given once a line, by what lies nearest to it. */
static void
add_notice (Finder             *finder,
            guint               rule_index,
            const OgIngredient *ingredient,
            const OgRuleShare  *share,
            const Addition     *addition)
{
  const OgRule *rule = og_rules_get_item (finder->rules, rule_index);
  Notice notice = { rule_index, *addition };

  if ((addition->within != NULL || !share->as_such) && !rule->within)
    return;
  if (ingredient->composition->len > 0 && !rule->mixture)
    return;
  if (100.0 * share->typical < rule->least_pct)
    return;
  for (guint i = finder->notices->len; i > 0; i--)
    {
      const Notice *earlier = &g_array_index (finder->notices, Notice, i - 1);

      if (earlier->addition.line_id != addition->line_id)
        break;
      if (earlier->rule == rule_index)
        return;
    }
  g_array_append_val (finder->notices, notice);
}

/* @mixture: (nullable): the material on the line, where @ingredient is a part of it */
static void
judge_material (Finder              *finder,
                const OgIngredient  *ingredient,
                const OgIngredient  *mixture,
                const OgFormulaLine *line,
                double               pct)
{
  const GArray *shares = og_catalog_get_rule_shares (finder->catalog, ingredient);
  gboolean is_mixture = mixture == NULL && ingredient->composition->len > 0;

  for (guint i = 0; shares != NULL && i < shares->len; i++)
    {
      const OgRuleShare *share = &g_array_index (shares, OgRuleShare, i);
      const OgRule *rule = og_rules_get_item (finder->rules, share->rule);
      Addition addition = {
        .material = ingredient->name,
        .within = mixture != NULL ? mixture->name : NULL,
        .line_id = line->id,
        .line_pct = og_ppm_to_pct (line->amount),
        .typical = pct * share->typical,
        .high = pct * share->high,
        .declared = share->declared,
      };

      if ((rule->products & finder->products) == 0)
        continue;
      switch (rule->kind)
        {
        case OG_RULE_NOTICE:
          add_notice (finder, share->rule, ingredient, share, &addition);
          break;
        case OG_RULE_LISTED:
        case OG_RULE_PROHIBITED:
          if (share->as_such)
            add_amount (finder, share->rule, &addition);
          break;
        case OG_RULE_LIMIT:
        case OG_RULE_DECLARE:
          /* what is known of the whole mixture says more than what is known of its parts */
          if (is_mixture ? ingredient->constituents_known && !share->as_such
                         : share->as_such || mixture == NULL || !mixture->constituents_known)
            add_amount (finder, share->rule, &addition);
          break;
        case OG_N_RULE_KINDS:
        default:
          g_return_if_reached ();
        }
    }
}

static void
judge_line (OgFormulaPhase *phase,
            OgFormulaLine  *line,
            gpointer        user_data)
{
  Finder *finder = user_data;
  const OgIngredient *ingredient = og_catalog_get (finder->catalog, line->ingredient_id);
  g_autoptr (GArray) whole = NULL;
  g_autoptr (GPtrArray) contents = NULL;
  OgPart part = { line->ingredient_id, og_ppm_to_pct (line->amount) };

  if (ingredient == NULL || line->amount <= 0)
    return;
  judge_material (finder, ingredient, NULL, line, part.pct);
  if (ingredient->composition->len == 0)
    return;

  whole = g_array_new (FALSE, FALSE, sizeof (OgPart));
  g_array_append_val (whole, part);
  contents = og_parts_contents (whole, finder->catalog);
  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);

      if (content->ingredient != NULL && content->ingredient != ingredient)
        judge_material (finder, content->ingredient, ingredient, line, 100.0 * content->fraction);
    }
}

/* The largest number of three digits, and of whole millionths, that is not above @pct. */
static double
round_down_pct (double pct)
{
  double step = fmax (pow (10.0, floor (log10 (pct)) - 2.0), 1.0 / OG_PPM_PER_PERCENT);

  return pct > 0.0 ? floor (pct / step * (1.0 + ROUNDING)) * step : 0.0;
}

static void
find_cure (OgRuling       *ruling,
           const Addition *most,
           double          limit_pct)
{
  double room = limit_pct - (ruling->high_pct - most->high);

  ruling->cure_pct = ruling->cure_scale = NAN;
  if (ruling->verdict == OG_VERDICT_WITHIN)
    return;
  if (ruling->rule->kind == OG_RULE_PROHIBITED)
    ruling->cure_pct = 0.0;
  else if (room > 0.0 && most->high > 0.0)
    ruling->cure_pct = round_down_pct (most->line_pct * room / most->high);
  else
    ruling->cure_scale = floor (1000.0 * limit_pct / ruling->high_pct) / 1000.0;
}

static OgVerdict
judge_amount (const OgRuling *ruling)
{
  const OgRule *rule = ruling->rule;
  double most = rule->max_pct * (1.0 + ROUNDING);

  if (rule->kind == OG_RULE_PROHIBITED)
    return OG_VERDICT_OVER;
  if (isnan (most) || !(ruling->high_pct > most))
    return OG_VERDICT_WITHIN;
  return ruling->amount_pct > most ? OG_VERDICT_OVER : OG_VERDICT_PERHAPS;
}

static OgSaying *
name_material (const Addition *addition)
{
  if (addition->within == NULL)
    return og_saying_verbatim (addition->material);
  /* Translators: a substance, and the mixture that holds it */
  return og_saying_new (N_ ("%s in %s"), og_word_text (addition->material), og_word_text (addition->within));
}

static gboolean
same_saying (gconstpointer a,
             gconstpointer b)
{
  return og_saying_equal (a, b);
}

static void
add_name (GPtrArray      *names,
          const Addition *addition)
{
  g_autoptr (OgSaying) name = name_material (addition);

  if (names->len >= MAX_NAMES || g_ptr_array_find_with_equal_func (names, name, same_saying, NULL))
    return;
  g_ptr_array_add (names, g_steal_pointer (&name));
}

static void
add_measured (Finder *finder,
              guint   index)
{
  GPtrArray *names = NULL;
  const Addition *most = NULL;
  OgRuling *ruling;

  if (finder->tallies[index].first == 0)
    return;

  names = og_sayings_new ();
  ruling = g_new0 (OgRuling, 1);
  ruling->rule = og_rules_get_item (finder->rules, index);
  ruling->products = ruling->rule->products & finder->products;
  ruling->declared = TRUE;
  for (guint next = finder->tallies[index].first; next != 0;)
    {
      const Addition *addition = &g_array_index (finder->additions, Addition, next - 1);

      ruling->amount_pct += addition->typical;
      ruling->high_pct += addition->high;
      ruling->declared = ruling->declared && addition->declared;
      if (most == NULL || addition->high > most->high)
        most = addition;
      add_name (names, addition);
      next = addition->next;
    }
  ruling->material = og_saying_list (", ", names);
  ruling->line_id = most->line_id;
  ruling->verdict = judge_amount (ruling);
  find_cure (ruling, most, ruling->rule->max_pct);
  g_ptr_array_add (finder->rulings, ruling);
}

static void
add_given (Finder       *finder,
           const Notice *notice)
{
  OgRuling *ruling = g_new0 (OgRuling, 1);

  ruling->rule = og_rules_get_item (finder->rules, notice->rule);
  ruling->products = ruling->rule->products & finder->products;
  ruling->amount_pct = notice->addition.typical;
  ruling->high_pct = notice->addition.high;
  ruling->declared = notice->addition.declared;
  ruling->cure_pct = ruling->cure_scale = NAN;
  ruling->line_id = notice->addition.line_id;
  ruling->material = name_material (&notice->addition);
  g_ptr_array_add (finder->rulings, ruling);
}

static gboolean
is_word_char (gunichar c)
{
  return g_unichar_isalnum (c);
}

/* Whether @word stands in @text as a word of its own; both are folded. */
static gboolean
says (const char *text,
      const char *word)
{
  for (const char *at = strstr (text, word); at != NULL; at = strstr (at + 1, word))
    {
      const char *end = at + strlen (word);
      gboolean starts = at == text || !is_word_char (g_utf8_get_char (g_utf8_prev_char (at)));

      if (starts && !is_word_char (g_utf8_get_char (end)))
        return TRUE;
    }
  return FALSE;
}

/* Claims: what the recipe says of itself. */
static void
judge_words (Finder *finder)
{
  g_autofree char *joined = g_strjoin ("\n", finder->formula->title, finder->formula->purpose,
                                       finder->formula->warnings, NULL);
  g_autofree char *text = og_search_fold (joined);

  for (guint i = 0; i < og_rules_get_n_items (finder->rules); i++)
    {
      const OgRule *rule = og_rules_get_item (finder->rules, i);

      for (guint w = 0; rule->words[w] != NULL && (rule->products & finder->products) != 0; w++)
        {
          g_autofree char *word = og_search_fold (rule->words[w]);
          Notice notice = { i, { .material = rule->words[w], .declared = TRUE } };

          if (!says (text, word))
            continue;
          add_given (finder, &notice);
          break;
        }
    }
}

GPtrArray *
og_rulings_find (const OgFormula *formula,
                 const OgCatalog *catalog)
{
  g_autoptr (GArray) additions = NULL;
  g_autoptr (GArray) notices = NULL;
  g_autofree Tally *tallies = NULL;
  GPtrArray *rulings;
  Finder finder;

  g_return_val_if_fail (formula != NULL && catalog != NULL, NULL);

  rulings = g_ptr_array_new_with_free_func ((GDestroyNotify) ruling_free);
  finder = (Finder) { .formula = formula, .catalog = catalog, .rulings = rulings };
  finder.rules = og_catalog_get_rules (catalog);
  if (finder.rules == NULL)
    return rulings;

  finder.products = og_product_get_choices (formula->product);
  finder.tallies = tallies = g_new0 (Tally, og_rules_get_n_items (finder.rules));
  finder.additions = additions = g_array_new (FALSE, FALSE, sizeof (Addition));
  finder.notices = notices = g_array_new (FALSE, FALSE, sizeof (Notice));
  og_formula_foreach_line (formula, judge_line, &finder);
  for (guint i = 0; i < og_rules_get_n_items (finder.rules); i++)
    add_measured (&finder, i);
  for (guint i = 0; i < notices->len; i++)
    add_given (&finder, &g_array_index (notices, Notice, i));
  judge_words (&finder);
  return rulings;
}
