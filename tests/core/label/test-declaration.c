/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/label/declaration.h"

#include <string.h>

#include "common/fixture.h"

#define EPSILON 1e-9

static OgCatalog *library;

/* Invented materials; what they hold comes from the library. */
static const char *const invented[] = {
  "{\"id\":\"antioxidant-blend\",\"name\":\"Antioxidant blend\",\"kind\":\"antioxidant\","
  "\"roles\":[\"antioxidant\"],\"uses\":[\"lip\"],\"tags\":[],\"composition\":["
  "{\"ingredient\":\"tocopherol\",\"pct\":70},{\"ingredient\":\"sunflower-oil\",\"pct\":30}]}",
  "{\"id\":\"harbour-flavour\",\"name\":\"Harbour flavour\",\"inci\":\"Aroma\",\"kind\":\"flavour\","
  "\"roles\":[\"flavour\"],\"uses\":[\"lip\"],\"tags\":[\"fragrance\"],\"constituents\":["
  "{\"name\":\"Limonene\",\"cas\":\"5989-27-5\",\"pct\":{\"value\":5,\"unit\":\"wt %\","
  "\"source\":\"certificate\",\"quality\":\"measured\"}},"
  "{\"name\":\"Vanillin\",\"cas\":\"121-33-5\",\"pct\":{\"value\":3,\"unit\":\"wt %\","
  "\"source\":\"certificate\",\"quality\":\"measured\"}},"
  "{\"name\":\"Linalool\",\"cas\":\"78-70-6\",\"pct\":{\"value\":1,\"unit\":\"wt %\","
  "\"source\":\"certificate\",\"quality\":\"measured\"}},"
  "{\"name\":\"Benzyl Alcohol\",\"cas\":\"100-51-6\",\"pct\":{\"value\":0.1,\"unit\":\"wt %\","
  "\"source\":\"certificate\",\"quality\":\"measured\"}}]}",
  "{\"id\":\"red-pearl\",\"name\":\"Red pearl\",\"kind\":\"pearl\",\"roles\":[\"shimmer\"],"
  "\"uses\":[\"lip\"],\"tags\":[\"powder\"],\"composition\":[{\"ingredient\":\"mica\",\"pct\":60},"
  "{\"ingredient\":\"titanium-dioxide\",\"pct\":35},{\"ingredient\":\"red-iron-oxide\",\"pct\":5}]}",
  "{\"id\":\"red-paste\",\"name\":\"Red paste\",\"kind\":\"dispersion\",\"roles\":[\"colour\"],"
  "\"uses\":[\"lip\"],\"tags\":[],\"composition\":[{\"ingredient\":\"red-7-lake\",\"pct\":25},"
  "{\"ingredient\":\"castor-oil\",\"pct\":75}]}",
  "{\"id\":\"nameless\",\"name\":\"Nameless resin\",\"kind\":\"ester\",\"roles\":[\"gloss\"],"
  "\"uses\":[\"lip\"],\"tags\":[]}",
  "{\"id\":\"listed-pearl\",\"name\":\"Listed pearl\","
  "\"inci\":\"Mica (and) Titanium Dioxide (and) Tin Oxide\",\"kind\":\"pearl\","
  "\"roles\":[\"shimmer\"],\"uses\":[\"lip\"],\"tags\":[\"powder\"]}",
  "{\"id\":\"numberless-colour\",\"name\":\"Numberless colour\",\"inci\":\"Beetroot Red\","
  "\"kind\":\"colour\",\"roles\":[\"colour\"],\"uses\":[\"lip\"],\"tags\":[]}",
};

/* The worked example of this project: invented, by the rules named in the declaration. */
#define WORKED                                                                                     \
  FIXTURE_HEADER                                                                                   \
  "A,castor-oil,40.00\nA,caprylic-capric-triglyceride,25.00\nA,jojoba-oil,18.00\n"                 \
  "A,hydrogenated-polyisobutene-medium,10.00\nA,dextrin-palmitate,4.00\n"                          \
  "B,antioxidant-blend,0.80\nB,harbour-flavour,0.70\nB,red-pearl,1.00\nB,red-paste,0.50\n"

