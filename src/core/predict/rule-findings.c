/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/rule-findings.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/conditions.h"
#include "core/base/finding.h"

/* 16 CFR 1700.14 measures at 100 °F; 100 SUS there are 0.226 x 100 - 195 / 100 mm2/s (the usual
 * relation of ASTM D2161 up to 100 SUS: recalled). */
#define SAYBOLT_C 37.78
#define SAYBOLT_100_MM2_S 20.65

typedef struct
{
  const OgFormula *formula;
  OgResult        *result;
  OgBlend         *blend;
  guint            choices; /* products the recipe may become */
} Context;

/* Sentences for the notices of the library, so that they can be translated. */
static const struct
{
  const char *code;
  const char *text;
} sentences[] = {
  { "tree-nut", N_ ("%s comes from a tree nut: say so on the label.") },
  { "peanut", N_ ("%s comes from peanuts: say so on the label.") },
  { "sesame", N_ ("%s comes from sesame: say so on the label.") },
  { "soy", N_ ("%s comes from soya: say so on the label.") },
  { "gluten-source", N_ ("%s comes from a cereal that contains gluten: say so on the label.") },
  { "bee", N_ ("%s comes from bees: not vegan, and some people react to it.") },
  { "lanolin", N_ ("%s comes from wool: not vegan, and some people react to it.") },
  { "animal-derived", N_ ("%s is of animal origin.") },
  { "allergen",
    N_ ("%s holds or may hold substances that some people react to; your rules may ask for them on the label.") },
  { "phototoxic", N_ ("%s may make skin burn in sunlight. Keep to the limit of your local rules.") },
  { "powder", N_ ("%s is a powder: wear a dust mask while weighing.") },
  { "volatile",
    N_ ("%s evaporates: keep it away from heat and flame; the body grows as it leaves.") },
  { "drying", N_ ("%s hardens in air as it ages: rags soaked with it can heat up by themselves.") },
  { "grade-varies",
    N_ ("Materials sold as %s differ from source to source. Derive your own material and record a bench value.") },
  { "nano-possible",
    N_ ("%s may hold nano-sized particles: ask the supplier. Nanomaterials are notified beforehand and named with “(nano)”.") },
  { "peanut-protein", N_ ("%s: ask the supplier for the peanut protein, at most 0.5 ppm.") },
  { "carmine-name",
    N_ ("%s must be named on the label by that name; some people react to it badly, and its dust must not be breathed.") },
  { "certified-lot", N_ ("%s may be used only from a lot that the authority has certified: keep the lot's certificate number.") },
  { "named-uses",
    N_ ("%s is listed for named uses only, and an oil for the skin is none of them.") },
  { "no-listing", N_ ("%s has no listing as a cosmetic colour of its own: ask the supplier for the regulatory statement.") },
  { "inhalation",
    N_ ("%s must not be used where it can be breathed in: no spray, no loose powder. Wear a dust mask while weighing.") },
  { "mineral-grade",
    N_ ("%s on lips is swallowed: use only a grade that is pure enough for food, and keep the supplier's statement.") },
  { "refining-history",
    N_ ("%s needs a supplier's statement of its full refining history, or that what it was made from is not a carcinogen.") },
  { "vitamin-a-warning",
    N_ ("%s: the label must carry “Contains Vitamin A. Consider your daily intake before use”.") },
  { "not-for-children", N_ ("%s: not for products for small children; see the entry.") },
  { "cooling",
    N_ ("%s: keep it away from eyes and from the faces of small children, whose breathing it can upset.") },
  { "oxidised-terpenes",
    N_ ("%s makes skin more sensitive as it oxidises: keep it cold, dark and full, and ask for the peroxide value.") },
  { "ifra-certificate",
    N_ ("%s: ask the supplier for the fragrance certificate and compare its figure for lips (category 1) or skin (category 5A).") },
  { "specification", N_ ("%s must meet a purity rule: ask the supplier.") },
  { "cattle", N_ ("%s: material from cattle must meet a purity rule: ask the supplier.") },
  { "drug-claim", N_ ("“%s” in title, purpose or label text may turn the product into a medicine or a drug.") },
  { "water-enters",
    N_ ("%s: an oil without water seldom needs a preservative; wet fingers bring the water in.") },
};

