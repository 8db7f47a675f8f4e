/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "cli/ledger-report.h"
#include "cli/verbs.h"
#include "core/base/number-text.h"
#include "core/recipe/recipe-table.h"

#define MOST_ARGUMENTS 1000
#define USUAL_LIMIT 100

/* Options that take a text. */
typedef enum
{
  TEXT_LEDGER,
  TEXT_DATE,
  TEXT_WHO,
  TEXT_NOTE,
  TEXT_LOT,
  TEXT_GRAMS,
  TEXT_PRICE,
  TEXT_CURRENCY,
  TEXT_PACK,
  TEXT_BEST_BEFORE,
  TEXT_SUPPLIER,
  TEXT_RECEIVED,
  TEXT_NAME,
  TEXT_OVERRIDE,
  TEXT_MATERIAL,
  TEXT_SEARCH,
  TEXT_STATE,
  TEXT_UNTIL,
  TEXT_BEFORE,
  TEXT_LIMIT,
  TEXT_NUMBER,
  TEXT_BALANCE,
  TEXT_WHAT,
  TEXT_PHASE,
  TEXT_DECISION,
  TEXT_VALUE,
  TEXT_TEMPERATURE,
  TEXT_STARTED,
  TEXT_ENDED,
  TEXT_COUNT,
  TEXT_UNITS,
  TEXT_LABEL,
  N_TEXTS
} Text;

typedef enum
{
  FLAG_ALL,
  FLAG_ALLOW_NEGATIVE,
  FLAG_ALLOW_UNWEIGHED,
  FLAG_WASTED,
  N_FLAGS
} Flag;

#define N_OPTIONS (N_TEXTS + N_FLAGS + 1)
#define CERTIFICATE (N_TEXTS + N_FLAGS)
#define BIT(option) (G_GUINT64_CONSTANT (1) << (option))
#define FLAG_BIT(flag) BIT (N_TEXTS + (flag))

static const struct
{
  const char *name, *summary, *argument;
} option_words[N_OPTIONS] = {
  [TEXT_LEDGER] = { "ledger", N_("The ledger; without it that of the user"), N_("FILE") },
  [TEXT_DATE] = { "date", N_("Day of the entry; without it today"), N_("YYYY-MM-DD") },
  [TEXT_WHO] = { "who", N_("Who did it"), N_("NAME") },
  [TEXT_NOTE] = { "note", N_("A note for the entry"), N_("TEXT") },
  [TEXT_LOT] = { "lot", N_("Lot"), N_("LOT") },
  [TEXT_GRAMS] = { "grams", N_("Amount in grams"), N_("G") },
  [TEXT_PRICE] = { "price", N_("Price of a pack, or of all without --pack-g"), N_("P") },
  [TEXT_CURRENCY] = { "currency", N_("Currency of the price"), N_("TEXT") },
  [TEXT_PACK] = { "pack-g", N_("What a pack holds, in grams"), N_("G") },
  [TEXT_BEST_BEFORE] = { "best-before", N_("Last day of the lot"), N_("YYYY-MM-DD") },
  [TEXT_SUPPLIER] = { "supplier", N_("Where it comes from"), N_("TEXT") },
  [TEXT_RECEIVED] = { "received", N_("Day on which the lot came"), N_("YYYY-MM-DD") },
  [TEXT_NAME] = { "name", N_("Name of a material that is not in the library"), N_("TEXT") },
  [TEXT_OVERRIDE] = { "override", N_("JSON file of members the lot has otherwise"), N_("FILE") },
  [TEXT_MATERIAL] = { "material", N_("Material of the lot, if several have one of the name"),
                      N_("ID") },
  [TEXT_SEARCH] = { "search", N_("Part of a name"), N_("TEXT") },
  [TEXT_STATE] = { "state", N_("planned, running, closed or abandoned"), N_("STATE") },
  [TEXT_UNTIL] = { "until", N_("Lots to be used, or samples to be kept, up to this day"),
                   N_("YYYY-MM-DD") },
  [TEXT_BEFORE] = { "before", N_("Go on below this entry or batch id"), N_("N") },
  [TEXT_LIMIT] = { "limit", N_("At most so many rows"), N_("N") },
  [TEXT_NUMBER] = { "number", N_("Number of the new batch"), N_("TEXT") },
  [TEXT_BALANCE] = { "balance", N_("Which balance was used"), N_("NAME") },
  [TEXT_WHAT] = { "text", N_("What was done or seen, a place or a path"), N_("TEXT") },
  [TEXT_PHASE] = { "phase", N_("Phase of the recipe"), N_("NAME") },
  [TEXT_DECISION] = { "decision", N_("What was decided"), N_("TEXT") },
  [TEXT_VALUE] = { "value", N_("What was measured"), N_("TEXT") },
  [TEXT_TEMPERATURE] = { "temperature", N_("Temperature in °C"), N_("C") },
  [TEXT_STARTED] = { "started", N_("Beginning, local time"), N_("YYYY-MM-DDTHH:MM:SS") },
  [TEXT_ENDED] = { "ended", N_("End, local time"), N_("YYYY-MM-DDTHH:MM:SS") },
  [TEXT_COUNT] = { "count", N_("How many samples"), N_("N") },
  [TEXT_UNITS] = { "units", N_("How many units were made"), N_("N") },
  [TEXT_LABEL] = { "label", N_("Version of the label"), N_("TEXT") },
  [N_TEXTS + FLAG_ALL] = { "all", N_("Also lots with nothing left"), NULL },
  [N_TEXTS + FLAG_ALLOW_NEGATIVE] = { "allow-negative", N_("Take more than there is"), NULL },
  [N_TEXTS + FLAG_ALLOW_UNWEIGHED] = { "allow-unweighed", N_("Close with lines not weighed"),
                                       NULL },
  [N_TEXTS + FLAG_WASTED] = { "wasted", N_("What was weighed is lost"), NULL },
  [CERTIFICATE] = { "certificate", N_("A figure of the certificate, such as iodine_value=84"),
                    N_("FIGURE=VALUE[@C]") },
};

