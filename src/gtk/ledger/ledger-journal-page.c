/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <inttypes.h>

#include "gtk/ledger/ledger-journal-page.h"
#include "gtk/ledger/ledger-words.h"
#include "gtk/parts/compat.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/pieces.h"
#include "gtk/parts/record-table.h"

#define PAGE_ROWS 200

struct _OgLedgerJournalPage
{
  OgLedgerPage parent_instance;

  GtkWidget *table;
  GtkWidget *empty_label;
  gint64 oldest; /* id of the last row; 0 before the first */
  gint64 asked;  /* entry that a question is open about */
};

G_DEFINE_FINAL_TYPE (OgLedgerJournalPage, og_ledger_journal_page, OG_TYPE_LEDGER_PAGE)

static const OgRecordColumn columns[] = {
  { N_("Day"), FALSE, FALSE },      { N_("What"), FALSE, FALSE },  { N_("Material"), FALSE, TRUE },
  { N_("Lot"), FALSE, FALSE },      { N_("Amount, g"), TRUE, FALSE }, { N_("Batch"), FALSE, FALSE },
  { N_("Who"), FALSE, FALSE },      { N_("Note"), FALSE, TRUE },
};

static char *
note_text (const OgJournalEntry *entry)
{
  const char *note = entry->note != NULL ? entry->note : "";

  if (entry->corrects != 0)
    /* Translators: number of an entry of the journal, then a note */
    return g_strdup_printf (_("counters entry %" PRId64 ". %s"), entry->corrects, note);
  if (entry->negative)
    /* Translators: %s is a note */
    return g_strdup_printf (_("below nothing by consent. %s"), note);
  return g_strdup (note);
}

static OgRecord *
entry_record (const OgJournalEntry *entry)
{
  char **cells = g_new0 (char *, G_N_ELEMENTS (columns) + 1);

  cells[0] = g_strdup (entry->day);
  cells[1] = g_strdup (og_journal_kind_get_name (entry->kind));
  cells[2] = g_strdup (entry->material_name);
  cells[3] = g_strdup (entry->lot);
  cells[4] = og_ledger_mg_to_number (entry->amount_mg);
  cells[5] = og_ledger_optional_text (entry->batch);
  cells[6] = og_ledger_optional_text (entry->who);
  cells[7] = note_text (entry);
  return og_record_new (cells, NULL, entry->id);
}

/* Returns: (nullable) (transfer full) (element-type OgRecord) */
static GPtrArray *
load (OgLedgerJournalPage *self,
      gint64               before,
      guint                limit)
{
  OgLedgerPage *page = OG_LEDGER_PAGE (self);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) entries =
    og_ledger_list_journal (og_ledger_page_get_ledger (page), NULL, NULL, before, limit, &error);
  GPtrArray *records;

  if (!og_ledger_page_check (page, error))
    return NULL;
  records = g_ptr_array_new_with_free_func (g_object_unref);
  for (guint i = 0; i < entries->len; i++)
    {
      const OgJournalEntry *entry = g_ptr_array_index (entries, i);

      self->oldest = entry->id;
      g_ptr_array_add (records, entry_record (entry));
    }
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "journal.more", entries->len == limit);
  return records;
}

static void
og_ledger_journal_page_refresh (OgLedgerPage *page)
{
  OgLedgerJournalPage *self = OG_LEDGER_JOURNAL_PAGE (page);
  const guint shown = og_record_table_get_n_rows (OG_RECORD_TABLE (self->table));
  g_autoptr (GPtrArray) records = load (self, 0, MAX (shown, PAGE_ROWS));

  if (records == NULL)
    return;
  og_record_table_show (OG_RECORD_TABLE (self->table), records);
  og_label_set_optional (self->empty_label,
                         records->len == 0 ? _("Nothing has come or gone yet.") : NULL);
}

static void
act_more (GtkWidget  *widget,
          const char *name,
          GVariant   *parameter)
{
  OgLedgerJournalPage *self = OG_LEDGER_JOURNAL_PAGE (widget);
  g_autoptr (GPtrArray) records = load (self, self->oldest, PAGE_ROWS);

  if (records != NULL)
    og_record_table_append (OG_RECORD_TABLE (self->table), records);
}

/* Countering */

static void counter (OgLedgerJournalPage *self,
                     gboolean             anyway);

