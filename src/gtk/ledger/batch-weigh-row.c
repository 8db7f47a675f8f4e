/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "core/base/number-text.h"
#include "core/make/weighing.h"
#include "gtk/ledger/batch-weigh-row.h"
#include "gtk/ledger/ledger-words.h"
#include "gtk/parts/cell-entry.h"
#include "gtk/parts/drop-down.h"
#include "gtk/parts/finding-row.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/pieces.h"
#include "gtk/parts/text-undo.h"
#include "gtk/parts/typed-number.h"

#define AMOUNT_CHARS 8
#define NAME_CHARS 18
#define ID_DATA "og-weighing"
#define DECIMALS 3

struct _OgBatchWeighRow
{
  GtkBox parent_instance;

  GtkWidget *line_box;
  GtkWidget *controls; /* lot, amount, balance, button */
  GtkWidget *state_label;
  GtkWidget *target_label;
  GtkWidget *lot_drop_down;
  GtkWidget *amount_entry;
  GtkWidget *balance_drop_down;
  GtkWidget *problem_label;
  GtkWidget *weighing_box;
  GtkWidget *finding_box;

  OgLedger *ledger;
  char *number;
  char *name;
  guint line;
  GPtrArray *codes;     /* of char *: lots of the drop-down, in its order; the last, NULL: no lot */
  GPtrArray *labels;    /* of char *: the same in words */
  gint64 last_id;       /* of the last weighing that can be taken back; 0 if there is none */
  gint64 weighed_mg;
};

G_DEFINE_FINAL_TYPE (OgBatchWeighRow, og_batch_weigh_row, GTK_TYPE_BOX)

enum
{
  WEIGHED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static void
tell (OgBatchWeighRow *self,
      const char      *problem)
{
  og_label_set_optional (self->problem_label, problem);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->amount_entry),
                               GTK_ACCESSIBLE_STATE_INVALID,
                               problem != NULL ? GTK_ACCESSIBLE_INVALID_TRUE
                                               : GTK_ACCESSIBLE_INVALID_FALSE,
                               -1);
}

static gboolean
refuse (OgBatchWeighRow *self,
        const char      *problem)
{
  tell (self, problem);
  gtk_widget_error_bell (GTK_WIDGET (self));
  return FALSE;
}

static const char *
chosen_lot (OgBatchWeighRow *self)
{
  const guint chosen = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->lot_drop_down));

  return chosen < self->codes->len ? g_ptr_array_index (self->codes, chosen) : NULL;
}

static char *
chosen_balance (OgBatchWeighRow *self)
{
  GtkStringObject *item =
    gtk_drop_down_get_selected_item (GTK_DROP_DOWN (self->balance_drop_down));

  return item != NULL
             && gtk_drop_down_get_selected (GTK_DROP_DOWN (self->balance_drop_down)) > 0
           ? g_strdup (gtk_string_object_get_string (item)) : NULL;
}

gboolean
og_batch_weigh_row_commit (OgBatchWeighRow *self)
{
  g_autofree char *balance = NULL;
  g_autoptr (GError) error = NULL;
  OgWeighing weighing = { .line = self->line, .lot = (char *) chosen_lot (self) };
  g_autofree char *problem = NULL;
  const char *text;
  double grams;

  g_return_val_if_fail (OG_IS_BATCH_WEIGH_ROW (self), FALSE);

  text = gtk_editable_get_text (GTK_EDITABLE (self->amount_entry));
  if (*text == '\0')
    return refuse (self, _("Type the grams that the balance shows."));
  problem = og_typed_number (text, &grams);
  if (problem != NULL)
    return refuse (self, problem);
  if (!og_ledger_g_to_mg (grams, &weighing.amount_mg))
    return refuse (self, _("This is too large."));
  if (weighing.amount_mg <= 0)
    return refuse (self, _("This has to be above 0. A wrong weighing is taken back below."));
  balance = chosen_balance (self);
  weighing.balance = balance;
  weighing.who = (char *) og_ledger_get_who (self->ledger);
  if (og_ledger_weigh (self->ledger, self->number, &weighing, &error) == 0)
    return refuse (self, error->message);
  og_editable_show (GTK_EDITABLE (self->amount_entry), "");
  tell (self, NULL);
  g_signal_emit (self, signals[WEIGHED], 0);
  return TRUE;
}

