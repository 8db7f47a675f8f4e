/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "core/base/finding.h"
#include "core/base/practice.h"
#include "core/make/stove-private.h"

/* Common practice or judgement, as in stove.c. */
#define WARM_MARGIN_C 10.0       /* hot enough over the wrist to wear out what is gentle */
#define SMALL_ADDITION 0.05      /* share of the pot that can go into it cold without harm */
#define MAIN_SHARE 0.05          /* from here on a flash or smoke point counts fully */

/* --- words and findings -------------------------------------------------- */

void
og_stove_add_sentence (OgSaying **text,
                       OgSaying  *sentence)
{
  g_autoptr (OgSaying) before = *text;

  *text = sentence;
  if (before == NULL)
    return;
  /* Translators: two sentences, one after the other. */
  *text = og_saying_new (N_("%s %s"), og_word_saying (before), og_word_saying (sentence));
  og_saying_unref (sentence);
}

void
og_stove_step_caution (OgStoveStep *step,
                       OgSaying    *sentence)
{
  og_stove_add_sentence (&step->step.caution, sentence);
}

void
og_stove_work_finding (OgStoveWork *stove,
                       OgSeverity   severity,
                       const char  *code,
                       OgSaying    *source,
                       OgSaying    *text)
{
  OgFinding *finding = og_finding_new (severity, code, text, source);
  GPtrArray *findings = stove->plan->findings;
  guint at = findings->len;

  for (guint i = findings->len; i-- > 0;)
    {
      const OgFinding *other = g_ptr_array_index (findings, i);

      if (og_saying_equal (other->text, text))
        {
          og_finding_free (finding);
          return;
        }
      if (other->severity < severity)
        at = i;
    }
  g_ptr_array_insert (findings, (gint) at, finding);
}

void
og_stove_work_warn (OgStoveWork *stove,
                    OgStoveStep *step,
                    OgSeverity   severity,
                    const char  *code,
                    OgSaying    *text)
{
  og_stove_work_finding (stove, severity, code, og_common_practice_new (), og_saying_ref (text));
  og_stove_step_caution (step, text);
}

OgWord
og_stove_celsius (double temperature_c)
{
  return og_word_fixed (temperature_c, 0);
}

gboolean
og_stove_body_stands (const OgStoveWork *stove)
{
  return stove->pot.result->body >= OG_BODY_SOFT_SET && !isnan (stove->sets.temperature_c);
}

/* --- cautions ------------------------------------------------------------ */

void
og_stove_caution_dust (OgStoveStep *step)
{
  og_stove_step_caution (step, og_saying_plain (N_("Do not breathe the dust: wear a dust mask, keep away "
                                                   "draughts.")));
}

/* Too near to fire or smoke is refused where the material is more than a trace of the pot. */
static OgSeverity
danger (OgStoveWork *stove,
        gboolean     of_main)
{
  if (!of_main || stove->pot.setup.override)
    return OG_SEVERITY_CAUTION;
  stove->plan->refused = TRUE;
  return OG_SEVERITY_BLOCKING;
}

static void
caution_fire (OgStoveWork         *stove,
              OgStoveStep         *step,
              const OgStoveLimits *limits,
              const OgStoveLimits *main_limits,
              double               temperature_c)
{
  double main_flash_c = main_limits->flash.temperature_c;
  double main_smoke_c = main_limits->smoke.temperature_c;

  if (temperature_c > limits->flash.temperature_c - OG_FLASH_MARGIN_K)
    og_stove_work_warn (stove, step,
                        danger (stove, temperature_c > OG_STOVE_WARM_C
                                         && temperature_c > main_flash_c - OG_FLASH_MARGIN_K),
                        "stove-flash",
                        og_saying_new (N_("Vapour of %s can catch fire from about %s °C: stay %s °C below, "
                                          "away from flames and sparks, and follow your local rules for "
                                          "flammable liquids."),
                                       og_word_text (limits->flash.name),
                                       og_stove_celsius (limits->flash.temperature_c),
                                       og_stove_celsius (OG_FLASH_MARGIN_K)));
  if (temperature_c > limits->smoke.temperature_c - OG_SMOKE_MARGIN_K)
    og_stove_work_warn (stove, step,
                        danger (stove, temperature_c > main_smoke_c - OG_SMOKE_MARGIN_K),
                        "stove-smoke",
                        og_saying_new (N_("%s begins to smoke at about %s °C; stay well below."),
                                       og_word_text (limits->smoke.name),
                                       og_stove_celsius (limits->smoke.temperature_c)));
}

