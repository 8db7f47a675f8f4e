/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "core/base/conditions.h"
#include "core/base/number-text.h"
#include "core/design/sensitivity.h"
#include "core/recipe/recipe-limits.h"
#include "gtk/design/aim-lines.h"
#include "gtk/design/aim-page.h"
#include "gtk/design/effects-dialog.h"
#include "gtk/design/lever-view.h"
#include "gtk/parts/body-words.h"
#include "gtk/parts/drop-down.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/number-field.h"
#include "gtk/parts/pieces.h"
#include "gtk/parts/work-bar.h"

#define DECIMALS 4

typedef enum
{
  RATE_POURED,
  RATE_REST,
  RATE_RUBBED,
  RATE_OWN,
  N_RATES
} Rate;

struct _OgAimPage
{
  OgDocumentPage parent_instance;

  GtkWidget *stack;
  GtkWidget *scroller;
  GtkWidget *content;
  GtkWidget *word_button;
  GtkWidget *number_button;
  GtkWidget *body_drop_down;
  GtkWidget *number_box;
  GtkWidget *rate_caption;
  GtkWidget *rate_drop_down;
  GtkWidget *viscosity_field;
  GtkWidget *temperature_field;
  GtkWidget *rate_field;
  GtkWidget *lines;
  GtkWidget *aim_drop_down;
  GtkWidget *solve_button;
  GtkWidget *hint_label;
  GtkWidget *work_bar;
  GtkWidget *report_label;
  GtkWidget *answers;
  GtkWidget *levers_caption;
  GtkWidget *lever_drop_down;
  GtkWidget *levers;

  OgDocument *document; /* nullable, borrowed from the parent */
  OgShelf *shelf;         /* nullable */
  OgBodyBounds bounds;    /* of the words, as the drop-down tells them */
  OgSolveReport *report;  /* nullable: for the recipe as it stands */
  OgWork *lever_work;     /* nullable */
  guint scroll_tick;
  gboolean scroll_laid_out; /* the answers have their places */
  gboolean shelf_asked;   /* prices were asked for */
  gboolean filling;       /* widgets are being filled: their choice is not the reader's */
};

G_DEFINE_FINAL_TYPE (OgAimPage, og_aim_page, OG_TYPE_DOCUMENT_PAGE)