typedef struct _Subject Subject;

/* One request to the ledger. */
typedef struct
{
  OgCall        *call;
  const Subject *subject;
  char         **rest;             /* arguments behind the subject */
  char          *text[N_TEXTS];
  gboolean       flag[N_FLAGS];
  char         **certificate;
  OgLedger      *ledger;
  OgCatalog     *catalog;
} Request;

struct _Subject
{
  const char *name;
  guint       least, most; /* arguments behind it */
  gboolean    writes;
  guint64     options;     /* besides --ledger; those that write take --date, --who and --note */
  gboolean (*run) (Request *request, GError **error);
};

static void
request_clear (Request *request)
{
  for (guint i = 0; i < N_TEXTS; i++)
    g_free (request->text[i]);
  g_strfreev (request->certificate);
  g_clear_object (&request->ledger);
  g_clear_pointer (&request->catalog, og_catalog_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Request, request_clear)

static gboolean G_GNUC_PRINTF (2, 3)
refuse (GError     **error,
        const char  *format,
        ...)
{
  g_autofree char *text = NULL;
  va_list args;

  va_start (args, format);
  text = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error_literal (error, OG_CLI_ERROR, OG_CLI_ERROR_USAGE, text);

  return FALSE;
}

/* --- values ------------------------------------------------------------------ */

static OgLedgerNote
note_of (const Request *request)
{
  return (OgLedgerNote) { request->text[TEXT_DATE], request->text[TEXT_WHO],
                          request->text[TEXT_NOTE] };
}

/* @value: (out): NAN if the option was not given */
static gboolean
number_of (const Request  *request,
           Text            option,
           double         *value,
           GError        **error)
{
  char *texts[] = { request->text[option], NULL };
  g_autofree char *name = g_strconcat ("--", option_words[option].name, NULL);
  g_autoptr (GArray) numbers
    = og_call_parse_numbers (name, texts, -G_MAXDOUBLE, G_MAXDOUBLE, error);

  if (numbers == NULL)
    return FALSE;
  *value = numbers->len > 0 ? g_array_index (numbers, double, 0) : NAN;

  return TRUE;
}

static gboolean
parse_mg (const char  *what,
          const char  *text,
          gint64      *mg,
          GError     **error)
{
  char *texts[] = { (char *) text, NULL };
  const double most_g = og_ledger_mg_to_g (OG_LEDGER_MAX_MG);
  g_autoptr (GArray) numbers = og_call_parse_numbers (what, texts, -most_g, most_g, error);

  return numbers != NULL && og_ledger_g_to_mg (g_array_index (numbers, double, 0), mg);
}

/* @mg: (out): 0 if the option was not given */
static gboolean
mg_of (const Request  *request,
       Text            option,
       gint64         *mg,
       GError        **error)
{
  g_autofree char *name = g_strconcat ("--", option_words[option].name, NULL);

  *mg = 0;

  return request->text[option] == NULL || parse_mg (name, request->text[option], mg, error);
}

static gboolean
parse_whole (const char  *what,
             const char  *text,
             gint64       low,
             gint64       high,
             gint64      *value,
             GError     **error)
{
  g_autoptr (GError) reason = NULL;

  if (g_ascii_string_to_signed (text, 10, low, high, value, &reason))
    return TRUE;

  return refuse (error, _("%s: “%s” is not a whole number of %lld … %lld"), what, text,
                 (long long) low, (long long) high);
}

/* @value: (inout): stays if the option was not given */
static gboolean
whole_of (const Request  *request,
          Text            option,
          gint64          low,
          gint64          high,
          gint64         *value,
          GError        **error)
{
  g_autofree char *name = g_strconcat ("--", option_words[option].name, NULL);

  return request->text[option] == NULL
         || parse_whole (name, request->text[option], low, high, value, error);
}

static gboolean
need (const Request  *request,
      Text            option,
      GError        **error)
{
  return request->text[option] != NULL
         || refuse (error, _("--%s is needed"), option_words[option].name);
}

/* @moment: (out): 0 if the option was not given */
static gboolean
moment_of (const Request  *request,
           Text            option,
           gint64         *moment,
           GError        **error)
{
  g_autoptr (GTimeZone) zone = g_time_zone_new_local ();
  g_autoptr (GDateTime) time = NULL;

  *moment = 0;
  if (request->text[option] == NULL)
    return TRUE;
  time = g_date_time_new_from_iso8601 (request->text[option], zone);
  if (time == NULL)
    return refuse (error, _("--%s: “%s” is not a moment such as 2024-05-17T09:30:00"),
                   option_words[option].name, request->text[option]);
  *moment = g_date_time_to_unix (time);

  return TRUE;
}

/* Returns: (transfer none): the id of a material of the library by any name of it; own materials of
 * the workshop are known by their id only */
static const char *
material_of (const Request *request,
             const char    *text)
{
  const OgIngredient *ingredient = og_catalog_resolve (request->catalog, text, NULL);

  return ingredient != NULL ? ingredient->id : text;
}

/* An endless device must not fill the memory. */
static gboolean
read_file (const char  *path,
           char       **text,
           gsize       *length,
           GError     **error)
{
  g_autofree char *name = NULL;

  if (!g_file_test (path, G_FILE_TEST_EXISTS) || g_file_test (path, G_FILE_TEST_IS_REGULAR))
    return g_file_get_contents (path, text, length, error);
  name = g_filename_display_name (path);
  g_set_error (error, G_IO_ERROR, G_IO_ERROR_NOT_REGULAR_FILE, _("%s: This is not a file."), name);

  return FALSE;
}

/* --- what entries answer ------------------------------------------------------- */

static void
put_left (Request     *request,
          gint64       entry,
          const OgLot *lot)
{
  g_autoptr (JsonBuilder) builder = NULL;
  g_autoptr (JsonNode) root = NULL;

  if (!request->call->json)
    {
      g_autofree char *left_g
        = og_number_trimmed (og_ledger_mg_to_g (lot->left_mg), OG_LEDGER_G_DECIMALS);

      /* Translators: number of an entry, material, lot, grams */
      g_string_append_printf (request->call->out, _("Entry %lld: %s, lot %s: %s g left\n"),
                              (long long) entry, lot->material_id, lot->code, left_g);
      return;
    }
  builder = json_builder_new ();
  json_builder_begin_object (builder);
  json_builder_set_member_name (builder, "entry");
  json_builder_add_int_value (builder, entry);
  og_json_add_string (builder, "ingredient", lot->material_id);
  og_json_add_string (builder, "lot", lot->code);
  og_json_add_number (builder, "left_g", og_ledger_mg_to_g (lot->left_mg));
  json_builder_end_object (builder);
  root = json_builder_get_root (builder);
  og_call_put_json (request->call, root);
}

static gboolean
answer_entry (Request     *request,
              gint64       entry,
              const char  *material_id,
              const char  *code,
              GError     **error)
{
  g_autoptr (OgLot) lot = NULL;

  if (entry == 0)
    return FALSE;
  lot = og_ledger_get_lot (request->ledger, material_id, code, error);
  if (lot == NULL)
    return FALSE;
  put_left (request, entry, lot);

  return TRUE;
}

/* An object with one member, which is a text or, without one, a number */
static void
put_member (Request    *request,
            const char *member,
            const char *text,
            gint64      number)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autoptr (JsonNode) root = NULL;

  json_builder_begin_object (builder);
  json_builder_set_member_name (builder, member);
  if (text != NULL)
    json_builder_add_string_value (builder, text);
  else
    json_builder_add_int_value (builder, number);
  json_builder_end_object (builder);
  root = json_builder_get_root (builder);
  og_call_put_json (request->call, root);
}

