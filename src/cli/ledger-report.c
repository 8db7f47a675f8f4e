/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/ledger-report.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "cli/findings.h"
#include "cli/text-table.h"
#include "core/base/number-text.h"

#define MOST_COLUMNS 16

/* How a field is to be read and shown. */
typedef enum
{
  FIELD_TEXT,       /* char *, may be NULL */
  FIELD_GRAMS,      /* gint64 mg */
  FIELD_SAID_GRAMS, /* gint64 mg; 0 or below: not said */
  FIELD_NUMBER,     /* double, NAN: not said */
  FIELD_COUNT,      /* guint */
  FIELD_UNITS,      /* int; below 0: not said */
  FIELD_ID,         /* gint64; 0: none */
  FIELD_MOMENT,     /* gint64 Unix time; 0: none */
  FIELD_FLAG,       /* gboolean */
  FIELD_KIND,       /* OgJournalKind */
  FIELD_STATE,      /* OgBatchState */
  FIELD_ENTRY       /* OgBatchEntryKind */
} FieldType;

typedef struct
{
  const char *key;   /* in JSON */
  const char *title; /* nullable: not in tables */
  FieldType   type;
  gsize       offset;
} Field;

#define FIELD(type, struct_type, member, key, title) \
  { key, title, type, G_STRUCT_OFFSET (struct_type, member) }

static const Field stock_fields[] = {
  FIELD (FIELD_TEXT, OgStock, material_id, "ingredient", N_("Material")),
  FIELD (FIELD_TEXT, OgStock, name, "name", N_("Name")),
  FIELD (FIELD_GRAMS, OgStock, left_mg, "left_g", N_("Left, g")),
  FIELD (FIELD_COUNT, OgStock, n_lots, "lots", N_("Lots")),
  FIELD (FIELD_TEXT, OgStock, best_before, "best_before", N_("Best before")),
  FIELD (FIELD_NUMBER, OgStock, price_per_kg, "price_per_kg", N_("Price per kg")),
  FIELD (FIELD_TEXT, OgStock, currency, "currency", N_("Currency")),
  { NULL }
};

static const Field lot_fields[] = {
  FIELD (FIELD_TEXT, OgLot, material_id, "ingredient", N_("Material")),
  FIELD (FIELD_TEXT, OgLot, material_name, "name", NULL),
  FIELD (FIELD_TEXT, OgLot, code, "lot", N_("Lot")),
  FIELD (FIELD_GRAMS, OgLot, left_mg, "left_g", N_("Left, g")),
  FIELD (FIELD_TEXT, OgLot, best_before, "best_before", N_("Best before")),
  FIELD (FIELD_TEXT, OgLot, received, "received", N_("Received")),
  FIELD (FIELD_TEXT, OgLot, supplier, "supplier", N_("Supplier")),
  FIELD (FIELD_NUMBER, OgLot, price, "price", N_("Price")),
  FIELD (FIELD_TEXT, OgLot, currency, "currency", N_("Currency")),
  FIELD (FIELD_SAID_GRAMS, OgLot, pack_mg, "pack_g", N_("for, g")),
  { NULL }
};

static const Field use_fields[] = {
  FIELD (FIELD_TEXT, OgLotUse, day, "date", N_("Date")),
  FIELD (FIELD_TEXT, OgLotUse, material_id, "ingredient", N_("Material")),
  FIELD (FIELD_KIND, OgLotUse, kind, "kind", N_("Entry")),
  FIELD (FIELD_GRAMS, OgLotUse, amount_mg, "amount_g", N_("Went, g")),
  FIELD (FIELD_TEXT, OgLotUse, batch, "batch", N_("Batch")),
  FIELD (FIELD_TEXT, OgLotUse, title, "title", N_("Recipe")),
  FIELD (FIELD_FLAG, OgLotUse, taken, "taken", N_("Taken from stock")),
  { NULL }
};

