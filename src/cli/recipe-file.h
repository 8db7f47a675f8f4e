/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/recipe/formula.h"

G_BEGIN_DECLS

/** Writes @formula as a document; the file is replaced only once it is whole. Returns: %FALSE with
 * a #GFileError */
gboolean og_recipe_file_write (const char       *path,
                               const OgFormula  *formula,
                               GError          **error);

G_END_DECLS
