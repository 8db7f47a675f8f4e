/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/comparison-report.h"

#include <glib/gi18n-lib.h>

#include "cli/effects-report.h"
#include "cli/text-table.h"
#include "core/base/number-text.h"
#include "core/base/saying.h"
#include "draw/export.h"

static const char *const state_nicks[OG_COMPARISON_STATES] = { "rest", "pour", "rub" };

static const OgCompared *
get (const OgComparison *comparison,
     guint               index)
{
  return g_ptr_array_index (comparison->recipes, index);
}

/* --- for programs ---------------------------------------------------------- */

static JsonArray *
texts_array (guint         n,
             const char *(*text) (const OgCompared *recipe, guint index),
             const OgCompared *recipe)
{
  JsonArray *array = json_array_new ();

  for (guint i = 0; i < n; i++)
    json_array_add_string_element (array, text (recipe, i));
  return array;
}

static const char *
trial_id (const OgCompared *recipe,
          guint             index)
{
  return ((const OgMeasurement *) g_ptr_array_index (recipe->trials, index))->id;
}

static const char *
declared_name (const OgCompared *recipe,
               guint             index)
{
  return ((const OgDeclarationEntry *) g_ptr_array_index (recipe->declaration->entries, index))->name;
}

static void
set_number (JsonObject *object,
            const char *member,
            double      value)
{
  if (isfinite (value))
    json_object_set_double_member (object, member, value);
  else
    json_object_set_null_member (object, member);
}

static JsonObject *
keeping_object (const OgKeeping *keeping)
{
  JsonObject *object = json_object_new ();

  set_number (object, "low_months", keeping->room.low_months);
  set_number (object, "high_months", keeping->room.high_months);
  return object;
}

static JsonObject *
price_object (const OgCompared *recipe)
{
  JsonObject *object = json_object_new ();

  set_number (object, "per_kg", recipe->price);
  if (recipe->currency != NULL)
    json_object_set_string_member (object, "currency", recipe->currency);
  else
    json_object_set_null_member (object, "currency");
  return object;
}

/* @version: (nullable) */
static void
add_recipe (JsonBuilder      *builder,
            const OgCompared *recipe,
            const char       *file,
            const char       *version)
{
  g_autoptr (JsonNode) node = og_result_to_json (recipe->result);
  g_autofree char *shown = g_filename_display_name (file);
  JsonObject *object = json_node_get_object (node);

  json_object_set_string_member (object, "file", shown);
  if (version != NULL)
    json_object_set_string_member (object, "version", version);
  else
    json_object_set_null_member (object, "version");
  json_object_set_string_member (object, "title", recipe->formula->title);
  json_object_set_object_member (object, "keeping", keeping_object (recipe->keeping));
  json_object_set_object_member (object, "price", price_object (recipe));
  json_object_set_array_member (object, "declaration",
                                texts_array (recipe->declaration->entries->len, declared_name, recipe));
  json_object_set_array_member (object, "trials",
                                texts_array (recipe->trials->len, trial_id, recipe));
  json_builder_add_value (builder, g_steal_pointer (&node));
}

static void
add_ratios (JsonBuilder      *builder,
            const OgCompared *recipe,
            const char       *file,
            const char       *version)
{
  g_autofree char *shown = g_filename_display_name (file);

  json_builder_begin_object (builder);
  og_json_add_string (builder, "file", shown);
  og_json_add_string (builder, "version", version);
  for (guint s = 0; s < OG_COMPARISON_STATES; s++)
    og_json_add_estimate_member (builder, state_nicks[s], &recipe->ratios[s]);
  json_builder_end_object (builder);
}

