/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/line-model.h"

struct _OgLineModel
{
  const OgParameters *parameters;
  OgBelief  *belief;   /* nullable */
  GPtrArray *lines;    /* of OgFormulaLine, of the formula */
  GPtrArray *contents; /* of OgContent, of all lines together */
  double    *unit;     /* lines x contents: what a gram of the line holds */
};

static void
collect (OgFormulaPhase *phase,
         OgFormulaLine  *line,
         gpointer        user_data)
{
  g_ptr_array_add (user_data, line);
}

static guint
find_content (const GPtrArray *contents,
              const char      *id)
{
  guint i = 0;

  while (!g_str_equal (((OgContent *) g_ptr_array_index (contents, i))->ingredient_id, id))
    i++;
  return i;
}

static void
take_line_apart (OgLineModel     *model,
                 const OgCatalog *catalog,
                 guint            index)
{
  const OgFormulaLine *line = g_ptr_array_index (model->lines, index);
  OgPart part = { line->ingredient_id, 100.0 };
  g_autoptr (GArray) parts = g_array_new (FALSE, FALSE, sizeof (OgPart));
  g_autoptr (GPtrArray) held = NULL;

  g_array_append_val (parts, part);
  held = og_parts_contents (parts, catalog);
  for (guint i = 0; i < held->len; i++)
    {
      const OgContent *content = g_ptr_array_index (held, i);

      model->unit[index * model->contents->len
                  + find_content (model->contents, content->ingredient_id)]
          += content->fraction;
    }
}

OgLineModel *
og_line_model_new (const OgFormula *formula,
                   const OgCatalog *catalog,
                   OgBelief        *belief)
{
  OgLineModel *model;

  g_return_val_if_fail (formula != NULL && catalog != NULL, NULL);

  model = g_new0 (OgLineModel, 1);
  model->parameters = og_catalog_get_parameters (catalog);
  if (belief != NULL)
    model->belief = og_belief_ref (belief);
  else if (formula->measurements->len > 0)
    model->belief = og_belief_learn (formula->measurements, catalog);
  model->lines = g_ptr_array_new ();
  og_formula_foreach_line (formula, collect, model->lines);
  model->contents = og_formula_contents (formula, catalog);
  model->unit = g_new0 (double, model->lines->len * model->contents->len);
  for (guint i = 0; i < model->lines->len; i++)
    take_line_apart (model, catalog, i);
  return model;
}

void
og_line_model_free (OgLineModel *model)
{
  if (model == NULL)
    return;
  g_clear_pointer (&model->belief, og_belief_unref);
  g_ptr_array_unref (model->lines);
  g_ptr_array_unref (model->contents);
  g_free (model->unit);
  g_free (model);
}

guint
og_line_model_get_n_lines (const OgLineModel *model)
{
  return model->lines->len;
}

OgFormulaLine *
og_line_model_get_line (const OgLineModel *model,
                        guint              index)
{
  return g_ptr_array_index (model->lines, index);
}

OgBelief *
og_line_model_get_belief (const OgLineModel *model)
{
  return model->belief;
}

OgBlend *
og_line_model_blend (const OgLineModel *model,
                     const double      *fractions)
{
  guint n = model->contents->len;
  OgBlend *blend;

  for (guint c = 0; c < n; c++)
    {
      OgContent *content = g_ptr_array_index (model->contents, c);

      content->fraction = 0.0;
      for (guint i = 0; i < model->lines->len; i++)
        content->fraction += fractions[i] * model->unit[i * n + c];
    }
  blend = og_blend_new (model->contents, model->parameters);
  if (model->belief != NULL)
    og_blend_set_belief (blend, model->belief);
  return blend;
}

double
og_line_model_ln_viscosity (const OgLineModel *model,
                            const double      *fractions,
                            double             temperature_c,
                            double             shear_rate_1_s)
{
  g_autoptr (OgBlend) blend = og_line_model_blend (model, fractions);

  return og_blend_flows (blend) ? og_blend_ln_viscosity (blend, temperature_c, shear_rate_1_s, NULL)
                                : NAN;
}

gboolean
og_ingredient_makes_room (const OgIngredient *ingredient)
{
  if (ingredient == NULL
      || (ingredient->gelling.family != OG_GEL_NONE && ingredient->gelling.family != OG_GEL_VISCOUS_LIQUID))
    return FALSE;
  return ingredient->kind == OG_KIND_OIL || ingredient->kind == OG_KIND_BUTTER || ingredient->kind == OG_KIND_WAX_ESTER
         || ingredient->kind == OG_KIND_ESTER || ingredient->kind == OG_KIND_HYDROCARBON
         || ingredient->kind == OG_KIND_SILICONE || ingredient->kind == OG_KIND_ALCOHOL;
}
