/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "gtk/parts/balances.h"

/* Returns: (transfer full) (nullable): a balance with numbers that can be */
static OgBalance *
read_balance (GVariant *entry)
{
  OgBalance *balance;
  const char *name = "";
  double readability = NAN;
  double repeatability = NAN;
  double capacity = NAN;

  g_variant_lookup (entry, "name", "&s", &name);
  g_variant_lookup (entry, "readability", "d", &readability);
  g_variant_lookup (entry, "repeatability", "d", &repeatability);
  g_variant_lookup (entry, "capacity", "d", &capacity);
  balance = og_balance_new (name, readability, repeatability, capacity);
  if (og_balance_is_valid (balance))
    return balance;
  og_balance_free (balance);
  return NULL;
}

GPtrArray *
og_balances_load (GSettings *settings)
{
  GPtrArray *balances = g_ptr_array_new_with_free_func ((GDestroyNotify) og_balance_free);
  g_autoptr (GVariant) stored =
    settings != NULL ? g_settings_get_value (settings, OG_BALANCES_KEY) : NULL;

  for (gsize i = 0; stored != NULL && i < g_variant_n_children (stored); i++)
    {
      g_autoptr (GVariant) entry = g_variant_get_child_value (stored, i);
      OgBalance *balance = read_balance (entry);

      if (balance != NULL)
        g_ptr_array_add (balances, balance);
    }
  return balances;
}

static GVariant *
store_balance (const OgBalance *balance)
{
  GVariantDict dict;

  g_variant_dict_init (&dict, NULL);
  g_variant_dict_insert (&dict, "name", "s", balance->name);
  g_variant_dict_insert (&dict, "readability", "d", balance->readability_g);
  if (isfinite (balance->repeatability_g))
    g_variant_dict_insert (&dict, "repeatability", "d", balance->repeatability_g);
  g_variant_dict_insert (&dict, "capacity", "d", balance->capacity_g);
  return g_variant_dict_end (&dict);
}

void
og_balances_save (GSettings       *settings,
                  const GPtrArray *balances)
{
  GVariantBuilder builder;

  g_return_if_fail (G_IS_SETTINGS (settings));
  g_return_if_fail (balances != NULL);

  g_variant_builder_init (&builder, G_VARIANT_TYPE ("aa{sv}"));
  for (guint i = 0; i < balances->len; i++)
    g_variant_builder_add_value (&builder, store_balance (g_ptr_array_index (balances, i)));
  g_settings_set_value (settings, OG_BALANCES_KEY, g_variant_builder_end (&builder));
}
