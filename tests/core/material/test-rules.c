/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/material/rules.h"

#include <math.h>
#include <string.h>

#include "common/fixture.h"
#include "core/base/error.h"

static OgCatalog *catalog;
static const OgRules *rules;

static const OgRule *
find (const char *id)
{
  const OgRule *rule = og_rules_get (rules, id);

  if (rule == NULL)
    g_error ("there is no rule %s", id);
  return rule;
}

static guint
count (OgRuleKind  kind,
       const char *jurisdiction,
       gboolean    extended)
{
  guint n = 0;

  for (guint i = 0; i < og_rules_get_n_items (rules); i++)
    {
      const OgRule *rule = og_rules_get_item (rules, i);

      n += rule->kind == kind && g_strcmp0 (rule->jurisdiction, jurisdiction) == 0
           && rule->extended == extended;
    }
  return n;
}

static const OgRule *
find_named (OgRuleKind  kind,
            const char *jurisdiction,
            const char *name)
{
  for (guint i = 0; i < og_rules_get_n_items (rules); i++)
    {
      const OgRule *rule = og_rules_get_item (rules, i);

      if (rule->kind == kind && g_str_equal (rule->name, name)
          && g_strcmp0 (rule->jurisdiction, jurisdiction) == 0)
        return rule;
    }
  return NULL;
}

/* The 26 names of Directive 2003/15/EC, by their INCI names; two of them have been prohibited since
 * (Annex II/1380 and 1666). */
static void
test_twenty_six (void)
{
  static const char *const names[] = {
    "Amyl Cinnamal", "Amylcinnamyl Alcohol", "Anise Alcohol", "Benzyl Alcohol", "Benzyl Benzoate",
    "Benzyl Cinnamate", "Benzyl Salicylate", "Cinnamyl Alcohol", "Cinnamal", "Citral",
    "Citronellol", "Coumarin", "Eugenol", "Farnesol", "Geraniol", "Hexyl Cinnamal",
    "Hydroxycitronellal", "Isoeugenol", "Limonene", "Linalool", "Methyl 2-Octynoate",
    "Alpha-Isomethyl Ionone", "Evernia Prunastri Extract", "Evernia Furfuracea Extract",
  };
  static const char *const gone[] = { "Butylphenyl Methylpropional",
                                      "Hydroxyisohexyl 3-Cyclohexene Carboxaldehyde" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      const OgRule *eu = find_named (OG_RULE_DECLARE, "EU", names[i]);
      const OgRule *uk = find_named (OG_RULE_DECLARE, "UK", names[i]);

      g_assert_nonnull (eu);
      g_assert_nonnull (uk);
      g_assert_false (eu->extended);
      g_assert_cmpfloat (eu->max_pct, ==, 0.001);
      g_assert_cmpint (uk->quality, ==, OG_RULE_RECALLED);
    }
  for (guint i = 0; i < G_N_ELEMENTS (gone); i++)
    {
      g_assert_nonnull (find_named (OG_RULE_PROHIBITED, "EU", gone[i]));
      g_assert_null (find_named (OG_RULE_DECLARE, "EU", gone[i]));
    }
  g_assert_cmpuint (count (OG_RULE_DECLARE, "EU", FALSE), ==, 26 - 2);
  g_assert_cmpuint (count (OG_RULE_DECLARE, "UK", FALSE), ==, 26 - 2);
}

/* Names and entries of Reg. (EU) 2023/1545 as in the Annex III export of 16 May 2024, which holds 57
 * label names beyond the first ones. */
