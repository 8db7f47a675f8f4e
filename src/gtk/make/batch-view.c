/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/number-text.h"
#include "core/recipe/recipe-limits.h"
#include "gtk/make/batch-text.h"
#include "gtk/make/batch-view.h"
#include "gtk/make/cost-dialog.h"
#include "gtk/make/net-check-dialog.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/make-rows.h"
#include "gtk/parts/pieces.h"
#include "gtk/parts/plain-list.h"

#define MOST_LOSS_PCT 95.0
#define MOST_OVERFILL_PCT 100.0
#define DECIMALS 3

typedef enum
{
  FIELD_NOMINAL,
  FIELD_CAPACITY,
  FIELD_APPLICATOR,
  FIELD_OVERFILL,
  FIELD_LOSS_G,
  FIELD_LOSS_PCT,
  FIELD_FILL,
  N_FIELDS
} Field;

typedef struct
{
  const char *title;
  const char *unit;
  const char *key; /* nullable: where the settings keep it */
} FieldInfo;

static const FieldInfo field_info[N_FIELDS] = {
  [FIELD_NOMINAL] = { N_("Declared content"), NULL, NULL },
  [FIELD_CAPACITY] = { N_("Filled to the brim"), N_("ml"), NULL },
  [FIELD_APPLICATOR] = { N_("Taken up by the applicator"), N_("ml"), NULL },
  [FIELD_OVERFILL] = { N_("Filled beyond the declared content"), N_("%"), "overfill-percent" },
  [FIELD_LOSS_G] = { N_("Stays in pot and funnel"), N_("g"), "loss-grams" },
  [FIELD_LOSS_PCT] = { N_("Lost besides, of the batch"), N_("%"), "loss-percent" },
  [FIELD_FILL] = { N_("Filled at"), N_("°C"), NULL },
};

struct _OgBatchView
{
  GtkWidget parent_instance;

  GtkWidget *scroller;
  GtkWidget *aim_drop_down;
  OgCellEntry *amount_entry;
  GtkWidget *container_box;
  GtkWidget *filling_box;
  GtkWidget *problem_label;
  GtkWidget *facts_box;
  OgPlainList *facts;
  GtkWidget *unit_drop_down;
  OgCellEntry *entries[N_FIELDS];

  OgDocument *document;
  GSettings *settings;
  OgBatchAim aim;
  double amount;        /* NAN: follows the recipe's batch */
  double values[N_FIELDS]; /* of the fields that are no part of the recipe */
  char *problem;        /* nullable: why nothing could be planned */

  /* of the batch shown */
  double batch_g;       /* NAN: none */
  double density_20_g_ml;
  guint n_containers;

  gboolean filling;     /* choices are being set, nobody makes them */
};

G_DEFINE_FINAL_TYPE (OgBatchView, og_batch_view, GTK_TYPE_WIDGET)

enum
{
  CHANGED,
  MESSAGE,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static void
emit_changed (OgBatchView *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
say (OgBatchView *self,
     const char  *text)
{
  g_signal_emit (self, signals[MESSAGE], 0, text, TRUE);
}

static const OgFormula *
get_formula (OgBatchView *self)
{
  return og_document_get_formula (self->document);
}

/* Size */

static double
shown_amount (OgBatchView *self)
{
  if (self->aim == OG_BATCH_GRAMS && isnan (self->amount) && self->document != NULL)
    return get_formula (self)->batch_g;
  return self->amount;
}

static void
show_amount (OgBatchView *self)
{
  og_cell_entry_set_number (self->amount_entry, shown_amount (self), 0, DECIMALS);
}

static char *
on_amount (OgBatchView *self,
           double       value)
{
  if (!(value > 0.0 && value <= OG_RECIPE_MAX_BATCH_G))
    return g_strdup (_("The size of a batch is above 0."));
  self->amount = value;
  emit_changed (self);
  return NULL;
}

/* The same batch, told otherwise; NAN if that is not known. */
static double
convert_amount (OgBatchView *self,
                OgBatchAim   aim)
{
  switch (aim)
    {
    case OG_BATCH_GRAMS:
      return self->batch_g;
    case OG_BATCH_ML:
      return round (1000.0 * self->batch_g / self->density_20_g_ml) / 1000.0;
    case OG_BATCH_CONTAINERS:
      return self->n_containers > 0 ? self->n_containers : NAN;
    }
  g_return_val_if_reached (NAN);
}

static void
on_aim (OgBatchView *self)
{
  const guint aim = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->aim_drop_down));

