/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/ledger-request.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/number-text.h"

#define USUAL_LIMIT 100

const OgLedgerOption og_ledger_options[OG_N_LEDGER_OPTIONS] = {
  [OG_TEXT_LEDGER] = { "ledger", N_("The ledger; without it that of the user"), N_("FILE") },
  [OG_TEXT_DATE] = { "date", N_("Day of the entry; without it today"), N_("YYYY-MM-DD") },
  [OG_TEXT_WHO] = { "who", N_("Who did it"), N_("NAME") },
  [OG_TEXT_NOTE] = { "note", N_("A note for the entry"), N_("TEXT") },
  [OG_TEXT_LOT] = { "lot", N_("Lot"), N_("LOT") },
  [OG_TEXT_GRAMS] = { "grams", N_("Amount in grams"), N_("G") },
  [OG_TEXT_PRICE] = { "price", N_("Price of a pack, or of all without --pack-g"), N_("P") },
  [OG_TEXT_CURRENCY] = { "currency", N_("Currency of the price: a code of ISO 4217, such as EUR"), N_("CODE") },
  [OG_TEXT_PACK] = { "pack-g", N_("What a pack holds, in grams"), N_("G") },
  [OG_TEXT_BEST_BEFORE] = { "best-before", N_("Last day of the lot"), N_("YYYY-MM-DD") },
  [OG_TEXT_SUPPLIER] = { "supplier", N_("Where it comes from"), N_("TEXT") },
  [OG_TEXT_RECEIVED] = { "received", N_("Day on which the lot came"), N_("YYYY-MM-DD") },
  [OG_TEXT_NAME] = { "name", N_("Name of a material that is not in the library"), N_("TEXT") },
  [OG_TEXT_OVERRIDE] = { "override", N_("JSON file of members the lot has otherwise"), N_("FILE") },
  [OG_TEXT_MATERIAL] = { "material", N_("Material of the lot, if several have one of the name"),
                         N_("ID") },
  [OG_TEXT_SEARCH] = { "search", N_("Part of a name"), N_("TEXT") },
  [OG_TEXT_STATE] = { "state", N_("planned, running, closed or abandoned"), N_("STATE") },
  [OG_TEXT_UNTIL] = { "until", N_("Lots to be used, or samples to be kept, up to this day"),
                      N_("YYYY-MM-DD") },
  [OG_TEXT_BEFORE] = { "before", N_("Go on below this entry or batch id"), N_("N") },
  [OG_TEXT_LIMIT] = { "limit", N_("At most so many rows"), N_("N") },
  [OG_TEXT_NUMBER] = { "number", N_("Number of the new batch"), N_("TEXT") },
  [OG_TEXT_BALANCE] = { "balance", N_("Which balance was used"), N_("NAME") },
  [OG_TEXT_WHAT] = { "text", N_("What was done or seen, a place or a path"), N_("TEXT") },
  [OG_TEXT_PHASE] = { "phase", N_("Phase of the recipe"), N_("NAME") },
  [OG_TEXT_DECISION] = { "decision", N_("What was decided"), N_("TEXT") },
  [OG_TEXT_VALUE] = { "value", N_("What was measured"), N_("TEXT") },
  [OG_TEXT_TEMPERATURE] = { "temperature", N_("Temperature in °C"), N_("C") },
  [OG_TEXT_STARTED] = { "started", N_("Beginning, local time"), N_("YYYY-MM-DDTHH:MM:SS") },
  [OG_TEXT_ENDED] = { "ended", N_("End, local time"), N_("YYYY-MM-DDTHH:MM:SS") },
  [OG_TEXT_COUNT] = { "count", N_("How many samples"), N_("N") },
  [OG_TEXT_UNITS] = { "units", N_("How many units were made"), N_("N") },
  [OG_TEXT_LABEL] = { "label", N_("Version of the label"), N_("TEXT") },
  [OG_TEXT_BY] = { "by", N_("Grams to add to the lot; below 0 takes away"), N_("G") },
  [OG_TEXT_SET_TO] = { "set-to", N_("Grams that the lot really holds"), N_("G") },
  [OG_N_TEXTS + OG_FLAG_ALL] = { "all", N_("Also lots with nothing left"), NULL },
  [OG_N_TEXTS + OG_FLAG_ALLOW_NEGATIVE] = { "allow-negative", N_("Take more than there is"), NULL },
  [OG_N_TEXTS + OG_FLAG_ALLOW_UNWEIGHED] = { "allow-unweighed", N_("Close with lines not weighed"),
                                       NULL },
  [OG_N_TEXTS + OG_FLAG_WASTED] = { "wasted", N_("What was weighed is lost"), NULL },
  [OG_CERTIFICATE] = { "certificate", N_("A figure of the certificate, such as iodine_value=84"),
                    N_("FIGURE=VALUE[@C]") },
};

void
og_ledger_request_clear (OgLedgerRequest *request)
{
  for (guint i = 0; i < OG_N_TEXTS; i++)
    g_free (request->text[i]);
  g_strfreev (request->certificate);
  g_clear_object (&request->ledger);
  g_clear_pointer (&request->catalog, og_catalog_unref);
}

/* --- values ------------------------------------------------------------------ */

/* Returns: (transfer full): as it stands on the command line */
static char *
option_name (OgLedgerText option)
{
  return g_strconcat ("--", og_ledger_options[option].name, NULL);
}

