/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/json-read.h"
#include "core/recipe/formula.h"

G_BEGIN_DECLS

/** OgCup: a flow cup whose formula is known. Seconds to kinematic viscosity. */
typedef enum
{
  OG_CUP_ISO_3, /* ISO 2431, 3 mm */
  OG_CUP_ISO_4,
  OG_CUP_ISO_5,
  OG_CUP_ISO_6,
  OG_CUP_D1200_1, /* ASTM D1200 no. 1 */
  OG_CUP_D1200_2,
  OG_CUP_D1200_3,
  OG_CUP_D1200_4,
  OG_CUP_D1200_5,
  OG_CUP_D4212_1, /* ASTM D4212 no. 1 */
  OG_CUP_D4212_2,
  OG_CUP_D4212_3,
  OG_CUP_D4212_4,
  OG_CUP_D4212_5,
  OG_N_CUPS
} OgCup;

/** OgCupInfo: what a cup's formula is, and where it holds. */
typedef struct
{
  double      low_s;   /* shortest and longest flow time the formula holds for */
  double      high_s;
  double      relative_sd; /* of one reading: make of the cup, formula, reading; judgement */
  gboolean    recalled;    /* the formula was not checked against the standard */
} OgCupInfo;

/** Returns: (transfer none): range and error of @cup */
const OgCupInfo *og_cup_get_info     (OgCup        cup);
/** Returns: (transfer none): translated name, "ISO 2431 cup, 4 mm" */
const char      *og_cup_get_name     (OgCup        cup);
const char      *og_cup_to_nick      (OgCup        cup); /* "iso-4", "d1200-2", "d4212-3" */
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean         og_cup_from_nick    (const char  *nick,
                                      OgCup       *cup);
/** Kinematic viscosity in mm2/s of @seconds; no range check. */
double           og_cup_kinematic    (OgCup        cup,
                                      double       seconds);
/** Seconds for a kinematic viscosity in mm2/s; NAN outside the cup's range. */
double           og_cup_seconds      (OgCup        cup,
                                      double       mm2_s);

/**
 * OgMethod:
 * @OG_METHOD_CUP: flow cup, seconds
 * @OG_METHOD_BALL: falling ball in a tube
 * @OG_METHOD_ROTATIONAL: a reading in mPa.s from a rotational instrument
 * @OG_METHOD_POURS_LIKE: compared by eye with a known liquid
 */
typedef enum
{
  OG_METHOD_CUP,
  OG_METHOD_BALL,
  OG_METHOD_ROTATIONAL,
  OG_METHOD_POURS_LIKE,
  OG_N_METHODS
} OgMethod;

const char *og_method_to_nick   (OgMethod     method); /* "cup", "ball" ... */
const char *og_method_get_name  (OgMethod     method); /* translated: "Flow cup" */
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean    og_method_from_nick (const char  *nick,
                                 OgMethod    *method);

/* A liquid everybody knows the pour of, that others can be compared with by eye, has an index. Values recalled or
 * judgement. */
#define OG_N_LIKENESSES 8 /* everyday liquids that a reading may name */
/** Returns: mPa·s at 25 C of the liquid with @index below %OG_N_LIKENESSES */
double      og_likeness_get_mpa_s (guint        index);
const char *og_likeness_to_nick   (guint        index); /* "olive-oil", "castor-oil", "honey" ... */
const char *og_likeness_get_name  (guint        index); /* translated */
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean    og_likeness_from_nick (const char  *nick,
                                   guint       *index);

/** OgReading: what was read at the bench, by method. Fields of other methods are ignored. */
typedef struct
{
  OgMethod method;
  double   temperature_c;
  double   density_g_ml;   /* of the liquid; NAN: not measured (cup and ball then need the caller's estimate) */

  OgCup    cup;
  double   seconds[5];     /* replicates; n_seconds of them */
  guint    n_seconds;

  double   ball_diameter_mm, ball_density_g_ml, tube_diameter_mm, fall_mm; /* falling ball; time in seconds[] */

  double   mpa_s;          /* rotational */
  double   shear_rate_1_s; /* rotational; NAN if only spindle and speed are known */

  guint    likeness;       /* pours like */
} OgReading;

/** OgReduced: a reading turned into an observation. */
typedef struct
{
  double mpa_s;
  double ln_sd;          /* standard deviation of ln(mPa.s): method, replicates, temperature to 0.5 C */
  double shear_rate_1_s; /* representative rate at which it holds */
  double reynolds;       /* falling ball; NAN otherwise */
  double density_g_ml;   /* of the liquid, that it was reduced with; NAN if the method needs none */
} OgReduced;

/**
 * OgBenchError:
 * @OG_BENCH_ERROR_RANGE: a time, temperature or dimension outside what the method covers
 * @OG_BENCH_ERROR_TOO_FAST: the ball falls too fast for Stokes' law (Reynolds number above 0.1)
 * @OG_BENCH_ERROR_VALUE: a number is missing, not finite or not above 0
 */
typedef enum
{
  OG_BENCH_ERROR_RANGE,
  OG_BENCH_ERROR_TOO_FAST,
  OG_BENCH_ERROR_VALUE
} OgBenchError;