  if (self->filling || aim > OG_BATCH_CONTAINERS || aim == self->aim)
    return;
  self->amount = convert_amount (self, (OgBatchAim) aim);
  self->aim = (OgBatchAim) aim;
  show_amount (self);
  emit_changed (self);
}

static gboolean
can_take_over (OgBatchView *self)
{
  return self->document != NULL && isfinite (self->batch_g)
         && fabs (self->batch_g - get_formula (self)->batch_g) > 1e-9 * self->batch_g;
}

static void
act_take_over (GtkWidget  *widget,
               const char *name,
               GVariant   *parameter)
{
  OgBatchView *self = OG_BATCH_VIEW (widget);

  if (!can_take_over (self))
    return;
  og_document_end_typing (self->document);
  if (!og_document_set_batch_g (self->document, self->batch_g))
    return;
  og_document_end_typing (self->document);
  say (self, _("The recipe has the size of this batch"));
}

/* Container */

static void
show_package (OgBatchView *self)
{
  const OgPackage *package = &get_formula (self)->package;

  og_cell_entry_set_number (self->entries[FIELD_NOMINAL], package->nominal, 0, DECIMALS);
  og_cell_entry_set_number (self->entries[FIELD_CAPACITY], package->capacity_ml, 0, DECIMALS);
  og_cell_entry_set_number (self->entries[FIELD_APPLICATOR], package->applicator_ml, 0, DECIMALS);
  self->filling = TRUE;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->unit_drop_down), package->unit);
  self->filling = FALSE;
}

static char *
set_package (OgBatchView     *self,
             const OgPackage *package)
{
  if (!og_package_is_valid (package))
    return g_strdup (_("A container holds more than 0, and more than its applicator takes up."));
  og_document_set_package (self->document, package);
  return NULL;
}

static char *
submit_package (OgBatchView *self,
                Field        field,
                double       value)
{
  OgPackage package;

  if (self->document == NULL)
    return NULL;
  package = get_formula (self)->package;
  if (field == FIELD_NOMINAL)
    package.nominal = value;
  else if (field == FIELD_CAPACITY)
    package.capacity_ml = value;
  else
    package.applicator_ml = value;
  return set_package (self, &package);
}

static void
on_unit (OgBatchView *self)
{
  const guint unit = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->unit_drop_down));
  OgPackage package;

  if (self->filling || self->document == NULL || unit > OG_NET_G)
    return;
  package = get_formula (self)->package;
  package.unit = (OgNetUnit) unit;
  og_document_set_package (self->document, &package);
}

/* Losses and filling */

static char *
check_value (Field  field,
             double value)
{
  if (isnan (value))
    return NULL;
  if (field == FIELD_FILL)
    return value >= OG_RECIPE_LOWEST_TYPED_C && value <= OG_RECIPE_HIGHEST_TYPED_C
             ? NULL : g_strdup (_("This is no temperature to fill at."));
  if (value < 0.0)
    return g_strdup (_("This cannot be below 0."));
  if (field == FIELD_LOSS_PCT && value > MOST_LOSS_PCT)
    return g_strdup (_("Nothing would be left."));
  if (field == FIELD_OVERFILL && value > MOST_OVERFILL_PCT)
    return g_strdup (_("This is more than the content itself."));
  return NULL;
}

static char *
submit_value (OgBatchView *self,
              Field        field,
              double       value)
{
  char *refusal = check_value (field, value);

  if (refusal != NULL)
    return refusal;
  self->values[field] = value;
  if (self->settings != NULL && field_info[field].key != NULL)
    g_settings_set_double (self->settings, field_info[field].key, isnan (value) ? 0.0 : value);
  emit_changed (self);
  return NULL;
}

static char *
on_field (OgCellEntry *entry,
          double       value,
          OgBatchView *self)
{
  for (guint i = 0; i < N_FIELDS; i++)
    {
      if (self->entries[i] == entry)
        return i <= FIELD_APPLICATOR ? submit_package (self, i, value)
                                     : submit_value (self, i, value);
    }
  g_return_val_if_reached (NULL);
}

static void
show_values (OgBatchView *self)
{
  for (guint i = FIELD_OVERFILL; i < N_FIELDS; i++)
    og_cell_entry_set_number (self->entries[i], self->values[i], 0, DECIMALS);
}

