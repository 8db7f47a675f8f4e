/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <string.h>

#include "common/fixture.h"
#include "core/material/search.h"

#define N_MANY 10000

static OgCatalog *library;

static const OgIngredient *
hit (const GArray *hits,
     guint         index)
{
  return g_array_index (hits, OgHit, index).ingredient;
}

static gboolean
has (const GArray *hits,
     const char   *id)
{
  for (guint i = 0; i < hits->len; i++)
    if (strcmp (hit (hits, i)->id, id) == 0)
      return TRUE;
  return FALSE;
}

static void
assert_before (const GArray       *hits,
               const OgIngredient *ingredient,
               const char         *typed,
               gboolean            alone)
{
  for (guint i = 0; i < hits->len && hit (hits, i) != ingredient; i++)
    if (alone || g_array_index (hits, OgHit, i).match != OG_MATCH_EXACT)
      g_error ("“%s” puts %s before %s", typed, hit (hits, i)->id, ingredient->id);
  g_assert_true (has (hits, ingredient->id));
}

/* Nothing stands before @ingredient but what is called so as well; with @alone, nothing at all. */
static void
assert_first (const OgIngredient *ingredient,
              const char         *typed,
              gboolean            alone)
{
  g_autofree char *loud = g_utf8_strup (typed, -1);
  g_autoptr (GArray) hits = og_catalog_search (library, typed);
  g_autoptr (GArray) louder = og_catalog_search (library, loud);

  assert_before (hits, ingredient, typed, alone);
  assert_before (louder, ingredient, loud, alone);
}

static void
test_every_name (void)
{
  const guint n = og_catalog_get_n_items (library);

  g_assert_cmpuint (n, >=, 347);
  for (guint i = 0; i < n; i++)
    {
      const OgIngredient *ingredient = og_catalog_get_item (library, i);
      g_autoptr (GArray) hits = og_catalog_search (library, ingredient->name);

      assert_first (ingredient, ingredient->name, TRUE);
      g_assert_true (og_hits_get_sure (hits) == ingredient);
      assert_first (ingredient, ingredient->id, FALSE);
      for (guint a = 0; ingredient->aliases[a] != NULL; a++)
        assert_first (ingredient, ingredient->aliases[a], FALSE);
      if (ingredient->inci != NULL)
        assert_first (ingredient, ingredient->inci, FALSE);
      if (ingredient->cas != NULL)
        assert_first (ingredient, ingredient->cas, FALSE);
      if (ingredient->ci != NULL)
        assert_first (ingredient, ingredient->ci, FALSE);
    }
}

/* While a name is typed, it is always among what is shown; but for a number that is not complete. */
static void
test_every_beginning (void)
{
  for (guint i = 0; i < og_catalog_get_n_items (library); i += 3)
    {
      const OgIngredient *ingredient = og_catalog_get_item (library, i);

      for (const char *end = ingredient->name; *end != '\0'; end = g_utf8_next_char (end))
        {
          g_autofree char *typed = g_strndup (ingredient->name, (gsize) (end - ingredient->name));
          g_autoptr (GArray) hits = og_catalog_search (library, typed);
          const gboolean within = end > ingredient->name && g_ascii_isdigit (*end)
                                  && g_ascii_isdigit (end[-1]);

          if (!within && !has (hits, ingredient->id))
            g_error ("“%s” does not show %s", typed, ingredient->id);
        }
    }
}