/* Puts @name where the first %s of @text, which is a rule's own, stands. */
static OgSaying *
with_name (const char     *text,
           const OgSaying *name)
{
  g_auto (GStrv) halves = g_strsplit (text, "%s", 2);

  if (halves[0] == NULL || halves[1] == NULL)
    return og_saying_verbatim (text);
  return og_saying_new ("%s%s%s", og_word_text (halves[0]), og_word_saying (name), og_word_text (halves[1]));
}

static OgSaying *
describe_notice (const OgRuling *ruling)
{
  const OgRule *rule = ruling->rule;

  if (rule->authority == OG_AUTHORITY_OWN && rule->text != NULL)
    return with_name (rule->text, ruling->material);
  for (guint i = 0; i < G_N_ELEMENTS (sentences); i++)
    if (g_str_equal (sentences[i].code, rule->code))
      return og_saying_new (sentences[i].text, og_word_saying (ruling->material));
  return rule->text != NULL ? with_name (rule->text, ruling->material) : og_saying_ref (ruling->material);
}

static OgWord
pct_word (double pct)
{
  return pct >= 1e-4 || pct == 0.0 ? og_word_significant (pct, 4) : og_word_fixed (pct, 6);
}

/* Who says so, for brackets. */
static OgSaying *
who_says (const OgRule *rule)
{
  OgWord where = og_jurisdiction_word (rule->jurisdiction);

  switch (rule->authority)
    {
    case OG_AUTHORITY_OWN:
      /* Translators: a country or the like */
      return rule->jurisdiction != NULL ? og_saying_new (N_ ("%s, your own rule"), where)
                                        : og_saying_plain (N_ ("your own rule"));
    case OG_AUTHORITY_INDUSTRY:
      return og_saying_new (N_ ("%s, advice of the trade"), where);
    case OG_AUTHORITY_ADVICE:
      return og_saying_new (N_ ("%s, advice"), where);
    case OG_AUTHORITY_LAW:
    case OG_AUTHORITY_PRACTICE:
    case OG_N_AUTHORITIES:
    default:
      return rule->jurisdiction != NULL ? og_saying_of (where) : og_saying_plain (N_ ("common practice"));
    }
}

static OgSaying *
describe_source (const OgRule *rule)
{
  OgWord quality = og_rule_quality_word (rule->quality);

  if (rule->authority == OG_AUTHORITY_PRACTICE)
    return og_common_practice_new ();
  if (rule->source == NULL)
    return og_saying_of (quality);
  if (rule->state == NULL)
    return og_saying_new ("%s; %s", og_word_text (rule->source), quality);
  /* Translators: a citation, how it is known, and a date */
  return og_saying_new (N_ ("%s; %s; state of %s"), og_word_text (rule->source), quality, og_word_text (rule->state));
}

/* How much of @rule is known by heart alone; %NULL: nothing of it. */
static OgSaying *
describe_doubt (const OgRule *rule)
{
  if (rule->quality == OG_RULE_RECALLED && rule->authority != OG_AUTHORITY_PRACTICE)
    return og_saying_plain (N_ ("(The entry is recalled: compare it with the text of the rule.)"));
  if (rule->quality == OG_RULE_PARTLY)
    return og_saying_plain (N_ ("(Part of the entry is recalled: compare it with the text of the rule.)"));
  return NULL;
}

/* Adds a finding of @rule. @text: (transfer full) */
static OgFinding *
add (const Context *context,
     const OgRule  *rule,
     OgSeverity     severity,
     OgSaying      *text)
{
  GPtrArray *whole = og_sayings_new ();
  OgSaying *doubt = describe_doubt (rule);
  OgFinding *finding;

  g_ptr_array_add (whole, text);
  if (rule->note != NULL && rule->authority != OG_AUTHORITY_PRACTICE)
    g_ptr_array_add (whole, og_saying_verbatim (rule->note));
  if (doubt != NULL)
    g_ptr_array_add (whole, doubt);
  finding = og_finding_new (severity, rule->code, og_saying_list (" ", whole), describe_source (rule));
  finding->reference = og_saying_verbatim (rule->reference);
  finding->jurisdiction = g_strdup (rule->jurisdiction);
  g_ptr_array_add (context->result->findings, finding);
  return finding;
}