void
og_batch_view_set_settings (OgBatchView *self,
                            GSettings   *settings)
{
  g_return_if_fail (OG_IS_BATCH_VIEW (self));

  g_set_object (&self->settings, settings);
  for (guint i = 0; i < N_FIELDS; i++)
    {
      if (settings != NULL && field_info[i].key != NULL)
        self->values[i] = g_settings_get_double (settings, field_info[i].key);
    }
  show_values (self);
}

/* Problems */

static const char *
find_refusal (OgBatchView *self)
{
  if (og_cell_entry_get_problem (self->amount_entry) != NULL)
    return og_cell_entry_get_problem (self->amount_entry);
  for (guint i = 0; i < N_FIELDS; i++)
    {
      if (self->entries[i] != NULL && og_cell_entry_get_problem (self->entries[i]) != NULL)
        return og_cell_entry_get_problem (self->entries[i]);
    }
  return self->problem;
}

static void
on_problem (OgBatchView *self)
{
  og_label_set_optional (self->problem_label, find_refusal (self));
}

void
og_batch_view_revert (OgBatchView *self)
{
  g_return_if_fail (OG_IS_BATCH_VIEW (self));

  og_cell_entry_revert (self->amount_entry);
  for (guint i = 0; i < N_FIELDS; i++)
    og_cell_entry_revert (self->entries[i]);
}

/* What comes of it */

static void
add_fact (OgBatchView *self,
          const char  *title,
          char        *value,
          char        *remark)
{
  og_plain_list_add_fact (self->facts, title, value, remark);
  g_free (value);
  g_free (remark);
}

static void
show_size (OgBatchView   *self,
           const OgBatchPlan *batch)
{
  g_autofree char *lost = og_batch_grams_to_text (batch->lost_g, NULL);
  g_autofree char *left = og_batch_grams_to_text (batch->left_g, NULL);
  char *remark = NULL;

  if (batch->lost_g > 0.0)
    /* Translators: %s is a mass with its unit */
    remark = g_strdup_printf (_("%s of it are lost"), lost);
  add_fact (self, _("To be made"), og_batch_grams_to_text (batch->batch_g, NULL), remark);
  if (!(batch->content_g > 0.0))
    return;
  remark = NULL;
  if (isfinite (batch->left_g) && batch->n_containers > 0)
    /* Translators: %s is a mass with its unit */
    remark = g_strdup_printf (_("%s are left over"), left);
  add_fact (self, _("Containers"), g_strdup_printf ("%u", batch->n_containers), remark);
}

static void
show_filling (OgBatchView   *self,
              const OgBatchPlan *batch)
{
  g_autofree char *at_c = og_number_trimmed (batch->fill_c, 0);
  g_autofree char *ml = og_number_fixed (batch->fill_ml, 2);
  /* Translators: %s is a temperature */
  g_autofree char *density_title = g_strdup_printf (_("Density at %s °C"), at_c);
  g_autofree char *density = og_number_fixed (batch->density_fill_g_ml, 3);

  if (isfinite (batch->content_g))
    add_fact (self, _("Fill each with"), og_batch_grams_to_text (batch->content_g, NULL),
              isfinite (batch->fill_ml)
                /* Translators: a volume in ml and a temperature */
                ? g_strdup_printf (_("or %s ml at %s °C"), ml, at_c) : NULL);
  add_fact (self, density_title,
            isfinite (batch->density_fill_g_ml)
              /* Translators: %s is a density */
              ? g_strdup_printf (_("%s g/ml"), density) : g_strdup (density),
            NULL);
}

static void
show_fit (OgBatchView   *self,
          const OgBatchPlan *batch)
{
  if (isnan (get_formula (self)->package.capacity_ml))
    return;
  for (guint i = 0; i < G_N_ELEMENTS (batch->fit); i++)
    {
      g_autofree char *at_c = og_number_trimmed (batch->fit[i].temperature_c, 0);
      /* Translators: %s is a temperature */
      g_autofree char *title = g_strdup_printf (_("Room left at %s °C"), at_c);

      add_fact (self, title, og_batch_fit_to_text (&batch->fit[i]), NULL);
    }
}

static void
show_total (OgBatchView       *self,
            const OgCostTotal *total)
{
  char *container = NULL;

  if (isfinite (total->container))
    {
      g_autofree char *each = og_batch_money_to_text (total->container, total->currency);

      /* Translators: %s is an amount of money */
      container = g_strdup_printf (_("%s for each container"), each);
    }
  add_fact (self, _("Cost of the batch"), og_batch_money_to_text (total->batch, total->currency),
            container);
}