static void
add_line (JsonBuilder          *builder,
          const OgComparison   *comparison,
          const OgComparedLine *line)
{
  json_builder_begin_object (builder);
  og_json_add_string (builder, "ingredient", line->ingredient_id);
  og_json_begin_array (builder, "percent");
  for (guint i = 0; i < comparison->recipes->len; i++)
    if (line->changes[i] != OG_LINE_ABSENT && line->changes[i] != OG_LINE_LOST)
      json_builder_add_double_value (builder, og_ppm_to_pct (line->amounts[i]));
    else
      json_builder_add_null_value (builder);
  json_builder_end_array (builder);
  og_json_begin_array (builder, "change");
  for (guint i = 0; i < comparison->recipes->len; i++)
    json_builder_add_string_value (builder, og_line_change_to_nick (line->changes[i]));
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

static void
add_difference (JsonBuilder      *builder,
                const OgCompared *recipe)
{
  json_builder_begin_object (builder);
  og_json_begin_array (builder, "changes");
  for (guint i = 0; i < recipe->changes->len; i++)
    json_builder_add_string_value (builder, og_saying_text (g_ptr_array_index (recipe->changes, i)));
  json_builder_end_array (builder);
  og_effects_add_json (builder, recipe->effects);
  json_builder_end_object (builder);
}

void
og_comparison_put_json (OgCall              *call,
                        const OgComparison  *comparison,
                        char               **files,
                        gboolean             versions)
{
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();
  const guint n = comparison->recipes->len;

  og_json_begin_array (builder, "recipes");
  for (guint i = 0; i < n; i++)
    add_recipe (builder, get (comparison, i), files[versions ? 0 : i],
                versions && i > 0 ? get (comparison, i)->name : NULL);
  json_builder_end_array (builder);
  og_json_begin_array (builder, "ratios");
  for (guint i = 1; i < n; i++)
    add_ratios (builder, get (comparison, i), files[versions ? 0 : i],
                versions ? get (comparison, i)->name : NULL);
  json_builder_end_array (builder);
  og_json_begin_array (builder, "lines");
  for (guint i = 0; i < comparison->lines->len; i++)
    add_line (builder, comparison, g_ptr_array_index (comparison->lines, i));
  json_builder_end_array (builder);
  og_json_begin_array (builder, "differences");
  for (guint i = 1; i < n; i++)
    add_difference (builder, get (comparison, i));
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
put_names (OgCall             *call,
           const OgComparison *comparison,
           gboolean            versions)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("rll");

  og_text_table_add (table, (const char *[]) { NULL, _("Recipe"), versions ? _("Version") : _("File") });
  for (guint i = 0; i < comparison->recipes->len; i++)
    {
      const OgCompared *recipe = get (comparison, i);
      g_autofree char *number = column_number (i);

      og_text_table_add (table, (const char *[]) { number, recipe->formula->title, recipe->name });
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
body_cell (const OgCompared *recipe)
{
  return g_strdup (og_body_get_name (recipe->result->body));
}

static char *
rest_cell (const OgCompared *recipe)
{
  return viscosity_text (&recipe->result->rest);
}

static char *
pour_cell (const OgCompared *recipe)
{
  return viscosity_text (&recipe->result->pour);
}

static char *
rub_cell (const OgCompared *recipe)
{
  return viscosity_text (&recipe->result->rub);
}

static char *
density_cell (const OgCompared *recipe)
{
  return og_number_fixed (recipe->result->density_g_ml, 3);
}

static char *
iodine_cell (const OgCompared *recipe)
{
  return og_number_fixed (recipe->result->iodine_value, 0);
}

static char *
keeping_cell (const OgCompared *recipe)
{
  return og_saying_take_text (og_keeping_span_saying (&recipe->keeping->room));
}

static char *
trials_cell (const OgCompared *recipe)
{
  return g_strdup_printf ("%u", recipe->trials->len);
}

static void
put_figures (OgCall           *call,
             const OgComparison *comparison)
{
  static const struct
  {
    const char *name;
    char *(*cell) (const OgCompared *recipe);
  } rows[] = {
    { N_("Body"), body_cell },
    { N_("At rest, mPa·s"), rest_cell },
    { N_("Poured, mPa·s"), pour_cell },
    { N_("Rubbed, mPa·s"), rub_cell },
    { N_("Density, g/ml"), density_cell },
    { N_("Iodine value, g I₂/100 g"), iodine_cell },
    { N_("Keeps, closed and dark"), keeping_cell },
    { N_("Readings of just this"), trials_cell },
  };
  static const char alignment[] = "lrrrr";
  g_autofree char *columns = g_strndup (alignment, 1 + comparison->recipes->len);
  g_autoptr (OgTextTable) table = og_text_table_new (columns);
  const guint n = comparison->recipes->len;
  char *cells[1 + OG_COMPARISON_MAX] = { NULL };

  for (guint r = 0; r <= G_N_ELEMENTS (rows); r++)
    {
      cells[0] = g_strdup (r == 0 ? _("At 25 °C, with 80 % bands") : _(rows[r - 1].name));
      for (guint i = 0; i < n; i++)
        cells[1 + i] = r == 0 ? column_number (i)
                              : rows[r - 1].cell (get (comparison, i));
      og_text_table_add (table, (const char *const *) cells);
      for (guint c = 0; c <= n; c++)
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
            const OgComparison *comparison)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("rrrr");

  og_text_table_add (table, (const char *[]) { _("Times as thick as 1"), _("At rest"), _("Poured"),
                                               _("Rubbed") });
  for (guint i = 1; i < comparison->recipes->len; i++)
    {
      const OgEstimate *ratios = get (comparison, i)->ratios;
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
n_learned (OgBelief *belief)
{
  const GArray *lessons = og_belief_get_lessons (belief);
  guint n = 0;

  for (guint i = 0; i < lessons->len; i++)
    n += g_array_index (lessons, OgLesson, i).used ? 1 : 0;

  return n;
}

/* --- lines and what changed ------------------------------------------------ */

/* The sign says how the amount stands to that of the first recipe. */
static char *
amount_cell (const OgComparedLine *line,
             guint                 column)
{
  static const char *const signs[OG_N_LINE_CHANGES] = {
    [OG_LINE_SAME] = "", [OG_LINE_MORE] = "▲ ", [OG_LINE_LESS] = "▼ ", [OG_LINE_GAINED] = "+ ",
  };
  g_autofree char *pct = og_number_trimmed (og_ppm_to_pct (line->amounts[column]), 4);
  const OgLineChange change = line->changes[column];

  if (change == OG_LINE_ABSENT || change == OG_LINE_LOST)
    return g_strdup ("–");
  return g_strconcat (signs[change], pct, NULL);
}

static void
put_lines (OgCall             *call,
           const OgComparison *comparison)
{
  const guint n = comparison->recipes->len;
  g_autofree char *columns = g_strndup ("lrrrr", 1 + n);
  g_autoptr (OgTextTable) table = og_text_table_new (columns);
  char *cells[1 + OG_COMPARISON_MAX] = { NULL };

  for (guint l = 0; l <= comparison->lines->len; l++)
    {
      const OgComparedLine *line = l > 0 ? g_ptr_array_index (comparison->lines, l - 1) : NULL;

      cells[0] = g_strdup (line != NULL ? line->name : _("wt %"));
      for (guint i = 0; i < n; i++)
        cells[1 + i] = line != NULL ? amount_cell (line, i) : column_number (i);
      og_text_table_add (table, (const char *const *) cells);
      for (guint c = 0; c <= n; c++)
        g_clear_pointer (&cells[c], g_free);
    }
  og_text_table_put (table, 2, call->out);
  g_string_append_c (call->out, '\n');
}

static void
put_changes (OgCall           *call,
             const OgCompared *recipe)
{
  /* Translators: %s is a version or a file */
  g_autofree char *head = g_strdup_printf (_("What is different in “%s”"), recipe->name);

  og_text_put_wrapped ("", head, call->out);
  if (recipe->changes->len == 0)
    og_text_put_wrapped ("  ", _("Nothing."), call->out);
  for (guint i = 0; i < recipe->changes->len; i++)
    og_text_put_wrapped ("  • ", og_saying_text (g_ptr_array_index (recipe->changes, i)), call->out);
  g_string_append_c (call->out, '\n');
}

void
og_comparison_put_text (OgCall              *call,
                        const OgComparison  *comparison,
                        char               **files,
                        OgBelief            *belief)
{
  put_names (call, comparison, g_strv_length (files) == 1);
  put_lines (call, comparison);
  for (guint i = 1; i < comparison->recipes->len; i++)
    put_changes (call, get (comparison, i));
  put_figures (call, comparison);
  put_ratios (call, comparison);
  if (belief != NULL)
    {
      guint n = n_learned (belief);
      g_autofree char *text
        = g_strdup_printf (ngettext ("All recipes have learned from %u reading of any of them.",
                                     "All recipes have learned from %u readings of any of them.",
                                     n), n);

      og_text_put_wrapped ("", text, call->out);
    }
}
