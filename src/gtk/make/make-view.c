/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/make/stove-split.h"
#include "draw/batch-sheet.h"
#include "gtk/make/balance-dialog.h"
#include "gtk/make/batch-view.h"
#include "gtk/make/make-view.h"
#include "gtk/make/stove-view.h"
#include "gtk/make/weighing-view.h"
#include "gtk/parts/balances.h"
#include "gtk/parts/pieces.h"
#include "gtk/parts/sheet-file.h"

#define BATCH_SHARE 0.27    /* of the width, for the columns to begin with */
#define WEIGHING_SHARE 0.31

struct _OgMakeView
{
  OgDocumentPage parent_instance;

  GtkWidget *scroller;
  GtkWidget *outer_pane;
  GtkWidget *inner_pane;
  OgBatchView *batch_view;
  OgWeighingView *weighing_view;
  OgStoveView *stove_view;

  OgDocument *document; /* nullable, borrowed from the parent */
  GSettings *settings;
  GPtrArray *balances; /* of OgBalance */
  OgShelf *shelf;
  OgBatchPlan *batch;
  OgStovePlan *plan;
  gboolean built; /* the columns are there: not before somebody looks into the room */
};

G_DEFINE_FINAL_TYPE (OgMakeView, og_make_view, OG_TYPE_DOCUMENT_PAGE)

enum
{
  MESSAGE,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

/* Working it out */

static void
drop_plans (OgMakeView *self)
{
  og_stove_view_show (self->stove_view, NULL, NULL);
  g_clear_pointer (&self->batch, og_batch_plan_free);
  g_clear_pointer (&self->plan, og_stove_plan_free);
}

/* Where the pot stands when it is filled; NAN if the plan does not say. */
static double
plan_fill_c (const OgStovePlan *plan)
{
  for (guint i = plan->steps->len; i-- > 0;)
    {
      const OgStoveStep *step = g_ptr_array_index (plan->steps, i);

      if (step->act == OG_STOVE_FILL)
        return step->after_c;
    }
  return NAN;
}

static void
plan_stove (OgMakeView      *self,
            const OgFormula *formula,
            OgResult        *result)
{
  OgStoveSetup setup = {
    .batch_g = self->batch != NULL ? self->batch->batch_g : NAN,
    .cool_to_c = og_batch_view_get_fill_c (self->batch_view),
  };

  og_stove_view_get_setup (self->stove_view, &setup);
  self->plan = og_stove_plan (formula, result, &setup);
  og_stove_find_splits (self->plan, formula, result, &setup);
}

/* The stove needs the size of the batch, and the batch the temperature at which the stove fills. */
static void
plan_batch (OgMakeView      *self,
            const OgFormula *formula,
            OgResult        *result,
            char           **problem)
{
  const double typed = og_batch_view_get_fill_c (self->batch_view);
  g_autoptr (GError) error = NULL;
  OgBatchOptions options;

  og_batch_options_init (&options, formula);
  og_batch_view_get_options (self->batch_view, &options);
  options.balances = self->balances;
  options.shelf = self->shelf;
  if (isfinite (typed))
    options.fill_c = typed;
  if (isfinite (options.amount))
    self->batch = og_batch_plan_new (formula, result, &options, &error);
  plan_stove (self, formula, result);
  if (self->batch != NULL && isnan (typed) && isfinite (plan_fill_c (self->plan)))
    {
      og_batch_plan_free (self->batch);
      options.fill_c = plan_fill_c (self->plan);
      self->batch = og_batch_plan_new (formula, result, &options, &error);
    }
  if (self->batch == NULL)
    *problem = g_strdup (error != NULL ? error->message : _("Say how large the batch is."));
}

static void
enable_records (OgMakeView *self)
{
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "make.start-record", self->batch != NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "make.write-record", self->batch != NULL);
}

static gboolean
on_first_frame (GtkWidget     *widget,
                GdkFrameClock *clock,
                gpointer       data)
{
  OgMakeView *self = OG_MAKE_VIEW (widget);
  const int width = gtk_widget_get_width (self->outer_pane);

  if (width <= 0)
    return G_SOURCE_CONTINUE;
  gtk_paned_set_position (GTK_PANED (self->outer_pane), (int) (width * BATCH_SHARE));
  gtk_paned_set_position (GTK_PANED (self->inner_pane), (int) (width * WEIGHING_SHARE));
  return G_SOURCE_REMOVE;
}

/* A window opens faster without widgets that may never be seen. */
static void
build (OgMakeView *self)
{
  if (self->built)
    return;
  self->built = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  og_batch_view_set_settings (self->batch_view, self->settings);
  og_stove_view_set_settings (self->stove_view, self->settings);
  og_batch_view_set_document (self->batch_view, self->document);
  gtk_widget_add_tick_callback (GTK_WIDGET (self), on_first_frame, NULL, NULL);
}