enum
{
  APPLIED,
  SHELF_WANTED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

/* In the threads */

typedef struct
{
  OgFormula *formula;
  OgCatalog *catalog;
  OgBelief *belief;     /* nullable */
  OgShelf *shelf;       /* nullable */
  GArray *ranges;       /* of OgSolveRange; nullable */
  OgSolveTarget target;
  OgSolveAim aim;
} Request;

static Request *
request_new (OgAimPage *self)
{
  Request *request = g_new0 (Request, 1);
  OgBelief *belief = og_document_get_belief (self->document);

  request->formula = og_work_copy_formula (og_document_get_formula (self->document));
  request->catalog = og_catalog_ref (og_document_get_catalog (self->document));
  request->belief = belief != NULL ? og_belief_ref (belief) : NULL;
  request->shelf = self->shelf != NULL ? og_shelf_ref (self->shelf) : NULL;
  return request;
}

static void
free_request (gpointer data)
{
  Request *request = data;

  og_formula_free (request->formula);
  og_catalog_unref (request->catalog);
  g_clear_pointer (&request->belief, og_belief_unref);
  g_clear_pointer (&request->shelf, og_shelf_unref);
  g_clear_pointer (&request->ranges, g_array_unref);
  g_free (request);
}

static gpointer
compute_amounts (gpointer   data,
                 OgWork    *work,
                 GError   **error)
{
  const Request *request = data;
  const OgSolveRequest wanted = {
    .target = request->target,
    .ranges = (const OgSolveRange *) (gpointer) request->ranges->data,
    .n_ranges = request->ranges->len,
    .aim = request->aim,
    .shelf = request->shelf,
    .belief = request->belief,
    .progress = og_work_on_progress,
    .user_data = work,
  };

  return og_solve (request->formula, request->catalog, &wanted, error);
}

static void
free_report (gpointer data)
{
  og_solve_report_free (data);
}

static const OgWorkKind solving = { compute_amounts, free_request, free_report };

static gpointer
compute_levers (gpointer   data,
                OgWork    *work,
                GError   **error)
{
  const Request *request = data;

  return og_levers (request->formula, request->catalog, request->belief);
}

static void
free_levers (gpointer data)
{
  g_array_unref (data);
}

static const OgWorkKind weighing = { compute_levers, free_request, free_levers };

/* Answers */

static void
forget_report (OgAimPage *self)
{
  g_clear_pointer (&self->report, og_solve_report_free);
  og_list_clear (self->answers);
  gtk_widget_set_visible (self->answers, FALSE);
  og_label_set_optional (self->report_label, NULL);
}

const OgSolveReport *
og_aim_page_get_report (OgAimPage *self)
{
  g_return_val_if_fail (OG_IS_AIM_PAGE (self), NULL);

  return self->report;
}

static const OgSolveAnswer *
get_answer (OgAimPage *self,
            guint      index)
{
  if (self->report == NULL || index >= self->report->answers->len)
    return NULL;
  return g_ptr_array_index (self->report->answers, index);
}

static char *
target_text (OgAimPage *self)
{
  double values[OG_NUMBER_FIELD_MOST];
  g_autofree char *number = NULL;
  guint n;

  if (gtk_check_button_get_active (GTK_CHECK_BUTTON (self->word_button)))
    return g_strdup (og_body_get_name (og_body_words_get (GTK_DROP_DOWN (self->body_drop_down),
                                                          FALSE)));
  og_number_field_read (OG_NUMBER_FIELD (self->viscosity_field), values, &n);
  number = og_number_significant (n > 0 ? values[0] : NAN, 4);
  return g_strdup_printf (_("%s mPa·s"), number);
}

/* Returns: (transfer full): what an undo would take back */
static char *
undo_label (OgAimPage *self)
{
  g_autofree char *target = target_text (self);

  /* Translators: %s is a word for the body or a viscosity */
  return g_strdup_printf (_("Aim at %s"), target);
}

static void
tell_applied (OgAimPage *self)
{
  g_autofree char *label = g_strdup (og_document_get_undo_label (self->document));

  g_signal_emit (self, signals[APPLIED], 0, label);
}

gboolean
og_aim_page_apply (OgAimPage *self,
                   guint      index)
{
  const OgSolveAnswer *answer;
  g_autofree char *label = NULL;

  g_return_val_if_fail (OG_IS_AIM_PAGE (self), FALSE);

  answer = get_answer (self, index);
  if (answer == NULL)
    return FALSE;
  label = undo_label (self);
  if (!og_document_replace (self->document, og_formula_copy (answer->formula), label))
    return FALSE;
  tell_applied (self);
  return TRUE;
}

static void
on_apply_clicked (GtkButton *button,
                  OgAimPage *self)
{
  if (!og_aim_page_apply (self, og_row_button_get_index (button)))
    gtk_widget_error_bell (GTK_WIDGET (self));
}

static void
on_compare_clicked (GtkButton *button,
                    OgAimPage *self)
{
  const OgSolveAnswer *answer = get_answer (self, og_row_button_get_index (button));
  g_autofree char *label = undo_label (self);
  GtkWidget *dialog;

  if (answer == NULL)
    return;
  dialog = og_effects_dialog_new (self->document, og_formula_copy (answer->formula), og_saying_text (answer->text),
                                  label, FALSE, self->shelf);
  g_signal_connect_object (dialog, "applied", G_CALLBACK (tell_applied), self, G_CONNECT_SWAPPED);
  og_present_over (GTK_WIDGET (self), dialog);
}

static char *
viscosity_text (const OgSolveAnswer *answer)
{
  g_autofree char *value = og_number_with_unit (answer->viscosity.value);
  g_autofree char *band = og_number_band (&answer->viscosity);

  if (!og_estimate_is_known (&answer->viscosity))
    return g_strdup (og_body_get_name (answer->body));
  if (band == NULL)
    /* Translators: a word for the body, then a viscosity with its unit */
    return g_strdup_printf (_("%s: about %s"), og_body_get_name (answer->body), value);
  /* Translators: a word for the body, a viscosity with its unit, and "80 % between … and …" */
  return g_strdup_printf (_("%s: about %s, %s"), og_body_get_name (answer->body), value, band);
}

static char *
cost_text (OgAimPage           *self,
           const OgSolveAnswer *answer)
{
  const char *currency = NULL;
  g_autofree char *number = NULL;

  if (!isfinite (answer->cost_per_kg))
    return NULL;
  number = og_number_fixed (answer->cost_per_kg, 2);
  og_formula_price (answer->formula, self->shelf, &currency);
  /* Translators: a price and its currency */
  return g_strdup_printf (_("Materials: %s %s a kilogram"), number,
                          currency != NULL ? currency : "");
}

static GtkWidget *
make_button (OgAimPage  *self,
             const char *text,
             const char *answer,
             guint       index,
             GCallback   callback)
{
  /* Translators: what a button does, then what it does it with */
  g_autofree char *spoken = g_strdup_printf (_("%s: %s"), text, answer);

  return og_row_button_new (text, spoken, index, callback, self);
}

static void
append_answer (OgAimPage           *self,
               const OgSolveAnswer *answer,
               guint                index)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  GtkWidget *acts = og_acts_new ();
  GtkWidget *compare;
  g_autofree char *viscosity = viscosity_text (answer);
  g_autofree char *cost = cost_text (self, answer);
  g_autofree char *spoken = g_strjoin (". ", og_saying_text (answer->text), viscosity, cost, NULL);