static void
caution_no_temperature (OgStoveWork        *stove,
                        OgStoveStep        *step,
                        const OgStoveLimit *shy,
                        const OgStoveLimit *sets)
{
  og_stove_work_warn (stove, step, OG_SEVERITY_CAUTION, "stove-no-temperature",
                      og_saying_new (N_("%s should not get warmer than about %s °C, but %s sets at about %s °C: no "
                                        "temperature suits both. Look for lumps, or take another oil."),
                                     og_word_text (shy->name), og_stove_celsius (shy->temperature_c),
                                     og_word_text (sets->name), og_stove_celsius (sets->temperature_c)));
}

/* Hotter than one of the materials bears, because the recipe leaves no cooler moment for it. */
static void
caution_shy (OgStoveWork        *stove,
             OgStoveStep        *step,
             const OgStoveLimit *shy,
             double              temperature_c)
{
  if (og_stove_body_stands (stove) && temperature_c <= og_stove_coolest_c (stove) + OG_STOVE_SAME_C)
    caution_no_temperature (stove, step, shy, &stove->sets);
  else
    og_stove_work_warn (stove, step, OG_SEVERITY_CAUTION, "stove-heat-shy",
                        og_saying_new (N_("%s should not get warmer than about %s °C, and here it does: change the "
                                          "order of the phases so that it goes into a cooler pot, or take another "
                                          "material."),
                                       og_word_text (shy->name), og_stove_celsius (shy->temperature_c)));
}

void
og_stove_caution_limits (OgStoveWork         *stove,
                         OgStoveStep         *step,
                         const OgStoveLimits *limits,
                         const OgStoveCharge *charge,
                         double               temperature_c)
{
  OgStoveLimits main_limits = OG_STOVE_NO_LIMITS;

  og_stove_pot_main_limits (&stove->pot, charge, MAIN_SHARE, &main_limits);
  caution_fire (stove, step, limits, &main_limits, temperature_c);
  if (temperature_c > limits->shy.temperature_c)
    caution_shy (stove, step, &limits->shy, temperature_c);
}

void
og_stove_caution_heat (OgStoveWork *stove,
                       OgStoveStep *step,
                       double       temperature_c)
{
  g_autoptr (OgStoveCharge) nothing = og_stove_charge_new (0, NAN);

  if (temperature_c > OG_HOT_OIL_C)
    og_stove_work_warn (stove, step, OG_SEVERITY_CAUTION, "stove-hot-oil",
                        og_saying_plain (N_("Oil above 130 °C burns the skin at once and ages fast: wear "
                                            "gloves, goggles and long sleeves, and keep this step short.")));
  if (temperature_c >= OG_STEAM_C)
    og_stove_step_caution (step, og_saying_plain (N_("Keep water away: a drop of it turns to steam and throws "
                                                     "the hot oil about.")));
  if (temperature_c > OG_WATER_BATH_C)
    og_stove_work_warn (stove, step, OG_SEVERITY_NOTE, "stove-heat-source",
                        og_saying_plain (N_("A water bath does not get the oil past about 98 °C: use direct "
                                            "gentle heat or an oven, with a thermometer in the oil, never an "
                                            "open flame.")));
  og_stove_caution_limits (stove, step, &stove->limits, nothing, temperature_c);
}

void
og_stove_caution_too_cool (OgStoveWork       *stove,
                           OgStoveStep       *step,
                           const OgStoveHeat *heat,
                           double             temperature_c)
{
  g_autoptr (OgSaying) names = og_stove_heat_names (heat);

  if (!(temperature_c < heat->temperature_c - OG_STOVE_SAME_C))
    return;
  og_stove_work_warn (stove, step, OG_SEVERITY_CAUTION, "stove-too-cool",
                      og_saying_new (N_("The recipe says %s °C, but %s may need about %s °C to become clear."),
                                     og_stove_celsius (temperature_c), og_word_saying (names),
                                     og_stove_celsius (heat->temperature_c)));
}

double
og_stove_coolest_c (const OgStoveWork *stove)
{
  if (!og_stove_body_stands (stove))
    return OG_STOVE_WRIST_C;
  return fmax (OG_STOVE_WRIST_C, stove->sets.temperature_c + OG_STOVE_SET_MARGIN_K);
}

