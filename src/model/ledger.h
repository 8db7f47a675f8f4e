/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

#include "core/material/catalog.h"
#include "core/recipe/formula.h"
#include "core/recipe/shelf.h"

G_BEGIN_DECLS

#define OG_TYPE_LEDGER (og_ledger_get_type ())
G_DECLARE_FINAL_TYPE (OgLedger, og_ledger, OG, LEDGER, GObject)

/**
 * OgLedger:
 *
 * What the workshop has in stock and what became of it: materials, lots, a journal of every amount
 * that came or went, and the records of the batches. One SQLite file that several windows and
 * programs may use at once; each change is one transaction, on the disk when the function returns.
 *
 * Amounts are whole milligrams, so that sums are facts. Days are written YYYY-MM-DD, moments are
 * Unix time in seconds. The journal is never rewritten: a mistake is put right by a counter entry.
 *
 * An object is used by one thread; another thread opens the file once more.
 *
 * Signal "changed": something in the ledger is another than before, by this object or, once
 * og_ledger_refresh() noticed or og_ledger_watch() was called, by somebody else.
 */

/**
 * OgLedgerError:
 * @OG_LEDGER_ERROR_NOT_A_LEDGER: the file is a database of something else; it is left alone
 * @OG_LEDGER_ERROR_NEWER_VERSION: written by a newer version; it is left alone
 * @OG_LEDGER_ERROR_DAMAGED: no database at all, or a damaged one
 * @OG_LEDGER_ERROR_BUSY: another program writes and did not finish within five seconds
 * @OG_LEDGER_ERROR_READ_ONLY: the file or its folder cannot be written
 * @OG_LEDGER_ERROR_FULL: the disk is full; nothing was recorded
 * @OG_LEDGER_ERROR_ACCESS: the file is missing, or cannot be opened, read or written for another
 *   reason
 * @OG_LEDGER_ERROR_NOT_FOUND: no such lot, batch or entry
 * @OG_LEDGER_ERROR_VALUE: an amount, day, text or figure that cannot be
 * @OG_LEDGER_ERROR_EXISTS: the lot, batch number or counter entry is there already
 * @OG_LEDGER_ERROR_SHORTAGE: a lot would be taken below nothing; the message names it and what is
 *   missing
 * @OG_LEDGER_ERROR_STATE: the batch is not in a state for this: closed before, lines not weighed
 * @OG_LEDGER_ERROR_INTERNAL: the database refused a statement of this program
 */
typedef enum
{
  OG_LEDGER_ERROR_NOT_A_LEDGER,
  OG_LEDGER_ERROR_NEWER_VERSION,
  OG_LEDGER_ERROR_DAMAGED,
  OG_LEDGER_ERROR_BUSY,
  OG_LEDGER_ERROR_READ_ONLY,
  OG_LEDGER_ERROR_FULL,
  OG_LEDGER_ERROR_ACCESS,
  OG_LEDGER_ERROR_NOT_FOUND,
  OG_LEDGER_ERROR_VALUE,
  OG_LEDGER_ERROR_EXISTS,
  OG_LEDGER_ERROR_SHORTAGE,
  OG_LEDGER_ERROR_STATE,
  OG_LEDGER_ERROR_INTERNAL
} OgLedgerError;

#define OG_LEDGER_ERROR (og_ledger_error_quark ())
/** Returns: the domain of #OgLedgerError */
GQuark og_ledger_error_quark (void);

/** Largest amount of one entry or batch: a thousand tonnes. */
#define OG_LEDGER_MAX_MG G_GINT64_CONSTANT (1000000000000)
/** Longest text of a field, in bytes. */
#define OG_LEDGER_MAX_TEXT 10000

/* --- the file -------------------------------------------------------------- */

/**
 * OgLedgerFlags:
 * @OG_LEDGER_READ_ONLY: change nothing; also reads a file in a folder that cannot be written
 * @OG_LEDGER_KEEP_DAMAGED: refuse a damaged file instead of setting it aside
 */
typedef enum
{
  OG_LEDGER_DEFAULT = 0,
  OG_LEDGER_READ_ONLY = 1 << 0,
  OG_LEDGER_KEEP_DAMAGED = 1 << 1
} OgLedgerFlags;

/** Returns: (transfer full): where the ledger of this user is kept, whether there is one or not */
char       *og_ledger_default_path      (void);