static const Field journal_fields[] = {
  FIELD (FIELD_ID, OgJournalEntry, id, "entry", N_("Entry")),
  FIELD (FIELD_TEXT, OgJournalEntry, day, "date", N_("Date")),
  FIELD (FIELD_KIND, OgJournalEntry, kind, "kind", N_("Kind")),
  FIELD (FIELD_TEXT, OgJournalEntry, material_id, "ingredient", N_("Material")),
  FIELD (FIELD_TEXT, OgJournalEntry, material_name, "name", NULL),
  FIELD (FIELD_TEXT, OgJournalEntry, lot, "lot", N_("Lot")),
  FIELD (FIELD_GRAMS, OgJournalEntry, amount_mg, "amount_g", N_("Amount, g")),
  FIELD (FIELD_FLAG, OgJournalEntry, negative, "below_nothing", NULL),
  FIELD (FIELD_ID, OgJournalEntry, corrects, "corrects", N_("Corrects")),
  FIELD (FIELD_TEXT, OgJournalEntry, batch, "batch", N_("Batch")),
  FIELD (FIELD_TEXT, OgJournalEntry, who, "who", N_("Who")),
  FIELD (FIELD_TEXT, OgJournalEntry, note, "note", N_("Note")),
  { NULL }
};

static const Field offer_fields[] = {
  FIELD (FIELD_TEXT, OgOffer, material_id, "ingredient", N_("Material")),
  FIELD (FIELD_TEXT, OgOffer, supplier, "supplier", N_("Supplier")),
  FIELD (FIELD_GRAMS, OgOffer, pack_mg, "pack_g", N_("Pack, g")),
  FIELD (FIELD_NUMBER, OgOffer, price, "price", N_("Price")),
  FIELD (FIELD_TEXT, OgOffer, currency, "currency", N_("Currency")),
  FIELD (FIELD_TEXT, OgOffer, day, "date", N_("Date")),
  { NULL }
};

static const Field shopping_fields[] = {
  FIELD (FIELD_TEXT, OgShoppingItem, material_id, "ingredient", N_("Material")),
  FIELD (FIELD_TEXT, OgShoppingItem, name, "name", NULL),
  FIELD (FIELD_GRAMS, OgShoppingItem, needed_mg, "needed_g", N_("Needed, g")),
  FIELD (FIELD_GRAMS, OgShoppingItem, left_mg, "left_g", N_("Left, g")),
  FIELD (FIELD_GRAMS, OgShoppingItem, missing_mg, "missing_g", N_("Missing, g")),
  FIELD (FIELD_COUNT, OgShoppingItem, packs, "packs", N_("Packs")),
  FIELD (FIELD_SAID_GRAMS, OgShoppingItem, pack_mg, "pack_g", N_("of, g")),
  FIELD (FIELD_TEXT, OgShoppingItem, supplier, "supplier", N_("Supplier")),
  FIELD (FIELD_NUMBER, OgShoppingItem, price, "price", N_("Price")),
  FIELD (FIELD_TEXT, OgShoppingItem, currency, "currency", N_("Currency")),
  { NULL }
};

static const Field batch_fields[] = {
  FIELD (FIELD_ID, OgBatch, id, "id", NULL),
  FIELD (FIELD_TEXT, OgBatch, number, "batch", N_("Batch")),
  FIELD (FIELD_TEXT, OgBatch, title, "title", N_("Recipe")),
  FIELD (FIELD_TEXT, OgBatch, day, "date", N_("Date")),
  FIELD (FIELD_STATE, OgBatch, state, "state", N_("State")),
  FIELD (FIELD_GRAMS, OgBatch, planned_mg, "planned_g", N_("Planned, g")),
  FIELD (FIELD_GRAMS, OgBatch, weighed_mg, "weighed_g", N_("Weighed, g")),
  FIELD (FIELD_UNITS, OgBatch, units_made, "units", N_("Units")),
  FIELD (FIELD_TEXT, OgBatch, label_version, "label_version", N_("Label")),
  FIELD (FIELD_TEXT, OgBatch, who, "who", N_("Who")),
  FIELD (FIELD_MOMENT, OgBatch, closed_at, "closed_at", NULL),
  FIELD (FIELD_TEXT, OgBatch, released_by, "released_by", N_("Released by")),
  FIELD (FIELD_TEXT, OgBatch, released_on, "released_on", NULL),
  FIELD (FIELD_TEXT, OgBatch, release_note, "release_note", NULL),
  FIELD (FIELD_TEXT, OgBatch, note, "note", NULL),
  { NULL }
};

