/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <stdio.h>
#include <string.h>

#include "cli/findings.h"
#include "cli/text-table.h"
#include "cli/verbs.h"
#include "core/base/dates.h"
#include "core/base/number-text.h"
#include "core/label/declaration.h"
#include "draw/label.h"

#define PERCENT_DIGITS 4 /* a share is a whole number of 0.0001 % */

/* What was asked for on the command line. */
typedef struct
{
  char     *market;
  char    **shades;
  char    **nano;
  char     *label;
  char     *batch;
  char     *best_before;
  char     *responsible;
  char     *country;
  gboolean  gather;
} Options;

static void
options_clear (Options *options)
{
  g_free (options->market);
  g_strfreev (options->shades);
  g_strfreev (options->nano);
  g_free (options->label);
  g_free (options->batch);
  g_free (options->best_before);
  g_free (options->responsible);
  g_free (options->country);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

static gboolean
check_options (const Options   *options,
               OgMarket        *market,
               OgExportFormat  *format,
               GError         **error)
{
  guint year, month;

  if (!og_call_check_text ("--market", options->market, error)
      || !og_call_check_text ("--batch", options->batch, error)
      || !og_call_check_text ("--best-before", options->best_before, error)
      || !og_call_check_text ("--responsible", options->responsible, error)
      || !og_call_check_text ("--country", options->country, error))
    return FALSE;
  if (options->market == NULL || !og_market_from_nick (options->market, market))
    return og_call_refuse (error, _("--market: give eu or us"));
  if (options->best_before != NULL && !og_month_parse (options->best_before, &year, &month))
    return og_call_refuse (error, _("--best-before: give year and month, such as 2027-08"));
  if (options->label != NULL
      && (!og_export_format_from_path (options->label, format)
          || (*format != OG_EXPORT_PNG && *format != OG_EXPORT_SVG && *format != OG_EXPORT_PDF)))
    return og_call_refuse (error, _("--label needs a file that ends in .png, .svg or .pdf"));

  return TRUE;
}

/* Adds the id of every material that @texts name, several of one text set apart by commas. */
static gboolean
resolve (const OgCatalog  *catalog,
         const char       *option,
         char            **texts,
         GPtrArray        *ids,
         GError          **error)
{
  for (guint i = 0; texts != NULL && texts[i] != NULL; i++)
    {
      g_auto (GStrv) names = NULL;

      if (!og_call_check_text (option, texts[i], error))
        return FALSE;
      names = g_strsplit (texts[i], ",", -1);
      for (guint j = 0; names[j] != NULL; j++)
        {
          g_autoptr (GError) inner = NULL;
          const OgIngredient *ingredient
              = og_catalog_resolve (catalog, g_strstrip (names[j]), &inner);

          if (ingredient == NULL)
            return og_call_refuse (error, "%s: %s", option, inner->message);
          g_ptr_array_add (ids, ingredient->id);
        }
    }
  g_ptr_array_add (ids, NULL);

  return TRUE;
}

static void
add_texts (JsonBuilder     *builder,
           const char      *name,
           const GPtrArray *texts)
{
  og_json_begin_array (builder, name);
  for (guint i = 0; i < texts->len; i++)
    json_builder_add_string_value (builder, g_ptr_array_index (texts, i));
  json_builder_end_array (builder);
}

static void
add_entry (JsonBuilder              *builder,
           const OgDeclarationEntry *entry)
{
  json_builder_begin_object (builder);
  og_json_add_string (builder, "name", entry->name);
  og_json_add_number (builder, "percent", entry->pct);
  og_json_add_number (builder, "low_percent", entry->low_pct);
  og_json_add_number (builder, "high_percent", entry->high_pct);
  og_json_add_string (builder, "group", og_declaration_group_to_nick (entry->group));
  og_json_add_boolean (builder, "nano", entry->nano);
  og_json_add_boolean (builder, "missing", entry->missing);
  add_texts (builder, "ingredients", entry->ingredient_ids);
  json_builder_end_object (builder);
}

static void
add_notes (JsonBuilder     *builder,
           const GPtrArray *findings)
{
  og_json_begin_array (builder, "notes");
  for (guint i = 0; i < findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (findings, i);

      json_builder_add_string_value (builder, og_saying_text (finding->text));
    }
  json_builder_end_array (builder);
}

static void
put_json (OgCall              *call,
          const OgDeclaration *declaration,
          const char          *label)
{
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();
  g_autofree char *shown = label != NULL ? g_filename_display_name (label) : NULL;

  og_json_add_string (builder, "market", og_market_to_nick (declaration->market));
  og_json_add_string (builder, "text", declaration->text);
  og_json_add_boolean (builder, "complete", declaration->complete);
  og_json_begin_array (builder, "entries");
  for (guint i = 0; i < declaration->entries->len; i++)
    add_entry (builder, g_ptr_array_index (declaration->entries, i));
  json_builder_end_array (builder);
  add_notes (builder, declaration->findings);
  og_findings_add_json (builder, declaration->findings);
  if (shown != NULL)
    og_json_add_string (builder, "label", shown);
  og_call_end_json (call, builder);
}

/* Returns: (transfer full): "0.6", "1–3" between bounds, nothing for a colour of another shade */
static char *
share_text (const OgDeclarationEntry *entry)
{
  OgEstimate bounds = { NAN, entry->low_pct, entry->high_pct };

  if (entry->group == OG_DECLARATION_MAY_CONTAIN)
    return NULL;
  if (isfinite (entry->pct))
    return og_number_trimmed (entry->pct, PERCENT_DIGITS);

  return og_number_range (&bounds);
}

static void
put_text (OgCall              *call,
          const OgDeclaration *declaration)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("lrl");

  og_text_put_wrapped ("", declaration->text, call->out);
  g_string_append_c (call->out, '\n');
  og_text_table_add (table, (const char *[]) { _("Name"), _("wt %"), _("Why it stands there") });
  for (guint i = 0; i < declaration->entries->len; i++)
    {
      const OgDeclarationEntry *entry = g_ptr_array_index (declaration->entries, i);
      g_autofree char *share = share_text (entry);

      og_text_table_add (table, (const char *[]) { entry->name, share,
                                                   og_declaration_group_get_name (entry->group) });
    }
  og_text_table_put (table, 2, call->out);
  g_string_append_printf (call->out, "\n%s\n", _("What was found:"));
  og_findings_put (call->out, declaration->findings);
}

