/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "model/document-edit.h"
#include "model/measurement-private.h"

static gboolean
add_measurement (OgDocument          *self,
                 const OgMeasurement *measurement,
                 GError             **error)
{
  OgFormula *next = _og_document_edit (self);
  g_autofree char *id = og_measurements_next_id (next->measurements);
  OgMeasurement *filed = _og_measurement_as_filed (measurement, id, error);

  if (filed == NULL)
    {
      og_formula_free (next);
      return FALSE;
    }

  g_ptr_array_add (next->measurements, filed);

  return _og_document_commit (self, next, g_strdup_printf (_("Add measurement %s"), id));
}

gboolean
og_document_add_measurement (OgDocument    *self,
                             OgMeasurement *measurement)
{
  g_autoptr (OgMeasurement) taken = measurement;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && measurement != NULL, FALSE);

  return add_measurement (self, taken, NULL);
}

gboolean
og_document_record_measurement (OgDocument     *self,
                                OgMeasurement  *measurement,
                                GError        **error)
{
  g_autoptr (OgMeasurement) taken = measurement;
  OgBenchStore *store;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && measurement != NULL, FALSE);

  store = og_document_get_bench_store (self);
  if (store == NULL || taken->material_id == NULL
      || og_formula_find_material (og_document_get_formula (self), taken->material_id, NULL))
    return add_measurement (self, taken, error);

  return og_bench_store_add (store, g_steal_pointer (&taken), error);
}

/* Returns: (nullable): a copy of the recipe to edit; @measurement is the one in it */
static OgFormula *
edit_measurement (OgDocument     *self,
                  const char     *id,
                  OgMeasurement **measurement,
                  guint          *position)
{
  OgFormula *next;

  if (og_measurements_find (og_document_get_formula (self)->measurements, id, NULL) == NULL)
    return NULL;

  next = _og_document_edit (self);
  *measurement = og_measurements_find (next->measurements, id, position);

  return next;
}

gboolean
og_document_remove_measurement (OgDocument *self,
                                const char *id)
{
  OgMeasurement *measurement;
  OgFormula *next;
  guint position;
  char *label;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && id != NULL, FALSE);

  next = edit_measurement (self, id, &measurement, &position);
  if (next == NULL)
    return FALSE;

  label = g_strdup_printf (_("Remove measurement %s"), id);
  g_ptr_array_remove_index (next->measurements, position);

  return _og_document_commit (self, next, label);
}

gboolean
og_document_set_measurement_aside (OgDocument *self,
                                   const char *id,
                                   gboolean    set_aside)
{
  OgMeasurement *measurement;
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && id != NULL, FALSE);

  next = edit_measurement (self, id, &measurement, NULL);
  if (next == NULL)
    return FALSE;

  measurement->set_aside = !!set_aside;

  return _og_document_commit (self, next,
                              g_strdup_printf (set_aside ? _("Set measurement %s aside")
                                                         : _("Use measurement %s again"), id));
}

gboolean
og_document_accept_measurement (OgDocument *self,
                                const char *id,
                                gboolean    accepted)
{
  OgMeasurement *measurement;
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && id != NULL, FALSE);

  next = edit_measurement (self, id, &measurement, NULL);
  if (next == NULL)
    return FALSE;

  measurement->accepted = !!accepted;

  return _og_document_commit (self, next,
                              g_strdup_printf (accepted ? _("Accept measurement %s")
                                                        : _("Accept measurement %s no longer"),
                                               id));
}