static const Field line_fields[] = {
  FIELD (FIELD_COUNT, OgBatchLine, line, "line", N_("Line")),
  FIELD (FIELD_TEXT, OgBatchLine, phase, "phase", N_("Phase")),
  FIELD (FIELD_TEXT, OgBatchLine, ingredient_id, "ingredient", NULL),
  FIELD (FIELD_TEXT, OgBatchLine, material_id, "material", N_("Material")),
  FIELD (FIELD_TEXT, OgBatchLine, name, "name", N_("Name")),
  FIELD (FIELD_GRAMS, OgBatchLine, planned_mg, "planned_g", N_("Planned, g")),
  FIELD (FIELD_GRAMS, OgBatchLine, weighed_mg, "weighed_g", N_("Weighed, g")),
  { NULL }
};

static const Field weighing_fields[] = {
  FIELD (FIELD_ID, OgWeighing, id, "id", NULL),
  FIELD (FIELD_COUNT, OgWeighing, line, "line", N_("Line")),
  FIELD (FIELD_TEXT, OgWeighing, material_id, "material", N_("Material")),
  FIELD (FIELD_TEXT, OgWeighing, lot, "lot", N_("Lot")),
  FIELD (FIELD_GRAMS, OgWeighing, amount_mg, "amount_g", N_("Weighed, g")),
  FIELD (FIELD_TEXT, OgWeighing, balance, "balance", N_("Balance")),
  FIELD (FIELD_TEXT, OgWeighing, who, "who", N_("Who")),
  FIELD (FIELD_MOMENT, OgWeighing, weighed_at, "weighed_at", N_("When")),
  { NULL }
};

static const Field batch_lot_fields[] = {
  FIELD (FIELD_COUNT, OgBatchLot, line, "line", N_("Line")),
  FIELD (FIELD_TEXT, OgBatchLot, material_id, "material", N_("Material")),
  FIELD (FIELD_TEXT, OgBatchLot, name, "name", NULL),
  FIELD (FIELD_TEXT, OgBatchLot, lot, "lot", N_("Lot")),
  FIELD (FIELD_GRAMS, OgBatchLot, amount_mg, "amount_g", N_("Amount, g")),
  FIELD (FIELD_TEXT, OgBatchLot, supplier, "supplier", N_("Supplier")),
  FIELD (FIELD_TEXT, OgBatchLot, best_before, "best_before", N_("Best before")),
  { NULL }
};

static const Field entry_fields[] = {
  FIELD (FIELD_ID, OgBatchEntry, id, "id", NULL),
  FIELD (FIELD_ENTRY, OgBatchEntry, kind, "kind", N_("Kind")),
  FIELD (FIELD_TEXT, OgBatchEntry, text, "text", N_("What")),
  FIELD (FIELD_TEXT, OgBatchEntry, phase, "phase", N_("Phase")),
  FIELD (FIELD_TEXT, OgBatchEntry, decision, "decision", N_("Decision")),
  FIELD (FIELD_TEXT, OgBatchEntry, value, "value", N_("Value")),
  FIELD (FIELD_NUMBER, OgBatchEntry, temperature_c, "temperature_c", N_("°C")),
  FIELD (FIELD_MOMENT, OgBatchEntry, started_at, "started_at", N_("From")),
  FIELD (FIELD_MOMENT, OgBatchEntry, ended_at, "ended_at", N_("To")),
  FIELD (FIELD_COUNT, OgBatchEntry, count, "count", NULL),
  FIELD (FIELD_TEXT, OgBatchEntry, until, "until", N_("Keep until")),
  FIELD (FIELD_SAID_GRAMS, OgBatchEntry, amount_mg, "amount_g", N_("Amount, g")),
  FIELD (FIELD_TEXT, OgBatchEntry, who, "who", N_("Who")),
  FIELD (FIELD_TEXT, OgBatchEntry, note, "note", N_("Note")),
  FIELD (FIELD_MOMENT, OgBatchEntry, entered_at, "entered_at", NULL),
  { NULL }
};

