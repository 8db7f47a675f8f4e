/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/recipe/bench.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_const_mksa.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>

#include "core/base/conditions.h"
#include "core/base/nick.h"
#include "core/base/number-text.h"
#include "core/material/catalog.h"

#define LOWEST_TEMPERATURE_C (-10.0) /* of a reading at a bench; judgement */
#define HIGHEST_TEMPERATURE_C 120.0 /* of a reading at a bench; judgement */
#define MAX_BALL_TO_TUBE 0.3 /* diameters, within which the wall factor holds; recalled */
#define MAX_REYNOLDS 0.1 /* below it Stokes' law holds within 2 % (Oseen, recalled) */

/* One standard deviation each; judgement where nothing else is said. */
#define TEMPERATURE_LN_SD 0.025   /* 0.5 C; 1 C is 3-7 % at 25-50 kJ/mol */
#define OWN_DENSITY_SD_G_ML 0.005 /* measured */
#define GIVEN_DENSITY_SD_G_ML 0.01 /* predicted */
#define BALL_DIAMETER_LN_SD 0.01
#define BALL_DENSITY_LN_SD 0.005
#define FALL_SD_MM 1.0
#define STOPWATCH_SD_S 0.2
#define STOKES_LN_SD 0.02         /* wall factor, path off the axis */
#define ROTATIONAL_LN_SD 0.05
#define UNKNOWN_RATE_LN_SD 0.25
#define POURS_LIKE_LN_SD 0.35

#define MAX_SECONDS G_N_ELEMENTS (((OgReading *) NULL)->seconds)

#define CUP_RATE_1_S 100.0 /* in the outlet of a flow cup; judgement */
#define UNKNOWN_RATE_1_S 10.0 /* of a spindle whose rate nobody stated; judgement */

/* Carried by every error of the domain. */
typedef struct
{
  OgReadingPart part;
} OgBenchErrorPrivate;

static void
og_bench_error_private_init (OgBenchErrorPrivate *private)
{
  private->part = OG_READING_PART_NONE;
}

static void
og_bench_error_private_copy (const OgBenchErrorPrivate *source,
                             OgBenchErrorPrivate       *target)
{
  *target = *source;
}

static void
og_bench_error_private_clear (OgBenchErrorPrivate *private)
{
}

G_DEFINE_EXTENDED_ERROR (OgBenchError, og_bench_error)

OgReadingPart
og_bench_error_get_part (const GError *error)
{
  g_return_val_if_fail (error != NULL, OG_READING_PART_NONE);

  return error->domain == OG_BENCH_ERROR ? og_bench_error_get_private (error)->part
                                         : OG_READING_PART_NONE;
}

/* --- cups ------------------------------------------------------------------ */

/* Kinematic viscosity in mm2/s is a (t - c) - b/t, t in seconds. */
typedef struct
{
  OgNick    word;
  OgCupInfo info;
  enum
  {
    KIND_ISO_2431,
    KIND_D1200,
    KIND_D4212
  } kind;
  double a, b, c;
} Cup;

/*
 * ISO 2431 and ASTM D1200 nos. 3 to 5: recalled. D1200 nos. 1 and 2: a published table of cup
 * constants, its ranges the standard's clause 11.2. D4212: Patton 1979, Paint Flow and Pigment
 * Dispersion, 2nd ed., p. 82, as quoted in a dip-cup manual; these cups vary by maker by about 20
 * %, taken as an 80 % interval. The other spreads are judgement.
 */