/* What people type (common practice, no source), the match of the first, and whom Enter may add. */
static void
test_typed (void)
{
  static const struct
  {
    const char *typed;
    const char *first;
    OgMatch     match;
    const char *sure;
  } cases[] = {
    { "tocopherol", "tocopherol", OG_MATCH_EXACT, "tocopherol" },
    { "vitamin e", "tocopherol", OG_MATCH_EXACT, "tocopherol" },
    { "red 7 lake in", "red-7-lake-in-castor-oil", OG_MATCH_BEGINS, "red-7-lake-in-castor-oil" },
    { "Red 7 Lake", "red-7-lake", OG_MATCH_EXACT, "red-7-lake" },
    { "polyamide", "polyamide-3", OG_MATCH_BEGINS, NULL },
    { "polyamide 3", "polyamide-3", OG_MATCH_EXACT, "polyamide-3" },
    { "CI 15850", "red-6-lake", OG_MATCH_EXACT, NULL },
    { "ci15850:1", "red-7-lake", OG_MATCH_EXACT, NULL },
    { "8001-79-4", "castor-oil", OG_MATCH_EXACT, "castor-oil" },
    { "8001-79", "castor-oil", OG_MATCH_BEGINS, "castor-oil" },
    { "silica", "silica", OG_MATCH_EXACT, NULL }, /* the INCI name of two */
    { "oil castor", "castor-oil", OG_MATCH_WORDS, NULL },
    { "cast oi", "castor-oil", OG_MATCH_BEGINNINGS, NULL },
    { "castr oil", "castor-oil", OG_MATCH_NEAR, NULL },
    { "casotr", "castor-oil", OG_MATCH_NEAR, NULL },
    { "jojba oil", "jojoba-oil", OG_MATCH_NEAR, NULL },
    { "aluminum stearate", "aluminum-stearate", OG_MATCH_EXACT, "aluminum-stearate" },
    { "red 2", "red-27-lake", OG_MATCH_NEAR, NULL },
    { "8001-7", "castor-oil", OG_MATCH_NEAR, NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GArray) hits = og_catalog_search (library, cases[i].typed);
      const OgIngredient *sure = og_hits_get_sure (hits);

      g_test_message ("%s", cases[i].typed);
      g_assert_cmpuint (hits->len, >, 0);
      g_assert_cmpstr (hit (hits, 0)->id, ==, cases[i].first);
      g_assert_cmpint (g_array_index (hits, OgHit, 0).match, ==, cases[i].match);
      g_assert_cmpstr (sure != NULL ? sure->id : NULL, ==, cases[i].sure);
      g_assert_cmpint (og_hits_are_near (hits), ==, cases[i].match == OG_MATCH_NEAR);
    }
}

static void
test_nothing (void)
{
  static const char *const typed[] = { "no such thing anywhere", "zzzz", "%", "\xff", "–", "1234567" };

  for (gsize i = 0; i < G_N_ELEMENTS (typed); i++)
    {
      g_autoptr (GArray) hits = og_catalog_search (library, typed[i]);

      g_assert_cmpuint (hits->len, ==, 0);
      g_assert_null (og_hits_get_sure (hits));
    }
}

/* Numbers match whole: of names, of aliases and of the Colour Index. */
static void
test_numbers (void)
{
  static const char *const not_seven[] = { "red-27-lake", "red-17", "red-27-lake-in-castor-oil",
                                           "castor-oil" };
  static const char *const of_6[] = { "red-6-lake", "red-6-lake-in-castor-oil" };
  g_autoptr (GArray) seven = og_catalog_search (library, "7");
  g_autoptr (GArray) lake = og_catalog_search (library, "CI 15850");

  g_assert_true (has (seven, "red-7-lake"));
  for (gsize i = 0; i < G_N_ELEMENTS (not_seven); i++)
    g_assert_false (has (seven, not_seven[i]));
  for (gsize i = 0; i < G_N_ELEMENTS (of_6); i++)
    g_assert_cmpstr (hit (lake, (guint) i)->id, ==, of_6[i]);
}

/* Plain words: every pigment is found by that word, and by half of it beside a colour. */
static void
test_plain_words (void)
{
  g_autoptr (GArray) pigments = og_catalog_search (library, "pigment");
  g_autoptr (GArray) red = og_catalog_search (library, "red pig");

  for (guint i = 0; i < og_catalog_get_n_items (library); i++)
    {
      const OgIngredient *ingredient = og_catalog_get_item (library, i);

      if (ingredient->kind == OG_KIND_COLOUR || ingredient->kind == OG_KIND_DISPERSION)
        g_assert_true (has (pigments, ingredient->id));
    }
  g_assert_true (has (red, "red-iron-oxide"));
  g_assert_false (has (red, "yellow-iron-oxide"));
  for (guint i = 0; i < red->len; i++)
    g_assert_true (has (pigments, hit (red, i)->id));
}

