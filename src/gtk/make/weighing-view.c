/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/number-text.h"
#include "gtk/make/batch-text.h"
#include "gtk/make/weighing-view.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/make-rows.h"
#include "gtk/parts/plain-list.h"

struct _OgWeighingView
{
  GtkWidget parent_instance;

  GtkWidget *scroller;
  GtkWidget *note_label;
  GtkWidget *list_box;
  GtkWidget *rounding_label;
  OgPlainList *list;
};

G_DEFINE_FINAL_TYPE (OgWeighingView, og_weighing_view, GTK_TYPE_WIDGET)

static void
add_phase (OgWeighingView       *self,
           const OgFormulaPhase *phase)
{
  GtkWidget *row = og_plain_list_add (self->list, og_wrapping_label_new (phase->name, "heading"),
                                      phase->name);

  gtk_widget_add_css_class (row, "phase");
}

/* "Fine balance, to 0.4 %", or that there is none. */
static char *
balance_text (const OgPlannedWeighing *weighing)
{
  g_autofree char *error = NULL;
  g_autofree char *text = NULL;

  if (weighing->balance == NULL)
    return NULL;
  error = og_number_significant (weighing->error_pct, 2);
  /* Translators: name of a balance, then the largest error in per cent */
  text = g_strdup_printf (_("%s, to %s %%"), weighing->balance->name, error);
  if (weighing->n_portions > 1)
    {
      /* Translators: what the balance shows, then in how many portions it has to be weighed */
      return g_strdup_printf (ngettext ("%s, in %u portion", "%s, in %u portions",
                                        weighing->n_portions),
                              text, weighing->n_portions);
    }
  return g_steal_pointer (&text);
}

static char *
grams_text (const OgPlannedWeighing *weighing)
{
  return og_batch_grams_to_text (weighing->balance != NULL ? weighing->rounded_g
                                                           : weighing->exact_g,
                                 weighing->balance);
}

static GtkWidget *
line_new (const char *name,
          const char *grams)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *name_label = og_wrapping_label_new (name, NULL);
  GtkWidget *grams_label = gtk_label_new (grams);

  gtk_widget_set_hexpand (name_label, TRUE);
  gtk_label_set_xalign (GTK_LABEL (grams_label), 1.0f);
  gtk_widget_set_valign (grams_label, GTK_ALIGN_START);
  gtk_widget_add_css_class (grams_label, "tile-value");
  gtk_box_append (GTK_BOX (line), name_label);
  gtk_box_append (GTK_BOX (line), grams_label);
  return line;
}

/* Warnings about the line first, then what can be done. */
static char *
warning_text (const OgBatchPlan     *batch,
              const OgBatchWeighing *line)
{
  g_autofree char *remedy = og_batch_remedy_to_text (line);
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < batch->findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (batch->findings, i);

      if (finding->line_id == line->line_id && finding->severity != OG_SEVERITY_NOTE)
        g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", og_saying_text (finding->text));
    }
  if (remedy != NULL)
    g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", remedy);
  return g_string_free (text, text->len == 0);
}

static void
add_line (OgWeighingView    *self,
          const OgBatchPlan     *batch,
          const OgBatchWeighing *line)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  g_autofree char *grams = grams_text (&line->weighing);
  g_autofree char *balance = balance_text (&line->weighing);
  g_autofree char *warning = warning_text (batch, line);
  g_autofree char *amount = g_strdup_printf ("%s: %s", line->name, grams);
  GString *spoken = g_string_new (amount);

  gtk_box_append (GTK_BOX (box), line_new (line->name, grams));
  if (balance != NULL)
    {
      gtk_box_append (GTK_BOX (box), og_wrapping_label_new (balance, "fact-origin"));
      g_string_append_printf (spoken, ". %s", balance);
    }
  if (warning != NULL)
    {
      gtk_box_append (GTK_BOX (box), og_caution_new (warning));
      g_string_append_printf (spoken, ". %s", warning);
    }
  og_plain_list_add (self->list, box, spoken->str);
  g_string_free (spoken, TRUE);
}

/* The last decimals anybody weighs stand in the sum too. */
static const OgBalance *
finest_balance (const OgBatchPlan *batch)
{
  const OgBalance *finest = NULL;

  for (guint i = 0; i < batch->lines->len; i++)
    {
      const OgBatchWeighing *line = g_ptr_array_index (batch->lines, i);
      const OgBalance *balance = line->weighing.balance;

      if (balance == NULL)
        return NULL;
      if (finest == NULL || balance->readability_g < finest->readability_g)
        finest = balance;
    }
  return finest;
}

static void
add_sum (OgWeighingView *self,
         const OgBatchPlan  *batch)
{
  g_autofree char *grams = og_batch_grams_to_text (batch->rounded_g, finest_balance (batch));
  g_autofree char *spoken = g_strdup_printf ("%s: %s", _("Together"), grams);
  GtkWidget *row = og_plain_list_add (self->list, line_new (_("Together"), grams), spoken);

  gtk_widget_add_css_class (row, "sum");
}

static void
show_note (OgWeighingView *self,
           const OgBatchPlan  *batch)
{
  const OgBatchWeighing *first =
    batch != NULL && batch->lines->len > 0 ? g_ptr_array_index (batch->lines, 0) : NULL;
  const char *note = NULL;

  if (first == NULL)
    note = _("Nothing to weigh yet.");
  else if (first->weighing.balance == NULL)
    note = _("Say which balances you have, and the amounts are rounded to what they show.");
  og_label_set_optional (self->note_label, note);
}

void
og_weighing_view_show (OgWeighingView  *self,
                       const OgFormula *formula,
                       const OgBatchPlan   *batch)
{
  g_autofree char *rounding = NULL;
  guint phase_id = 0;

  g_return_if_fail (OG_IS_WEIGHING_VIEW (self));

  og_plain_list_clear (self->list);
  show_note (self, batch);
  for (guint i = 0; batch != NULL && i < batch->lines->len; i++)
    {
      const OgBatchWeighing *line = g_ptr_array_index (batch->lines, i);
      const OgFormulaPhase *phase = og_formula_find_phase (formula, line->phase_id, NULL);

      if (line->phase_id != phase_id && phase != NULL)
        add_phase (self, phase);
      phase_id = line->phase_id;
      add_line (self, batch, line);
    }
  if (batch != NULL && batch->lines->len > 0)
    {
      add_sum (self, batch);
      if (finest_balance (batch) != NULL)
        rounding = og_batch_rounding_to_text (batch);
    }
  gtk_widget_set_visible (GTK_WIDGET (self->list), batch != NULL && batch->lines->len > 0);
  og_label_set_optional (self->rounding_label, rounding);
}

static void
og_weighing_view_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), OG_TYPE_WEIGHING_VIEW);

  G_OBJECT_CLASS (og_weighing_view_parent_class)->dispose (object);
}

static void
og_weighing_view_class_init (OgWeighingViewClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_weighing_view_dispose;

  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/weighing-view.ui");
  gtk_widget_class_bind_template_child (widget_class, OgWeighingView, scroller);
  gtk_widget_class_bind_template_child (widget_class, OgWeighingView, note_label);
  gtk_widget_class_bind_template_child (widget_class, OgWeighingView, list_box);
  gtk_widget_class_bind_template_child (widget_class, OgWeighingView, rounding_label);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "weighingview");
}

static void
og_weighing_view_init (OgWeighingView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->list = OG_PLAIN_LIST (og_plain_list_new (_("Weighing list")));
  gtk_box_append (GTK_BOX (self->list_box), GTK_WIDGET (self->list));
  show_note (self, NULL);
}
