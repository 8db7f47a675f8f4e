/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Codes of currencies. Expectations: ISO 4217, alphabetic codes, recalled. */
#include <glib.h>

#include "core/base/currency.h"

static void
test_codes (void)
{
  static const struct
  {
    const char *text;
    const char *code;
  } cases[] = {
    { "EUR", "EUR" },  { "eur", "EUR" },   { " Usd ", "USD" }, { "AED", "AED" }, { "ZWL", "ZWL" }, { "EGP", "EGP" },
    { "Euro", NULL },  { "€", NULL },      { "", NULL },       { "EU", NULL },   { "XQQ", NULL },  { "EUR USD", NULL },
    { NULL, NULL },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_cmpstr (og_currency_find (cases[i].text), ==, cases[i].code);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/currency/codes", test_codes);
  return g_test_run ();
}
