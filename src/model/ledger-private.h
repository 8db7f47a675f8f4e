/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "model/ledger-sql.h"

G_BEGIN_DECLS

/* What the files of the ledger share. */

#define OG_LEDGER_APPLICATION_ID 0x4f674c67 /* "OgLg" */
#define OG_LEDGER_VERSION 4

struct _OgLedger
{
  GObject       parent_instance;

  sqlite3      *db;
  char         *path;
  char         *name;         /* of the file, for messages */
  char         *set_aside;    /* nullable */
  gboolean      read_only;
  GFileMonitor *monitor;      /* nullable */
  guint         refresh_id;
  gint64        data_version;
};

/* --- the file (ledger-schema.c, ledger-aside.c) ------------------------------ */

/* Brings the open database to @version, from nothing or any earlier one. */
gboolean      _og_ledger_migrate  (OgLedger      *self,
                                   int            version,
                                   GError       **error);
/* Moves a damaged file with its -wal and -shm out of the way. Returns: (transfer full) (nullable):
 * the new path */
char         *_og_ledger_move_aside (const char  *path,
                                     GDateTime   *now,
                                     GError     **error);
/* Returns: a descriptor that locks the folder of @path against others of this program until it is
 * closed; -1 if that is not possible */
int           _og_ledger_lock_folder (const char *path);

/* --- checks (ledger-check.c) ------------------------------------------------- */

/* OgNoted: an #OgLedgerNote with everything filled in. */
typedef struct
{
  char       *day;
  gint64      now;
  const char *who;
  const char *note;
} OgNoted;

/* Frees the members; @noted itself stays the caller's. */
void          _og_noted_clear     (OgNoted            *noted);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (OgNoted, _og_noted_clear)
/* @note: (nullable): its texts must outlive @noted. Returns: FALSE with OG_LEDGER_ERROR_VALUE */
gboolean      _og_noted_init      (OgNoted            *noted,
                                   const OgLedgerNote *note,
                                   GError            **error);
/* @what: the field, translated; @text: (nullable) unless it is @needed: UTF-8 of OG_LEDGER_MAX_TEXT
 * bytes at most, without control characters but line ends and tabs */
gboolean      _og_ledger_check_text (const char    *what,
                                     const char    *text,
                                     gboolean       needed,
                                     GError       **error);
/* @text: (nullable): a code of ISO 4217, in letters of any size */
gboolean      _og_ledger_check_currency (const char *text,
                                   GError       **error);
/* @what: the field, translated; @day: (nullable): YYYY-MM-DD */
gboolean      _og_ledger_check_day (const char     *what,
                                    const char     *day,
                                    GError        **error);
/* @low: the least that @mg may be; the most is OG_LEDGER_MAX_MG */
gboolean      _og_ledger_check_mg  (gint64          mg,
                                    gint64          low,
                                    GError        **error);
/* An amount that comes or goes: anything but 0, both ways no more than %OG_LEDGER_MAX_MG */
gboolean      _og_ledger_check_change (gint64        mg,
                                    GError        **error);
/* @moment: Unix time in seconds up to the end of the year 9999; 0 for not said */
gboolean      _og_ledger_check_moment (gint64        moment,
                                    GError        **error);
/* Whole and thousandths, without superfluous zeros: "12.5". Returns: (transfer full) */
char         *_og_mg_to_text      (gint64           mg);

/* --- lots and the journal (ledger-lot.c, ledger-lot-material.c, ledger-receive.c,
 * ledger-journal.c) ------------------------------------------------------------ */

/* Reads columns from @column on, in the order of OG_LOT_COLUMNS. */
#define OG_LOT_COLUMNS                                                                            \
  "lot.id, lot.material_id, material.name, lot.code, lot.supplier, lot.received, "                \
  "lot.best_before, lot.price, lot.currency, lot.pack_mg, lot.override_json, balance.amount_mg"
/* Returns: (transfer full): without its certificate */
OgLot        *_og_lot_read        (sqlite3_stmt  *statement);
/* @lot_id: (out): of the lot; without @material_id the code must be that of one material only */
gboolean      _og_ledger_find_lot (OgLedger      *self,
                                   const char    *material_id,
                                   const char    *code,
                                   gint64        *lot_id,
                                   GError       **error);
/* Refuses a certificate or further members that make no material of the lot. */
gboolean      _og_ledger_check_certificate (const OgLot  *lot,
                                   GError         **error);
/* Makes the material known, or gives it another name. @name: (nullable) */
gboolean      _og_ledger_put_material (OgLedger  *self,
                                   const char      *id,
                                   const char      *name,
                                   GError         **error);
/* og_ledger_receive() within a transaction */
gint64        _og_ledger_receive  (OgLedger        *self,
                                   const OgLot     *lot,
                                   gint64           amount_mg,
                                   const OgNoted   *noted,
                                   GError         **error);

/* Puts an entry into the journal. @batch_id, @corrects: 0 for none; @counted_mg: -1 for none */
typedef struct
{
  OgJournalKind kind;
  gint64        lot_id;
  gint64        amount_mg;
  gint64        counted_mg;
  gint64        batch_id;
  gint64        corrects;
  gboolean      allow_negative;
} OgPosting;
/* Within a transaction. Returns: the id; 0 with an error, %OG_LEDGER_ERROR_SHORTAGE among others */
gint64        _og_ledger_post     (OgLedger        *self,
                                   const OgPosting *posting,
                                   const OgNoted   *noted,
                                   GError         **error);

/* --- batches (ledger-plan.c, ledger-batch.c) ---------------------------------- */

/* OgNeed: what one line of a recipe needs in a batch. */
typedef struct
{
  const OgFormulaLine *line;
  const char          *phase;
  guint                place;   /* 1 and up */
  char                *base_id; /* what an own material comes from in the end; else its id */
  char                *name;
  gint64               amount_mg;
  gint64               rest;    /* millionths of a mg that rounding cut off */
} OgNeed;

/* Returns: (transfer full) (element-type OgNeed): in order of the recipe, @batch_mg together; valid
 * as long as @formula */
GPtrArray    *_og_ledger_needs    (const OgFormula  *formula,
                                   const OgCatalog  *catalog,
                                   gint64            batch_mg,
                                   GError          **error);

/* OgFoundBatch: what stands about a batch before it is changed. */
typedef struct
{
  gint64       id;
  OgBatchState state;
  gboolean     released;
} OgFoundBatch;

/* %OG_LEDGER_ERROR_NOT_FOUND without one of this number */
gboolean      _og_ledger_find_batch (OgLedger        *self,
                                     const char      *number,
                                     OgFoundBatch    *found,
                                     GError         **error);
/* Sets @error to OG_LEDGER_ERROR_NOT_FOUND. Returns: FALSE */
gboolean      _og_ledger_refuse_unknown_batch (const char *number,
                                     GError         **error);
/* Also %OG_LEDGER_ERROR_STATE if it is closed or abandoned */
gboolean      _og_ledger_find_open_batch (OgLedger     *self,
                                     const char      *number,
                                     OgFoundBatch    *found,
                                     GError         **error);
/* Sets @error to OG_LEDGER_ERROR_STATE. Returns: FALSE */
gboolean      _og_ledger_refuse_released (const char   *number,
                                     GError         **error);

G_END_DECLS
