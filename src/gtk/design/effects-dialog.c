/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "core/design/effects.h"
#include "core/design/rebalance.h"
#include "gtk/design/effects-dialog.h"
#include "gtk/design/effects-view.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/work-bar.h"

struct _OgEffectsDialog
{
  GtkWindow parent_instance;

  GtkWidget *heading_label;
  GtkWidget *keep_box;
  GtkWidget *keep_button;
  GtkWidget *agents_button;
  GtkWidget *report_label;
  GtkWidget *work_bar;
  GtkWidget *effects;

  OgDocument *document;
  guint64 revision;   /* of the recipe that is compared with */
  OgFormula *after;   /* the bare change */
  OgFormula *chosen;  /* nullable: what is shown and would be applied */
  gboolean kept;      /* @chosen has the body of the recipe */
  char *label;
  OgShelf *shelf;     /* nullable */
};

G_DEFINE_FINAL_TYPE (OgEffectsDialog, og_effects_dialog, GTK_TYPE_WINDOW)

enum
{
  APPLIED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

/* In the thread */

typedef struct
{
  OgFormula *before;
  OgFormula *after;
  OgCatalog *catalog;
  OgBelief *belief; /* nullable */
  OgShelf *shelf;   /* nullable */
  gboolean keep;
  gboolean vary_agents;
} Request;

typedef struct
{
  OgFormula *formula;
  GPtrArray *effects; /* of OgEffect */
  char *report;       /* nullable: what keeping the body took */
  gboolean kept;
} Answer;

static void
free_request (gpointer data)
{
  Request *request = data;

  og_formula_free (request->before);
  og_formula_free (request->after);
  og_catalog_unref (request->catalog);
  g_clear_pointer (&request->belief, og_belief_unref);
  g_clear_pointer (&request->shelf, og_shelf_unref);
  g_free (request);
}

static void
free_answer (gpointer data)
{
  Answer *answer = data;

  og_formula_free (answer->formula);
  g_clear_pointer (&answer->effects, g_ptr_array_unref);
  g_free (answer->report);
  g_free (answer);
}

/* The change with the body kept, as near as it goes. */
static OgFormula *
keep_body (Request *request,
           OgWork  *work,
           Answer  *answer)
{
  const OgRebalanceOptions options = {
    .vary_agents = request->vary_agents,
    .belief = request->belief,
    .progress = og_work_on_progress,
    .user_data = work,
  };
  g_autoptr(GError) error = NULL;
  g_autoptr(OgSolveReport) report =
    og_rebalance (request->before, request->after, request->catalog, &options, &error);

  if (report == NULL || report->answers->len == 0)
    {
      answer->report = g_strdup (report != NULL ? og_saying_text (report->text) : error->message);
      return NULL;
    }
  answer->report = g_strdup (og_saying_text (report->text));
  answer->kept = report->reached;
  return og_formula_copy (((OgSolveAnswer *) g_ptr_array_index (report->answers, 0))->formula);
}

static gpointer
compute (gpointer   data,
         OgWork    *work,
         GError   **error)
{
  Request *request = data;
  Answer *answer = g_new0 (Answer, 1);
  const OgEffectsOptions options = { request->belief, request->shelf };

  if (request->keep)
    answer->formula = keep_body (request, work, answer);
  if (answer->formula == NULL)
    answer->formula = og_formula_copy (request->after);
  answer->effects = og_effects (request->before, answer->formula, request->catalog, &options);
  return answer;
}

static const OgWorkKind comparison = { compute, free_request, free_answer };

/* In the window */

static void
on_compared (gpointer      data,
             const GError *error,
             gpointer      user_data)
{
  OgEffectsDialog *self = user_data;
  Answer *answer = data;

  g_clear_pointer (&self->chosen, og_formula_free);
  self->chosen = g_steal_pointer (&answer->formula);
  self->kept = answer->kept;
  og_effects_view_set (OG_EFFECTS_VIEW (self->effects), answer->effects);
  og_label_set_optional (self->report_label, answer->report);
  gtk_widget_set_sensitive (self->effects, TRUE);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "effects.apply", TRUE);
  free_answer (answer);
}

static void
compare (OgEffectsDialog *self)
{
  Request *request = g_new0 (Request, 1);
  OgBelief *belief = og_document_get_belief (self->document);

  request->before = og_work_copy_formula (og_document_get_formula (self->document));
  request->after = og_work_copy_formula (self->after);
  request->catalog = og_catalog_ref (og_document_get_catalog (self->document));
  request->belief = belief != NULL ? og_belief_ref (belief) : NULL;
  request->shelf = self->shelf != NULL ? og_shelf_ref (self->shelf) : NULL;
  request->keep = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->keep_button));
  request->vary_agents = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->agents_button));
  gtk_widget_set_sensitive (self->effects, FALSE);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "effects.apply", FALSE);
  g_clear_pointer (&self->chosen, og_formula_free);
  og_work_bar_run (OG_WORK_BAR (self->work_bar), &comparison, request, on_compared, self);
}

