/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "widgets.h"

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
