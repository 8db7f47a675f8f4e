/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/app/empty-state.h"
#include "gtk/parts/pieces.h"
#include "gtk/parts/recent.h"

struct _OgEmptyState
{
  GtkWidget parent_instance;

  GtkWidget *scroller;
  GtkWidget *start_button;
  GtkWidget *recent_box;
  GtkWidget *recent_list;
};

G_DEFINE_FINAL_TYPE (OgEmptyState, og_empty_state, GTK_TYPE_WIDGET)

static GtkWidget *
make_recent_button (const OgRecent *recent)
{
  GtkWidget *button = gtk_button_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *name = gtk_label_new (recent->name);
  GtkWidget *place = gtk_label_new (recent->folder);

  gtk_label_set_xalign (GTK_LABEL (name), 0.0f);
  gtk_label_set_xalign (GTK_LABEL (place), 0.0f);
  gtk_label_set_ellipsize (GTK_LABEL (name), PANGO_ELLIPSIZE_MIDDLE);
  gtk_label_set_ellipsize (GTK_LABEL (place), PANGO_ELLIPSIZE_MIDDLE);
  gtk_widget_add_css_class (place, "dim-label");
  gtk_widget_add_css_class (place, "caption");
  gtk_box_append (GTK_BOX (box), name);
  gtk_box_append (GTK_BOX (box), place);
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_widget_add_css_class (button, "flat");
  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "s", recent->uri);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "win.open-recent");
  gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, recent->name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, recent->folder,
                                  -1);
  return button;
}

static void
refresh_recent (OgEmptyState *self)
{
  g_autoptr (GPtrArray) recent = og_recent_list (5);

  og_box_clear (self->recent_list);
  for (guint i = 0; i < recent->len; i++)
    gtk_box_append (GTK_BOX (self->recent_list),
                    make_recent_button (g_ptr_array_index (recent, i)));
  gtk_widget_set_visible (self->recent_box, recent->len > 0);
}

/* Asked also when the focus leaves backwards; then it is to go on. */
static gboolean
og_empty_state_grab_focus (GtkWidget *widget)
{
  return gtk_widget_get_focus_child (widget) == NULL
         && gtk_widget_grab_focus (OG_EMPTY_STATE (widget)->start_button);
}

static void
og_empty_state_map (GtkWidget *widget)
{
  refresh_recent (OG_EMPTY_STATE (widget));
  GTK_WIDGET_CLASS (og_empty_state_parent_class)->map (widget);
}

static void
og_empty_state_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), OG_TYPE_EMPTY_STATE);

  G_OBJECT_CLASS (og_empty_state_parent_class)->dispose (object);
}

static void
og_empty_state_class_init (OgEmptyStateClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_empty_state_dispose;
  widget_class->grab_focus = og_empty_state_grab_focus;
  widget_class->map = og_empty_state_map;

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/empty-state.ui");
  gtk_widget_class_bind_template_child (widget_class, OgEmptyState, scroller);
  gtk_widget_class_bind_template_child (widget_class, OgEmptyState, start_button);
  gtk_widget_class_bind_template_child (widget_class, OgEmptyState, recent_box);
  gtk_widget_class_bind_template_child (widget_class, OgEmptyState, recent_list);
}

static void
og_empty_state_init (OgEmptyState *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
og_empty_state_new (void)
{
  return g_object_new (OG_TYPE_EMPTY_STATE, NULL);
}