static gboolean
answer_list (Request   *request,
             OgReport   report,
             GPtrArray *list)
{
  g_autoptr (GPtrArray) owned = list;

  if (owned == NULL)
    return FALSE;
  og_report_put (request->call, report, owned);

  return TRUE;
}

/* --- stock ----------------------------------------------------------------------- */

/* "iodine_value=84.5", "density_g_ml=0.96@20" */
static gboolean
read_figure (OgLot       *lot,
             const char  *text,
             GError     **error)
{
  g_autofree char *nick = g_strdup (text);
  char *number = strchr (nick, '=');
  char *at = number != NULL ? strchr (number, '@') : NULL;
  OgCertificateValue value = { .at_c = NAN };

  if (number != NULL)
    *number++ = '\0';
  if (at != NULL)
    *at++ = '\0';
  if (number == NULL || !og_figure_id_from_nick (nick, &value.figure)
      || !og_parse_number (number, &value.value)
      || (at != NULL && !og_parse_number (at, &value.at_c)))
    return refuse (error, _("--certificate: “%s” is not FIGURE=VALUE or FIGURE=VALUE@C"), text);
  g_array_append_val (lot->certificate, value);

  return TRUE;
}

static gboolean
read_certificate (Request  *request,
                  OgLot    *lot,
                  GError  **error)
{
  for (guint i = 0; request->certificate != NULL && request->certificate[i] != NULL; i++)
    {
      if (!og_call_check_text ("--certificate", request->certificate[i], error)
          || !read_figure (lot, request->certificate[i], error))
        return FALSE;
    }

  return request->text[TEXT_OVERRIDE] == NULL
         || read_file (request->text[TEXT_OVERRIDE], &lot->override_json, NULL, error);
}

/* A material of the library, or one that is given a name. */
static gboolean
name_material (Request     *request,
               const char  *text,
               OgLot       *lot,
               GError     **error)
{
  const OgIngredient *ingredient;

  if (request->text[TEXT_NAME] != NULL)
    {
      lot->material_id = g_strdup (text);
      lot->material_name = g_strdup (request->text[TEXT_NAME]);
      return TRUE;
    }
  ingredient = og_catalog_resolve (request->catalog, text, NULL);
  if (ingredient == NULL)
    return refuse (error, _("“%s” is not in the library; --name takes it in as it is"), text);
  lot->material_id = g_strdup (ingredient->id);
  lot->material_name = g_strdup (ingredient->name);

  return TRUE;
}

