/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cli/ledger-report.h"

G_BEGIN_DECLS

/* What the subjects of the verb "ledger" share: options, their values, answers. */

/** OgLedgerText: options that take a text. */
typedef enum
{
  OG_TEXT_LEDGER,
  OG_TEXT_DATE,
  OG_TEXT_WHO,
  OG_TEXT_NOTE,
  OG_TEXT_LOT,
  OG_TEXT_GRAMS,
  OG_TEXT_PRICE,
  OG_TEXT_CURRENCY,
  OG_TEXT_PACK,
  OG_TEXT_BEST_BEFORE,
  OG_TEXT_SUPPLIER,
  OG_TEXT_RECEIVED,
  OG_TEXT_NAME,
  OG_TEXT_OVERRIDE,
  OG_TEXT_MATERIAL,
  OG_TEXT_SEARCH,
  OG_TEXT_STATE,
  OG_TEXT_UNTIL,
  OG_TEXT_BEFORE,
  OG_TEXT_LIMIT,
  OG_TEXT_NUMBER,
  OG_TEXT_BALANCE,
  OG_TEXT_WHAT,
  OG_TEXT_PHASE,
  OG_TEXT_DECISION,
  OG_TEXT_VALUE,
  OG_TEXT_TEMPERATURE,
  OG_TEXT_STARTED,
  OG_TEXT_ENDED,
  OG_TEXT_COUNT,
  OG_TEXT_UNITS,
  OG_TEXT_LABEL,
  OG_TEXT_BY,
  OG_TEXT_SET_TO,
  OG_N_TEXTS
} OgLedgerText;

/** OgLedgerFlag: options that stand alone. */
typedef enum
{
  OG_FLAG_ALL,
  OG_FLAG_ALLOW_NEGATIVE,
  OG_FLAG_ALLOW_UNWEIGHED,
  OG_FLAG_WASTED,
  OG_N_FLAGS
} OgLedgerFlag;

/* Options in this order: texts, flags, the certificate. */
#define OG_CERTIFICATE (OG_N_TEXTS + OG_N_FLAGS)
#define OG_N_LEDGER_OPTIONS (OG_CERTIFICATE + 1)

/** OgLedgerOption: how an option is called. */
typedef struct
{
  const char *name;     /* without the dashes */
  const char *summary;  /* marked for translation */
  const char *argument; /* the same; nullable */
} OgLedgerOption;

extern const OgLedgerOption og_ledger_options[OG_N_LEDGER_OPTIONS];

typedef struct _OgLedgerSubject OgLedgerSubject;

/** OgLedgerRequest: one request to the ledger. */
typedef struct
{
  OgCall                *call;        /* borrowed */
  const OgLedgerSubject *subject;
  char                 **rest;        /* arguments behind the subject; of @call */
  char                  *text[OG_N_TEXTS];
  gboolean               flag[OG_N_FLAGS];
  char                 **certificate;
  OgLedger              *ledger;
  OgCatalog             *catalog;
  OgExit                 status;      /* of the program if all goes well */
} OgLedgerRequest;

/** Frees texts, ledger and catalog; the call stays. */
void og_ledger_request_clear (OgLedgerRequest *request);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (OgLedgerRequest, og_ledger_request_clear)

/* --- values: %FALSE with %OG_CLI_ERROR_USAGE for a text that is none --- */

/** Returns: day, person and note of the entry; borrowed */
OgLedgerNote og_request_get_note      (const OgLedgerRequest  *request);
/** @value: (out): NAN if the option was not given */
gboolean     og_request_get_number    (const OgLedgerRequest  *request,
                                       OgLedgerText            option,
                                       double                 *value,
                                       GError                **error);
/** @what: names @text in the error; @text: grams; @mg: (out): whole milligrams */
gboolean     og_request_parse_mg      (const char             *what,
                                       const char             *text,
                                       gint64                 *mg,
                                       GError                **error);
/** @mg: (out): whole milligrams of an option in grams; 0 if it was not given */
gboolean     og_request_get_mg        (const OgLedgerRequest  *request,
                                       OgLedgerText            option,
                                       gint64                 *mg,
                                       GError                **error);
/** @what: names @text in the error */
gboolean     og_request_parse_whole   (const char             *what,
                                       const char             *text,
                                       gint64                  low,
                                       gint64                  high,
                                       gint64                 *value,
                                       GError                **error);
/** @value: (inout): stays if the option was not given */
gboolean     og_request_get_whole     (const OgLedgerRequest  *request,
                                       OgLedgerText            option,
                                       gint64                  low,
                                       gint64                  high,
                                       gint64                 *value,
                                       GError                **error);
/** @before: (out): 0 for the first page; @limit: (out): rows at most */
gboolean     og_request_get_page      (const OgLedgerRequest  *request,
                                       gint64                 *before,
                                       guint                  *limit,
                                       GError                **error);
/** @moment: (out): Unix time in s; 0 if the option was not given */
gboolean     og_request_get_moment    (const OgLedgerRequest  *request,
                                       OgLedgerText            option,
                                       gint64                 *moment,
                                       GError                **error);
/**
 * og_request_get_material:
 * @text: (nullable): any name of a material
 *
 * Returns: (transfer none) (nullable): its id in the library, or @text itself: own materials of the
 * workshop are known by their id only
 */
const char  *og_request_get_material  (const OgLedgerRequest  *request,
                                       const char             *text);

/* --- answers --- */

/** Puts out what the lot has left after @entry. Returns: %FALSE, with the error that is set
 *  already, if @entry is 0 */
gboolean     og_request_answer_entry  (OgLedgerRequest        *request,
                                       gint64                  entry,
                                       const char             *material_id,
                                       const char             *code,
                                       GError                **error);
/** Puts out a JSON object with one member: @text or, without one, @number. */
void         og_request_answer_member (OgLedgerRequest        *request,
                                       const char             *member,
                                       const char             *text,
                                       gint64                  number);
/** Puts out @list: (transfer full) (nullable). Returns: %FALSE without one */
gboolean     og_request_answer_list   (OgLedgerRequest        *request,
                                       OgReport                report,
                                       GPtrArray              *list);

/* --- subjects: %FALSE with an error of the command line, a file or the ledger --- */

typedef gboolean (OgSubjectFunc) (OgLedgerRequest *request, GError **error);

/* ledger-stock.c: materials and lots that come and go, and what they cost */
OgSubjectFunc og_subject_receive;
OgSubjectFunc og_subject_complete;
OgSubjectFunc og_subject_use;
OgSubjectFunc og_subject_waste;
OgSubjectFunc og_subject_correct;
OgSubjectFunc og_subject_reverse;
OgSubjectFunc og_subject_count;
OgSubjectFunc og_subject_stock;
OgSubjectFunc og_subject_lots;
OgSubjectFunc og_subject_lot;
OgSubjectFunc og_subject_where;
OgSubjectFunc og_subject_journal;
OgSubjectFunc og_subject_offer;
OgSubjectFunc og_subject_offers;

/* ledger-batches.c: batch records, and what batches still need */
OgSubjectFunc og_subject_batch;
OgSubjectFunc og_subject_weigh;
OgSubjectFunc og_subject_record;
OgSubjectFunc og_subject_output;
OgSubjectFunc og_subject_close;
OgSubjectFunc og_subject_abandon;
OgSubjectFunc og_subject_release;
OgSubjectFunc og_subject_batches;
OgSubjectFunc og_subject_batch_show;
OgSubjectFunc og_subject_shopping;

/* ledger-tables.c: CSV */
OgSubjectFunc og_subject_export;
OgSubjectFunc og_subject_import;

G_END_DECLS
