/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "common/csv.h"
#include "core/base/error.h"
#include "core/material/chemistry.h"

/* The sources behind the files read here stand in tests/data/SOURCES.md. */
static CsvTable *
load (const char *name)
{
  g_autofree char *folder = g_test_build_filename (G_TEST_DIST, "data", NULL);

  return csv_table_load (folder, name);
}

static OgAcid
acid_from_code (const char *code)
{
  g_autoptr (GError) error = NULL;
  OgAcid acid;

  og_acid_parse (code, &acid, &error);
  g_assert_no_error (error);
  return acid;
}

static OgProfile *
pure (OgAcid acid)
{
  OgProfile *profile = og_profile_new ();

  og_profile_add (profile, acid, 100.0);
  return profile;
}

/* Shares as printed, not made to sum to 100. */
static OgProfile *
load_sample (const char *id)
{
  g_autoptr (CsvTable) table = load ("sample_profiles.csv");
  OgProfile *profile = og_profile_new ();

  for (guint i = 0; i < csv_table_len (table); i++)
    if (g_str_equal (csv_table_text (table, i, "id"), id))
      og_profile_add (profile, acid_from_code (csv_table_text (table, i, "fatty_acid")),
                      csv_table_number (table, i, "wt_percent"));
  g_assert_cmpuint (profile->shares->len, >, 0);
  return profile;
}

/* Half a unit of the last decimal printed in @text, and a little for ties. */
static double
rounding (const char *text)
{
  const char *point = strchr (text, '.');

  return 0.5001 * pow (10.0, point != NULL ? -(double) strlen (point + 1) : 0.0);
}

/* Calls @check for every row of calc_worked.csv in @table_name; fails if there is none. */
static void
foreach_worked (const char *table_name,
                void      (*check) (const char *item,
                                    const char *quantity,
                                    double      value,
                                    double      tolerance))
{
  g_autoptr (CsvTable) table = load ("calc_worked.csv");
  guint n = 0;

  for (guint i = 0; i < csv_table_len (table); i++)
    {
      if (!g_str_equal (csv_table_text (table, i, "table"), table_name))
        continue;
      g_test_message ("%s, %s", csv_table_text (table, i, "item"),
                      csv_table_text (table, i, "quantity"));
      check (csv_table_text (table, i, "item"),
             csv_table_text (table, i, "quantity"),
             csv_table_number (table, i, "value"),
             rounding (csv_table_text (table, i, "value")));
      n++;
    }
  g_assert_cmpuint (n, >, 0);
}

static void
check_molar_row (const char *item,
                 const char *quantity,
                 double      value,
                 double      tolerance)
{
  OgAcid acid = acid_from_code (item);
  g_autoptr (OgProfile) profile = pure (acid);
  double found;

  if (g_str_equal (quantity, "molar_mass_acid"))
    found = og_acid_molar_mass (acid);
  else if (g_str_equal (quantity, "molar_mass_simple_triglyceride"))
    found = og_acid_triglyceride_mass (acid);
  else if (g_str_equal (quantity, "iodine_factor_acid"))
    found = og_profile_iodine_value (profile) / 100.0 * og_acid_triglyceride_mass (acid) /
            (3.0 * og_acid_molar_mass (acid));
  else if (g_str_equal (quantity, "iodine_factor_triglyceride"))
    found = og_profile_iodine_value (profile) / 100.0;
  else if (g_str_equal (quantity, "saponification_value_simple_triglyceride"))
    found = og_profile_saponification (profile);
  else
    g_error ("unknown quantity %s", quantity);
  g_assert_cmpfloat_with_epsilon (found, value, tolerance);
}

/* Molar masses and factors of simple triglycerides from the IUPAC abridged atomic weights. */
static void
test_molar_masses (void)
{
  foreach_worked ("molar_mass", check_molar_row);
}

/* Handbook molar masses (CRC Handbook of Chemistry and Physics, recalled). */
static void
test_handbook_masses (void)
{
  g_assert_cmpfloat_with_epsilon (og_acid_molar_mass (acid_from_code ("C18:1")), 282.46, 0.02);
  g_assert_cmpfloat_with_epsilon (og_acid_molar_mass (acid_from_code ("C18:1-OH")), 298.46, 0.02);
  g_assert_cmpfloat_with_epsilon (og_acid_molar_mass (acid_from_code ("C16:0")), 256.42, 0.02);
  g_assert_cmpfloat_with_epsilon (og_acid_triglyceride_mass (acid_from_code ("C18:1")), 885.4, 0.1);
}