void
og_stove_caution_placing (OgStoveWork         *stove,
                          OgStoveStep         *step,
                          const OgStoveCharge *charge,
                          double               recipe_c,
                          double               borne_c)
{
  g_autoptr (OgSaying) inherited = og_stove_charge_list (charge, og_stove_is_inherited, FALSE);
  g_autoptr (OgSaying) joined = og_stove_charge_list (charge, og_stove_is_joined, FALSE);
  double said_c = isnan (charge->recipe_c) ? recipe_c : charge->recipe_c;
  OgStoveLimits limits = OG_STOVE_NO_LIMITS;

  if (og_stove_charge_has (charge, og_stove_is_joined))
    og_stove_work_warn (stove, step, OG_SEVERITY_CAUTION, "stove-dry-start",
                        og_saying_new (N_("The recipe would heat this alone: %s. It goes in with the first liquid "
                                          "instead."),
                                       og_word_saying (joined)));
  if (og_stove_charge_has (charge, og_stove_is_inherited) && isnan (charge->recipe_c))
    og_stove_work_warn (stove, step, OG_SEVERITY_NOTE, "stove-temperature-inherited",
                        og_saying_new (N_("The recipe gives no temperature for %s: that of the liquid of the phase "
                                          "is taken, about %s °C."),
                                       og_word_saying (inherited), og_stove_celsius (recipe_c)));
  og_stove_charge_limits (charge, &limits);
  if (borne_c <= said_c - OG_STOVE_SAME_C && said_c > limits.shy.temperature_c)
    og_stove_work_warn (stove, step, OG_SEVERITY_CAUTION, "stove-heat-shy",
                        og_saying_new (N_("%s should not get warmer than about %s °C: it goes in at about %s °C, not "
                                          "at the %s °C of the recipe."),
                                       og_word_text (limits.shy.name), og_stove_celsius (limits.shy.temperature_c),
                                       og_stove_celsius (borne_c), og_stove_celsius (said_c)));
}

void
og_stove_caution_hot_gentle (OgStoveWork         *stove,
                             OgStoveStep         *step,
                             const OgStoveCharge *charge,
                             double               temperature_c)
{
  g_autoptr (OgSaying) names = NULL;
  double coolest_c = og_stove_coolest_c (stove);

  if (!(temperature_c > coolest_c + WARM_MARGIN_C) || !og_stove_charge_has (charge, og_stove_is_gentle))
    return;
  names = og_stove_charge_list (charge, og_stove_is_gentle, FALSE);
  og_stove_work_warn (stove, step, OG_SEVERITY_NOTE, "stove-heat-wears",
                      og_saying_new (N_("Heat wears out %s; the end of the work, at about %s °C, is the better "
                                        "moment."),
                                     og_word_saying (names), og_stove_celsius (coolest_c)));
}

/* The lower of what the pot and the addition bear. */
static OgStoveLimit
bears (const OgStoveWork   *stove,
       const OgStoveCharge *charge)
{
  OgStoveLimits limits = stove->limits;

  og_stove_charge_limits (charge, &limits);
  return limits.shy;
}

/* Warms the addition to what it takes for @target_c, or to what it bears if that keeps the pot above @limit_c.
 * Returns: %FALSE, leaving @step alone, if it bears neither */
static gboolean
warm_first (OgStoveWork         *stove,
            OgStoveStep         *step,
            const OgStoveCharge *charge,
            const OgHeatBody    *added,
            double               limit_c)
{
  double shy_c = bears (stove, charge).temperature_c;
  double target_c = fmin (limit_c + OG_STOVE_SET_MARGIN_K, step->before_c);
  double warm_c = og_heat_warm_first (&stove->pot.both, step->before_c, added, target_c);

  if (warm_c > shy_c)
    {
      warm_c = shy_c;
      target_c = og_heat_mix (&stove->pot.both, step->before_c, added, warm_c);
    }
  if (target_c < limit_c || target_c > shy_c)
    return FALSE;
  step->warm_first_c = step->added_c = warm_c;
  step->after_c = target_c;
  return TRUE;
}

static void
caution_cold (OgStoveWork         *stove,
              OgStoveStep         *step,
              const OgStoveCharge *charge,
              const OgHeatBody    *added)
{
  OgStoveLimit shy = bears (stove, charge), sets = { step->limit_c, step->limit_name };

  if (!warm_first (stove, step, charge, added, step->limit_c))
    caution_no_temperature (stove, step, &shy, &sets);
  else
    og_stove_work_warn (stove, step, OG_SEVERITY_CAUTION, "stove-chill",
                        og_saying_new (N_("Cold from the shelf it would chill the pot to about %s °C, %s K "
                                          "below about %s °C, where %s sets: warm it to about %s °C before it "
                                          "goes in, or lumps form."),
                                       og_stove_celsius (step->cold_after_c), og_word_fixed (step->chill_k, 1),
                                       og_stove_celsius (step->limit_c), og_word_text (step->limit_name),
                                       og_stove_celsius (step->warm_first_c)));
}

