/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/rulings.h"

#include <math.h>
#include <string.h>

#include "common/fixture.h"
#include "core/predict/evaluate.h"

static OgCatalog *catalog;

#define HEADER FIXTURE_HEADER

/* The library with own materials on top: JSON with ' for ". */
static OgCatalog *
with_materials (const char *first,
                ...)
{
  g_autoptr (GPtrArray) materials
      = g_ptr_array_new_with_free_func ((GDestroyNotify) og_ingredient_unref);
  va_list args;

  va_start (args, first);
  for (const char *text = first; text != NULL; text = va_arg (args, const char *))
    {
      g_autofree char *json = g_strdelimit (g_strdup (text), "'", '"');
      g_autoptr (JsonNode) node = json_from_string (json, NULL);
      g_autoptr (GError) error = NULL;
      OgIngredient *material
          = og_ingredient_new_from_json (json_node_get_object (node), NULL, NULL, &error);

      g_assert_no_error (error);
      g_ptr_array_add (materials, material);
    }
  va_end (args);
  return og_catalog_new_overlay (catalog, materials);
}

static OgResult *
evaluate (const char *table,
          OgCatalog  *with,
          OgProduct   product)
{
  g_autoptr (OgFormula) formula = fixture_recipe (table, with);

  formula->product = product;
  return og_evaluate (formula, with, NULL);
}

static const OgRuling *
find_ruling (const OgResult *result,
             const char     *rule_id)
{
  for (guint i = 0; i < result->rulings->len; i++)
    {
      const OgRuling *ruling = g_ptr_array_index (result->rulings, i);

      if (g_str_equal (ruling->rule->id, rule_id))
        return ruling;
    }
  return NULL;
}

static const OgFinding *
find_finding (const OgResult *result,
              const char     *code,
              const char     *jurisdiction)
{
  for (guint i = 0; i < result->findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (result->findings, i);

      if (g_str_equal (finding->code, code)
          && (jurisdiction == NULL || g_strcmp0 (finding->jurisdiction, jurisdiction) == 0))
        return finding;
    }
  return NULL;
}

/* A recipe of sunflower oil and @amount of own-x. */
static OgFormula *
small_recipe (const OgCatalog *with,
              OgPpm            amount,
              OgProduct        product)
{
  OgFormula *formula = og_formula_new ();
  OgFormulaPhase *phase = og_formula_add_phase (formula, "A", NAN, G_MAXUINT);

  og_formula_add_line (formula, phase, "own-x", amount, G_MAXUINT);
  og_formula_add_line (formula, phase, "sunflower-oil", OG_PPM_WHOLE - amount, G_MAXUINT);
  formula->product = product;
  return formula;
}

static OgProduct
first_product (const OgRule *rule)
{
  OgProduct product = OG_PRODUCT_LIP_APPLICATOR;

  while ((rule->products & (1u << product)) == 0)
    product++;
  return product;
}

/* The least and the most that every measured rule lets pass, one millionth apart. */
static void
test_thresholds (void)
{
  const OgRules *rules = og_catalog_get_rules (catalog);
  guint n = 0;

  for (guint i = 0; i < og_rules_get_n_items (rules); i++)
    {
      const OgRule *rule = og_rules_get_item (rules, i);
      gboolean measured = rule->kind == OG_RULE_LIMIT || rule->kind == OG_RULE_DECLARE;

      for (guint c = 0; measured && rule->cas[c] != NULL; c++)
        {
          double factor = og_rule_get_factor (rule, rule->cas[c]);
          OgPpm most = (OgPpm) floor (rule->max_pct / factor * OG_PPM_PER_PERCENT * (1.0 + 1e-12));
          g_autofree char *text = g_strdup_printf (
              "{'id': 'own-x', 'name': 'X', 'cas': '%s', 'kind': 'active', 'roles': ['active'],"
              " 'uses': ['lip'], 'tags': [%s%s%s], 'constituents': []}",
              rule->cas[c], rule->only[0] != NULL ? "'" : "",
              rule->only[0] != NULL ? rule->only[0] : "", rule->only[0] != NULL ? "'" : "");
          g_autoptr (OgCatalog) own = with_materials (text, NULL);
          g_autoptr (OgFormula) at = small_recipe (own, most, first_product (rule));
          g_autoptr (OgFormula) over = small_recipe (own, most + 1, first_product (rule));
          g_autoptr (OgResult) kept = og_evaluate (at, own, NULL);
          g_autoptr (OgResult) broken = og_evaluate (over, own, NULL);

          if (find_ruling (kept, rule->id)->verdict != OG_VERDICT_WITHIN
              || find_ruling (broken, rule->id)->verdict != OG_VERDICT_OVER)
            g_error ("%s, %s: %g %%", rule->id, rule->cas[c], og_ppm_to_pct (most));
          n++;
        }
    }
  g_assert_cmpuint (n, >, 200);
}

