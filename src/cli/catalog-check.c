/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/catalog-check.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/number-text.h"

/* How far a value may lie from what the fatty acids give before it is reported: judgement. */
#define INDEX_TOLERANCE 0.08
#define IODINE_TOLERANCE 6.0
#define DENSITY_TOLERANCE_G_ML 0.015

/* @text: (transfer full) */
static void
report (OgCatalogCheck     *check,
        OgSeverity          severity,
        const char         *code,
        const OgIngredient *ingredient,
        char               *text)
{
  OgFinding *finding = og_finding_new (severity, code, NULL, NULL);

  finding->text = og_saying_new ("%s: %s", og_word_text (ingredient->id), og_word_text (text));
  g_ptr_array_add (check->findings, finding);
  g_free (text);
}

static void
check_names (OgCatalogCheck     *check,
                const OgCatalog    *catalog,
                const OgIngredient *ingredient)
{
  if (og_catalog_resolve (catalog, ingredient->id, NULL) != ingredient)
    report (check, OG_SEVERITY_BLOCKING, "catalog-name", ingredient,
            g_strdup (_("its id leads to another material")));
  if (og_catalog_resolve (catalog, ingredient->name, NULL) != ingredient)
    report (check, OG_SEVERITY_BLOCKING, "catalog-name", ingredient,
            g_strdup_printf (_("the name “%s” does not lead to it alone"), ingredient->name));
}

static void
check_aliases (OgCatalogCheck     *check,
               const OgCatalog    *catalog,
               const OgIngredient *ingredient)
{
  for (guint i = 0; ingredient->aliases[i] != NULL; i++)
    {
      if (og_catalog_resolve (catalog, ingredient->aliases[i], NULL) != ingredient)
        report (check, OG_SEVERITY_CAUTION, "catalog-alias", ingredient,
                g_strdup_printf (_("the other name “%s” does not lead to it alone"), ingredient->aliases[i]));
    }
}

/* TRUE unless @figure contradicts @expected, its own range taken into account. */
static gboolean
fits (const OgFigure *figure,
      double          expected,
      double          tolerance)
{
  double low = isfinite (figure->low) ? fmin (figure->low, figure->value) : figure->value;
  double high = isfinite (figure->high) ? fmax (figure->high, figure->value) : figure->value;

  if (!og_figure_is_known (figure) || !isfinite (expected))
    return TRUE;

  return expected >= low - tolerance && expected <= high + tolerance;
}

static void
check_iodine_value (OgCatalogCheck     *check,
                    const OgIngredient *ingredient)
{
  const OgFigure *figure = &ingredient->figures[OG_FIGURE_IODINE_VALUE];
  double expected = og_profile_iodine_value (ingredient->profile);
  g_autofree char *stated_text = og_number_fixed (figure->value, 0);
  g_autofree char *expected_text = og_number_fixed (expected, 0);

  if (!fits (figure, expected, IODINE_TOLERANCE + INDEX_TOLERANCE * expected))
    report (check, OG_SEVERITY_CAUTION, "catalog-iodine-value", ingredient,
            g_strdup_printf (_("iodine value %s, but its fatty acids give %s"), stated_text,
                             expected_text));
}

static void
check_saponification_value (OgCatalogCheck     *check,
                            const OgIngredient *ingredient)
{
  const OgFigure *figure = &ingredient->figures[OG_FIGURE_SAPONIFICATION_VALUE];
  double expected = og_profile_saponification (ingredient->profile);
  g_autofree char *stated_text = og_number_fixed (figure->value, 0);
  g_autofree char *expected_text = og_number_fixed (expected, 0);

  if (!fits (figure, expected, INDEX_TOLERANCE * expected))
    report (check, OG_SEVERITY_CAUTION, "catalog-saponification-value", ingredient,
            g_strdup_printf (_("saponification value %s, but its fatty acids give %s"), stated_text,
                             expected_text));
}

