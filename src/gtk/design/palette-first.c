/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/design/palette-first.h"

#include <string.h>

#define PINNED_KEY "pinned-materials"
#define RECENT_KEY "recent-materials"
#define MOST_RECENT 8

struct _OgPaletteFirst
{
  GSettings *settings; /* nullable */
  char     **pinned;
  char     **recent;
};

/* What another window has stored counts as well. */
static void
read_settings (OgPaletteFirst *first)
{
  if (first->settings == NULL)
    return;
  g_strfreev (first->pinned);
  g_strfreev (first->recent);
  first->pinned = g_settings_get_strv (first->settings, PINNED_KEY);
  first->recent = g_settings_get_strv (first->settings, RECENT_KEY);
}

OgPaletteFirst *
og_palette_first_new (GSettings *settings)
{
  OgPaletteFirst *first = g_new0 (OgPaletteFirst, 1);

  first->settings = settings != NULL ? g_object_ref (settings) : NULL;
  first->pinned = g_new0 (char *, 1);
  first->recent = g_new0 (char *, 1);
  return first;
}

void
og_palette_first_free (OgPaletteFirst *first)
{
  g_clear_object (&first->settings);
  g_strfreev (first->pinned);
  g_strfreev (first->recent);
  g_free (first);
}

const char *const *
og_palette_first_get_pinned (OgPaletteFirst *first)
{
  read_settings (first);
  return (const char *const *) first->pinned;
}

const char *const *
og_palette_first_get_recent (OgPaletteFirst *first)
{
  read_settings (first);
  return (const char *const *) first->recent;
}

gboolean
og_palette_first_is_pinned (OgPaletteFirst *first,
                            const char     *id)
{
  return g_strv_contains (og_palette_first_get_pinned (first), id);
}

/* Returns: (transfer full): @ids without @id, at most @most of them, after @lead if there is one */
static char **
rearrange (char       **ids,
           const char  *id,
           const char  *lead,
           guint        most)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  guint n = lead != NULL;

  if (lead != NULL)
    g_strv_builder_add (builder, lead);
  for (guint i = 0; ids[i] != NULL && n < most; i++)
    if (strcmp (ids[i], id) != 0)
      {
        g_strv_builder_add (builder, ids[i]);
        n++;
      }
  return g_strv_builder_end (builder);
}

static void
store (OgPaletteFirst  *first,
       const char      *key,
       char          ***kept,
       char           **ids)
{
  g_strfreev (*kept);
  *kept = ids;
  if (first->settings != NULL)
    g_settings_set_strv (first->settings, key, (const char *const *) ids);
}

void
og_palette_first_toggle (OgPaletteFirst *first,
                         const char     *id)
{
  const gboolean pinned = og_palette_first_is_pinned (first, id);

  store (first, PINNED_KEY, &first->pinned,
         rearrange (first->pinned, id, pinned ? NULL : id, G_MAXUINT));
}

void
og_palette_first_note_use (OgPaletteFirst *first,
                           const char     *id)
{
  read_settings (first);
  store (first, RECENT_KEY, &first->recent, rearrange (first->recent, id, id, MOST_RECENT));
}
