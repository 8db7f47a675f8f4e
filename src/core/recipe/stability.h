/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/json-read.h"

G_BEGIN_DECLS

/** OgStabilityTest: settings of common practice (no source; ISO/TR 18811 leaves them to the
 * maker). */
typedef enum
{
  OG_STABILITY_COLD,       /* 4 C, dark: the reference */
  OG_STABILITY_ROOM,       /* 20 ... 25 C, dark, the whole time claimed */
  OG_STABILITY_WARM,       /* 40 C, 3 months */
  OG_STABILITY_CYCLE,      /* five cycles of 24 h at -10 C and 24 h at 40 C */
  OG_STABILITY_LIGHT,      /* window, against a twin in foil, 12 weeks */
  OG_STABILITY_CENTRIFUGE, /* 3000 rpm, 30 min */
  OG_N_STABILITY_TESTS
} OgStabilityTest;

const char *og_stability_test_to_nick   (OgStabilityTest   test); /* "warm" */
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean    og_stability_test_from_nick (const char       *nick,
                                         OgStabilityTest  *test);
const char *og_stability_test_get_name  (OgStabilityTest   test); /* translated, short */
/** Returns: translated: what is done */
const char *og_stability_test_describe  (OgStabilityTest   test);

/** OgStabilityReading: what is read at a due date. */
typedef enum
{
  OG_READING_LOOK,
  OG_READING_ODOUR,
  OG_READING_COLOUR,
  OG_READING_VISCOSITY_MPA_S,
  OG_READING_PEROXIDE_MEQ_KG,
  OG_READING_WEIGHT_LOSS_PCT,
  OG_READING_LEAK,
  OG_READING_SEPARATION,
  OG_N_STABILITY_READINGS
} OgStabilityReading;

const char *og_stability_reading_to_nick   (OgStabilityReading   reading); /* "viscosity_mpa_s" */
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean    og_stability_reading_from_nick (const char          *nick,
                                            OgStabilityReading  *reading);
/** Returns: translated, with its unit */
const char *og_stability_reading_get_name  (OgStabilityReading   reading);

/** OgStabilityDue: one date of the plan. */
typedef struct
{
  GDate           date;
  OgStabilityTest test;
  guint           day;      /* since the start */
  guint           readings; /* bits: 1 << OgStabilityReading */
} OgStabilityDue;

/**
 * og_stability_plan:
 * @start: a valid day
 * @claimed_months: how long the product is to keep at room temperature, 1 ... 60
 *
 * Returns: (transfer full) (element-type OgStabilityDue): by date, then test
 */
GArray *og_stability_plan          (const GDate  *start,
                                    guint         claimed_months);
/** Returns: (transfer full): rows `date,day,test,setting,reading,value,note`, one a reading, to
 * be filled in */
char   *og_stability_plan_to_csv   (const GArray *plan);

/** OgStabilityResult: one thing read. A plain value. */
typedef struct
{
  GDate              date;
  OgStabilityTest    test;
  OgStabilityReading reading;
  double             value; /* in the unit of the reading; NAN for a look or a smell */
  char              *note;  /* nullable */
} OgStabilityResult;

/** Returns: (transfer full): a reading of @test on @date; @value in the unit of @reading, or NAN;
 * @note (nullable) is copied */
OgStabilityResult *og_stability_result_new       (const GDate              *date,
                                                  OgStabilityTest           test,
                                                  OgStabilityReading        reading,
                                                  double                    value,
                                                  const char               *note);
/** Returns: (transfer full): a copy that shares nothing with its original */
OgStabilityResult *og_stability_result_copy      (const OgStabilityResult  *result);
/** Frees @result with all it holds. */
void               og_stability_result_free      (OgStabilityResult        *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgStabilityResult, og_stability_result_free)
/** A #GEqualFunc over #OgStabilityResult. */
gboolean           og_stability_result_equal     (gconstpointer             a,
                                                  gconstpointer             b);
/** Returns: (transfer full): {"date","test","reading","value","note"}; what is not known is left
 * out */
JsonObject        *og_stability_result_to_json   (const OgStabilityResult  *result);
/** Returns: (transfer full): %NULL with the error of @reader, which stands on a result */
OgStabilityResult *og_stability_result_read      (const OgJsonReader       *reader);

/**
 * og_stability_supported_months:
 * @test_months: how long the product stood at @test_c without fault
 *
 * What a warm test speaks for by a factor of 2 for 10 C (common practice, no source). An estimate
 * only: a melting wax says nothing about room temperature, and oxidation waits before it begins.
 */
double             og_stability_supported_months (double                    test_months,
                                                  double                    test_c,
                                                  double                    store_c);

G_END_DECLS
