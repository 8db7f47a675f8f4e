/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/side-by-side.h"

#include <glib/gi18n-lib.h>

#include "core/recipe/versions.h"

#define KEY "og-side-by-side"

struct _OgSideBySide
{
  GObject parent_instance;

  OgDocument   *document;   /* borrowed: it owns this */
  GPtrArray    *beside;     /* of OgVersion, in the order they were laid */
  OgShelf      *shelf;      /* nullable */
  OgComparison *comparison; /* nullable: not worked out yet */
};

G_DEFINE_FINAL_TYPE (OgSideBySide, og_side_by_side, G_TYPE_OBJECT)

enum
{
  CHANGED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static const GPtrArray *
get_versions (OgSideBySide *self)
{
  return og_document_get_formula (self->document)->versions;
}

static void
outdate (OgSideBySide *self)
{
  g_clear_pointer (&self->comparison, og_comparison_free);
}

static void
tell (OgSideBySide *self)
{
  outdate (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

static gboolean
find_beside (OgSideBySide *self,
             const char   *name,
             guint        *position)
{
  return og_versions_find (self->beside, name, position) != NULL;
}

/* Returns: (nullable): what became of @old: the version of its name, else the one that was renamed */
static OgVersion *
find_heir (OgSideBySide    *self,
           const OgVersion *old)
{
  const GPtrArray *versions = get_versions (self);
  const OgVersion *same = og_versions_find (versions, old->name, NULL);

  for (guint i = 0; same == NULL && i < versions->len; i++)
    {
      const OgVersion *other = g_ptr_array_index (versions, i);

      if (!find_beside (self, other->name, NULL) && og_formula_equal (other->recipe, old->recipe))
        same = other;
    }

  return (OgVersion *) same;
}

/* What is beside follows the document's own versions, whatever was undone. */
static void
on_formula_changed (OgSideBySide *self)
{
  outdate (self);
  for (guint i = self->beside->len; i-- > 0;)
    {
      OgVersion *heir = find_heir (self, g_ptr_array_index (self->beside, i));

      if (heir == NULL)
        {
          g_ptr_array_remove_index (self->beside, i);
          continue;
        }
      og_version_unref (g_ptr_array_index (self->beside, i));
      g_ptr_array_index (self->beside, i) = og_version_ref (heir);
    }
}

gboolean
og_side_by_side_set_beside (OgSideBySide *self,
                            const char   *name,
                            gboolean      beside)
{
  const OgVersion *version;
  gboolean was;
  guint position;

  g_return_val_if_fail (OG_IS_SIDE_BY_SIDE (self) && name != NULL, FALSE);

  version = og_versions_find (get_versions (self), name, NULL);
  was = find_beside (self, name, &position);
  if (version == NULL || (beside && !was && self->beside->len >= OG_SIDE_BY_SIDE_MOST))
    return FALSE;
  if (!was == !beside)
    return TRUE;

  if (beside)
    g_ptr_array_add (self->beside, og_version_ref ((OgVersion *) version));
  else
    g_ptr_array_remove_index (self->beside, position);
  tell (self);

  return TRUE;
}

gboolean
og_side_by_side_is_beside (OgSideBySide *self,
                           const char   *name)
{
  g_return_val_if_fail (OG_IS_SIDE_BY_SIDE (self) && name != NULL, FALSE);

  return find_beside (self, name, NULL);
}

guint
og_side_by_side_get_n (OgSideBySide *self)
{
  g_return_val_if_fail (OG_IS_SIDE_BY_SIDE (self), 0);

  return self->beside->len;
}

void
og_side_by_side_set_shelf (OgSideBySide *self,
                           OgShelf      *shelf)
{
  g_return_if_fail (OG_IS_SIDE_BY_SIDE (self));

  if (shelf == self->shelf)
    return;
  g_clear_pointer (&self->shelf, og_shelf_unref);
  if (shelf != NULL)
    self->shelf = og_shelf_ref (shelf);
  tell (self);
}

const OgComparison *
og_side_by_side_get_comparison (OgSideBySide *self)
{
  g_return_val_if_fail (OG_IS_SIDE_BY_SIDE (self), NULL);

  if (self->comparison == NULL && self->beside->len > 0)
    {
      const OgComparisonOptions options = {
        .belief = og_document_get_belief (self->document),
        .shelf = self->shelf,
        .curves = TRUE,
      };
      const char *names[OG_SIDE_BY_SIDE_MOST + 1] = { NULL };

      for (guint i = 0; i < self->beside->len; i++)
        names[i] = ((const OgVersion *) g_ptr_array_index (self->beside, i))->name;
      self->comparison = og_comparison_of_versions (og_document_get_formula (self->document),
                                                    og_document_get_catalog (self->document),
                                                    _("As it stands"), names, &options);
    }

  return self->comparison;
}

static void
og_side_by_side_finalize (GObject *object)
{
  OgSideBySide *self = OG_SIDE_BY_SIDE (object);

  outdate (self);
  g_clear_pointer (&self->shelf, og_shelf_unref);
  g_ptr_array_unref (self->beside);

  G_OBJECT_CLASS (og_side_by_side_parent_class)->finalize (object);
}

static void
og_side_by_side_class_init (OgSideBySideClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = og_side_by_side_finalize;

  signals[CHANGED] = g_signal_new ("changed", OG_TYPE_SIDE_BY_SIDE, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 0);
}

static void
og_side_by_side_init (OgSideBySide *self)
{
  self->beside = g_ptr_array_new_with_free_func ((GDestroyNotify) og_version_unref);
}

OgSideBySide *
og_side_by_side_of (OgDocument *document)
{
  OgSideBySide *self;

  g_return_val_if_fail (OG_IS_DOCUMENT (document), NULL);

  self = g_object_get_data (G_OBJECT (document), KEY);
  if (self != NULL)
    return self;

  self = g_object_new (OG_TYPE_SIDE_BY_SIDE, NULL);
  self->document = document;
  g_object_set_data_full (G_OBJECT (document), KEY, self, g_object_unref);
  g_signal_connect_object (document, "formula-changed", G_CALLBACK (on_formula_changed), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (document, "result-changed", G_CALLBACK (tell), self, G_CONNECT_SWAPPED);

  return self;
}
