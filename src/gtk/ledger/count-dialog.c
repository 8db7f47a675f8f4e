/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "gtk/ledger/count-dialog.h"
#include "gtk/ledger/ledger-words.h"
#include "gtk/parts/form-window.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/number-field.h"
#include "gtk/parts/text-field.h"

#define DECIMALS 3

struct _OgCountDialog
{
  GtkWindow parent_instance;

  GtkWidget *amount_field;
  GtkWidget *outcome_label; /* what would be left */
  GtkWidget *who_field;
  GtkWidget *note_field;
  GtkWidget *anyway_check; /* only there once the lot was too small */
  GtkWidget *problem_label;

  OgLedger *ledger;
  OgJournalKind kind;
  char *material_id;
  char *lot;
  gint64 left_mg; /* when the window was opened */
};

G_DEFINE_FINAL_TYPE (OgCountDialog, og_count_dialog, GTK_TYPE_WINDOW)

enum
{
  RECORDED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

void
og_count_dialog_type (OgCountDialog *self,
                      double         amount_g)
{
  g_return_if_fail (OG_IS_COUNT_DIALOG (self));

  og_number_field_set_value (OG_NUMBER_FIELD (self->amount_field), amount_g, DECIMALS);
}

static gboolean
refuse (OgCountDialog *self,
        const char    *problem)
{
  og_number_field_set_problem (OG_NUMBER_FIELD (self->amount_field), problem);
  return FALSE;
}

static gboolean
read_amount (OgCountDialog *self,
             gint64        *mg)
{
  double values[OG_NUMBER_FIELD_MOST];
  guint n;

  if (!og_number_field_read (OG_NUMBER_FIELD (self->amount_field), values, &n))
    return FALSE;
  if (n == 0)
    return refuse (self, _("A number is missing here."));
  if (!og_ledger_g_to_mg (values[0], mg))
    return refuse (self, _("This is too large."));
  if (self->kind == OG_JOURNAL_COUNT && *mg < 0)
    return refuse (self, _("This cannot be below 0."));
  if (self->kind == OG_JOURNAL_WASTE && *mg <= 0)
    return refuse (self, _("This has to be above 0."));
  return TRUE;
}

static gint64
left_after (OgCountDialog *self,
            gint64         mg)
{
  if (self->kind == OG_JOURNAL_COUNT)
    return mg;
  return self->kind == OG_JOURNAL_WASTE ? self->left_mg - mg : self->left_mg + mg;
}

static void
on_amount_changed (OgCountDialog *self)
{
  double values[OG_NUMBER_FIELD_MOST];
  gint64 mg;
  guint n;

  og_label_set_optional (self->outcome_label, NULL);
  if (og_number_field_read (OG_NUMBER_FIELD (self->amount_field), values, &n) && n > 0
      && og_ledger_g_to_mg (values[0], &mg))
    {
      g_autofree char *before = og_ledger_mg_to_text (self->left_mg);
      g_autofree char *after = og_ledger_mg_to_text (left_after (self, mg));
      /* Translators: two masses: what the ledger says now, and what it will say */
      g_autofree char *text = g_strdup_printf (_("The lot goes from %s to %s."), before, after);

      og_label_set_optional (self->outcome_label, text);
    }
}

static gint64
record (OgCountDialog       *self,
        gint64               mg,
        const OgLedgerNote  *note,
        GError             **error)
{
  const gboolean anyway = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->anyway_check));

  if (self->kind == OG_JOURNAL_COUNT)
    return og_ledger_count (self->ledger, self->material_id, self->lot, mg, note, error);
  if (self->kind == OG_JOURNAL_WASTE)
    return og_ledger_take (self->ledger, OG_JOURNAL_WASTE, self->material_id, self->lot, mg, anyway,
                           note, error);
  return og_ledger_correct (self->ledger, self->material_id, self->lot, mg, anyway, note, error);
}

gboolean
og_count_dialog_apply (OgCountDialog *self)
{
  g_autofree char *who = NULL;
  g_autofree char *reason = NULL;
  g_autoptr (GError) error = NULL;
  OgLedgerNote note = { NULL };
  gint64 mg;

  g_return_val_if_fail (OG_IS_COUNT_DIALOG (self), FALSE);

  og_label_set_optional (self->problem_label, NULL);
  if (!read_amount (self, &mg))
    return FALSE;
  note.who = who = og_text_field_get_text (OG_TEXT_FIELD (self->who_field));
  note.note = reason = og_text_field_get_text (OG_TEXT_FIELD (self->note_field));
  if (record (self, mg, &note, &error) == 0)
    {
      if (g_error_matches (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_SHORTAGE))
        gtk_widget_set_visible (self->anyway_check, TRUE);
      og_label_set_optional (self->problem_label, error->message);
      return FALSE;
    }
  og_ledger_set_who (self->ledger, who);
  g_signal_emit (self, signals[RECORDED], 0);
  return TRUE;
}

