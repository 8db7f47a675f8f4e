/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/number-text.h"
#include "gtk/ledger/batch-steps-page.h"
#include "gtk/ledger/ledger-words.h"
#include "gtk/parts/cell-entry.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/make-rows.h"
#include "gtk/parts/pieces.h"
#include "gtk/parts/text-undo.h"
#include "gtk/parts/typed-number.h"
#include "gtk/parts/work-list.h"

#define SECOND_S 1
#define MINUTE_S 60
#define HOUR_S 3600
#define TEMPERATURE_CHARS 6
#define LOWEST_C (-50.0)
#define HIGHEST_C 300.0

/* One step and what the record says about it. */
typedef struct
{
  OgBatchStepsPage *page;
  char *text;          /* of the entries: number and words */
  char *phase;         /* nullable */
  gint64 running_since; /* 0: not running */
  GtkWidget *entry;
  GtkWidget *button;
  GtkWidget *time_label;
  GtkWidget *done_label;
  GtkWidget *problem_label;
} Step;

struct _OgBatchStepsPage
{
  OgLedgerPage parent_instance;

  GtkWidget *list;
  char *number;
  GPtrArray *steps; /* of Step */
  guint ticks;
  gboolean editable;
};

G_DEFINE_FINAL_TYPE (OgBatchStepsPage, og_batch_steps_page, OG_TYPE_LEDGER_PAGE)

static void
step_free (Step *step)
{
  g_free (step->text);
  g_free (step->phase);
  g_free (step);
}

static gint64
now_s (void)
{
  return g_get_real_time () / G_USEC_PER_SEC;
}

static char *
elapsed_text (gint64 seconds)
{
  const gint64 s = MAX (seconds, 0);

  if (s >= HOUR_S)
    return g_strdup_printf ("%d:%02d:%02d", (int) (s / HOUR_S), (int) (s % HOUR_S / MINUTE_S),
                            (int) (s % MINUTE_S));
  return g_strdup_printf ("%d:%02d", (int) (s / MINUTE_S), (int) (s % MINUTE_S));
}

/* Timers */

/* Returns: whether some step is running */
static gboolean
show_times (OgBatchStepsPage *self)
{
  const gint64 now = now_s ();
  gboolean running = FALSE;

  for (guint i = 0; i < self->steps->len; i++)
    {
      Step *step = g_ptr_array_index (self->steps, i);
      g_autofree char *text = NULL;

      if (step->running_since == 0)
        continue;
      running = TRUE;
      text = elapsed_text (now - step->running_since);
      gtk_label_set_label (GTK_LABEL (step->time_label), text);
    }
  return running;
}

static gboolean
on_tick (gpointer data)
{
  OgBatchStepsPage *self = data;

  if (show_times (self))
    return G_SOURCE_CONTINUE;
  self->ticks = 0;
  return G_SOURCE_REMOVE;
}

static void
keep_ticking (OgBatchStepsPage *self)
{
  if (show_times (self) && self->ticks == 0 && gtk_widget_get_mapped (GTK_WIDGET (self)))
    self->ticks = g_timeout_add_seconds (SECOND_S, on_tick, self);
}

/* Recording */

static gboolean
refuse (Step       *step,
        const char *problem)
{
  og_label_set_optional (step->problem_label, problem);
  gtk_widget_error_bell (step->entry);
  return FALSE;
}

static gboolean
read_temperature (Step   *step,
                  double *temperature_c)
{
  g_autofree char *text =
    g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (step->entry))));
  g_autofree char *problem = NULL;

  *temperature_c = NAN;
  if (*text == '\0')
    return TRUE;
  problem = og_typed_number (text, temperature_c);
  if (problem != NULL)
    return refuse (step, problem);
  return (*temperature_c >= LOWEST_C && *temperature_c <= HIGHEST_C)
         || refuse (step, _("This is no temperature of a pot."));
}

static gboolean
toggle (Step *step)
{
  OgLedger *ledger = og_ledger_page_get_ledger (OG_LEDGER_PAGE (step->page));
  g_autoptr (OgBatchEntry) entry = og_batch_entry_new (OG_BATCH_ENTRY_PROCESS);
  g_autoptr (GError) error = NULL;

  og_label_set_optional (step->problem_label, NULL);
  if (!read_temperature (step, &entry->temperature_c))
    return FALSE;
  entry->text = g_strdup (step->text);
  entry->phase = g_strdup (step->phase);
  entry->who = g_strdup (og_ledger_get_who (ledger));
  entry->started_at = step->running_since != 0 ? step->running_since : now_s ();
  entry->ended_at = step->running_since != 0 ? MAX (now_s (), entry->started_at) : 0;
  if (og_ledger_add_batch_entry (ledger, step->page->number, entry, &error) == 0)
    return refuse (step, error->message);
  og_editable_show (GTK_EDITABLE (step->entry), "");
  return TRUE;
}