/**
 * og_ledger_open:
 * @path: the file; unless %OG_LEDGER_READ_ONLY it is made, with its folder, if it is missing
 * @now: (nullable): local time, to name a damaged file by; %NULL for the clock
 *
 * Brings a file of an earlier version up to date. A damaged file is moved to a name with @now in
 * it, beside its -wal and -shm, and a new ledger is begun: see og_ledger_get_set_aside().
 *
 * Returns: (transfer full): the ledger, or %NULL with an #OgLedgerError
 */
OgLedger   *og_ledger_open              (const char      *path,
                                         OgLedgerFlags    flags,
                                         GDateTime       *now,
                                         GError         **error);
/** Returns: (transfer none): */
const char *og_ledger_get_path          (OgLedger        *self);
/** Returns: whether it was opened with %OG_LEDGER_READ_ONLY */
gboolean    og_ledger_is_read_only      (OgLedger        *self);
/** Returns: (transfer none) (nullable): where the damaged file was moved to by og_ledger_open() */
const char *og_ledger_get_set_aside     (OgLedger        *self);
/** Returns: TRUE, after the signal "changed", if somebody else wrote since it was last asked. */
gboolean    og_ledger_refresh           (OgLedger        *self);
/** Calls og_ledger_refresh() from the main loop whenever the file changes. */
void        og_ledger_watch             (OgLedger        *self);

/* --- amounts and days ------------------------------------------------------ */

/** The nearest whole mg. Returns: FALSE if @g is not finite or beyond ± #OG_LEDGER_MAX_MG. */
gboolean    og_ledger_g_to_mg           (double           g,
                                         gint64          *mg);
/** Digits after the mark that show an amount in grams to the milligram. */
#define OG_LEDGER_G_DECIMALS 3

static inline double
og_ledger_mg_to_g (gint64 mg)
{
  return (double) mg / 1000.0;
}
/** TRUE for a day of the calendar written YYYY-MM-DD, 0001 to 9999. @text: (nullable) */
gboolean    og_ledger_is_day            (const char      *text);
/** Returns: (transfer full): the day of @moment here */
char       *og_ledger_day               (GDateTime       *moment);

/* --- materials, lots, journal ---------------------------------------------- */

/** OgCertificateValue: one figure of the certificate of a lot. */
typedef struct
{
  OgFigureId figure;
  double     value;
  double     at_c; /* NAN if it does not matter */
} OgCertificateValue;

/** OgLot: one delivery of a material. Free with og_lot_free(). */
typedef struct
{
  gint64  id;            /* of the ledger; 0 before it is there */
  char   *material_id;   /* of the catalog or of an own material */
  char   *material_name; /* as it was called when it came */
  char   *code;          /* what the lot is called; unique for its material */
  char   *supplier;      /* nullable: free text */
  char   *received;      /* nullable: day */
  char   *best_before;   /* nullable: day */
  double  price;         /* of a pack of @pack_mg; NAN if not said */
  char   *currency;      /* nullable */
  gint64  pack_mg;       /* 0 if not said */
  GArray *certificate;   /* of OgCertificateValue */
  char   *override_json; /* nullable: object of further members of data/catalog/SCHEMA.md that the
                          * lot has otherwise, as "profile" or "viscosity" */
  gint64  left_mg;       /* what is left; may be below 0 */
} OgLot;

/**
 * Returns: (transfer full): a lot of which nothing is said: no texts, price NAN, an empty
 * certificate
 */
OgLot      *og_lot_new                  (void);
/** Frees the texts and the certificate too. */
void        og_lot_free                 (OgLot           *lot);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgLot, og_lot_free)
/** Returns: price of a kilogram in the lot's currency; NAN if not said */
double      og_lot_get_price_per_kg     (const OgLot     *lot);

/**
 * og_ledger_lot_to_ingredient:
 * @base: the material of the lot
 *
 * The lot as an own material for recipes, derived from @base with the figures of its certificate in
 * place of those of the library. Its definition bears the member "lot" with the code.
 *
 * Returns: (transfer full): or %NULL with an #OgCatalogError
 */
OgIngredient *og_ledger_lot_to_ingredient (const OgLot       *lot,
                                           const OgIngredient *base,
                                           GError            **error);