/* Every limit broken says what would cure it, and that cure is true and not stricter than needed by
 * more than its three digits. */
static void
test_cures (void)
{
  static const char *const recipes[] = {
    HEADER "A,sunflower-oil,98\nA,bht,1\nA,retinyl-palmitate,1\n",
    HEADER "A,sunflower-oil,97.9\nA,retinyl-palmitate,0.6\nA,salicylic-acid,1.5\n",
    HEADER "A,sunflower-oil,98\nA,clove-bud-oil,1\nA,rose-oil,1\n",
    HEADER "A,sunflower-oil,95\nA,bergamot-oil,5\n",
    HEADER "A,sunflower-oil,89\nA,cyclopentasiloxane,5\nA,camphor,4\nA,menthol,2\n",
    HEADER "A,sunflower-oil,94\nA,orange-5-lake,5.5\nA,red-36,0.5\n",
  };
  guint n = 0;

  for (guint r = 0; r < G_N_ELEMENTS (recipes); r++)
    for (guint product = OG_PRODUCT_UNSAID; product < OG_N_PRODUCTS; product++)
      {
        g_autoptr (OgResult) result = evaluate (recipes[r], catalog, (OgProduct) product);

        for (guint i = 0; i < result->rulings->len; i++)
          {
            const OgRuling *ruling = g_ptr_array_index (result->rulings, i);
            g_autoptr (OgFormula) better = fixture_recipe (recipes[r], catalog);
            g_autoptr (OgResult) after = NULL;
            OgFormulaLine *line;

            if (ruling->rule->kind != OG_RULE_LIMIT || ruling->verdict == OG_VERDICT_WITHIN)
              {
                g_assert_true (ruling->rule->kind == OG_RULE_DECLARE
                               || (isnan (ruling->cure_pct) && isnan (ruling->cure_scale)));
                continue;
              }
            if (isnan (ruling->cure_pct))
              {
                g_assert_cmpfloat (ruling->cure_scale * ruling->high_pct, <=,
                                   ruling->rule->max_pct * (1.0 + 1e-9));
                continue;
              }
            line = og_formula_find_line (better, ruling->line_id, NULL, NULL);
            line->amount = (OgPpm) llround (ruling->cure_pct * OG_PPM_PER_PERCENT);
            better->product = (OgProduct) product;
            after = og_evaluate (better, catalog, NULL);
            g_assert_cmpint (find_ruling (after, ruling->rule->id)->verdict, ==, OG_VERDICT_WITHIN);
            if (ruling->cure_pct > 0.01)
              g_assert_cmpfloat (find_ruling (after, ruling->rule->id)->high_pct, >,
                                 0.98 * ruling->rule->max_pct);
            n++;
          }
      }
  g_assert_cmpuint (n, >, 20);
}

#define FLAVOUR \
  "{'id': 'tang', 'name': 'Tang', 'inci': 'Aroma', 'kind': 'flavour', 'roles': ['flavour']," \
  " 'uses': ['lip'], 'tags': [], 'constituents': [" \
  "{'name': 'Limonene', 'cas': '5989-27-5', 'pct': {'value': 5, 'unit': 'wt %', 'source': 'd'," \
  " 'quality': 'measured'}}," \
  "{'name': 'Vanillin', 'cas': '121-33-5', 'pct': {'value': 3, 'unit': 'wt %', 'source': 'd'," \
  " 'quality': 'measured'}}," \
  "{'name': 'Linalool', 'pct': {'value': 1, 'unit': 'wt %', 'source': 'd', 'quality': 'measured'}}," \
  "{'name': 'Benzyl alcohol', 'cas': '100-51-6', 'pct': {'value': 0.1, 'unit': 'wt %', 'source': 'd'," \
  " 'quality': 'measured'}}]}"

