/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/viscosity.h"

#include "core/predict/blend.h"

OgEstimate
og_oil_viscosity (const OgProfile    *profile,
                  const OgParameters *parameters,
                  double              temperature_c)
{
  g_autoptr (OgBlend) blend = NULL;

  g_return_val_if_fail (profile != NULL && profile->shares->len > 0,
                        ((OgEstimate) { NAN, NAN, NAN }));

  blend = og_blend_new_for_profile (profile, parameters);
  return og_blend_liquid (blend, temperature_c);
}

OgEstimate
og_ingredient_viscosity (const OgIngredient *ingredient,
                         const OgParameters *parameters,
                         double              temperature_c)
{
  g_autoptr (GPtrArray) contents = g_ptr_array_new ();
  g_autoptr (OgBlend) blend = NULL;
  OgContent neat = { .ingredient = ingredient, .ingredient_id = ingredient->id, .fraction = 1.0 };

  g_ptr_array_add (contents, &neat);
  blend = og_blend_new (contents, parameters);
  if (!og_blend_flows (blend) || og_blend_get_doubts (blend)->len > 0)
    return (OgEstimate) { NAN, NAN, NAN };
  return og_blend_liquid (blend, temperature_c);
}