/* Products for which a rule of the same substance and place is broken. */
static guint
broken_for (const Context  *context,
            const OgRuling *ruling)
{
  guint products = 0;

  for (guint i = 0; i < context->result->rulings->len; i++)
    {
      const OgRuling *other = g_ptr_array_index (context->result->rulings, i);

      if (other->verdict == OG_VERDICT_OVER
          && (other->rule->kind == OG_RULE_LIMIT || other->rule->kind == OG_RULE_PROHIBITED)
          && g_str_equal (other->rule->name, ruling->rule->name)
          && g_strcmp0 (other->rule->jurisdiction, ruling->rule->jurisdiction) == 0)
        products |= other->products;
    }
  return products;
}

/* What is only perhaps broken, or broken for some of the products the recipe may become, weighs
 * one step less. */
static OgSeverity
weigh (const Context  *context,
       const OgRuling *ruling)
{
  int severity = (int) ruling->rule->severity;

  if (ruling->verdict == OG_VERDICT_PERHAPS)
    severity--;
  if (severity == OG_SEVERITY_BLOCKING && broken_for (context, ruling) != context->choices)
    severity--;
  return (OgSeverity) MAX (severity, OG_SEVERITY_NOTE);
}

static const char *
name_of_line (const Context *context,
              guint          line_id)
{
  const OgFormulaLine *line = og_formula_find_line (context->formula, line_id, NULL, NULL);
  const OgIngredient *ingredient = line != NULL
                                       ? og_catalog_get (context->result->catalog,
                                                         line->ingredient_id)
                                       : NULL;

  return ingredient != NULL ? ingredient->name : "";
}

static OgSaying *
describe_cure (const Context  *context,
               const OgRuling *ruling)
{
  const char *name = name_of_line (context, ruling->line_id);

  if (isfinite (ruling->cure_scale))
    /* Translators: names of materials, and a percentage */
    return og_saying_new (N_ ("Everything that brings it (%s) would have to come down to %s %% of its "
                              "amount."),
                          og_word_saying (ruling->material), og_word_significant (100.0 * ruling->cure_scale, 3));
  if (ruling->cure_pct <= 0.0)
    return og_saying_new (N_ ("Leave %s out."), og_word_text (name));
  /* Translators: a share and the name of a material */
  return og_saying_new (N_ ("At most %s %% of %s keeps it within the limit."), pct_word (ruling->cure_pct),
                        og_word_text (name));
}

/* What is limited, counted as something else or as itself. */
static OgSaying *
name_limited (const OgRule *rule)
{
  if (rule->equivalent == NULL)
    return og_saying_verbatim (rule->name);
  /* Translators: a substance counted as another one */
  return og_saying_new (N_ ("%s, counted as %s"), og_word_text (rule->name), og_word_text (rule->equivalent));
}

static OgSaying *
describe_excess (const OgRuling *ruling)
{
  g_autoptr (OgSaying) name = name_limited (ruling->rule);
  g_autoptr (OgSaying) where = og_products_saying (ruling->products);
  g_autoptr (OgSaying) who = who_says (ruling->rule);

  if (ruling->verdict == OG_VERDICT_OVER)
    /* Translators: substance, amount, what brings it, limit, "lips" or "skin", country */
    return og_saying_new (N_ ("%s makes up %s %% of the product (from %s); at most %s %% for %s (%s)."),
                          og_word_saying (name), pct_word (ruling->amount_pct), og_word_saying (ruling->material),
                          pct_word (ruling->rule->max_pct), og_word_saying (where), og_word_saying (who));
  /* Translators: substance, amount, high amount, what brings it, limit, "lips" or "skin", country */
  return og_saying_new (N_ ("%s makes up about %s %% of the product, but up to %s %% if the lot is at the "
                            "upper end (from %s); at most %s %% for %s (%s)."),
                        og_word_saying (name), pct_word (ruling->amount_pct), pct_word (ruling->high_pct),
                        og_word_saying (ruling->material), pct_word (ruling->rule->max_pct), og_word_saying (where),
                        og_word_saying (who));
}

