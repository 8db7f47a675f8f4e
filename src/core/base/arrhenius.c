/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/arrhenius.h"

#include <math.h>

#include "core/base/physics.h"
#include "core/base/units.h"

#define KJ_PER_J 1e-3 /* exact */

double
og_arrhenius_factor (double ea_kj_mol,
                     double from_c,
                     double to_c)
{
  double ea_over_r = ea_kj_mol / (OG_GAS_CONSTANT_J_MOL_K * KJ_PER_J);

  return exp (ea_over_r * (1 / og_kelvin (to_c) - 1 / og_kelvin (from_c)));
}

double
og_q10_factor (double q10,
               double test_c,
               double store_c)
{
  return pow (q10, (test_c - store_c) / 10);
}