  gtk_box_append (GTK_BOX (box), og_wrapping_label_new (og_saying_text (answer->text), "heading"));
  gtk_box_append (GTK_BOX (box), og_wrapping_label_new (viscosity, "numeric"));
  if (cost != NULL)
    gtk_box_append (GTK_BOX (box), og_wrapping_label_new (cost, "fact-origin"));
  og_acts_append (acts, make_button (self, _("Use it"), og_saying_text (answer->text), index,
                                     G_CALLBACK (on_apply_clicked)));
  compare = make_button (self, _("Compare…"), og_saying_text (answer->text), index,
                         G_CALLBACK (on_compare_clicked));
  gtk_widget_add_css_class (compare, "flat");
  og_acts_append (acts, compare);
  gtk_box_append (GTK_BOX (box), acts);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, spoken,
                                  -1);
  gtk_list_box_append (GTK_LIST_BOX (self->answers), row);
}

/* One frame lays the answers out, the next one can show them. */
static gboolean
on_scroll_tick (GtkWidget     *widget,
                GdkFrameClock *clock,
                gpointer       user_data)
{
  OgAimPage *self = OG_AIM_PAGE (widget);
  GtkAdjustment *adjustment =
    gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller));
  graphene_rect_t report;
  graphene_rect_t answers;

  if (!self->scroll_laid_out)
    {
      self->scroll_laid_out = TRUE;
      return G_SOURCE_CONTINUE;
    }
  self->scroll_tick = 0;
  if (gtk_widget_compute_bounds (self->report_label, self->content, &report)
      && gtk_widget_compute_bounds (self->answers, self->content, &answers))
    gtk_adjustment_clamp_page (adjustment, report.origin.y,
                               MAX (report.origin.y + report.size.height,
                                    answers.origin.y + answers.size.height));
  return G_SOURCE_REMOVE;
}

static void
scroll_to_answers (OgAimPage *self)
{
  self->scroll_laid_out = FALSE;
  if (self->scroll_tick == 0)
    self->scroll_tick = gtk_widget_add_tick_callback (GTK_WIDGET (self), on_scroll_tick, NULL,
                                                      NULL);
}

static void
on_solved (gpointer      answer,
           const GError *error,
           gpointer      user_data)
{
  OgAimPage *self = user_data;

  forget_report (self);
  scroll_to_answers (self);
  self->report = answer;
  if (answer == NULL)
    {
      og_label_set_optional (self->report_label, error->message);
      return;
    }
  og_label_set_optional (self->report_label, og_saying_text (self->report->text));
  for (guint i = 0; i < self->report->answers->len; i++)
    append_answer (self, get_answer (self, i), i);
  gtk_widget_set_visible (self->answers, self->report->answers->len > 0);
}

/* The target */

static gboolean
read_field (GtkWidget  *field,
            double      low,
            double      high,
            const char *problem,
            double     *value)
{
  double values[OG_NUMBER_FIELD_MOST];
  guint n;

  if (!og_number_field_read (OG_NUMBER_FIELD (field), values, &n) || n == 0)
    return FALSE;
  *value = values[0];
  if (*value >= low && *value <= high)
    return TRUE;
  og_number_field_set_problem (OG_NUMBER_FIELD (field), problem);
  return FALSE;
}

