/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/draft.h"

#include <math.h>
#include <string.h>

#include "common/fixture.h"
#include "core/base/error.h"
#include "core/predict/solvents.h"

static OgCatalog *catalog;

static OgDraft *
draft_of (const OgBrief *brief)
{
  g_autoptr (GError) error = NULL;
  OgDraft *draft = og_draft (brief, catalog, &error);

  g_assert_no_error (error);
  return draft;
}

static OgBody
body_of (const OgDraft *draft)
{
  g_autoptr (OgResult) result = og_evaluate (draft->formula, catalog, NULL);

  return result->body;
}

static gboolean
finds (const OgDraft *draft,
       const char    *code)
{
  for (guint i = 0; i < draft->findings->len; i++)
    if (g_str_equal (((OgFinding *) g_ptr_array_index (draft->findings, i))->code, code))
      return TRUE;
  return FALSE;
}

/* --- what must hold of every draft ----------------------------------------- */

typedef struct
{
  const OgDraft *draft;
  guint sites;
  guint n_colours, n_scents, n_agents;
} Check;

static void
check_line (OgFormulaPhase *phase,
            OgFormulaLine  *line,
            gpointer        user_data)
{
  Check *check = user_data;
  const OgIngredient *ingredient = og_catalog_get (catalog, line->ingredient_id);
  const OgFigure *usual = &ingredient->figures[OG_FIGURE_USUAL_HIGH_PCT];
  const OgFigure *dissolves = &ingredient->gelling.dissolves_c;
  const char *reason = og_saying_text (og_draft_get_reason (check->draft, line->id));

  g_assert_cmpint (line->amount, >, 0);
  g_assert_nonnull (reason);
  g_assert_nonnull (strstr (reason, ingredient->name));
  if (check->sites & OG_SITE_LIPS)
    g_assert_true (og_ingredient_has_use (ingredient, "lip"));
  if (check->sites & OG_SITE_SKIN)
    g_assert_true (og_ingredient_has_use (ingredient, "skin"));
  if (og_figure_is_known (usual))
    g_assert_cmpfloat (og_ppm_to_pct (line->amount), <=, usual->value + 1e-9);
  if (ingredient->gelling.family != OG_GEL_NONE
      && ingredient->gelling.family != OG_GEL_VISCOUS_LIQUID)
    {
      check->n_agents++;
      if (og_figure_is_known (dissolves))
        g_assert_cmpfloat (phase->temperature_c, >=, dissolves->value);
    }
  check->n_colours += ingredient->kind == OG_KIND_DISPERSION;
  check->n_scents += ingredient->kind == OG_KIND_FLAVOUR
      || ingredient->kind == OG_KIND_ESSENTIAL_OIL;
}

static void
check_contents (const OgDraft     *draft,
                const char *const *without,
                guint              sites)
{
  g_autoptr (GPtrArray) contents = og_formula_contents (draft->formula, catalog);

  for (guint i = 0; i < contents->len; i++)
    {
      const OgIngredient *held = ((OgContent *) g_ptr_array_index (contents, i))->ingredient;

      for (guint t = 0; without != NULL && without[t] != NULL; t++)
        g_assert_false (og_ingredient_has_tag (held, without[t]));
      if (sites & OG_SITE_LIPS)
        {
          g_assert_false (og_ingredient_has_tag (held, "not-for-lips-us"));
          g_assert_false (og_ingredient_has_tag (held, "not-for-lips-eu"));
        }
      for (guint j = 0; j < i; j++)
        {
          const OgContent *other = g_ptr_array_index (contents, j);

          g_assert_true (og_liquids_mix (held, other->ingredient));
        }
    }
}

/* 100 %, hot to cool, a reason for every line, nothing excluded. */
static Check
check_draft (const OgDraft *draft,
             const OgBrief *brief)
{
  Check check = { draft, og_product_get_sites (brief->product), 0, 0, 0 };
  double last_c = INFINITY;

  g_assert_cmpint (og_formula_total (draft->formula), ==, OG_PPM_WHOLE);
  g_assert_cmpint (draft->formula->product, ==, brief->product);
  og_formula_foreach_line (draft->formula, check_line, &check);
  check_contents (draft, brief->without_tags, check.sites);
  for (guint i = 0; i < draft->formula->phases->len; i++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (draft->formula->phases, i);

      g_assert_cmpuint (phase->lines->len, >, 0);
      g_assert_cmpfloat (phase->temperature_c, <=, last_c);
      last_c = phase->temperature_c;
    }
  g_assert_cmpuint (draft->reasons->len, ==, og_formula_get_n_lines (draft->formula));
  if (brief->most > 0)
    g_assert_cmpuint (og_formula_get_n_lines (draft->formula), <=, brief->most);
  return check;
}

