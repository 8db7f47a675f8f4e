/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/** Half width of the middle 80 % of a normal distribution, standard deviations: the quantile of
 * 0.9, as gsl_cdf_ugaussian_Pinv (0.9) gives it. */
#define OG_HALF_BAND_SD 1.2815515655446004