static gboolean
run_receive (Request  *request,
             GError  **error)
{
  const OgLedgerNote note = note_of (request);
  g_autoptr (OgLot) lot = og_lot_new ();
  gint64 amount_mg;

  lot->code = g_strdup (request->text[TEXT_LOT]);
  lot->supplier = g_strdup (request->text[TEXT_SUPPLIER]);
  lot->received = g_strdup (request->text[TEXT_RECEIVED]);
  lot->best_before = g_strdup (request->text[TEXT_BEST_BEFORE]);
  lot->currency = g_strdup (request->text[TEXT_CURRENCY]);
  if (!need (request, TEXT_LOT, error) || !need (request, TEXT_GRAMS, error)
      || !name_material (request, request->rest[0], lot, error)
      || !mg_of (request, TEXT_GRAMS, &amount_mg, error)
      || !mg_of (request, TEXT_PACK, &lot->pack_mg, error)
      || !number_of (request, TEXT_PRICE, &lot->price, error)
      || !read_certificate (request, lot, error))
    return FALSE;

  return answer_entry (request, og_ledger_receive (request->ledger, lot, amount_mg, &note, error),
                       lot->material_id, lot->code, error);
}

static gboolean
put_lot (Request     *request,
         const char  *material_id,
         const char  *code,
         GError     **error)
{
  g_autoptr (OgLot) lot = og_ledger_get_lot (request->ledger, material_id, code, error);
  g_autoptr (OgIngredient) made = NULL;
  const OgIngredient *base;

  if (lot == NULL)
    return FALSE;
  base = og_catalog_get (request->catalog, lot->material_id);
  if (base != NULL)
    {
      made = og_ledger_lot_to_ingredient (lot, base, error);
      if (made == NULL)
        return FALSE;
    }
  og_report_put_lot (request->call, lot, made);

  return TRUE;
}

static gboolean
run_complete (Request  *request,
              GError  **error)
{
  g_autoptr (OgLot) lot = og_lot_new ();

  lot->material_id = g_strdup (material_of (request, request->rest[0]));
  lot->code = g_strdup (request->rest[1]);
  lot->supplier = g_strdup (request->text[TEXT_SUPPLIER]);
  lot->best_before = g_strdup (request->text[TEXT_BEST_BEFORE]);
  lot->currency = g_strdup (request->text[TEXT_CURRENCY]);

  return mg_of (request, TEXT_PACK, &lot->pack_mg, error)
         && number_of (request, TEXT_PRICE, &lot->price, error)
         && read_certificate (request, lot, error)
         && og_ledger_complete_lot (request->ledger, lot, error)
         && put_lot (request, lot->material_id, lot->code, error);
}

static gboolean
run_take (Request        *request,
          OgJournalKind   kind,
          GError        **error)
{
  const OgLedgerNote note = note_of (request);
  const char *material_id = material_of (request, request->rest[0]);
  const char *lot = request->text[TEXT_LOT];
  gint64 amount_mg, entry;

  if (!need (request, TEXT_LOT, error) || !need (request, TEXT_GRAMS, error)
      || !mg_of (request, TEXT_GRAMS, &amount_mg, error))
    return FALSE;
  entry = kind == OG_JOURNAL_CORRECTION
            ? og_ledger_correct (request->ledger, material_id, lot, amount_mg,
                                 request->flag[FLAG_ALLOW_NEGATIVE], &note, error)
            : og_ledger_take (request->ledger, kind, material_id, lot, amount_mg,
                              request->flag[FLAG_ALLOW_NEGATIVE], &note, error);

  return answer_entry (request, entry, material_id, lot, error);
}

static gboolean
run_use (Request  *request,
         GError  **error)
{
  return run_take (request, OG_JOURNAL_USE, error);
}

static gboolean
run_waste (Request  *request,
           GError  **error)
{
  return run_take (request, OG_JOURNAL_WASTE, error);
}

static gboolean
run_correct (Request  *request,
             GError  **error)
{
  return run_take (request, OG_JOURNAL_CORRECTION, error);
}

static gboolean
run_reverse (Request  *request,
             GError  **error)
{
  const OgLedgerNote note = note_of (request);
  g_autoptr (GPtrArray) made = NULL;
  const OgJournalEntry *entry;
  gint64 id;

  if (!parse_whole (_("entry"), request->rest[0], 1, G_MAXINT64, &id, error))
    return FALSE;
  id = og_ledger_reverse (request->ledger, id, request->flag[FLAG_ALLOW_NEGATIVE], &note, error);
  made = id != 0 ? og_ledger_list_journal (request->ledger, NULL, NULL, id + 1, 1, error) : NULL;
  if (made == NULL || made->len == 0)
    return FALSE;
  entry = g_ptr_array_index (made, 0);

  return answer_entry (request, id, entry->material_id, entry->lot, error);
}

static gboolean
run_count (Request  *request,
           GError  **error)
{
  const OgLedgerNote note = note_of (request);
  const char *material_id = material_of (request, request->rest[0]);
  gint64 counted_mg;

  if (!parse_mg (_("grams"), request->rest[2], &counted_mg, error))
    return FALSE;

  return answer_entry (request,
                       og_ledger_count (request->ledger, material_id, request->rest[1],
                                        counted_mg, &note, error),
                       material_id, request->rest[1], error);
}

static gboolean
run_stock (Request  *request,
           GError  **error)
{
  return answer_list (request, OG_REPORT_STOCK,
                      og_ledger_list_stock (request->ledger, request->text[TEXT_SEARCH], error));
}

static gboolean
run_lots (Request  *request,
          GError  **error)
{
  const char *material_id
    = request->rest[0] != NULL ? material_of (request, request->rest[0]) : NULL;

  return answer_list (request, OG_REPORT_LOTS,
                      og_ledger_list_lots (request->ledger, material_id, request->flag[FLAG_ALL],
                                           request->text[TEXT_UNTIL], error));
}