static gboolean
take_back (OgBatchWeighRow *self,
           gint64           id)
{
  g_autoptr (GError) error = NULL;

  return og_ledger_take_back (self->ledger, self->number, id, og_ledger_get_who (self->ledger),
                              &error) != 0
         || refuse (self, error->message);
}

gboolean
og_batch_weigh_row_take_back (OgBatchWeighRow *self)
{
  g_return_val_if_fail (OG_IS_BATCH_WEIGH_ROW (self), FALSE);

  return self->last_id != 0 && take_back (self, self->last_id);
}

static void
on_take_back (OgBatchWeighRow *self,
              GtkWidget       *button)
{
  take_back (self, *(const gint64 *) g_object_get_data (G_OBJECT (button), ID_DATA));
}

gboolean
og_batch_weigh_row_is_done (OgBatchWeighRow *self)
{
  g_return_val_if_fail (OG_IS_BATCH_WEIGH_ROW (self), FALSE);

  return self->weighed_mg > 0;
}

void
og_batch_weigh_row_type (OgBatchWeighRow *self,
                         double           amount_g,
                         const char      *lot)
{
  g_autofree char *text = NULL;

  g_return_if_fail (OG_IS_BATCH_WEIGH_ROW (self));

  text = og_number_to_text (amount_g, 0, DECIMALS);
  og_editable_show (GTK_EDITABLE (self->amount_entry), text);
  for (guint i = 0; i < self->codes->len; i++)
    {
      if (g_strcmp0 (g_ptr_array_index (self->codes, i), lot) == 0)
        gtk_drop_down_set_selected (GTK_DROP_DOWN (self->lot_drop_down), i);
    }
}

/* What was weighed */

static gboolean
is_undone (const OgBatch *batch,
           gint64         id)
{
  for (guint i = 0; i < batch->weighings->len; i++)
    {
      if (((const OgWeighing *) g_ptr_array_index (batch->weighings, i))->undoes == id)
        return TRUE;
    }
  return FALSE;
}

static char *
weighing_text (const OgWeighing *weighing)
{
  g_autofree char *amount = og_ledger_mg_to_text (weighing->amount_mg);
  g_autofree char *moment = og_ledger_moment_to_text (weighing->weighed_at);
  GString *text = g_string_new (amount);

  g_string_append (text, " · ");
  if (weighing->lot != NULL)
    /* Translators: %s is the name of a lot */
    g_string_append_printf (text, _("lot %s"), weighing->lot);
  else
    g_string_append (text, _("no lot"));
  if (weighing->balance != NULL)
    g_string_append_printf (text, " · %s", weighing->balance);
  if (weighing->who != NULL)
    g_string_append_printf (text, " · %s", weighing->who);
  g_string_append_printf (text, " · %s", moment);
  return g_string_free (text, FALSE);
}

static void
add_weighing (OgBatchWeighRow  *self,
              const OgWeighing *weighing,
              gboolean          open)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  g_autofree char *text = weighing_text (weighing);
  GtkWidget *label = og_wrapping_label_new (text, "fact-origin");

  gtk_label_set_natural_wrap_mode (GTK_LABEL (label), GTK_NATURAL_WRAP_NONE);
  gtk_box_append (GTK_BOX (line), label);
  if (open)
    {
      GtkWidget *button = gtk_button_new_with_label (_("Take back"));
      /* Translators: what the button takes back: amount, lot, who and when */
      g_autofree char *name = g_strdup_printf (_("Take back %s"), text);

      gtk_widget_add_css_class (button, "flat");
      gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
      gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                      GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                      -1);
      g_object_set_data_full (G_OBJECT (button), ID_DATA,
                              g_memdup2 (&weighing->id, sizeof weighing->id), g_free);
      g_signal_connect_swapped (button, "clicked", G_CALLBACK (on_take_back), self);
      gtk_box_append (GTK_BOX (line), button);
    }
  gtk_box_append (GTK_BOX (self->weighing_box), line);
}

