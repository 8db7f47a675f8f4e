/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <string.h>

#include "gtk/parts/recent.h"

#define SUFFIX ".oleograph"
#define MIME_TYPE "application/vnd.oleograph+json"

static void
recent_free (gpointer data)
{
  OgRecent *recent = data;

  g_free (recent->uri);
  g_free (recent->name);
  g_free (recent->folder);
  g_free (recent);
}

static int
compare_newest (gconstpointer a,
                gconstpointer b)
{
  GtkRecentInfo *const *one = a;
  GtkRecentInfo *const *other = b;

  return g_date_time_compare (gtk_recent_info_get_visited (*other),
                              gtk_recent_info_get_visited (*one));
}

static char *
get_display_folder (GFile *file)
{
  g_autoptr (GFile) folder = g_file_get_parent (file);
  g_autofree char *path = folder != NULL ? g_file_get_parse_name (folder) : NULL;

  return path != NULL ? g_filename_display_name (path) : g_strdup ("");
}

static OgRecent *
recent_new (GtkRecentInfo *info)
{
  g_autoptr (GFile) file = g_file_new_for_uri (gtk_recent_info_get_uri (info));
  OgRecent *recent = g_new0 (OgRecent, 1);

  recent->uri = g_strdup (gtk_recent_info_get_uri (info));
  recent->name = g_strdup (gtk_recent_info_get_display_name (info));
  if (g_str_has_suffix (recent->name, SUFFIX))
    recent->name[strlen (recent->name) - strlen (SUFFIX)] = '\0';
  recent->folder = get_display_folder (file);
  return recent;
}

GPtrArray *
og_recent_list (guint most)
{
  GList *items = gtk_recent_manager_get_items (gtk_recent_manager_get_default ());
  g_autoptr (GPtrArray) ours =
    g_ptr_array_new_with_free_func ((GDestroyNotify) gtk_recent_info_unref);
  GPtrArray *list = g_ptr_array_new_with_free_func (recent_free);

  for (GList *l = items; l != NULL; l = l->next)
    {
      GtkRecentInfo *info = l->data;

      if (g_str_has_suffix (gtk_recent_info_get_uri (info), SUFFIX)
          && gtk_recent_info_exists (info))
        g_ptr_array_add (ours, info);
      else
        gtk_recent_info_unref (info);
    }
  g_list_free (items);
  g_ptr_array_sort (ours, compare_newest);
  for (guint i = 0; i < ours->len && i < most; i++)
    g_ptr_array_add (list, recent_new (g_ptr_array_index (ours, i)));
  return list;
}

void
og_recent_add (GFile *file)
{
  g_autofree char *uri = g_file_get_uri (file);
  GtkRecentData data = {
    .mime_type = (char *) MIME_TYPE,
    .app_name = (char *) "Oleograph",
    .app_exec = (char *) "oleograph %u",
  };

  gtk_recent_manager_add_full (gtk_recent_manager_get_default (), uri, &data);
}

void
og_recent_fill (GMenu *menu,
                guint  most)
{
  g_autoptr (GPtrArray) recent = og_recent_list (most);

  g_menu_remove_all (menu);
  for (guint i = 0; i < recent->len; i++)
    {
      const OgRecent *r = g_ptr_array_index (recent, i);
      g_autoptr (GMenuItem) item = g_menu_item_new (NULL, NULL);
      g_auto (GStrv) parts = g_strsplit (r->name, "_", -1);
      g_autofree char *label = g_strjoinv ("__", parts); /* an underscore marks a mnemonic */

      g_menu_item_set_label (item, label);
      g_menu_item_set_action_and_target (item, "win.open-recent", "s", r->uri);
      g_menu_append_item (menu, item);
    }
}
