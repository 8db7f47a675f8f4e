/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/parts/chart-reading.h"

#include <math.h>

#define POINTER "og-pointer"

typedef struct
{
  double x, y; /* of the pointer when it last moved; NAN before */
  const OgChartReader *reader;
} Pointer;

void
og_chart_reading_init_class (GtkWidgetClass  *class,
                             GtkShortcutFunc  move,
                             GtkShortcutFunc  end)
{
  static const struct
  {
    guint key;
    guint keypad_key;
    GdkModifierType modifiers;
    int step;
  } moves[] = {
    { GDK_KEY_Left, GDK_KEY_KP_Left, 0, -1 },
    { GDK_KEY_Right, GDK_KEY_KP_Right, 0, 1 },
    { GDK_KEY_Left, GDK_KEY_KP_Left, GDK_CONTROL_MASK, -OG_CHART_LARGE_STEP },
    { GDK_KEY_Right, GDK_KEY_KP_Right, GDK_CONTROL_MASK, OG_CHART_LARGE_STEP },
    { GDK_KEY_Home, GDK_KEY_KP_Home, 0, G_MININT32 },
    { GDK_KEY_End, GDK_KEY_KP_End, 0, G_MAXINT32 },
  };

  gtk_widget_class_set_accessible_role (class, GTK_ACCESSIBLE_ROLE_IMG);
  gtk_widget_class_set_css_name (class, "chartview");
  for (guint i = 0; i < G_N_ELEMENTS (moves); i++)
    {
      gtk_widget_class_add_binding (class, moves[i].key, moves[i].modifiers, move, "i",
                                    moves[i].step);
      gtk_widget_class_add_binding (class, moves[i].keypad_key, moves[i].modifiers, move, "i",
                                    moves[i].step);
    }
  gtk_widget_class_add_binding (class, GDK_KEY_Escape, 0, end, NULL);
}

static Pointer *
get_pointer (GtkWidget *chart)
{
  return g_object_get_data (G_OBJECT (chart), POINTER);
}

/* GTK also tells of a pointer that rests, whenever something is laid out. */
static void
on_motion (GtkWidget *chart,
           double     x,
           double     y)
{
  Pointer *pointer = get_pointer (chart);

  if (x == pointer->x && y == pointer->y)
    return;
  pointer->x = x;
  pointer->y = y;
  pointer->reader->point_at (chart, x, y);
}

static void
on_leave (GtkWidget *chart)
{
  get_pointer (chart)->reader->point_away (chart);
}

static void
on_focus_leave (GtkWidget *chart)
{
  get_pointer (chart)->reader->focus_leave (chart);
}

void
og_chart_reading_init (GtkWidget           *chart,
                       const OgChartReader *reader)
{
  Pointer *pointer = g_new (Pointer, 1);
  GtkEventController *controller;
  GtkGesture *click;

  *pointer = (Pointer) { NAN, NAN, reader };
  g_object_set_data_full (G_OBJECT (chart), POINTER, pointer, g_free);
  gtk_widget_set_focusable (chart, TRUE);

  controller = gtk_event_controller_motion_new ();
  g_signal_connect_swapped (controller, "motion", G_CALLBACK (on_motion), chart);
  g_signal_connect_swapped (controller, "leave", G_CALLBACK (on_leave), chart);
  gtk_widget_add_controller (chart, controller);

  controller = gtk_event_controller_focus_new ();
  g_signal_connect_swapped (controller, "leave", G_CALLBACK (on_focus_leave), chart);
  gtk_widget_add_controller (chart, controller);

  click = gtk_gesture_click_new ();
  g_signal_connect_swapped (click, "pressed", G_CALLBACK (gtk_widget_grab_focus), chart);
  gtk_widget_add_controller (chart, GTK_EVENT_CONTROLLER (click));
}