static OgCatalog *
own_catalog (void)
{
  g_autoptr (GPtrArray) materials
      = g_ptr_array_new_with_free_func ((GDestroyNotify) og_ingredient_unref);

  for (guint i = 0; i < G_N_ELEMENTS (invented); i++)
    {
      g_autoptr (JsonParser) parser = json_parser_new ();
      g_autoptr (GError) error = NULL;
      OgIngredient *ingredient;

      g_assert_true (json_parser_load_from_data (parser, invented[i], -1, &error));
      ingredient = og_ingredient_new_from_json (
        json_node_get_object (json_parser_get_root (parser)), NULL, NULL, &error);
      g_assert_no_error (error);
      g_ptr_array_add (materials, ingredient);
    }

  return og_catalog_new_overlay (library, materials);
}

/* Both live as long as the declaration. */
typedef struct
{
  OgCatalog     *catalog;
  OgFormula     *formula;
  OgDeclaration *declaration;
} Case;

static void
case_init (Case                       *self,
           const char                 *table,
           OgMarket                    market,
           const OgDeclarationOptions *options)
{
  self->catalog = own_catalog ();
  self->formula = fixture_recipe (table, self->catalog);
  self->declaration = og_declare (self->formula, self->catalog, market, options);
}

static void
case_clear (Case *self)
{
  og_declaration_free (self->declaration);
  og_formula_free (self->formula);
  og_catalog_unref (self->catalog);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Case, case_clear)

static const OgDeclarationEntry *
find_entry (const OgDeclaration *declaration,
            const char          *name)
{
  for (guint i = 0; i < declaration->entries->len; i++)
    {
      const OgDeclarationEntry *entry = g_ptr_array_index (declaration->entries, i);

      if (strcmp (entry->name, name) == 0)
        return entry;
    }

  return NULL;
}

static const OgFinding *
find_finding (const OgDeclaration *declaration,
              const char          *code)
{
  for (guint i = 0; i < declaration->findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (declaration->findings, i);

      if (strcmp (finding->code, code) == 0)
        return finding;
    }

  return NULL;
}

static void
assert_entry (const OgDeclaration *declaration,
              const char          *name,
              double               pct,
              OgDeclarationGroup   group)
{
  const OgDeclarationEntry *entry = find_entry (declaration, name);

  g_assert_nonnull (entry);
  g_assert_cmpfloat_with_epsilon (entry->pct, pct, EPSILON);
  g_assert_cmpint (entry->group, ==, group);
}

/* Regulation (EC) 1223/2009, Art. 19(1)(g), worked by hand. */
static void
test_worked_eu (void)
{
  g_auto (Case) self = { NULL };
  const OgDeclaration *declaration;
  const OgDeclarationEntry *castor;

  case_init (&self, WORKED, OG_MARKET_EU, NULL);
  declaration = self.declaration;
  g_assert_cmpstr (declaration->text, ==,
                   "Ricinus Communis Seed Oil, Caprylic/Capric Triglyceride, "
                   "Simmondsia Chinensis Seed Oil, Hydrogenated Polyisobutene, Dextrin Palmitate, "
                   "Aroma, Mica, Tocopherol, Helianthus Annuus Seed Oil, Limonene, Vanillin, "
                   "Linalool, CI 77891, CI 15850, CI 77491");
  assert_entry (declaration, "Ricinus Communis Seed Oil", 40.375, OG_DECLARATION_ORDERED);
  assert_entry (declaration, "Dextrin Palmitate", 4, OG_DECLARATION_ORDERED);
  assert_entry (declaration, "Aroma", 0.7, OG_DECLARATION_SMALL);
  assert_entry (declaration, "Mica", 0.6, OG_DECLARATION_SMALL);
  assert_entry (declaration, "Tocopherol", 0.56, OG_DECLARATION_SMALL);
  assert_entry (declaration, "Helianthus Annuus Seed Oil", 0.24, OG_DECLARATION_SMALL);
  assert_entry (declaration, "Limonene", 0.035, OG_DECLARATION_ALLERGEN);
  assert_entry (declaration, "Vanillin", 0.021, OG_DECLARATION_ALLERGEN);
  assert_entry (declaration, "Linalool", 0.007, OG_DECLARATION_ALLERGEN);
  assert_entry (declaration, "CI 77891", 0.35, OG_DECLARATION_COLOUR);
  assert_entry (declaration, "CI 15850", 0.125, OG_DECLARATION_COLOUR);
  assert_entry (declaration, "CI 77491", 0.05, OG_DECLARATION_COLOUR);
  g_assert_null (find_entry (declaration, "Benzyl Alcohol"));
  g_assert_true (declaration->complete);

  castor = find_entry (declaration, "Ricinus Communis Seed Oil");
  g_assert_cmpuint (castor->line_ids->len, ==, 2);
  g_assert_cmpuint (castor->ingredient_ids->len, ==, 1);
}