/* Returns: (transfer none) (nullable): the id of --material */
static const char *
given_material (const Request *request)
{
  return request->text[TEXT_MATERIAL] != NULL
           ? material_of (request, request->text[TEXT_MATERIAL])
           : NULL;
}

static gboolean
run_lot (Request  *request,
         GError  **error)
{
  return put_lot (request, given_material (request), request->rest[0], error);
}

static gboolean
run_where (Request  *request,
           GError  **error)
{
  return answer_list (request, OG_REPORT_USES,
                      og_ledger_where_lot_went (request->ledger, given_material (request),
                                                request->rest[0], error));
}

static gboolean
run_journal (Request  *request,
             GError  **error)
{
  const char *material_id
    = request->rest[0] != NULL ? material_of (request, request->rest[0]) : NULL;
  gint64 before = 0, limit = USUAL_LIMIT;

  return whole_of (request, TEXT_BEFORE, 1, G_MAXINT64, &before, error)
         && whole_of (request, TEXT_LIMIT, 1, G_MAXINT32, &limit, error)
         && answer_list (request, OG_REPORT_JOURNAL,
                         og_ledger_list_journal (request->ledger, material_id,
                                                 request->text[TEXT_LOT], before, (guint) limit,
                                                 error));
}

static gboolean
run_offer (Request  *request,
           GError  **error)
{
  g_autoptr (OgLot) named = og_lot_new ();
  OgOffer offer = { .supplier = request->text[TEXT_SUPPLIER],
                    .currency = request->text[TEXT_CURRENCY],
                    .day = request->text[TEXT_DATE] };

  if (!need (request, TEXT_SUPPLIER, error) || !need (request, TEXT_PACK, error)
      || !need (request, TEXT_PRICE, error)
      || !name_material (request, request->rest[0], named, error)
      || !mg_of (request, TEXT_PACK, &offer.pack_mg, error)
      || !number_of (request, TEXT_PRICE, &offer.price, error))
    return FALSE;
  offer.material_id = named->material_id;
  offer.material_name = named->material_name;
  if (og_ledger_add_offer (request->ledger, &offer, error) == 0)
    return FALSE;

  return answer_list (request, OG_REPORT_OFFERS,
                      og_ledger_list_offers (request->ledger, named->material_id, error));
}

static gboolean
run_offers (Request  *request,
            GError  **error)
{
  const char *material_id
    = request->rest[0] != NULL ? material_of (request, request->rest[0]) : NULL;

  return answer_list (request, OG_REPORT_OFFERS,
                      og_ledger_list_offers (request->ledger, material_id, error));
}

/* --- batches ------------------------------------------------------------------------ */

static gboolean
put_batch (Request     *request,
           const char  *number,
           GError     **error)
{
  g_autoptr (OgBatch) batch = og_ledger_get_batch (request->ledger, number, error);
  g_autoptr (GPtrArray) lots
    = batch != NULL ? og_ledger_list_batch_lots (request->ledger, number, error) : NULL;

  if (lots == NULL)
    return FALSE;
  og_report_put_batch (request->call, batch, lots);

  return TRUE;
}

static gboolean
run_batch (Request  *request,
           GError  **error)
{
  const OgLedgerNote note = note_of (request);
  g_auto (OgRecipe) recipe = { 0 };
  g_autofree char *number = NULL;
  gint64 batch_mg;

  if (!og_recipe_read (&recipe, request->rest[0], error))
    return FALSE;
  if (!og_ledger_g_to_mg (recipe.formula->batch_g, &batch_mg))
    batch_mg = 0;
  if (request->text[TEXT_GRAMS] != NULL && !mg_of (request, TEXT_GRAMS, &batch_mg, error))
    return FALSE;
  number = og_ledger_plan_batch (request->ledger, recipe.formula, recipe.catalog, batch_mg,
                                 request->text[TEXT_NUMBER], &note, error);

  return number != NULL && put_batch (request, number, error);
}

static gboolean
run_weigh (Request  *request,
           GError  **error)
{
  OgWeighing weighing = { .lot = request->text[TEXT_LOT],
                          .balance = request->text[TEXT_BALANCE],
                          .who = request->text[TEXT_WHO] };
  gint64 line;

  if (!need (request, TEXT_GRAMS, error)
      || !parse_whole (_("line"), request->rest[1], 1, G_MAXINT32, &line, error)
      || !mg_of (request, TEXT_GRAMS, &weighing.amount_mg, error)
      || !moment_of (request, TEXT_STARTED, &weighing.weighed_at, error))
    return FALSE;
  weighing.line = (guint) line;

  return og_ledger_weigh (request->ledger, request->rest[0], &weighing, error) != 0
         && answer_list (request, OG_REPORT_BATCH_LOTS,
                         og_ledger_list_batch_lots (request->ledger, request->rest[0], error));
}

static char *
list_entry_kinds (void)
{
  GString *list = g_string_new (NULL);

  for (guint i = 0; i < OG_N_BATCH_ENTRY_KINDS; i++)
    g_string_append_printf (list, "%s%s", i > 0 ? ", " : "",
                            og_batch_entry_kind_to_nick ((OgBatchEntryKind) i));

  return g_string_free (list, FALSE);
}