static void
add_limit (const Context  *context,
           const OgRuling *ruling)
{
  OgFinding *finding = add (context, ruling->rule, weigh (context, ruling), describe_excess (ruling));

  finding->line_id = ruling->line_id;
  finding->amount_pct = ruling->verdict == OG_VERDICT_OVER ? ruling->amount_pct : ruling->high_pct;
  finding->limit_pct = ruling->rule->max_pct;
  finding->cure = describe_cure (context, ruling);
}

static void
add_prohibition (const Context  *context,
                 const OgRuling *ruling)
{
  guint others = OG_PRODUCTS_ALL & ~ruling->rule->products;
  g_autoptr (OgSaying) where = og_products_saying (ruling->products);
  g_autoptr (OgSaying) who = who_says (ruling->rule);
  OgFinding *finding
      = add (context, ruling->rule, weigh (context, ruling),
             /* Translators: material, "lips" or "skin", country */
             og_saying_new (N_ ("%s is not allowed in products for %s (%s)."), og_word_saying (ruling->material),
                            og_word_saying (where), og_word_saying (who)));

  finding->line_id = ruling->line_id;
  finding->amount_pct = ruling->amount_pct;
  finding->limit_pct = 0.0;
  if (others != 0)
    {
      g_autoptr (OgSaying) allowed = og_products_saying (others);

      /* Translators: material, "lips" or "skin" */
      finding->cure = og_saying_new (N_ ("Leave %s out, or make the product for %s only."),
                                     og_word_text (name_of_line (context, ruling->line_id)), og_word_saying (allowed));
    }
  else
    {
      finding->cure = describe_cure (context, ruling);
    }
}

static void
add_notice (const Context  *context,
            const OgRuling *ruling)
{
  OgFinding *finding = add (context, ruling->rule, ruling->rule->severity, describe_notice (ruling));

  finding->line_id = ruling->line_id;
  finding->amount_pct = ruling->amount_pct;
}

static OgSaying *
describe_declared (const OgRuling *ruling)
{
  const char *mark = ruling->rule->extended ? "*" : "";

  if (ruling->verdict == OG_VERDICT_PERHAPS)
    {
      /* Translators: a substance and the share it may reach */
      g_autoptr (OgSaying) perhaps = og_saying_new (N_ ("%s (perhaps, up to %s %%)"), og_word_text (ruling->rule->name),
                                                    pct_word (ruling->high_pct));

      return og_saying_new ("%s%s", og_word_saying (perhaps), og_word_text (mark));
    }
  return og_saying_new ("%s (%s %%)%s", og_word_text (ruling->rule->name), pct_word (ruling->amount_pct),
                        og_word_text (mark));
}

/* What the label must name in one place. */
typedef struct
{
  GPtrArray *names; /* of OgSaying */
  gboolean extended, declared;
} Declared;

static Declared
collect_declared (const Context *context,
                  guint          first)
{
  const OgRuling *lead = g_ptr_array_index (context->result->rulings, first);
  Declared all = { og_sayings_new (), FALSE, TRUE };

  for (guint i = first; i < context->result->rulings->len; i++)
    {
      const OgRuling *ruling = g_ptr_array_index (context->result->rulings, i);

      if (ruling->rule->kind != OG_RULE_DECLARE || ruling->verdict == OG_VERDICT_WITHIN
          || g_strcmp0 (ruling->rule->jurisdiction, lead->rule->jurisdiction) != 0)
        continue;
      g_ptr_array_add (all.names, describe_declared (ruling));
      all.extended = all.extended || ruling->rule->extended;
      all.declared = all.declared && ruling->declared;
    }
  return all;
}