static void
check_density (OgCatalogCheck     *check,
               const OgIngredient *ingredient)
{
  const OgFigure *figure = &ingredient->figures[OG_FIGURE_DENSITY_G_ML];
  double expected = og_profile_density (ingredient->profile, figure->at_c);
  g_autofree char *stated_text = og_number_fixed (figure->value, 3);
  g_autofree char *expected_text = og_number_fixed (expected, 3);

  if (!fits (figure, expected, DENSITY_TOLERANCE_G_ML))
    report (check, OG_SEVERITY_CAUTION, "catalog-density", ingredient,
            g_strdup_printf (_("density %s g/ml, but its fatty acids give %s"), stated_text,
                             expected_text));
}

static void
check_against_profile (OgCatalogCheck     *check,
                       const OgIngredient *ingredient)
{
  if (!og_ingredient_is_triglyceride (ingredient))
    return;

  check_iodine_value (check, ingredient);
  check_saponification_value (check, ingredient);
  check_density (check, ingredient);
}

static void
check_gelling (OgCatalogCheck     *check,
               const OgIngredient *ingredient)
{
  if (ingredient->kind == OG_KIND_GELLING_AGENT && ingredient->gelling.family == OG_GEL_NONE)
    report (check, OG_SEVERITY_CAUTION, "catalog-gelling", ingredient,
            g_strdup (_("a gelling agent that does not say how it gels")));
}

static gboolean
has_listing (const OgCatalog    *catalog,
             const OgIngredient *ingredient)
{
  const GArray *shares = og_catalog_get_rule_shares (catalog, ingredient);

  for (guint i = 0; i < shares->len; i++)
    {
      const OgRuleShare *share = &g_array_index (shares, OgRuleShare, i);
      OgRuleKind kind = og_rules_get_item (og_catalog_get_rules (catalog), share->rule)->kind;

      if (share->as_such && kind != OG_RULE_NOTICE && kind != OG_RULE_DECLARE)
        return TRUE;
    }
  return FALSE;
}

static void
check_colour (OgCatalogCheck     *check,
              const OgCatalog    *catalog,
              const OgIngredient *ingredient)
{
  if (og_catalog_get_rules (catalog) != NULL && ingredient->kind == OG_KIND_COLOUR
      && !has_listing (catalog, ingredient))
    report (check, OG_SEVERITY_CAUTION, "catalog-colour", ingredient,
            g_strdup (_("no list of colours names it")));
}

static gboolean
names (const OgRule *rule,
       const char   *name)
{
  return g_ascii_strcasecmp (rule->name, name) == 0
         || g_strv_contains ((const char *const *) rule->inci, name);
}

/* A constituent that carries the name of an entry but a number the entry does not know would be
 * counted by its name alone. */
static void
check_constituents (OgCatalogCheck     *check,
                    const OgCatalog    *catalog,
                    const OgIngredient *ingredient)
{
  const OgRules *rules = og_catalog_get_rules (catalog);

  for (guint i = 0; rules != NULL && i < ingredient->constituents->len; i++)
    {
      const OgConstituent *constituent = &g_array_index (ingredient->constituents, OgConstituent, i);

      for (guint r = 0; r < og_rules_get_n_items (rules); r++)
        {
          const OgRule *rule = og_rules_get_item (rules, r);

          if (rule->kind == OG_RULE_DECLARE && names (rule, constituent->name)
              && constituent->cas != NULL
              && !g_strv_contains ((const char *const *) rule->cas, constituent->cas))
            report (check, OG_SEVERITY_CAUTION, "catalog-constituent", ingredient,
                    g_strdup_printf (_("%s: the rule %s does not know the number %s"),
                                     constituent->name, rule->id, constituent->cas));
        }
    }
}