static gboolean
read_entry (Request       *request,
            OgBatchEntry  *entry,
            GError       **error)
{
  gint64 count = 0;

  entry->text = g_strdup (request->text[TEXT_WHAT]);
  entry->phase = g_strdup (request->text[TEXT_PHASE]);
  entry->decision = g_strdup (request->text[TEXT_DECISION]);
  entry->value = g_strdup (request->text[TEXT_VALUE]);
  entry->until = g_strdup (request->text[TEXT_UNTIL]);
  entry->who = g_strdup (request->text[TEXT_WHO]);
  entry->note = g_strdup (request->text[TEXT_NOTE]);
  if (!number_of (request, TEXT_TEMPERATURE, &entry->temperature_c, error)
      || !moment_of (request, TEXT_STARTED, &entry->started_at, error)
      || !moment_of (request, TEXT_ENDED, &entry->ended_at, error)
      || !whole_of (request, TEXT_COUNT, 1, G_MAXINT32, &count, error)
      || !mg_of (request, TEXT_GRAMS, &entry->amount_mg, error))
    return FALSE;
  entry->count = (guint) count;

  return TRUE;
}

static gboolean
run_record (Request  *request,
            GError  **error)
{
  g_autoptr (OgBatchEntry) entry = NULL;
  g_autofree char *known = list_entry_kinds ();
  OgBatchEntryKind kind;

  if (!og_batch_entry_kind_from_nick (request->rest[1], &kind))
    return refuse (error, _("“%s” is none of: %s"), request->rest[1], known);
  entry = og_batch_entry_new (kind);

  return read_entry (request, entry, error)
         && og_ledger_add_batch_entry (request->ledger, request->rest[0], entry, error) != 0
         && put_batch (request, request->rest[0], error);
}

static gboolean
run_output (Request  *request,
            GError  **error)
{
  gint64 units = -1;

  return whole_of (request, TEXT_UNITS, 0, G_MAXINT32, &units, error)
         && og_ledger_set_batch_output (request->ledger, request->rest[0], (int) units,
                                        request->text[TEXT_LABEL], error)
         && put_batch (request, request->rest[0], error);
}

static OgCloseFlags
close_flags (const Request *request)
{
  return (request->flag[FLAG_ALLOW_NEGATIVE] ? OG_CLOSE_ALLOW_NEGATIVE : 0)
         | (request->flag[FLAG_ALLOW_UNWEIGHED] ? OG_CLOSE_ALLOW_UNWEIGHED : 0);
}

static gboolean
run_close (Request  *request,
           GError  **error)
{
  const OgLedgerNote note = note_of (request);

  return og_ledger_close_batch (request->ledger, request->rest[0], close_flags (request), &note,
                                error)
         && put_batch (request, request->rest[0], error);
}

static gboolean
run_abandon (Request  *request,
             GError  **error)
{
  const OgLedgerNote note = note_of (request);

  return og_ledger_abandon_batch (request->ledger, request->rest[0], request->flag[FLAG_WASTED],
                                  close_flags (request), &note, error)
         && put_batch (request, request->rest[0], error);
}

static gboolean
run_release (Request  *request,
             GError  **error)
{
  const OgLedgerNote note = note_of (request);

  return need (request, TEXT_WHO, error)
         && og_ledger_release_batch (request->ledger, request->rest[0], &note, error)
         && put_batch (request, request->rest[0], error);
}

static gboolean
run_batch_show (Request  *request,
                GError  **error)
{
  return put_batch (request, request->rest[0], error);
}

static gboolean
run_batches (Request  *request,
             GError  **error)
{
  gint64 before = 0, limit = USUAL_LIMIT;
  OgBatchState state = OG_BATCH_PLANNED;
  const char *nick = request->text[TEXT_STATE];

  if (nick != NULL && !og_batch_state_from_nick (nick, &state))
    return refuse (error, _("--state: “%s” is none of: planned, running, closed, abandoned"), nick);

  return whole_of (request, TEXT_BEFORE, 1, G_MAXINT64, &before, error)
         && whole_of (request, TEXT_LIMIT, 1, G_MAXINT32, &limit, error)
         && answer_list (request, OG_REPORT_BATCHES,
                         og_ledger_list_batches (request->ledger, request->text[TEXT_SEARCH],
                                                 nick != NULL ? (int) state : -1, before,
                                                 (guint) limit, error));
}

/* "FILE=GRAMS"; a name may hold "=" itself */
static gboolean
read_plan (Request         *request,
           const char      *text,
           OgPlannedBatch  *plan,
           GError         **error)
{
  const char *sign = strrchr (text, '=');
  g_autofree char *path = sign != NULL ? g_strndup (text, (gsize) (sign - text)) : NULL;

  if (path == NULL)
    return refuse (error, _("“%s” is not FILE=GRAMS"), text);
  if (!parse_mg (_("grams"), sign + 1, &plan->batch_mg, error))
    return FALSE;
  plan->formula = og_recipe_load (path, request->catalog, error);

  return plan->formula != NULL;
}

static gboolean
run_shopping (Request  *request,
              GError  **error)
{
  const guint n = g_strv_length (request->rest);
  g_autofree OgPlannedBatch *plans = g_new0 (OgPlannedBatch, n);
  gboolean done = TRUE;

  for (guint i = 0; i < n && done; i++)
    done = read_plan (request, request->rest[i], &plans[i], error);
  done = done
         && answer_list (request, OG_REPORT_SHOPPING,
                         og_ledger_list_shopping (request->ledger, plans, n, request->catalog,
                                                  error));
  for (guint i = 0; i < n; i++)
    g_clear_pointer ((OgFormula **) &plans[i].formula, og_formula_free);

  return done;
}

/* --- tables ------------------------------------------------------------------------- */