typedef enum
{
  OG_JOURNAL_RECEIPT,
  OG_JOURNAL_USE,
  OG_JOURNAL_WASTE,
  OG_JOURNAL_CORRECTION,
  OG_JOURNAL_COUNT,
  OG_N_JOURNAL_KINDS
} OgJournalKind;

const char *og_journal_kind_to_nick     (OgJournalKind    kind); /* "receipt" */
const char *og_journal_kind_get_name    (OgJournalKind    kind); /* translated */
/** @nick: (nullable). Returns: %FALSE, leaving @kind alone, for a word that is none */
gboolean    og_journal_kind_from_nick   (const char      *nick,
                                         OgJournalKind   *kind);

/** OgJournalEntry: one amount that came or went. Free with og_journal_entry_free(). */
typedef struct
{
  gint64        id;
  char         *day;
  gint64        entered_at;
  OgJournalKind kind;
  char         *material_id;
  char         *material_name;
  char         *lot;          /* code */
  gint64        amount_mg;    /* what it adds; below 0 for what went */
  gint64        counted_mg;   /* what a count found; -1 for other kinds */
  gboolean      negative;     /* went below nothing by consent */
  gint64        corrects;     /* id of the entry that it counters, or 0 */
  char         *batch;        /* nullable: number */
  char         *who;          /* nullable */
  char         *note;         /* nullable */
} OgJournalEntry;

/** Frees the texts too. */
void        og_journal_entry_free       (OgJournalEntry  *entry);

/** OgLedgerNote: who, when and why; every member may be %NULL. */
typedef struct
{
  const char *day;  /* today by the clock if NULL */
  const char *who;
  const char *note;
} OgLedgerNote;

/**
 * og_ledger_receive:
 * @lot: what came; a lot of the same material and code gets more, if the two do not contradict in
 *   supplier, best-before day, price and certificate
 * @amount_mg: above 0
 * @note: (nullable)
 *
 * Without a pack size the price is for @amount_mg. Returns: the id of the entry; 0 with an error
 */
gint64      og_ledger_receive           (OgLedger           *self,
                                         const OgLot        *lot,
                                         gint64              amount_mg,
                                         const OgLedgerNote *note,
                                         GError            **error);
/** Adds to a lot that is there what was left open before: certificate, best-before day, price...
 * What was said before cannot be changed: %OG_LEDGER_ERROR_EXISTS. */
gboolean    og_ledger_complete_lot      (OgLedger           *self,
                                         const OgLot        *lot,
                                         GError            **error);
/**
 * og_ledger_take:
 * @kind: %OG_JOURNAL_USE or %OG_JOURNAL_WASTE
 * @material_id: (nullable): not needed if only one material has a lot of this code
 * @lot: its code; %NULL or "" is refused with %OG_LEDGER_ERROR_VALUE, as by all that follow
 * @amount_mg: above 0
 * @allow_negative: record it even if more is taken than there is
 *
 * Returns: the id of the entry; 0 with an error, %OG_LEDGER_ERROR_SHORTAGE among others
 */
gint64      og_ledger_take              (OgLedger           *self,
                                         OgJournalKind       kind,
                                         const char         *material_id,
                                         const char         *lot,
                                         gint64              amount_mg,
                                         gboolean            allow_negative,
                                         const OgLedgerNote *note,
                                         GError            **error);
/** Adds @amount_mg, which may be below 0, as a correction. Returns: as og_ledger_take() */
gint64      og_ledger_correct           (OgLedger           *self,
                                         const char         *material_id,
                                         const char         *lot,
                                         gint64              amount_mg,
                                         gboolean            allow_negative,
                                         const OgLedgerNote *note,
                                         GError            **error);
/** Counters entry @id, once. Returns: as og_ledger_take() */
gint64      og_ledger_reverse           (OgLedger           *self,
                                         gint64              id,
                                         gboolean            allow_negative,
                                         const OgLedgerNote *note,
                                         GError            **error);
/** Stock take: @counted_mg (0 or more) is what is left. Returns: the id of the entry, which bears
 * the difference, also if it is 0; 0 with an error */
gint64      og_ledger_count             (OgLedger           *self,
                                         const char         *material_id,
                                         const char         *lot,
                                         gint64              counted_mg,
                                         const OgLedgerNote *note,
                                         GError            **error);