static void
og_make_view_refresh (OgDocumentPage *page)
{
  OgMakeView *self = OG_MAKE_VIEW (page);
  const OgFormula *formula;
  OgResult *result;
  g_autofree char *problem = NULL;

  build (self);
  drop_plans (self);
  enable_records (self);
  if (self->document == NULL
      || og_formula_get_n_lines (og_document_get_formula (self->document)) == 0)
    {
      og_batch_view_show (self->batch_view, NULL, NULL);
      og_weighing_view_show (self->weighing_view, NULL, NULL);
      return;
    }
  formula = og_document_get_formula (self->document);
  result = og_document_get_result (self->document);
  plan_batch (self, formula, result, &problem);
  og_batch_view_show (self->batch_view, self->batch, problem);
  og_weighing_view_show (self->weighing_view, formula, self->batch);
  og_stove_view_show (self->stove_view, self->plan, result);
  enable_records (self);
}

static void
schedule (OgMakeView *self)
{
  og_document_page_ask (OG_DOCUMENT_PAGE (self));
}

const OgBatchPlan *
og_make_view_get_batch (OgMakeView *self)
{
  g_return_val_if_fail (OG_IS_MAKE_VIEW (self), NULL);

  og_document_page_flush (OG_DOCUMENT_PAGE (self));
  return self->batch;
}

const OgStovePlan *
og_make_view_get_plan (OgMakeView *self)
{
  g_return_val_if_fail (OG_IS_MAKE_VIEW (self), NULL);

  og_document_page_flush (OG_DOCUMENT_PAGE (self));
  return self->plan;
}

void
og_make_view_revert (OgMakeView *self)
{
  g_return_if_fail (OG_IS_MAKE_VIEW (self));

  if (!self->built)
    return;
  og_batch_view_revert (self->batch_view);
  og_stove_view_revert (self->stove_view);
}

/* Balances and shelf */

static void
on_balances_stored (OgMakeView *self)
{
  g_clear_pointer (&self->batch, og_batch_plan_free); /* names the balances it was planned for */
  g_ptr_array_unref (self->balances);
  self->balances = og_balances_load (self->settings);
  schedule (self);
}

/* Without settings the balances last as long as the window. */
static void
on_balances_applied (OgMakeView      *self,
                     const GPtrArray *balances)
{
  if (self->settings != NULL)
    {
      og_balances_save (self->settings, balances);
      return;
    }
  g_clear_pointer (&self->batch, og_batch_plan_free);
  g_ptr_array_set_size (self->balances, 0);
  for (guint i = 0; i < balances->len; i++)
    g_ptr_array_add (self->balances, og_balance_copy (g_ptr_array_index (balances, i)));
  schedule (self);
}

static void
say (OgMakeView *self,
     const char *text)
{
  g_signal_emit (self, signals[MESSAGE], 0, text, FALSE);
}

static void
on_written (GtkWindow    *parent,
            const GError *error,
            gpointer      data)
{
  say (data, error != NULL ? error->message : _("The batch record was written"));
}

/* Oil that is kept back becomes a line and a phase of its own. */
static void
on_split (OgMakeView *self,
          guint       index)
{
  const OgStoveStep *step = g_ptr_array_index (self->plan->steps, index);
  const OgStoveSplit *split = step->split;
  g_autoptr (OgSaying) name = og_stove_split_phase_name (split);
  /* Translators: %s is a material, of which a part now goes in later and cold */
  g_autofree char *done = g_strdup_printf (_("%s was split into two lines"), split->name);

  if (og_document_keep_back (self->document, split->line_id, split->amount, split->before_phase_id,
                             og_saying_text (name)) != 0)
    g_signal_emit (self, signals[MESSAGE], 0, done, TRUE);
}

/* A record to be filled in on paper. */
static void
act_write_record (GtkWidget  *widget,
                  const char *name,
                  GVariant   *parameter)
{
  OgMakeView *self = OG_MAKE_VIEW (widget);
  GtkRoot *root = gtk_widget_get_root (widget);
  OgCard *sheet;

  og_document_page_flush (OG_DOCUMENT_PAGE (self));
  if (self->batch == NULL || !GTK_IS_WINDOW (root))
    return;
  sheet = og_batch_sheet_new (og_document_get_formula (self->document),
                              og_document_get_result (self->document), self->batch, self->plan,
                              NULL, NULL, 0);
  og_sheet_file_ask (GTK_WINDOW (root), sheet, _("batch-record.pdf"), on_written, self);
}

static void
act_start_record (GtkWidget  *widget,
                  const char *name,
                  GVariant   *parameter)
{
  OgMakeView *self = OG_MAKE_VIEW (widget);

  og_document_page_flush (OG_DOCUMENT_PAGE (self));
  if (self->batch != NULL)
    gtk_widget_activate_action (widget, "win.start-batch", "d", self->batch->batch_g);
}

static void
act_edit_balances (GtkWidget  *widget,
                   const char *name,
                   GVariant   *parameter)
{
  OgMakeView *self = OG_MAKE_VIEW (widget);
  GtkWidget *dialog = og_balance_dialog_new (self->balances);

  g_signal_connect_object (dialog, "applied", G_CALLBACK (on_balances_applied), self,
                           G_CONNECT_SWAPPED);
  og_present_over (widget, dialog);
}

