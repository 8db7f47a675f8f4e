/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "cli/call.h"
#include "cli/tags.h"

#define MOST_EDITS 2     /* letters added, dropped or changed: slips of the pen */
#define LEAST_BEGINNING 3 /* letters in common that make a word near */

static void
collect (GPtrArray          *tags,
         const OgIngredient *ingredient)
{
  for (guint i = 0; ingredient->tags != NULL && ingredient->tags[i] != NULL; i++)
    if (!g_ptr_array_find_with_equal_func (tags, ingredient->tags[i], g_str_equal, NULL))
      g_ptr_array_add (tags, ingredient->tags[i]);
}

static int
compare_tags (gconstpointer a,
              gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* Returns: (transfer container): all tags in use, by name, NULL-terminated */
static GPtrArray *
all_tags (const OgCatalog *catalog)
{
  GPtrArray *tags = g_ptr_array_new ();

  for (guint i = 0; i < og_catalog_get_n_items (catalog); i++)
    collect (tags, og_catalog_get_item (catalog, i));
  g_ptr_array_sort (tags, compare_tags);
  g_ptr_array_add (tags, NULL);

  return tags;
}

/* Letters to add, drop or change (Levenshtein). */
static gsize
count_edits (const char *a,
             const char *b)
{
  const gsize n = strlen (b);
  g_autofree gsize *row = g_new (gsize, n + 1);

  for (gsize j = 0; j <= n; j++)
    row[j] = j;
  for (gsize i = 0; a[i] != '\0'; i++)
    {
      gsize diagonal = row[0];

      row[0] = i + 1;
      for (gsize j = 0; j < n; j++)
        {
          const gsize changed = diagonal + (a[i] == b[j] ? 0 : 1);

          diagonal = row[j + 1];
          row[j + 1] = MIN (changed, MIN (row[j], row[j + 1]) + 1);
        }
    }

  return row[n];
}

static gboolean
is_near (const char *typed,
         const char *tag)
{
  return count_edits (typed, tag) <= MIN (MOST_EDITS, strlen (tag) / 2)
         || strstr (tag, typed) != NULL || strstr (typed, tag) != NULL
         || (strlen (typed) >= LEAST_BEGINNING && strncmp (typed, tag, LEAST_BEGINNING) == 0);
}

static gboolean
refuse (const GPtrArray  *tags,
        const char       *option,
        const char       *typed,
        GError          **error)
{
  g_autoptr (GPtrArray) near = g_ptr_array_new ();
  g_autofree char *list = NULL;

  for (guint i = 0; i + 1 < tags->len; i++)
    if (is_near (typed, g_ptr_array_index (tags, i)))
      g_ptr_array_add (near, g_ptr_array_index (tags, i));
  g_ptr_array_add (near, NULL);
  if (near->len > 1)
    {
      list = g_strjoinv (", ", (char **) near->pdata);
      /* Translators: an option, what was typed, tags like it */
      return og_call_refuse (error, _("%s: no material is tagged “%s”; like it are: %s"), option, typed, list);
    }
  list = g_strjoinv (", ", (char **) tags->pdata);

  return og_call_refuse (error, _("%s: no material is tagged “%s”; the tags are: %s"), option, typed, list);
}

gboolean
og_tags_check (const OgCatalog  *catalog,
               const char       *option,
               char            **tags,
               GError          **error)
{
  g_autoptr (GPtrArray) known = all_tags (catalog);

  for (guint i = 0; tags != NULL && tags[i] != NULL; i++)
    if (!g_strv_contains ((const char *const *) known->pdata, tags[i]))
      return refuse (known, option, tags[i], error);

  return TRUE;
}