/* All fields are looked at, so that each says what is wrong with its own text. */
static gboolean
read_target (OgAimPage     *self,
             OgSolveTarget *target)
{
  static const double rates[N_RATES] = {
    [RATE_POURED] = OG_SHEAR_POUR,
    [RATE_REST] = OG_SHEAR_REST,
    [RATE_RUBBED] = OG_SHEAR_RUB,
    [RATE_OWN] = NAN,
  };
  const guint rate = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->rate_drop_down));
  gboolean good;

  memset (target, 0, sizeof *target);
  if (gtk_check_button_get_active (GTK_CHECK_BUTTON (self->word_button)))
    {
      target->body = og_body_words_get (GTK_DROP_DOWN (self->body_drop_down), FALSE);
      return target->body != OG_BODY_UNKNOWN;
    }
  good = read_field (self->viscosity_field, G_MINDOUBLE, OG_RECIPE_MAX_TARGET_MPA_S,
                     _("This has to be above 0."), &target->viscosity_mpa_s);
  good &= read_field (self->temperature_field, OG_TEMPERATURE_LOWEST_C, OG_TEMPERATURE_HIGHEST_C,
                      _("This has to lie between −20 and 200 °C."), &target->temperature_c);
  if (rate != RATE_OWN)
    target->shear_rate_1_s = rates[MIN (rate, RATE_OWN)];
  else
    good &= read_field (self->rate_field, G_MINDOUBLE, 1e6,
                        _("This has to be above 0."), &target->shear_rate_1_s);
  return good;
}

static void
update (OgAimPage *self)
{
  OgSolveTarget target;
  const char *hint = NULL;
  g_autoptr (GArray) ranges = NULL;

  if (self->filling)
    return;
  ranges = og_aim_lines_get_ranges (OG_AIM_LINES (self->lines));
  if (ranges->len == 0)
    hint = _("Tick what may move.");
  else if (ranges->len > OG_SOLVE_MOST_RANGES)
    hint = _("These are too many at once: untick some.");
  else if (!read_target (self, &target))
    hint = _("Say which viscosity is wanted, and at which temperature.");
  og_label_set_optional (self->hint_label, hint);
  gtk_widget_set_sensitive (self->solve_button, hint == NULL);
}

static void
on_changed (OgAimPage *self)
{
  update (self);
}

/* To begin with, the middle of the recipe's target, or what the recipe has. */
static void
propose_viscosity (OgAimPage *self)
{
  const OgFormula *formula = og_document_get_formula (self->document);
  double mpa_s = sqrt (formula->target_low_mpa_s * formula->target_high_mpa_s);
  double unit;

  if (!isfinite (mpa_s))
    mpa_s = og_document_get_result (self->document)->pour.value;
  if (!isfinite (mpa_s) || mpa_s <= 0.0)
    return;
  unit = pow (10.0, floor (log10 (mpa_s)) - 1.0);
  og_number_field_set_value (OG_NUMBER_FIELD (self->viscosity_field),
                             round (mpa_s / unit) * unit, DECIMALS);
}

static void
on_target_toggled (OgAimPage *self)
{
  const gboolean word = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->word_button));

  if (!word && self->document != NULL
      && og_number_field_is_empty (OG_NUMBER_FIELD (self->viscosity_field)))
    propose_viscosity (self);
  gtk_widget_set_sensitive (self->body_drop_down, word);
  gtk_widget_set_visible (self->number_box, !word);
  update (self);
}

static void
on_rate_selected (OgAimPage *self)
{
  if (self->rate_field == NULL) /* the template is still being built */
    return;
  gtk_widget_set_visible (self->rate_field,
                          gtk_drop_down_get_selected (GTK_DROP_DOWN (self->rate_drop_down))
                            == RATE_OWN);
  update (self);
}

static void
on_lever_selected (OgAimPage *self)
{
  const guint kind = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->lever_drop_down));

  if (!self->filling && kind < OG_N_LEVER_KINDS)
    og_lever_view_set_kind (OG_LEVER_VIEW (self->levers), (OgLeverKind) kind);
}

void
og_aim_page_set_body (OgAimPage *self,
                      OgBody     body)
{
  g_return_if_fail (OG_IS_AIM_PAGE (self));
  g_return_if_fail (body != OG_BODY_UNKNOWN);

  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->word_button), TRUE);
  og_body_words_set (GTK_DROP_DOWN (self->body_drop_down), body, FALSE);
}