static void
assert_flavour (const OgResult *result)
{
  const OgFinding *named = find_finding (result, "declare", "EU");
  const OgRuling *alcohol = find_ruling (result, "eu-iii-45-benzyl-alcohol");

  g_assert_cmpfloat_with_epsilon (find_ruling (result, "eu-iii-88-limonene")->amount_pct, 0.0350, 1e-9);
  g_assert_cmpfloat_with_epsilon (find_ruling (result, "eu-iii-346-vanillin")->amount_pct, 0.0210, 1e-9);
  g_assert_cmpfloat_with_epsilon (find_ruling (result, "eu-iii-84-linalool")->amount_pct, 0.0070, 1e-9);
  g_assert_cmpfloat_with_epsilon (alcohol->amount_pct, 0.0007, 1e-9);
  g_assert_cmpint (alcohol->verdict, ==, OG_VERDICT_WITHIN);
  g_assert_true (alcohol->declared);
  g_assert_nonnull (strstr (og_saying_text (named->text), "Limonene (0.035 %)"));
  g_assert_nonnull (strstr (og_saying_text (named->text), "Vanillin (0.021 %)*"));
  g_assert_nonnull (strstr (og_saying_text (named->text), "Linalool (0.007 %)"));
  g_assert_null (strstr (og_saying_text (named->text), "Benzyl"));
  g_assert_null (find_finding (result, "composition-unknown", NULL));
}

/* Worked by hand: 0.70 % of a flavour with 5.00 % limonene, 3.00 % vanillin, 1.00 % linalool and
 * 0.10 % benzyl alcohol; and the same flavour, half and half in oil, at 1.40 %. */
static void
test_sums (void)
{
  g_autoptr (OgCatalog) own = with_materials (
      FLAVOUR,
      "{'id': 'tang-in-oil', 'name': 'Tang in oil', 'kind': 'flavour', 'roles': ['flavour'],"
      " 'uses': ['lip'], 'tags': [], 'composition': [{'ingredient': 'tang', 'pct': 50},"
      " {'ingredient': 'castor-oil', 'pct': 50}]}",
      NULL);
  g_autoptr (OgResult) plain
      = evaluate (HEADER "A,castor-oil,99.3\nA,tang,0.7\n", own, OG_PRODUCT_LIP_APPLICATOR);
  g_autoptr (OgResult) mixed
      = evaluate (HEADER "A,castor-oil,98.6\nA,tang-in-oil,1.4\n", own, OG_PRODUCT_LIP_APPLICATOR);
  g_autoptr (OgResult) both
      = evaluate (HEADER "A,castor-oil,99.0\nA,tang,0.35\nB,tang-in-oil,0.65\n", own,
                  OG_PRODUCT_BODY);

  assert_flavour (plain);
  assert_flavour (mixed);
  g_assert_cmpfloat_with_epsilon (find_ruling (both, "eu-iii-88-limonene")->amount_pct,
                                  0.05 * (0.35 + 0.325), 1e-9);
  g_assert_nonnull (strstr (og_saying_text (find_ruling (both, "eu-iii-88-limonene")->material), "Tang in oil"));
}

/* What is said of a whole mixture takes the place of what its parts would bring. */
static void
test_mixture_declared (void)
{
  g_autoptr (OgCatalog) own = with_materials (
      FLAVOUR,
      "{'id': 'tang-in-oil', 'name': 'Tang in oil', 'kind': 'flavour', 'roles': ['flavour'],"
      " 'uses': ['lip'], 'tags': [], 'composition': [{'ingredient': 'tang', 'pct': 50},"
      " {'ingredient': 'castor-oil', 'pct': 50}], 'constituents': [{'name': 'Limonene', 'pct':"
      " {'value': 2, 'unit': 'wt %', 'source': 'd', 'quality': 'measured'}}]}",
      NULL);
  g_autoptr (OgResult) result
      = evaluate (HEADER "A,castor-oil,99\nA,tang-in-oil,1\n", own, OG_PRODUCT_BODY);

  g_assert_cmpfloat_with_epsilon (find_ruling (result, "eu-iii-88-limonene")->amount_pct, 0.02, 1e-9);
  g_assert_null (find_ruling (result, "eu-iii-346-vanillin"));
}

/* Several CAS numbers of one label name are added up before they are compared: neral and geranial
 * are citral (Annex III/70). */
static void
test_one_name (void)
{
  g_autoptr (OgCatalog) own = with_materials (
      "{'id': 'zest', 'name': 'Zest', 'kind': 'flavour', 'roles': ['flavour'], 'uses': ['lip'],"
      " 'tags': [], 'constituents': [{'name': 'Neral', 'cas': '106-26-3', 'pct': {'value': 0.06,"
      " 'unit': 'wt %', 'source': 'd', 'quality': 'measured'}}, {'name': 'Geranial', 'cas':"
      " '141-27-5', 'pct': {'value': 0.06, 'unit': 'wt %', 'source': 'd', 'quality': 'measured'}}]}",
      NULL);
  g_autoptr (OgResult) result
      = evaluate (HEADER "A,castor-oil,99\nA,zest,1\n", own, OG_PRODUCT_BODY);
  const OgRuling *citral = find_ruling (result, "eu-iii-70-citral");

  g_assert_cmpfloat_with_epsilon (citral->amount_pct, 0.0012, 1e-9);
  g_assert_cmpint (citral->verdict, ==, OG_VERDICT_OVER);
}

