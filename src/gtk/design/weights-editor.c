/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/design/weights-editor.h"
#include "gtk/parts/labels.h"

#define MOST 5.0
#define STEP 0.25
#define SCALE_WIDTH 120

struct _OgWeightsEditor
{
  GtkWidget parent_instance;

  GtkWidget *grid;
  GtkWidget *scales[OG_N_TRAITS];
  OgSubstitutionWeights weights;
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (OgWeightsEditor, og_weights_editor, GTK_TYPE_WIDGET)

enum
{
  CHANGED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static void
on_moved (OgWeightsEditor *self)
{
  if (self->filling)
    return;
  for (guint i = 0; i < OG_N_TRAITS; i++)
    self->weights.weight[i] = gtk_range_get_value (GTK_RANGE (self->scales[i]));
  g_signal_emit (self, signals[CHANGED], 0);
}

void
og_weights_editor_set (OgWeightsEditor             *self,
                       const OgSubstitutionWeights *weights)
{
  g_return_if_fail (OG_IS_WEIGHTS_EDITOR (self));

  self->weights = *weights;
  self->filling = TRUE;
  for (guint i = 0; i < OG_N_TRAITS; i++)
    gtk_range_set_value (GTK_RANGE (self->scales[i]), weights->weight[i]);
  self->filling = FALSE;
}

const OgSubstitutionWeights *
og_weights_editor_get (OgWeightsEditor *self)
{
  g_return_val_if_fail (OG_IS_WEIGHTS_EDITOR (self), NULL);

  return &self->weights;
}

static void
og_weights_editor_dispose (GObject *object)
{
  OgWeightsEditor *self = OG_WEIGHTS_EDITOR (object);

  self->filling = TRUE;
  g_clear_pointer (&self->grid, gtk_widget_unparent);

  G_OBJECT_CLASS (og_weights_editor_parent_class)->dispose (object);
}

static void
og_weights_editor_class_init (OgWeightsEditorClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_weights_editor_dispose;

  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                   NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "weightseditor");
}

static void
add_scale (OgWeightsEditor *self,
           OgTrait          trait)
{
  const char *name = og_trait_get_name (trait);
  GtkWidget *label = og_wrapping_label_new (name, NULL);
  GtkWidget *scale = gtk_scale_new_with_range (GTK_ORIENTATION_HORIZONTAL, 0.0, MOST, STEP);

  gtk_widget_set_size_request (scale, SCALE_WIDTH, -1);
  gtk_widget_set_hexpand (scale, TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 24);
  gtk_accessible_update_property (GTK_ACCESSIBLE (scale),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  -1);
  gtk_grid_attach (GTK_GRID (self->grid), label, 0, (int) trait, 1, 1);
  gtk_grid_attach (GTK_GRID (self->grid), scale, 1, (int) trait, 1, 1);
  g_signal_connect_swapped (scale, "value-changed", G_CALLBACK (on_moved), self);
  self->scales[trait] = scale;
}

static void
og_weights_editor_init (OgWeightsEditor *self)
{
  OgSubstitutionWeights weights;

  self->grid = gtk_grid_new ();
  gtk_grid_set_column_spacing (GTK_GRID (self->grid), 12);
  gtk_widget_set_parent (self->grid, GTK_WIDGET (self));
  for (guint i = 0; i < OG_N_TRAITS; i++)
    add_scale (self, (OgTrait) i);
  og_substitution_weights_init (&weights, OG_SUBSTITUTION_BALANCED);
  og_weights_editor_set (self, &weights);
}

GtkWidget *
og_weights_editor_new (void)
{
  return g_object_new (OG_TYPE_WEIGHTS_EDITOR, NULL);
}