static void
show_weighings (OgBatchWeighRow *self,
                const OgBatch   *batch,
                gboolean         editable)
{
  og_box_clear (self->weighing_box);
  self->last_id = 0;
  for (guint i = 0; i < batch->weighings->len; i++)
    {
      const OgWeighing *weighing = g_ptr_array_index (batch->weighings, i);
      const gboolean open = weighing->amount_mg > 0 && !is_undone (batch, weighing->id);

      if (weighing->line != self->line)
        continue;
      if (open)
        self->last_id = weighing->id;
      add_weighing (self, weighing, editable && open);
    }
}

static void
show_state (OgBatchWeighRow   *self,
            const OgBatchLine *line)
{
  const gint64 off_mg = line->weighed_mg - line->planned_mg;
  g_autofree char *weighed = og_ledger_mg_to_text (line->weighed_mg);
  g_autofree char *off = og_ledger_mg_to_text (ABS (off_mg));
  g_autofree char *text = NULL;

  self->weighed_mg = line->weighed_mg;
  if (line->weighed_mg == 0)
    text = g_strdup (_("not weighed yet"));
  else if (off_mg == 0)
    /* Translators: %s is a mass */
    text = g_strdup_printf (_("%s weighed"), weighed);
  else
    text = off_mg < 0 ? g_strdup_printf (_("%s weighed, %s less than wanted"), weighed, off)
                      : g_strdup_printf (_("%s weighed, %s more than wanted"), weighed, off);
  gtk_label_set_label (GTK_LABEL (self->state_label), text);
}

/* Lots */

static char *
lot_label (const OgLot *lot)
{
  g_autofree char *left = og_ledger_mg_to_text (lot->left_mg);

  if (lot->best_before == NULL)
    /* Translators: name of a lot, what is left of it */
    return g_strdup_printf (_("%s, %s left"), lot->code, left);
  /* Translators: name of a lot, what is left of it, a day */
  return g_strdup_printf (_("%s, %s left, best before %s"), lot->code, left, lot->best_before);
}

static GPtrArray *
lot_labels (const GPtrArray *lots)
{
  GPtrArray *labels = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < lots->len; i++)
    g_ptr_array_add (labels, lot_label (g_ptr_array_index (lots, i)));
  g_ptr_array_add (labels, g_strdup (_("no lot")));
  return labels;
}

/* A list that is open or chosen from is only replaced when it says something else. */
static void
show_lots (OgBatchWeighRow *self,
           const GPtrArray *lots)
{
  g_autoptr (GPtrArray) labels = lot_labels (lots);
  g_autofree char *chosen = g_strdup (chosen_lot (self));
  const gboolean first = self->labels->len == 0;
  guint position = lots->len;

  if (og_same_texts (labels, self->labels))
    return;
  g_ptr_array_set_size (self->codes, 0);
  for (guint i = 0; i < lots->len; i++)
    {
      const OgLot *lot = g_ptr_array_index (lots, i);

      if (g_strcmp0 (chosen, lot->code) == 0)
        position = i;
      g_ptr_array_add (self->codes, g_strdup (lot->code));
    }
  if (first)
    position = 0;
  g_ptr_array_add (self->codes, NULL);
  g_ptr_array_unref (self->labels);
  self->labels = g_steal_pointer (&labels);
  g_ptr_array_add (self->labels, NULL);
  og_drop_down_set_strings (GTK_DROP_DOWN (self->lot_drop_down),
                            (const char *const *) self->labels->pdata);
  g_ptr_array_set_size (self->labels, (int) self->labels->len - 1);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->lot_drop_down), position);
}