/** OgOffer: what a supplier asks for a pack. Free with og_offer_free(). */
typedef struct
{
  gint64  id;
  char   *material_id;
  char   *material_name;
  char   *supplier;
  gint64  pack_mg;
  double  price;
  char   *currency; /* nullable */
  char   *day;
} OgOffer;

/** Frees the texts too; for those that the ledger made. */
void        og_offer_free               (OgOffer         *offer);
/** Returns: the id; 0 with an error */
gint64      og_ledger_add_offer         (OgLedger        *self,
                                         const OgOffer   *offer,
                                         GError         **error);

/* --- batches --------------------------------------------------------------- */

typedef enum
{
  OG_BATCH_PLANNED,
  OG_BATCH_RUNNING,
  OG_BATCH_CLOSED,
  OG_BATCH_ABANDONED,
  OG_N_BATCH_STATES
} OgBatchState;

const char *og_batch_state_to_nick      (OgBatchState     state); /* "planned" */
const char *og_batch_state_get_name     (OgBatchState     state); /* translated */
/** @nick: (nullable). Returns: %FALSE, leaving @state alone, for a word that is none */
gboolean    og_batch_state_from_nick    (const char      *nick,
                                         OgBatchState    *state);

/** OgBatchLine: one line of the recipe in a batch. */
typedef struct
{
  guint   line;          /* 1 and up, in order of the recipe */
  guint   formula_line;  /* OgFormulaLine.id in the snapshot */
  char   *phase;
  char   *ingredient_id; /* of the recipe */
  char   *material_id;   /* what it is taken from in stock */
  char   *name;
  gint64  planned_mg;
  gint64  weighed_mg;
  guint   n_weighings;
} OgBatchLine;

/** OgWeighing: what was put on the balance for a line. */
typedef struct
{
  gint64  id;
  guint   line;
  char   *material_id;
  char   *lot;       /* nullable: code; without a lot no stock is taken */
  gint64  amount_mg; /* below 0 takes a mistake back */
  char   *balance;   /* nullable: which balance */
  char   *who;       /* nullable */
  gint64  weighed_at;
  gint64  undoes;    /* id of the weighing that this one takes back; 0 if none */
} OgWeighing;

/**
 * OgBatchEntryKind: what else is written into the record of a batch, and the members of
 * #OgBatchEntry that it needs (besides those, @who and @note are free).
 * @OG_BATCH_ENTRY_PROCESS: @text (what was done); @phase, @temperature_c, @started_at, @ended_at
 * @OG_BATCH_ENTRY_DEVIATION: @text (what went otherwise); @decision
 * @OG_BATCH_ENTRY_PHOTO: @text (path)
 * @OG_BATCH_ENTRY_SAMPLE: @count, @text (place); @until
 * @OG_BATCH_ENTRY_MEASUREMENT: @text (what, "viscosity"), @value (text or JSON); @temperature_c
 * @OG_BATCH_ENTRY_FILLING: @amount_mg (content of one container)
 */
typedef enum
{
  OG_BATCH_ENTRY_PROCESS,
  OG_BATCH_ENTRY_DEVIATION,
  OG_BATCH_ENTRY_PHOTO,
  OG_BATCH_ENTRY_SAMPLE,
  OG_BATCH_ENTRY_MEASUREMENT,
  OG_BATCH_ENTRY_FILLING,
  OG_N_BATCH_ENTRY_KINDS
} OgBatchEntryKind;

const char *og_batch_entry_kind_to_nick   (OgBatchEntryKind  kind); /* "process" */
const char *og_batch_entry_kind_get_name  (OgBatchEntryKind  kind); /* translated */
/** @nick: (nullable). Returns: %FALSE, leaving @kind alone, for a word that is none */
gboolean    og_batch_entry_kind_from_nick (const char       *nick,
                                           OgBatchEntryKind *kind);

typedef struct
{
  gint64           id;
  OgBatchEntryKind kind;
  char            *text;          /* nullable */
  char            *phase;         /* nullable */
  char            *decision;      /* nullable */
  char            *value;         /* nullable */
  char            *until;         /* nullable: day */
  double           temperature_c; /* NAN if not said */
  gint64           started_at;    /* 0 if not said */
  gint64           ended_at;      /* 0 if not said */
  guint            count;
  gint64           amount_mg;
  char            *who;           /* nullable */
  char            *note;          /* nullable */
  gint64           entered_at;
} OgBatchEntry;