/* --- products and words ---------------------------------------------------- */

static void
test_all (void)
{
  for (int product = OG_PRODUCT_UNSAID; product < OG_N_PRODUCTS; product++)
    for (int body = OG_BODY_DRY; body <= OG_BODY_SET; body++)
      for (int extras = 0; extras < 2; extras++)
        {
          OgBrief brief = { .product = (OgProduct) product, .body = (OgBody) body, .tint = extras,
                            .scent = extras };
          g_autoptr (OgDraft) draft = draft_of (&brief);
          Check check = check_draft (draft, &brief);

          g_test_message ("%s", og_saying_text (draft->title));
          g_assert_true (draft->met);
          g_assert_cmpint (body_of (draft), ==, body);
          g_assert_cmpuint (check.n_colours, ==, extras);
          g_assert_cmpuint (check.n_scents, ==, extras);
          if (body >= OG_BODY_SOFT_SET)
            g_assert_cmpuint (check.n_agents, ==, 1);
          if ((product == OG_PRODUCT_BODY || product == OG_PRODUCT_MASSAGE)
              && body <= OG_BODY_LIGHT)
            g_assert_cmpuint (check.n_agents, ==, 0);
        }
}

/* A word that is left open is the usual one. */
static void
test_usual (void)
{
  for (int product = OG_PRODUCT_LIP_APPLICATOR; product < OG_N_PRODUCTS; product++)
    {
      OgBrief brief = { .product = (OgProduct) product };
      g_autoptr (OgDraft) draft = draft_of (&brief);

      check_draft (draft, &brief);
      g_assert_cmpint (body_of (draft), ==, og_product_usual_body ((OgProduct) product));
    }
}

static void
test_same (void)
{
  OgBrief brief = { .product = OG_PRODUCT_LIP_APPLICATOR, .tint = TRUE };
  g_autoptr (OgDraft) one = draft_of (&brief);
  g_autoptr (OgDraft) other = draft_of (&brief);

  g_assert_true (og_formula_equal (one->formula, other->formula));
}

/* --- exclusions ------------------------------------------------------------ */

static void
test_without (void)
{
  static const char *const lists[][6] = {
    { "nut", "animal-derived", NULL },
    { "palm", "grade-varies", NULL },
    { "allergen", "fragrance", NULL },
    { "mineral", "silicone", "palm", "nut", "soy", NULL },
    { "powder", NULL },
  };

  for (guint i = 0; i < G_N_ELEMENTS (lists); i++)
    for (int body = OG_BODY_THIN; body <= OG_BODY_SOFT_SET; body++)
      {
        OgBrief brief = { .product = OG_PRODUCT_LIP_APPLICATOR, .body = (OgBody) body, .tint = TRUE,
                          .without_tags = lists[i] };
        g_autoptr (OgDraft) draft = draft_of (&brief);

        check_draft (draft, &brief);
        if (draft->met)
          g_assert_cmpint (body_of (draft), ==, body);
        else
          g_assert_cmpuint (draft->findings->len, >, 0);
      }
}

/* Every flavour bears the tag "fragrance", so none is left. */
static void
test_no_scent (void)
{
  static const char *const without[] = { "fragrance", NULL };
  OgBrief brief = { .product = OG_PRODUCT_LIP_ROLL_ON, .scent = TRUE, .without_tags = without };
  g_autoptr (OgDraft) draft = draft_of (&brief);

  check_draft (draft, &brief);
  g_assert_false (draft->met);
  g_assert_true (finds (draft, "draft-no-scent"));
}

/* --- how many -------------------------------------------------------------- */

static void
test_most (void)
{
  for (guint most = 1; most <= 8; most++)
    {
      OgBrief brief = { .product = OG_PRODUCT_LIP_APPLICATOR, .body = OG_BODY_SUBSTANTIAL,
                        .most = most,
                        .tint = TRUE, .scent = TRUE };
      g_autoptr (OgDraft) draft = draft_of (&brief);

      check_draft (draft, &brief);
      g_assert_cmpint (draft->met, ==, draft->findings->len == 0);
      /* colour, flavour, antioxidant, and castor oil, which is substantial by itself */
      g_assert_cmpint (draft->met, ==, most >= 4);
    }
}

/* --- stock ----------------------------------------------------------------- */

static OgShelf *
shelf_of (const char *const *ids)
{
  OgShelf *shelf = og_shelf_new ();

  for (guint i = 0; ids[i] != NULL; i++)
    og_shelf_put (shelf, &(OgShelfItem) { (char *) ids[i], 500.0, 1.0 + i, (char *) "EUR", 0 });
  return shelf;
}