static char *
list_tables (void)
{
  GString *list = g_string_new (NULL);

  for (guint i = 0; i < OG_N_LEDGER_TABLES; i++)
    g_string_append_printf (list, "%s%s", i > 0 ? ", " : "",
                            og_ledger_table_to_nick ((OgLedgerTable) i));

  return g_string_free (list, FALSE);
}

static gboolean
run_export (Request  *request,
            GError  **error)
{
  g_autofree char *known = list_tables ();
  g_autofree char *csv = NULL;
  OgLedgerTable table;

  if (!og_ledger_table_from_nick (request->rest[0], &table))
    return refuse (error, _("“%s” is none of: %s"), request->rest[0], known);
  csv = og_ledger_export (request->ledger, table, error);
  if (csv == NULL)
    return FALSE;
  if (request->call->json)
    put_member (request, "csv", csv, 0);
  else
    g_string_append (request->call->out, csv);

  return TRUE;
}

static gboolean
run_import (Request  *request,
            GError  **error)
{
  const OgLedgerNote note = note_of (request);
  g_autofree char *name = g_filename_display_name (request->rest[0]);
  g_autofree char *text = NULL;
  gsize length;
  guint n;

  if (!read_file (request->rest[0], &text, &length, error)
      || !og_ledger_import_receipts (request->ledger, text, (gssize) length, name,
                                     request->catalog, &note, &n, error))
    return FALSE;
  if (request->call->json)
    put_member (request, "receipts", NULL, n);
  else
    g_string_append_printf (request->call->out,
                            ngettext ("%u receipt recorded\n", "%u receipts recorded\n", n), n);

  return TRUE;
}

/* --- the call ------------------------------------------------------------------------- */

#define PRICE_BITS (BIT (TEXT_PRICE) | BIT (TEXT_CURRENCY) | BIT (TEXT_PACK))
#define PAGE_BITS (BIT (TEXT_BEFORE) | BIT (TEXT_LIMIT))
#define TAKE_BITS (BIT (TEXT_LOT) | BIT (TEXT_GRAMS) | FLAG_BIT (FLAG_ALLOW_NEGATIVE))
#define NOTE_BITS (BIT (TEXT_DATE) | BIT (TEXT_WHO) | BIT (TEXT_NOTE))

static const Subject subjects[] = {
  { "receive", 1, 1, TRUE,
    NOTE_BITS | PRICE_BITS | BIT (TEXT_LOT) | BIT (TEXT_GRAMS) | BIT (TEXT_BEST_BEFORE)
    | BIT (TEXT_SUPPLIER) | BIT (TEXT_RECEIVED) | BIT (TEXT_NAME) | BIT (TEXT_OVERRIDE)
    | BIT (CERTIFICATE), run_receive },
  { "complete", 2, 2, TRUE,
    PRICE_BITS | BIT (TEXT_BEST_BEFORE) | BIT (TEXT_SUPPLIER) | BIT (TEXT_OVERRIDE)
    | BIT (CERTIFICATE), run_complete },
  { "use", 1, 1, TRUE, NOTE_BITS | TAKE_BITS, run_use },
  { "waste", 1, 1, TRUE, NOTE_BITS | TAKE_BITS, run_waste },
  { "correct", 1, 1, TRUE, NOTE_BITS | TAKE_BITS, run_correct },
  { "reverse", 1, 1, TRUE, NOTE_BITS | FLAG_BIT (FLAG_ALLOW_NEGATIVE), run_reverse },
  { "count", 3, 3, TRUE, NOTE_BITS, run_count },
  { "stock", 0, 0, FALSE, BIT (TEXT_SEARCH), run_stock },
  { "lots", 0, 1, FALSE, BIT (TEXT_UNTIL) | FLAG_BIT (FLAG_ALL), run_lots },
  { "lot", 1, 1, FALSE, BIT (TEXT_MATERIAL), run_lot },
  { "where", 1, 1, FALSE, BIT (TEXT_MATERIAL), run_where },
  { "journal", 0, 1, FALSE, PAGE_BITS | BIT (TEXT_LOT), run_journal },
  { "offer", 1, 1, TRUE,
    PRICE_BITS | BIT (TEXT_SUPPLIER) | BIT (TEXT_NAME) | BIT (TEXT_DATE), run_offer },
  { "offers", 0, 1, FALSE, 0, run_offers },
  { "batch", 1, 1, TRUE, NOTE_BITS | BIT (TEXT_GRAMS) | BIT (TEXT_NUMBER), run_batch },
  { "weigh", 2, 2, TRUE,
    BIT (TEXT_WHO) | BIT (TEXT_LOT) | BIT (TEXT_GRAMS) | BIT (TEXT_BALANCE) | BIT (TEXT_STARTED),
    run_weigh },
  { "record", 2, 2, TRUE,
    BIT (TEXT_WHO) | BIT (TEXT_NOTE) | BIT (TEXT_WHAT) | BIT (TEXT_PHASE) | BIT (TEXT_DECISION)
    | BIT (TEXT_VALUE) | BIT (TEXT_TEMPERATURE) | BIT (TEXT_STARTED) | BIT (TEXT_ENDED)
    | BIT (TEXT_COUNT) | BIT (TEXT_UNTIL) | BIT (TEXT_GRAMS), run_record },
  { "output", 1, 1, TRUE, BIT (TEXT_UNITS) | BIT (TEXT_LABEL), run_output },
  { "close", 1, 1, TRUE,
    NOTE_BITS | FLAG_BIT (FLAG_ALLOW_NEGATIVE) | FLAG_BIT (FLAG_ALLOW_UNWEIGHED), run_close },
  { "abandon", 1, 1, TRUE,
    NOTE_BITS | FLAG_BIT (FLAG_ALLOW_NEGATIVE) | FLAG_BIT (FLAG_WASTED), run_abandon },
  { "release", 1, 1, TRUE, NOTE_BITS, run_release },
  { "batches", 0, 0, FALSE, PAGE_BITS | BIT (TEXT_SEARCH) | BIT (TEXT_STATE), run_batches },
  { "batch-show", 1, 1, FALSE, 0, run_batch_show },
  { "shopping", 1, MOST_ARGUMENTS, FALSE, 0, run_shopping },
  { "export", 1, 1, FALSE, 0, run_export },
  { "import", 1, 1, TRUE, NOTE_BITS, run_import },
};