static const struct
{
  const char  *member;
  const char  *empty;
  const Field *fields;
} reports[OG_N_REPORTS] = {
  [OG_REPORT_STOCK] = { "stock", N_("Nothing is in stock."), stock_fields },
  [OG_REPORT_LOTS] = { "lots", N_("There is no such lot."), lot_fields },
  [OG_REPORT_USES] = { "uses", N_("Nothing of this lot has gone."), use_fields },
  [OG_REPORT_JOURNAL] = { "entries", N_("The journal has no such entry."), journal_fields },
  [OG_REPORT_OFFERS] = { "offers", N_("There is no offer."), offer_fields },
  [OG_REPORT_SHOPPING] = { "items", N_("Nothing is needed."), shopping_fields },
  [OG_REPORT_BATCHES] = { "batches", N_("There is no such batch."), batch_fields },
  [OG_REPORT_LINES] = { "lines", N_("The batch has no line."), line_fields },
  [OG_REPORT_WEIGHINGS] = { "weighings", N_("Nothing has been weighed."), weighing_fields },
  [OG_REPORT_BATCH_LOTS] = { "lots", N_("No lot is in it."), batch_lot_fields },
  [OG_REPORT_ENTRIES] = { "record", N_("Nothing else is recorded."), entry_fields },
};

/* Returns: (transfer full) (nullable): ISO 8601, in UTC for programs, of the place for people */
static char *
moment_text (gint64   moment,
             gboolean for_people)
{
  g_autoptr (GDateTime) time = NULL;

  if (moment == 0)
    return NULL;
  time = for_people ? g_date_time_new_from_unix_local (moment)
                    : g_date_time_new_from_unix_utc (moment);
  if (time == NULL)
    return NULL;

  return g_date_time_format (time, for_people ? "%Y-%m-%d %H:%M" : "%Y-%m-%dT%H:%M:%SZ");
}

static const char *
nick_of (FieldType     type,
         gconstpointer at)
{
  if (type == FIELD_KIND)
    return og_journal_kind_to_nick (*(const OgJournalKind *) at);
  if (type == FIELD_STATE)
    return og_batch_state_to_nick (*(const OgBatchState *) at);

  return og_batch_entry_kind_to_nick (*(const OgBatchEntryKind *) at);
}

static const char *
name_of (FieldType     type,
         gconstpointer at)
{
  if (type == FIELD_KIND)
    return og_journal_kind_get_name (*(const OgJournalKind *) at);
  if (type == FIELD_STATE)
    return og_batch_state_get_name (*(const OgBatchState *) at);

  return og_batch_entry_kind_get_name (*(const OgBatchEntryKind *) at);
}

/* --- JSON ------------------------------------------------------------------- */

/* A whole number, or null for what is not said */
static void
add_said (JsonBuilder *builder,
          const char  *key,
          gint64       value,
          gboolean     said)
{
  if (said)
    og_json_add_whole (builder, key, value);
  else
    og_json_add_string (builder, key, NULL);
}

