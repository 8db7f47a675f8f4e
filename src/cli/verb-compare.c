/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "cli/findings.h"
#include "cli/readings.h"
#include "cli/text-table.h"
#include "cli/verbs.h"
#include "core/base/number-text.h"
#include "core/predict/blend.h"
#include "draw/export.h"

#define MOST_RECIPES 4
#define N_STATES 3

static const double state_rates_1_s[N_STATES] = { OG_SHEAR_REST, OG_SHEAR_POUR, OG_SHEAR_RUB };
static const char *const state_nicks[N_STATES] = { "rest", "pour", "rub" };

/* One of the recipes, and how thick it is beside the first: 1 for the first itself. */
typedef struct
{
  char      *name; /* of the file */
  OgRecipe   recipe;
  OgResult  *result;
  OgBlend   *blend;
  OgEstimate ratios[N_STATES];
} Compared;

typedef struct
{
  Compared  items[MOST_RECIPES];
  guint     n;
  OgBelief *belief; /* nullable */
} Comparison;

static void
comparison_clear (Comparison *comparison)
{
  for (guint i = 0; i < comparison->n; i++)
    {
      Compared *item = &comparison->items[i];

      g_free (item->name);
      g_clear_pointer (&item->blend, og_blend_free);
      g_clear_pointer (&item->result, og_result_unref);
      og_recipe_clear (&item->recipe);
    }
  g_clear_pointer (&comparison->belief, og_belief_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Comparison, comparison_clear)

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
gather_materials (const Comparison  *comparison,
                  GPtrArray         *materials,
                  GError           **error)
{
  for (guint i = 0; i < comparison->n; i++)
    {
      const GPtrArray *own = comparison->items[i].recipe.formula->materials;

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
                                   comparison->items[i].name, material->id);
        }
    }

  return TRUE;
}

static gboolean
learn (Comparison  *comparison,
       const char  *log_path,
       GError     **error)
{
  g_autoptr (GPtrArray) all = og_readings_new ();
  g_autoptr (GPtrArray) materials = g_ptr_array_new ();
  g_autoptr (OgCatalog) catalog = NULL;

  for (guint i = 0; i < comparison->n; i++)
    {
      g_autofree char *prefix = g_strconcat (comparison->items[i].name, "/", NULL);

      og_readings_add (all, comparison->items[i].recipe.formula->measurements, prefix);
    }
  if (log_path == NULL && all->len == 0)
    return TRUE;
  if (!gather_materials (comparison, materials, error)
      || !og_readings_add_log (all, log_path, materials, error))
    return FALSE;
  if (all->len == 0)
    return TRUE;

  catalog = og_catalog_new_overlay (comparison->items[0].recipe.catalog, materials);
  comparison->belief = og_belief_learn (all, catalog);

  return TRUE;
}

/* --- comparing ------------------------------------------------------------- */

static gboolean
read_all (Comparison   *comparison,
          char        **paths,
          GError      **error)
{
  for (guint i = 0; paths[i] != NULL; i++)
    {
      Compared *item = &comparison->items[comparison->n++];

      item->name = g_filename_display_name (paths[i]);
      if (!og_recipe_read (&item->recipe, paths[i], error))
        return FALSE;
    }

  return TRUE;
}

static void
evaluate_item (Compared *item,
               OgBelief *belief)
{
  const double room_c = OG_TEMPERATURE_ROOM_C;

  item->result = og_evaluate (item->recipe.formula, item->recipe.catalog,
                              &(OgConditions) {
                                .temperatures_c = &room_c,
                                .n_temperatures = 1,
                                .shear_rates_1_s = state_rates_1_s,
                                .n_shear_rates = N_STATES,
                                .belief = belief,
                              });
  item->blend = og_blend_new (item->result->contents,
                              og_catalog_get_parameters (item->recipe.catalog));
  if (belief != NULL)
    og_blend_set_belief (item->blend, belief);
}