static void
check_rules (OgCatalogCheck  *check,
             const OgCatalog *catalog)
{
  const OgRules *rules = og_catalog_get_rules (catalog);

  for (guint i = 0; rules != NULL && i < og_rules_get_n_items (rules); i++)
    {
      const OgRule *rule = og_rules_get_item (rules, i);

      check->n_rules_by_quality[rule->quality]++;
      for (guint n = 0; rule->ids[n] != NULL; n++)
        if (og_catalog_get (catalog, rule->ids[n]) == NULL)
          {
            OgFinding *finding = og_finding_new (OG_SEVERITY_CAUTION, "catalog-rule", NULL, NULL);

            finding->text = og_saying_new (N_ ("rule %s: there is no material “%s”"), og_word_text (rule->id),
                                           og_word_text (rule->ids[n]));
            g_ptr_array_add (check->findings, finding);
          }
    }
}

static gboolean
flows (const OgIngredient *ingredient)
{
  switch (ingredient->kind)
    {
    case OG_KIND_OIL:
    case OG_KIND_BUTTER:
    case OG_KIND_WAX_ESTER:
    case OG_KIND_ESTER:
    case OG_KIND_HYDROCARBON:
    case OG_KIND_SILICONE:
    case OG_KIND_ALCOHOL:
      return TRUE;
    case OG_KIND_WAX:
    case OG_KIND_GELLING_AGENT:
    case OG_KIND_ANTIOXIDANT:
    case OG_KIND_COLOUR:
    case OG_KIND_DISPERSION:
    case OG_KIND_PEARL:
    case OG_KIND_POWDER:
    case OG_KIND_FLAVOUR:
    case OG_KIND_ESSENTIAL_OIL:
    case OG_KIND_VITAMIN:
    case OG_KIND_ACTIVE:
    case OG_N_KINDS:
    default:
      return FALSE;
    }
}

static void
count (OgCatalogCheck     *check,
       const OgIngredient *ingredient)
{
  check->n_by_kind[ingredient->kind]++;
  for (int id = 0; id < OG_N_FIGURES; id++)
    {
      if (og_figure_is_known (&ingredient->figures[id]))
        check->n_figures_by_quality[ingredient->figures[id].quality]++;
    }
  if (ingredient->profile != NULL)
    check->n_figures_by_quality[ingredient->profile_quality]++;
  for (guint i = 0; i < ingredient->viscosity->len; i++)
    check->n_figures_by_quality[g_array_index (ingredient->viscosity, OgViscosityDatum, i).quality]++;

  if (flows (ingredient))
    {
      check->n_flowing++;
      if (ingredient->viscosity->len > 0 || og_ingredient_is_triglyceride (ingredient))
        check->n_flowing_known++;
    }
}

OgCatalogCheck *
og_catalog_check (const OgCatalog *catalog)
{
  OgCatalogCheck *check = g_new0 (OgCatalogCheck, 1);

  check->findings = g_ptr_array_new_with_free_func ((GDestroyNotify) og_finding_free);
  for (guint i = 0; i < og_catalog_get_n_items (catalog); i++)
    {
      const OgIngredient *ingredient = og_catalog_get_item (catalog, i);

      count (check, ingredient);
      check_names (check, catalog, ingredient);
      check_aliases (check, catalog, ingredient);
      check_against_profile (check, ingredient);
      check_gelling (check, ingredient);
      check_colour (check, catalog, ingredient);
      check_constituents (check, catalog, ingredient);
    }
  check_rules (check, catalog);

  return check;
}

void
og_catalog_check_free (OgCatalogCheck *check)
{
  g_ptr_array_unref (check->findings);
  g_free (check);
}

const char *const *
og_catalog_check_scope (void)
{
  static const char *const scope[] = {
    N_("Every file: form, units, known words, plausible ranges, CAS check digits, parts of mixtures, and a source "
       "behind every figure; a file that fails here is refused"),
    N_("Names: that every id, name and other name leads to one material"),
    N_("Iodine value, saponification value and density against the fatty acids of oils and butters"),
    N_("Gelling agents: that each says how it gels"),
    N_("Rules: form, CAS check digits, a reference behind every law and a source behind every rule, and that they know "
       "the colours and constituents of the library"),
    NULL
  };

  return scope;
}
