/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "cli/ledger-request.h"
#include "cli/verbs.h"

#define MOST_ARGUMENTS 1000

#define BIT(option) (G_GUINT64_CONSTANT (1) << (option))
#define FLAG_BIT(flag) BIT (OG_N_TEXTS + (flag))
#define PRICE_BITS (BIT (OG_TEXT_PRICE) | BIT (OG_TEXT_CURRENCY) | BIT (OG_TEXT_PACK))
#define PAGE_BITS (BIT (OG_TEXT_BEFORE) | BIT (OG_TEXT_LIMIT))
#define TAKE_BITS (BIT (OG_TEXT_LOT) | BIT (OG_TEXT_GRAMS) | FLAG_BIT (OG_FLAG_ALLOW_NEGATIVE))
#define NOTE_BITS (BIT (OG_TEXT_DATE) | BIT (OG_TEXT_WHO) | BIT (OG_TEXT_NOTE))

struct _OgLedgerSubject
{
  const char    *name;
  guint          least, most; /* arguments behind it */
  gboolean       writes;
  guint64        options;     /* besides --ledger; those that write take --date, --who and --note */
  OgSubjectFunc *run;
  OgLedgerText   needs[3];    /* of the options, in the order in which a missing one is told */
};

static const OgLedgerSubject subjects[] = {
  { "receive", 1, 1, TRUE,
    NOTE_BITS | PRICE_BITS | BIT (OG_TEXT_LOT) | BIT (OG_TEXT_GRAMS) | BIT (OG_TEXT_BEST_BEFORE)
    | BIT (OG_TEXT_SUPPLIER) | BIT (OG_TEXT_RECEIVED) | BIT (OG_TEXT_NAME)
    | BIT (OG_TEXT_OVERRIDE) | BIT (OG_CERTIFICATE),
    og_subject_receive, { OG_TEXT_LOT, OG_TEXT_GRAMS } },
  { "complete", 2, 2, TRUE,
    PRICE_BITS | BIT (OG_TEXT_BEST_BEFORE) | BIT (OG_TEXT_SUPPLIER) | BIT (OG_TEXT_OVERRIDE)
    | BIT (OG_CERTIFICATE),
    og_subject_complete },
  { "use", 1, 1, TRUE, NOTE_BITS | TAKE_BITS, og_subject_use, { OG_TEXT_LOT, OG_TEXT_GRAMS } },
  { "waste", 1, 1, TRUE, NOTE_BITS | TAKE_BITS, og_subject_waste, { OG_TEXT_LOT, OG_TEXT_GRAMS } },
  { "correct", 1, 1, TRUE,
    NOTE_BITS | BIT (OG_TEXT_LOT) | BIT (OG_TEXT_BY) | BIT (OG_TEXT_SET_TO) | FLAG_BIT (OG_FLAG_ALLOW_NEGATIVE),
    og_subject_correct, { OG_TEXT_LOT } },
  { "reverse", 1, 1, TRUE, NOTE_BITS | FLAG_BIT (OG_FLAG_ALLOW_NEGATIVE), og_subject_reverse },
  { "count", 3, 3, TRUE, NOTE_BITS, og_subject_count },
  { "stock", 0, 0, FALSE, BIT (OG_TEXT_SEARCH), og_subject_stock },
  { "lots", 0, 1, FALSE, BIT (OG_TEXT_UNTIL) | FLAG_BIT (OG_FLAG_ALL), og_subject_lots },
  { "lot", 1, 1, FALSE, BIT (OG_TEXT_MATERIAL), og_subject_lot },
  { "where", 1, 1, FALSE, BIT (OG_TEXT_MATERIAL), og_subject_where },
  { "journal", 0, 1, FALSE, PAGE_BITS | BIT (OG_TEXT_LOT), og_subject_journal },
  { "offer", 1, 1, TRUE,
    PRICE_BITS | BIT (OG_TEXT_SUPPLIER) | BIT (OG_TEXT_NAME) | BIT (OG_TEXT_DATE),
    og_subject_offer, { OG_TEXT_SUPPLIER, OG_TEXT_PACK, OG_TEXT_PRICE } },
  { "offers", 0, 1, FALSE, 0, og_subject_offers },
  { "batch", 1, 1, TRUE, NOTE_BITS | BIT (OG_TEXT_GRAMS) | BIT (OG_TEXT_NUMBER), og_subject_batch },
  { "weigh", 2, 2, TRUE,
    BIT (OG_TEXT_WHO) | BIT (OG_TEXT_LOT) | BIT (OG_TEXT_GRAMS) | BIT (OG_TEXT_BALANCE)
    | BIT (OG_TEXT_STARTED),
    og_subject_weigh, { OG_TEXT_GRAMS } },
  { "record", 2, 2, TRUE,
    BIT (OG_TEXT_WHO) | BIT (OG_TEXT_NOTE) | BIT (OG_TEXT_WHAT) | BIT (OG_TEXT_PHASE)
    | BIT (OG_TEXT_DECISION) | BIT (OG_TEXT_VALUE) | BIT (OG_TEXT_TEMPERATURE)
    | BIT (OG_TEXT_STARTED) | BIT (OG_TEXT_ENDED) | BIT (OG_TEXT_COUNT) | BIT (OG_TEXT_UNTIL)
    | BIT (OG_TEXT_GRAMS),
    og_subject_record },
  { "output", 1, 1, TRUE, BIT (OG_TEXT_UNITS) | BIT (OG_TEXT_LABEL), og_subject_output },
  { "close", 1, 1, TRUE,
    NOTE_BITS | FLAG_BIT (OG_FLAG_ALLOW_NEGATIVE) | FLAG_BIT (OG_FLAG_ALLOW_UNWEIGHED),
    og_subject_close },
  { "abandon", 1, 1, TRUE,
    NOTE_BITS | FLAG_BIT (OG_FLAG_ALLOW_NEGATIVE) | FLAG_BIT (OG_FLAG_WASTED),
    og_subject_abandon },
  { "release", 1, 1, TRUE, NOTE_BITS, og_subject_release, { OG_TEXT_WHO } },
  { "batches", 0, 0, FALSE,
    PAGE_BITS | BIT (OG_TEXT_SEARCH) | BIT (OG_TEXT_STATE),
    og_subject_batches },
  { "batch-show", 1, 1, FALSE, 0, og_subject_batch_show },
  { "shopping", 1, MOST_ARGUMENTS, FALSE, 0, og_subject_shopping },
  { "export", 1, 1, FALSE, 0, og_subject_export },
  { "import", 1, 1, TRUE, NOTE_BITS, og_subject_import },
};