/* The typical figure decides; the upper end alone weighs one step less. */
static void
test_perhaps (void)
{
  g_autoptr (OgCatalog) own = with_materials (
      "{'id': 'spice', 'name': 'Spice', 'kind': 'flavour', 'roles': ['flavour'], 'uses': ['lip'],"
      " 'tags': [], 'constituents': [{'name': 'Isoeugenol', 'cas': '97-54-1', 'pct': {'value': 1.5,"
      " 'low': 1, 'high': 2.5, 'unit': 'wt %', 'source': 'd', 'quality': 'typical'}}]}",
      NULL);
  g_autoptr (OgResult) low = evaluate (HEADER "A,castor-oil,99.2\nA,spice,0.8\n", own, OG_PRODUCT_BODY);
  g_autoptr (OgResult) mid = evaluate (HEADER "A,castor-oil,99.0\nA,spice,1.0\n", own, OG_PRODUCT_BODY);
  g_autoptr (OgResult) high = evaluate (HEADER "A,castor-oil,98.5\nA,spice,1.5\n", own, OG_PRODUCT_BODY);
  const OgFinding *perhaps = find_finding (mid, "above-limit", "EU");
  const OgFinding *over = find_finding (high, "above-limit", "EU");

  g_assert_null (find_finding (low, "above-limit", "EU"));
  g_assert_cmpint (perhaps->severity, ==, OG_SEVERITY_CAUTION);
  g_assert_cmpfloat_with_epsilon (perhaps->amount_pct, 0.025, 1e-9);
  g_assert_cmpfloat (perhaps->limit_pct, ==, 0.02);
  g_assert_nonnull (strstr (og_saying_text (perhaps->cure), "0.8 %"));
  g_assert_cmpint (over->severity, ==, OG_SEVERITY_BLOCKING);
  g_assert_nonnull (strstr (og_saying_text (over->reference), "Annex III/73"));
  g_assert_false (find_ruling (high, "eu-iii-73")->declared);
}

/* 21 CFR 73.2725: ultramarines for external use only. */
static void
test_sites (void)
{
  const char *table = HEADER "A,castor-oil,99\nA,ultramarine-blue,1\n";
  g_autoptr (OgResult) unsaid = evaluate (table, catalog, OG_PRODUCT_UNSAID);
  g_autoptr (OgResult) lips = evaluate (table, catalog, OG_PRODUCT_LIP_ROLL_ON);
  g_autoptr (OgResult) body = evaluate (table, catalog, OG_PRODUCT_BODY);
  const OgFinding *finding = find_finding (lips, "colour-not-for-lips", "US");

  g_assert_cmpint (finding->severity, ==, OG_SEVERITY_BLOCKING);
  g_assert_cmpstr (og_saying_text (finding->reference), ==, "21 CFR 73.2725");
  g_assert_nonnull (strstr (og_saying_text (finding->cure), "for skin only"));
  finding = find_finding (unsaid, "colour-not-for-lips", "US");
  g_assert_cmpint (finding->severity, ==, OG_SEVERITY_CAUTION);
  g_assert_nonnull (strstr (og_saying_text (finding->text), "for lips"));
  g_assert_null (find_finding (body, "colour-not-for-lips", NULL));
  g_assert_nonnull (find_ruling (body, "us-ultramarines-skin"));
  g_assert_null (find_finding (lips, "colour-not-for-lips", "EU"));
}

/* Two limits for one substance: where each is broken there is no product left to make. Annex III/324
 * has 0.03 % for lips and 0.06 % for skin. */
static void
test_no_site_left (void)
{
  g_autoptr (OgCatalog) own = with_materials (
      "{'id': 'own-x', 'name': 'Wintergreen', 'cas': '119-36-8', 'kind': 'active', 'roles':"
      " ['active'], 'uses': ['skin'], 'tags': [], 'constituents': []}", NULL);
  g_autoptr (OgFormula) some = small_recipe (own, 400, OG_PRODUCT_UNSAID);
  g_autoptr (OgFormula) much = small_recipe (own, 700, OG_PRODUCT_UNSAID);
  g_autoptr (OgResult) lips_only = og_evaluate (some, own, NULL);
  g_autoptr (OgResult) neither = og_evaluate (much, own, NULL);

  g_assert_cmpint (find_finding (lips_only, "above-limit", "EU")->severity, ==, OG_SEVERITY_CAUTION);
  g_assert_cmpint (find_finding (neither, "above-limit", "EU")->severity, ==, OG_SEVERITY_BLOCKING);
}