void
og_aim_page_set_viscosity (OgAimPage *self,
                           double     mpa_s,
                           double     temperature_c)
{
  g_return_if_fail (OG_IS_AIM_PAGE (self));

  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->number_button), TRUE);
  og_number_field_set_value (OG_NUMBER_FIELD (self->viscosity_field), mpa_s, DECIMALS);
  og_number_field_set_value (OG_NUMBER_FIELD (self->temperature_field), temperature_c, 1);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->rate_drop_down), RATE_POURED);
}

void
og_aim_page_vary (OgAimPage *self,
                  guint      line_id,
                  gboolean   vary,
                  OgPpm      low,
                  OgPpm      high)
{
  g_return_if_fail (OG_IS_AIM_PAGE (self));

  og_aim_lines_vary (OG_AIM_LINES (self->lines), line_id, vary, low, high);
}

/* Solving */

gboolean
og_aim_page_solve (OgAimPage *self)
{
  g_autoptr (GArray) ranges = NULL;
  OgSolveTarget target;
  Request *request;

  g_return_val_if_fail (OG_IS_AIM_PAGE (self), FALSE);

  if (self->document == NULL || !og_aim_lines_commit (OG_AIM_LINES (self->lines))
      || !read_target (self, &target))
    return FALSE;
  ranges = og_aim_lines_get_ranges (OG_AIM_LINES (self->lines));
  if (ranges->len == 0 || ranges->len > OG_SOLVE_MOST_RANGES)
    return FALSE;
  request = request_new (self);
  request->target = target;
  request->aim = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->aim_drop_down)) == 1
                   ? OG_SOLVE_LEAST_COST : OG_SOLVE_LEAST_CHANGE;
  request->ranges = g_steal_pointer (&ranges);
  forget_report (self);
  og_work_bar_run (OG_WORK_BAR (self->work_bar), &solving, request, on_solved, self);
  return TRUE;
}

static void
on_solve_clicked (OgAimPage *self)
{
  if (!og_aim_page_solve (self))
    gtk_widget_error_bell (GTK_WIDGET (self));
}

/* The document */

static void
fill_words (OgAimPage *self)
{
  const OgBodyBounds *bounds = &og_document_get_formula (self->document)->body_bounds;
  const OgBody body = og_body_words_get (GTK_DROP_DOWN (self->body_drop_down), FALSE);

  if (og_body_bounds_equal (bounds, &self->bounds))
    return;
  self->bounds = *bounds;
  self->filling = TRUE;
  og_body_words_fill (GTK_DROP_DOWN (self->body_drop_down), bounds, NULL);
  og_body_words_set (GTK_DROP_DOWN (self->body_drop_down),
                     body != OG_BODY_UNKNOWN ? body : OG_BODY_SUBSTANTIAL, FALSE);
  self->filling = FALSE;
}

/* The levers */

static void
on_weighed (gpointer      answer,
            const GError *error,
            gpointer      user_data)
{
  OgAimPage *self = user_data;
  g_autoptr (GArray) levers = answer;

  g_clear_pointer (&self->lever_work, og_work_drop);
  og_lever_view_set_levers (OG_LEVER_VIEW (self->levers), levers,
                            og_document_get_catalog (self->document));
}

static void
weigh (OgAimPage *self)
{
  g_clear_pointer (&self->lever_work, og_work_drop);
  if (self->document != NULL)
    self->lever_work = og_work_start (&weighing, request_new (self), on_weighed, self);
}

static void
og_aim_page_refresh (OgDocumentPage *page)
{
  OgAimPage *self = OG_AIM_PAGE (page);

  if (!self->shelf_asked)
    {
      self->shelf_asked = TRUE;
      g_signal_emit (self, signals[SHELF_WANTED], 0);
    }
  weigh (self);
}

guint
og_aim_page_flush (OgAimPage *self)
{
  g_return_val_if_fail (OG_IS_AIM_PAGE (self), 0);

  og_document_page_flush (OG_DOCUMENT_PAGE (self));
  if (self->lever_work != NULL)
    og_work_wait (self->lever_work);
  og_work_bar_wait (OG_WORK_BAR (self->work_bar));
  return self->report != NULL ? self->report->answers->len : 0;
}