static const Cup cups[OG_N_CUPS] = {
  { { "iso-3", N_("ISO 2431 cup, 3 mm") }, { 30, 100, 0.05, TRUE },
    KIND_ISO_2431, 0.443, 200, 0 },
  { { "iso-4", N_("ISO 2431 cup, 4 mm") }, { 30, 100, 0.05, TRUE },
    KIND_ISO_2431, 1.37, 200, 0 },
  { { "iso-5", N_("ISO 2431 cup, 5 mm") }, { 30, 100, 0.05, TRUE },
    KIND_ISO_2431, 3.28, 220, 0 },
  { { "iso-6", N_("ISO 2431 cup, 6 mm") }, { 30, 100, 0.05, TRUE },
    KIND_ISO_2431, 6.90, 570, 0 },
  { { "d1200-1", N_("ASTM D1200 cup no. 1") }, { 55, 100, 0.05, FALSE },
    KIND_D1200, 0.49, 0, 35.0 },
  { { "d1200-2", N_("ASTM D1200 cup no. 2") }, { 40, 100, 0.05, FALSE },
    KIND_D1200, 1.44, 0, 18.0 },
  { { "d1200-3", N_("ASTM D1200 cup no. 3") }, { 20, 100, 0.05, TRUE },
    KIND_D1200, 2.31, 0, 6.58 },
  { { "d1200-4", N_("ASTM D1200 cup no. 4") }, { 20, 100, 0.05, TRUE },
    KIND_D1200, 3.85, 0, 4.49 },
  { { "d1200-5", N_("ASTM D1200 cup no. 5") }, { 20, 100, 0.05, TRUE },
    KIND_D1200, 12.1, 0, 2.00 },
  { { "d4212-1", N_("ASTM D4212 cup no. 1") }, { 35, 80, 0.16, FALSE },
    KIND_D4212, 1.1, 0, 29 },
  { { "d4212-2", N_("ASTM D4212 cup no. 2") }, { 20, 80, 0.16, FALSE },
    KIND_D4212, 3.5, 0, 14 },
  { { "d4212-3", N_("ASTM D4212 cup no. 3") }, { 20, 80, 0.16, FALSE },
    KIND_D4212, 11.7, 0, 7.5 },
  { { "d4212-4", N_("ASTM D4212 cup no. 4") }, { 20, 80, 0.16, FALSE },
    KIND_D4212, 14.8, 0, 5 },
  { { "d4212-5", N_("ASTM D4212 cup no. 5") }, { 20, 80, 0.16, FALSE },
    KIND_D4212, 23, 0, 0 },
};

OG_DEFINE_NICKS (OgCup, og_cup, cups)
OG_DEFINE_NAMES (OgCup, og_cup, cups)

const OgCupInfo *
og_cup_get_info (OgCup cup)
{
  g_return_val_if_fail (cup < OG_N_CUPS, NULL);

  return &cups[cup].info;
}

double
og_cup_kinematic (OgCup  cup,
                  double seconds)
{
  g_return_val_if_fail (cup < OG_N_CUPS, NAN);

  return cups[cup].a * (seconds - cups[cup].c) - cups[cup].b / seconds;
}

double
og_cup_seconds (OgCup  cup,
                double mm2_s)
{
  const Cup *self;
  double low, high, middle;

  g_return_val_if_fail (cup < OG_N_CUPS, NAN);

  low = og_cup_kinematic (cup, cups[cup].info.low_s);
  high = og_cup_kinematic (cup, cups[cup].info.high_s);
  if (!(mm2_s >= low && mm2_s <= high))
    return NAN;

  /* a t^2 - (a c + nu) t - b = 0 has one positive root. */
  self = &cups[cup];
  middle = self->a * self->c + mm2_s;
  return CLAMP ((middle + sqrt (middle * middle + 4 * self->a * self->b)) / (2 * self->a),
                self->info.low_s, self->info.high_s);
}

/* --- likenesses ------------------------------------------------------------ */

/*
 * Water, glycerol: recalled handbook values at 25 C. Sunflower-type, olive and castor oil:
 * recalled. Mineral oil, syrup and honey differ widely from lot to lot: judgement.
 */
static const struct
{
  OgNick word;
  double mpa_s; /* at 25 C */
} likenesses[OG_N_LIKENESSES] = {
  { { "water", N_("Water") }, 0.89 },
  { { "light-mineral-oil", N_("Light mineral oil") }, 20 },
  { { "seed-oil", N_("Sunflower or a similar seed oil") }, 52 },
  { { "olive-oil", N_("Olive oil") }, 68 },
  { { "maple-syrup", N_("Maple syrup") }, 160 },
  { { "castor-oil", N_("Castor oil") }, 680 },
  { { "glycerol", N_("Glycerol") }, 930 },
  { { "honey", N_("Runny honey") }, 8000 },
};

OG_DEFINE_NICKS (guint, og_likeness, likenesses)
OG_DEFINE_NAMES (guint, og_likeness, likenesses)

double
og_likeness_get_mpa_s (guint index)
{
  g_return_val_if_fail (index < OG_N_LIKENESSES, NAN);

  return likenesses[index].mpa_s;
}

/* --- methods --------------------------------------------------------------- */