/* What is wrong with this line, such as a lot that is past its day */
static void
show_findings (OgBatchWeighRow *self,
               const GPtrArray *findings)
{
  og_box_clear (self->finding_box);
  for (guint i = 0; i < findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (findings, i);

      if (finding->line_id == self->line)
        gtk_box_append (GTK_BOX (self->finding_box), og_finding_content_new (finding));
    }
  gtk_widget_set_visible (self->finding_box,
                          gtk_widget_get_first_child (self->finding_box) != NULL);
}

void
og_batch_weigh_row_show (OgBatchWeighRow   *self,
                         const OgBatch     *batch,
                         const OgBatchLine *line,
                         const GPtrArray   *lots,
                         const GPtrArray   *findings,
                         gboolean           editable)
{
  const gint64 rest_mg = line->planned_mg - line->weighed_mg;
  g_autofree char *hint = og_ledger_mg_to_number (MAX (rest_mg, 0));

  g_return_if_fail (OG_IS_BATCH_WEIGH_ROW (self));

  gtk_entry_set_placeholder_text (GTK_ENTRY (self->amount_entry), rest_mg > 0 ? hint : NULL);
  gtk_widget_set_visible (self->controls, editable);
  show_lots (self, lots);
  show_state (self, line);
  show_findings (self, findings);
  show_weighings (self, batch, editable);
}

/* Building */

static char *
name_part (OgBatchWeighRow *self,
           const char      *what)
{
  /* Translators: name of a material, then what is asked for about it */
  return g_strdup_printf (_("%s, %s"), self->name, what);
}

static void
add_name (OgBatchWeighRow           *self,
          const OgBatchLine         *line,
          const OgBatchWeighColumns *columns)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *name = og_wrapping_label_new (line->name, "heading");
  g_autofree char *target = og_ledger_mg_to_text (line->planned_mg);

  self->state_label = og_wrapping_label_new (NULL, "fact-origin");
  gtk_label_set_width_chars (GTK_LABEL (name), NAME_CHARS);
  gtk_box_append (GTK_BOX (box), name);
  gtk_box_append (GTK_BOX (box), self->state_label);
  gtk_widget_set_hexpand (box, TRUE);
  self->target_label = gtk_label_new (target);
  gtk_label_set_xalign (GTK_LABEL (self->target_label), 1.0f);
  gtk_widget_add_css_class (self->target_label, "tile-value");
  gtk_size_group_add_widget (columns->target, self->target_label);
  gtk_box_append (GTK_BOX (self->line_box), box);
  gtk_box_append (GTK_BOX (self->line_box), self->target_label);
}

static void
add_amount (OgBatchWeighRow *self)
{
  g_autofree char *name = name_part (self, _("weighed, g"));

  self->amount_entry = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (self->amount_entry), AMOUNT_CHARS);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->amount_entry), AMOUNT_CHARS);
  gtk_entry_set_input_purpose (GTK_ENTRY (self->amount_entry), GTK_INPUT_PURPOSE_NUMBER);
  og_align_number (GTK_EDITABLE (self->amount_entry));
  gtk_widget_add_css_class (self->amount_entry, "numeric");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->amount_entry),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  -1);
  g_signal_connect_swapped (self->amount_entry, "activate",
                            G_CALLBACK (og_batch_weigh_row_commit), self);
  gtk_box_append (GTK_BOX (self->controls), self->amount_entry);
  gtk_box_append (GTK_BOX (self->controls), gtk_label_new (_("g")));
}