static void
compare (Comparison *comparison)
{
  for (guint i = 0; i < comparison->n; i++)
    {
      Compared *item = &comparison->items[i];

      evaluate_item (item, comparison->belief);
      for (guint s = 0; s < N_STATES; s++)
        item->ratios[s] = og_blend_ratio (item->blend, comparison->items[0].blend,
                                          OG_TEMPERATURE_ROOM_C, state_rates_1_s[s]);
    }
}

/* --- for programs ---------------------------------------------------------- */

static void
add_recipe (JsonBuilder    *builder,
            const Compared *item)
{
  g_autoptr (JsonNode) node = og_result_to_json (item->result);
  JsonObject *object = json_node_get_object (node);

  json_object_set_string_member (object, "file", item->name);
  json_object_set_string_member (object, "title", item->recipe.formula->title);
  json_builder_add_value (builder, g_steal_pointer (&node));
}

static void
add_ratios (JsonBuilder    *builder,
            const Compared *item)
{
  json_builder_begin_object (builder);
  og_json_add_string (builder, "file", item->name);
  for (guint s = 0; s < N_STATES; s++)
    og_json_add_estimate_member (builder, state_nicks[s], &item->ratios[s]);
  json_builder_end_object (builder);
}

static void
put_json (OgCall           *call,
          const Comparison *comparison)
{
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();

  og_json_begin_array (builder, "recipes");
  for (guint i = 0; i < comparison->n; i++)
    add_recipe (builder, &comparison->items[i]);
  json_builder_end_array (builder);
  og_json_begin_array (builder, "ratios");
  for (guint i = 1; i < comparison->n; i++)
    add_ratios (builder, &comparison->items[i]);
  json_builder_end_array (builder);
  og_call_end_json (call, builder);
}

/* --- for readers ----------------------------------------------------------- */

/* Columns are numbered, so that long titles do not push the figures apart. */
static char *
column_number (guint index)
{
  return g_strdup_printf ("%u", index + 1);
}

static void
put_names (OgCall           *call,
           const Comparison *comparison)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("rll");

  og_text_table_add (table, (const char *[]) { NULL, _("Recipe"), _("File") });
  for (guint i = 0; i < comparison->n; i++)
    {
      const Compared *item = &comparison->items[i];
      g_autofree char *number = column_number (i);

      og_text_table_add (table, (const char *[]) { number, item->recipe.formula->title,
                                                   item->name });
    }
  og_text_table_put (table, 2, call->out);
  g_string_append_c (call->out, '\n');
}

static char *
viscosity_text (const OgEstimate *estimate)
{
  g_autofree char *value = og_number_viscosity (estimate->value);
  g_autofree char *range = og_number_range (estimate);

  return range != NULL ? g_strdup_printf ("%s (%s)", value, range) : g_steal_pointer (&value);
}

static char *
body_cell (const OgResult *result)
{
  return g_strdup (og_body_get_name (result->body));
}

static char *
rest_cell (const OgResult *result)
{
  return viscosity_text (&result->rest);
}

static char *
pour_cell (const OgResult *result)
{
  return viscosity_text (&result->pour);
}

static char *
rub_cell (const OgResult *result)
{
  return viscosity_text (&result->rub);
}

static char *
density_cell (const OgResult *result)
{
  return og_number_fixed (result->density_g_ml, 3);
}

static char *
iodine_cell (const OgResult *result)
{
  return og_number_fixed (result->iodine_value, 0);
}

static void
put_figures (OgCall           *call,
             const Comparison *comparison)
{
  static const struct
  {
    const char *name;
    char *(*cell) (const OgResult *result);
  } rows[] = {
    { N_("Body"), body_cell },
    { N_("At rest, mPa·s"), rest_cell },
    { N_("Poured, mPa·s"), pour_cell },
    { N_("Rubbed, mPa·s"), rub_cell },
    { N_("Density, g/ml"), density_cell },
    { N_("Iodine value, g I₂/100 g"), iodine_cell },
  };
  static const char alignment[] = "lrrrr";
  g_autofree char *columns = g_strndup (alignment, 1 + comparison->n);
  g_autoptr (OgTextTable) table = og_text_table_new (columns);
  char *cells[1 + MOST_RECIPES] = { NULL };

  for (guint r = 0; r <= G_N_ELEMENTS (rows); r++)
    {
      cells[0] = g_strdup (r == 0 ? _("At 25 °C, with 80 % bands") : _(rows[r - 1].name));
      for (guint i = 0; i < comparison->n; i++)
        cells[1 + i] = r == 0 ? column_number (i)
                              : rows[r - 1].cell (comparison->items[i].result);
      og_text_table_add (table, (const char *const *) cells);
      for (guint c = 0; c <= comparison->n; c++)
        g_clear_pointer (&cells[c], g_free);
    }
  og_text_table_put (table, 2, call->out);
  g_string_append_c (call->out, '\n');
}