static const char *
subject_word (guint index)
{
  return subjects[index].name;
}

static gboolean
find_subject (OgLedgerRequest  *request,
              const char       *name,
              GError          **error)
{
  g_autofree char *known = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (subjects); i++)
    if (g_str_equal (subjects[i].name, name))
      {
        request->subject = &subjects[i];
        return TRUE;
      }

  known = og_call_list_words (G_N_ELEMENTS (subjects), subject_word);
  return og_call_refuse (error, _("“%s” is none of: %s"), name, known);
}

static gboolean
is_given (const OgLedgerRequest *request,
          guint                  option)
{
  if (option < OG_N_TEXTS)
    return request->text[option] != NULL;
  if (option < OG_CERTIFICATE)
    return request->flag[option - OG_N_TEXTS];

  return request->certificate != NULL;
}

static gboolean
check_options (const OgLedgerRequest  *request,
               GError                **error)
{
  const guint64 allowed = request->subject->options | BIT (OG_TEXT_LEDGER);

  for (guint i = 0; i < OG_N_LEDGER_OPTIONS; i++)
    {
      if (is_given (request, i) && (allowed & BIT (i)) == 0)
        return og_call_refuse (error, _("--%s says nothing about “ledger %s”"),
                               og_ledger_options[i].name, request->subject->name);
    }
  for (guint i = 0; i < OG_N_TEXTS; i++)
    {
      g_autofree char *name = g_strconcat ("--", og_ledger_options[i].name, NULL);

      if (i != OG_TEXT_LEDGER && i != OG_TEXT_OVERRIDE
          && !og_call_check_text (name, request->text[i], error))
        return FALSE;
    }

  return request->text[OG_TEXT_DATE] == NULL || og_ledger_is_day (request->text[OG_TEXT_DATE])
         || og_call_refuse (error, _("--date: “%s” is not a day such as 2024-05-17"),
                            request->text[OG_TEXT_DATE]);
}

static gboolean
check_needs (const OgLedgerRequest  *request,
             GError                **error)
{
  const OgLedgerText *needs = request->subject->needs;

  for (guint i = 0; i < G_N_ELEMENTS (request->subject->needs) && needs[i] != 0; i++)
    if (request->text[needs[i]] == NULL)
      return og_call_refuse (error, _("--%s is needed"), og_ledger_options[needs[i]].name);

  return TRUE;
}

static gboolean
check_arguments (const OgLedgerRequest  *request,
                 GError                **error)
{
  const guint n = g_strv_length (request->rest);

  if (n < request->subject->least)
    return og_call_refuse (error, _("“ledger %s” needs one argument more"),
                           request->subject->name);
  if (n > request->subject->most)
    return og_call_refuse (error, _("“%s” is one argument too many for “ledger %s”"),
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
parse (OgLedgerRequest  *request,
       GError          **error)
{
  GOptionEntry entries[OG_N_LEDGER_OPTIONS + 1] = { 0 };

  for (guint i = 0; i < OG_N_LEDGER_OPTIONS; i++)
    {
      entries[i].long_name = og_ledger_options[i].name;
      entries[i].description = og_ledger_options[i].summary;
      entries[i].arg_description = og_ledger_options[i].argument;
      if (i < OG_N_TEXTS)
        {
          entries[i].arg = G_OPTION_ARG_FILENAME;
          entries[i].arg_data = &request->text[i];
        }
      else if (i < OG_CERTIFICATE)
        {
          entries[i].arg = G_OPTION_ARG_NONE;
          entries[i].arg_data = &request->flag[i - OG_N_TEXTS];
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
open_ledger (OgLedgerRequest  *request,
             GError          **error)
{
  const char *given = request->text[OG_TEXT_LEDGER];
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
  g_auto (OgLedgerRequest) request = { .call = call };

  if (!parse (&request, error))
    return OG_EXIT_DONE;
  request.catalog = og_call_load_catalog (error);
  if (request.catalog == NULL || !open_ledger (&request, error)
      || !check_needs (&request, error) || !request.subject->run (&request, error))
    return OG_EXIT_INTERNAL;

  return request.status;
}