static void
on_formula_changed (OgAimPage *self)
{
  guint n_lines = 0;

  og_work_bar_drop (OG_WORK_BAR (self->work_bar));
  g_clear_pointer (&self->lever_work, og_work_drop);
  forget_report (self);
  if (self->document != NULL)
    {
      fill_words (self);
      n_lines = og_aim_lines_show (OG_AIM_LINES (self->lines),
                                   og_document_get_formula (self->document),
                                   og_document_get_catalog (self->document));
    }
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), n_lines > 0 ? "aim" : "empty");
  update (self);
  og_document_page_ask (OG_DOCUMENT_PAGE (self));
}

static void
og_aim_page_formula_changed (OgDocumentPage *page)
{
  on_formula_changed (OG_AIM_PAGE (page));
}

static void
og_aim_page_follow (OgDocumentPage *page,
                    OgDocument     *document)
{
  OgAimPage *self = OG_AIM_PAGE (page);

  self->document = document;
  on_formula_changed (self);
}

void
og_aim_page_set_shelf (OgAimPage *self,
                       OgShelf   *shelf)
{
  g_return_if_fail (OG_IS_AIM_PAGE (self));

  if (shelf != NULL)
    og_shelf_ref (shelf);
  g_clear_pointer (&self->shelf, og_shelf_unref);
  self->shelf = shelf;
  /* without prices there is but one way to rank */
  gtk_widget_set_visible (self->aim_drop_down,
                          shelf != NULL && og_shelf_get_n_items (shelf) > 0);
}

void
og_aim_page_focus (OgAimPage *self)
{
  g_return_if_fail (OG_IS_AIM_PAGE (self));

  gtk_widget_grab_focus (gtk_check_button_get_active (GTK_CHECK_BUTTON (self->word_button))
                           ? self->word_button : self->number_button);
}

static void
og_aim_page_dispose (GObject *object)
{
  OgAimPage *self = OG_AIM_PAGE (object);

  self->filling = TRUE;
  g_clear_pointer (&self->lever_work, og_work_drop);
  og_document_page_leave (OG_DOCUMENT_PAGE (self));
  self->document = NULL;
  gtk_widget_dispose_template (GTK_WIDGET (self), OG_TYPE_AIM_PAGE);

  G_OBJECT_CLASS (og_aim_page_parent_class)->dispose (object);
}

static void
og_aim_page_finalize (GObject *object)
{
  OgAimPage *self = OG_AIM_PAGE (object);

  g_clear_pointer (&self->report, og_solve_report_free);
  g_clear_pointer (&self->shelf, og_shelf_unref);

  G_OBJECT_CLASS (og_aim_page_parent_class)->finalize (object);
}

static void
og_aim_page_class_init (OgAimPageClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);
  OgDocumentPageClass *page_class = OG_DOCUMENT_PAGE_CLASS (class);

  object_class->dispose = og_aim_page_dispose;
  object_class->finalize = og_aim_page_finalize;
  page_class->follow = og_aim_page_follow;
  page_class->formula_changed = og_aim_page_formula_changed;
  page_class->result_changed = og_document_page_ask;
  page_class->refresh = og_aim_page_refresh;

  signals[APPLIED] = g_signal_new ("applied", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                   NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[SHELF_WANTED] = g_signal_new ("shelf-wanted", G_TYPE_FROM_CLASS (class),
                                        G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);

  g_type_ensure (OG_TYPE_AIM_LINES);
  g_type_ensure (OG_TYPE_LEVER_VIEW);
  g_type_ensure (OG_TYPE_WORK_BAR);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/aim-page.ui");
  gtk_widget_class_bind_template_child (widget_class, OgAimPage, stack);
  gtk_widget_class_bind_template_child (widget_class, OgAimPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, OgAimPage, content);
  gtk_widget_class_bind_template_child (widget_class, OgAimPage, word_button);
  gtk_widget_class_bind_template_child (widget_class, OgAimPage, number_button);
  gtk_widget_class_bind_template_child (widget_class, OgAimPage, body_drop_down);
  gtk_widget_class_bind_template_child (widget_class, OgAimPage, number_box);
  gtk_widget_class_bind_template_child (widget_class, OgAimPage, rate_caption);
  gtk_widget_class_bind_template_child (widget_class, OgAimPage, rate_drop_down);
  gtk_widget_class_bind_template_child (widget_class, OgAimPage, lines);
  gtk_widget_class_bind_template_child (widget_class, OgAimPage, aim_drop_down);
  gtk_widget_class_bind_template_child (widget_class, OgAimPage, solve_button);
  gtk_widget_class_bind_template_child (widget_class, OgAimPage, hint_label);
  gtk_widget_class_bind_template_child (widget_class, OgAimPage, work_bar);
  gtk_widget_class_bind_template_child (widget_class, OgAimPage, report_label);
  gtk_widget_class_bind_template_child (widget_class, OgAimPage, answers);
  gtk_widget_class_bind_template_child (widget_class, OgAimPage, levers_caption);
  gtk_widget_class_bind_template_child (widget_class, OgAimPage, lever_drop_down);
  gtk_widget_class_bind_template_child (widget_class, OgAimPage, levers);
  gtk_widget_class_bind_template_callback (widget_class, on_target_toggled);
  gtk_widget_class_bind_template_callback (widget_class, on_changed);
  gtk_widget_class_bind_template_callback (widget_class, on_rate_selected);
  gtk_widget_class_bind_template_callback (widget_class, on_solve_clicked);
  gtk_widget_class_bind_template_callback (widget_class, on_lever_selected);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "aimpage");
}