static void
check_stock (const OgDraft *draft,
             const OgShelf *shelf)
{
  for (guint i = 0; i < draft->formula->phases->len; i++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (draft->formula->phases, i);

      for (guint j = 0; j < phase->lines->len; j++)
        {
          const OgFormulaLine *line = g_ptr_array_index (phase->lines, j);

          g_assert_true (og_shelf_has (shelf, line->ingredient_id));
        }
    }
}

static void
test_stock (void)
{
  static const char *const full[] = { "castor-oil", "sunflower-oil", "jojoba-oil", "polyamide-3",
                                      "tocopherol", NULL };
  static const char *const oils[] = { "sunflower-oil", "olive-oil", "tocopherol", NULL };
  static const char *const none[] = { "mica", NULL };
  g_autoptr (OgShelf) shelf = shelf_of (full);
  g_autoptr (OgShelf) thin = shelf_of (oils);
  g_autoptr (OgShelf) bare = shelf_of (none);
  OgBrief brief = { .product = OG_PRODUCT_LIP_APPLICATOR, .body = OG_BODY_SUBSTANTIAL,
                    .shelf = shelf,
                    .stocked_only = TRUE };
  g_autoptr (OgDraft) met = draft_of (&brief);
  g_autoptr (OgDraft) missed = NULL;
  g_autoptr (OgDraft) empty = NULL;

  check_draft (met, &brief);
  check_stock (met, shelf);
  g_assert_true (met->met);

  brief.shelf = thin;
  missed = draft_of (&brief);
  check_draft (missed, &brief);
  check_stock (missed, thin);
  g_assert_false (missed->met);
  g_assert_true (finds (missed, "draft-nothing-thickens"));
  g_assert_true (finds (missed, "draft-body-missed"));

  brief.shelf = bare;
  empty = draft_of (&brief);
  g_assert_false (empty->met);
  g_assert_true (finds (empty, "draft-no-oil"));
  g_assert_cmpuint (og_formula_get_n_lines (empty->formula), ==, 0);
}

/* A cheaper oil of nearly the same kind is taken when price is asked for. */
static void
test_cheap (void)
{
  static const char *const ids[] = { "castor-oil", "tocopherol", "polyamide-3", NULL };
  g_autoptr (OgShelf) shelf = shelf_of (ids);
  OgBrief brief = { .product = OG_PRODUCT_BODY, .body = OG_BODY_THIN, .shelf = shelf,
                    .stocked_only = TRUE };
  g_autoptr (OgDraft) dear = NULL;
  g_autoptr (OgDraft) cheap = NULL;

  og_shelf_put (shelf, &(OgShelfItem) { (char *) "moringa-oil", 500.0, 60.0, (char *) "EUR", 0 });
  og_shelf_put (shelf, &(OgShelfItem) { (char *) "sunflower-oil", 500.0, 4.0, (char *) "EUR", 0 });
  dear = draft_of (&brief);
  brief.cheap = TRUE;
  cheap = draft_of (&brief);
  check_draft (dear, &brief);
  check_draft (cheap, &brief);
  g_assert_cmpfloat (og_formula_price (cheap->formula, shelf, NULL), <,
                     og_formula_price (dear->formula, shelf, NULL));
}

static void
test_unpriced (void)
{
  g_autoptr (OgShelf) shelf = og_shelf_new ();
  OgBrief brief = { .product = OG_PRODUCT_BODY, .shelf = shelf, .cheap = TRUE };
  g_autoptr (OgDraft) draft = draft_of (&brief);

  check_draft (draft, &brief);
  g_assert_true (draft->met);
  g_assert_true (finds (draft, "draft-no-price"));
}

static gboolean
stop (double   done,
      gpointer user_data)
{
  return FALSE;
}

static void
test_stop (void)
{
  OgBrief brief = { .product = OG_PRODUCT_BODY, .progress = stop };
  g_autoptr (GError) error = NULL;

  g_assert_null (og_draft (&brief, catalog, &error));
  g_assert_error (error, OG_SOLVE_ERROR, OG_SOLVE_ERROR_STOPPED);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();

  g_test_add_func ("/draft/all", test_all);
  g_test_add_func ("/draft/usual", test_usual);
  g_test_add_func ("/draft/same", test_same);
  g_test_add_func ("/draft/without", test_without);
  g_test_add_func ("/draft/no-scent", test_no_scent);
  g_test_add_func ("/draft/most", test_most);
  g_test_add_func ("/draft/stock", test_stock);
  g_test_add_func ("/draft/cheap", test_cheap);
  g_test_add_func ("/draft/unpriced", test_unpriced);
  g_test_add_func ("/draft/stop", test_stop);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
