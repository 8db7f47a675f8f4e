/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "widgets.h"

#include <string.h>

void
settle (void)
{
  const gint64 end = g_get_monotonic_time () + 60 * G_TIME_SPAN_MILLISECOND;

  do
    {
      while (g_main_context_iteration (NULL, FALSE))
        ;
      g_usleep (1000);
    }
  while (g_get_monotonic_time () < end);
}

/* The widget number @n, from 0, of a type below @root, depth first. */
static GtkWidget *
find_nth (GtkWidget *root,
          GType      type,
          guint     *n)
{
  if (g_type_is_a (G_OBJECT_TYPE (root), type) && (*n)-- == 0)
    return root;
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_nth (child, type, n);

      if (found != NULL)
        return found;
    }
  return NULL;
}

GtkWidget *
find (GtkWidget *root,
      GType      type,
      guint      n)
{
  GtkWidget *found = find_nth (root, type, &n);

  g_assert_nonnull (found);
  return found;
}

static void
gather_visible (GtkWidget *root,
                GString   *text)
{
  if (GTK_IS_LABEL (root))
    g_string_append_printf (text, "%s\n", gtk_label_get_label (GTK_LABEL (root)));
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      if (gtk_widget_get_visible (child) && gtk_widget_get_child_visible (child))
        gather_visible (child, text);
    }
}

char *
visible_text (GtkWidget *root)
{
  GString *text = g_string_new (NULL);

  gather_visible (root, text);
  return g_string_free (text, FALSE);
}

void
assert_says (GtkWidget  *root,
             const char *words)
{
  g_autofree char *text = visible_text (root);

  if (strstr (text, words) == NULL)
    g_error ("“%s” is missing in:\n%s", words, text);
}

void
assert_silent (GtkWidget  *root,
               const char *words)
{
  g_autofree char *text = visible_text (root);

  if (strstr (text, words) != NULL)
    g_error ("“%s” should not be in:\n%s", words, text);
}

int
least_width (GtkWidget *widget)
{
  int least;

  gtk_widget_measure (widget, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  return least;
}