static char *
ratio_text (const OgEstimate *ratio)
{
  g_autofree char *value = og_number_significant (ratio->value, 3);
  g_autofree char *low = og_number_significant (ratio->low80, 3);
  g_autofree char *high = og_number_significant (ratio->high80, 3);

  return og_estimate_is_known (ratio) ? g_strdup_printf ("%s (%s–%s)", value, low, high)
                                      : g_steal_pointer (&value);
}

static void
put_ratios (OgCall           *call,
            const Comparison *comparison)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("rrrr");

  og_text_table_add (table, (const char *[]) { _("Times as thick as 1"), _("At rest"), _("Poured"),
                                               _("Rubbed") });
  for (guint i = 1; i < comparison->n; i++)
    {
      const OgEstimate *ratios = comparison->items[i].ratios;
      g_autofree char *number = column_number (i);
      g_autofree char *rest = ratio_text (&ratios[0]);
      g_autofree char *pour = ratio_text (&ratios[1]);
      g_autofree char *rub = ratio_text (&ratios[2]);

      og_text_table_add (table, (const char *[]) { number, rest, pour, rub });
    }
  og_text_table_put (table, 2, call->out);
  g_string_append_c (call->out, '\n');
  og_text_put_wrapped ("", _("Oils and agents that recipes share are wrong in the same way in each "
                             "of them. Such errors cancel in a ratio, so it is better known than "
                             "the figures it is between."), call->out);
}

static guint
n_learned (const OgBelief *belief)
{
  const GArray *lessons = og_belief_get_lessons (belief);
  guint n = 0;

  for (guint i = 0; i < lessons->len; i++)
    n += g_array_index (lessons, OgLesson, i).used ? 1 : 0;

  return n;
}

static void
put_text (OgCall           *call,
          const Comparison *comparison)
{
  put_names (call, comparison);
  put_figures (call, comparison);
  put_ratios (call, comparison);
  if (comparison->belief != NULL)
    {
      guint n = n_learned (comparison->belief);
      g_autofree char *text
        = g_strdup_printf (ngettext ("All recipes have learned from %u reading of any of them.",
                                     "All recipes have learned from %u readings of any of them.",
                                     n), n);

      og_text_put_wrapped ("", text, call->out);
    }
}

static OgExit
worst_status (const Comparison *comparison)
{
  OgExit status = OG_EXIT_DONE;

  for (guint i = 0; i < comparison->n; i++)
    status = MAX (status, og_findings_status (comparison->items[i].result->findings));

  return status;
}

OgExit
og_verb_compare (OgCall  *call,
                 GError **error)
{
  g_autofree char *log_path = NULL;
  const GOptionEntry entries[] = {
    { "bench-log", 'b', 0, G_OPTION_ARG_FILENAME, &log_path,
      N_("Readings of neat materials to learn from"), N_("LOG") },
    G_OPTION_ENTRY_NULL
  };
  g_auto (Comparison) comparison = { .n = 0 };

  if (!og_call_parse (call, entries, 2, MOST_RECIPES, error))
    return OG_EXIT_DONE;
  if (!read_all (&comparison, call->files, error) || !learn (&comparison, log_path, error))
    return OG_EXIT_FILE;

  compare (&comparison);
  if (call->json)
    put_json (call, &comparison);
  else
    put_text (call, &comparison);

  return worst_status (&comparison);
}