static gboolean
find_subject (Request     *request,
              const char  *name,
              GError     **error)
{
  g_autoptr (GString) known = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (subjects); i++)
    {
      if (g_str_equal (subjects[i].name, name))
        {
          request->subject = &subjects[i];
          return TRUE;
        }
      g_string_append_printf (known, "%s%s", i > 0 ? ", " : "", subjects[i].name);
    }

  return refuse (error, _("“%s” is none of: %s"), name, known->str);
}

static gboolean
is_given (const Request *request,
          guint          option)
{
  if (option < N_TEXTS)
    return request->text[option] != NULL;
  if (option < CERTIFICATE)
    return request->flag[option - N_TEXTS];

  return request->certificate != NULL;
}

static gboolean
check_options (const Request  *request,
               GError        **error)
{
  const guint64 allowed = request->subject->options | BIT (TEXT_LEDGER);

  for (guint i = 0; i < N_OPTIONS; i++)
    {
      if (is_given (request, i) && (allowed & BIT (i)) == 0)
        return refuse (error, _("--%s says nothing about “ledger %s”"), option_words[i].name,
                       request->subject->name);
    }
  for (guint i = 0; i < N_TEXTS; i++)
    {
      g_autofree char *name = g_strconcat ("--", option_words[i].name, NULL);

      if (i != TEXT_LEDGER && i != TEXT_OVERRIDE
          && !og_call_check_text (name, request->text[i], error))
        return FALSE;
    }

  return request->text[TEXT_DATE] == NULL || og_ledger_is_day (request->text[TEXT_DATE])
         || refuse (error, _("--date: “%s” is not a day such as 2024-05-17"),
                    request->text[TEXT_DATE]);
}

static gboolean
check_arguments (const Request  *request,
                 GError        **error)
{
  const guint n = g_strv_length (request->rest);

  if (n < request->subject->least)
    return refuse (error, _("“ledger %s” needs one argument more"), request->subject->name);
  if (n > request->subject->most)
    return refuse (error, _("“%s” is one argument too many for “ledger %s”"),
                   request->rest[request->subject->most], request->subject->name);
  for (guint i = 0; i < n; i++)
    {
      if (!og_call_check_text (request->subject->name, request->rest[i], error))
        return FALSE;
    }

  return TRUE;
}

/* Each option in the place of its kind */
static gboolean
parse (Request  *request,
       GError  **error)
{
  GOptionEntry entries[N_OPTIONS + 1] = { 0 };

  for (guint i = 0; i < N_OPTIONS; i++)
    {
      entries[i].long_name = option_words[i].name;
      entries[i].description = option_words[i].summary;
      entries[i].arg_description = option_words[i].argument;
      if (i < N_TEXTS)
        {
          entries[i].arg = G_OPTION_ARG_FILENAME;
          entries[i].arg_data = &request->text[i];
        }
      else if (i < CERTIFICATE)
        {
          entries[i].arg = G_OPTION_ARG_NONE;
          entries[i].arg_data = &request->flag[i - N_TEXTS];
        }
      else
        {
          entries[i].arg = G_OPTION_ARG_FILENAME_ARRAY;
          entries[i].arg_data = &request->certificate;
        }
    }

  if (!og_call_parse (request->call, entries, 1, MOST_ARGUMENTS, error))
    return FALSE;
  request->rest = request->call->files + 1;

  return find_subject (request, request->call->files[0], error)
         && check_options (request, error) && check_arguments (request, error);
}

/* A file that was named is left as it is if it is damaged; that of the user is set aside. */
static gboolean
open_ledger (Request  *request,
             GError  **error)
{
  const char *given = request->text[TEXT_LEDGER];
  g_autofree char *path = given != NULL ? g_strdup (given) : og_ledger_default_path ();
  OgLedgerFlags flags = given != NULL ? OG_LEDGER_KEEP_DAMAGED : OG_LEDGER_DEFAULT;

  if (!request->subject->writes)
    flags |= OG_LEDGER_READ_ONLY;
  request->ledger = og_ledger_open (path, flags, NULL, error);
  if (request->ledger == NULL)
    return FALSE;
  if (og_ledger_get_set_aside (request->ledger) != NULL)
    {
      g_autofree char *aside
        = g_filename_display_name (og_ledger_get_set_aside (request->ledger));

      g_printerr (_("oleograph-cli: the ledger was damaged and has been set aside as %s\n"), aside);
    }

  return TRUE;
}

OgExit
og_verb_ledger (OgCall  *call,
                GError **error)
{
  g_auto (Request) request = { .call = call };

  if (!parse (&request, error))
    return OG_EXIT_DONE;
  request.catalog = og_call_load_catalog (error);
  if (request.catalog == NULL || !open_ledger (&request, error)
      || !request.subject->run (&request, error))
    return OG_EXIT_INTERNAL;

  return OG_EXIT_DONE;
}
