/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/keeping.h"

#include <string.h>

#include "common/fixture.h"
#include "core/base/arrhenius.h"

static OgCatalog *catalog;

typedef struct
{
  OgFormula *formula;
  OgResult  *result;
  OgKeeping *keeping;
} Case;

static void
case_init (Case                   *self,
           const char             *table,
           const OgKeepingOptions *options)
{
  self->formula = fixture_recipe (table, catalog);
  self->result = og_evaluate (self->formula, catalog, NULL);
  self->keeping = og_keep (self->formula, self->result, options);
}

static void
case_clear (Case *self)
{
  og_keeping_free (self->keeping);
  og_result_unref (self->result);
  og_formula_free (self->formula);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Case, case_clear)

static const OgFinding *
find_finding (const OgKeeping *keeping,
              const char      *code)
{
  for (guint i = 0; i < keeping->findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (keeping->findings, i);

      if (strcmp (finding->code, code) == 0)
        return finding;
    }

  return NULL;
}

/* Derived from the activation energies of Symoniuk, Ratusz & Krygier (refined rapeseed oil): from
 * 110 to 98 C a factor of 2.17 to 2.31. */
static void
test_arrhenius (void)
{
  g_assert_cmpfloat_with_epsilon (og_arrhenius_factor (76.43, 110, 98), 2.17, 0.005);
  g_assert_cmpfloat_with_epsilon (og_arrhenius_factor (82.44, 110, 98), 2.31, 0.005);
  g_assert_cmpfloat_with_epsilon (og_arrhenius_factor (80, 25, 25), 1, 1e-12);
  g_assert_cmpfloat_with_epsilon (
    og_arrhenius_factor (80, 25, 40) * og_arrhenius_factor (80, 40, 25), 1, 1e-12);
}

/* 2^1.5, by hand. */
static void
test_q10 (void)
{
  g_assert_cmpfloat_with_epsilon (og_q10_factor (2, 40, 25), 2.83, 0.002);
  g_assert_cmpfloat_with_epsilon (og_q10_factor (2, 35, 25), 2, 1e-12);
}

/* (23.26 + 10.3 x 55.53 + 21.6 x 6.31)/100 = 7.315 for the soya oil of AOCS Cd 1c-85, by hand; the
 * recipe weighs it with the share of the oil. */
static void
test_cox (void)
{
  static const char soya[]
      = "{\"id\":\"worked-soya\",\"name\":\"Worked soya\",\"kind\":\"oil\",\"roles\":[\"base\"],"
        "\"uses\":[\"skin\"],\"tags\":[],\"profile\":{\"unit\":\"wt % of fatty acids\","
        "\"source\":\"Cd 1c-85\",\"quality\":\"typical\",\"acids\":{\"C16:0\":{\"value\":14.9},"
        "\"C18:1\":{\"value\":23.26},\"C18:2\":{\"value\":55.53},\"C18:3\":{\"value\":6.31}}}}";
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (GPtrArray) materials
      = g_ptr_array_new_with_free_func ((GDestroyNotify) og_ingredient_unref);
  g_autoptr (OgCatalog) with_soya = NULL;
  g_autoptr (OgFormula) formula = NULL;
  g_autoptr (OgResult) result = NULL;
  g_autoptr (OgKeeping) keeping = NULL;
  g_autoptr (GError) error = NULL;
  OgIngredient *ingredient;

  g_assert_true (json_parser_load_from_data (parser, soya, -1, &error));
  ingredient = og_ingredient_new_from_json (json_node_get_object (json_parser_get_root (parser)),
                                            NULL, NULL, &error);
  g_assert_no_error (error);
  g_ptr_array_add (materials, ingredient);
  with_soya = og_catalog_new_overlay (catalog, materials);
  formula = fixture_recipe (FIXTURE_HEADER "A,worked-soya,50\nA,mineral-oil,50\n", with_soya);
  result = og_evaluate (formula, with_soya, NULL);
  keeping = og_keep (formula, result, NULL);

  g_assert_cmpfloat_with_epsilon (og_profile_cox (ingredient->profile), 7.315, 0.0005);
  g_assert_cmpfloat_with_epsilon (keeping->cox, 7.315 / 2, 0.0003);
  g_assert_cmpfloat_with_epsilon (keeping->known_fraction, 1, 1e-12);
}

/* What is commonly said of oils kept closed and dark, no source: linseed oil 3 to 12 months,
 * sunflower 6 to 18, olive 12 to 30, a saturated ester oil two years and more. The range has to
 * meet each of these and to rank them so. */
