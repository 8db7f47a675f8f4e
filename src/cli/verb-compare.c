/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "cli/comparison-report.h"
#include "cli/findings.h"
#include "cli/readings.h"
#include "cli/verbs.h"

/* The recipes that were read, and what all of them have learned. */
typedef struct
{
  char      *names[OG_COMPARISON_MAX]; /* of the files */
  OgRecipe   recipes[OG_COMPARISON_MAX];
  guint      n;
  OgBelief  *belief; /* nullable */
  OgShelf   *shelf;  /* nullable */
} Given;

static void
given_clear (Given *given)
{
  for (guint i = 0; i < given->n; i++)
    {
      g_free (given->names[i]);
      og_recipe_clear (&given->recipes[i]);
    }
  g_clear_pointer (&given->belief, og_belief_unref);
  g_clear_pointer (&given->shelf, og_shelf_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Given, given_clear)

/* --- what is known together ------------------------------------------------ */

static gboolean
same_definition (const OgIngredient *a,
                 const OgIngredient *b)
{
  g_autoptr (JsonNode) node_a = json_node_new (JSON_NODE_OBJECT);
  g_autoptr (JsonNode) node_b = json_node_new (JSON_NODE_OBJECT);

  json_node_set_object (node_a, a->definition);
  json_node_set_object (node_b, b->definition);

  return json_node_equal (node_a, node_b);
}

static const OgIngredient *
find_material (const GPtrArray *materials,
               const char      *id)
{
  for (guint i = 0; i < materials->len; i++)
    {
      const OgIngredient *material = g_ptr_array_index (materials, i);

      if (g_str_equal (material->id, id))
        return material;
    }

  return NULL;
}

/*
 * Readings of all recipes teach all of them, so a name must mean one material in all of them.
 * @materials: borrowed
 */
static gboolean
gather_materials (const Given       *given,
                  GPtrArray         *materials,
                  GError           **error)
{
  for (guint i = 0; i < given->n; i++)
    {
      const GPtrArray *own = given->recipes[i].formula->materials;

      for (guint m = 0; m < own->len; m++)
        {
          OgIngredient *material = g_ptr_array_index (own, m);
          const OgIngredient *other = find_material (materials, material->id);

          if (other == NULL)
            {
              g_ptr_array_add (materials, material);
            }
          else if (!same_definition (material, other))
            return og_call_refuse (error,
                                   _("%s: its own material “%s” is not the one of the other recipes, so "
                                     "their readings cannot be learned from together; give it another id"),
                                   given->names[i], material->id);
        }
    }

  return TRUE;
}

static gboolean
learn (Given       *given,
       const char  *log_path,
       GError     **error)
{
  g_autoptr (GPtrArray) all = og_readings_new ();
  g_autoptr (GPtrArray) materials = g_ptr_array_new ();
  g_autoptr (OgCatalog) catalog = NULL;

  for (guint i = 0; i < given->n; i++)
    {
      g_autofree char *prefix = g_strconcat (given->names[i], "/", NULL);

      og_readings_add (all, given->recipes[i].formula->measurements, prefix);
    }
  if (log_path == NULL && all->len == 0)
    return TRUE;
  if (!gather_materials (given, materials, error)
      || !og_readings_add_log (all, log_path, materials, error))
    return FALSE;
  if (all->len == 0)
    return TRUE;

  catalog = og_catalog_new_overlay (given->recipes[0].catalog, materials);
  given->belief = og_belief_learn (all, catalog);

  return TRUE;
}

/* --- reading --------------------------------------------------------------- */

static gboolean
read_all (Given        *given,
          char        **paths,
          GError      **error)
{
  for (guint i = 0; paths[i] != NULL; i++)
    {
      OgRecipe *recipe = &given->recipes[given->n];

      given->names[given->n++] = g_filename_display_name (paths[i]);
      if (!og_recipe_read (recipe, paths[i], error))
        return FALSE;
    }

  return TRUE;
}

/* Only one recipe is read then: versions cannot be told from files that way. */
static gboolean
check_versions (const Given  *given,
                const char   *path,
                char        **versions,
                GError      **error)
{
  for (guint i = 0; versions[i] != NULL; i++)
    if (!og_recipe_has_version (&given->recipes[0], path, versions[i], error))
      return FALSE;

  return TRUE;
}

static gboolean
check_number (const OgCall  *call,
              char         **versions,
              GError       **error)
{
  const guint n_files = g_strv_length (call->files);
  const guint n_versions = versions != NULL ? g_strv_length (versions) : 0;

  if (n_versions > 0 && n_files > 1)
    return og_call_refuse (error, _("--version: only versions of one file can be compared"));
  if (n_versions == 0 && n_files < 2)
    return og_call_refuse (error, _("a second recipe is missing; --version compares with a version"));
  if (n_versions >= OG_COMPARISON_MAX)
    return og_call_refuse (error, _("--version: at most %d versions stand beside the recipe"),
                           OG_COMPARISON_MAX - 1);

  return TRUE;
}

/* --- comparing ------------------------------------------------------------- */

static OgComparison *
compare (const Given  *given,
         char        **versions)
{
  const OgComparisonOptions options = { .belief = given->belief, .shelf = given->shelf };
  GPtrArray *recipes;

  if (versions != NULL)
    return og_comparison_of_versions (given->recipes[0].formula, given->recipes[0].catalog,
                                      _("As it stands"), (const char *const *) versions, &options);

  recipes = g_ptr_array_new_with_free_func ((GDestroyNotify) og_compared_free);
  for (guint i = 0; i < given->n; i++)
    g_ptr_array_add (recipes, og_compared_new (given->names[i],
                                               og_formula_copy (given->recipes[i].formula),
                                               given->recipes[i].catalog));
  return og_comparison_new (recipes, &options);
}

static OgExit
worst_status (const OgComparison *comparison)
{
  OgExit status = OG_EXIT_DONE;

  for (guint i = 0; i < comparison->recipes->len; i++)
    {
      const OgCompared *recipe = g_ptr_array_index (comparison->recipes, i);

      status = MAX (status, og_findings_status (recipe->result->findings));
    }

  return status;
}

OgExit
og_verb_compare (OgCall  *call,
                 GError **error)
{
  g_autofree char *log_path = NULL;
  g_autofree char *ledger_path = NULL;
  g_auto (GStrv) versions = NULL;
  const GOptionEntry entries[] = {
    { "version", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &versions,
      N_("A version of the recipe beside it; may be given several times"), N_("NAME") },
    { "ledger", 'l', 0, G_OPTION_ARG_FILENAME, &ledger_path,
      N_("Ledger of the workshop: stock and prices"), N_("FILE") },
    { "bench-log", 'b', 0, G_OPTION_ARG_FILENAME, &log_path,
      N_("Readings of neat materials to learn from"), N_("LOG") },
    G_OPTION_ENTRY_NULL
  };
  g_auto (Given) given = { .n = 0 };
  g_autoptr (OgComparison) comparison = NULL;

  if (!og_call_parse (call, entries, 1, OG_COMPARISON_MAX, error))
    return OG_EXIT_DONE;
  if (!check_number (call, versions, error))
    return OG_EXIT_USAGE;
  if (!read_all (&given, call->files, error)
      || (versions != NULL && !check_versions (&given, call->files[0], versions, error))
      || !learn (&given, log_path, error)
      || (ledger_path != NULL && !og_call_open_shelf (ledger_path, &given.shelf, error)))
    return OG_EXIT_FILE;

  comparison = compare (&given, versions);
  if (call->json)
    og_comparison_put_json (call, comparison, call->files, versions != NULL);
  else
    og_comparison_put_text (call, comparison, call->files, given.belief);

  return worst_status (comparison);
}
