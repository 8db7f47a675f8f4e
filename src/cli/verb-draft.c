/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "cli/findings.h"
#include "cli/recipe-file.h"
#include "cli/tags.h"
#include "cli/text-table.h"
#include "cli/verbs.h"
#include "core/base/number-text.h"
#include "model/draft-words.h"

/* --- for programs ---------------------------------------------------------- */

static void
add_line (JsonBuilder          *builder,
          const OgDraft        *draft,
          const OgFormulaPhase *phase,
          const OgFormulaLine  *line)
{
  json_builder_begin_object (builder);
  og_json_add_string (builder, "phase", phase->name);
  og_json_add_string (builder, "ingredient", line->ingredient_id);
  og_json_add_number (builder, "percent", og_ppm_to_pct (line->amount));
  og_json_add_string (builder, "reason", og_saying_text (og_draft_get_reason (draft, line->id)));
  json_builder_end_object (builder);
}

static void
add_phases (JsonBuilder   *builder,
            const OgDraft *draft)
{
  og_json_begin_array (builder, "phases");
  for (guint i = 0; i < draft->formula->phases->len; i++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (draft->formula->phases, i);

      json_builder_begin_object (builder);
      og_json_add_string (builder, "name", phase->name);
      og_json_add_number (builder, "temperature_c", phase->temperature_c);
      og_json_add_string (builder, "note", phase->note);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  og_json_begin_array (builder, "lines");
  for (guint i = 0; i < draft->formula->phases->len; i++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (draft->formula->phases, i);

      for (guint j = 0; j < phase->lines->len; j++)
        add_line (builder, draft, phase, g_ptr_array_index (phase->lines, j));
    }
  json_builder_end_array (builder);
}

static void
put_json (OgCall         *call,
          const OgDraft  *draft,
          const OgResult *result)
{
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();

  og_json_add_boolean (builder, "met", draft->met);
  og_json_add_string (builder, "title", draft->formula->title);
  og_json_add_string (builder, "body", og_body_to_nick (result->body));
  og_json_add_estimate_member (builder, "viscosity", &result->pour);
  add_phases (builder, draft);
  og_findings_add_json (builder, draft->findings);
  og_call_end_json (call, builder);
}

/* --- for readers ----------------------------------------------------------- */

static void
put_phase (OgCall               *call,
           const OgDraft        *draft,
           const OgCatalog      *catalog,
           const OgFormulaPhase *phase)
{
  g_autofree char *temperature = og_number_fixed (phase->temperature_c, 0);

  /* Translators: name of a phase, temperature */
  g_string_append_printf (call->out, _("%s, %s °C"), phase->name, temperature);
  g_string_append_c (call->out, '\n');
  if (phase->note != NULL)
    og_text_put_wrapped ("  ", phase->note, call->out);
  for (guint j = 0; j < phase->lines->len; j++)
    {
      const OgFormulaLine *line = g_ptr_array_index (phase->lines, j);
      const OgIngredient *ingredient = og_catalog_get (catalog, line->ingredient_id);
      g_autofree char *pct = og_number_trimmed (og_ppm_to_pct (line->amount), 4);
      g_autofree char *amount = g_strdup_printf ("%s %s %%", ingredient->name, pct);

      og_text_put_wrapped ("  • ", amount, call->out);
      og_text_put_wrapped ("    ", og_saying_text (og_draft_get_reason (draft, line->id)), call->out);
    }
  g_string_append_c (call->out, '\n');
}

static void
put_text (OgCall          *call,
          const OgDraft   *draft,
          const OgCatalog *catalog,
          const OgResult  *result)
{
  if (draft->formula->phases->len > 0)
    {
      og_text_put_wrapped ("", draft->formula->title, call->out);
      g_string_append_c (call->out, '\n');
      for (guint i = 0; i < draft->formula->phases->len; i++)
        put_phase (call, draft, catalog, g_ptr_array_index (draft->formula->phases, i));
      og_text_put_wrapped ("", og_saying_text (result->body_text), call->out);
      og_text_put_wrapped ("", draft->formula->notes, call->out);
      g_string_append_c (call->out, '\n');
    }
  if (draft->findings->len > 0)
    og_findings_put (call->out, draft->findings);
}

/* --- the verb -------------------------------------------------------------- */

typedef struct
{
  char    *product;
  char    *body;
  char   **without;
  char    *most;
  char    *ledger;
  char    *output;
  gboolean stocked, tint, scent, cheap;
} Options;

static void
options_clear (Options *options)
{
  g_free (options->product);
  g_free (options->body);
  g_strfreev (options->without);
  g_free (options->most);
  g_free (options->ledger);
  g_free (options->output);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

static gboolean
read_words (const Options  *options,
            OgBrief        *brief,
            GError        **error)
{
  if (options->product != NULL && !og_product_from_nick (options->product, &brief->product))
    return og_call_refuse (error,
                           _("--product: it is one of lip-applicator, lip-roll-on, skin-roll-on, body, "
                             "massage"));
  if (options->body != NULL && !og_body_from_nick (options->body, &brief->body))
    return og_call_refuse (error,
                           _("--body: it is one of dry, thin, light, substantial, syrupy, heavy, "
                             "softly-set, set"));
  for (guint i = 0; options->without != NULL && options->without[i] != NULL; i++)
    if (!og_call_check_text ("--without", options->without[i], error))
      return FALSE;

  return TRUE;
}

static gboolean
read_most (const Options  *options,
           OgBrief        *brief,
           GError        **error)
{
  char *texts[] = { options->most, NULL };
  g_autoptr (GArray) numbers = og_call_parse_numbers ("--most", texts, 1.0, 100.0, error);

  if (numbers == NULL)
    return FALSE;
  if (numbers->len > 0)
    brief->most = (guint) g_array_index (numbers, double, 0);

  return TRUE;
}

OgExit
og_verb_draft (OgCall  *call,
               GError **error)
{
  g_auto (Options) options = { NULL };
  const GOptionEntry entries[] = {
    { "product", 0, 0, G_OPTION_ARG_FILENAME, &options.product,
      N_("What it is to become, such as lip-applicator or body"), N_("PRODUCT") },
    { "body", 0, 0, G_OPTION_ARG_FILENAME, &options.body,
      N_("Body wanted, in a word such as substantial, instead of the usual one"), N_("WORD") },
    { "without", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &options.without,
      N_("Leave out materials with this tag; may be given several times"), N_("TAG") },
    { "stocked", 0, 0, G_OPTION_ARG_NONE, &options.stocked, N_("Take only what is in stock"),
      NULL },
    { "ledger", 0, 0, G_OPTION_ARG_FILENAME, &options.ledger,
      N_("Ledger that knows stock and prices"), N_("FILE") },
    { "most", 0, 0, G_OPTION_ARG_FILENAME, &options.most, N_("Most materials"), N_("N") },
    { "tint", 0, 0, G_OPTION_ARG_NONE, &options.tint, N_("With a colour ground in oil"), NULL },
    { "scent", 0, 0, G_OPTION_ARG_NONE, &options.scent, N_("With a flavour or fragrance"), NULL },
    { "cheap", 0, 0, G_OPTION_ARG_NONE, &options.cheap, N_("Prefer low prices"), NULL },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &options.output,
      N_("Write the recipe as a document"), N_("FILE") },
    G_OPTION_ENTRY_NULL
  };
  OgBrief brief = { .most = 0 };
  g_autoptr (OgCatalog) catalog = NULL;
  g_autoptr (OgShelf) shelf = NULL;
  g_autoptr (OgDraft) draft = NULL;
  g_autoptr (OgResult) result = NULL;

  if (!og_call_parse (call, entries, 0, 0, error))
    return OG_EXIT_DONE;
  if (!read_words (&options, &brief, error) || !read_most (&options, &brief, error))
    return OG_EXIT_USAGE;
  if ((options.ledger != NULL || options.stocked || options.cheap)
      && !og_call_open_shelf (options.ledger, &shelf, error))
    return OG_EXIT_FILE;
  if (options.stocked && shelf == NULL)
    {
      og_call_refuse (error,
                      _("--stocked: there is no ledger that would know; name one with --ledger"));
      return OG_EXIT_USAGE;
    }
  catalog = og_call_load_catalog (error);
  if (catalog == NULL)
    return OG_EXIT_FILE;

  if (!og_tags_check (catalog, "--without", options.without, error))
    return OG_EXIT_USAGE;
  brief.without_tags = (const char *const *) options.without;
  brief.shelf = shelf;
  brief.stocked_only = options.stocked;
  brief.tint = options.tint;
  brief.scent = options.scent;
  brief.cheap = options.cheap;
  draft = og_draft (&brief, catalog, error);
  if (draft == NULL)
    return OG_EXIT_INTERNAL;
  og_draft_write_words (draft);
  if (options.output != NULL && !og_recipe_file_write (options.output, draft->formula, error))
    return OG_EXIT_FILE;

  result = og_evaluate (draft->formula, catalog, NULL);
  if (call->json)
    put_json (call, draft, result);
  else
    put_text (call, draft, catalog, result);

  return og_findings_status (draft->findings);
}