/* Takes the names of @all. */
static OgSaying *
describe_declarations (const OgRule   *rule,
                       const Declared *all)
{
  g_autoptr (OgSaying) who = who_says (rule);
  g_autoptr (OgSaying) names = og_saying_list ("; ", all->names);
  GPtrArray *text = og_sayings_new ();

  /* Translators: country, threshold, list of substances */
  g_ptr_array_add (text, og_saying_new (N_ ("Name on the label (%s, above %s %% in what stays on): %s."),
                                        og_word_saying (who), pct_word (rule->max_pct), og_word_saying (names)));
  if (all->extended)
    g_ptr_array_add (text, og_saying_plain (N_ ("* New with Reg. (EU) 2023/1545: for products placed on the market "
                                                "from 31 July 2026, and for all on sale from 31 July 2028.")));
  if (!all->declared)
    g_ptr_array_add (text, og_saying_plain (N_ ("Counted with typical compositions: the supplier's declaration of your "
                                                "lot decides.")));
  return og_saying_list (" ", text);
}

/* One finding names all that the label must name in one place. */
static void
add_declarations (const Context *context,
                  guint          first)
{
  const OgRule *rule = ((const OgRuling *)g_ptr_array_index (context->result->rulings, first))->rule;
  Declared all = collect_declared (context, first);
  OgFinding *finding = add (context, rule, rule->severity, describe_declarations (rule, &all));

  finding->limit_pct = rule->max_pct;
  finding->cure = og_saying_plain (N_ ("Name them in the list of ingredients."));
  if (!all.extended)
    return;
  og_saying_unref (finding->reference);
  finding->reference = og_saying_plain (N_ ("Reg. (EC) 1223/2009 Annex III as amended by Reg. (EU) 2023/1545"));
}

static gboolean
is_first_declared (const Context *context,
                   guint          index)
{
  const OgRuling *ruling = g_ptr_array_index (context->result->rulings, index);

  for (guint i = 0; i < index; i++)
    {
      const OgRuling *earlier = g_ptr_array_index (context->result->rulings, i);

      if (earlier->rule->kind == OG_RULE_DECLARE && earlier->verdict != OG_VERDICT_WITHIN
          && g_strcmp0 (earlier->rule->jurisdiction, ruling->rule->jurisdiction) == 0)
        return FALSE;
    }
  return TRUE;
}

/* A thin oil with much hydrocarbon needs a closure that small children cannot open: it may reach
 * the lungs. */
static void
check_thin_hydrocarbons (const Context  *context,
                         const OgRuling *ruling)
{
  double density = og_contents_density (context->result->contents, SAYBOLT_C, NULL);
  OgEstimate viscosity;
  OgFinding *finding;

  if (ruling->amount_pct < ruling->rule->max_pct || !isfinite (density))
    return;
  viscosity = og_blend_viscosity (context->blend, SAYBOLT_C, OG_SHEAR_POUR);
  if (!(viscosity.low80 / density < SAYBOLT_100_MM2_S))
    return;
  finding = add (
      context, ruling->rule, viscosity.value / density < SAYBOLT_100_MM2_S ? OG_SEVERITY_CAUTION : OG_SEVERITY_NOTE,
      og_saying_new (N_ ("%s %% of thin hydrocarbons and about %s mm²/s at 38 °C: such oils can "
                         "reach the lungs of a child that drinks them. With %s %% or more below "
                         "%s mm²/s a child-resistant closure is asked for (United States)."),
                     og_word_significant (ruling->amount_pct, 3), og_word_significant (viscosity.value / density, 2),
                     og_word_significant (ruling->rule->max_pct, 3), og_word_significant (SAYBOLT_100_MM2_S, 3)));
  finding->amount_pct = ruling->amount_pct;
  finding->limit_pct = ruling->rule->max_pct;
  finding->line_id = ruling->line_id;
  finding->cure = og_saying_plain (N_ ("A child-resistant closure, less hydrocarbon, or more body."));
}

static void
judge (const Context *context,
       guint          index)
{
  const OgRuling *ruling = g_ptr_array_index (context->result->rulings, index);

  switch (ruling->rule->kind)
    {
    case OG_RULE_LIMIT:
      if (g_str_equal (ruling->rule->code, "child-resistant"))
        check_thin_hydrocarbons (context, ruling);
      else if (ruling->verdict != OG_VERDICT_WITHIN)
        add_limit (context, ruling);
      break;
    case OG_RULE_PROHIBITED:
      add_prohibition (context, ruling);
      break;
    case OG_RULE_DECLARE:
      if (ruling->verdict != OG_VERDICT_WITHIN && is_first_declared (context, index))
        add_declarations (context, index);
      break;
    case OG_RULE_NOTICE:
      add_notice (context, ruling);
      break;
    case OG_RULE_LISTED:
    case OG_N_RULE_KINDS:
    default:
      break;
    }
}