void
og_make_view_set_settings (OgMakeView *self,
                           GSettings  *settings)
{
  g_return_if_fail (OG_IS_MAKE_VIEW (self));

  if (self->settings != NULL)
    g_signal_handlers_disconnect_by_data (self->settings, self);
  g_set_object (&self->settings, settings);
  if (self->built)
    {
      og_batch_view_set_settings (self->batch_view, settings);
      og_stove_view_set_settings (self->stove_view, settings);
    }
  if (settings == NULL)
    return;
  g_signal_connect_object (settings, "changed::" OG_BALANCES_KEY, G_CALLBACK (on_balances_stored),
                           self, G_CONNECT_SWAPPED);
  on_balances_stored (self);
}

void
og_make_view_set_shelf (OgMakeView *self,
                        OgShelf    *shelf)
{
  g_return_if_fail (OG_IS_MAKE_VIEW (self));

  if (shelf == self->shelf)
    return;
  g_clear_pointer (&self->shelf, og_shelf_unref);
  self->shelf = shelf != NULL ? og_shelf_ref (shelf) : NULL;
  schedule (self);
}

/* Document */

static void
on_file (OgMakeView *self)
{
  if (self->built)
    og_stove_view_forget (self->stove_view);
  schedule (self);
}

static void
og_make_view_follow (OgDocumentPage *page,
                     OgDocument     *document)
{
  OgMakeView *self = OG_MAKE_VIEW (page);

  self->document = document;
  if (self->built)
    og_batch_view_set_document (self->batch_view, document);
  if (document != NULL)
    g_signal_connect_object (document, "notify::file", G_CALLBACK (on_file), self,
                             G_CONNECT_SWAPPED);
  schedule (self);
}

static void
on_message (OgMakeView *self,
            const char *text,
            gboolean    undoable)
{
  g_signal_emit (self, signals[MESSAGE], 0, text, undoable);
}

/* Widget */

static void
og_make_view_map (GtkWidget *widget)
{
  build (OG_MAKE_VIEW (widget));
  GTK_WIDGET_CLASS (og_make_view_parent_class)->map (widget);
}

static void
og_make_view_dispose (GObject *object)
{
  OgMakeView *self = OG_MAKE_VIEW (object);

  og_document_page_set_document (OG_DOCUMENT_PAGE (self), NULL);
  if (self->built)
    drop_plans (self);
  self->built = FALSE;
  g_clear_object (&self->settings);
  g_clear_pointer (&self->shelf, og_shelf_unref);
  g_clear_pointer (&self->balances, g_ptr_array_unref);
  gtk_widget_dispose_template (GTK_WIDGET (self), OG_TYPE_MAKE_VIEW);

  G_OBJECT_CLASS (og_make_view_parent_class)->dispose (object);
}

static void
og_make_view_class_init (OgMakeViewClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);
  OgDocumentPageClass *page_class = OG_DOCUMENT_PAGE_CLASS (class);

  object_class->dispose = og_make_view_dispose;
  widget_class->map = og_make_view_map;
  page_class->follow = og_make_view_follow;
  page_class->formula_changed = og_document_page_ask;
  page_class->result_changed = og_document_page_ask;
  page_class->refresh = og_make_view_refresh;
  page_class->refresh_priority = G_PRIORITY_HIGH_IDLE + 25;

  signals[MESSAGE] = g_signal_new ("message", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_BOOLEAN);

  g_type_ensure (OG_TYPE_BATCH_VIEW);
  g_type_ensure (OG_TYPE_STOVE_VIEW);
  g_type_ensure (OG_TYPE_WEIGHING_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/make-view.ui");
  gtk_widget_class_bind_template_child (widget_class, OgMakeView, scroller);
  gtk_widget_class_bind_template_child (widget_class, OgMakeView, outer_pane);
  gtk_widget_class_bind_template_child (widget_class, OgMakeView, inner_pane);
  gtk_widget_class_bind_template_child (widget_class, OgMakeView, batch_view);
  gtk_widget_class_bind_template_child (widget_class, OgMakeView, weighing_view);
  gtk_widget_class_bind_template_child (widget_class, OgMakeView, stove_view);
  gtk_widget_class_bind_template_callback (widget_class, schedule);
  gtk_widget_class_bind_template_callback (widget_class, on_split);
  gtk_widget_class_bind_template_callback (widget_class, on_message);
  gtk_widget_class_install_action (widget_class, "make.edit-balances", NULL, act_edit_balances);
  gtk_widget_class_install_action (widget_class, "make.start-record", NULL, act_start_record);
  gtk_widget_class_install_action (widget_class, "make.write-record", NULL, act_write_record);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "makeview");
}

static void
og_make_view_init (OgMakeView *self)
{
  self->balances = g_ptr_array_new_with_free_func ((GDestroyNotify) og_balance_free);
  schedule (self);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, _("Make the recipe"),
                                  -1);
}

GtkWidget *
og_make_view_new (void)
{
  return g_object_new (OG_TYPE_MAKE_VIEW, NULL);
}
