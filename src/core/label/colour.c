/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/label/colour.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "core/base/nick.h"

#define N_CHANNELS 3 /* red, green, blue */
#define WHITE 1.0 /* reflectance of the ideal ground */
#define BLACK 0.0 /* reflectance of the ideal ground */
#define SMALL_EXPONENT 1e-6 /* below it x coth x is its limit, and the quotient loses digits */
/* Mass tones of black and of white pigments reflect a little, and not quite all. */
#define LEAST_REFLECTANCE 0.004
#define MOST_REFLECTANCE 0.985

/* Colour differences (CIE 1976 L*a*b*) from which on a film earns its word: judgement. */
#define FAINT_DELTA 1.0
#define SHEER_DELTA 8.0
#define CLEAR_DELTA 20.0
#define FULL_DELTA 45.0

/* --- names --- */

static const OgNick depths[OG_N_TINT_DEPTHS] = {
  [OG_TINT_UNKNOWN] = { "unknown", N_("Tint unknown") },
  [OG_TINT_NONE] = { "none", N_("No tint") },
  [OG_TINT_FAINT] = { "faint", N_("Faint tint") },
  [OG_TINT_SHEER] = { "sheer", N_("Sheer tint") },
  [OG_TINT_CLEAR] = { "clear", N_("Clearly coloured") },
  [OG_TINT_FULL] = { "full", N_("Full colour") },
};
OG_DEFINE_TO_NICK (OgTintDepth, og_tint_depth, depths)
OG_DEFINE_WORDS (OgTintDepth, og_tint_depth, depths)
OG_DEFINE_NAMES (OgTintDepth, og_tint_depth, depths)

/* --- sRGB, IEC 61966-2-1 --- */

static double
to_linear (double value)
{
  return value <= 0.04045 ? value / 12.92 : pow ((value + 0.055) / 1.055, 2.4);
}

static double
from_linear (double value)
{
  return value <= 0.0031308 ? 12.92 * value : 1.055 * pow (value, 1 / 2.4) - 0.055;
}

static void
rgb_from_linear (const double linear[N_CHANNELS],
                 OgRgb       *rgb)
{
  rgb->red = from_linear (linear[0]);
  rgb->green = from_linear (linear[1]);
  rgb->blue = from_linear (linear[2]);
}

static void
rgb_to_linear (const OgRgb *rgb,
               double       linear[N_CHANNELS])
{
  linear[0] = to_linear (rgb->red);
  linear[1] = to_linear (rgb->green);
  linear[2] = to_linear (rgb->blue);
}

gboolean
og_rgb_from_hex (const char *hex,
                 OgRgb      *rgb)
{
  unsigned red, green, blue;

  if (hex == NULL || sscanf (hex, "#%2x%2x%2x", &red, &green, &blue) != N_CHANNELS)
    return FALSE;
  *rgb = (OgRgb) { red / 255.0, green / 255.0, blue / 255.0 };

  return TRUE;
}

void
og_rgb_to_hex (const OgRgb *rgb,
               char         hex[8])
{
  g_return_if_fail (rgb != NULL && hex != NULL);

  if (!isfinite (rgb->red) || !isfinite (rgb->green) || !isfinite (rgb->blue))
    hex[0] = '\0';
  else
    g_snprintf (hex, 8, "#%02x%02x%02x", (guint) lround (255 * CLAMP (rgb->red, 0, 1)),
                (guint) lround (255 * CLAMP (rgb->green, 0, 1)),
                (guint) lround (255 * CLAMP (rgb->blue, 0, 1)));
}

/* --- CIE 1976 L*a*b* for D65, from linear sRGB --- */

static double
lab_root (double ratio)
{
  return ratio > 216.0 / 24389.0 ? cbrt (ratio) : (24389.0 / 27.0 * ratio + 16.0) / 116.0;
}