static void
add_balance (OgBatchWeighRow           *self,
             const OgBatchWeighColumns *columns)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  g_autofree char *name = name_part (self, _("balance"));

  gtk_string_list_append (names, _("no balance"));
  for (guint i = 0; i < columns->balances->len; i++)
    gtk_string_list_append (names,
                            ((OgBalance *) g_ptr_array_index (columns->balances, i))->name);
  self->balance_drop_down = gtk_drop_down_new (g_object_ref (G_LIST_MODEL (names)), NULL);
  og_drop_down_ellipsize (GTK_DROP_DOWN (self->balance_drop_down));
  og_drop_down_set_name (self->balance_drop_down, name);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->balance_drop_down),
                              columns->balances->len > 0 ? 1 : 0);
  gtk_widget_set_visible (self->balance_drop_down, columns->balances->len > 0);
  gtk_size_group_add_widget (columns->balance, self->balance_drop_down);
  gtk_box_append (GTK_BOX (self->controls), self->balance_drop_down);
}

static void
add_controls (OgBatchWeighRow           *self,
              const OgBatchWeighColumns *columns)
{
  GtkWidget *button = gtk_button_new_with_label (_("Weigh"));
  g_autofree char *lot = name_part (self, _("lot"));
  g_autofree char *name = name_part (self, _("Weigh"));

  self->controls = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  self->lot_drop_down = gtk_drop_down_new (NULL, NULL);
  og_drop_down_ellipsize (GTK_DROP_DOWN (self->lot_drop_down));
  og_drop_down_set_name (self->lot_drop_down, lot);
  gtk_size_group_add_widget (columns->lot, self->lot_drop_down);
  gtk_box_append (GTK_BOX (self->controls), self->lot_drop_down);
  add_amount (self);
  add_balance (self, columns);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  -1);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (og_batch_weigh_row_commit), self);
  gtk_box_append (GTK_BOX (self->controls), button);
  gtk_widget_set_valign (self->controls, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (self->line_box), self->controls);
}

static gboolean
og_batch_weigh_row_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (OG_BATCH_WEIGH_ROW (widget)->amount_entry);
}

static void
og_batch_weigh_row_finalize (GObject *object)
{
  OgBatchWeighRow *self = OG_BATCH_WEIGH_ROW (object);

  g_clear_object (&self->ledger);
  g_free (self->number);
  g_free (self->name);
  g_ptr_array_unref (self->codes);
  g_ptr_array_unref (self->labels);

  G_OBJECT_CLASS (og_batch_weigh_row_parent_class)->finalize (object);
}

static void
og_batch_weigh_row_class_init (OgBatchWeighRowClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = og_batch_weigh_row_finalize;
  widget_class->grab_focus = og_batch_weigh_row_grab_focus;

  signals[WEIGHED] = g_signal_new ("weighed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 0);
}

static void
og_batch_weigh_row_init (OgBatchWeighRow *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 3);
  self->codes = g_ptr_array_new_with_free_func (g_free);
  self->labels = g_ptr_array_new_with_free_func (g_free);
  self->line_box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  self->problem_label = og_wrapping_label_new (NULL, "field-problem");
  gtk_widget_add_css_class (self->problem_label, "error");
  gtk_widget_set_visible (self->problem_label, FALSE);
  self->weighing_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_box_append (GTK_BOX (self), self->line_box);
  self->finding_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  gtk_box_append (GTK_BOX (self), self->problem_label);
  gtk_box_append (GTK_BOX (self), self->finding_box);
  gtk_box_append (GTK_BOX (self), self->weighing_box);
}

GtkWidget *
og_batch_weigh_row_new (OgLedger                  *ledger,
                        const char                *number,
                        const OgBatchLine         *line,
                        const OgBatchWeighColumns *columns)
{
  OgBatchWeighRow *self = g_object_new (OG_TYPE_BATCH_WEIGH_ROW, NULL);

  self->ledger = g_object_ref (ledger);
  self->number = g_strdup (number);
  self->name = g_strdup (line->name);
  self->line = line->line;
  add_name (self, line, columns);
  add_controls (self, columns);
  return GTK_WIDGET (self);
}
