/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/library.h"

#include <string.h>

#include "model/data-dir.h"

char *
og_own_rules_dir (void)
{
  return g_build_filename (g_get_user_data_dir (), "oleograph", "rules", NULL);
}

static int
compare_names (gconstpointer a,
               gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* Returns: (element-type filename): the rules files of @folder in order; none if there is no
 * folder */
static GPtrArray *
list_files (const char *folder)
{
  GPtrArray *paths = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, ".json"))
      g_ptr_array_add (paths, g_build_filename (folder, name, NULL));
  g_ptr_array_sort (paths, compare_names);
  return paths;
}

/* Returns: (transfer full): @library with the own rules on top, itself if there are none; %NULL
 * with an error */
static OgCatalog *
add_own_rules (OgCatalog  *library,
               GError    **error)
{
  g_autofree char *folder = og_own_rules_dir ();
  g_autoptr (GPtrArray) paths = list_files (folder);
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func ((GDestroyNotify) og_rules_unref);
  g_autoptr (OgRules) own = NULL;

  if (paths->len == 0)
    return og_catalog_ref (library);
  for (guint i = 0; i < paths->len; i++)
    {
      OgRules *part = og_rules_load (g_ptr_array_index (paths, i), TRUE, error);

      if (part == NULL)
        return NULL;
      g_ptr_array_add (parts, part);
    }
  own = og_rules_new_joined (parts, error);
  return own != NULL ? og_catalog_new_with_rules (library, own, error) : NULL;
}

OgCatalog *
og_library_load (GError **own_fault,
                 GError **error)
{
  g_autofree char *folder = og_data_dir ();
  g_autoptr (OgCatalog) library = og_catalog_load (folder, error);
  OgCatalog *whole;

  if (library == NULL)
    return NULL;
  whole = add_own_rules (library, own_fault);
  return whole != NULL ? whole : g_steal_pointer (&library);
}