static void
act_apply (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  if (og_count_dialog_apply (OG_COUNT_DIALOG (widget)))
    gtk_window_destroy (GTK_WINDOW (widget));
  else
    gtk_widget_error_bell (widget);
}

static void
og_count_dialog_finalize (GObject *object)
{
  OgCountDialog *self = OG_COUNT_DIALOG (object);

  g_clear_object (&self->ledger);
  g_free (self->material_id);
  g_free (self->lot);

  G_OBJECT_CLASS (og_count_dialog_parent_class)->finalize (object);
}

static void
og_count_dialog_class_init (OgCountDialogClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = og_count_dialog_finalize;

  signals[RECORDED] = g_signal_new ("recorded", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                    NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_install_action (widget_class, "count.apply", NULL, act_apply);
  og_form_window_init_class (widget_class);
}

static void
og_count_dialog_init (OgCountDialog *self)
{
}

/* Title of the window, of the amount, and what is to be known about it. */
static const struct
{
  const char *title;
  const char *amount;
  const char *help;
} words[OG_N_JOURNAL_KINDS] = {
  [OG_JOURNAL_COUNT] = { N_("Stock count"), N_("What is left"),
                         N_("The difference to the ledger becomes an entry of the journal.") },
  [OG_JOURNAL_WASTE] = { N_("Waste"), N_("Thrown away"),
                         N_("It is taken from the lot. Say why in the note.") },
  [OG_JOURNAL_CORRECTION] = { N_("Correct"), N_("Add to the lot"),
                              N_("A number below 0 takes away. Say why in the note.") },
};

static void
add_fields (OgCountDialog *self,
            const OgLot   *lot,
            GtkWidget     *box)
{
  g_autofree char *left = og_ledger_mg_to_text (lot->left_mg);
  /* Translators: material, lot, and what is left of it */
  g_autofree char *what = g_strdup_printf (_("%s, lot %s: %s left"), lot->material_name, lot->code,
                                           left);
  g_autoptr (GtkSizeGroup) titles = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);

  self->amount_field = og_number_field_new (_(words[self->kind].amount), _("g"), 1);
  self->outcome_label = og_wrapping_label_new (NULL, NULL);
  gtk_widget_set_visible (self->outcome_label, FALSE);
  g_signal_connect_object (self->amount_field, "changed", G_CALLBACK (on_amount_changed), self,
                           G_CONNECT_SWAPPED);
  self->who_field = og_text_field_new (_("Who"), NULL);
  self->note_field = og_text_field_new (_("Note"), NULL);
  self->anyway_check = gtk_check_button_new_with_label (_("Record it anyway, below nothing"));
  self->problem_label = og_form_problem_new ();
  og_number_field_join (OG_NUMBER_FIELD (self->amount_field), titles);
  og_text_field_join (OG_TEXT_FIELD (self->who_field), titles);
  og_text_field_join (OG_TEXT_FIELD (self->note_field), titles);
  og_text_field_set_text (OG_TEXT_FIELD (self->who_field), og_ledger_get_who (self->ledger));
  gtk_widget_set_visible (self->anyway_check, FALSE);
  gtk_box_append (GTK_BOX (box), og_wrapping_label_new (what, "heading"));
  gtk_box_append (GTK_BOX (box), og_wrapping_label_new (_(words[self->kind].help), NULL));
  gtk_box_append (GTK_BOX (box), self->amount_field);
  gtk_box_append (GTK_BOX (box), self->outcome_label);
  gtk_box_append (GTK_BOX (box), self->who_field);
  gtk_box_append (GTK_BOX (box), self->note_field);
  gtk_box_append (GTK_BOX (box), self->problem_label);
  gtk_box_append (GTK_BOX (box), self->anyway_check);
}

GtkWidget *
og_count_dialog_new (OgLedger      *ledger,
                     OgJournalKind  kind,
                     const OgLot   *lot)
{
  OgCountDialog *self;

  g_return_val_if_fail (OG_IS_LEDGER (ledger) && lot != NULL, NULL);
  g_return_val_if_fail (kind < OG_N_JOURNAL_KINDS && words[kind].title != NULL, NULL);

  self = g_object_new (OG_TYPE_COUNT_DIALOG, NULL);
  self->ledger = g_object_ref (ledger);
  self->kind = kind;
  self->material_id = g_strdup (lot->material_id);
  self->lot = g_strdup (lot->code);
  self->left_mg = lot->left_mg;
  add_fields (self, lot, og_form_window_build (GTK_WINDOW (self), _(words[kind].title),
                                               _("Record"), "count.apply"));
  gtk_widget_grab_focus (self->amount_field);
  return GTK_WIDGET (self);
}
