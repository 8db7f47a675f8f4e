/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "gtk/design/effects-view.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/plain-list.h"

#define CELL_CHARS 8

struct _OgEffectsView
{
  GtkWidget parent_instance;

  GtkWidget *box;
  GtkWidget *list;
  GtkWidget *all_button;
  GPtrArray *quiet_rows; /* of GtkWidget: what stays as it is */
  guint n_changed;
};

G_DEFINE_FINAL_TYPE (OgEffectsView, og_effects_view, GTK_TYPE_WIDGET)

static const char *
sense_text (const OgEffect *effect)
{
  if (!effect->changed || effect->sense == OG_SENSE_NEUTRAL)
    return NULL;
  return effect->sense == OG_SENSE_BETTER ? _("better") : _("worse");
}

static GtkWidget *
make_cell (const char *text,
           const char *css_class)
{
  GtkWidget *label = og_wrapping_label_new (text, css_class);

  gtk_label_set_width_chars (GTK_LABEL (label), CELL_CHARS);
  gtk_widget_set_valign (label, GTK_ALIGN_START);
  return label;
}

/* Three columns of one width, in the head and in every row. */
static GtkWidget *
make_line (void)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);

  gtk_box_set_homogeneous (GTK_BOX (line), TRUE);
  return line;
}

/* A mark tells better from worse by its form and its word. */
static GtkWidget *
make_mark (const OgEffect *effect)
{
  const char *text = sense_text (effect);
  const gboolean better = effect->sense == OG_SENSE_BETTER;
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 3);

  gtk_box_append (GTK_BOX (box),
                  gtk_image_new_from_icon_name (better ? "go-up-symbolic" : "go-down-symbolic"));
  gtk_box_append (GTK_BOX (box), gtk_label_new (text));
  gtk_widget_add_css_class (box, better ? "sense-better" : "sense-worse");
  return box;
}

static GtkWidget *
make_then (const OgEffect *effect,
           const char     *after)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  gtk_box_append (GTK_BOX (box), make_cell (after, "tile-value"));
  if (sense_text (effect) != NULL)
    gtk_box_append (GTK_BOX (box), make_mark (effect));
  gtk_widget_set_valign (box, GTK_ALIGN_START);
  return box;
}

static char *
spoken_text (const OgEffect *effect,
             const char     *before,
             const char     *after)
{
  g_autofree char *change =
    /* Translators: a property, what it was, what it becomes */
    g_strdup_printf (_("%s: now %s, then %s"), og_saying_text (effect->label), before, after);
  const char *sense = sense_text (effect);

  if (!effect->changed)
    /* Translators: a property and its value */
    return g_strdup_printf (_("%s: %s, stays"), og_saying_text (effect->label), before);
  return sense != NULL ? g_strdup_printf ("%s, %s", change, sense) : g_steal_pointer (&change);
}

static const char *
or_dash (const OgSaying *saying)
{
  return saying != NULL ? og_saying_text (saying) : "–";
}

/* That the body stays is news as well. */
static gboolean
is_telling (const OgEffect *effect)
{
  return effect->changed || effect->kind == OG_EFFECT_BODY || effect->kind == OG_EFFECT_POURED;
}

static void
append_effect (OgEffectsView  *self,
               const OgEffect *effect)
{
  GtkWidget *line = make_line ();
  GtkWidget *row;
  const char *before = or_dash (effect->before);
  const char *after = or_dash (effect->after);
  g_autofree char *spoken = spoken_text (effect, before, after);

  gtk_box_append (GTK_BOX (line), make_cell (og_saying_text (effect->label), NULL));
  gtk_box_append (GTK_BOX (line), make_cell (before, "numeric"));
  gtk_box_append (GTK_BOX (line), make_then (effect, after));
  row = og_plain_list_add (OG_PLAIN_LIST (self->list), line, spoken);
  if (!effect->changed)
    gtk_widget_add_css_class (row, "dim-label");
  if (!is_telling (effect))
    g_ptr_array_add (self->quiet_rows, row);
}

static void
show_quiet_rows (OgEffectsView *self)
{
  const gboolean all = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->all_button));

  for (guint i = 0; i < self->quiet_rows->len; i++)
    gtk_widget_set_visible (g_ptr_array_index (self->quiet_rows, i), all);
}

void
og_effects_view_set (OgEffectsView   *self,
                     const GPtrArray *effects)
{
  g_return_if_fail (OG_IS_EFFECTS_VIEW (self));

  g_ptr_array_set_size (self->quiet_rows, 0);
  og_plain_list_clear (OG_PLAIN_LIST (self->list));
  self->n_changed = 0;
  for (guint i = 0; effects != NULL && i < effects->len; i++)
    {
      const OgEffect *effect = g_ptr_array_index (effects, i);

      append_effect (self, effect);
      self->n_changed += effect->changed ? 1 : 0;
    }
  show_quiet_rows (self);
}

guint
og_effects_view_get_n_changed (OgEffectsView *self)
{
  g_return_val_if_fail (OG_IS_EFFECTS_VIEW (self), 0);

  return self->n_changed;
}

static void
og_effects_view_dispose (GObject *object)
{
  OgEffectsView *self = OG_EFFECTS_VIEW (object);

  g_clear_pointer (&self->quiet_rows, g_ptr_array_unref);
  g_clear_pointer (&self->box, gtk_widget_unparent);

  G_OBJECT_CLASS (og_effects_view_parent_class)->dispose (object);
}

static void
og_effects_view_class_init (OgEffectsViewClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_effects_view_dispose;

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "effectsview");
}

static GtkWidget *
make_head (void)
{
  GtkWidget *head = make_line ();

  gtk_widget_add_css_class (head, "effects-head");
  gtk_box_append (GTK_BOX (head), make_cell (NULL, NULL));
  gtk_box_append (GTK_BOX (head), make_cell (C_("column", "Now"), "heading"));
  gtk_box_append (GTK_BOX (head), make_cell (C_("column", "Then"), "heading"));
  return head;
}

static void
og_effects_view_init (OgEffectsView *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  self->list = og_plain_list_new (_("What changes"));
  self->quiet_rows = g_ptr_array_new ();
  self->all_button = gtk_check_button_new_with_label (_("Also show what stays as it is"));
  gtk_widget_set_margin_start (self->all_button, 12);
  gtk_widget_set_margin_end (self->all_button, 12);
  gtk_widget_set_margin_top (self->all_button, 6);
  gtk_widget_add_css_class (self->list, "effects");
  g_signal_connect_swapped (self->all_button, "toggled", G_CALLBACK (show_quiet_rows), self);
  gtk_box_append (GTK_BOX (self->box), make_head ());
  gtk_box_append (GTK_BOX (self->box), self->list);
  gtk_box_append (GTK_BOX (self->box), self->all_button);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
og_effects_view_new (void)
{
  return g_object_new (OG_TYPE_EFFECTS_VIEW, NULL);
}