gboolean
og_batch_steps_page_toggle (OgBatchStepsPage *self,
                            guint             step)
{
  g_return_val_if_fail (OG_IS_BATCH_STEPS_PAGE (self), FALSE);
  g_return_val_if_fail (step < self->steps->len, FALSE);

  return toggle (g_ptr_array_index (self->steps, step));
}

/* What the record says */

static char *
done_text (const OgBatchEntry *entry)
{
  g_autofree char *from = og_ledger_moment_to_text (entry->started_at);
  g_autofree char *took = elapsed_text (entry->ended_at - entry->started_at);
  g_autofree char *at = og_number_trimmed (entry->temperature_c, 1);

  if (isnan (entry->temperature_c))
    /* Translators: date and time, then minutes and seconds */
    return g_strdup_printf (_("done: from %s, took %s"), from, took);
  /* Translators: date and time, minutes and seconds, a temperature */
  return g_strdup_printf (_("done: from %s, took %s, %s °C"), from, took, at);
}

static void
read_step (Step          *step,
           const OgBatch *batch)
{
  g_autofree char *done = NULL;

  step->running_since = 0;
  for (guint i = 0; i < batch->entries->len; i++)
    {
      const OgBatchEntry *entry = g_ptr_array_index (batch->entries, i);

      if (entry->kind != OG_BATCH_ENTRY_PROCESS || g_strcmp0 (entry->text, step->text) != 0)
        continue;
      step->running_since = entry->ended_at == 0 ? entry->started_at : 0;
      if (entry->ended_at == 0)
        continue;
      g_free (done);
      done = done_text (entry);
    }
  og_label_set_optional (step->done_label, done);
}

static void
show_step (Step *step)
{
  const gboolean running = step->running_since != 0;
  const char *label = running ? _("End") : _("Start");
  /* Translators: what the button does, then the step */
  g_autofree char *name = g_strdup_printf (_("%s: %s"), label, step->text);

  gtk_button_set_label (GTK_BUTTON (step->button), label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (step->button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  -1);
  if (running)
    gtk_widget_add_css_class (step->button, "suggested-action");
  else
    gtk_widget_remove_css_class (step->button, "suggested-action");
  gtk_label_set_label (GTK_LABEL (step->time_label), "");
  gtk_widget_set_visible (step->button, step->page->editable);
  gtk_widget_set_visible (step->entry, step->page->editable);
}

static void
og_batch_steps_page_refresh (OgLedgerPage *page)
{
  OgBatchStepsPage *self = OG_BATCH_STEPS_PAGE (page);
  OgLedger *ledger = og_ledger_page_get_ledger (page);
  g_autoptr (GError) error = NULL;
  g_autoptr (OgBatch) batch = og_ledger_get_batch (ledger, self->number, &error);

  if (!og_ledger_page_check (page, error))
    return;
  self->editable = batch->state <= OG_BATCH_RUNNING && !og_ledger_is_read_only (ledger);
  for (guint i = 0; i < self->steps->len; i++)
    {
      read_step (g_ptr_array_index (self->steps, i), batch);
      show_step (g_ptr_array_index (self->steps, i));
    }
  keep_ticking (self);
}

/* Building */

static GtkWidget *
make_entry (const char *text)
{
  GtkWidget *entry = gtk_entry_new ();
  /* Translators: %s is a step */
  g_autofree char *name = g_strdup_printf (_("Pot at the step, °C: %s"), text);

  gtk_editable_set_width_chars (GTK_EDITABLE (entry), TEMPERATURE_CHARS);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), TEMPERATURE_CHARS);
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), _("°C"));
  gtk_entry_set_input_purpose (GTK_ENTRY (entry), GTK_INPUT_PURPOSE_NUMBER);
  og_align_number (GTK_EDITABLE (entry));
  gtk_widget_add_css_class (entry, "numeric");
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  -1);
  return entry;
}