static void
test_extension (void)
{
  static const struct
  {
    const char *name;
    const char *entry;
    const char *cas;
  } added[] = {
    { "6-Methyl Coumarin", "/46 ", "92-48-8" },    { "Alpha-Terpinene", "/131 ", "99-86-5" },
    { "Terpinolene", "/133 ", "586-62-9" },        { "Rose Ketones", "/157 ", "23696-85-7" },
    { "Methyl Salicylate", "/324 ", "119-36-8" },  { "Anethole", "/329 ", "4180-23-8" },
    { "Camphor", "/331 ", "76-22-2" },             { "Beta-Caryophyllene", "/332 ", "87-44-5" },
    { "Carvone", "/333 ", "6485-40-1" },           { "Linalyl Acetate", "/337 ", "115-95-7" },
    { "Menthol", "/338 ", "2216-51-5" },           { "Terpineol", "/343 ", "98-55-5" },
    { "Vanillin", "/346 ", "121-33-5" },           { "Citrus Limon Peel Oil", "/353 ", "8008-56-8" },
    { "Lavandula Oil/Extract", "/360 ", "8000-28-0" },
    { "Mentha Piperita Oil", "/361 ", "8006-90-4" },
    { "Eugenyl Acetate", "/368 ", "93-28-7" },     { "Geranyl Acetate", "/369 ", "105-87-3" },
    { "Pinene", "/371 ", "80-56-8" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (added); i++)
    {
      const OgRule *rule = find_named (OG_RULE_DECLARE, "EU", added[i].name);

      g_assert_nonnull (rule);
      g_assert_true (rule->extended);
      g_assert_cmpfloat (rule->max_pct, ==, 0.001);
      g_assert_nonnull (strstr (rule->reference, added[i].entry));
      g_assert_nonnull (strstr (rule->reference, "2023/1545"));
      g_assert_true (g_strv_contains ((const char *const *) rule->cas, added[i].cas));
      g_assert_null (find_named (OG_RULE_DECLARE, "UK", added[i].name));
    }
  g_assert_cmpuint (count (OG_RULE_DECLARE, "EU", TRUE), ==, 57);
}

/* The last digit of a CAS number is the sum of the others, each times its place from the right,
 * modulo 10 (definition of the registry number). */
static void
test_check_digits (void)
{
  guint n = 0;

  for (guint i = 0; i < og_rules_get_n_items (rules); i++)
    {
      const OgRule *rule = og_rules_get_item (rules, i);

      for (guint c = 0; rule->cas[c] != NULL; c++, n++)
        {
          const char *cas = rule->cas[c];
          int sum = 0, place = 0;

          for (const char *p = cas + strlen (cas) - 2; p >= cas; p--)
            if (g_ascii_isdigit (*p))
              sum += ++place * (*p - '0');
          if (sum % 10 != cas[strlen (cas) - 1] - '0')
            g_error ("%s: %s", rule->id, cas);
        }
    }
  g_assert_cmpuint (n, >, 300);
}

/* Values beside their entries: Annex III of Reg. (EC) 1223/2009 as of 16 May 2024 and its amending
 * acts, 21 CFR 74, REACH; those of IFRA and of 21 CFR 700.13 are recalled. */
static void
test_values (void)
{
  static const struct
  {
    const char *id;
    double      max_pct;
    const char *reference;
    const char *products;
  } values[] = {
    { "eu-iii-325", 0.8, "Annex III/325 (Reg. (EU) 2022/2195)", "lips and skin" },
    { "uk-bht", 0.8, "UK Cosmetics Regulation Annex III", "lips and skin" },
    { "eu-iii-376-body", 0.05, "Annex III/376 (Reg. (EU) 2024/996)", "Body oil, Massage oil" },
    { "eu-iii-376-other", 0.3, "Annex III/376 (Reg. (EU) 2024/996)",
      "Lip oil with applicator, Lip oil, roll-on, Skin oil, roll-on" },
    { "eu-iii-98-low", 0.5, "Annex III/98",
      "Lip oil with applicator, Lip oil, roll-on, Body oil, Massage oil" },
    { "eu-iii-98-other", 2.0, "Annex III/98", "Skin oil, roll-on" },
    { "eu-iii-324-lips", 0.03, "Annex III/324", "lips" },
    { "eu-iii-324-skin", 0.06, "Annex III/324", "skin" },
    { "eu-iii-102", 0.0002, "Annex III/102", "lips and skin" },
    { "eu-ii-360", 0.01, "Annex II/360", "lips and skin" },
    { "eu-iii-73", 0.02, "Annex III/73", "lips and skin" },
    { "eu-iii-72", 1.0, "Annex III/72", "lips and skin" },
    { "eu-iii-154", 0.4, "Annex III/154", "lips and skin" },
    { "eu-iii-157", 0.02, "Annex III/157", "lips and skin" },
    { "eu-iii-308", 0.01, "Annex III/308, 309", "lips and skin" },
    { "eu-iii-97", 0.042, "Annex III/97", "lips and skin" },
    { "eu-iii-166", 0.002, "Annex III/166", "lips and skin" },
    { "eu-reach-d5", 0.1, "REACH Annex XVII/70", "lips and skin" },
    { "us-dc-red-no-33-and-lakes-lips", 3.0, "21 CFR 74.2333", "lips" },
    { "us-dc-red-no-36-and-lakes-lips", 3.0, "21 CFR 74.2336", "lips" },
    { "us-dc-orange-no-5-and-lakes-lips", 5.0, "21 CFR 74.2255", "lips" },
    { "us-700-13", 0.0001, "21 CFR 700.13", "lips and skin" },
    { "ifra-bergamot", 0.4, "IFRA", "skin" },
    { "ifra-lime", 0.7, "IFRA", "skin" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    {
      const OgRule *rule = find (values[i].id);
      g_autofree char *products = og_saying_take_text (og_products_saying (rule->products));

      g_assert_cmpint (rule->kind, ==, OG_RULE_LIMIT);
      g_assert_cmpfloat (rule->max_pct, ==, values[i].max_pct);
      g_assert_nonnull (strstr (rule->reference, values[i].reference));
      g_assert_cmpstr (products, ==, values[i].products);
    }
}

/* Colours that 21 CFR parts 73, 74 and 82 allow for external use and not on lips; the sections of
 * ultramarines, chromium oxide greens and iron blue were read, some others are recalled. */
static void
test_not_for_lips (void)
{
  static const struct
  {
    const char *ci;
    const char *section;
  } colours[] = {
    { "77007", "73.2725" }, { "77288", "73.2327" }, { "77289", "73.2326" }, { "77510", "73.2299" },
    { "77000", "73.2645" }, { "26100", "74.2317" }, { "60725", "74.2602" }, { "61565", "74.2206" },
    { "47000", "74.2711" }, { "15510", "74.2254" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (colours); i++)
    {
      gboolean banned = FALSE, listed = FALSE;

      for (guint r = 0; r < og_rules_get_n_items (rules); r++)
        {
          const OgRule *rule = og_rules_get_item (rules, r);

          if (g_strcmp0 (rule->jurisdiction, "US") != 0
              || !g_strv_contains ((const char *const *) rule->ci, colours[i].ci))
            continue;
          g_assert_nonnull (strstr (rule->reference, colours[i].section));
          if (rule->kind == OG_RULE_PROHIBITED)
            {
              g_assert_cmpuint (rule->products, ==,
                                (1u << OG_PRODUCT_LIP_APPLICATOR) | (1u << OG_PRODUCT_LIP_ROLL_ON));
              banned = TRUE;
            }
          listed = listed || rule->kind == OG_RULE_LISTED;
        }
      g_assert_true (banned && listed);
    }
  g_assert_cmpint (find ("us-ultramarines-lips")->quality, ==, OG_RULE_READ);
  g_assert_cmpint (find ("us-chromium-oxide-greens-lips")->quality, ==, OG_RULE_READ);
  g_assert_cmpint (find ("us-ferric-ferrocyanide-lips")->quality, ==, OG_RULE_READ);
}

/* Molar masses from atomic weights (IUPAC, abridged): C 12.011, H 1.008, O 15.999, Zn 65.38,
 * Cl 35.45. */
static double
mass (int    c,
      int    h,
      int    o,
      double rest)
{
  return c * 12.011 + h * 1.008 + o * 15.999 + rest;
}

static void
test_equivalents (void)
{
  const OgRule *retinol = find ("eu-iii-376-body");
  const OgRule *zinc = find ("eu-iii-24");
  const double alcohol = mass (20, 30, 1, 0.0);

  g_assert_cmpfloat_with_epsilon (og_rule_get_factor (retinol, "79-81-2"),
                                  alcohol / mass (36, 60, 2, 0.0), 1e-4);
  g_assert_cmpfloat_with_epsilon (og_rule_get_factor (retinol, "127-47-9"),
                                  alcohol / mass (22, 32, 2, 0.0), 1e-4);
  g_assert_cmpfloat (og_rule_get_factor (retinol, "68-26-8"), ==, 1.0);
  g_assert_cmpfloat_with_epsilon (og_rule_get_factor (zinc, "557-34-6"),
                                  65.38 / mass (4, 6, 4, 65.38), 1e-4);
  g_assert_cmpfloat_with_epsilon (og_rule_get_factor (zinc, "7646-85-7"),
                                  65.38 / (65.38 + 2 * 35.45), 1e-4);
  g_assert_cmpfloat_with_epsilon (og_rule_get_factor (zinc, "4468-02-4"),
                                  65.38 / mass (12, 22, 14, 65.38), 1e-4);
}

/* Every rule says who says so, and where. */
static void
test_grounds (void)
{
  for (guint i = 0; i < og_rules_get_n_items (rules); i++)
    {
      const OgRule *rule = og_rules_get_item (rules, i);

      g_assert_nonnull (rule->source);
      g_assert_nonnull (rule->state);
      g_assert_cmpint (rule->quality, !=, OG_RULE_OWN);
      g_assert_cmpuint (rule->products, !=, 0);
      g_assert_cmpuint (rule->products & ~OG_PRODUCTS_ALL, ==, 0);
      if (rule->authority == OG_AUTHORITY_LAW)
        g_assert_nonnull (rule->reference);
      if (rule->authority != OG_AUTHORITY_LAW)
        g_assert_cmpint (rule->severity, <, OG_SEVERITY_BLOCKING);
      g_assert_true (og_rules_get (rules, rule->id) == rule);
    }
}

#define FILE_HEAD "{'format': 'oleograph-rules', 'version': 1, 'state': '2024-01-01',"
#define GOOD_REST "'jurisdiction': 'EU', 'authority': 'law', 'reference': 'r', 'quality': 'read'," \
                  " 'source': 's'"

static OgRules *
read_rules (const char  *text,
            gboolean     own,
            GError     **error)
{
  g_autofree char *json = g_strdelimit (g_strdup (text), "'", '"');

  return og_rules_new_from_json (json, -1, "test.json", own, error);
}

static void
test_refused (void)
{
  static const struct
  {
    const char *rule;
    const char *member;
  } wrong[] = {
    { "'id': 'a', 'kind': 'limit', 'max_pct': 1, 'match': {'cas': ['50-00-0']}, " GOOD_REST, "name" },
    { "'id': 'a', 'name': 'A', 'kind': 'limit', 'match': {'cas': ['50-00-0']}, " GOOD_REST, "max_pct" },
    { "'id': 'a', 'name': 'A', 'kind': 'limit', 'max_pct': 101, 'match': {'cas': ['50-00-0']}, " GOOD_REST,
      "max_pct" },
    { "'id': 'a', 'name': 'A', 'kind': 'prohibited', 'max_pct': 1, 'match': {'cas': ['50-00-0']}, " GOOD_REST,
      "max_pct" },
    { "'id': 'a', 'name': 'A', 'kind': 'prohibited', 'match': {'cas': ['50-00-1']}, " GOOD_REST, "match.cas" },
    { "'id': 'a', 'name': 'A', 'kind': 'prohibited', 'match': {}, " GOOD_REST, "match" },
    { "'id': 'a', 'name': 'A', 'kind': 'prohibited', 'match': {'tag': ['nought']}, " GOOD_REST, "tag" },
    { "'id': 'a', 'name': 'A', 'kind': 'banned', 'match': {'cas': ['50-00-0']}, " GOOD_REST, "kind" },
    { "'id': 'a', 'name': 'A', 'kind': 'notice', 'match': {'cas': ['50-00-0']}, " GOOD_REST, "code" },
    { "'id': 'a', 'name': 'A', 'kind': 'prohibited', 'match': {'cas': ['50-00-0']}, 'sites': ['hair'], " GOOD_REST,
      "sites" },
    { "'id': 'a', 'name': 'A', 'kind': 'prohibited', 'match': {'cas': ['50-00-0']}, 'products': ['unsaid'], " GOOD_REST,
      "products" },
    { "'id': 'a', 'name': 'A', 'kind': 'prohibited', 'match': {'cas': ['50-00-0']}, 'colour': 'red', " GOOD_REST,
      "colour" },
    { "'id': 'a', 'name': 'A', 'kind': 'prohibited', 'match': {'cas': ['50-00-0']}, 'equivalent': {'name': 'B',"
      " 'molar_mass_g_mol': 30, 'of': {'64-17-5': 46}}, " GOOD_REST, "equivalent.of" },
    { "'id': 'a', 'name': 'A', 'kind': 'prohibited', 'match': {'cas': ['50-00-0']}, 'authority': 'law',"
      " 'jurisdiction': 'EU', 'quality': 'read', 'source': 's'", "reference" },
    { "'id': 'a', 'name': 'A', 'kind': 'prohibited', 'match': {'cas': ['50-00-0']}, 'authority': 'law',"
      " 'jurisdiction': 'EU', 'reference': 'r', 'quality': 'read', 'source': 't'", "source" },
    { "'id': 'a', 'name': 'A', 'kind': 'prohibited', 'match': {'cas': ['50-00-0']}, 'authority': 'law',"
      " 'reference': 'r', 'quality': 'read', 'source': 's'", "jurisdiction" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autofree char *text = g_strdup_printf (FILE_HEAD "'sources': {'s': 'S'}, 'rules': [{%s}]}",
                                               wrong[i].rule);
      g_autoptr (GError) error = NULL;
      g_autoptr (OgRules) refused = read_rules (text, FALSE, &error);

      g_assert_null (refused);
      g_assert_true (error != NULL && error->domain == OG_CATALOG_ERROR);
      if (strstr (error->message, wrong[i].member) == NULL)
        g_error ("%u: %s", i, error->message);
    }
}

static void
test_refused_files (void)
{
  static const char *const wrong[] = {
    "{'format': 'oleograph-catalog', 'version': 1, 'rules': []}",
    FILE_HEAD "'sources': {}}",
    FILE_HEAD "'sources': {'s': 'unused'}, 'rules': []}",
    "{'format': 'oleograph-rules', 'version': 1, 'sources': {}, 'rules': []}",
    FILE_HEAD "'sources': {}, 'rules': [1]}",
    FILE_HEAD "'sources': {'s': 'S'}, 'rules': [{'id': 'a', 'name': 'A', 'kind': 'prohibited',"
              " 'match': {'cas': ['50-00-0']}, " GOOD_REST "}, {'id': 'a', 'name': 'A',"
              " 'kind': 'prohibited', 'match': {'cas': ['50-00-0']}, " GOOD_REST "}]}",
  };

  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (OgRules) refused = read_rules (wrong[i], FALSE, &error);

      g_assert_null (refused);
      g_assert_true (error != NULL && error->domain == OG_CATALOG_ERROR);
    }
}

/* Own rules need little, are known for what they are, and replace a rule of the same id. */
static void
test_own (void)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (OgRules) library =
    read_rules (FILE_HEAD "'sources': {'s': 'S'}, 'rules': [{'id': 'a', 'name': 'A', 'kind': 'limit',"
                          " 'max_pct': 2, 'match': {'cas': ['50-00-0']}, " GOOD_REST "}]}", FALSE, &error);
  g_autoptr (OgRules) own =
    read_rules ("{'format': 'oleograph-rules', 'version': 1, 'rules': [{'id': 'a', 'name': 'A',"
                " 'kind': 'limit', 'max_pct': 1, 'match': {'cas': ['50-00-0']}}, {'id': 'b',"
                " 'name': 'B', 'kind': 'notice', 'match': {'id': ['castor-oil']}, 'text': 'Stir %s.'}]}",
                TRUE, &error);
  g_autoptr (OgRules) joined = NULL;

  g_assert_no_error (error);
  g_ptr_array_add (parts, library);
  g_ptr_array_add (parts, own);
  joined = og_rules_new_joined (parts, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (og_rules_get_n_items (joined), ==, 2);
  g_assert_cmpfloat (og_rules_get (joined, "a")->max_pct, ==, 1.0);
  g_assert_cmpint (og_rules_get (joined, "a")->quality, ==, OG_RULE_OWN);
  g_assert_cmpint (og_rules_get (joined, "a")->severity, ==, OG_SEVERITY_BLOCKING);
  g_assert_cmpint (og_rules_get (joined, "b")->authority, ==, OG_AUTHORITY_OWN);
  g_assert_null (og_rules_get (joined, "c"));

  g_ptr_array_add (parts, library);
  g_assert_null (og_rules_new_joined (parts, &error));
  g_assert_error (error, OG_CATALOG_ERROR, OG_CATALOG_ERROR_DUPLICATE);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();
  rules = og_catalog_get_rules (catalog);
  g_assert_nonnull (rules);

  g_test_add_func ("/rules/twenty-six", test_twenty_six);
  g_test_add_func ("/rules/extension", test_extension);
  g_test_add_func ("/rules/check-digits", test_check_digits);
  g_test_add_func ("/rules/values", test_values);
  g_test_add_func ("/rules/not-for-lips", test_not_for_lips);
  g_test_add_func ("/rules/equivalents", test_equivalents);
  g_test_add_func ("/rules/grounds", test_grounds);
  g_test_add_func ("/rules/refused", test_refused);
  g_test_add_func ("/rules/refused-files", test_refused_files);
  g_test_add_func ("/rules/own", test_own);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
