/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdio.h>

#include "cli/readings.h"
#include "cli/verbs.h"
#include "core/base/nick.h"
#include "draw/export.h"

/* A recipe on the chart. */
typedef struct
{
  char     *name; /* nullable: of the version; %NULL: the recipe as it stands */
  OgRecipe  recipe;
  OgResult *result;
} Shown;

static const OgNick axis_words[OG_N_CURVES] = {
  [OG_CURVE_AGENT_PCT] = { "agent", NULL },
  [OG_CURVE_TEMPERATURE_C] = { "temperature", NULL },
  [OG_CURVE_SHEAR_RATE_1_S] = { "shear", NULL },
};

static void
shown_free (gpointer data)
{
  Shown *shown = data;

  g_clear_pointer (&shown->result, og_result_unref);
  og_recipe_clear (&shown->recipe);
  g_free (shown->name);
  g_free (shown);
}

static gboolean
show (GPtrArray   *all,
      const char  *path,
      const char  *version,
      const char  *log_path,
      GError     **error)
{
  g_autoptr (OgBelief) belief = NULL;
  Shown *shown = g_new0 (Shown, 1);

  g_ptr_array_add (all, shown);
  shown->name = g_strdup (version);
  if (!og_recipe_read (&shown->recipe, path, error)
      || !og_recipe_go_back (&shown->recipe, path, version, error)
      || !og_readings_learn (&shown->recipe, log_path, &belief, error))
    return FALSE;
  shown->result = og_evaluate (shown->recipe.formula, shown->recipe.catalog,
                               &(OgConditions) { .curves = TRUE, .belief = belief });

  return TRUE;
}

static guint
count (char **texts)
{
  return texts != NULL ? g_strv_length (texts) : 0;
}

static gboolean
show_all (GPtrArray   *all,
          const char  *path,
          char       **versions,
          char       **others,
          const char  *log_path,
          GError     **error)
{
  if (!show (all, path, NULL, log_path, error))
    return FALSE;
  for (guint i = 0; i < count (versions); i++)
    if (!show (all, path, versions[i], log_path, error))
      return FALSE;
  for (guint i = 0; i < count (others); i++)
    if (!show (all, others[i], NULL, log_path, error))
      return FALSE;

  return TRUE;
}

static gboolean
parse_axis (const char   *nick,
            OgCurveAxis  *axis,
            GError      **error)
{
  int found;

  if (og_nick_find (OG_NICK_TABLE (axis_words), nick, &found))
    {
      *axis = (OgCurveAxis) found;
      return TRUE;
    }

  return og_call_refuse (error, _("--axis: “%s” is none of: agent, temperature, shear"), nick);
}

static gboolean
is_picture (const char     *path,
            OgExportFormat *format)
{
  return path != NULL
         && og_export_format_from_path (path, format)
         && (*format == OG_EXPORT_PNG || *format == OG_EXPORT_SVG || *format == OG_EXPORT_PDF);
}

static void
fill_chart (OgChart     *chart,
            GPtrArray   *all,
            OgCurveAxis  axis)
{
  const Shown *own = g_ptr_array_index (all, 0);

  *chart = (OgChart) {
    .n_curves = all->len,
    .target_low_mpa_s = own->recipe.formula->target_low_mpa_s,
    .target_high_mpa_s = own->recipe.formula->target_high_mpa_s,
    .cursor_x = NAN,
  };
  for (guint i = 0; i < all->len; i++)
    {
      const Shown *shown = g_ptr_array_index (all, i);

      chart->curves[i] = &shown->result->curves[axis];
      chart->names[i] = shown->name != NULL ? shown->name : shown->recipe.formula->title;
    }
}

static void
warn_about_missing_curves (GPtrArray   *all,
                           OgCurveAxis  axis)
{
  for (guint i = 0; i < all->len; i++)
    {
      const Shown *shown = g_ptr_array_index (all, i);

      if (shown->result->curves[axis].n == 0)
        fprintf (stderr, _("oleograph-cli: “%s” has no curve along this axis\n"), shown->recipe.formula->title);
    }
}

static void
put_json (OgCall      *call,
          const char  *path,
          OgCurveAxis  axis)
{
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();
  g_autofree char *name = g_filename_display_name (path);

  og_json_add_string (builder, "output", name);
  og_json_add_string (builder, "axis", og_nick_get (OG_NICK_TABLE (axis_words), (int) axis));
  og_call_end_json (call, builder);
}

OgExit
og_verb_chart (OgCall  *call,
               GError **error)
{
  g_autofree char *path = NULL;
  g_autofree char *axis_nick = NULL;
  g_autofree char *log_path = NULL;
  g_auto (GStrv) others = NULL;
  g_auto (GStrv) versions = NULL;
  const GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &path,
      N_("File to write: .png, .svg or .pdf"), N_("OUT") },
    { "axis", 'a', 0, G_OPTION_ARG_FILENAME, &axis_nick,
      N_("What the chart runs along: agent, temperature or shear; agent if the recipe holds one"), N_("AXIS") },
    { "with", 'w', 0, G_OPTION_ARG_FILENAME_ARRAY, &others,
      N_("Another recipe on the same chart; up to four"), N_("FILE") },
    { "version", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &versions,
      N_("A version of the recipe beside it; may be given several times"), N_("NAME") },
    { "bench-log", 'b', 0, G_OPTION_ARG_FILENAME, &log_path,
      N_("Readings of neat materials to learn from"), N_("LOG") },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GPtrArray) all = g_ptr_array_new_with_free_func (shown_free);
  OgCurveAxis axis = OG_CURVE_AGENT_PCT;
  OgExportFormat format;
  OgChart chart;

  if (!og_call_parse (call, entries, 1, 1, error))
    return OG_EXIT_DONE;
  if (!is_picture (path, &format))
    {
      og_call_refuse (error, _("-o needs a file that ends in .png, .svg or .pdf"));
      return OG_EXIT_USAGE;
    }
  if (!og_call_check_text ("--axis", axis_nick, error)
      || (axis_nick != NULL && !parse_axis (axis_nick, &axis, error)))
    return OG_EXIT_USAGE;
  if (count (others) + count (versions) >= OG_CHART_MAX_CURVES)
    {
      og_call_refuse (error, _("a chart takes at most %d recipes"), OG_CHART_MAX_CURVES);
      return OG_EXIT_USAGE;
    }
  if (!show_all (all, call->files[0], versions, others, log_path, error))
    return OG_EXIT_FILE;
  if (axis_nick == NULL && ((Shown *) g_ptr_array_index (all, 0))->result->curves[axis].n == 0)
    axis = OG_CURVE_TEMPERATURE_C;

  warn_about_missing_curves (all, axis);
  fill_chart (&chart, all, axis);
  if (!og_export_chart (&chart, path, format, error))
    return OG_EXIT_FILE;
  if (call->json)
    put_json (call, path, axis);

  return OG_EXIT_DONE;
}