static const OgNick methods[OG_N_METHODS] = {
  [OG_METHOD_CUP] = { "cup", N_("Flow cup") },
  [OG_METHOD_BALL] = { "ball", N_("Falling ball") },
  [OG_METHOD_ROTATIONAL] = { "rotational", N_("Rotational") },
  [OG_METHOD_POURS_LIKE] = { "pours-like", N_("Pours like") },
};
OG_DEFINE_NICKS (OgMethod, og_method, methods)
OG_DEFINE_NAMES (OgMethod, og_method, methods)

/* --- refusals -------------------------------------------------------------- */

static gboolean G_GNUC_PRINTF (4, 5)
refuse (GError        **error,
        OgBenchError    code,
        OgReadingPart   part,
        const char     *format,
        ...)
{
  GError *problem;
  va_list args;

  va_start (args, format);
  problem = g_error_new_valist (OG_BENCH_ERROR, (int) code, format, args);
  va_end (args);
  og_bench_error_get_private (problem)->part = part;
  g_propagate_error (error, problem);
  return FALSE;
}

static const char *
part_name (OgReadingPart part)
{
  static const OgNick names[] = {
    [OG_READING_PART_SECONDS] = { NULL, N_("Time") },
    [OG_READING_PART_TEMPERATURE] = { NULL, N_("Temperature") },
    [OG_READING_PART_DENSITY] = { NULL, N_("Density of the liquid") },
    [OG_READING_PART_BALL_DIAMETER] = { NULL, N_("Ball diameter") },
    [OG_READING_PART_BALL_DENSITY] = { NULL, N_("Ball density") },
    [OG_READING_PART_TUBE_DIAMETER] = { NULL, N_("Tube diameter") },
    [OG_READING_PART_FALL] = { NULL, N_("Fall") },
    [OG_READING_PART_VISCOSITY] = { NULL, N_("Viscosity") },
    [OG_READING_PART_SHEAR_RATE] = { NULL, N_("Shear rate") },
  };

  return og_nick_get_name (OG_NICK_TABLE (names), (int) part);
}

static gboolean
check_positive (OgReadingPart   part,
                double          value,
                GError        **error)
{
  if (isfinite (value) && value > 0)
    return TRUE;
  return refuse (error, OG_BENCH_ERROR_VALUE, part, _("%s: Give a number above 0."),
                 part_name (part));
}

static gboolean
check_range (OgReadingPart   part,
             double          value,
             double          low,
             double          high,
             const char     *unit,
             GError        **error)
{
  g_autofree char *value_text = og_number_as_given (value);
  g_autofree char *low_text = og_number_as_given (low);
  g_autofree char *high_text = og_number_as_given (high);

  if (!check_positive (part, value, error))
    return FALSE;
  if (value >= low && value <= high)
    return TRUE;
  return refuse (error, OG_BENCH_ERROR_RANGE, part,
                 _("%s: %s %s is outside %s to %s %s. Check the number and its unit."),
                 part_name (part), value_text, unit, low_text, high_text, unit);
}

static gboolean
check_temperature (double    temperature_c,
                   GError  **error)
{
  g_autofree char *given = og_number_as_given (temperature_c);
  g_autofree char *low = og_number_as_given (LOWEST_TEMPERATURE_C);
  g_autofree char *high = og_number_as_given (HIGHEST_TEMPERATURE_C);

  if (!isfinite (temperature_c))
    return refuse (error, OG_BENCH_ERROR_VALUE, OG_READING_PART_TEMPERATURE,
                   _("Temperature: Give a number."));
  if (temperature_c >= LOWEST_TEMPERATURE_C && temperature_c <= HIGHEST_TEMPERATURE_C)
    return TRUE;
  return refuse (error, OG_BENCH_ERROR_RANGE, OG_READING_PART_TEMPERATURE,
                 _("Temperature: %s °C is outside %s to %s °C. Measure within this range."), given,
                 low, high);
}

static gboolean
check_seconds (const OgReading  *reading,
               GError          **error)
{
  if (reading->n_seconds == 0 || reading->n_seconds > MAX_SECONDS)
    return refuse (error, OG_BENCH_ERROR_VALUE, OG_READING_PART_SECONDS,
                   _("Time: Give one to %u readings."), (guint) MAX_SECONDS);
  for (guint i = 0; i < reading->n_seconds; i++)
    {
      if (!check_positive (OG_READING_PART_SECONDS, reading->seconds[i], error))
        return FALSE;
    }
  return TRUE;
}

