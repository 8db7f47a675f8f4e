/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "cli/batch-report.h"
#include "cli/findings.h"
#include "cli/readings.h"
#include "cli/verbs.h"
#include "core/base/currency.h"
#include "core/base/error.h"
#include "core/base/read-file.h"
#include "draw/batch-sheet.h"
#include "draw/export.h"

#define MOST_G 1e7
#define MOST_PRICE 1e9
#define LARGEST_LIST (1024 * 1024)
#define LIST_CHARACTERS "0123456789.,; "

/* What was asked for on the command line. */
typedef struct
{
  char  *grams, *ml, *containers;
  char  *loss_g, *loss_pct, *overfill_pct;
  char  *fill_c;
  char  *nominal, *unit, *capacity_ml, *applicator_ml;
  char **balances;
  char **packs;
  char  *filled, *tare;
  char  *ledger;
  char  *log;
  char  *output;
  char  *number;
} Options;

static void
options_clear (Options *options)
{
  g_free (options->grams);
  g_free (options->ml);
  g_free (options->containers);
  g_free (options->loss_g);
  g_free (options->loss_pct);
  g_free (options->overfill_pct);
  g_free (options->fill_c);
  g_free (options->nominal);
  g_free (options->unit);
  g_free (options->capacity_ml);
  g_free (options->applicator_ml);
  g_strfreev (options->balances);
  g_strfreev (options->packs);
  g_free (options->filled);
  g_free (options->tare);
  g_free (options->ledger);
  g_free (options->log);
  g_free (options->output);
  g_free (options->number);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

static void
pack_clear (OgPack *pack)
{
  g_free (pack->offer.currency);
}

static void
sheet_clear (OgBatchSheet *sheet)
{
  og_recipe_clear (&sheet->recipe);
  g_clear_pointer (&sheet->batch, og_batch_plan_free);
  g_clear_pointer (&sheet->filled, og_net_check_free);
  g_clear_pointer (&sheet->shelf, og_shelf_unref);
  g_clear_pointer (&sheet->packs, g_array_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (OgBatchSheet, sheet_clear)

/* --- what is asked for ----------------------------------------------------- */

static gboolean
read_aim (const Options   *o,
          OgBatchOptions  *options,
          GError         **error)
{
  if ((o->grams != NULL) + (o->ml != NULL) + (o->containers != NULL) > 1)
    return og_call_refuse (error, _("give one of --grams, --ml and --containers"));
  if (o->ml != NULL)
    options->aim = OG_BATCH_ML;
  if (o->containers != NULL)
    options->aim = OG_BATCH_CONTAINERS;

  return og_call_parse_number ("--grams", o->grams, 1e-3, MOST_G, &options->amount, error)
         && og_call_parse_number ("--ml", o->ml, 1e-3, MOST_G, &options->amount, error)
         && og_call_parse_number ("--containers", o->containers, 1, 1e6, &options->amount, error);
}

static gboolean
read_losses (const Options   *o,
             OgBatchOptions  *options,
             GError         **error)
{
  return og_call_parse_number ("--loss-g", o->loss_g, 0, MOST_G, &options->loss_g, error)
         && og_call_parse_number ("--loss-pct", o->loss_pct, 0, 99.9, &options->loss_pct, error)
         && og_call_parse_number ("--overfill-pct", o->overfill_pct, 0, 100, &options->overfill_pct, error)
         && og_call_parse_number ("--fill-c", o->fill_c, -20, 200, &options->fill_c, error);
}

/* The container of the recipe, or what the options say instead. */
static gboolean
read_package (const Options  *o,
              OgPackage      *package,
              GError        **error)
{
  if (o->unit != NULL)
    {
      if (strcmp (o->unit, "g") != 0 && strcmp (o->unit, "ml") != 0)
        return og_call_refuse (error, _("--unit: it is g or ml"));
      package->unit = strcmp (o->unit, "g") == 0 ? OG_NET_G : OG_NET_ML;
    }
  if (!og_call_parse_number ("--nominal", o->nominal, 1e-3, 1e6, &package->nominal, error)
      || !og_call_parse_number ("--capacity-ml", o->capacity_ml, 1e-3, 1e6, &package->capacity_ml, error)
      || !og_call_parse_number ("--applicator-ml", o->applicator_ml, 0, 1e6, &package->applicator_ml, error))
    return FALSE;

  return og_package_is_valid (package)
         || og_call_refuse (error, _("--applicator-ml: the applicator must take up less than the "
                                     "container holds"));
}

/* "NAME,READABILITY,CAPACITY[,REPEATABILITY]" */
static gboolean
read_balance (const char  *text,
              GPtrArray   *balances,
              GError     **error)
{
  g_auto (GStrv) parts = NULL;
  double readability_g, capacity_g, repeatability_g = NAN;
  guint n;

  if (!og_call_check_text ("--balance", text, error))
    return FALSE;
  parts = g_strsplit (text, ",", -1);
  n = g_strv_length (parts);
  if (n < 3 || n > 4)
    return og_call_refuse (error, _("--balance: give name, readability and capacity in g, such as "
                                    "bench,0.01,500"));
  if (!og_call_parse_number ("--balance", parts[1], 1e-6, 1e6, &readability_g, error)
      || !og_call_parse_number ("--balance", parts[2], 1e-4, 1e9, &capacity_g, error)
      || (n == 4 && !og_call_parse_number ("--balance", parts[3], 1e-9, 1e6, &repeatability_g, error)))
    return FALSE;
  g_ptr_array_add (balances, og_balance_new (parts[0], readability_g, repeatability_g, capacity_g));

  return TRUE;
}

static GPtrArray *
read_balances (char   **texts,
               GError **error)
{
  g_autoptr (GPtrArray) balances = g_ptr_array_new_with_free_func ((GDestroyNotify) og_balance_free);

  for (guint i = 0; texts != NULL && texts[i] != NULL; i++)
    {
      if (!read_balance (texts[i], balances, error))
        return NULL;
    }

  return g_steal_pointer (&balances);
}

/* "ID,SIZE,PRICE,CURRENCY" */
static gboolean
read_pack (const char       *text,
           const OgCatalog  *catalog,
           GArray           *packs,
           GError          **error)
{
  g_auto (GStrv) parts = NULL;
  g_autoptr (GError) unresolved = NULL;
  OgPack pack = { NULL, { 0, 0, NULL } };

  if (!og_call_check_text ("--pack", text, error))
    return FALSE;
  parts = g_strsplit (text, ",", -1);
  if (g_strv_length (parts) != 4)
    return og_call_refuse (error, _("--pack: give material, size in g, price and currency, such as "
                                    "castor-oil,500,9.50,EUR"));
  pack.ingredient = og_catalog_resolve (catalog, parts[0], &unresolved);
  if (pack.ingredient == NULL)
    return og_call_refuse (error, "--pack: %s", unresolved->message);
  if (!og_call_parse_number ("--pack", parts[1], 1e-3, MOST_G, &pack.offer.size_g, error)
      || !og_call_parse_number ("--pack", parts[2], 0, MOST_PRICE, &pack.offer.price, error))
    return FALSE;
  if (og_currency_find (parts[3]) == NULL)
    return og_call_refuse (error, _("--pack: “%s” is not a currency code of three letters (ISO 4217), such as EUR"),
                           parts[3]);
  pack.offer.currency = g_strdup (og_currency_find (parts[3]));
  g_array_append_val (packs, pack);

  return TRUE;
}

static gboolean
read_packs (char            **texts,
            const OgCatalog  *catalog,
            GArray           *packs,
            GError          **error)
{
  for (guint i = 0; texts != NULL && texts[i] != NULL; i++)
    {
      if (!read_pack (texts[i], catalog, packs, error))
        return FALSE;
    }

  return TRUE;
}

/* Numbers between commas, semicolons and white space: in the argument itself, or in the file it names. */
static GArray *
read_weights (const char  *text,
              GError     **error)
{
  g_autoptr (GBytes) bytes = NULL;
  g_auto (GStrv) parts = NULL;
  g_autoptr (GPtrArray) numbers = g_ptr_array_new ();
  const char *contents;
  gsize length;

  if (g_file_test (text, G_FILE_TEST_EXISTS) || strspn (text, LIST_CHARACTERS) < strlen (text))
    {
      bytes = og_read_file (text, LARGEST_LIST, error);
      if (bytes == NULL)
        return NULL;
    }
  else
    {
      bytes = g_bytes_new_static (text, strlen (text));
    }
  contents = g_bytes_get_data (bytes, &length);
  if (strlen (contents) < length)
    {
      og_call_refuse (error, _("--filled: that is no list of weights"));
      return NULL;
    }
  parts = g_strsplit_set (contents, ",; \t\r\n", -1);
  for (guint i = 0; parts[i] != NULL; i++)
    if (parts[i][0] != '\0')
      g_ptr_array_add (numbers, parts[i]);
  g_ptr_array_add (numbers, NULL);

  return og_call_parse_numbers ("--filled", (char **) numbers->pdata, 0, MOST_G, error);
}

static gboolean
check_filled (const Options  *o,
              OgBatchSheet   *sheet,
              GError        **error)
{
  g_autoptr (GArray) weights = NULL;
  double tare_g = NAN;

  if (o->filled == NULL)
    return o->tare == NULL || og_call_refuse (error, _("--tare goes with --filled"));
  if (o->tare == NULL)
    return og_call_refuse (error, _("--filled: the weight of an empty container is needed, --tare"));
  if (!og_call_parse_number ("--tare", o->tare, 0, MOST_G, &tare_g, error))
    return FALSE;
  weights = read_weights (o->filled, error);
  if (weights == NULL)
    return FALSE;
  sheet->filled = og_net_check (&sheet->recipe.formula->package,
                                (const double *) (const void *) weights->data, weights->len, tare_g,
                                sheet->batch->density_20_g_ml, error);

  return sheet->filled != NULL;
}

/* --- the verb -------------------------------------------------------------- */

/* The record to fill in at the bench, if one is asked for. */
static gboolean
write_sheet (const Options       *o,
             const OgBatchSheet  *sheet,
             OgResult            *result,
             GError             **error)
{
  const OgBatchSheetHead head = { .number = o->number };
  g_autoptr (OgStovePlan) stove = NULL;
  g_autoptr (OgCard) card = NULL;
  OgStoveSetup setup;
  OgExportFormat format;

  if (o->output == NULL)
    return TRUE;
  if (!og_export_format_from_path (o->output, &format) || format == OG_EXPORT_CSV
      || format == OG_EXPORT_JSON)
    return og_call_refuse (error,
                           _("-o needs a file that ends in .pdf, .png, .svg, .html or .md"));
  if (!og_call_check_text ("--number", o->number, error))
    return FALSE;
  og_stove_setup_init (&setup);
  setup.batch_g = sheet->batch->batch_g;
  stove = og_stove_plan (sheet->recipe.formula, result, &setup);
  card = og_batch_sheet_new (sheet->recipe.formula, result, sheet->batch, stove, &head, NULL, 0);

  return og_export_sheet (card, o->output, format, error);
}

static gboolean
plan (const OgCall     *call,
      const Options    *o,
      OgBatchOptions   *options,
      const GPtrArray  *balances,
      OgBatchSheet     *sheet,
      GError          **error)
{
  g_autoptr (OgBelief) belief = NULL;
  g_autoptr (OgResult) result = NULL;

  if (!og_call_read_recipe (call, &sheet->recipe, call->files[0], error)
      || !og_readings_learn (&sheet->recipe, o->log, &belief, error)
      || (o->ledger != NULL && !og_call_open_shelf (o->ledger, &sheet->shelf, error)))
    return FALSE;
  og_batch_options_init (options, sheet->recipe.formula);
  options->balances = balances;
  options->shelf = sheet->shelf;
  if (!read_aim (o, options, error)
      || !read_losses (o, options, error)
      || !read_package (o, &sheet->recipe.formula->package, error)
      || !read_packs (o->packs, sheet->recipe.catalog, sheet->packs, error))
    return FALSE;
  result = og_evaluate (sheet->recipe.formula, sheet->recipe.catalog, &(OgConditions) { .belief = belief });
  sheet->batch = og_batch_plan_new (sheet->recipe.formula, result, options, error);

  return sheet->batch != NULL && check_filled (o, sheet, error)
         && write_sheet (o, sheet, result, error);
}

static OgExit
status_of (const OgBatchSheet *sheet)
{
  if (sheet->filled != NULL
      && (sheet->filled->packer == OG_NET_RULE_FAIL || sheet->filled->sample == OG_NET_RULE_FAIL))
    return OG_EXIT_FOUND;

  return og_findings_status (sheet->batch->findings);
}

OgExit
og_verb_batch (OgCall  *call,
               GError **error)
{
  g_auto (Options) o = { NULL };
  const GOptionEntry entries[] = {
    { "grams", 'g', 0, G_OPTION_ARG_FILENAME, &o.grams, N_("Size of the batch by mass"), N_("G") },
    { "ml", 0, 0, G_OPTION_ARG_FILENAME, &o.ml, N_("Size of the batch by volume at 20 °C"), N_("ML") },
    { "containers", 'n', 0, G_OPTION_ARG_FILENAME, &o.containers, N_("Containers to fill"), N_("N") },
    { "loss-g", 0, 0, G_OPTION_ARG_FILENAME, &o.loss_g, N_("What stays in vessel and funnel"), N_("G") },
    { "loss-pct", 0, 0, G_OPTION_ARG_FILENAME, &o.loss_pct, N_("What is lost besides, of the batch"), N_("PCT") },
    { "overfill-pct", 0, 0, G_OPTION_ARG_FILENAME, &o.overfill_pct, N_("How far above the declared content to fill"),
      N_("PCT") },
    { "fill-c", 0, 0, G_OPTION_ARG_FILENAME, &o.fill_c, N_("Temperature of filling"), N_("C") },
    { "nominal", 0, 0, G_OPTION_ARG_FILENAME, &o.nominal, N_("Declared content, if not as the recipe says"), N_("N") },
    { "unit", 0, 0, G_OPTION_ARG_FILENAME, &o.unit, N_("Unit of the declared content: g or ml"), N_("UNIT") },
    { "capacity-ml", 0, 0, G_OPTION_ARG_FILENAME, &o.capacity_ml, N_("What the container holds to the brim"), N_("ML") },
    { "applicator-ml", 0, 0, G_OPTION_ARG_FILENAME, &o.applicator_ml, N_("What the applicator takes up"), N_("ML") },
    { "balance", 'b', 0, G_OPTION_ARG_FILENAME_ARRAY, &o.balances,
      N_("Balance: name, readability, capacity and perhaps repeatability in g; may be given several times"),
      N_("NAME,D,MAX[,S]") },
    { "pack", 'p', 0, G_OPTION_ARG_FILENAME_ARRAY, &o.packs,
      N_("Pack on offer: the cheapest way to buy is worked out; may be given several times"), N_("ID,G,PRICE,CURRENCY") },
    { "filled", 0, 0, G_OPTION_ARG_FILENAME, &o.filled,
      N_("Weights of filled containers, listed or in a file, to check the content"), N_("LIST") },
    { "tare", 0, 0, G_OPTION_ARG_FILENAME, &o.tare, N_("Weight of an empty container with its closure"), N_("G") },
    { "ledger", 0, 0, G_OPTION_ARG_FILENAME, &o.ledger, N_("Ledger of the workshop: stock and prices"), N_("FILE") },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &o.output,
      N_("Batch record to fill in at the bench: .pdf, .png, .svg, .html or .md"), N_("OUT") },
    { "number", 0, 0, G_OPTION_ARG_FILENAME, &o.number, N_("Batch number on the record"), N_("TEXT") },
    { "bench-log", 0, 0, G_OPTION_ARG_FILENAME, &o.log, N_("Readings of neat materials to learn from"), N_("LOG") },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GPtrArray) balances = NULL;
  g_auto (OgBatchSheet) sheet = { .packs = g_array_new (FALSE, FALSE, sizeof (OgPack)) };
  OgBatchOptions options;

  g_array_set_clear_func (sheet.packs, (GDestroyNotify) pack_clear);
  if (!og_call_parse (call, entries, 1, 1, error))
    return OG_EXIT_DONE;
  balances = read_balances (o.balances, error);
  if (balances == NULL || !plan (call, &o, &options, balances, &sheet, error))
    return OG_EXIT_USAGE;

  if (call->json)
    og_batch_sheet_put_json (call, &sheet);
  else
    og_batch_sheet_put_text (call, &sheet);

  return status_of (&sheet);
}