static void
to_lab (const double linear[N_CHANNELS],
        double       lab[N_CHANNELS])
{
  double x = 0.4124 * linear[0] + 0.3576 * linear[1] + 0.1805 * linear[2];
  double y = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2];
  double z = 0.0193 * linear[0] + 0.1192 * linear[1] + 0.9505 * linear[2];
  double root_x = lab_root (x / 0.9505), root_y = lab_root (y), root_z = lab_root (z / 1.0890);

  lab[0] = 116 * root_y - 16;
  lab[1] = 500 * (root_x - root_y);
  lab[2] = 200 * (root_y - root_z);
}

static double
colour_difference (const double a[N_CHANNELS],
                   const double b[N_CHANNELS])
{
  double x[N_CHANNELS], y[N_CHANNELS];

  to_lab (a, x);
  to_lab (b, y);

  return sqrt ((x[0] - y[0]) * (x[0] - y[0]) + (x[1] - y[1]) * (x[1] - y[1])
               + (x[2] - y[2]) * (x[2] - y[2]));
}

static double
luminance (const double linear[N_CHANNELS])
{
  return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2];
}

/* --- films --- */

double
og_kubelka_munk_ratio (double reflectance)
{
  return (1 - reflectance) * (1 - reflectance) / (2 * reflectance);
}

/* Reflectance of a layer so thick that nothing shows through. */
static double
opaque_reflectance (double ratio)
{
  /* 1 + r - sqrt (r^2 + 2 r) without its loss of digits for a large r */
  return 1 / (1 + ratio + sqrt (ratio * ratio + 2 * ratio));
}

double
og_kubelka_munk_film (double ground,
                      double absorption,
                      double scattering)
{
  double a, b, b_coth;

  if (scattering <= 0)
    return ground * exp (-2 * absorption);

  a = 1 + absorption / scattering;
  b = sqrt (a * a - 1);
  b_coth = b * scattering > SMALL_EXPONENT ? b / tanh (b * scattering) : 1 / scattering;

  return (1 - ground * (a - b_coth)) / (a - ground + b_coth);
}

/*
 * Scattering of the pure material in a film, 1/um: judgement, from the hiding that each kind is known
 * for. Titanium dioxide scatters about 0.5 m2/g, zinc oxide a fraction of that, and some 10 g/m2 of
 * red iron oxide hide black from white (all recalled).
 */
static double
material_scattering (const OgIngredient *ingredient)
{
  static const struct
  {
    int    from_ci;
    double per_um;
  } steps[] = {
    { 77892, 0.1 },  /* zinc oxide */
    { 77891, 0.5 },  /* titanium dioxide */
    { 77000, 0.1 },  /* other inorganic colours */
    { 0, 0.05 },     /* lakes and other organic colours: next to transparent in oil */
  };
  static const double flakes = 0.03;
  gint64 ci = ingredient->ci != NULL ? g_ascii_strtoll (ingredient->ci, NULL, 10) : 0;

  if (ingredient->kind != OG_KIND_COLOUR)
    return flakes;
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    if (ci >= steps[i].from_ci)
      return steps[i].per_um;

  return flakes;
}

/* Film: what its colours absorb and scatter, times its thickness. */
typedef struct
{
  double absorption[N_CHANNELS];
  double scattering;
} Film;

static void
add_to_film (Film               *film,
             const OgIngredient *ingredient,
             const OgRgb        *mass_tone,
             double              fraction,
             double              film_um)
{
  double scattering = fraction * film_um * material_scattering (ingredient);
  double linear[N_CHANNELS];

  rgb_to_linear (mass_tone, linear);
  for (guint i = 0; i < N_CHANNELS; i++)
    film->absorption[i]
        += scattering
           * og_kubelka_munk_ratio (CLAMP (linear[i], LEAST_REFLECTANCE, MOST_REFLECTANCE));
  film->scattering += scattering;
}

static void
cover (const Film   *film,
       const double  ground[N_CHANNELS],
       double        linear[N_CHANNELS])
{
  for (guint i = 0; i < N_CHANNELS; i++)
    linear[i] = og_kubelka_munk_film (ground[i], film->absorption[i], film->scattering);
}

void
og_tint_lip_ground (OgRgb *ground)
{
  *ground = (OgRgb) { 0.80, 0.50, 0.48 };
}

