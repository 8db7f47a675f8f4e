/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/measurement-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/error.h"

static gboolean
is_text (const char *text)
{
  return text == NULL || g_utf8_validate (text, -1, NULL);
}

static gboolean
is_measured (const OgMeasurement  *measurement,
             GError              **error)
{
  if (measurement->material_id != NULL || measurement->lines->len > 0)
    return TRUE;

  g_set_error_literal (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_VALUE,
                       _("The recipe has no lines that could have been measured."));

  return FALSE;
}

OgMeasurement *
_og_measurement_as_filed (const OgMeasurement  *measurement,
                          const char           *id,
                          GError              **error)
{
  g_autoptr (OgMeasurement) named = NULL;
  g_autoptr (JsonObject) object = NULL;
  OgReduced reduced;

  g_return_val_if_fail (is_text (measurement->material_id) && is_text (measurement->date), NULL);
  g_return_val_if_fail (is_text (measurement->lot) && is_text (measurement->note), NULL);
  g_return_val_if_fail (!isinf (measurement->reading.density_g_ml), NULL);

  if (!is_measured (measurement, error)
      || !og_reading_reduce (&measurement->reading, measurement->reduced.density_g_ml, &reduced,
                             error))
    return NULL;

  named = og_measurement_copy (measurement);
  g_free (named->id);
  named->id = g_strdup (id);
  named->reduced = reduced;
  object = og_measurement_to_json (named);

  return og_measurement_from_json (object, error);
}