/* Factors printed in AOCS Recommended Practice Cd 1c-85 for triglycerides, read in a copy. */
static void
test_printed_iodine_factors (void)
{
  static const struct
  {
    const char *code;
    double      factor;
  } printed[] = {
    { "C16:1", 0.950 }, { "C18:1", 0.860 }, { "C18:2", 1.732 },
    { "C18:3", 2.616 }, { "C20:1", 0.785 }, { "C22:1", 0.723 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (printed); i++)
    {
      g_autoptr (OgProfile) profile = pure (acid_from_code (printed[i].code));

      g_assert_cmpfloat_with_epsilon (og_profile_iodine_value_cd1c (profile) / 100.0,
                                      printed[i].factor, 1e-9);
      g_assert_cmpfloat_with_epsilon (og_profile_iodine_value (profile) / 100.0,
                                      printed[i].factor, 0.0006);
    }
}

static OgProfile *
worked_profile (const char *item)
{
  /* Merck Index monograph text */
  static const char olive[] = "C18:1=83.5,C16:0=9.4,C18:2=4.0,C18:0=2.0,C20:0=0.9";
  /* Huyghebaert & Hendrickx 1974, Oleagineux 29:29, abstract */
  static const char argan[] = "C14:0=0.2,C16:0=14.3,C18:0=5.9,C18:1=48.1,C18:2=31.5";
  g_autoptr (OgProfile) profile = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *id = NULL;

  if (g_str_has_prefix (item, "olive") || g_str_has_prefix (item, "argan"))
    {
      gboolean is_olive = g_str_has_prefix (item, "olive");
      OgProfile *printed = og_profile_new ();

      profile = og_profile_parse (is_olive ? olive : argan, &error);
      g_assert_no_error (error);
      og_profile_blend (printed, profile, is_olive ? 0.998 : 1.0);
      return printed;
    }

  /* Goering et al. 1982, Trans. ASAE 25:1472, through a published transcription */
  id = g_strdup_printf ("goering1982_%s", g_str_equal (item, "soya") ? "soybean" : item);
  return load_sample (id);
}

static double
arithmetic_mean_mass (const OgProfile *profile)
{
  double sum = 0.0;

  for (guint i = 0; i < profile->shares->len; i++)
    {
      const OgAcidShare *share = &g_array_index (profile->shares, OgAcidShare, i);

      sum += share->pct * og_acid_molar_mass (share->acid);
    }
  return sum / og_profile_sum (profile);
}

static double
molar_mean_mass (const OgProfile *profile)
{
  g_autofree double *x = g_new (double, profile->shares->len);

  return og_profile_mole_fractions (profile, x);
}

static double
triglyceride_mass (const OgProfile *profile)
{
  return 3.0 * molar_mean_mass (profile) + 38.049;
}

static void
check_worked_row (const char *item,
                  const char *quantity,
                  double      value,
                  double      tolerance)
{
  static const struct
  {
    const char *quantity;
    double    (*compute) (const OgProfile *profile);
  } relations[] = {
    { "sum_wt_pct", og_profile_sum },
    { "iodine_value_cd1c85_triglyceride", og_profile_iodine_value_cd1c },
    { "iodine_value_exact", og_profile_iodine_value },
    { "mean_molar_mass_acids_arithmetic", arithmetic_mean_mass },
    { "mean_molar_mass_acids_molar", molar_mean_mass },
    { "molar_mass_triglyceride", triglyceride_mass },
    { "saponification_value_cd3a94", og_profile_saponification_cd3a },
    { "saponification_value_molar", og_profile_saponification },
    { "cox", og_profile_cox },
    { "oxidisability", og_profile_oxidisability },
    { "peroxidisability", og_profile_peroxidisability },
  };
  g_autoptr (OgProfile) profile = worked_profile (item);

  /* the acids form of Cd 1c-85 is not offered */
  if (g_str_equal (quantity, "iodine_value_cd1c85_acids"))
    return;

  for (gsize i = 0; i < G_N_ELEMENTS (relations); i++)
    if (g_str_equal (relations[i].quantity, quantity))
      {
        g_assert_cmpfloat_with_epsilon (relations[i].compute (profile), value, tolerance);
        return;
      }
  g_error ("unknown quantity %s", quantity);
}

/* Seven published compositions with the values that the standards make of them. */
static void
test_worked_oils (void)
{
  foreach_worked ("worked", check_worked_row);
}

/* COX by hand for the soya oil of Goering et al. 1982: (23.26 + 10.3 x 55.53 + 21.6 x 6.31)/100. */
static void
test_cox_by_hand (void)
{
  g_autoptr (OgProfile) soya = load_sample ("goering1982_soybean");

  g_assert_cmpfloat_with_epsilon (og_profile_cox (soya), 7.315, 0.0005);
}

/* What the laboratory found beside what the composition says. Two units is what a Wijs titration in
 * another laboratory may differ by (common practice, no source). */
static void
test_measured_values (void)
{
  g_autoptr (OgProfile) argan = worked_profile ("argan");
  g_autoptr (OgProfile) castor = load_sample ("goering1982_castor");

  /* Huyghebaert & Hendrickx 1974, Oleagineux 29:29, abstract: the same oil */
  g_assert_cmpfloat_with_epsilon (og_profile_iodine_value (argan), 97.0, 2.0);
  g_assert_cmpfloat_with_epsilon (og_profile_saponification (argan), 192.4, 2.0);
  /* castor oil, Merck Index monograph: iodine value 81-91, saponification value 176-187 */
  g_assert_cmpfloat (og_profile_iodine_value (castor), >, 81.0 - 2.0);
  g_assert_cmpfloat (og_profile_iodine_value (castor), <, 91.0 + 2.0);
  g_assert_cmpfloat (og_profile_saponification (castor), >, 176.0);
  g_assert_cmpfloat (og_profile_saponification (castor), <, 187.0);
  /* Cd 1c-85 leaves ricinoleic acid out; 89.6 x 0.8157 brings it back */
  g_assert_cmpfloat_with_epsilon (og_profile_iodine_value_cd1c (castor) + 89.6 * 0.8157,
                                  og_profile_iodine_value (castor), 0.1);
}

/* 58 % C8 and 42 % C10: M = 502.46 g/mol, SV = 334.99 by arithmetic; Ph. Eur. allows 310-360
 * (recalled). */
static void
test_medium_chain (void)
{
  g_autoptr (OgProfile) profile = og_profile_parse ("C8:0=58,C10:0=42", NULL);

  g_assert_cmpfloat_with_epsilon (triglyceride_mass (profile), 502.46, 0.005);
  g_assert_cmpfloat_with_epsilon (og_profile_saponification (profile), 334.99, 0.005);
  g_assert_cmpfloat (og_profile_iodine_value (profile), ==, 0.0);
  /* relative density 0.93-0.96 at 20 C, Ph. Eur. (recalled) */
  g_assert_cmpfloat (og_profile_density (profile, 20.0), >, 0.93 * 0.9982);
  g_assert_cmpfloat (og_profile_density (profile, 20.0), <, 0.96 * 0.9982);
}

static void
check_density_series (const char *series,
                      const char *sample,
                      guint       n_expected)
{
  g_autoptr (CsvTable) table = load ("density_series.csv");
  g_autoptr (OgProfile) profile = load_sample (sample);
  guint n = 0;

  for (guint i = 0; i < csv_table_len (table); i++)
    {
      double temperature_c = csv_table_number (table, i, "temperature_c");
      double measured = csv_table_number (table, i, "density_g_ml");
      double found = og_profile_density (profile, temperature_c);

      if (!g_str_equal (csv_table_text (table, i, "id"), series))
        continue;
      g_test_message ("%s, %g C: %.4f, measured %.4f", series, temperature_c, found, measured);
      g_assert_cmpfloat_with_epsilon (found / measured, 1.0, 0.005);
      n++;
    }
  g_assert_cmpuint (n, ==, n_expected);
}

/* Noureddini, Teoh & Clements 1992, JAOCS 69:1184, with profiles of other lots of the same oils
 * (Goering et al. 1982). Coconut and high-erucic rapeseed are checked with the profiles of the
 * catalog, in test-catalog.c. */
static void
test_density_series (void)
{
  check_density_series ("noureddini1992_soybean", "goering1982_soybean", 7);
  check_density_series ("noureddini1992_corn", "goering1982_corn", 7);
  check_density_series ("noureddini1992_crambe", "goering1982_crambe", 7);
}

static void
test_density_castor (void)
{
  g_autoptr (OgProfile) castor = load_sample ("goering1982_castor");
  double at_15_5 = og_profile_density (castor, 15.5);

  /* Merck Index monograph */
  g_assert_cmpfloat (at_15_5, >=, 0.961);
  g_assert_cmpfloat (at_15_5, <=, 0.963);
  /* Jokuty et al. 1999, Environment Canada EE-165 */
  g_assert_cmpfloat_with_epsilon (og_profile_density (castor, 15.0) / 0.964, 1.0, 0.002);
  g_assert_cmpfloat_with_epsilon (og_profile_density (castor, 0.0) / 0.974, 1.0, 0.002);
}

/* Lund 1922 (recalled): SV 192 and IV 131 give 0.9234 at 15/15 C. The soya oil is at 193.1 and
 * 132.6. */
static void
test_density_lund (void)
{
  g_autoptr (OgProfile) soya = load_sample ("goering1982_soybean");
  double gravity = og_profile_density (soya, 15.0) / 0.9991;

  g_assert_cmpfloat_with_epsilon (gravity, 0.9234 + 0.00030 * (193.11 - 192.0) +
                                           0.00014 * (132.61 - 131.0), 0.0001);
}

/* Every code that the format allows reads back as itself, and sorts after all before it. */
static void
test_acid_round_trip (void)
{
  OgAcid before = { 0 };

  for (guint8 carbons = 4; carbons <= 30; carbons++)
    for (guint8 bonds = 0; bonds <= 6 && 2 * bonds < carbons; bonds++)
      for (guint8 hydroxyls = 0; hydroxyls <= 1; hydroxyls++)
        {
          OgAcid acid = { carbons, bonds, hydroxyls };
          g_autofree char *code = og_acid_to_code (acid);
          OgAcid back = acid_from_code (code);

          g_assert_cmpint (og_acid_compare (acid, back), ==, 0);
          g_assert_cmpint (og_acid_compare (before, acid), <, 0);
          g_assert_cmpint (og_acid_compare (acid, before), >, 0);
          before = acid;
        }
}

static void
test_acid_refused (void)
{
  static const char *const cases[] = {
    "", "C", "18:1", "c18:1", "C18", "C18:", "C:1", "C18:1-oh", "C18:1-", "C18:1-OHX", "C18:1 ",
    " C18:1", "C3:0", "C31:0", "C18:7", "C018:1", "C18:01", "C18.1", "C-18:1", "C18:-1", "C4:2",
    "C180:1", "C18:1-OH-OH", "oleic", "C١٨:1",
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      OgAcid acid = { 1, 2, 3 };

      g_test_message ("“%s”", cases[i]);
      g_assert_false (og_acid_parse (cases[i], &acid, &error));
      g_assert_error (error, OG_PROFILE_ERROR, OG_PROFILE_ERROR_CODE);
      g_assert_nonnull (strstr (error->message, cases[i]));
      g_assert_cmpint (acid.carbons, ==, 1);
    }
}

static void
test_acid_names (void)
{
  g_assert_cmpstr (og_acid_get_name (acid_from_code ("C18:1")), ==, "oleic");
  g_assert_cmpstr (og_acid_get_name (acid_from_code ("C18:1-OH")), ==, "ricinoleic");
  g_assert_cmpstr (og_acid_get_name (acid_from_code ("C12:0")), ==, "lauric");
  g_assert_null (og_acid_get_name (acid_from_code ("C29:3")));
}

static void
test_profile_parse (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (OgProfile) profile = NULL;
  const OgAcidShare *first;

  profile = og_profile_parse (" C18:2 = 30 , C16:0=10,C18:1-OH=1e1", &error);
  g_assert_no_error (error);
  g_assert_cmpuint (profile->shares->len, ==, 3);
  g_assert_cmpfloat_with_epsilon (og_profile_sum (profile), 100.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (og_profile_get (profile, acid_from_code ("C18:2")), 60.0, 1e-9);
  g_assert_cmpfloat (og_profile_get (profile, acid_from_code ("C18:1")), ==, 0.0);

  first = &g_array_index (profile->shares, OgAcidShare, 0);
  g_assert_cmpint (first->acid.carbons, ==, 16);
  g_assert_true (isnan (first->low_pct) && isnan (first->high_pct));
}

static void
test_profile_refused (void)
{
  static const struct
  {
    const char    *text;
    OgProfileError code;
    const char    *fragment;
  } cases[] = {
    { "", OG_PROFILE_ERROR_EMPTY, "no fatty acid" },
    { "  \t", OG_PROFILE_ERROR_EMPTY, "no fatty acid" },
    { "C18:1=0", OG_PROFILE_ERROR_EMPTY, "no fatty acid" },
    { "C18:1=0,C18:2=0.0", OG_PROFILE_ERROR_EMPTY, "no fatty acid" },
    { "C18:1", OG_PROFILE_ERROR_VALUE, "C18:1" },
    { "C18:1=", OG_PROFILE_ERROR_VALUE, "C18:1" },
    { "C18:1=abc", OG_PROFILE_ERROR_VALUE, "C18:1" },
    { "C18:1=-1", OG_PROFILE_ERROR_VALUE, "C18:1" },
    { "C18:1=100.1", OG_PROFILE_ERROR_VALUE, "C18:1" },
    { "C18:1=nan", OG_PROFILE_ERROR_VALUE, "C18:1" },
    { "C18:1=20,C18:1=30", OG_PROFILE_ERROR_VALUE, "twice" },
    { "C18:1=20,", OG_PROFILE_ERROR_CODE, "fatty acid code" },
    { ",C18:1=20", OG_PROFILE_ERROR_CODE, "fatty acid code" },
    { "C18:1=20;C18:2=30", OG_PROFILE_ERROR_VALUE, "C18:1" },
    { "oleic=20", OG_PROFILE_ERROR_CODE, "oleic" },
    { "C18:1=12,5", OG_PROFILE_ERROR_CODE, "5" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;

      g_test_message ("“%s”", cases[i].text);
      g_assert_null (og_profile_parse (cases[i].text, &error));
      g_assert_error (error, OG_PROFILE_ERROR, (int) cases[i].code);
      g_assert_nonnull (strstr (error->message, cases[i].fragment));
    }
}

static void
test_profile_ranges (void)
{
  g_autoptr (OgProfile) profile = og_profile_new ();
  g_autoptr (OgProfile) copy = NULL;
  const OgAcidShare *share;

  og_profile_add_range (profile, acid_from_code ("C18:1"), 25.0, 20.0, NAN);
  og_profile_add_range (profile, acid_from_code ("C16:0"), 15.0, 10.0, 18.0);
  og_profile_add (profile, acid_from_code ("C18:1"), 10.0);
  copy = og_profile_copy (profile);
  og_profile_normalise (profile);

  share = &g_array_index (profile->shares, OgAcidShare, 1);
  g_assert_cmpfloat_with_epsilon (share->pct, 70.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (share->low_pct, 60.0, 1e-9);
  g_assert_true (isnan (share->high_pct));
  share = &g_array_index (profile->shares, OgAcidShare, 0);
  g_assert_cmpfloat_with_epsilon (share->high_pct, 36.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (og_profile_sum (copy), 50.0, 1e-9);
}

/* Iodine and saponification value of a blend are the means of the parts by mass, here 1 : 3. Mixing
 * acids instead of oils is not exactly that (the oils differ in glycerol), hence the tolerance. */
static void
test_profile_blend (void)
{
  g_autoptr (OgProfile) soya = load_sample ("goering1982_soybean");
  g_autoptr (OgProfile) castor = load_sample ("goering1982_castor");
  g_autoptr (OgProfile) blend = og_profile_new ();

  og_profile_normalise (castor);
  og_profile_blend (blend, soya, 0.25);
  og_profile_blend (blend, castor, 0.75);
  g_assert_cmpfloat_with_epsilon (og_profile_sum (blend), 100.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (og_profile_iodine_value (blend),
                                  0.25 * og_profile_iodine_value (soya) +
                                  0.75 * og_profile_iodine_value (castor), 0.2);
  g_assert_cmpfloat_with_epsilon (og_profile_saponification (blend),
                                  0.25 * og_profile_saponification (soya) +
                                  0.75 * og_profile_saponification (castor), 0.2);
}

static void
test_profile_empty (void)
{
  g_autoptr (OgProfile) profile = og_profile_new ();

  og_profile_normalise (profile);
  g_assert_true (isnan (og_profile_iodine_value (profile)));
  g_assert_true (isnan (og_profile_saponification (profile)));
  g_assert_true (isnan (og_profile_saponification_cd3a (profile)));
  g_assert_true (isnan (og_profile_density (profile, 25.0)));
  og_profile_add (profile, acid_from_code ("C18:1"), 0.0);
  g_assert_true (isnan (molar_mean_mass (profile)));
}

static void
test_profile_classes (void)
{
  g_autoptr (OgProfile) profile =
    og_profile_parse ("C8:0=1,C10:0=2,C12:0=4,C16:0=8,C18:1=16,C18:2=32,C18:3=7,C20:5=5,"
                      "C18:1-OH=25", NULL);
  double pct[OG_N_ACID_CLASSES];

  og_profile_class_shares (profile, pct);
  g_assert_cmpfloat_with_epsilon (pct[OG_ACID_CLASS_SHORT_SATURATED], 3.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (pct[OG_ACID_CLASS_SATURATED], 12.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (pct[OG_ACID_CLASS_MONOUNSATURATED], 16.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (pct[OG_ACID_CLASS_DIUNSATURATED], 32.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (pct[OG_ACID_CLASS_POLYUNSATURATED], 12.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (pct[OG_ACID_CLASS_HYDROXY], 25.0, 1e-9);
  for (guint i = 0; i < OG_N_ACID_CLASSES; i++)
    g_assert_cmpstr (og_acid_class_get_name (i), !=, "");
}

/* Mole fractions of 1 : 1 by weight, by hand from 144.214 and 282.468 g/mol. */
static void
test_mole_fractions (void)
{
  g_autoptr (OgProfile) profile = og_profile_parse ("C8:0=50,C18:1=50", NULL);
  double x[2];

  g_assert_cmpfloat_with_epsilon (og_profile_mole_fractions (profile, x), 190.943, 0.01);
  g_assert_cmpfloat_with_epsilon (x[0], 0.66201, 1e-4);
  g_assert_cmpfloat_with_epsilon (x[0] + x[1], 1.0, 1e-12);
}

/* Registry numbers of well-known substances: water, ethanol, ascorbic acid, castor oil, calcium
 * carbonate; 107-07-3 is the registry's own worked example of the check digit (recalled). */
static void
test_cas (void)
{
  static const char *const valid[] = { "7732-18-5", "64-17-5", "50-81-7", "8001-79-4", "471-34-1",
                                       "107-07-3" };
  static const char *const invalid[] = { "", "-", "--", "7732-18-4", "7732-81-5", "773218-5",
                                         "7732-185", "7732-18-5-", "7732-18-", "07732-18-5",
                                         "12345678-90-1", "1-23-4", "a732-18-5", "7732-1a-5",
                                         " 7732-18-5", "7732-18-5 ", "7732–18–5" };

  for (gsize i = 0; i < G_N_ELEMENTS (valid); i++)
    g_assert_true (og_cas_is_valid (valid[i]));
  for (gsize i = 0; i < G_N_ELEMENTS (invalid); i++)
    {
      g_test_message ("“%s”", invalid[i]);
      g_assert_false (og_cas_is_valid (invalid[i]));
    }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/chemistry/molar-masses", test_molar_masses);
  g_test_add_func ("/chemistry/handbook-masses", test_handbook_masses);
  g_test_add_func ("/chemistry/printed-iodine-factors", test_printed_iodine_factors);
  g_test_add_func ("/chemistry/worked-oils", test_worked_oils);
  g_test_add_func ("/chemistry/cox-by-hand", test_cox_by_hand);
  g_test_add_func ("/chemistry/measured-values", test_measured_values);
  g_test_add_func ("/chemistry/medium-chain", test_medium_chain);
  g_test_add_func ("/chemistry/density/series", test_density_series);
  g_test_add_func ("/chemistry/density/castor", test_density_castor);
  g_test_add_func ("/chemistry/density/lund", test_density_lund);
  g_test_add_func ("/chemistry/acid/round-trip", test_acid_round_trip);
  g_test_add_func ("/chemistry/acid/refused", test_acid_refused);
  g_test_add_func ("/chemistry/acid/names", test_acid_names);
  g_test_add_func ("/chemistry/profile/parse", test_profile_parse);
  g_test_add_func ("/chemistry/profile/refused", test_profile_refused);
  g_test_add_func ("/chemistry/profile/ranges", test_profile_ranges);
  g_test_add_func ("/chemistry/profile/blend", test_profile_blend);
  g_test_add_func ("/chemistry/profile/empty", test_profile_empty);
  g_test_add_func ("/chemistry/profile/classes", test_profile_classes);
  g_test_add_func ("/chemistry/mole-fractions", test_mole_fractions);
  g_test_add_func ("/chemistry/cas", test_cas);

  return g_test_run ();
}