static void
add_field (JsonBuilder   *builder,
           const Field   *field,
           gconstpointer  item)
{
  const gconstpointer at = G_STRUCT_MEMBER_P (item, field->offset);
  g_autofree char *moment = NULL;
  gint64 whole;

  switch (field->type)
    {
    case FIELD_TEXT:
      og_json_add_string (builder, field->key, *(char *const *) at);
      break;
    case FIELD_GRAMS:
      og_json_add_number (builder, field->key, og_ledger_mg_to_g (*(const gint64 *) at));
      break;
    case FIELD_SAID_GRAMS:
      whole = *(const gint64 *) at;
      og_json_add_number (builder, field->key, whole > 0 ? og_ledger_mg_to_g (whole) : NAN);
      break;
    case FIELD_NUMBER:
      og_json_add_number (builder, field->key, *(const double *) at);
      break;
    case FIELD_COUNT:
      og_json_add_whole (builder, field->key, *(const guint *) at);
      break;
    case FIELD_UNITS:
      add_said (builder, field->key, *(const int *) at, *(const int *) at >= 0);
      break;
    case FIELD_ID:
      add_said (builder, field->key, *(const gint64 *) at, *(const gint64 *) at != 0);
      break;
    case FIELD_MOMENT:
      moment = moment_text (*(const gint64 *) at, FALSE);
      og_json_add_string (builder, field->key, moment);
      break;
    case FIELD_FLAG:
      og_json_add_boolean (builder, field->key, *(const gboolean *) at);
      break;
    case FIELD_KIND:
    case FIELD_STATE:
    case FIELD_ENTRY:
      og_json_add_string (builder, field->key, nick_of (field->type, at));
      break;
    default:
      g_return_if_reached ();
    }
}

static void
add_fields (JsonBuilder   *builder,
            const Field   *fields,
            gconstpointer  item)
{
  for (const Field *field = fields; field->key != NULL; field++)
    add_field (builder, field, item);
}

