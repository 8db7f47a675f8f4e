/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <string.h>

#include "gtk/parts/text-undo.h"

#define START_KEY "og-start-text"    /* what a text said when it got the focus, or what the program showed since */
#define UNDONE_KEY "og-undone-steps" /* how many steps of typing were taken back and can be made again */
#define WATCHED_KEY "og-undo-watched"

static guint
get_undone (GtkEditable *text)
{
  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (text), UNDONE_KEY));
}

static void
set_undone (GtkEditable *text,
            guint        steps)
{
  g_object_set_data (G_OBJECT (text), UNDONE_KEY, GUINT_TO_POINTER (steps));
}

/* GTK has no other way to empty the history of a text. */
static void
start_anew (GtkEditable *text)
{
  gtk_editable_set_enable_undo (text, FALSE);
  gtk_editable_set_enable_undo (text, TRUE);
  g_object_set_data_full (G_OBJECT (text), START_KEY, g_strdup (gtk_editable_get_text (text)), g_free);
  set_undone (text, 0);
}

void
og_editable_show (GtkEditable *editable,
                  const char  *text)
{
  GtkEditable *inner;

  g_return_if_fail (GTK_IS_EDITABLE (editable) && text != NULL);

  inner = gtk_editable_get_delegate (editable);
  if (strcmp (gtk_editable_get_text (editable), text) != 0)
    gtk_editable_set_text (editable, text);
  start_anew (inner != NULL ? inner : editable);
}

/* --- the keys ---------------------------------------------------------------- */

static gboolean
is_typed (GtkEditable *text)
{
  return g_strcmp0 (gtk_editable_get_text (text), g_object_get_data (G_OBJECT (text), START_KEY)) != 0;
}

/* Returns: whether the text was another one before or after the step */
static gboolean
step_text (GtkEditable *text,
           const char  *action,
           int          step)
{
  g_autofree char *before = g_strdup (gtk_editable_get_text (text));
  const guint undone = get_undone (text);

  gtk_widget_activate_action (GTK_WIDGET (text), action, NULL);
  if (strcmp (gtk_editable_get_text (text), before) == 0)
    return FALSE;
  set_undone (text, (guint) ((int) undone + step));
  return TRUE;
}

static void
undo_in_text (GtkWidget *focus)
{
  GtkEditable *text = GTK_EDITABLE (focus);

  if (!is_typed (text) || !step_text (text, "text.undo", 1))
    gtk_widget_activate_action (focus, "win.undo", NULL);
}

static void
redo_in_text (GtkWidget *focus)
{
  GtkEditable *text = GTK_EDITABLE (focus);

  if (get_undone (text) == 0 || !step_text (text, "text.redo", -1))
    gtk_widget_activate_action (focus, "win.redo", NULL);
}

/* Several lines of text either have a history of their own, or the document has it. */
static gboolean
step_lines (GtkTextView *view,
            const char  *action)
{
  if (gtk_text_buffer_get_enable_undo (gtk_text_view_get_buffer (view)))
    return GDK_EVENT_PROPAGATE;
  gtk_widget_activate_action (GTK_WIDGET (view), action, NULL);
  return GDK_EVENT_STOP;
}

static gboolean
deal_out (GtkWindow *window,
          gboolean   redo)
{
  GtkWidget *focus = gtk_window_get_focus (window);

  if (GTK_IS_TEXT_VIEW (focus))
    return step_lines (GTK_TEXT_VIEW (focus), redo ? "win.redo" : "win.undo");
  if (!GTK_IS_TEXT (focus))
    return GDK_EVENT_PROPAGATE;
  if (redo)
    redo_in_text (focus);
  else
    undo_in_text (focus);
  return GDK_EVENT_STOP;
}

static gboolean
on_key_pressed (GtkWindow       *window,
                guint            keyval,
                guint            keycode,
                GdkModifierType  state)
{
  const gboolean shift = (state & GDK_SHIFT_MASK) != 0;

  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != GDK_CONTROL_MASK)
    return GDK_EVENT_PROPAGATE;
  switch (gdk_keyval_to_lower (keyval))
    {
    case GDK_KEY_z:
      return deal_out (window, shift);
    case GDK_KEY_y:
      return shift ? GDK_EVENT_PROPAGATE : deal_out (window, TRUE);
    default:
      return GDK_EVENT_PROPAGATE;
    }
}

/* --- the windows ------------------------------------------------------------- */

static void
on_typed (GtkEditable *text)
{
  set_undone (text, 0);
}

/* Returns: whether the window or text is a new one */
static gboolean
take_on (GObject *object)
{
  if (g_object_get_data (object, WATCHED_KEY) != NULL)
    return FALSE;
  g_object_set_data (object, WATCHED_KEY, object);
  return TRUE;
}

static void
on_focus (GtkWindow *window)
{
  GtkWidget *focus = gtk_window_get_focus (window);

  if (!GTK_IS_TEXT (focus))
    return;
  if (take_on (G_OBJECT (focus)))
    g_signal_connect (focus, "changed", G_CALLBACK (on_typed), NULL);
  start_anew (GTK_EDITABLE (focus));
}

static void
watch_window (GtkWindow *window)
{
  GtkEventController *keys;

  if (!take_on (G_OBJECT (window)))
    return;
  keys = gtk_event_controller_key_new ();
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_key_pressed), window);
  gtk_widget_add_controller (GTK_WIDGET (window), keys);
  g_signal_connect (window, "notify::focus-widget", G_CALLBACK (on_focus), NULL);
}

static void
on_windows_changed (GListModel *windows,
                    guint       position,
                    guint       removed,
                    guint       added)
{
  for (guint i = position; i < position + added; i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (windows, i);

      watch_window (window);
    }
}

void
og_text_undo_watch (void)
{
  GListModel *windows = gtk_window_get_toplevels ();

  g_signal_connect (windows, "items-changed", G_CALLBACK (on_windows_changed), NULL);
  on_windows_changed (windows, 0, 0, g_list_model_get_n_items (windows));
}
