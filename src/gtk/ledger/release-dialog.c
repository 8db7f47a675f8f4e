/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "gtk/ledger/release-dialog.h"
#include "gtk/parts/form-window.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/text-field.h"

struct _OgReleaseDialog
{
  GtkWindow parent_instance;

  GtkWidget *who_field;
  GtkWidget *note_field;
  GtkWidget *problem_label;

  OgLedger *ledger;
  char *number;
};

G_DEFINE_FINAL_TYPE (OgReleaseDialog, og_release_dialog, GTK_TYPE_WINDOW)

enum
{
  RELEASED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

void
og_release_dialog_type (OgReleaseDialog *self,
                        const char      *who)
{
  g_return_if_fail (OG_IS_RELEASE_DIALOG (self));

  og_text_field_set_text (OG_TEXT_FIELD (self->who_field), who);
}

static gboolean
is_same (const char *a,
         const char *b)
{
  g_autofree char *one = a != NULL ? g_utf8_casefold (a, -1) : NULL;
  g_autofree char *other = b != NULL ? g_utf8_casefold (b, -1) : NULL;

  return one != NULL && g_strcmp0 (one, other) == 0;
}

static gboolean
had_a_hand (const OgBatch *batch,
            const char    *who)
{
  if (is_same (batch->who, who))
    return TRUE;
  for (guint i = 0; i < batch->weighings->len; i++)
    {
      if (is_same (((OgWeighing *) g_ptr_array_index (batch->weighings, i))->who, who))
        return TRUE;
    }
  for (guint i = 0; i < batch->entries->len; i++)
    {
      if (is_same (((OgBatchEntry *) g_ptr_array_index (batch->entries, i))->who, who))
        return TRUE;
    }
  return FALSE;
}

static gboolean
refuse (OgReleaseDialog *self,
        const char      *problem)
{
  og_text_field_set_problem (OG_TEXT_FIELD (self->who_field), problem);
  return FALSE;
}

gboolean
og_release_dialog_apply (OgReleaseDialog *self)
{
  g_autofree char *who = NULL;
  g_autofree char *reason = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (OgBatch) batch = NULL;
  OgLedgerNote note = { NULL };

  g_return_val_if_fail (OG_IS_RELEASE_DIALOG (self), FALSE);

  og_label_set_optional (self->problem_label, NULL);
  note.who = who = og_text_field_get_text (OG_TEXT_FIELD (self->who_field));
  note.note = reason = og_text_field_get_text (OG_TEXT_FIELD (self->note_field));
  if (who == NULL)
    return refuse (self, _("The name of who signs is missing."));
  batch = og_ledger_get_batch (self->ledger, self->number, &error);
  if (batch != NULL && had_a_hand (batch, who))
    return refuse (self, _("This person made the batch. Let somebody else sign."));
  if (batch == NULL || !og_ledger_release_batch (self->ledger, self->number, &note, &error))
    {
      og_label_set_optional (self->problem_label, error->message);
      return FALSE;
    }
  g_signal_emit (self, signals[RELEASED], 0);
  return TRUE;
}

static void
act_apply (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  if (og_release_dialog_apply (OG_RELEASE_DIALOG (widget)))
    gtk_window_destroy (GTK_WINDOW (widget));
  else
    gtk_widget_error_bell (widget);
}

static void
og_release_dialog_finalize (GObject *object)
{
  g_clear_object (&OG_RELEASE_DIALOG (object)->ledger);
  g_free (OG_RELEASE_DIALOG (object)->number);

  G_OBJECT_CLASS (og_release_dialog_parent_class)->finalize (object);
}

static void
og_release_dialog_class_init (OgReleaseDialogClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = og_release_dialog_finalize;

  signals[RELEASED] = g_signal_new ("released", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                    NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_install_action (widget_class, "release.apply", NULL, act_apply);
  og_form_window_init_class (widget_class);
}

static void
og_release_dialog_init (OgReleaseDialog *self)
{
}

GtkWidget *
og_release_dialog_new (OgLedger   *ledger,
                       const char *number)
{
  OgReleaseDialog *self;
  GtkWidget *box;
  g_autofree char *title = NULL;
  g_autoptr (GtkSizeGroup) titles = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);

  g_return_val_if_fail (OG_IS_LEDGER (ledger) && number != NULL, NULL);

  self = g_object_new (OG_TYPE_RELEASE_DIALOG, NULL);
  self->ledger = g_object_ref (ledger);
  self->number = g_strdup (number);
  /* Translators: %s is the number of a batch */
  title = g_strdup_printf (_("Release batch %s"), number);
  box = og_form_window_build (GTK_WINDOW (self), title, _("Sign"), "release.apply");
  self->who_field = og_text_field_new (_("Signed by"), NULL);
  self->note_field = og_text_field_new (_("Note"), NULL);
  self->problem_label = og_form_problem_new ();
  og_text_field_join (OG_TEXT_FIELD (self->who_field), titles);
  og_text_field_join (OG_TEXT_FIELD (self->note_field), titles);
  gtk_box_append (GTK_BOX (box),
                  og_wrapping_label_new (_("Somebody who had no hand in the batch has read its "
                                           "record and lets it go. This is said once."),
                                         NULL));
  gtk_box_append (GTK_BOX (box), self->who_field);
  gtk_box_append (GTK_BOX (box), self->note_field);
  gtk_box_append (GTK_BOX (box), self->problem_label);
  gtk_widget_grab_focus (self->who_field);
  return GTK_WIDGET (self);
}
