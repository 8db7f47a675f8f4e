/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/effects.h"

#include <math.h>

#include "common/fixture.h"
#include "core/design/solve.h"

#define HEADER FIXTURE_HEADER

static OgCatalog *catalog;

static OgFormula *
recipe (const char *table)
{
  return fixture_recipe (table, catalog);
}

static const OgEffect *
row (const GPtrArray *effects,
     const char      *nick)
{
  for (guint i = 0; i < effects->len; i++)
    if (g_str_equal (((OgEffect *) g_ptr_array_index (effects, i))->nick, nick))
      return g_ptr_array_index (effects, i);
  return NULL;
}

/* TRUE if a row of @nick reads @text on its filled side. */
static gboolean
tells (const GPtrArray *effects,
       const char      *nick,
       const char      *text)
{
  for (guint i = 0; i < effects->len; i++)
    {
      const OgEffect *effect = g_ptr_array_index (effects, i);

      if (g_str_equal (effect->nick, nick)
          && (g_strcmp0 (og_saying_text (effect->before), text) == 0
              || g_strcmp0 (og_saying_text (effect->after), text) == 0))
        return TRUE;
    }
  return FALSE;
}

static OgSense
opposite (OgSense sense)
{
  return sense == OG_SENSE_BETTER ? OG_SENSE_WORSE : sense == OG_SENSE_WORSE ? OG_SENSE_BETTER
         : sense;
}