/* A wax is liquid in oil below its melting point for a while, but grains fall out of it where it is chilled. */
static void
caution_wax (OgStoveWork         *stove,
             OgStoveStep         *step,
             const OgStoveCharge *charge,
             const OgHeatBody    *added)
{
  OgStoveLimit melts = og_stove_pot_melts (&stove->pot);

  if (!(step->cold_after_c < melts.temperature_c))
    return;
  if (step->before_c >= melts.temperature_c && warm_first (stove, step, charge, added, melts.temperature_c))
    og_stove_work_warn (stove, step, OG_SEVERITY_CAUTION, "stove-wax-chill",
                        og_saying_new (N_("Cold from the shelf it would chill the pot to about %s °C, below about %s "
                                          "°C, where %s melts: warm it to about %s °C before it goes in, or grains may "
                                          "form."),
                                       og_stove_celsius (step->cold_after_c), og_stove_celsius (melts.temperature_c),
                                       og_word_text (melts.name), og_stove_celsius (step->warm_first_c)));
  else
    og_stove_work_warn (stove, step, OG_SEVERITY_CAUTION, "stove-wax-chill",
                        og_saying_new (N_("The pot is below about %s °C then, where %s melts: grains may form. Stir, "
                                          "and look for them."),
                                       og_stove_celsius (melts.temperature_c), og_word_text (melts.name)));
}

void
og_stove_caution_set_already (OgStoveWork *stove,
                              OgStoveStep *step)
{

  og_stove_work_warn (stove, step, OG_SEVERITY_CAUTION, "stove-set",
                      og_saying_new (N_("The body has set by then, at about %s °C: stir this in sooner, while "
                                        "the pot still flows."),
                                     og_stove_celsius (step->limit_c)));
}

static void
caution_both_cool (OgStoveWork         *stove,
                   OgStoveStep         *step,
                   const OgStoveCharge *charge)
{
  double both_c = step->limit_c + OG_STOVE_SET_MARGIN_K;
  OgStoveLimit shy = bears (stove, charge), sets = { step->limit_c, step->limit_name };

  if (both_c > shy.temperature_c)
    caution_no_temperature (stove, step, &shy, &sets);
  else
    og_stove_work_warn (stove, step, OG_SEVERITY_CAUTION, "stove-below-setting",
                        og_saying_new (N_("This is below about %s °C, where %s sets; so much oil may leave "
                                          "lumps. Bring both to about %s °C if it does."),
                                       og_stove_celsius (step->limit_c), og_word_text (step->limit_name),
                                       og_stove_celsius (both_c)));
}

void
og_stove_judge_addition (OgStoveWork         *stove,
                         OgStoveStep         *step,
                         const OgStoveCharge *charge)
{
  g_auto (OgHeatBody) added = { 0 };
  double all_g = stove->pot.g + step->added_g;
  gboolean small = step->added_g < SMALL_ADDITION * all_g;
  OgStoveLimit sets = og_stove_pot_sets (&stove->pot, all_g);
  const char *unknown = og_stove_pot_sets_somewhere (&stove->pot);

  og_stove_pot_charge_body (&stove->pot, charge, &added);
  step->added_c = stove->plan->room_c;
  step->limit_c = sets.temperature_c;
  step->limit_name = g_strdup (sets.name);
  step->cold_after_c = og_heat_mix (&stove->pot.both, step->before_c, &added, step->added_c);
  step->after_c = step->cold_after_c;
  if (step->before_c < step->limit_c)
    {
      if (og_stove_body_stands (stove))
        og_stove_caution_set_already (stove, step);
      else if (!small)
        caution_both_cool (stove, step, charge);
      return;
    }
  if (unknown != NULL && !small)
    og_stove_work_warn (stove, step, OG_SEVERITY_CAUTION, "stove-setting-unknown",
                        og_saying_new (N_("The temperature at which %s sets is not known: bring this to the "
                                          "temperature of the pot before it goes in, or lumps may form."),
                                       og_word_text (unknown)));
  if (!(step->cold_after_c < step->limit_c))
    {
      if (!small)
        caution_wax (stove, step, charge, &added);
      return;
    }
  step->chill_k = step->limit_c - step->cold_after_c;
  caution_cold (stove, step, charge, &added);
}