static void
test_common_sayings (void)
{
  static const struct
  {
    const char *id;
    double      low, high;
  } cases[] = {
    { "linseed-oil", 3, 12 },
    { "sunflower-oil", 6, 18 },
    { "olive-oil", 12, 30 },
    { "caprylic-capric-triglyceride", 24, 48 },
  };
  double last = 0;

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *table = g_strdup_printf (FIXTURE_HEADER "A,%s,100\n", cases[i].id);
      g_auto (Case) self = { NULL };

      case_init (&self, table, NULL);
      g_assert_cmpfloat (self.keeping->room.low_months, <, cases[i].high + 0.01);
      g_assert_cmpfloat (self.keeping->room.high_months, >, cases[i].low);
      g_assert_cmpfloat (self.keeping->room.high_months, >=, 1.4 * self.keeping->room.low_months);
      g_assert_cmpfloat (self.keeping->room.low_months, >, last);
      last = self.keeping->room.low_months;
    }
}

static void
test_temperatures (void)
{
  static const double temperatures[] = { 15, 25, 35 };
  const OgKeepingOptions options = { .temperatures_c = temperatures, .n_temperatures = 3 };
  g_auto (Case) self = { NULL };
  const OgKeepingSpan *cool, *room, *warm;

  case_init (&self, FIXTURE_HEADER "A,linseed-oil,100\n", &options);
  cool = &g_array_index (self.keeping->spans, OgKeepingSpan, 0);
  room = &g_array_index (self.keeping->spans, OgKeepingSpan, 1);
  warm = &g_array_index (self.keeping->spans, OgKeepingSpan, 2);
  g_assert_cmpfloat_with_epsilon (room->low_months, self.keeping->room.low_months, 1e-9);
  g_assert_cmpfloat_with_epsilon (room->high_months, self.keeping->room.high_months, 1e-9);
  g_assert_cmpfloat (cool->low_months, >, room->low_months);
  g_assert_cmpfloat (warm->high_months, <, room->high_months);
  /* exp (Ea/R (1/308.15 - 1/298.15)) for 74.24 and 82.44 kJ/mol, by hand */
  g_assert_cmpfloat_with_epsilon (warm->factor_high, 0.378, 0.001);
  g_assert_cmpfloat_with_epsilon (warm->factor_low, 0.340, 0.001);
}

static void
test_unknown (void)
{
  g_auto (Case) mostly = { NULL };
  g_auto (Case) little = { NULL };
  g_auto (Case) none = { NULL };
  g_autofree char *text = NULL;
  static const double temperature = 40;
  const OgKeepingOptions options = { .temperatures_c = &temperature, .n_temperatures = 1 };

  case_init (&mostly, FIXTURE_HEADER "A,fragrance-oil,20\nA,castor-oil,80\n", &options);
  g_assert_true (isnan (mostly.keeping->cox));
  g_assert_true (isnan (mostly.keeping->room.low_months));
  g_assert_true (isnan (g_array_index (mostly.keeping->spans, OgKeepingSpan, 0).high_months));
  text = og_saying_take_text (og_keeping_span_saying (&mostly.keeping->room));
  g_assert_cmpstr (text, ==, "unknown");

  /* A little that is not known widens the range downward only. */
  case_init (&little, FIXTURE_HEADER "A,fragrance-oil,5\nA,castor-oil,95\n", NULL);
  case_init (&none, FIXTURE_HEADER "A,mineral-oil,5\nA,castor-oil,95\n", NULL);
  g_assert_cmpfloat (little.keeping->room.low_months, <, none.keeping->room.low_months);
  g_assert_cmpfloat (little.keeping->room.high_months, ==, none.keeping->room.high_months);
}

/* Use levels of the library: tocopherol 0.05 to 1 wt %. */
static void
test_antioxidant (void)
{
  static const struct
  {
    const char  *pct;
    OgGuardLevel level;
    const char  *code;
  } cases[] = {
    { "0.01", OG_GUARD_BELOW, "keeping-antioxidant-low" },
    { "0.5", OG_GUARD_WITHIN, NULL },
    { "2", OG_GUARD_ABOVE, "keeping-antioxidant-high" },
  };
  g_auto (Case) bare = { NULL };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *table = g_strdup_printf (
        FIXTURE_HEADER "A,sunflower-oil,balance\nB,tocopherol,%s\n", cases[i].pct);
      g_auto (Case) self = { NULL };

      case_init (&self, table, NULL);
      g_assert_cmpuint (self.keeping->guards->len, ==, 1);
      g_assert_cmpint (g_array_index (self.keeping->guards, OgKeepingGuard, 0).level, ==,
                       cases[i].level);
      if (cases[i].code != NULL)
        g_assert_nonnull (find_finding (self.keeping, cases[i].code));
      g_assert_null (find_finding (self.keeping, "keeping-no-antioxidant"));
    }
  case_init (&bare, FIXTURE_HEADER "A,sunflower-oil,100\n", NULL);
  g_assert_nonnull (find_finding (bare.keeping, "keeping-no-antioxidant"));
}

