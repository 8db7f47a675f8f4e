/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "cli/catalog-check.h"
#include "cli/findings.h"
#include "cli/text-table.h"
#include "cli/verbs.h"

static void
put_findings_json (OgCall          *call,
                   const GPtrArray *findings)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autoptr (JsonNode) root = NULL;

  json_builder_begin_object (builder);
  og_findings_add_json (builder, findings);
  json_builder_end_object (builder);

  root = json_builder_get_root (builder);
  og_call_put_json (call, root);
}

static OgExit
check_recipe (OgCall      *call,
              const char  *path,
              GError     **error)
{
  g_auto (OgRecipe) recipe = { NULL, NULL };
  g_autoptr (OgResult) result = NULL;

  if (!og_recipe_read (&recipe, path, error))
    return OG_EXIT_FILE;

  result = og_evaluate (recipe.formula, recipe.catalog, NULL);
  if (call->json)
    {
      put_findings_json (call, result->findings);
    }
  else
    {
      og_text_put_wrapped ("", recipe.formula->title, call->out);
      og_findings_put (call->out, result->findings);
    }

  return og_findings_status (result->findings);
}

static void
put_catalog_json (OgCall               *call,
                  const OgCatalog      *catalog,
                  const OgCatalogCheck *check)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autoptr (JsonNode) root = NULL;

  json_builder_begin_object (builder);
  json_builder_set_member_name (builder, "materials");
  json_builder_add_int_value (builder, og_catalog_get_n_items (catalog));
  json_builder_set_member_name (builder, "kinds");
  json_builder_begin_object (builder);
  for (int kind = 0; kind < OG_N_KINDS; kind++)
    {
      json_builder_set_member_name (builder, og_kind_to_nick ((OgKind) kind));
      json_builder_add_int_value (builder, check->n_by_kind[kind]);
    }
  json_builder_end_object (builder);
  json_builder_set_member_name (builder, "figures");
  json_builder_begin_object (builder);
  for (int quality = OG_QUALITY_MEASURED; quality <= OG_QUALITY_RECALLED; quality++)
    {
      json_builder_set_member_name (builder, og_quality_to_nick ((OgQuality) quality));
      json_builder_add_int_value (builder, check->n_figures_by_quality[quality]);
    }
  json_builder_end_object (builder);
  json_builder_set_member_name (builder, "flowing");
  json_builder_add_int_value (builder, check->n_flowing);
  json_builder_set_member_name (builder, "flowing_with_viscosity");
  json_builder_add_int_value (builder, check->n_flowing_known);
  og_json_add_strings (builder, "checked", og_catalog_check_scope ());
  og_findings_add_json (builder, check->findings);
  json_builder_end_object (builder);

  root = json_builder_get_root (builder);
  og_call_put_json (call, root);
}

static void
put_count (OgTextTable *table,
           const char  *name,
           guint        n)
{
  g_autofree char *number = g_strdup_printf ("%u", n);

  og_text_table_add (table, (const char *[]) { name, number });
}

static void
put_catalog_text (OgCall               *call,
                  const OgCatalog      *catalog,
                  const OgCatalogCheck *check)
{
  g_autoptr (OgTextTable) kinds = og_text_table_new ("lr");
  g_autoptr (OgTextTable) figures = og_text_table_new ("lr");
  const char *const *scope = og_catalog_check_scope ();

  og_text_table_add (kinds, (const char *[]) { _("Kind"), _("Materials") });
  for (int kind = 0; kind < OG_N_KINDS; kind++)
    put_count (kinds, og_kind_get_name ((OgKind) kind), check->n_by_kind[kind]);
  put_count (kinds, _("In all"), og_catalog_get_n_items (catalog));
  og_text_table_put (kinds, 2, call->out);
  g_string_append_c (call->out, '\n');

  og_text_table_add (figures, (const char *[]) { _("Figures, by how they are known"), _("Number") });
  for (int quality = OG_QUALITY_MEASURED; quality <= OG_QUALITY_RECALLED; quality++)
    put_count (figures, og_quality_get_name ((OgQuality) quality), check->n_figures_by_quality[quality]);
  og_text_table_put (figures, 2, call->out);
  g_string_append_c (call->out, '\n');

  g_string_append_printf (call->out, _("Of %u materials that flow, %u have a known viscosity."),
                          check->n_flowing, check->n_flowing_known);
  g_string_append_printf (call->out, "\n\n%s\n", _("What was checked:"));
  for (guint i = 0; scope[i] != NULL; i++)
    og_text_put_wrapped ("  • ", _(scope[i]), call->out);
  g_string_append_printf (call->out, "\n%s\n", _("What was found:"));
  og_findings_put (call->out, check->findings);
}

static OgExit
check_catalog (OgCall  *call,
               GError **error)
{
  g_autoptr (OgCatalog) catalog = og_call_load_catalog (error);
  g_autoptr (OgCatalogCheck) check = NULL;

  if (catalog == NULL)
    return OG_EXIT_FILE;

  check = og_catalog_check (catalog);
  if (call->json)
    put_catalog_json (call, catalog, check);
  else
    put_catalog_text (call, catalog, check);

  return og_findings_status (check->findings);
}

OgExit
og_verb_check (OgCall  *call,
               GError **error)
{
  if (!og_call_parse (call, NULL, 0, 1, error))
    return OG_EXIT_DONE;

  return call->files != NULL ? check_recipe (call, call->files[0], error) : check_catalog (call, error);
}
