/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/label/declaration.h"

G_BEGIN_DECLS

/** Returns: (transfer full): the INCI name @inci as labels of @market write it */
char     *og_inci_for_market    (const char         *inci,
                                 OgMarket            market);
/** TRUE if @inci lists several materials with "(and)". @inci: (nullable) */
gboolean  og_inci_is_list       (const char         *inci);
/** Returns: (transfer full) (element-type utf8): names that @inci lists with "(and)"; just itself
 * if it lists none */
GPtrArray *og_inci_split        (const char         *inci);
/**
 * Returns: (transfer full): Colour Index number as labels print it: without the suffix of a salt
 * or lake, which the EU list does not tell apart ("15850:1" -> "15850")
 */
char     *og_ci_for_label       (const char         *ci);

G_END_DECLS