/* A better match never stands behind a worse one, and nothing is found twice. */
static void
test_order (void)
{
  static const char *const typed[] = { "oil", "red", "a", "wax ester", "o", "castor", "hydrog", "15" };

  for (gsize i = 0; i < G_N_ELEMENTS (typed); i++)
    {
      g_autoptr (GArray) hits = og_catalog_search (library, typed[i]);
      g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);

      for (guint j = 0; j < hits->len; j++)
        {
          const OgHit *here = &g_array_index (hits, OgHit, j);

          g_assert_true (g_hash_table_add (seen, (gpointer) here->ingredient));
          g_assert_true (j == 0 || here[-1].match >= here->match);
        }
    }
}

static void
test_blank (void)
{
  static const char *const typed[] = { NULL, "", "  \t" };

  for (gsize i = 0; i < G_N_ELEMENTS (typed); i++)
    {
      g_autoptr (GArray) hits = og_catalog_search (library, typed[i]);

      g_assert_cmpuint (hits->len, ==, og_catalog_get_n_items (library));
      for (guint j = 0; j < hits->len; j++)
        g_assert_true (hit (hits, j) == og_catalog_get_item (library, j));
    }
}

static GPtrArray *
many_materials (void)
{
  GPtrArray *many = g_ptr_array_new_with_free_func ((GDestroyNotify) og_ingredient_unref);

  for (guint i = 0; i < N_MANY; i++)
    {
      g_autofree char *text =
        g_strdup_printf ("{\"id\":\"sea-buckthorn-%u\",\"name\":\"Sea buckthorn pulp oil %u\","
                         "\"inci\":\"Hippophae Rhamnoides Fruit Oil\",\"aliases\":[\"Lot %u\"],"
                         "\"kind\":\"wax\",\"roles\":[\"base\"],\"uses\":[\"lip\"],\"tags\":[]}",
                         i, i, i);
      g_autoptr (JsonNode) node = json_from_string (text, NULL);
      g_autoptr (GError) error = NULL;

      g_ptr_array_add (many, og_ingredient_new_from_json (json_node_get_object (node), NULL, NULL,
                                                          &error));
      g_assert_no_error (error);
    }
  return many;
}

/* Counted in steps, whatever the machine: a number is looked up, and a word costs the words of the
 * library once and the places where it stands. */
static void
test_steps (void)
{
  g_autoptr (GPtrArray) many = many_materials ();
  g_autoptr (OgSearchIndex) index = og_search_index_new (many);
  const struct
  {
    const char *typed;
    guint       n_found;
    guint       most;
  } cases[] = {
    { "777", 1, 20 },
    { "lot 777", 1, 3 * N_MANY },
    { "buckthorn", N_MANY, 4 * N_MANY },
    { "sea buckthorn oil 12", 1, 12 * N_MANY },
    { "zzzz", 0, 3 * N_MANY },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      guint n_steps = 0;
      g_autoptr (GArray) hits = og_search_index_find (index, cases[i].typed, &n_steps);

      g_test_message ("%s: %u steps", cases[i].typed, n_steps);
      g_assert_cmpuint (hits->len, ==, cases[i].n_found);
      g_assert_cmpuint (n_steps, >, 0);
      g_assert_cmpuint (n_steps, <=, cases[i].most);
    }
}

int
main (int   argc,
      char *argv[])
{
  int status;

  g_test_init (&argc, &argv, NULL);
  library = fixture_catalog ();

  g_test_add_func ("/search/every-name", test_every_name);
  g_test_add_func ("/search/every-beginning", test_every_beginning);
  g_test_add_func ("/search/typed", test_typed);
  g_test_add_func ("/search/nothing", test_nothing);
  g_test_add_func ("/search/numbers", test_numbers);
  g_test_add_func ("/search/plain-words", test_plain_words);
  g_test_add_func ("/search/order", test_order);
  g_test_add_func ("/search/blank", test_blank);
  g_test_add_func ("/search/steps", test_steps);

  status = g_test_run ();
  og_catalog_unref (library);
  return status;
}