static GtkWidget *
make_words (Step              *step,
            const OgStoveStep *planned)
{
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);

  step->done_label = og_wrapping_label_new (NULL, "fact-origin");
  step->problem_label = og_wrapping_label_new (NULL, "field-problem");
  gtk_widget_add_css_class (step->problem_label, "error");
  gtk_widget_set_visible (step->problem_label, FALSE);
  gtk_box_append (GTK_BOX (words), og_wrapping_label_new (step->text, NULL));
  if (planned->step.caution != NULL)
    gtk_box_append (GTK_BOX (words), og_caution_new (og_saying_text (planned->step.caution)));
  gtk_box_append (GTK_BOX (words), step->done_label);
  gtk_box_append (GTK_BOX (words), step->problem_label);
  gtk_widget_set_hexpand (words, TRUE);
  return words;
}

static GtkWidget *
make_controls (Step *step)
{
  GtkWidget *controls = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  step->time_label = gtk_label_new (NULL);
  step->entry = make_entry (step->text);
  step->button = gtk_button_new ();
  gtk_label_set_width_chars (GTK_LABEL (step->time_label), TEMPERATURE_CHARS);
  gtk_label_set_xalign (GTK_LABEL (step->time_label), 1.0f);
  gtk_widget_add_css_class (step->time_label, "tile-value");
  gtk_widget_set_valign (controls, GTK_ALIGN_START);
  g_signal_connect_swapped (step->button, "clicked", G_CALLBACK (toggle), step);
  g_signal_connect_swapped (step->entry, "activate", G_CALLBACK (toggle), step);
  gtk_box_append (GTK_BOX (controls), step->time_label);
  gtk_box_append (GTK_BOX (controls), step->entry);
  gtk_box_append (GTK_BOX (controls), step->button);
  return controls;
}

static void
add_step (OgBatchStepsPage  *self,
          const OgFormula   *formula,
          const OgStoveStep *planned)
{
  Step *step = g_new0 (Step, 1);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  const OgFormulaPhase *phase = og_formula_find_phase (formula, planned->step.phase_id, NULL);

  step->page = self;
  step->text = g_strdup_printf ("%u. %s", self->steps->len + 1, og_saying_text (planned->step.text));
  step->phase = phase != NULL ? g_strdup (phase->name) : NULL;
  gtk_box_append (GTK_BOX (line), make_words (step, planned));
  gtk_box_append (GTK_BOX (line), make_controls (step));
  og_work_list_add (self->list, line, step->text);
  g_ptr_array_add (self->steps, step);
}

static void
og_batch_steps_page_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (og_batch_steps_page_parent_class)->map (widget);

  keep_ticking (OG_BATCH_STEPS_PAGE (widget));
}

static void
og_batch_steps_page_unmap (GtkWidget *widget)
{
  g_clear_handle_id (&OG_BATCH_STEPS_PAGE (widget)->ticks, g_source_remove);

  GTK_WIDGET_CLASS (og_batch_steps_page_parent_class)->unmap (widget);
}

static gboolean
og_batch_steps_page_grab_focus (GtkWidget *widget)
{
  return gtk_widget_child_focus (OG_BATCH_STEPS_PAGE (widget)->list, GTK_DIR_TAB_FORWARD);
}

static void
og_batch_steps_page_finalize (GObject *object)
{
  OgBatchStepsPage *self = OG_BATCH_STEPS_PAGE (object);

  g_free (self->number);
  g_ptr_array_unref (self->steps);

  G_OBJECT_CLASS (og_batch_steps_page_parent_class)->finalize (object);
}

static void
og_batch_steps_page_class_init (OgBatchStepsPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = og_batch_steps_page_finalize;
  widget_class->map = og_batch_steps_page_map;
  widget_class->unmap = og_batch_steps_page_unmap;
  widget_class->grab_focus = og_batch_steps_page_grab_focus;
  OG_LEDGER_PAGE_CLASS (class)->refresh = og_batch_steps_page_refresh;
}

static void
og_batch_steps_page_init (OgBatchStepsPage *self)
{
  self->steps = g_ptr_array_new_with_free_func ((GDestroyNotify) step_free);
  self->list = og_work_list_new (_("Steps"));
  gtk_widget_add_css_class (self->list, "make-column");
  gtk_box_append (GTK_BOX (self), og_scroller_new (self->list));
}

GtkWidget *
og_batch_steps_page_new (const char        *number,
                         const OgFormula   *formula,
                         const OgStovePlan *plan)
{
  OgBatchStepsPage *self = g_object_new (OG_TYPE_BATCH_STEPS_PAGE, NULL);

  self->number = g_strdup (number);
  for (guint i = 0; i < plan->steps->len; i++)
    add_step (self, formula, g_ptr_array_index (plan->steps, i));
  return GTK_WIDGET (self);
}
