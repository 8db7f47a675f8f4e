/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * og_arrhenius_factor:
 * @ea_kj_mol: activation energy
 *
 * How many times as long oil lasts at @to_c as at @from_c: exp (Ea/R (1/T_to - 1/T_from)).
 */
double og_arrhenius_factor (double ea_kj_mol,
                            double from_c,
                            double to_c);

/**
 * og_q10_factor:
 * @q10: factor for 10 C, usually taken as 2 (common practice, no source)
 *
 * How many times as long at @store_c as at @test_c: q10^((test - store)/10).
 */
double og_q10_factor       (double q10,
                            double test_c,
                            double store_c);

G_END_DECLS
