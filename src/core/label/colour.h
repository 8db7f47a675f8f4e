/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/predict/evaluate.h"

G_BEGIN_DECLS

/** OgRgb: a colour in sRGB (IEC 61966-2-1), each 0 ... 1. */
typedef struct
{
  double red, green, blue;
} OgRgb;

/** OgTintDepth: how far the film changes a white or a lip-pink ground, whichever more, in a word;
 * bounds are judgement. */
typedef enum
{
  OG_TINT_UNKNOWN,
  OG_TINT_NONE,
  OG_TINT_FAINT,
  OG_TINT_SHEER,
  OG_TINT_CLEAR, /* clearly coloured */
  OG_TINT_FULL,
  OG_N_TINT_DEPTHS
} OgTintDepth;

const char *og_tint_depth_to_nick  (OgTintDepth depth); /* "faint" */
const char *og_tint_depth_get_name (OgTintDepth depth); /* translated: "Faint tint" */
OgWord      og_tint_depth_word     (OgTintDepth depth);

/** Thickness of an oil film on the lips or a drawdown, um: judgement. */
#define OG_TINT_FILM_UM 50.0

/** OgTint: how the recipe colours, approximately. */
typedef struct
{
  double      pigment_pct;    /* wt % of colours, mixtures taken apart */
  double      pearl_pct;      /* wt % of mica and other flakes */
  double      unknown_pct;    /* wt % of colours without a mass tone on file */
  double      film_um;
  OgTintDepth depth;
  OgRgb       mass_tone;      /* so thick that nothing shows through; NAN without colours */
  OgRgb       over_white;     /* drawdown: the undertone */
  OgRgb       over_lips;
  double      hiding;         /* 0 ... 1: how much contrast of the ground the film takes away */
} OgTint;

/** The lip-pink ground of OgTint.over_lips: judgement. */
void og_tint_lip_ground (OgRgb              *ground);

/**
 * og_kubelka_munk_film:
 * @ground: reflectance of what is below, linear, 0 ... 1
 * @absorption, @scattering: K and S of the film, times its thickness; 0 or more
 *
 * Reflectance of a film (Kubelka & Munk 1931, Z. tech. Phys. 12:593; hyperbolic form of Kubelka
 * 1948, J. Opt. Soc. Am. 38:448, recalled).
 */
double og_kubelka_munk_film    (double ground,
                                double absorption,
                                double scattering);
/** Returns: K/S of an opaque layer of reflectance @reflectance: (1 - R)^2 / 2R */
double og_kubelka_munk_ratio   (double reflectance);

/**
 * og_tint_predict:
 * @contents: (element-type OgContent): mixtures taken apart, see og_formula_contents()
 * @film_um: above 0
 *
 * Colour of a film by two constants of each colour in linear RGB: scattering by kind (judgement),
 * absorption from the mass tone on file. Particle size, wetting, gloss and the sparkle of pearls
 * are not in it: a swatch to choose by, never to match by.
 */
void og_tint_predict           (const GPtrArray  *contents,
                                double            film_um,
                                OgTint           *tint);
/** Returns: (transfer full): a sentence */
OgSaying *og_tint_describe     (const OgTint     *tint);
/** @hex: (nullable): "#rrggbb". Returns: whether it is one; else @rgb stays as it is */
gboolean og_rgb_from_hex       (const char       *hex,
                                OgRgb            *rgb);
/** Writes "#rrggbb" and a terminating zero; "" for a colour that is not known. */
void og_rgb_to_hex             (const OgRgb      *rgb,
                                char              hex[8]);

G_END_DECLS