/** Returns: (transfer full): an entry of which nothing else is said; the temperature is NAN */
OgBatchEntry *og_batch_entry_new        (OgBatchEntryKind  kind);
/** Frees the texts too. */
void          og_batch_entry_free       (OgBatchEntry     *entry);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgBatchEntry, og_batch_entry_free)

/** OgBatch: the record of a batch. Lists are %NULL in an overview. Free with og_batch_free(). */
typedef struct
{
  gint64       id;
  char        *number;
  char        *title;
  char        *day;
  OgBatchState state;
  gint64       planned_mg;
  gint64       weighed_mg;
  char        *who;           /* nullable */
  char        *note;          /* nullable */
  gint64       closed_at;     /* 0 while it is open */
  int          units_made;    /* -1 if not said */
  char        *label_version; /* nullable */
  char        *released_by;   /* nullable: signature */
  char        *released_on;   /* nullable: day */
  char        *release_note;  /* nullable */
  char        *document;      /* nullable: the recipe as it was, JSON */
  GPtrArray   *lines;         /* nullable: of OgBatchLine */
  GPtrArray   *weighings;     /* nullable: of OgWeighing */
  GPtrArray   *entries;       /* nullable: of OgBatchEntry */
} OgBatch;

/** Frees texts and lists too. */
void        og_batch_free               (OgBatch            *batch);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgBatch, og_batch_free)

/**
 * og_ledger_plan_batch:
 * @formula: the recipe, a snapshot of which is kept; exactly 100 %
 * @catalog: (nullable): for names
 * @number: (nullable): unique; %NULL for the year of the day and the next number in it, "2026-014"
 *
 * Planned weights are whole mg that add up to @batch_mg. A line of an own material is taken from
 * the stock of that material or, if the ledger has none of this id, of the one it is derived from.
 *
 * Returns: (transfer full): the number; %NULL with an error
 */
char       *og_ledger_plan_batch        (OgLedger           *self,
                                         const OgFormula    *formula,
                                         const OgCatalog    *catalog,
                                         gint64              batch_mg,
                                         const char         *number,
                                         const OgLedgerNote *note,
                                         GError            **error);
/**
 * og_ledger_weigh:
 * @weighing: line, amount and what is known of lot, balance and who; with @weighed_at 0 it is now
 *
 * The first weighing makes a planned batch a running one. Stock is not touched before the batch is
 * closed. An amount below 0 undoes the last weighing of that line, lot and amount that was not yet
 * taken back, if there is one. Returns: the id; 0 with an error
 */
gint64      og_ledger_weigh             (OgLedger           *self,
                                         const char         *number,
                                         const OgWeighing   *weighing,
                                         GError            **error);
/**
 * og_ledger_take_back:
 * @id: a weighing of batch @number, with an amount above 0
 * @who: (nullable)
 *
 * Undoes @id, once, by weighing the same with the other sign. Returns: the id of that; 0 with an
 * error
 */
gint64      og_ledger_take_back         (OgLedger           *self,
                                         const char         *number,
                                         gint64              id,
                                         const char         *who,
                                         GError            **error);
/** @entry: its id and moment are given by the ledger. Returns: the id; 0 with an error */
gint64      og_ledger_add_batch_entry   (OgLedger           *self,
                                         const char         *number,
                                         const OgBatchEntry *entry,
                                         GError            **error);
/** @units_made: 0 or more, -1 leaves what is there; @label_version: (nullable): likewise */
gboolean    og_ledger_set_batch_output  (OgLedger           *self,
                                         const char         *number,
                                         int                 units_made,
                                         const char         *label_version,
                                         GError            **error);

/**
 * OgCloseFlags:
 * @OG_CLOSE_ALLOW_NEGATIVE: take lots below nothing, and record it as such
 * @OG_CLOSE_ALLOW_UNWEIGHED: close although lines were not weighed
 */
typedef enum
{
  OG_CLOSE_DEFAULT = 0,
  OG_CLOSE_ALLOW_NEGATIVE = 1 << 0,
  OG_CLOSE_ALLOW_UNWEIGHED = 1 << 1
} OgCloseFlags;

/** Takes what was weighed from stock and closes the record, both or neither, once. */
gboolean    og_ledger_close_batch       (OgLedger           *self,
                                         const char         *number,
                                         OgCloseFlags        flags,
                                         const OgLedgerNote *note,
                                         GError            **error);