/* Retinyl palmitate counts as retinol: 286.46 / 524.87 of its mass, so that 0.05 % are reached with
 * 0.0916 %. */
static void
test_retinol (void)
{
  g_autoptr (OgResult) kept
      = evaluate (HEADER "A,castor-oil,99.9084\nA,retinyl-palmitate,0.0916\n", catalog, OG_PRODUCT_BODY);
  g_autoptr (OgResult) broken
      = evaluate (HEADER "A,castor-oil,99.9083\nA,retinyl-palmitate,0.0917\n", catalog, OG_PRODUCT_BODY);
  g_autoptr (OgResult) lips
      = evaluate (HEADER "A,castor-oil,99.9083\nA,retinyl-palmitate,0.0917\n", catalog,
                  OG_PRODUCT_LIP_APPLICATOR);

  g_assert_null (find_finding (kept, "above-limit", "EU"));
  g_assert_cmpfloat_with_epsilon (find_ruling (kept, "eu-iii-376-body")->amount_pct,
                                  0.0916 * 286.459 / 524.874, 1e-6);
  g_assert_nonnull (strstr (og_saying_text (find_finding (broken, "above-limit", "EU")->text), "counted as Retinol"));
  g_assert_null (find_finding (lips, "above-limit", "EU"));
  g_assert_nonnull (find_finding (lips, "vitamin-a-warning", "EU"));
}

/* Natural content is no ingredient, and a grade without furocoumarins is not held to the figure of
 * the expressed oil. */
static void
test_citrus (void)
{
  g_autoptr (OgResult) expressed
      = evaluate (HEADER "A,castor-oil,99.5\nA,bergamot-oil,0.5\n", catalog, OG_PRODUCT_BODY);
  g_autoptr (OgResult) lips
      = evaluate (HEADER "A,castor-oil,99.5\nA,bergamot-oil,0.5\n", catalog, OG_PRODUCT_LIP_ROLL_ON);
  g_autoptr (OgResult) fcf = evaluate (HEADER "A,castor-oil,99.5\nA,bergamot-oil-furocoumarin-free,0.5\n",
                                       catalog, OG_PRODUCT_BODY);
  const OgFinding *finding = find_finding (expressed, "above-limit", "IFRA");

  g_assert_null (find_ruling (expressed, "eu-ii-358"));
  g_assert_cmpint (finding->severity, ==, OG_SEVERITY_CAUTION);
  g_assert_nonnull (strstr (og_saying_text (finding->text), "recalled"));
  g_assert_nonnull (strstr (og_saying_text (finding->cure), "0.4 %"));
  g_assert_null (find_finding (lips, "above-limit", "IFRA"));
  g_assert_null (find_ruling (fcf, "ifra-bergamot"));
  g_assert_nonnull (find_finding (expressed, "phototoxic", NULL));
  g_assert_nonnull (find_finding (expressed, "oxidised-terpenes", "EU"));
}

/* 16 CFR 1700.14(a)(32), recalled: 10 % or more of hydrocarbons and below 100 SUS at 100 °F. */
static void
test_child_resistant (void)
{
  g_autoptr (OgResult) thin
      = evaluate (HEADER "A,isododecane,10\nA,isopropyl-myristate,90\n", catalog, OG_PRODUCT_BODY);
  g_autoptr (OgResult) little
      = evaluate (HEADER "A,isododecane,9.9999\nA,isopropyl-myristate,90.0001\n", catalog, OG_PRODUCT_BODY);
  g_autoptr (OgResult) thick
      = evaluate (HEADER "A,squalane,20\nA,castor-oil,80\n", catalog, OG_PRODUCT_BODY);

  g_assert_cmpint (find_finding (thin, "child-resistant", "US")->severity, ==, OG_SEVERITY_CAUTION);
  g_assert_null (find_finding (little, "child-resistant", NULL));
  g_assert_null (find_finding (thick, "child-resistant", NULL));
}

