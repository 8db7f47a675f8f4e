/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "model/palette-model.h"

G_BEGIN_DECLS

/* Returns: (transfer full): an object around @ingredient, which it keeps alive */
OgMaterial *_og_material_new (const OgIngredient *ingredient);

G_END_DECLS