#define OG_BENCH_ERROR (og_bench_error_quark ())
/** The domain of #OgBenchError. */
GQuark og_bench_error_quark (void);

/** OgReadingPart: which number of a reading an #OgBenchError is about. */
typedef enum
{
  OG_READING_PART_NONE,
  OG_READING_PART_SECONDS,
  OG_READING_PART_TEMPERATURE,
  OG_READING_PART_DENSITY,
  OG_READING_PART_BALL_DIAMETER,
  OG_READING_PART_BALL_DENSITY,
  OG_READING_PART_TUBE_DIAMETER,
  OG_READING_PART_FALL,
  OG_READING_PART_VISCOSITY,
  OG_READING_PART_SHEAR_RATE
} OgReadingPart;

/** Returns: %OG_READING_PART_NONE also for an error of another domain */
OgReadingPart og_bench_error_get_part (const GError *error);

/**
 * og_reading_reduce:
 * @reading: as read
 * @density_g_ml: used where the reading has none (the prediction's), above 0
 *
 * Cups: ISO 2431 and ASTM D1200/D4212 formulas on the mean of the flow times; for liquids that are
 * Newtonian or nearly so only. The rate in a cup varies along the way through it; 100 1/s stands
 * for it (judgement). Ball: Stokes with Faxen's wall factor (recalled, good to d/D = 0.3), refused
 * above Reynolds 0.1; it holds at the rate 3v/d at the ball. Rotational without a rate: taken at 10
 * 1/s with a wider standard deviation (judgement). Pours like: the viscosity of the other liquid at
 * 25 C, at the rate of pouring, 10 1/s (judgement).
 *
 * Temperatures -10 ... 120 C. The standard deviation holds the method, the standard error of
 * replicates, 0.5 C of temperature (2.5 %: 1 C shifts the viscosity of oils by 3-7 %) and the
 * density.
 *
 * Returns: %FALSE, leaving @reduced alone, with an #OgBenchError whose message says what to do
 * instead
 */
gboolean og_reading_reduce (const OgReading  *reading,
                            double            density_g_ml,
                            OgReduced        *reduced,
                            GError          **error);

/**
 * OgMeasurement:
 *
 * A reading with what it was taken of: one recipe as it was then, or one neat material. Plain
 * value; copies are deep.
 */
typedef struct
{
  char      *id;          /* unique in its log; "m1", "m2" ... */
  char      *material_id; /* neat material, or NULL: the recipe in @lines */
  GArray    *lines;       /* of OgPart: the recipe as measured, wt %; empty for a neat material */
  OgReading  reading;
  OgReduced  reduced;
  char      *date;        /* ISO 8601, as given; may be "" */
  char      *lot;         /* may be "" */
  char      *note;        /* may be "" */
  gboolean   set_aside;   /* taken out by the user: kept but not learned from */
  gboolean   accepted;    /* learned from although it contradicts the prediction */
  JsonObject *extra;      /* nullable: members of the file that this version does not know */
} OgMeasurement;

/** Returns: (transfer full): a measurement without a target */
OgMeasurement *og_measurement_new       (void);
/** Returns: (transfer full): a copy; unknown members are shared by reference */
OgMeasurement *og_measurement_copy      (const OgMeasurement  *measurement);
/** Whether two #OgMeasurement say the same in a file. */
gboolean       og_measurement_equal     (gconstpointer         a,
                                         gconstpointer         b);
/** Frees @measurement with all it holds. */
void           og_measurement_free      (OgMeasurement        *measurement);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgMeasurement, og_measurement_free)
/** Notes the lines of @formula as what was measured. */
void           og_measurement_set_recipe (OgMeasurement       *measurement,
                                          const OgFormula     *formula);
/** Returns: (transfer full): contents as og_formula_contents() would give for what was measured */
GPtrArray     *og_measurement_contents  (const OgMeasurement     *measurement,
                                         const struct _OgCatalog *catalog);
/**
 * Returns: (transfer full): the JSON object of the file; sorted keys are the writer's business. Can
 * be read back if the id is not empty and the reading can be reduced.
 */
JsonObject    *og_measurement_to_json   (const OgMeasurement  *measurement);
/**
 * Reduces the reading again, with the density it was reduced with.
 *
 * Returns: (transfer full): NULL with an #OgStorageError, whose message names id and member, if one
 * is missing or impossible
 */
OgMeasurement *og_measurement_from_json (JsonObject           *object,
                                         GError              **error);
/** The same of the object @reader stands on. Returns: (transfer full): %NULL with its error */
OgMeasurement *og_measurement_read      (const OgJsonReader   *reader);

/**
 * Returns: (transfer full): "m" and a number above that of every id in @measurements (element-type
 * OgMeasurement)
 */
char          *og_measurements_next_id  (const GPtrArray      *measurements);
/**
 * Returns: (nullable) (transfer none): the measurement called @id; @position (nullable) says where
 * it stands
 */
OgMeasurement *og_measurements_find     (const GPtrArray      *measurements,
                                         const char           *id,
                                         guint                *position);

G_END_DECLS