static void
on_anyway (GtkWindow *parent,
           guint      answer,
           gpointer   data)
{
  g_autoptr (OgLedgerJournalPage) self = data;

  if (answer == 1)
    counter (self, TRUE);
}

static void
counter (OgLedgerJournalPage *self,
         gboolean             anyway)
{
  OgLedger *ledger = og_ledger_page_get_ledger (OG_LEDGER_PAGE (self));
  const OgLedgerNote note = { .who = og_ledger_get_who (ledger) };
  const OgAnswer answers[] = { { _("Leave it"), OG_ANSWER_PLAIN },
                               { _("Record it anyway"), OG_ANSWER_DESTRUCTIVE } };
  g_autoptr (GError) error = NULL;

  if (og_ledger_reverse (ledger, self->asked, anyway, &note, &error) != 0)
    og_ledger_page_say (OG_LEDGER_PAGE (self), _("A counter entry was written"));
  else if (g_error_matches (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_SHORTAGE))
    og_compat_ask (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self))),
                   _("The lot would go below nothing"), error->message, answers,
                   G_N_ELEMENTS (answers), on_anyway, g_object_ref (self));
  else
    og_ledger_page_say (OG_LEDGER_PAGE (self), error->message);
}

static void
on_counter (GtkWindow *parent,
            guint      answer,
            gpointer   data)
{
  g_autoptr (OgLedgerJournalPage) self = data;

  if (answer == 1)
    counter (self, FALSE);
}

static void
act_counter (GtkWidget  *widget,
             const char *name,
             GVariant   *parameter)
{
  OgLedgerJournalPage *self = OG_LEDGER_JOURNAL_PAGE (widget);
  OgRecord *record = og_record_table_get_selected (OG_RECORD_TABLE (self->table));
  const OgAnswer answers[] = { { _("Cancel"), OG_ANSWER_PLAIN },
                               { _("Write a counter entry"), OG_ANSWER_SUGGESTED } };

  if (record == NULL)
    return;
  self->asked = og_record_get_id (record);
  og_compat_ask (GTK_WINDOW (gtk_widget_get_root (widget)), _("Counter this entry?"),
                 _("The journal is never rewritten: the entry stays, and another one takes it "
                   "back."),
                 answers, G_N_ELEMENTS (answers), on_counter, g_object_ref (self));
}

static void
on_selected (OgLedgerJournalPage *self)
{
  OgLedger *ledger = og_ledger_page_get_ledger (OG_LEDGER_PAGE (self));

  gtk_widget_action_set_enabled (
    GTK_WIDGET (self), "journal.counter",
    og_record_table_get_selected (OG_RECORD_TABLE (self->table)) != NULL
      && !og_ledger_is_read_only (ledger));
}

/* Building */

static gboolean
og_ledger_journal_page_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (OG_LEDGER_JOURNAL_PAGE (widget)->table);
}

static void
og_ledger_journal_page_class_init (OgLedgerJournalPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  widget_class->grab_focus = og_ledger_journal_page_grab_focus;
  OG_LEDGER_PAGE_CLASS (class)->refresh = og_ledger_journal_page_refresh;

  gtk_widget_class_install_action (widget_class, "journal.more", NULL, act_more);
  gtk_widget_class_install_action (widget_class, "journal.counter", NULL, act_counter);
}

static void
og_ledger_journal_page_init (OgLedgerJournalPage *self)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  gtk_box_set_spacing (GTK_BOX (self), 6);
  gtk_widget_add_css_class (GTK_WIDGET (self), "make-column");
  self->empty_label = og_wrapping_label_new (NULL, "dim-label");
  gtk_widget_set_visible (self->empty_label, FALSE);
  self->table = og_record_table_new (_("Journal"), columns, G_N_ELEMENTS (columns));
  g_signal_connect_swapped (self->table, "selected", G_CALLBACK (on_selected), self);
  gtk_box_append (GTK_BOX (line), og_action_button_new (_("Counter this entry…"), "journal.counter"));
  gtk_box_append (GTK_BOX (line), og_action_button_new (_("Show older entries"), "journal.more"));
  gtk_box_append (GTK_BOX (self), self->empty_label);
  gtk_box_append (GTK_BOX (self), self->table);
  gtk_box_append (GTK_BOX (self), line);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "journal.counter", FALSE);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "journal.more", FALSE);
}

GtkWidget *
og_ledger_journal_page_new (void)
{
  return g_object_new (OG_TYPE_LEDGER_JOURNAL_PAGE, NULL);
}