static gboolean
is_scented (const OgIngredient *ingredient)
{
  return ingredient->kind == OG_KIND_FLAVOUR || ingredient->kind == OG_KIND_ESSENTIAL_OIL
         || og_ingredient_has_role (ingredient, "flavour")
         || og_ingredient_has_role (ingredient, "fragrance")
         || og_ingredient_has_tag (ingredient, "fragrance");
}

/* Nothing can be said about what a scent brings along before its supplier has said it. */
static void
check_known (OgFormulaPhase *phase,
             OgFormulaLine  *line,
             gpointer        user_data)
{
  const Context *context = user_data;
  const OgIngredient *ingredient = og_catalog_get (context->result->catalog, line->ingredient_id);
  OgFinding *finding;

  if (ingredient == NULL || line->amount <= 0 || ingredient->constituents_known
      || ingredient->composition->len > 0 || !is_scented (ingredient))
    return;
  finding = og_finding_new (OG_SEVERITY_CAUTION, "composition-unknown", NULL, NULL);
  finding->text = og_saying_new (N_ ("%s: what it is made of is not known here, so limits and allergens "
                                     "cannot be counted."),
                                 og_word_text (ingredient->name));
  finding->cure = og_saying_plain (N_ ("Ask the supplier for the allergen declaration and the certificate for lips or "
                                       "skin, and enter the constituents in a material of your own."));
  finding->line_id = line->id;
  finding->amount_pct = og_ppm_to_pct (line->amount);
  g_ptr_array_add (context->result->findings, finding);
}

static gboolean
is_listed (const OgCatalog    *catalog,
           const OgIngredient *ingredient)
{
  const OgRules *rules = og_catalog_get_rules (catalog);
  const GArray *shares = og_catalog_get_rule_shares (catalog, ingredient);

  for (guint i = 0; i < shares->len; i++)
    {
      const OgRuleShare *share = &g_array_index (shares, OgRuleShare, i);
      OgRuleKind kind = og_rules_get_item (rules, share->rule)->kind;

      if (share->as_such
          && (kind == OG_RULE_LISTED || kind == OG_RULE_LIMIT || kind == OG_RULE_PROHIBITED))
        return TRUE;
    }
  return FALSE;
}

/* A colour that no entry names. */
static void
check_listed (OgFormulaPhase *phase,
              OgFormulaLine  *line,
              gpointer        user_data)
{
  const Context *context = user_data;
  const OgIngredient *ingredient = og_catalog_get (context->result->catalog, line->ingredient_id);
  OgFinding *finding;

  if (ingredient == NULL || line->amount <= 0 || ingredient->composition->len > 0
      || (ingredient->kind != OG_KIND_COLOUR && ingredient->kind != OG_KIND_PEARL))
    return;
  if (is_listed (context->result->catalog, ingredient))
    return;
  finding = og_finding_new (OG_SEVERITY_CAUTION, "colour-unlisted", NULL, NULL);
  finding->text = og_saying_new (N_ ("%s is in none of the lists of colours known here: it may not be allowed as a "
                                     "colour."),
                                 og_word_text (ingredient->name));
  finding->cure = og_saying_plain (N_ ("Look it up in the list of your country, or give the material its CI number."));
  finding->line_id = line->id;
  finding->amount_pct = og_ppm_to_pct (line->amount);
  g_ptr_array_add (context->result->findings, finding);
}

void
og_rule_findings_collect (const OgFormula *formula,
                          OgResult        *result,
                          OgBlend         *blend)
{
  Context context = { formula, result, blend, og_product_get_choices (formula->product) };

  if (og_catalog_get_rules (result->catalog) == NULL)
    return;
  for (guint i = 0; i < result->rulings->len; i++)
    judge (&context, i);
  og_formula_foreach_line (formula, check_known, &context);
  og_formula_foreach_line (formula, check_listed, &context);
}