static void
show_cost (OgBatchView  *self,
           const OgCost *cost)
{
  g_autofree char *unknown =
    g_strdup_printf (ngettext ("%u price is unknown", "%u prices are unknown", cost->n_unknown),
                     cost->n_unknown);

  for (guint i = 0; i < cost->totals->len; i++)
    show_total (self, g_ptr_array_index (cost->totals, i));
  if (cost->totals->len == 0)
    add_fact (self, _("Cost of the batch"), g_strdup (C_("cost", "unknown")),
              cost->n_unknown > 0 ? g_strdup (unknown) : NULL);
  else if (cost->n_unknown > 0)
    add_fact (self, _("Not in it"), g_strdup (unknown), NULL);
}

static void
show_findings (OgBatchView   *self,
               const OgBatchPlan *batch)
{
  for (guint i = 0; i < batch->findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (batch->findings, i);

      if (finding->line_id == 0 && finding->severity != OG_SEVERITY_NOTE)
        og_plain_list_add_finding (self->facts, finding);
    }
}

void
og_batch_view_show (OgBatchView   *self,
                    const OgBatchPlan *batch,
                    const char    *problem)
{
  g_return_if_fail (OG_IS_BATCH_VIEW (self));

  og_plain_list_clear (self->facts);
  self->batch_g = batch != NULL ? batch->batch_g : NAN;
  self->density_20_g_ml = batch != NULL ? batch->density_20_g_ml : NAN;
  self->n_containers = batch != NULL ? batch->n_containers : 0;
  g_free (self->problem);
  self->problem = g_strdup (problem);
  if (batch != NULL)
    {
      g_autofree char *fill = og_number_to_text (batch->fill_c, 0, 0);

      gtk_entry_set_placeholder_text (GTK_ENTRY (self->entries[FIELD_FILL]), fill);
      show_findings (self, batch);
      show_size (self, batch);
      show_filling (self, batch);
      show_fit (self, batch);
      show_cost (self, batch->cost);
    }
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "batch.take-over", can_take_over (self));
  on_problem (self);
}

void
og_batch_view_get_options (OgBatchView    *self,
                           OgBatchOptions *options)
{
  const double *values = self->values;

  g_return_if_fail (OG_IS_BATCH_VIEW (self));

  options->aim = self->aim;
  options->amount = shown_amount (self);
  options->overfill_pct = isnan (values[FIELD_OVERFILL]) ? 0.0 : values[FIELD_OVERFILL];
  options->loss_g = isnan (values[FIELD_LOSS_G]) ? 0.0 : values[FIELD_LOSS_G];
  options->loss_pct = isnan (values[FIELD_LOSS_PCT]) ? 0.0 : values[FIELD_LOSS_PCT];
}

double
og_batch_view_get_fill_c (OgBatchView *self)
{
  g_return_val_if_fail (OG_IS_BATCH_VIEW (self), NAN);

  return self->values[FIELD_FILL];
}

/* Dialogs */

static void
act_edit_costs (GtkWidget  *widget,
                const char *name,
                GVariant   *parameter)
{
  OgBatchView *self = OG_BATCH_VIEW (widget);

  if (self->document != NULL)
    og_present_over (GTK_WIDGET (self), og_cost_dialog_new (self->document));
}

static void
act_check_filled (GtkWidget  *widget,
                  const char *name,
                  GVariant   *parameter)
{
  OgBatchView *self = OG_BATCH_VIEW (widget);

  if (self->document != NULL)
    og_present_over (GTK_WIDGET (self), og_net_check_dialog_new (&get_formula (self)->package, self->density_20_g_ml));
}

/* Document */

static void
on_formula_changed (OgBatchView *self)
{
  show_package (self);
  show_amount (self);
}

void
og_batch_view_set_document (OgBatchView *self,
                            OgDocument  *document)
{
  g_return_if_fail (OG_IS_BATCH_VIEW (self));

  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  g_set_object (&self->document, document);
  if (document == NULL)
    return;
  g_signal_connect_object (document, "formula-changed", G_CALLBACK (on_formula_changed), self,
                           G_CONNECT_SWAPPED);
  on_formula_changed (self);
}

/* Building */