static void
test_weakest (void)
{
  g_auto (Case) self = { NULL };
  const OgKeepingPart *first;
  double sum = 0;

  case_init (&self, FIXTURE_HEADER "A,castor-oil,70\nA,linseed-oil,20\nA,olive-oil,10\n", NULL);
  first = &g_array_index (self.keeping->parts, OgKeepingPart, 0);
  g_assert_cmpstr (first->ingredient->id, ==, "linseed-oil");
  for (guint i = 0; i < self.keeping->parts->len; i++)
    sum += g_array_index (self.keeping->parts, OgKeepingPart, i).share;
  g_assert_cmpfloat_with_epsilon (sum, 1, 1e-12);
  g_assert_nonnull (find_finding (self.keeping, "keeping-weakest"));
  g_assert_nonnull (find_finding (self.keeping, "keeping-drying"));
}

static void
test_lots (void)
{
  static const struct
  {
    const char *id;
    gint64      best_before;
  } lots[] = { { "castor-oil", 1800000000 }, { "olive-oil", 1780000000 }, { "linseed-oil", 1000 } };
  g_autoptr (OgShelf) shelf = og_shelf_new ();
  OgKeepingOptions options = { .shelf = shelf, .now = 1770000000 };
  const char *table = FIXTURE_HEADER "A,castor-oil,70\nA,olive-oil,30\n";
  g_auto (Case) before = { NULL };
  g_auto (Case) after = { NULL };

  for (guint i = 0; i < G_N_ELEMENTS (lots); i++)
    {
      const OgShelfItem item = { (char *) lots[i].id, 100, NAN, NULL, lots[i].best_before };

      og_shelf_put (shelf, &item);
    }
  case_init (&before, table, &options);
  g_assert_cmpint (before.keeping->best_before, ==, 1780000000);
  g_assert_cmpstr (before.keeping->best_before_id, ==, "olive-oil");
  g_assert_nonnull (find_finding (before.keeping, "keeping-lot"));
  options.now = 1790000000;
  case_init (&after, table, &options);
  g_assert_nonnull (find_finding (after.keeping, "keeping-lot-past"));
}

/* Codex CXS 19-1981 and 210-1999, recalled: 10 meq/kg refined, 15 virgin and cold-pressed. */
static void
test_peroxide (void)
{
  static const struct
  {
    double     meq_kg;
    OgSeverity severity;
    gboolean   found;
  } cases[] = {
    { 10, OG_SEVERITY_NOTE, FALSE },
    { 10.1, OG_SEVERITY_NOTE, TRUE },
    { 15, OG_SEVERITY_NOTE, TRUE },
    { 15.1, OG_SEVERITY_CAUTION, TRUE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const OgPeroxide peroxide = { "olive-oil", cases[i].meq_kg };
      const OgKeepingOptions options = { .peroxides = &peroxide, .n_peroxides = 1 };
      g_auto (Case) self = { NULL };
      const OgFinding *finding;

      case_init (&self, FIXTURE_HEADER "A,olive-oil,100\n", &options);
      finding = find_finding (self.keeping, "keeping-peroxide");
      g_assert_cmpint (finding != NULL, ==, cases[i].found);
      if (finding != NULL)
        g_assert_cmpint (finding->severity, ==, cases[i].severity);
    }
}

static void
test_claim (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_HEADER "A,linseed-oil,100\n", catalog);
  g_autoptr (OgResult) result = og_evaluate (formula, catalog, NULL);
  g_autoptr (OgKeeping) silent = og_keep (formula, result, NULL);
  g_autoptr (OgKeeping) bold = NULL;

  g_assert_null (find_finding (silent, "keeping-claim"));
  formula->open_months = 24;
  bold = og_keep (formula, result, NULL);
  g_assert_cmpint (find_finding (bold, "keeping-claim")->severity, ==, OG_SEVERITY_CAUTION);
  g_assert_nonnull (find_finding (bold, "keeping-durability"));
}

static void
test_empty (void)
{
  g_autoptr (OgFormula) formula = og_formula_new ();
  g_autoptr (OgResult) result = og_evaluate (formula, catalog, NULL);
  g_autoptr (OgKeeping) keeping = og_keep (formula, result, NULL);

  g_assert_true (isnan (keeping->room.low_months));
  g_assert_cmpuint (keeping->advice->len, >, 0);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();

  g_test_add_func ("/keeping/arrhenius", test_arrhenius);
  g_test_add_func ("/keeping/q10", test_q10);
  g_test_add_func ("/keeping/cox", test_cox);
  g_test_add_func ("/keeping/common-sayings", test_common_sayings);
  g_test_add_func ("/keeping/temperatures", test_temperatures);
  g_test_add_func ("/keeping/unknown", test_unknown);
  g_test_add_func ("/keeping/antioxidant", test_antioxidant);
  g_test_add_func ("/keeping/weakest", test_weakest);
  g_test_add_func ("/keeping/lots", test_lots);
  g_test_add_func ("/keeping/peroxide", test_peroxide);
  g_test_add_func ("/keeping/claim", test_claim);
  g_test_add_func ("/keeping/empty", test_empty);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
