/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/document-edit.h"

gboolean
og_document_set_title (OgDocument *self,
                       const char *title)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && _og_is_text (title), FALSE);

  next = _og_document_edit (self);

  return _og_document_commit_text (self, next, &next->title, title,
                                   g_strdup (_("Change title")), "title");
}

gboolean
og_document_set_purpose (OgDocument *self,
                         const char *purpose)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && _og_is_text (purpose), FALSE);

  next = _og_document_edit (self);

  return _og_document_commit_text (self, next, &next->purpose, purpose,
                                   g_strdup (_("Change purpose")), "purpose");
}

gboolean
og_document_set_notes (OgDocument *self,
                       const char *notes)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && _og_is_text (notes), FALSE);

  next = _og_document_edit (self);

  return _og_document_commit_text (self, next, &next->notes, notes,
                                   g_strdup (_("Change notes")), "notes");
}

gboolean
og_document_set_batch_g (OgDocument *self,
                         double      batch_g)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  if (!(batch_g >= G_MINDOUBLE))
    return FALSE;

  next = _og_document_edit (self);
  next->batch_g = batch_g;

  return _og_document_commit_typed (self, next, g_strdup (_("Change batch size")), "batch");
}

gboolean
og_document_set_batch_is_sum (OgDocument *self,
                              gboolean    is_sum)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  next = _og_document_edit (self);
  next->batch_is_sum = !!is_sum;

  return _og_document_commit (self, next, g_strdup (is_sum ? _("Let the lines make the batch")
                                                           : _("Fix the size of the batch")));
}

gboolean
og_document_set_target (OgDocument *self,
                        double      low_mpa_s,
                        double      high_mpa_s)
{
  const gboolean none = isnan (low_mpa_s) && isnan (high_mpa_s);
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  next = _og_document_edit (self);
  next->target_low_mpa_s = low_mpa_s;
  next->target_high_mpa_s = high_mpa_s;

  return _og_document_commit (self, next,
                              g_strdup (none ? _("Remove target") : _("Change target")));
}

gboolean
og_document_set_body_bounds (OgDocument         *self,
                             const OgBodyBounds *bounds)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && bounds != NULL, FALSE);

  next = _og_document_edit (self);
  next->body_bounds = *bounds;

  return _og_document_commit (self, next, g_strdup (_("Change bounds of the body")));
}

gboolean
og_document_set_product (OgDocument *self,
                         OgProduct   product)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && product < OG_N_PRODUCTS, FALSE);

  next = _og_document_edit (self);
  next->product = product;

  return _og_document_commit (self, next, g_strdup (_("Change product")));
}

gboolean
og_document_set_package (OgDocument      *self,
                         const OgPackage *package)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && package != NULL, FALSE);

  next = _og_document_edit (self);
  next->package = *package;

  return _og_document_commit (self, next, g_strdup (_("Change container")));
}

gboolean
og_document_set_open_months (OgDocument *self,
                             guint       months)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  next = _og_document_edit (self);
  next->open_months = months;

  return _og_document_commit (self, next, g_strdup (_("Change period after opening")));
}

gboolean
og_document_set_warnings (OgDocument *self,
                          const char *warnings)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && _og_is_text (warnings), FALSE);

  next = _og_document_edit (self);

  return _og_document_commit_text (self, next, &next->warnings, warnings,
                                   g_strdup (_("Change warnings")), "warnings");
}

gboolean
og_document_set_costs (OgDocument      *self,
                       const GPtrArray *costs)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && costs != NULL, FALSE);

  next = _og_document_edit (self);
  g_ptr_array_set_size (next->costs, 0);
  for (guint i = 0; i < costs->len; i++)
    g_ptr_array_add (next->costs, og_cost_line_copy (g_ptr_array_index (costs, i)));

  return _og_document_commit (self, next, g_strdup (_("Change costs")));
}

gboolean
og_document_set_label (OgDocument        *self,
                       const char *const *shades,
                       const char *const *nano,
                       gboolean           gather_scents)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && shades != NULL && nano != NULL, FALSE);

  next = _og_document_edit (self);
  g_strfreev (next->shades);
  next->shades = g_strdupv ((char **) shades);
  g_strfreev (next->nano);
  next->nano = g_strdupv ((char **) nano);
  next->gather_scents = !!gather_scents;

  return _og_document_commit (self, next, g_strdup (_("Change label")));
}

gboolean
og_document_set_stability_plan (OgDocument  *self,
                                const GDate *start,
                                guint        months)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && (start == NULL || g_date_valid (start)), FALSE);

  next = _og_document_edit (self);
  g_date_clear (&next->stability_start, 1);
  if (start != NULL)
    next->stability_start = *start;
  next->stability_months = months;

  return _og_document_commit (self, next, g_strdup (_("Plan stability tests")));
}

gboolean
og_document_add_stability_result (OgDocument        *self,
                                  OgStabilityResult *result)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && result != NULL, FALSE);

  next = _og_document_edit (self);
  g_ptr_array_add (next->stability_results, result);

  return _og_document_commit (self, next, g_strdup (_("Add stability reading")));
}

gboolean
og_document_remove_stability_result (OgDocument *self,
                                     guint       index)
{
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  if (index >= og_document_get_formula (self)->stability_results->len)
    return FALSE;

  next = _og_document_edit (self);
  g_ptr_array_remove_index (next->stability_results, index);

  return _og_document_commit (self, next, g_strdup (_("Remove stability reading")));
}

gboolean
og_document_replace (OgDocument *self,
                     OgFormula  *formula,
                     const char *label)
{
  g_autoptr (OgFormula) now = NULL;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && formula != NULL && label != NULL, FALSE);

  now = _og_document_edit (self);
  g_ptr_array_unref (formula->versions);
  formula->versions = g_ptr_array_ref (now->versions);
  formula->next_id = MAX (formula->next_id, now->next_id);

  return _og_document_commit (self, formula, g_strdup (label));
}