static void
test_claims (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (HEADER "A,castor-oil,100\n", catalog);
  g_autoptr (OgResult) silent = og_evaluate (formula, catalog, NULL);
  g_autoptr (OgResult) claims = NULL;
  g_autoptr (OgResult) harmless = NULL;

  g_free (formula->purpose);
  formula->purpose = g_strdup ("Daily oil, spf 15");
  claims = og_evaluate (formula, catalog, NULL);
  g_free (formula->purpose);
  formula->purpose = g_strdup ("For the gospfel choir");
  harmless = og_evaluate (formula, catalog, NULL);
  g_assert_null (find_finding (silent, "drug-claim", NULL));
  g_assert_nonnull (find_finding (claims, "drug-claim", "US"));
  g_assert_null (find_finding (harmless, "drug-claim", NULL));
}

/* Each of these says something of its own, with its reference. */
static void
test_examples (void)
{
  static const struct
  {
    const char *material;
    const char *pct;
    const char *code;
    OgProduct   product;
  } examples[] = {
    { "flavour-oil-soluble", "1", "composition-unknown", OG_PRODUCT_LIP_APPLICATOR },
    { "fragrance-oil", "1", "composition-unknown", OG_PRODUCT_BODY },
    { "menthol", "1.5", "above-limit", OG_PRODUCT_LIP_APPLICATOR },
    { "menthol", "0.5", "cooling", OG_PRODUCT_LIP_APPLICATOR },
    { "peppermint-oil", "0.5", "cooling", OG_PRODUCT_BODY },
    { "cinnamon-bark-oil", "0.2", "ifra-certificate", OG_PRODUCT_LIP_APPLICATOR },
    { "salicylic-acid", "0.6", "above-limit", OG_PRODUCT_BODY },
    { "salicylic-acid", "0.1", "not-for-children", OG_PRODUCT_BODY },
    { "peanut-oil", "5", "peanut-protein", OG_PRODUCT_BODY },
    { "carmine", "1", "carmine-name", OG_PRODUCT_LIP_APPLICATOR },
    { "carmine-in-castor-oil", "1", "carmine-name", OG_PRODUCT_LIP_APPLICATOR },
    { "red-7-lake-in-castor-oil", "1", "certified-lot", OG_PRODUCT_LIP_APPLICATOR },
    { "orange-5-lake", "6", "above-limit", OG_PRODUCT_LIP_APPLICATOR },
    { "red-17", "0.1", "colour-not-for-lips", OG_PRODUCT_LIP_APPLICATOR },
    { "titanium-dioxide", "1", "inhalation", OG_PRODUCT_BODY },
    { "titanium-dioxide", "1", "nano-possible", OG_PRODUCT_BODY },
    { "petrolatum", "5", "refining-history", OG_PRODUCT_BODY },
    { "petrolatum", "5", "mineral-grade", OG_PRODUCT_LIP_APPLICATOR },
    { "mineral-oil", "6", "above-limit", OG_PRODUCT_LIP_APPLICATOR },
    { "carbon-black", "0.1", "named-uses", OG_PRODUCT_BODY },
    { "cyclopentasiloxane", "5", "above-limit", OG_PRODUCT_BODY },
    { "tea-tree-oil", "0.5", "above-limit", OG_PRODUCT_BODY },
    { "synthetic-fluorphlogopite", "1", "no-listing", OG_PRODUCT_BODY },
    { "kaolin", "1", "powder", OG_PRODUCT_BODY },
  };

  for (guint i = 0; i < G_N_ELEMENTS (examples); i++)
    {
      double rest = 100.0 - g_ascii_strtod (examples[i].pct, NULL);
      g_autofree char *table = g_strdup_printf (HEADER "A,%s,%s\nA,castor-oil,%g\n",
                                                examples[i].material, examples[i].pct, rest);
      g_autoptr (OgResult) result = evaluate (table, catalog, examples[i].product);

      if (find_finding (result, examples[i].code, NULL) == NULL)
        g_error ("%s: no finding %s", examples[i].material, examples[i].code);
      g_assert_nonnull (find_finding (result, examples[i].code, NULL)->text);
    }
}

