/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/make/net-content.h"

#include <math.h>

static const OgPackage ten_ml = { 10, OG_NET_ML, NAN, NAN };
static const OgPackage ten_g = { 10, OG_NET_G, NAN, NAN };

/* Directive 76/211/EEC, Annex I 2.4 (read, up to 1000; recalled from there on), percentages rounded
 * up to the next tenth (recalled). */
static void
test_table (void)
{
  static const struct
  {
    double nominal, error;
  } rows[] = {
    { 5, 0.5 },    { 6, 0.6 },     { 7, 0.7 },     { 10, 0.9 },    { 15, 1.4 },    { 30, 2.7 },
    { 50, 4.5 },   { 50.1, 4.5 },  { 75, 4.5 },    { 100, 4.5 },   { 100.1, 4.6 }, { 150, 6.8 },
    { 200, 9 },    { 201, 9 },     { 250, 9 },     { 300, 9 },     { 301, 9.1 },   { 350, 10.5 },
    { 500, 15 },   { 501, 15 },    { 750, 15 },    { 1000, 15 },   { 1001, 15.1 }, { 2000, 30 },
    { 10000, 150 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      OgNetLimits limits;

      og_net_limits_init (&limits, rows[i].nominal);
      g_assert_cmpfloat_with_epsilon (limits.error, rows[i].error, 1e-9);
      g_assert_cmpfloat_with_epsilon (limits.t1, rows[i].nominal - rows[i].error, 1e-9);
      g_assert_cmpfloat_with_epsilon (limits.t2, rows[i].nominal - 2 * rows[i].error, 1e-9);
    }
}

static void
test_outside (void)
{
  static const double nominals[] = { 4.99, 0, -1, 10000.1, NAN, INFINITY };

  for (guint i = 0; i < G_N_ELEMENTS (nominals); i++)
    {
      OgNetLimits limits;

      og_net_limits_init (&limits, nominals[i]);
      g_assert_true (isnan (limits.error));
      g_assert_true (isnan (limits.t1));
      g_assert_true (isnan (limits.t2));
    }
}

/* 10 ml at 0.95 g/ml are 9.5 g; a tare of 5 g. */
static void
test_volume (void)
{
  const double gross_g[] = { 14.5, 14.6, 14.4, 14.7 };
  g_autoptr (GError) error = NULL;
  g_autoptr (OgNetCheck) check = og_net_check (&ten_ml, gross_g, 4, 5, 0.95, &error);

  g_assert_no_error (error);
  /* mean of 9.5, 9.6, 9.4, 9.7 g is 9.55 g; squares sum to 0.05 */
  g_assert_cmpfloat_with_epsilon (check->mean, 9.55 / 0.95, 1e-9);
  g_assert_cmpfloat_with_epsilon (check->sd, sqrt (0.05 / 3) / 0.95, 1e-9);
  g_assert_cmpfloat_with_epsilon (check->least, 9.4 / 0.95, 1e-9);
  g_assert_cmpfloat_with_epsilon (check->most, 9.7 / 0.95, 1e-9);
  g_assert_cmpuint (check->n_below_nominal, ==, 1);
  g_assert_cmpint (check->packer, ==, OG_NET_RULE_PASS);
  g_assert_cmpint (check->sample, ==, OG_NET_RULE_NONE);
  g_assert_false (check->every_full);
  g_assert_nonnull (check->text);
}

/* @n containers of @g, the first @n_light of @light_g. */
static OgNetCheck *
check_light (guint  n,
             double g,
             guint  n_light,
             double light_g)
{
  g_autofree double *gross_g = g_new (double, n);

  for (guint i = 0; i < n; i++)
    gross_g[i] = 5 + (i < n_light ? light_g : g);
  return og_net_check (&ten_g, gross_g, n, 5, NAN, NULL);
}

/* T1 9.1 g, T2 8.2 g: on the limit is not below it; one in forty may lie below T1. */
static void
test_packer_rules (void)
{
  g_autoptr (OgNetCheck) on_t1 = check_light (20, 10.1, 1, 9.1);
  g_autoptr (OgNetCheck) few = check_light (40, 10.1, 1, 9.0);
  g_autoptr (OgNetCheck) many = check_light (39, 10.1, 1, 9.0);
  g_autoptr (OgNetCheck) on_t2 = check_light (40, 10.1, 1, 8.2);
  g_autoptr (OgNetCheck) below_t2 = check_light (400, 10.1, 1, 8.19);
  g_autoptr (OgNetCheck) mean = check_light (40, 9.99, 0, 0);
  g_autoptr (OgNetCheck) full = check_light (40, 10, 0, 0);

  g_assert_cmpuint (on_t1->n_below_t1, ==, 0);
  g_assert_cmpint (few->packer, ==, OG_NET_RULE_PASS);
  g_assert_cmpint (many->packer, ==, OG_NET_RULE_FAIL);
  g_assert_true (many->mean_passes && many->none_passes && !many->few_passes);
  g_assert_cmpint (on_t2->packer, ==, OG_NET_RULE_PASS);
  g_assert_cmpint (below_t2->packer, ==, OG_NET_RULE_FAIL);
  g_assert_true (below_t2->mean_passes && below_t2->few_passes && !below_t2->none_passes);
  g_assert_cmpint (mean->packer, ==, OG_NET_RULE_FAIL);
  g_assert_false (mean->mean_passes);
  g_assert_cmpint (full->packer, ==, OG_NET_RULE_PASS);
  g_assert_true (full->every_full);
}

/* Annex II 2.3 (read): samples of 30 and 50, 20 if opened, Student's t at 0.995. By the table of t:
 * 2.756/sqrt (30) = 0.503, 2.680/sqrt (50) = 0.379, 2.861/sqrt (20) = 0.640. */
static void
test_sample_mean (void)
{
  static const struct
  {
    guint  n;
    double factor;
  } samples[] = { { 30, 0.503 }, { 50, 0.379 }, { 20, 0.640 } };

  for (guint i = 0; i < G_N_ELEMENTS (samples); i++)
    {
      g_autofree double *gross_g = g_new (double, samples[i].n);
      g_autoptr (OgNetCheck) check = NULL;

      for (guint j = 0; j < samples[i].n; j++)
        gross_g[j] = 14.95 + (j % 2 == 0 ? 0.1 : -0.1);
      check = og_net_check (&ten_g, gross_g, samples[i].n, 5, NAN, NULL);
      g_assert_cmpfloat_with_epsilon ((10 - check->sample_mean_needed) / check->sd,
                                      samples[i].factor, 0.0006);
      /* 0.05 g short, 0.1 g of spread: too short for 50, not for 30 and 20 */
      g_assert_cmpint (check->sample, ==,
                       samples[i].n == 50 ? OG_NET_RULE_FAIL : OG_NET_RULE_PASS);
    }
}

static void
test_no_rule (void)
{
  const OgPackage tiny = { 4, OG_NET_G, NAN, NAN };
  const double gross_g[] = { 9.0, 9.1 };
  g_autoptr (OgNetCheck) check = og_net_check (&tiny, gross_g, 2, 5, NAN, NULL);

  g_assert_cmpint (check->packer, ==, OG_NET_RULE_NONE);
  g_assert_cmpint (check->sample, ==, OG_NET_RULE_NONE);
  g_assert_cmpuint (check->n_below_t1, ==, 0);
  g_assert_true (check->every_full);
}

static void
test_errors (void)
{
  const OgPackage unsaid = { NAN, OG_NET_G, NAN, NAN };
  const double gross_g[] = { 15, 5 };
  g_autoptr (GError) error = NULL;

  g_assert_null (og_net_check (&unsaid, gross_g, 1, 5, NAN, &error));
  g_assert_error (error, OG_BATCH_ERROR, OG_BATCH_ERROR_PACKAGE);
  g_clear_error (&error);
  g_assert_null (og_net_check (&ten_ml, gross_g, 1, 5, NAN, &error));
  g_assert_error (error, OG_BATCH_ERROR, OG_BATCH_ERROR_DENSITY);
  g_clear_error (&error);
  g_assert_null (og_net_check (&ten_g, gross_g, 2, 5, NAN, &error));
  g_assert_error (error, OG_BATCH_ERROR, OG_BATCH_ERROR_WEIGHT);
  g_clear_error (&error);
  g_assert_null (og_net_check (&ten_g, gross_g, 0, 5, NAN, &error));
  g_assert_error (error, OG_BATCH_ERROR, OG_BATCH_ERROR_WEIGHT);
  g_clear_error (&error);
  g_assert_null (og_net_check (&ten_g, gross_g, 1, -1, NAN, &error));
  g_assert_error (error, OG_BATCH_ERROR, OG_BATCH_ERROR_WEIGHT);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/net-content/table", test_table);
  g_test_add_func ("/net-content/outside", test_outside);
  g_test_add_func ("/net-content/volume", test_volume);
  g_test_add_func ("/net-content/packer-rules", test_packer_rules);
  g_test_add_func ("/net-content/sample-mean", test_sample_mean);
  g_test_add_func ("/net-content/no-rule", test_no_rule);
  g_test_add_func ("/net-content/errors", test_errors);
  return g_test_run ();
}