static void
add_field (OgBatchView *self,
           Field        field,
           GtkWidget   *box)
{
  const FieldInfo *info = &field_info[field];
  const char *unit = info->unit != NULL ? _(info->unit) : NULL;

  gtk_box_append (GTK_BOX (box), og_field_line_new (_(info->title), unit, &self->entries[field]));
  g_signal_connect (self->entries[field], "submit-number", G_CALLBACK (on_field), self);
  g_signal_connect_swapped (self->entries[field], "notify::problem", G_CALLBACK (on_problem),
                            self);
}

/* The unit of the declared content is chosen where other lines say theirs. */
static void
add_unit (OgBatchView *self)
{
  const char *units[] = { _("ml"), _("g"), NULL };

  self->unit_drop_down = gtk_drop_down_new_from_strings (units);
  g_signal_connect_swapped (self->unit_drop_down, "notify::selected", G_CALLBACK (on_unit), self);
  gtk_box_append (GTK_BOX (self->container_box),
                  og_choice_line_new (_("Content declared in"), self->unit_drop_down));
}

static void
fill_aims (OgBatchView *self)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

  gtk_string_list_append (names, _("Grams"));
  gtk_string_list_append (names, _("Millilitres"));
  gtk_string_list_append (names, _("Containers"));
  self->filling = TRUE;
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->aim_drop_down), G_LIST_MODEL (names));
  self->filling = FALSE;
}

static void
og_batch_view_dispose (GObject *object)
{
  OgBatchView *self = OG_BATCH_VIEW (object);

  og_batch_view_set_document (self, NULL);
  g_clear_object (&self->settings);
  gtk_widget_dispose_template (GTK_WIDGET (self), OG_TYPE_BATCH_VIEW);

  G_OBJECT_CLASS (og_batch_view_parent_class)->dispose (object);
}

static void
og_batch_view_finalize (GObject *object)
{
  g_free (OG_BATCH_VIEW (object)->problem);

  G_OBJECT_CLASS (og_batch_view_parent_class)->finalize (object);
}

static void
og_batch_view_class_init (OgBatchViewClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->dispose = og_batch_view_dispose;
  object_class->finalize = og_batch_view_finalize;

  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 0);
  signals[MESSAGE] = g_signal_new ("message", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_BOOLEAN);

  g_type_ensure (OG_TYPE_CELL_ENTRY);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/batch-view.ui");
  gtk_widget_class_bind_template_child (widget_class, OgBatchView, scroller);
  gtk_widget_class_bind_template_child (widget_class, OgBatchView, aim_drop_down);
  gtk_widget_class_bind_template_child (widget_class, OgBatchView, amount_entry);
  gtk_widget_class_bind_template_child (widget_class, OgBatchView, container_box);
  gtk_widget_class_bind_template_child (widget_class, OgBatchView, filling_box);
  gtk_widget_class_bind_template_child (widget_class, OgBatchView, problem_label);
  gtk_widget_class_bind_template_child (widget_class, OgBatchView, facts_box);
  gtk_widget_class_bind_template_callback (widget_class, on_aim);
  gtk_widget_class_bind_template_callback (widget_class, on_amount);
  gtk_widget_class_bind_template_callback (widget_class, on_problem);
  gtk_widget_class_install_action (widget_class, "batch.take-over", NULL, act_take_over);
  gtk_widget_class_install_action (widget_class, "batch.edit-costs", NULL, act_edit_costs);
  gtk_widget_class_install_action (widget_class, "batch.check-filled", NULL, act_check_filled);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "batchview");
}

static void
og_batch_view_init (OgBatchView *self)
{
  self->amount = self->batch_g = self->density_20_g_ml = NAN;
  for (guint i = 0; i < N_FIELDS; i++)
    self->values[i] = i == FIELD_FILL ? NAN : 0.0;
  gtk_widget_init_template (GTK_WIDGET (self));
  fill_aims (self);
  add_field (self, FIELD_NOMINAL, self->container_box);
  add_unit (self);
  add_field (self, FIELD_CAPACITY, self->container_box);
  add_field (self, FIELD_APPLICATOR, self->container_box);
  for (guint i = FIELD_OVERFILL; i < N_FIELDS; i++)
    add_field (self, i, self->filling_box);
  self->facts = OG_PLAIN_LIST (og_plain_list_new (_("What comes of the batch")));
  gtk_box_append (GTK_BOX (self->facts_box), GTK_WIDGET (self->facts));
  show_values (self);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "batch.take-over", FALSE);
}