/* The density of the liquid and how sure it is, g/ml. */
static gboolean
find_density (const OgReading  *reading,
              double            given_g_ml,
              double           *density_g_ml,
              double           *sd_g_ml,
              GError          **error)
{
  gboolean own = !isnan (reading->density_g_ml);

  *density_g_ml = own ? reading->density_g_ml : given_g_ml;
  *sd_g_ml = own ? OWN_DENSITY_SD_G_ML : GIVEN_DENSITY_SD_G_ML;
  return check_range (OG_READING_PART_DENSITY, *density_g_ml, 0.5, 2, "g/ml", error);
}

/* --- reduction ------------------------------------------------------------- */

static double
mean_seconds (const OgReading *reading)
{
  return gsl_stats_mean (reading->seconds, 1, reading->n_seconds);
}

/*
 * Standard error of the logarithms of replicates; 0 for a single one, whose spread the method
 * stands for.
 */
static double
replicate_ln_sd (const double *values,
                 guint         n)
{
  double logarithms[MAX_SECONDS] = { 0 };

  if (n < 2)
    return 0;
  for (guint i = 0; i < n; i++)
    logarithms[i] = log (values[i]);
  return gsl_stats_sd (logarithms, 1, n) / sqrt (n);
}

static double
root_of_squares (const double *values,
                 guint         n)
{
  double sum = 0;

  for (guint i = 0; i < n; i++)
    sum += values[i] * values[i];
  return sqrt (sum);
}

/* Cups of one kind stand side by side, by rising viscosity. */
static gboolean
next_cup (OgCup  cup,
          int    step,
          OgCup *next)
{
  int index = (int) cup + step;

  if (index < 0 || index >= OG_N_CUPS || cups[index].kind != cups[cup].kind)
    return FALSE;
  *next = (OgCup) index;
  return TRUE;
}

/* What to do about a time outside the range, going by what the formula gives nevertheless. */
static char *
cup_advice_for_error (OgCup  cup,
                      double seconds)
{
  int step = seconds > cups[cup].info.high_s ? 1 : -1;
  double mm2_s = og_cup_kinematic (cup, seconds);
  OgCup first, other;

  if (!next_cup (cup, step, &first))
    return g_strdup (step > 0 ? _("Use a falling ball or a rotational instrument.")
                              : _("The liquid is too thin for cups of this kind."));

  other = first;
  do
    {
      double expected_s = og_cup_seconds (other, mm2_s);
      g_autofree char *expected = og_number_fixed (expected_s, 0);

      if (!isnan (expected_s))
        return g_strdup_printf (_("Use the %s; expect about %s s there."), og_cup_get_name (other),
                                expected);
    }
  while (next_cup (other, step, &other));
  return g_strdup_printf (_("Use the %s."), og_cup_get_name (first));
}

static gboolean
refuse_cup_seconds (OgCup     cup,
                    double    seconds,
                    GError  **error)
{
  const OgCupInfo *info = og_cup_get_info (cup);
  g_autofree char *given = og_number_as_given (seconds);
  g_autofree char *low = og_number_as_given (info->low_s);
  g_autofree char *high = og_number_as_given (info->high_s);
  g_autofree char *advice = cup_advice_for_error (cup, seconds);

  return refuse (error, OG_BENCH_ERROR_RANGE, OG_READING_PART_SECONDS,
                 _("Time: %s s is outside %s to %s s, the range of the %s. %s"), given, low, high,
                 og_cup_get_name (cup), advice);
}

static gboolean
check_cup_seconds (const OgReading  *reading,
                   GError          **error)
{
  const OgCupInfo *info = og_cup_get_info (reading->cup);

  for (guint i = 0; i < reading->n_seconds; i++)
    {
      double seconds = reading->seconds[i];

      if (seconds < info->low_s || seconds > info->high_s)
        return refuse_cup_seconds (reading->cup, seconds, error);
    }
  return TRUE;
}