/* Before and after exchanged: ratios turn over, gains become losses. */
static void
test_reversed (void)
{
  static const char *const pairs[][2] = {
    { HEADER "A,castor-oil,60\nA,sunflower-oil,38.5\nA,polyamide-3,1.5\n",
      HEADER "A,castor-oil,60\nA,jojoba-oil,37\nA,polyamide-3,3\n" },
    { HEADER "A,olive-oil,100\n", HEADER "A,sweet-almond-oil,95\nA,beeswax,5\n" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (pairs); i++)
    {
      g_autoptr (OgFormula) a = recipe (pairs[i][0]);
      g_autoptr (OgFormula) b = recipe (pairs[i][1]);
      g_autoptr (GPtrArray) there = og_effects (a, b, catalog, NULL);
      g_autoptr (GPtrArray) back = og_effects (b, a, catalog, NULL);

      g_assert_cmpuint (there->len, ==, back->len);
      for (guint r = 0; r < there->len; r++)
        {
          const OgEffect *one = g_ptr_array_index (there, r);
          const OgEffect *other;

          if (one->kind >= OG_EFFECT_NAME_GAINED)
            {
              gboolean gained = one->kind == OG_EFFECT_NAME_GAINED
                  || one->kind == OG_EFFECT_FINDING_GAINED;
              gboolean name = one->kind == OG_EFFECT_NAME_GAINED
                  || one->kind == OG_EFFECT_NAME_LOST;

              g_assert_true (tells (back, name ? gained ? "name-lost" : "name-gained"
                                               : gained ? "finding-lost" : "finding-gained",
                                    og_saying_text (gained ? one->after : one->before)));
              continue;
            }
          other = row (back, one->nick);
          g_assert_nonnull (other);
          g_assert_true (og_saying_equal (one->before, other->after));
          g_assert_cmpint (one->sense, ==, opposite (other->sense));
          g_assert_cmpint (one->changed, ==, other->changed);
          if (!isfinite (one->ratio.value))
            continue;
          assert_within (one->ratio.value * other->ratio.value, 1.0, 1e-9);
          assert_within (one->ratio.low80 * other->ratio.high80, 1.0, 1e-9);
        }
    }
}

static void
test_same (void)
{
  g_autoptr (OgFormula) formula = recipe (FIXTURE_LIP_OIL);
  g_autoptr (GPtrArray) effects = og_effects (formula, formula, catalog, NULL);

  for (guint i = 0; i < effects->len; i++)
    {
      const OgEffect *effect = g_ptr_array_index (effects, i);

      g_assert_false (effect->changed);
      g_assert_cmpint (effect->sense, ==, OG_SENSE_NEUTRAL);
      if (isfinite (effect->ratio.value))
        assert_within (effect->ratio.high80, 1.0, 1e-9);
    }
}

/* The numbers are those of the two evaluations. */
static void
test_numbers (void)
{
  g_autoptr (OgFormula) a = recipe (HEADER "A,castor-oil,60\nA,sunflower-oil,40\n");
  g_autoptr (OgFormula) b = recipe (HEADER "A,castor-oil,20\nA,sunflower-oil-high-oleic,80\n");
  g_autoptr (GPtrArray) effects = og_effects (a, b, catalog, NULL);
  g_autoptr (OgResult) before = og_evaluate (a, catalog, NULL);
  g_autoptr (OgResult) after = og_evaluate (b, catalog, NULL);
  const OgEffect *poured = row (effects, "poured");

  g_assert_cmpfloat (poured->before_value, ==, before->pour.value);
  g_assert_cmpfloat (poured->after_value, ==, after->pour.value);
  assert_within (poured->ratio.value, after->pour.value / before->pour.value, 1e-9);
  g_assert_cmpfloat (row (effects, "iodine")->after_value, ==, after->iodine_value);
  g_assert_cmpfloat (row (effects, "density")->before_value, ==, before->density_g_ml);
  /* castor oil is mostly ricinoleic, the other mostly oleic: Codex ranges, handbook */
  g_assert_cmpfloat (row (effects, "acids/hydroxy")->after_value, <,
                     row (effects, "acids/hydroxy")->before_value);
  g_assert_cmpfloat (row (effects, "acids/monounsaturated")->after_value, >, 60.0);
  /* the linoleic acid of ordinary sunflower oil oxidises fastest */
  g_assert_cmpint (row (effects, "oxidisability")->sense, ==, OG_SENSE_BETTER);
  g_assert_cmpint (row (effects, "keeping")->sense, ==, OG_SENSE_BETTER);
}

/* Poured viscosity is judged by the target of the recipe alone. */
static void
test_target (void)
{
  g_autoptr (OgFormula) a = recipe (HEADER "A,castor-oil,60\nA,sunflower-oil,40\n");
  g_autoptr (OgFormula) b = recipe (HEADER "A,castor-oil,90\nA,sunflower-oil,10\n");
  g_autoptr (GPtrArray) without = og_effects (a, b, catalog, NULL);
  g_autoptr (GPtrArray) with = NULL;
  g_autoptr (GPtrArray) back = NULL;

  g_assert_cmpint (row (without, "poured")->sense, ==, OG_SENSE_NEUTRAL);
  a->target_low_mpa_s = b->target_low_mpa_s = 400.0;
  a->target_high_mpa_s = b->target_high_mpa_s = 700.0;
  with = og_effects (a, b, catalog, NULL);
  back = og_effects (b, a, catalog, NULL);
  g_assert_cmpint (row (with, "poured")->sense, ==, OG_SENSE_BETTER);
  g_assert_cmpint (row (back, "poured")->sense, ==, OG_SENSE_WORSE);
}

static void
test_cost (void)
{
  g_autoptr (OgFormula) a = recipe (HEADER "A,castor-oil,60\nA,sunflower-oil,40\n");
  g_autoptr (OgFormula) b = recipe (HEADER "A,castor-oil,60\nA,olive-oil,40\n");
  g_autoptr (OgShelf) shelf = og_shelf_new ();
  OgEffectsOptions options = { .shelf = shelf };
  g_autoptr (GPtrArray) effects = NULL;
  g_autoptr (GPtrArray) unknown = NULL;
  g_autoptr (GPtrArray) mixed = NULL;

  og_shelf_put (shelf, &(OgShelfItem) { (char *) "castor-oil", 0.0, 10.0, (char *) "EUR", 0 });
  og_shelf_put (shelf, &(OgShelfItem) { (char *) "sunflower-oil", 0.0, 5.0, (char *) "EUR", 0 });
  unknown = og_effects (a, b, catalog, &options);
  g_assert_true (isnan (row (unknown, "cost")->after_value));
  g_assert_cmpint (row (unknown, "cost")->sense, ==, OG_SENSE_NEUTRAL);

  og_shelf_put (shelf, &(OgShelfItem) { (char *) "olive-oil", 0.0, 15.0, (char *) "EUR", 0 });
  effects = og_effects (a, b, catalog, &options);
  g_assert_cmpfloat (fabs (row (effects, "cost")->before_value - 8.0), <, 1e-9);
  g_assert_cmpfloat (fabs (row (effects, "cost")->after_value - 12.0), <, 1e-9);
  g_assert_cmpint (row (effects, "cost")->sense, ==, OG_SENSE_WORSE);

  og_shelf_put (shelf, &(OgShelfItem) { (char *) "olive-oil", 0.0, 15.0, (char *) "USD", 0 });
  mixed = og_effects (a, b, catalog, &options);
  g_assert_true (isnan (row (mixed, "cost")->after_value));
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();

  g_test_add_func ("/effects/reversed", test_reversed);
  g_test_add_func ("/effects/same", test_same);
  g_test_add_func ("/effects/numbers", test_numbers);
  g_test_add_func ("/effects/target", test_target);
  g_test_add_func ("/effects/cost", test_cost);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