static gboolean
tag_is_told (const OgResult     *result,
             const OgIngredient *ingredient,
             const char         *tag)
{
  static const struct
  {
    const char *tag;
    const char *code;
  } codes[] = {
    { "nut", "tree-nut" },       { "peanut", "peanut" },
    { "sesame", "sesame" },      { "soy", "soy" },
    { "gluten-source", "gluten-source" }, { "bee", "bee" },
    { "lanolin", "lanolin" },    { "animal-derived", "animal-derived" },
    { "allergen", "allergen" },  { "phototoxic", "phototoxic" },
    { "powder", "powder" },      { "volatile", "volatile" },
    { "drying", "drying" },      { "grade-varies", "grade-varies" },
    { "nano-possible", "nano-possible" }, { "mineral", "mineral-grade" },
    { "not-for-lips-us", "colour-not-for-lips" },
    { "not-for-lips-eu", "colour-not-for-lips" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (codes); i++)
    {
      if (!g_str_equal (codes[i].tag, tag))
        continue;
      if (g_str_equal (tag, "animal-derived")
          && (og_ingredient_has_tag (ingredient, "bee") || og_ingredient_has_tag (ingredient, "lanolin")))
        return TRUE;
      if (g_str_equal (tag, "grade-varies") && ingredient->composition->len > 0)
        return TRUE;
      return find_finding (result, codes[i].code, NULL) != NULL;
    }
  /* palm, silicone, fragrance and conjugated ask for nothing here */
  return TRUE;
}

/* No tag of the library goes without its word, neither on a material itself nor on one that an own
 * mixture hides. */
static void
test_no_tag_lost (void)
{
  guint n = 0;

  for (guint i = 0; i < og_catalog_get_n_items (catalog); i++)
    {
      const OgIngredient *ingredient = og_catalog_get_item (catalog, i);
      g_autofree char *text = g_strdup_printf (
          "{'id': 'own-x', 'name': 'X', 'kind': 'dispersion', 'roles': ['base'], 'uses': ['lip'],"
          " 'tags': [], 'composition': [{'ingredient': '%s', 'pct': 50}, {'ingredient': 'castor-oil',"
          " 'pct': 50}]}", ingredient->id);
      g_autofree char *table
          = g_strdup_printf (HEADER "A,%s,10\nA,castor-oil,90\n", ingredient->id);
      g_autoptr (OgCatalog) own = with_materials (text, NULL);
      g_autoptr (OgFormula) hidden = small_recipe (own, 100000, OG_PRODUCT_UNSAID);
      g_autoptr (OgResult) open_result = evaluate (table, catalog, OG_PRODUCT_UNSAID);
      g_autoptr (OgResult) hidden_result = og_evaluate (hidden, own, NULL);

      for (guint t = 0; ingredient->tags[t] != NULL; t++, n++)
        {
          gboolean handling = g_str_equal (ingredient->tags[t], "powder")
                              || g_str_equal (ingredient->tags[t], "grade-varies");

          if (!tag_is_told (open_result, ingredient, ingredient->tags[t])
              || (!handling && !tag_is_told (hidden_result, ingredient, ingredient->tags[t])))
            g_error ("%s: %s", ingredient->id, ingredient->tags[t]);
        }
    }
  g_assert_cmpuint (n, >, 200);
}

/* Own rules block like law, say whose they are, and stand beside those of the library. */
static void
test_own_rules (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *json = g_strdelimit (
      g_strdup ("{'format': 'oleograph-rules', 'version': 1, 'rules': [{'id': 'mine', 'name': 'Lavender',"
                " 'kind': 'limit', 'max_pct': 0.3, 'match': {'id': ['lavender-oil']}, 'sites': ['lips']},"
                " {'id': 'stir', 'name': 'Stir', 'kind': 'notice', 'match': {'id': ['lavender-oil']},"
                " 'text': 'Stir %s by hand.'}]}"), "'", '"');
  g_autoptr (OgRules) own = og_rules_new_from_json (json, -1, "mine.json", TRUE, &error);
  g_autoptr (OgCatalog) with = og_catalog_new_with_rules (catalog, own, &error);
  g_autoptr (OgResult) over
      = evaluate (HEADER "A,castor-oil,99.5\nA,lavender-oil,0.5\n", with, OG_PRODUCT_LIP_ROLL_ON);
  g_autoptr (OgResult) body
      = evaluate (HEADER "A,castor-oil,99.5\nA,lavender-oil,0.5\n", with, OG_PRODUCT_BODY);
  const OgFinding *finding = find_finding (over, "above-limit", NULL);

  g_assert_no_error (error);
  g_assert_cmpint (finding->severity, ==, OG_SEVERITY_BLOCKING);
  g_assert_nonnull (strstr (og_saying_text (finding->text), "your own rule"));
  g_assert_cmpstr (og_saying_text (finding->source), ==, "your own rule");
  g_assert_nonnull (strstr (og_saying_text (finding->cure), "0.3 %"));
  g_assert_cmpstr (og_saying_text (find_finding (over, "own-notice", NULL)->text), ==, "Stir Lavender oil by hand.");
  g_assert_nonnull (find_finding (over, "declare", "EU"));
  g_assert_null (find_finding (body, "above-limit", NULL));
  g_assert_cmpuint (og_catalog_get_n_items (with), ==, og_catalog_get_n_items (catalog));
}

/* A colour nobody lists is not passed over; one with a salt's CI number is known by its base. */
static void
test_unlisted (void)
{
  g_autoptr (OgCatalog) own = with_materials (
      "{'id': 'own-x', 'name': 'X', 'kind': 'colour', 'roles': ['colour'], 'uses': ['skin'],"
      " 'tags': ['powder']}",
      "{'id': 'own-y', 'name': 'Y', 'kind': 'colour', 'roles': ['colour'], 'uses': ['skin'],"
      " 'tags': ['powder'], 'colour': {'ci': '15850:2'}}",
      "{'id': 'own-z', 'name': 'Z', 'kind': 'colour', 'roles': ['colour'], 'uses': ['skin'],"
      " 'tags': ['powder', 'not-for-lips-us']}", NULL);
  g_autoptr (OgResult) nameless
      = evaluate (HEADER "A,castor-oil,99\nA,own-x,1\n", own, OG_PRODUCT_BODY);
  g_autoptr (OgResult) salt = evaluate (HEADER "A,castor-oil,99\nA,own-y,1\n", own, OG_PRODUCT_BODY);
  g_autoptr (OgResult) tagged
      = evaluate (HEADER "A,castor-oil,99\nA,own-z,1\n", own, OG_PRODUCT_LIP_ROLL_ON);

  g_assert_nonnull (find_finding (nameless, "colour-unlisted", NULL));
  g_assert_null (find_finding (salt, "colour-unlisted", NULL));
  g_assert_nonnull (find_finding (salt, "certified-lot", "US"));
  g_assert_cmpint (find_finding (tagged, "colour-not-for-lips", "US")->severity, ==,
                   OG_SEVERITY_BLOCKING);
}

/* A catalog without rules has nothing to say, and the advice is given only where there is a rule. */
static void
test_without_rules (void)
{
  static const char text[] =
      "{\"format\": \"oleograph-catalog\", \"version\": 1, \"sources\": {}, \"materials\": [{\"id\": \"castor-oil\","
      " \"name\": \"Castor oil\", \"kind\": \"oil\", \"roles\": [\"base\"], \"uses\": [\"lip\"],"
      " \"tags\": [\"nut\"]}]}";
  g_autoptr (GError) error = NULL;
  g_autoptr (OgCatalog) bare = og_catalog_new_from_json (text, -1, "bare.json", NULL, &error);
  g_autoptr (OgFormula) formula = fixture_recipe (HEADER "A,castor-oil,100\n", catalog);
  g_autoptr (GPtrArray) rulings = NULL;
  g_autoptr (OgResult) plain = og_evaluate (formula, catalog, NULL);
  g_autoptr (OgResult) ruled
      = evaluate (HEADER "A,castor-oil,99\nA,bht,1\n", catalog, OG_PRODUCT_BODY);
  g_autoptr (OgSaying) advice = NULL;

  g_assert_no_error (error);
  g_assert_null (og_catalog_get_rules (bare));
  rulings = og_rulings_find (formula, bare);
  g_assert_cmpuint (rulings->len, ==, 0);
  g_assert_null (og_result_get_advice (plain));
  advice = og_result_get_advice (ruled);
  g_assert_nonnull (strstr (og_saying_text (advice), "not legal advice"));
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();

  g_test_add_func ("/rulings/thresholds", test_thresholds);
  g_test_add_func ("/rulings/cures", test_cures);
  g_test_add_func ("/rulings/sums", test_sums);
  g_test_add_func ("/rulings/mixture-declared", test_mixture_declared);
  g_test_add_func ("/rulings/one-name", test_one_name);
  g_test_add_func ("/rulings/perhaps", test_perhaps);
  g_test_add_func ("/rulings/sites", test_sites);
  g_test_add_func ("/rulings/no-site-left", test_no_site_left);
  g_test_add_func ("/rulings/retinol", test_retinol);
  g_test_add_func ("/rulings/citrus", test_citrus);
  g_test_add_func ("/rulings/child-resistant", test_child_resistant);
  g_test_add_func ("/rulings/claims", test_claims);
  g_test_add_func ("/rulings/examples", test_examples);
  g_test_add_func ("/rulings/no-tag-lost", test_no_tag_lost);
  g_test_add_func ("/rulings/own-rules", test_own_rules);
  g_test_add_func ("/rulings/unlisted", test_unlisted);
  g_test_add_func ("/rulings/without-rules", test_without_rules);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