static void
on_keep_toggled (OgEffectsDialog *self)
{
  gtk_widget_set_sensitive (self->agents_button,
                            gtk_check_button_get_active (GTK_CHECK_BUTTON (self->keep_button)));
  if (self->document != NULL)
    compare (self);
}

void
og_effects_dialog_keep (OgEffectsDialog *self,
                        gboolean         keep,
                        gboolean         vary_agents)
{
  g_return_if_fail (OG_IS_EFFECTS_DIALOG (self));

  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->agents_button), vary_agents);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->keep_button), keep);
}

void
og_effects_dialog_flush (OgEffectsDialog *self)
{
  g_return_if_fail (OG_IS_EFFECTS_DIALOG (self));

  og_work_bar_wait (OG_WORK_BAR (self->work_bar));
}

const OgFormula *
og_effects_dialog_get_formula (OgEffectsDialog *self)
{
  g_return_val_if_fail (OG_IS_EFFECTS_DIALOG (self), NULL);

  return self->chosen;
}

gboolean
og_effects_dialog_apply (OgEffectsDialog *self)
{
  g_autofree char *label = NULL;

  g_return_val_if_fail (OG_IS_EFFECTS_DIALOG (self), FALSE);

  if (self->chosen == NULL || og_document_get_revision (self->document) != self->revision)
    return FALSE;
  /* Translators: an act that can be undone, such as "Replace Castor oil by Jojoba" */
  label = self->kept ? g_strdup_printf (_("%s, with the body kept"), self->label)
                     : g_strdup (self->label);
  if (!og_document_replace (self->document, g_steal_pointer (&self->chosen), label))
    return FALSE;
  g_signal_emit (self, signals[APPLIED], 0);
  return TRUE;
}

static void
act_apply (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  if (og_effects_dialog_apply (OG_EFFECTS_DIALOG (widget)))
    gtk_window_destroy (GTK_WINDOW (widget));
  else
    gtk_widget_error_bell (widget);
}

static void
og_effects_dialog_dispose (GObject *object)
{
  OgEffectsDialog *self = OG_EFFECTS_DIALOG (object);

  gtk_widget_dispose_template (GTK_WIDGET (self), OG_TYPE_EFFECTS_DIALOG);
  g_clear_object (&self->document);

  G_OBJECT_CLASS (og_effects_dialog_parent_class)->dispose (object);
}

static void
og_effects_dialog_finalize (GObject *object)
{
  OgEffectsDialog *self = OG_EFFECTS_DIALOG (object);

  g_clear_pointer (&self->after, og_formula_free);
  g_clear_pointer (&self->chosen, og_formula_free);
  g_clear_pointer (&self->shelf, og_shelf_unref);
  g_free (self->label);

  G_OBJECT_CLASS (og_effects_dialog_parent_class)->finalize (object);
}

static void
og_effects_dialog_class_init (OgEffectsDialogClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->dispose = og_effects_dialog_dispose;
  object_class->finalize = og_effects_dialog_finalize;

  signals[APPLIED] = g_signal_new ("applied", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                   NULL, NULL, NULL, G_TYPE_NONE, 0);

  g_type_ensure (OG_TYPE_EFFECTS_VIEW);
  g_type_ensure (OG_TYPE_WORK_BAR);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/effects-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, OgEffectsDialog, heading_label);
  gtk_widget_class_bind_template_child (widget_class, OgEffectsDialog, keep_box);
  gtk_widget_class_bind_template_child (widget_class, OgEffectsDialog, keep_button);
  gtk_widget_class_bind_template_child (widget_class, OgEffectsDialog, agents_button);
  gtk_widget_class_bind_template_child (widget_class, OgEffectsDialog, report_label);
  gtk_widget_class_bind_template_child (widget_class, OgEffectsDialog, work_bar);
  gtk_widget_class_bind_template_child (widget_class, OgEffectsDialog, effects);
  gtk_widget_class_bind_template_callback (widget_class, on_keep_toggled);
  gtk_widget_class_install_action (widget_class, "effects.apply", NULL, act_apply);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_DIALOG);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
og_effects_dialog_init (OgEffectsDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
og_effects_dialog_new (OgDocument *document,
                       OgFormula  *after,
                       const char *heading,
                       const char *label,
                       gboolean    swap,
                       OgShelf    *shelf)
{
  OgEffectsDialog *self;

  g_return_val_if_fail (OG_IS_DOCUMENT (document), NULL);
  g_return_val_if_fail (after != NULL, NULL);

  self = g_object_new (OG_TYPE_EFFECTS_DIALOG, NULL);
  self->document = g_object_ref (document);
  self->revision = og_document_get_revision (document);
  self->after = after;
  self->label = g_strdup (label);
  self->shelf = shelf != NULL ? og_shelf_ref (shelf) : NULL;
  gtk_label_set_label (GTK_LABEL (self->heading_label), heading);
  gtk_widget_set_visible (self->keep_box, swap);
  compare (self);
  return GTK_WIDGET (self);
}