/** Gives a batch up. @wasted: what was weighed is taken from stock as waste, else it went back. */
gboolean    og_ledger_abandon_batch     (OgLedger           *self,
                                         const char         *number,
                                         gboolean            wasted,
                                         OgCloseFlags        flags,
                                         const OgLedgerNote *note,
                                         GError            **error);
/** Signs a closed batch, once. @note: its @who is needed: %OG_LEDGER_ERROR_VALUE without. */
gboolean    og_ledger_release_batch     (OgLedger           *self,
                                         const char         *number,
                                         const OgLedgerNote *note,
                                         GError            **error);

/* --- questions; each is one statement, lists are (transfer full), NULL with an error --------- */

/** Returns: (transfer full): a snapshot of all materials with lots or offers. A lot of the earliest
 * best-before day is used next; where nothing is left the price is that of the newest offer. */
OgShelf    *og_ledger_get_shelf         (OgLedger        *self,
                                         GError         **error);

/** OgStock: one material in stock. */
typedef struct
{
  char   *material_id;
  char   *name;
  guint   n_lots;       /* with something left */
  gint64  left_mg;
  char   *best_before;  /* nullable: of the lots with something left */
  double  price_per_kg; /* of the lot that is used next; NAN if not said */
  char   *currency;     /* nullable */
} OgStock;

/** Returns: (element-type OgStock): by id; @search: (nullable): part of id or name */
GPtrArray  *og_ledger_list_stock        (OgLedger        *self,
                                         const char      *search,
                                         GError         **error);
/**
 * og_ledger_list_lots:
 * @material_id: (nullable): of this material only
 * @with_empty: also lots with nothing left
 * @until: (nullable): only with a best-before day up to this one
 *
 * Returns: (element-type OgLot): in the order they should be used; without certificates
 */
GPtrArray  *og_ledger_list_lots         (OgLedger        *self,
                                         const char      *material_id,
                                         gboolean         with_empty,
                                         const char      *until,
                                         GError         **error);
/** @material_id: (nullable): not needed if only one material has a lot of this code.
 * Returns: (transfer full): with its certificate */
OgLot      *og_ledger_get_lot           (OgLedger        *self,
                                         const char      *material_id,
                                         const char      *code,
                                         GError         **error);

/** OgLotUse: where some of a lot went. */
typedef struct
{
  char         *batch;       /* nullable: number; what went otherwise has none */
  char         *title;       /* nullable: of the batch */
  OgBatchState  state;       /* of the batch */
  OgJournalKind kind;
  char         *day;
  gint64        amount_mg;   /* above 0 for what went; below 0 for what was put right */
  gboolean      taken;       /* FALSE: weighed for a batch that is still open */
  char         *material_id;
} OgLotUse;

/** Returns: (element-type OgLotUse): oldest first; @material_id: (nullable): any */
GPtrArray  *og_ledger_where_lot_went    (OgLedger        *self,
                                         const char      *material_id,
                                         const char      *code,
                                         GError         **error);

/** OgBatchLot: what of a lot is in a batch. */
typedef struct
{
  guint   line;
  char   *material_id;
  char   *name;
  char   *lot;         /* nullable: weighed without one */
  char   *supplier;    /* nullable */
  char   *best_before; /* nullable */
  gint64  amount_mg;
} OgBatchLot;

/** Returns: (element-type OgBatchLot): by line */
GPtrArray  *og_ledger_list_batch_lots   (OgLedger        *self,
                                         const char      *number,
                                         GError         **error);
/**
 * og_ledger_list_journal:
 * @material_id: (nullable): of this material only
 * @lot: (nullable): of lots of this code only
 * @before: entries with a smaller id only; 0 for the newest
 *
 * Returns: (element-type OgJournalEntry): newest first, at most @limit
 */
GPtrArray  *og_ledger_list_journal      (OgLedger        *self,
                                         const char      *material_id,
                                         const char      *lot,
                                         gint64           before,
                                         guint            limit,
                                         GError         **error);
/**
 * og_ledger_list_batches:
 * @search: (nullable): part of number or title
 * @state: or -1 for any
 * @before: batches with a smaller id only; 0 for the newest
 *
 * Returns: (element-type OgBatch): newest first, at most @limit, without document and lists
 */