static OgTintDepth
depth_word (double difference)
{
  if (difference < FAINT_DELTA)
    return OG_TINT_NONE;
  if (difference < SHEER_DELTA)
    return OG_TINT_FAINT;
  if (difference < CLEAR_DELTA)
    return OG_TINT_SHEER;

  return difference < FULL_DELTA ? OG_TINT_CLEAR : OG_TINT_FULL;
}

static void
paint_grounds (OgTint     *tint,
               const Film *film)
{
  static const double white[] = { WHITE, WHITE, WHITE }, black[] = { BLACK, BLACK, BLACK };
  double over_white[N_CHANNELS], over_black[N_CHANNELS], over_lips[N_CHANNELS];
  double lips[N_CHANNELS];
  OgRgb ground;

  og_tint_lip_ground (&ground);
  rgb_to_linear (&ground, lips);
  cover (film, white, over_white);
  cover (film, black, over_black);
  cover (film, lips, over_lips);
  rgb_from_linear (over_white, &tint->over_white);
  rgb_from_linear (over_lips, &tint->over_lips);
  tint->hiding = 1 - (luminance (over_white) - luminance (over_black));
  tint->depth = depth_word (
    MAX (colour_difference (over_white, white), colour_difference (over_lips, lips)));
}

static void
paint_mass_tone (OgTint     *tint,
                 const Film *film)
{
  double linear[N_CHANNELS];

  for (guint i = 0; i < N_CHANNELS; i++)
    linear[i] = opaque_reflectance (film->absorption[i] / film->scattering);
  rgb_from_linear (linear, &tint->mass_tone);
}

static gboolean
is_flake (const OgIngredient *ingredient)
{
  return ingredient->kind == OG_KIND_PEARL
         || (ingredient->kind == OG_KIND_POWDER && og_ingredient_has_role (ingredient, "shimmer"));
}

void
og_tint_predict (const GPtrArray *contents,
                 double           film_um,
                 OgTint          *tint)
{
  static const OgRgb unknown = { NAN, NAN, NAN };
  Film film = { { 0 }, 0 };

  g_return_if_fail (contents != NULL && film_um > 0 && tint != NULL);

  *tint = (OgTint) { .film_um = film_um, .mass_tone = unknown };
  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);
      const OgIngredient *ingredient = content->ingredient;
      double pct = 100 * content->fraction;
      OgRgb mass_tone;

      if (ingredient == NULL || pct <= 0)
        continue;
      if (is_flake (ingredient))
        tint->pearl_pct += pct;
      else if (ingredient->kind == OG_KIND_COLOUR || ingredient->kind == OG_KIND_DISPERSION)
        tint->pigment_pct += pct;
      else
        continue;
      if (og_rgb_from_hex (ingredient->hex, &mass_tone))
        add_to_film (&film, ingredient, &mass_tone, content->fraction, film_um);
      else
        tint->unknown_pct += pct;
    }

  paint_grounds (tint, &film);
  if (film.scattering > 0)
    paint_mass_tone (tint, &film);
  if (tint->unknown_pct > 0)
    tint->depth = OG_TINT_UNKNOWN;
}

OgSaying *
og_tint_describe (const OgTint *tint)
{
  g_return_val_if_fail (tint != NULL, NULL);

  if (tint->depth == OG_TINT_UNKNOWN)
    return og_saying_new (N_ ("Tint unknown: %s wt %% of the colours have no mass tone on file."),
                          og_word_significant (tint->unknown_pct, 3));
  if (tint->pigment_pct + tint->pearl_pct <= 0)
    return og_saying_plain (N_ ("No tint: there is no colour in it."));

  return og_saying_new (N_ ("%s, approximately: %s wt %% colour and %s wt %% flakes in a film "
                            "of %s µm, which hides %s %% of what is below."),
                        og_tint_depth_word (tint->depth), og_word_significant (tint->pigment_pct, 3),
                        og_word_significant (tint->pearl_pct, 3), og_word_fixed (tint->film_um, 0),
                        og_word_fixed (100 * tint->hiding, 0));
}