static void
fill_choices (OgAimPage *self)
{
  const char *const rates[] = {
    [RATE_POURED] = _("Poured (10 per second)"),
    [RATE_REST] = _("At rest (0.01 per second)"),
    [RATE_RUBBED] = _("Rubbed in (1000 per second)"),
    [RATE_OWN] = _("Another shear rate"),
    [N_RATES] = NULL,
  };
  const char *const aims[] = { _("Change least"), _("Cost least"), NULL };
  const char *const levers[] = {
    [OG_LEVER_POURED] = _("When poured, for one more per cent"),
    [OG_LEVER_REST] = _("At rest, for one more per cent"),
    [OG_LEVER_LOTS] = _("When poured, from lot to lot"),
    [OG_N_LEVER_KINDS] = NULL,
  };

  og_drop_down_set_strings (GTK_DROP_DOWN (self->rate_drop_down), rates);
  og_drop_down_set_strings (GTK_DROP_DOWN (self->aim_drop_down), aims);
  og_drop_down_set_strings (GTK_DROP_DOWN (self->lever_drop_down), levers);
  og_drop_down_ellipsize (GTK_DROP_DOWN (self->rate_drop_down));
  og_drop_down_ellipsize (GTK_DROP_DOWN (self->aim_drop_down));
  og_drop_down_ellipsize (GTK_DROP_DOWN (self->lever_drop_down));
  og_drop_down_ellipsize (GTK_DROP_DOWN (self->body_drop_down));
}

static GtkWidget *
add_field (OgAimPage    *self,
           const char   *title,
           const char   *unit,
           GtkSizeGroup *titles,
           GtkWidget    *after)
{
  GtkWidget *field = og_number_field_new (title, unit, 1);

  og_number_field_join (OG_NUMBER_FIELD (field), titles);
  g_signal_connect_swapped (field, "changed", G_CALLBACK (on_changed), self);
  gtk_box_insert_child_after (GTK_BOX (self->number_box), field, after);
  return field;
}

static void
og_aim_page_init (OgAimPage *self)
{
  g_autoptr (GtkSizeGroup) titles = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);

  self->filling = TRUE; /* until all widgets are there */
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_size_group_add_widget (titles, self->rate_caption);
  self->viscosity_field = add_field (self, _("Viscosity"), _("mPa·s"), titles, NULL);
  self->temperature_field = add_field (self, _("Temperature"), _("°C"), titles,
                                       self->viscosity_field);
  self->rate_field = add_field (self, _("Shear rate"), _("1/s"), titles,
                                gtk_widget_get_last_child (self->number_box));
  og_number_field_set_value (OG_NUMBER_FIELD (self->temperature_field), OG_TEMPERATURE_ROOM_C, 1);
  fill_choices (self);
  self->filling = FALSE;
  on_rate_selected (self);
  og_aim_page_set_shelf (self, NULL);
  on_formula_changed (self);
}

GtkWidget *
og_aim_page_new (void)
{
  return g_object_new (OG_TYPE_AIM_PAGE, NULL);
}