static void
test_worked_shades (void)
{
  static const char *const shades[] = { "black-iron-oxide", "red-iron-oxide-in-castor-oil", NULL };
  const OgDeclarationOptions options = { .shades = shades };
  g_auto (Case) eu = { NULL };
  g_auto (Case) us = { NULL };

  case_init (&eu, WORKED, OG_MARKET_EU, &options);
  g_assert_true (g_str_has_suffix (eu.declaration->text,
                                   "Linalool, [+/- CI 77891, CI 15850, CI 77491, CI 77499]"));
  case_init (&us, WORKED, OG_MARKET_US, &options);
  g_assert_true (g_str_has_suffix (us.declaration->text,
                                   "Iron Oxides (CI 77491), [May Contain: Iron Oxides (CI 77499)]"));
}

/* 21 CFR 701.3, worked by hand. */
static void
test_worked_us (void)
{
  g_auto (Case) self = { NULL };

  case_init (&self, WORKED, OG_MARKET_US, NULL);
  g_assert_cmpstr (self.declaration->text, ==,
                   "Ricinus Communis (Castor) Seed Oil, Caprylic/Capric Triglyceride, "
                   "Simmondsia Chinensis (Jojoba) Seed Oil, Hydrogenated Polyisobutene, "
                   "Dextrin Palmitate, Flavor, Tocopherol, Helianthus Annuus (Sunflower) Seed Oil, "
                   "Mica, Titanium Dioxide (CI 77891), Red 7 Lake (CI 15850), "
                   "Iron Oxides (CI 77491)");
  g_assert_true (self.declaration->complete);
}