static gboolean
reduce_cup (const OgReading  *reading,
            double            given_g_ml,
            OgReduced        *reduced,
            GError          **error)
{
  double density = NAN, density_sd = NAN;
  double kinematic[MAX_SECONDS];

  if (!check_seconds (reading, error)
      || !check_cup_seconds (reading, error)
      || !find_density (reading, given_g_ml, &density, &density_sd, error))
    return FALSE;

  for (guint i = 0; i < reading->n_seconds; i++)
    kinematic[i] = og_cup_kinematic (reading->cup, reading->seconds[i]);
  reduced->mpa_s = density * og_cup_kinematic (reading->cup, mean_seconds (reading));
  reduced->shear_rate_1_s = CUP_RATE_1_S;
  reduced->density_g_ml = density;
  reduced->ln_sd = root_of_squares ((double[]) {
    og_cup_get_info (reading->cup)->relative_sd,
    replicate_ln_sd (kinematic, reading->n_seconds),
    density_sd / density,
    TEMPERATURE_LN_SD,
  }, 4);
  return TRUE;
}

static gboolean
check_ball (const OgReading  *reading,
            double            density_g_ml,
            GError          **error)
{
  const double ratio = reading->ball_diameter_mm / reading->tube_diameter_mm;
  g_autofree char *ratio_text = og_number_significant (ratio, 2);
  g_autofree char *most = og_number_as_given (MAX_BALL_TO_TUBE);
  g_autofree char *ball = og_number_as_given (reading->ball_density_g_ml);
  g_autofree char *liquid = og_number_as_given (density_g_ml);

  if (!check_range (OG_READING_PART_BALL_DIAMETER, reading->ball_diameter_mm, 0.1, 50, "mm", error)
      || !check_range (OG_READING_PART_BALL_DENSITY, reading->ball_density_g_ml, 0.5, 25, "g/ml",
                       error)
      || !check_range (OG_READING_PART_TUBE_DIAMETER, reading->tube_diameter_mm, 0.5, 500, "mm",
                       error)
      || !check_range (OG_READING_PART_FALL, reading->fall_mm, 1, 10000, "mm", error))
    return FALSE;

  if (ratio > MAX_BALL_TO_TUBE)
    return refuse (error, OG_BENCH_ERROR_RANGE, OG_READING_PART_BALL_DIAMETER,
                   _("Ball diameter: %s of the tube diameter, where the wall factor holds up to "
                     "%s. Use a smaller ball or a wider tube."),
                   ratio_text, most);
  if (reading->ball_density_g_ml <= density_g_ml)
    return refuse (error, OG_BENCH_ERROR_RANGE, OG_READING_PART_BALL_DENSITY,
                   _("Ball density: %s g/ml does not sink in a liquid of %s g/ml. Use a denser "
                     "ball."),
                   ball, liquid);
  return TRUE;
}

static double
wall_factor (double ratio)
{
  return 1 - 2.104 * ratio + 2.09 * pow (ratio, 3) - 0.95 * pow (ratio, 5);
}

static gboolean
reduce_ball (const OgReading  *reading,
             double            given_g_ml,
             OgReduced        *reduced,
             GError          **error)
{
  double density = NAN, density_sd = NAN, seconds, diameter_m, speed_m_s, difference, pa_s;
  g_autofree char *reynolds = NULL;
  g_autofree char *most = NULL;

  if (!check_seconds (reading, error)
      || !find_density (reading, given_g_ml, &density, &density_sd, error)
      || !check_ball (reading, density, error))
    return FALSE;

  seconds = mean_seconds (reading);
  diameter_m = reading->ball_diameter_mm / 1000;
  speed_m_s = reading->fall_mm / 1000 / seconds;
  difference = reading->ball_density_g_ml - density;
  pa_s = diameter_m * diameter_m * difference * 1000 * GSL_CONST_MKSA_GRAV_ACCEL
         / (18 * speed_m_s)
         * wall_factor (reading->ball_diameter_mm / reading->tube_diameter_mm);
  reduced->reynolds = density * 1000 * speed_m_s * diameter_m / pa_s;
  reynolds = og_number_significant (reduced->reynolds, 2);
  most = og_number_as_given (MAX_REYNOLDS);
  if (reduced->reynolds > MAX_REYNOLDS)
    return refuse (error, OG_BENCH_ERROR_TOO_FAST, OG_READING_PART_SECONDS,
                   _("Time: The ball falls too fast for Stokes’ law (Reynolds number %s, at most "
                     "%s). Use a smaller or lighter ball."),
                   reynolds, most);

  reduced->mpa_s = pa_s * 1000;
  reduced->shear_rate_1_s = 3 * speed_m_s / diameter_m;
  reduced->density_g_ml = density;
  reduced->ln_sd = root_of_squares ((double[]) {
    2 * BALL_DIAMETER_LN_SD,
    hypot (BALL_DENSITY_LN_SD * reading->ball_density_g_ml, density_sd) / difference,
    FALL_SD_MM / reading->fall_mm,
    STOPWATCH_SD_S / (seconds * sqrt (reading->n_seconds)),
    replicate_ln_sd (reading->seconds, reading->n_seconds),
    STOKES_LN_SD,
    TEMPERATURE_LN_SD,
  }, 7);
  return TRUE;
}