OgLedgerNote
og_request_get_note (const OgLedgerRequest *request)
{
  return (OgLedgerNote) { request->text[OG_TEXT_DATE], request->text[OG_TEXT_WHO],
                          request->text[OG_TEXT_NOTE] };
}

gboolean
og_request_get_number (const OgLedgerRequest  *request,
                       OgLedgerText            option,
                       double                 *value,
                       GError                **error)
{
  g_autofree char *name = option_name (option);

  *value = NAN;

  return og_call_parse_number (name, request->text[option], -G_MAXDOUBLE, G_MAXDOUBLE, value,
                               error);
}

gboolean
og_request_parse_mg (const char  *what,
                     const char  *text,
                     gint64      *mg,
                     GError     **error)
{
  const double most_g = og_ledger_mg_to_g (OG_LEDGER_MAX_MG);
  double g = 0;

  return og_call_parse_number (what, text, -most_g, most_g, &g, error)
         && og_ledger_g_to_mg (g, mg);
}

gboolean
og_request_get_mg (const OgLedgerRequest  *request,
                   OgLedgerText            option,
                   gint64                 *mg,
                   GError                **error)
{
  g_autofree char *name = option_name (option);

  *mg = 0;

  return request->text[option] == NULL
         || og_request_parse_mg (name, request->text[option], mg, error);
}

gboolean
og_request_parse_whole (const char  *what,
                        const char  *text,
                        gint64       low,
                        gint64       high,
                        gint64      *value,
                        GError     **error)
{
  g_autoptr (GError) reason = NULL;

  if (g_ascii_string_to_signed (text, 10, low, high, value, &reason))
    return TRUE;

  return og_call_refuse (error, _("%s: “%s” is not a whole number of %lld … %lld"), what,
                         text, (long long) low, (long long) high);
}

gboolean
og_request_get_whole (const OgLedgerRequest  *request,
                      OgLedgerText            option,
                      gint64                  low,
                      gint64                  high,
                      gint64                 *value,
                      GError                **error)
{
  g_autofree char *name = option_name (option);

  return request->text[option] == NULL
         || og_request_parse_whole (name, request->text[option], low, high, value, error);
}

gboolean
og_request_get_page (const OgLedgerRequest  *request,
                     gint64                 *before,
                     guint                  *limit,
                     GError                **error)
{
  gint64 most = USUAL_LIMIT;

  *before = 0;
  if (!og_request_get_whole (request, OG_TEXT_BEFORE, 1, G_MAXINT64, before, error)
      || !og_request_get_whole (request, OG_TEXT_LIMIT, 1, G_MAXINT32, &most, error))
    return FALSE;
  *limit = (guint) most;

  return TRUE;
}

gboolean
og_request_get_moment (const OgLedgerRequest  *request,
                       OgLedgerText            option,
                       gint64                 *moment,
                       GError                **error)
{
  g_autoptr (GTimeZone) zone = g_time_zone_new_local ();
  g_autoptr (GDateTime) time = NULL;

  *moment = 0;
  if (request->text[option] == NULL)
    return TRUE;
  time = g_date_time_new_from_iso8601 (request->text[option], zone);
  if (time == NULL)
    return og_call_refuse (error, _("--%s: “%s” is not a moment such as 2024-05-17T09:30:00"),
                           og_ledger_options[option].name, request->text[option]);
  *moment = g_date_time_to_unix (time);

  return TRUE;
}

const char *
og_request_get_material (const OgLedgerRequest *request,
                         const char            *text)
{
  const OgIngredient *ingredient
    = text != NULL ? og_catalog_resolve (request->catalog, text, NULL) : NULL;

  return ingredient != NULL ? ingredient->id : text;
}

/* --- what entries answer ------------------------------------------------------- */

static void
put_left (OgLedgerRequest *request,
          gint64           entry,
          const OgLot     *lot)
{
  g_autoptr (JsonBuilder) builder = NULL;

  if (!request->call->json)
    {
      g_autofree char *left_g
        = og_number_trimmed (og_ledger_mg_to_g (lot->left_mg), OG_LEDGER_G_DECIMALS);

      /* Translators: number of an entry, material, lot, grams */
      g_string_append_printf (request->call->out, _("Entry %lld: %s, lot %s: %s g left\n"),
                              (long long) entry, lot->material_id, lot->code, left_g);
      return;
    }
  builder = og_call_begin_json ();
  og_json_add_whole (builder, "entry", entry);
  og_json_add_string (builder, "ingredient", lot->material_id);
  og_json_add_string (builder, "lot", lot->code);
  og_json_add_number (builder, "left_g", og_ledger_mg_to_g (lot->left_mg));
  og_call_end_json (request->call, builder);
}

gboolean
og_request_answer_entry (OgLedgerRequest  *request,
                         gint64            entry,
                         const char       *material_id,
                         const char       *code,
                         GError          **error)
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

void
og_request_answer_member (OgLedgerRequest *request,
                          const char      *member,
                          const char      *text,
                          gint64           number)
{
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();

  json_builder_set_member_name (builder, member);
  if (text != NULL)
    json_builder_add_string_value (builder, text);
  else
    json_builder_add_int_value (builder, number);
  og_call_end_json (request->call, builder);
}

gboolean
og_request_answer_list (OgLedgerRequest *request,
                        OgReport         report,
                        GPtrArray       *list)
{
  g_autoptr (GPtrArray) owned = list;

  if (owned == NULL)
    return FALSE;
  og_report_put (request->call, report, owned);

  return TRUE;
}
