/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/design/version-dialog.h"

#include <glib/gi18n.h>

#include "core/recipe/recipe-limits.h"
#include "core/recipe/versions.h"
#include "gtk/parts/form-window.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/text-field.h"

struct _OgVersionDialog
{
  GtkWindow parent_instance;

  GtkWidget *name_field;
  GtkWidget *note_field;
  GtkWidget *problem_label;

  OgDocument *document;
  char *name; /* nullable: of the version that is renamed */
};

G_DEFINE_FINAL_TYPE (OgVersionDialog, og_version_dialog, GTK_TYPE_WINDOW)

enum
{
  APPLIED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

void
og_version_dialog_type (OgVersionDialog *self,
                        const char      *name,
                        const char      *note)
{
  g_return_if_fail (OG_IS_VERSION_DIALOG (self));

  og_text_field_set_text (OG_TEXT_FIELD (self->name_field), name);
  og_text_field_set_text (OG_TEXT_FIELD (self->note_field), note);
}

static gboolean
refuse (GtkWidget  *field,
        const char *problem)
{
  og_text_field_set_problem (OG_TEXT_FIELD (field), problem);
  return FALSE;
}

static gboolean
check (OgVersionDialog *self,
       const char      *name,
       const char      *note)
{
  const GPtrArray *versions = og_document_get_formula (self->document)->versions;

  if (name == NULL)
    return refuse (self->name_field, _("A name is missing here."));
  if (!og_versions_is_name (name))
    return refuse (self->name_field, _("This is too long for a name."));
  if (g_strcmp0 (name, self->name) != 0 && og_versions_find (versions, name, NULL) != NULL)
    return refuse (self->name_field, _("Another version has this name."));
  if (g_utf8_strlen (note, -1) > OG_RECIPE_MAX_VERSION_NOTE)
    return refuse (self->note_field, _("This is too long for a note."));
  return TRUE;
}

static gboolean
keep (OgVersionDialog *self,
      const char      *name,
      const char      *note)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  GDate today;

  g_date_clear (&today, 1);
  g_date_set_dmy (&today, (GDateDay) g_date_time_get_day_of_month (now),
                  (GDateMonth) g_date_time_get_month (now), (GDateYear) g_date_time_get_year (now));
  return og_document_keep_version (self->document, name, note, &today);
}

gboolean
og_version_dialog_apply (OgVersionDialog *self)
{
  g_autofree char *name = NULL;
  g_autofree char *typed = NULL;
  const char *note;

  g_return_val_if_fail (OG_IS_VERSION_DIALOG (self), FALSE);

  name = og_text_field_get_text (OG_TEXT_FIELD (self->name_field));
  typed = og_text_field_get_text (OG_TEXT_FIELD (self->note_field));
  note = typed != NULL ? typed : "";
  if (!check (self, name, note))
    return FALSE;
  if (self->name != NULL)
    og_document_set_version_name (self->document, self->name, name, note);
  else if (!keep (self, name, note))
    {
      og_label_set_optional (self->problem_label,
                             _("The recipe keeps as many versions as it can. Remove one first."));
      return FALSE;
    }
  g_signal_emit (self, signals[APPLIED], 0, name);
  return TRUE;
}

static void
act_apply (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  if (og_version_dialog_apply (OG_VERSION_DIALOG (widget)))
    gtk_window_destroy (GTK_WINDOW (widget));
  else
    gtk_widget_error_bell (widget);
}

static void
og_version_dialog_finalize (GObject *object)
{
  g_clear_object (&OG_VERSION_DIALOG (object)->document);
  g_free (OG_VERSION_DIALOG (object)->name);

  G_OBJECT_CLASS (og_version_dialog_parent_class)->finalize (object);
}

static void
og_version_dialog_class_init (OgVersionDialogClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = og_version_dialog_finalize;

  signals[APPLIED] = g_signal_new ("applied", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 1, G_TYPE_STRING);

  gtk_widget_class_install_action (widget_class, "version.apply", NULL, act_apply);
  og_form_window_init_class (widget_class);
}

static void
og_version_dialog_init (OgVersionDialog *self)
{
}

static GtkWidget *
add_field (GtkWidget    *box,
           const char   *title,
           const char   *hint,
           GtkSizeGroup *titles)
{
  GtkWidget *field = og_text_field_new (title, hint);

  og_text_field_join (OG_TEXT_FIELD (field), titles);
  gtk_box_append (GTK_BOX (box), field);
  return field;
}

GtkWidget *
og_version_dialog_new (OgDocument *document,
                       const char *name)
{
  g_autoptr (GtkSizeGroup) titles = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  g_autofree char *proposed = NULL;
  const OgVersion *version;
  OgVersionDialog *self;
  GtkWidget *box;

  g_return_val_if_fail (OG_IS_DOCUMENT (document), NULL);

  self = g_object_new (OG_TYPE_VERSION_DIALOG, NULL);
  self->document = g_object_ref (document);
  self->name = g_strdup (name);
  version = name != NULL
            ? og_versions_find (og_document_get_formula (document)->versions, name, NULL) : NULL;
  proposed = og_document_propose_version_name (document);
  box = og_form_window_build (GTK_WINDOW (self),
                              version != NULL ? _("Rename the version") : _("Keep this as a version"),
                              version != NULL ? _("Rename") : _("Keep"), "version.apply");
  self->name_field = add_field (box, _("Name"), NULL, titles);
  self->note_field = add_field (box, _("Note"), _("What it was made for, or what it showed"), titles);
  self->problem_label = og_form_problem_new ();
  gtk_box_append (GTK_BOX (box), self->problem_label);
  og_version_dialog_type (self, version != NULL ? name : proposed, version != NULL ? version->note : NULL);
  gtk_widget_grab_focus (self->name_field);
  return GTK_WIDGET (self);
}