static gboolean
reduce_rotational (const OgReading  *reading,
                   OgReduced        *reduced,
                   GError          **error)
{
  gboolean known_rate = !isnan (reading->shear_rate_1_s);

  if (!check_positive (OG_READING_PART_VISCOSITY, reading->mpa_s, error)
      || (known_rate
          && !check_range (OG_READING_PART_SHEAR_RATE, reading->shear_rate_1_s, 1e-6, 1e7, "1/s",
                           error)))
    return FALSE;

  reduced->mpa_s = reading->mpa_s;
  reduced->shear_rate_1_s = known_rate ? reading->shear_rate_1_s : UNKNOWN_RATE_1_S;
  reduced->ln_sd = hypot (known_rate ? ROTATIONAL_LN_SD : UNKNOWN_RATE_LN_SD, TEMPERATURE_LN_SD);
  return TRUE;
}

static gboolean
reduce_pours_like (const OgReading  *reading,
                   OgReduced        *reduced,
                   GError          **error)
{
  g_return_val_if_fail (reading->likeness < OG_N_LIKENESSES, FALSE);

  reduced->mpa_s = og_likeness_get_mpa_s (reading->likeness);
  reduced->shear_rate_1_s = OG_SHEAR_POUR;
  reduced->ln_sd = hypot (POURS_LIKE_LN_SD, TEMPERATURE_LN_SD);
  return TRUE;
}

static gboolean
reduce (const OgReading  *reading,
        double            density_g_ml,
        OgReduced        *reduced,
        GError          **error)
{
  switch (reading->method)
    {
    case OG_METHOD_CUP:
      return reduce_cup (reading, density_g_ml, reduced, error);

    case OG_METHOD_BALL:
      return reduce_ball (reading, density_g_ml, reduced, error);

    case OG_METHOD_ROTATIONAL:
      return reduce_rotational (reading, reduced, error);

    case OG_METHOD_POURS_LIKE:
      return reduce_pours_like (reading, reduced, error);

    case OG_N_METHODS:
    default:
      g_return_val_if_reached (FALSE);
    }
}

gboolean
og_reading_reduce (const OgReading  *reading,
                   double            density_g_ml,
                   OgReduced        *reduced,
                   GError          **error)
{
  OgReduced result = { .reynolds = NAN, .density_g_ml = NAN };

  g_return_val_if_fail (reading != NULL && reduced != NULL, FALSE);

  if (!check_temperature (reading->temperature_c, error)
      || !reduce (reading, density_g_ml, &result, error)
      || !check_range (OG_READING_PART_VISCOSITY, result.mpa_s, 0.01, 1e9, "mPa·s", error))
    return FALSE;
  *reduced = result;
  return TRUE;
}

/* --- measurements ---------------------------------------------------------- */

static void
add_part (GArray     *parts,
          const char *ingredient_id,
          double      pct)
{
  OgPart part = { g_strdup (ingredient_id), pct };

  g_array_append_val (parts, part);
}

static void
note_line (OgFormulaPhase *phase,
           OgFormulaLine  *line,
           gpointer        user_data)
{
  add_part (user_data, line->ingredient_id, og_ppm_to_pct (line->amount));
}

void
og_measurement_set_recipe (OgMeasurement   *measurement,
                           const OgFormula *formula)
{
  g_return_if_fail (measurement != NULL && formula != NULL);

  g_clear_pointer (&measurement->material_id, g_free);
  g_array_set_size (measurement->lines, 0);
  og_formula_foreach_line (formula, note_line, measurement->lines);
}

GPtrArray *
og_measurement_contents (const OgMeasurement     *measurement,
                         const struct _OgCatalog *catalog)
{
  g_autoptr (GArray) neat = NULL;

  g_return_val_if_fail (measurement != NULL && catalog != NULL, NULL);

  if (measurement->material_id == NULL)
    return og_parts_contents (measurement->lines, catalog);

  neat = og_parts_new ();
  add_part (neat, measurement->material_id, 100);
  return og_parts_contents (neat, catalog);
}