GPtrArray  *og_ledger_list_batches      (OgLedger        *self,
                                         const char      *search,
                                         int              state,
                                         gint64           before,
                                         guint            limit,
                                         GError         **error);
/** Returns: (transfer full): the whole record */
OgBatch    *og_ledger_get_batch         (OgLedger        *self,
                                         const char      *number,
                                         GError         **error);
/**
 * og_ledger_list_batch_findings:
 * @day: (nullable): the day an open batch is held to; %NULL for today
 *
 * What the record of a batch asks to be looked at: "stock-short" and "lot-short" (open batches: more is needed or
 * weighed than there is; blocking; nothing is short in a ledger without any lot), "lot-expired" (weighed past its best-before day), "weighed-off" (5 % beside the
 * plan; blocking from twice or half on, which is a slip of the decimal mark). The line of each is that of the batch.
 *
 * Returns: (element-type OgFinding): most severe first
 */
GPtrArray  *og_ledger_list_batch_findings (OgLedger      *self,
                                         const char      *number,
                                         const char      *day,
                                         GError         **error);
/** Returns: (element-type OgOffer): newest first; @material_id: (nullable): any */
GPtrArray  *og_ledger_list_offers       (OgLedger        *self,
                                         const char      *material_id,
                                         GError         **error);

/** OgPlannedBatch: what somebody wants to make. */
typedef struct
{
  const OgFormula *formula;
  gint64           batch_mg;
} OgPlannedBatch;

/** OgShoppingItem: what of a material is needed. */
typedef struct
{
  char   *material_id;
  char   *name;
  gint64  needed_mg;
  gint64  left_mg;      /* in stock and not yet weighed for an open batch; 0 or more */
  gint64  missing_mg;   /* 0 if there is enough */
  char   *supplier;     /* nullable: of the newest offer, as the rest */
  gint64  pack_mg;      /* 0 without an offer */
  guint   packs;        /* whole packs that cover what is missing */
  double  price;        /* of a pack; NAN without an offer */
  char   *currency;     /* nullable */
} OgShoppingItem;

/**
 * og_ledger_list_shopping:
 * @plans: @n_plans batches; materials are counted as they are bought, mixtures whole
 * @catalog: (nullable): for names
 *
 * Returns: (element-type OgShoppingItem): all that is needed, in order of first appearance
 */
GPtrArray  *og_ledger_list_shopping     (OgLedger             *self,
                                         const OgPlannedBatch *plans,
                                         guint                 n_plans,
                                         const OgCatalog      *catalog,
                                         GError              **error);

/* --- tables for other programs ---------------------------------------------- */

typedef enum
{
  OG_LEDGER_TABLE_JOURNAL,
  OG_LEDGER_TABLE_STOCK,
  OG_LEDGER_TABLE_BATCHES,
  OG_LEDGER_TABLE_LOTS,
  OG_N_LEDGER_TABLES
} OgLedgerTable;

const char *og_ledger_table_to_nick     (OgLedgerTable    table); /* "journal" */
/** @nick: (nullable). Returns: %FALSE, leaving @table alone, for a word that is none */
gboolean    og_ledger_table_from_nick   (const char      *nick,
                                         OgLedgerTable   *table);
/**
 * og_ledger_export:
 *
 * Returns: (transfer full): CSV with a header, C-locale numbers, grams; a text that a spreadsheet
 * would take for a formula is led by an apostrophe
 */
char       *og_ledger_export            (OgLedger        *self,
                                         OgLedgerTable    table,
                                         GError         **error);
/**
 * og_ledger_import_receipts:
 * @text: CSV with the header ingredient,lot,grams and optionally
 *   price,currency,best_before,supplier,pack_g,received, in any order
 * @name: of the file, for messages
 * @catalog: names what `ingredient` may be: id, common name, alias or INCI name
 * @n_receipts: (out) (optional)
 *
 * All rows or none. Returns: %FALSE with an #OgTableError ("FILE:LINE: reason") or #OgLedgerError
 */
gboolean    og_ledger_import_receipts   (OgLedger           *self,
                                         const char         *text,
                                         gssize              length,
                                         const char         *name,
                                         const OgCatalog    *catalog,
                                         const OgLedgerNote *note,
                                         guint              *n_receipts,
                                         GError            **error);

G_END_DECLS
