/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "core/base/json-guard.h"
#include "core/recipe/recipe-limits.h"
#include "core/recipe/storage.h"
#include "core/recipe/versions.h"
#include "model/document-edit.h"

/* Most bytes of a recipe with a new version: half of what a file may hold, so that both can still grow. */
#define MOST_BYTES (OG_JSON_MAX_BYTES / 2)

static gboolean
fits_file (const OgFormula *formula)
{
  g_autoptr (GBytes) bytes = og_storage_serialise (formula);

  return g_bytes_get_size (bytes) <= MOST_BYTES;
}

static char *
label_with_name (const char *format,
                 const char *name)
{
  g_autoptr (GString) label = g_string_new (format);

  g_string_replace (label, "%s", name, 1);
  return g_string_free (g_steal_pointer (&label), FALSE);
}

gboolean
og_document_keep_version (OgDocument  *self,
                          const char  *name,
                          const char  *note,
                          const GDate *date)
{
  g_autoptr (OgFormula) next = NULL;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && _og_is_text (name) && _og_is_text (note), FALSE);
  g_return_val_if_fail (date != NULL && g_date_valid (date), FALSE);

  next = _og_document_edit (self);
  if (!og_versions_is_name (name) || og_versions_find (next->versions, name, NULL) != NULL)
    return FALSE;
  g_ptr_array_add (next->versions, og_version_new (name, note, date, _og_document_edit (self)));
  if (!fits_file (next))
    return FALSE;

  /* Translators: %s is the name of a version */
  return _og_document_commit (self, g_steal_pointer (&next), label_with_name (_("Keep version “%s”"), name));
}

gboolean
og_document_go_back (OgDocument *self,
                     const char *name)
{
  const OgFormula *now;
  const OgVersion *version;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && name != NULL, FALSE);

  now = og_document_get_formula (self);
  version = og_versions_find (now->versions, name, NULL);
  if (version == NULL)
    return FALSE;

  /* Translators: %s is the name of a version */
  return _og_document_commit (self, og_version_restore (version, now),
                              label_with_name (_("Go back to “%s”"), name));
}

gboolean
og_document_set_version_name (OgDocument *self,
                              const char *name,
                              const char *new_name,
                              const char *note)
{
  g_autoptr (OgFormula) next = NULL;
  const OgVersion *version, *same;
  guint position;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && name != NULL, FALSE);
  g_return_val_if_fail (_og_is_text (new_name) && _og_is_text (note), FALSE);

  next = _og_document_edit (self);
  version = og_versions_find (next->versions, name, &position);
  same = og_versions_find (next->versions, new_name, NULL);
  if (version == NULL || (same != NULL && same != version))
    return FALSE;

  g_ptr_array_insert (next->versions, (int) position,
                      og_version_new (new_name, note, &version->date, og_formula_copy (version->recipe)));
  g_ptr_array_remove_index (next->versions, position + 1);

  /* Translators: %s is the name of a version */
  return _og_document_commit (self, g_steal_pointer (&next), label_with_name (_("Rename version “%s”"), name));
}

gboolean
og_document_remove_version (OgDocument *self,
                            const char *name)
{
  g_autoptr (OgFormula) next = NULL;
  g_autofree char *label = NULL;
  guint position;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && name != NULL, FALSE);

  next = _og_document_edit (self);
  if (og_versions_find (next->versions, name, &position) == NULL)
    return FALSE;

  /* Translators: %s is the name of a version */
  label = label_with_name (_("Remove version “%s”"), name);
  g_ptr_array_remove_index (next->versions, position);

  return _og_document_commit (self, g_steal_pointer (&next), g_steal_pointer (&label));
}

char *
og_document_propose_version_name (OgDocument *self)
{
  const OgFormula *now;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), NULL);

  now = og_document_get_formula (self);
  for (guint n = now->versions->len + 1;; n++)
    {
      /* Translators: name proposed for a version of a recipe; %u counts them */
      g_autofree char *name = g_strdup_printf (_("Version %u"), n);

      if (og_versions_find (now->versions, name, NULL) == NULL)
        return g_steal_pointer (&name);
    }
}
