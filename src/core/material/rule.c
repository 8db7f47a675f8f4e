/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/material/rules-private.h"

#include <glib/gi18n-lib.h>

#include "core/base/nick.h"

static const OgNick kinds[OG_N_RULE_KINDS] = {
  [OG_RULE_LISTED] = { "listed", NULL },
  [OG_RULE_LIMIT] = { "limit", NULL },
  [OG_RULE_PROHIBITED] = { "prohibited", NULL },
  [OG_RULE_DECLARE] = { "declare", NULL },
  [OG_RULE_NOTICE] = { "notice", NULL },
};

static const OgNick authorities[OG_N_AUTHORITIES] = {
  [OG_AUTHORITY_LAW] = { "law", NULL },
  [OG_AUTHORITY_INDUSTRY] = { "industry", NULL },
  [OG_AUTHORITY_ADVICE] = { "advice", NULL },
  [OG_AUTHORITY_PRACTICE] = { "practice", NULL },
  [OG_AUTHORITY_OWN] = { "own", NULL },
};

static const OgNick qualities[OG_N_RULE_QUALITIES] = {
  [OG_RULE_READ] = { "read", N_("read in a published copy") },
  [OG_RULE_PARTLY] = { "partly-recalled", N_("partly recalled, not compared with the text") },
  [OG_RULE_RECALLED] = { "recalled", N_("recalled, not compared with the text") },
  [OG_RULE_OWN] = { "own", N_("your own rule") },
};
OG_DEFINE_NICKS (OgRuleKind, og_rule_kind, kinds)
OG_DEFINE_NICKS (OgAuthority, og_authority, authorities)
OG_DEFINE_NICKS (OgRuleQuality, og_rule_quality, qualities)
OG_DEFINE_NAMES (OgRuleQuality, og_rule_quality, qualities)
OG_DEFINE_WORDS (OgRuleQuality, og_rule_quality, qualities)

static const OgNick jurisdictions[] = {
  { "EU", N_ ("European Union") },
  { "UK", N_ ("Great Britain") },
  { "US", N_ ("United States") },
  { "CH", N_ ("Switzerland") },
  /* Translators: the fragrance trade's international association, known by these letters */
  { "IFRA", N_ ("IFRA") },
};

const char *
og_jurisdiction_get_name (const char *jurisdiction)
{
  return og_nick_translate (OG_NICK_TABLE (jurisdictions), jurisdiction);
}

OgWord
og_jurisdiction_word (const char *jurisdiction)
{
  return og_nick_find_word (OG_NICK_TABLE (jurisdictions), jurisdiction);
}

void
og_rule_free (OgRule *rule)
{
  g_free (rule->id);
  g_free (rule->name);
  g_free (rule->code);
  g_free (rule->jurisdiction);
  g_free (rule->reference);
  g_free (rule->state);
  g_free (rule->source);
  g_free (rule->text);
  g_free (rule->note);
  g_strfreev (rule->cas);
  g_strfreev (rule->inci);
  g_strfreev (rule->ci);
  g_strfreev (rule->ids);
  g_strfreev (rule->kinds);
  g_strfreev (rule->tags);
  g_strfreev (rule->only);
  g_strfreev (rule->unless);
  g_strfreev (rule->words);
  g_free (rule->equivalent);
  g_array_unref (rule->equivalents);
  g_free (rule);
}

double
og_rule_get_factor (const OgRule *rule,
                    const char   *cas)
{
  g_return_val_if_fail (rule != NULL, 1.0);

  for (guint i = 0; cas != NULL && i < rule->equivalents->len; i++)
    {
      const OgEquivalent *equivalent = &g_array_index (rule->equivalents, OgEquivalent, i);

      if (g_str_equal (equivalent->cas, cas))
        return rule->equivalent_g_mol / equivalent->molar_mass_g_mol;
    }
  return 1.0;
}

static guint
count_bits (guint bits)
{
  guint n = 0;

  for (; bits != 0; bits &= bits - 1)
    n++;
  return n;
}

static guint
products_of_site (OgSite site)
{
  guint products = 0;

  for (guint product = OG_PRODUCT_UNSAID + 1; product < OG_N_PRODUCTS; product++)
    if ((og_product_get_sites ((OgProduct) product) & site) != 0)
      products |= 1u << product;
  return products;
}

OgSaying *
og_products_saying (guint products)
{
  GPtrArray *names = NULL;

  if (count_bits (products & OG_PRODUCTS_ALL) != 1)
    {
      if (products == OG_PRODUCTS_ALL)
        return og_saying_plain (N_ ("lips and skin"));
      if (products == products_of_site (OG_SITE_LIPS))
        return og_saying_plain (N_ ("lips"));
      if (products == products_of_site (OG_SITE_SKIN))
        return og_saying_plain (N_ ("skin"));
    }
  names = og_sayings_new ();
  for (guint product = OG_PRODUCT_UNSAID + 1; product < OG_N_PRODUCTS; product++)
    if ((products & (1u << product)) != 0)
      g_ptr_array_add (names, og_saying_new ("%s", og_product_word ((OgProduct)product)));
  return og_saying_list (", ", names);
}