void
og_report_add_json (JsonBuilder     *builder,
                    OgReport         report,
                    const GPtrArray *list)
{
  og_json_begin_array (builder, reports[report].member);
  for (guint i = 0; i < list->len; i++)
    {
      json_builder_begin_object (builder);
      add_fields (builder, reports[report].fields, g_ptr_array_index (list, i));
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

/* --- text -------------------------------------------------------------------- */

/* Returns: (transfer full) (nullable): what stands in a cell; %NULL for what is not said */
static char *
cell_text (const Field   *field,
           gconstpointer  item)
{
  const gconstpointer at = G_STRUCT_MEMBER_P (item, field->offset);
  gint64 whole;

  switch (field->type)
    {
    case FIELD_TEXT:
      return g_strdup (*(char *const *) at);
    case FIELD_GRAMS:
      return og_number_trimmed (og_ledger_mg_to_g (*(const gint64 *) at), OG_LEDGER_G_DECIMALS);
    case FIELD_SAID_GRAMS:
      whole = *(const gint64 *) at;
      return whole > 0 ? og_number_trimmed (og_ledger_mg_to_g (whole), OG_LEDGER_G_DECIMALS) : NULL;
    case FIELD_NUMBER:
      return isnan (*(const double *) at) ? NULL : og_number_trimmed (*(const double *) at, 4);
    case FIELD_COUNT:
      return g_strdup_printf ("%u", *(const guint *) at);
    case FIELD_UNITS:
      return *(const int *) at >= 0 ? g_strdup_printf ("%d", *(const int *) at) : NULL;
    case FIELD_ID:
      whole = *(const gint64 *) at;
      return whole != 0 ? g_strdup_printf ("%" G_GINT64_FORMAT, whole) : NULL;
    case FIELD_MOMENT:
      return moment_text (*(const gint64 *) at, TRUE);
    case FIELD_FLAG:
      return g_strdup (*(const gboolean *) at ? _("yes") : _("no"));
    case FIELD_KIND:
    case FIELD_STATE:
    case FIELD_ENTRY:
      return g_strdup (name_of (field->type, at));
    default:
      g_return_val_if_reached (NULL);
    }
}

static gboolean
is_number (FieldType type)
{
  return type == FIELD_GRAMS || type == FIELD_SAID_GRAMS || type == FIELD_NUMBER
         || type == FIELD_COUNT || type == FIELD_UNITS || type == FIELD_ID;
}

/* A column in which nothing is said is left out. */
static gboolean
says_something (const Field     *field,
                const GPtrArray *list)
{
  for (guint i = 0; i < list->len; i++)
    {
      g_autofree char *text = cell_text (field, g_ptr_array_index (list, i));

      if (text != NULL && *text != '\0')
        return TRUE;
    }

  return FALSE;
}

static guint
choose_columns (const Field     *fields,
                const GPtrArray *list,
                const Field     *chosen[MOST_COLUMNS])
{
  guint n = 0;

  for (const Field *field = fields; field->key != NULL; field++)
    {
      if (field->title != NULL && says_something (field, list))
        chosen[n++] = field;
    }

  return n;
}

void
og_report_put_text (GString         *out,
                    OgReport         report,
                    const GPtrArray *list)
{
  const Field *chosen[MOST_COLUMNS];
  const char *cells[MOST_COLUMNS];
  char alignment[MOST_COLUMNS + 1] = { 0 };
  g_autoptr (OgTextTable) table = NULL;
  const guint n = choose_columns (reports[report].fields, list, chosen);

  if (list->len == 0)
    {
      g_string_append_printf (out, "%s\n", _(reports[report].empty));
      return;
    }
  for (guint i = 0; i < n; i++)
    {
      alignment[i] = is_number (chosen[i]->type) ? 'r' : 'l';
      cells[i] = _(chosen[i]->title);
    }
  table = og_text_table_new (alignment);
  og_text_table_add (table, cells);
  for (guint row = 0; row < list->len; row++)
    {
      for (guint i = 0; i < n; i++)
        cells[i] = cell_text (chosen[i], g_ptr_array_index (list, row));
      og_text_table_add (table, cells);
      for (guint i = 0; i < n; i++)
        g_free ((char *) cells[i]);
    }
  og_text_table_put (table, 0, out);
}

void
og_report_put (OgCall          *call,
               OgReport         report,
               const GPtrArray *list)
{
  g_autoptr (JsonBuilder) builder = NULL;
  g_autoptr (JsonNode) root = NULL;

  if (!call->json)
    {
      og_report_put_text (call->out, report, list);
      return;
    }
  builder = json_builder_new ();
  json_builder_begin_object (builder);
  og_report_add_json (builder, report, list);
  json_builder_end_object (builder);
  root = json_builder_get_root (builder);
  og_call_put_json (call, root);
}

/* --- one batch ------------------------------------------------------------------ */

static void
add_document (JsonBuilder *builder,
              const char  *document)
{
  g_autoptr (JsonNode) node = json_from_string (document, NULL);

  json_builder_set_member_name (builder, "document");
  if (node != NULL)
    json_builder_add_value (builder, g_steal_pointer (&node));
  else
    json_builder_add_null_value (builder);
}

static void
put_batch_json (OgCall          *call,
                const OgBatch   *batch,
                const GPtrArray *lots,
                const GPtrArray *findings)
{
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();

  add_fields (builder, batch_fields, batch);
  og_report_add_json (builder, OG_REPORT_LINES, batch->lines);
  og_report_add_json (builder, OG_REPORT_WEIGHINGS, batch->weighings);
  og_report_add_json (builder, OG_REPORT_BATCH_LOTS, lots);
  og_report_add_json (builder, OG_REPORT_ENTRIES, batch->entries);
  og_findings_add_json (builder, findings);
  add_document (builder, batch->document);
  og_call_end_json (call, builder);
}

/* One line for each field that says something */
static void
put_fields (GString       *out,
            const Field   *fields,
            gconstpointer  item)
{
  for (const Field *field = fields; field->key != NULL; field++)
    {
      g_autofree char *text = field->title != NULL ? cell_text (field, item) : NULL;

      if (text != NULL && *text != '\0')
        g_string_append_printf (out, "%s: %s\n", _(field->title), text);
    }
}

/* Only what was found: a batch that is as planned needs no word. */
static void
put_findings (GString         *out,
              const GPtrArray *findings)
{
  if (findings->len == 0)
    return;
  g_string_append_printf (out, "\n%s\n", _("What was found:"));
  og_findings_put (out, findings);
}

void
og_report_put_batch (OgCall          *call,
                     const OgBatch   *batch,
                     const GPtrArray *lots,
                     const GPtrArray *findings)
{
  if (call->json)
    {
      put_batch_json (call, batch, lots, findings);
      return;
    }
  put_fields (call->out, batch_fields, batch);
  g_string_append_c (call->out, '\n');
  og_report_put_text (call->out, OG_REPORT_LINES, batch->lines);
  g_string_append_c (call->out, '\n');
  og_report_put_text (call->out, OG_REPORT_WEIGHINGS, batch->weighings);
  g_string_append_c (call->out, '\n');
  og_report_put_text (call->out, OG_REPORT_ENTRIES, batch->entries);
  put_findings (call->out, findings);
}

void
og_report_put_weighed (OgCall          *call,
                       const GPtrArray *lots,
                       const GPtrArray *findings)
{
  g_autoptr (JsonBuilder) builder = NULL;

  if (!call->json)
    {
      og_report_put_text (call->out, OG_REPORT_BATCH_LOTS, lots);
      put_findings (call->out, findings);
      return;
    }
  builder = og_call_begin_json ();
  og_report_add_json (builder, OG_REPORT_BATCH_LOTS, lots);
  og_findings_add_json (builder, findings);
  og_call_end_json (call, builder);
}

/* --- one lot --------------------------------------------------------------------- */

static void
add_certificate (JsonBuilder *builder,
                 const OgLot *lot)
{
  og_json_begin_array (builder, "certificate");
  for (guint i = 0; i < lot->certificate->len; i++)
    {
      const OgCertificateValue *value = &g_array_index (lot->certificate, OgCertificateValue, i);

      json_builder_begin_object (builder);
      og_json_add_string (builder, "figure", og_figure_id_to_nick (value->figure));
      og_json_add_number (builder, "value", value->value);
      og_json_add_string (builder, "unit", og_figure_id_get_unit (value->figure));
      og_json_add_number (builder, "at_c", value->at_c);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
put_lot_json (OgCall             *call,
              const OgLot        *lot,
              const OgIngredient *made)
{
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();

  add_fields (builder, lot_fields, lot);
  og_json_add_number (builder, "price_per_kg", og_lot_get_price_per_kg (lot));
  add_certificate (builder, lot);
  json_builder_set_member_name (builder, "material");
  if (made != NULL)
    {
      JsonNode *node = json_node_new (JSON_NODE_OBJECT);

      json_node_set_object (node, made->definition);
      json_builder_add_value (builder, node);
    }
  else
    {
      json_builder_add_null_value (builder);
    }
  og_call_end_json (call, builder);
}

void
og_report_put_lot (OgCall             *call,
                   const OgLot        *lot,
                   const OgIngredient *made)
{
  if (call->json)
    {
      put_lot_json (call, lot, made);
      return;
    }
  put_fields (call->out, lot_fields, lot);
  for (guint i = 0; i < lot->certificate->len; i++)
    {
      const OgCertificateValue *value = &g_array_index (lot->certificate, OgCertificateValue, i);
      g_autofree char *number = og_number_trimmed (value->value, 6);

      g_string_append_printf (call->out, "%s: %s\n", og_figure_id_get_name (value->figure), number);
    }
}