static gboolean
write_label (const OgRecipe       *recipe,
             const OgResult       *result,
             const OgDeclaration  *declaration,
             const Options        *options,
             OgExportFormat        format,
             GError              **error)
{
  const OgLabelText text = {
    .batch_code = options->batch,
    .best_before = options->best_before,
    .responsible = options->responsible,
    .country = options->country,
  };
  g_autoptr (OgLabel) label = og_label_new (recipe->formula, result, declaration, &text);

  return og_export_label (label, options->label, format, error);
}

OgExit
og_verb_declare (OgCall  *call,
                 GError **error)
{
  g_auto (Options) options = { NULL };
  const GOptionEntry entries[] = {
    { "market", 'm', 0, G_OPTION_ARG_FILENAME, &options.market,
      N_("Whose rules: eu or us"), N_("MARKET") },
    { "shades", 's', 0, G_OPTION_ARG_FILENAME_ARRAY, &options.shades,
      N_("Colours of the other shades of the range"), N_("ID,ID") },
    { "nano", 'n', 0, G_OPTION_ARG_FILENAME_ARRAY, &options.nano,
      N_("A material that is used as a nanomaterial"), N_("ID") },
    { "gather-scents", 0, 0, G_OPTION_ARG_NONE, &options.gather,
      N_("One name for flavours and essential oils: aroma or parfum"), NULL },
    { "label", 'l', 0, G_OPTION_ARG_FILENAME, &options.label,
      N_("Sketch of the label to write: .png, .svg or .pdf"), N_("OUT") },
    { "batch", 0, 0, G_OPTION_ARG_FILENAME, &options.batch,
      N_("Batch number on the label"), N_("CODE") },
    { "best-before", 0, 0, G_OPTION_ARG_FILENAME, &options.best_before,
      N_("Best before the end of this month, on the label"), N_("YYYY-MM") },
    { "responsible", 0, 0, G_OPTION_ARG_FILENAME, &options.responsible,
      N_("Name and address of who answers for the product, on the label"), N_("TEXT") },
    { "country", 0, 0, G_OPTION_ARG_FILENAME, &options.country,
      N_("Country of origin, on the label"), N_("TEXT") },
    G_OPTION_ENTRY_NULL
  };
  g_auto (OgRecipe) recipe = { NULL, NULL };
  g_autoptr (GPtrArray) shades = g_ptr_array_new ();
  g_autoptr (GPtrArray) nano = g_ptr_array_new ();
  g_autoptr (OgDeclaration) declaration = NULL;
  g_autoptr (OgResult) result = NULL;
  OgDeclarationOptions asked = { NULL };
  OgExportFormat format = OG_EXPORT_SVG;
  OgMarket market;

  if (!og_call_parse (call, entries, 1, 1, error))
    return OG_EXIT_DONE;
  if (!check_options (&options, &market, &format, error))
    return OG_EXIT_USAGE;
  if (!og_call_read_recipe (call, &recipe, call->files[0], error))
    return OG_EXIT_FILE;
  if (!resolve (recipe.catalog, "--shades", options.shades, shades, error)
      || !resolve (recipe.catalog, "--nano", options.nano, nano, error))
    return OG_EXIT_USAGE;

  asked.shades = (const char *const *) (options.shades != NULL ? (char **) shades->pdata
                                                               : recipe.formula->shades);
  asked.nano = (const char *const *) (options.nano != NULL ? (char **) nano->pdata
                                                           : recipe.formula->nano);
  asked.gather_scents = options.gather || recipe.formula->gather_scents;
  declaration = og_declare (recipe.formula, recipe.catalog, market, &asked);
  result = og_evaluate (recipe.formula, recipe.catalog, NULL);
  og_declaration_hold_recipe (declaration, result);
  og_declaration_hold_shades (declaration, recipe.formula, recipe.catalog, asked.shades);
  if (options.label != NULL && !write_label (&recipe, result, declaration, &options, format, error))
    return OG_EXIT_FILE;
  if (call->json)
    put_json (call, declaration, options.label);
  else
    put_text (call, declaration);

  return og_findings_status (declaration->findings);
}