/* "Below 1 %" against "not more than 1 %": at the bound itself the two differ. */
static void
test_one_percent (void)
{
  static const struct
  {
    const char        *pct;
    OgDeclarationGroup eu, us;
  } cases[] = {
    { "0.9999", OG_DECLARATION_SMALL, OG_DECLARATION_SMALL },
    { "1.0000", OG_DECLARATION_ORDERED, OG_DECLARATION_SMALL },
    { "1.0001", OG_DECLARATION_ORDERED, OG_DECLARATION_ORDERED },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    for (int market = 0; market < OG_N_MARKETS; market++)
      {
        g_autofree char *table = g_strdup_printf (
          FIXTURE_HEADER "A,castor-oil,balance\nB,tocopherol,%s\n", cases[i].pct);
        g_auto (Case) self = { NULL };

        case_init (&self, table, (OgMarket) market, NULL);
        g_assert_cmpint (find_entry (self.declaration, "Tocopherol")->group, ==,
                         market == OG_MARKET_EU ? cases[i].eu : cases[i].us);
      }
}

/* The same bound reached by adding up: 0.3 % neat and 0.7 % out of 1 % of a blend with 70 %. */
static void
test_one_percent_in_parts (void)
{
  g_auto (Case) self = { NULL };

  case_init (&self, FIXTURE_HEADER "A,castor-oil,98.7\nB,tocopherol,0.3\nB,antioxidant-blend,1.0\n",
             OG_MARKET_EU, NULL);
  assert_entry (self.declaration, "Tocopherol", 1, OG_DECLARATION_ORDERED);
}

/* Annex III names allergens that exceed 0.001 % of a product that stays on; linalool is 1 % of the
 * invented flavour. */
static void
test_allergen_bound (void)
{
  static const struct
  {
    const char *pct;
    gboolean    listed;
  } cases[] = { { "0.0999", FALSE }, { "0.1000", FALSE }, { "0.1001", TRUE } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *table = g_strdup_printf (
        FIXTURE_HEADER "A,castor-oil,balance\nB,harbour-flavour,%s\n", cases[i].pct);
      g_auto (Case) self = { NULL };

      case_init (&self, table, OG_MARKET_EU, NULL);
      g_assert_cmpint (find_entry (self.declaration, "Linalool") != NULL, ==, cases[i].listed);
      g_assert_nonnull (find_entry (self.declaration, "Limonene"));
    }
}

/* Gathered under one name, a neat allergen is named beside it, and only then. */
static void
test_gathered_scents (void)
{
  const char *table = FIXTURE_HEADER "A,castor-oil,99.5\nB,vanillin,0.2\nB,harbour-flavour,0.3\n";
  const OgDeclarationOptions options = { .gather_scents = TRUE };
  g_auto (Case) apart = { NULL };
  g_auto (Case) together = { NULL };

  case_init (&apart, table, OG_MARKET_EU, NULL);
  assert_entry (apart.declaration, "Aroma", 0.3, OG_DECLARATION_SMALL);
  assert_entry (apart.declaration, "Vanillin", 0.2, OG_DECLARATION_SMALL);
  case_init (&together, table, OG_MARKET_EU, &options);
  assert_entry (together.declaration, "Aroma", 0.5, OG_DECLARATION_SMALL);
  assert_entry (together.declaration, "Vanillin", 0.209, OG_DECLARATION_ALLERGEN);
}

static void
test_nano (void)
{
  static const char *const nano[] = { "titanium-dioxide", NULL };
  const char *table = FIXTURE_HEADER "A,castor-oil,97\nB,titanium-dioxide,3\n";
  const OgDeclarationOptions options = { .nano = nano };
  g_auto (Case) asked = { NULL };
  g_auto (Case) said = { NULL };
  g_auto (Case) us = { NULL };

  case_init (&asked, table, OG_MARKET_EU, NULL);
  g_assert_nonnull (find_finding (asked.declaration, "declaration-nano"));
  case_init (&said, table, OG_MARKET_EU, &options);
  g_assert_null (find_finding (said.declaration, "declaration-nano"));
  g_assert_cmpstr (said.declaration->text, ==, "Ricinus Communis Seed Oil, CI 77891 (nano)");
  case_init (&us, table, OG_MARKET_US, &options);
  g_assert_cmpstr (us.declaration->text, ==,
                   "Ricinus Communis (Castor) Seed Oil, Titanium Dioxide (CI 77891)");
}

/* US colours of one listed name are one name, with every number. */
static void
test_one_listed_name (void)
{
  const char *table = FIXTURE_HEADER "A,castor-oil,97\nB,yellow-iron-oxide,1\n"
                                     "B,red-iron-oxide,1\nB,brown-iron-oxide,1\n";
  g_auto (Case) eu = { NULL };
  g_auto (Case) us = { NULL };

  case_init (&us, table, OG_MARKET_US, NULL);
  g_assert_cmpstr (us.declaration->text, ==,
                   "Ricinus Communis (Castor) Seed Oil, Iron Oxides (CI 77491, CI 77492, CI 77499)");
  assert_entry (us.declaration, "Iron Oxides (CI 77491, CI 77492, CI 77499)", 3,
                OG_DECLARATION_COLOUR);
  case_init (&eu, table, OG_MARKET_EU, NULL);
  g_assert_cmpstr (eu.declaration->text, ==,
                   "Ricinus Communis Seed Oil, CI 77491, CI 77492, CI 77499");
  g_assert_nonnull (find_finding (eu.declaration, "declaration-shares-unknown"));
}

/* A list of names without shares: in its order, the first between a third and all of it. */
static void
test_unknown_shares (void)
{
  g_auto (Case) self = { NULL };
  const OgDeclarationEntry *entry;

  case_init (&self, FIXTURE_HEADER "A,castor-oil,97\nB,listed-pearl,3\n", OG_MARKET_EU, NULL);
  g_assert_cmpstr (self.declaration->text, ==, "Ricinus Communis Seed Oil, Mica, Tin Oxide, CI 77891");
  entry = find_entry (self.declaration, "Mica");
  g_assert_true (isnan (entry->pct));
  g_assert_cmpfloat_with_epsilon (entry->low_pct, 1, EPSILON);
  g_assert_cmpfloat_with_epsilon (entry->high_pct, 3, EPSILON);
  entry = find_entry (self.declaration, "Tin Oxide");
  g_assert_cmpfloat_with_epsilon (entry->high_pct, 1, EPSILON);
  g_assert_nonnull (find_finding (self.declaration, "declaration-shares-unknown"));
  g_assert_true (self.declaration->complete);
}

static void
assert_incomplete (const char *table,
                   OgMarket    market,
                   const char *code)
{
  g_auto (Case) self = { NULL };
  const OgFinding *finding;

  case_init (&self, table, market, NULL);
  finding = find_finding (self.declaration, code);
  g_assert_nonnull (finding);
  g_assert_cmpint (finding->severity, ==, OG_SEVERITY_BLOCKING);
  g_assert_false (self.declaration->complete);
}

static void
test_incomplete (void)
{
  g_auto (Case) self = { NULL };

  assert_incomplete (FIXTURE_HEADER "A,castor-oil,97\nB,nameless,3\n", OG_MARKET_US,
                     "declaration-name-missing");
  assert_incomplete (FIXTURE_HEADER "A,castor-oil,97\nB,numberless-colour,3\n", OG_MARKET_EU,
                     "declaration-colour-number");
  assert_incomplete (FIXTURE_HEADER "A,castor-oil,97\nB,fragrance-oil,3\n", OG_MARKET_EU,
                     "declaration-allergens-unknown");
  case_init (&self, FIXTURE_HEADER "A,castor-oil,97\nB,fragrance-oil,3\n", OG_MARKET_US, NULL);
  g_assert_true (self.declaration->complete);
  g_assert_cmpstr (self.declaration->text, ==, "Ricinus Communis (Castor) Seed Oil, Fragrance");
}

static void
test_not_whole (void)
{
  g_autoptr (OgFormula) empty = og_formula_new ();
  g_autoptr (OgFormula) part = og_formula_new ();
  g_autoptr (OgDeclaration) nothing = og_declare (empty, library, OG_MARKET_EU, NULL);
  g_autoptr (OgDeclaration) half = NULL;

  g_assert_cmpstr (nothing->text, ==, "");
  g_assert_nonnull (find_finding (nothing, "declaration-empty"));
  og_formula_add_line (part, og_formula_add_phase (part, "A", NAN, G_MAXUINT), "castor-oil", 500000,
                       G_MAXUINT);
  half = og_declare (part, library, OG_MARKET_EU, NULL);
  g_assert_nonnull (find_finding (half, "declaration-total"));
  g_assert_false (half->complete);
}

static void
test_shade_that_is_none (void)
{
  static const char *const shades[] = { "olive-oil", NULL };
  const OgDeclarationOptions options = { .shades = shades };
  g_auto (Case) self = { NULL };

  case_init (&self, FIXTURE_HEADER "A,castor-oil,100\n", OG_MARKET_EU, &options);
  g_assert_nonnull (find_finding (self.declaration, "declaration-shade"));
  g_assert_cmpstr (self.declaration->text, ==, "Ricinus Communis Seed Oil");
}

static void
test_market_names (void)
{
  static const struct
  {
    const char *id, *eu, *us;
  } cases[] = {
    { "castor-oil", "Ricinus Communis Seed Oil", "Ricinus Communis (Castor) Seed Oil" },
    { "beeswax", "Cera Alba", "Beeswax" },
    { "mineral-oil", "Paraffinum Liquidum", "Mineral Oil" },
    { "peppermint-oil", "Mentha Piperita Oil", "Mentha Piperita (Peppermint) Oil" },
    { "coco-caprylate-caprate", "Coco-Caprylate/Caprate", "Coco-Caprylate/Caprate" },
    { "red-7-lake", "CI 15850", "Red 7 Lake" },
    { "carmine", "CI 75470", "Carmine" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const OgIngredient *ingredient = og_catalog_get (library, cases[i].id);
      g_autofree char *eu = og_ingredient_label_name (ingredient, OG_MARKET_EU);
      g_autofree char *us = og_ingredient_label_name (ingredient, OG_MARKET_US);

      g_assert_cmpstr (eu, ==, cases[i].eu);
      g_assert_cmpstr (us, ==, cases[i].us);
    }
}

static OgFormula *
random_recipe (GRand *rand)
{
  OgFormula *formula = og_formula_new ();
  OgFormulaPhase *phase = og_formula_add_phase (formula, "A", NAN, G_MAXUINT);
  guint n = (guint) g_rand_int_range (rand, 1, 16);

  for (guint i = 0; i < n; i++)
    {
      guint index = (guint) g_rand_int_range (rand, 0, (gint32) og_catalog_get_n_items (library));
      OgPpm amount = g_rand_boolean (rand) ? g_rand_int_range (rand, 1, 20000)
                                           : g_rand_int_range (rand, 1, OG_PPM_WHOLE);

      og_formula_add_line (formula, phase, og_catalog_get_item (library, index)->id, amount,
                           G_MAXUINT);
    }
  g_assert_true (og_formula_normalise (formula));

  return formula;
}

/* Every list falls by weight where it must, names nothing twice, keeps the colours last, and adds
 * up to the whole recipe. */
static void
assert_lawful (const OgDeclaration *declaration)
{
  g_autoptr (GHashTable) names = g_hash_table_new (g_str_hash, g_str_equal);
  double low = 0, high = 0, last = 100 + EPSILON;
  int group = OG_DECLARATION_ORDERED;

  for (guint i = 0; i < declaration->entries->len; i++)
    {
      const OgDeclarationEntry *entry = g_ptr_array_index (declaration->entries, i);

      g_assert_true (g_hash_table_add (names, entry->name));
      if (entry->group == OG_DECLARATION_ALLERGEN)
        continue;
      g_assert_cmpint (entry->group, >=, group);
      group = (int) entry->group;
      low += entry->low_pct;
      high += entry->high_pct;
      if (entry->group != OG_DECLARATION_ORDERED)
        continue;
      g_assert_cmpfloat (entry->high_pct, <=, last + EPSILON);
      g_assert_cmpfloat (entry->high_pct, >=, 1 - EPSILON);
      last = entry->high_pct;
    }
  g_assert_cmpfloat (low, <=, 100 + 1e-6);
  g_assert_cmpfloat (high, >=, 100 - 1e-6);
  if (find_finding (declaration, "declaration-shares-unknown") == NULL)
    g_assert_cmpfloat_with_epsilon (low, 100, 1e-6);
}

static void
test_random (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20260901);

  for (guint i = 0; i < 400; i++)
    {
      g_autoptr (OgFormula) formula = random_recipe (rand);

      for (int market = 0; market < OG_N_MARKETS; market++)
        {
          g_autoptr (OgDeclaration) declaration
              = og_declare (formula, library, (OgMarket) market, NULL);
          g_autoptr (OgDeclaration) again = og_declare (formula, library, (OgMarket) market, NULL);

          assert_lawful (declaration);
          g_assert_cmpstr (declaration->text, ==, again->text);
        }
    }
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  library = fixture_catalog ();

  g_test_add_func ("/declaration/worked-eu", test_worked_eu);
  g_test_add_func ("/declaration/worked-shades", test_worked_shades);
  g_test_add_func ("/declaration/worked-us", test_worked_us);
  g_test_add_func ("/declaration/one-percent", test_one_percent);
  g_test_add_func ("/declaration/one-percent-in-parts", test_one_percent_in_parts);
  g_test_add_func ("/declaration/allergen-bound", test_allergen_bound);
  g_test_add_func ("/declaration/gathered-scents", test_gathered_scents);
  g_test_add_func ("/declaration/nano", test_nano);
  g_test_add_func ("/declaration/one-listed-name", test_one_listed_name);
  g_test_add_func ("/declaration/unknown-shares", test_unknown_shares);
  g_test_add_func ("/declaration/incomplete", test_incomplete);
  g_test_add_func ("/declaration/not-whole", test_not_whole);
  g_test_add_func ("/declaration/shade-that-is-none", test_shade_that_is_none);
  g_test_add_func ("/declaration/market-names", test_market_names);
  g_test_add_func ("/declaration/random", test_random);
  status = g_test_run ();
  og_catalog_unref (library);
  return status;
}
