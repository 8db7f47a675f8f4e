/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/make/stove.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/conditions.h"
#include "core/base/finding.h"
#include "core/base/nick.h"
#include "core/base/practice.h"
#include "core/make/stove-private.h"

/* Bench practice. None of these has a published source; they are common practice or judgement. */
#define NOTICEABLE_SHARE 0.02
#define MUCH_SHARE 0.1
#define FULL_SHARE 0.9
#define SAME_MINUTES 10.0        /* minutes are said by fives from here on */

static const OgNick acts[] = {
  [OG_STOVE_PREPARE] = { "prepare", NULL }, [OG_STOVE_BEGIN] = { "begin", NULL },
  [OG_STOVE_WARM] = { "warm", NULL },       [OG_STOVE_CLEAR] = { "clear", NULL },
  [OG_STOVE_SHEAR] = { "shear", NULL },     [OG_STOVE_COOL] = { "cool", NULL },
  [OG_STOVE_ADD] = { "add", NULL },         [OG_STOVE_FILL] = { "fill", NULL },
  [OG_STOVE_FINISH] = { "finish", NULL },
};
OG_DEFINE_TO_NICK (OgStoveAct, og_stove_act, acts)

void
og_stove_setup_init (OgStoveSetup *setup)
{
  g_return_if_fail (setup != NULL);

  *setup = (OgStoveSetup) {
    .room_c = OG_TEMPERATURE_ROOM_C,
    .vessel = OG_VESSEL_GLASS,
    .vessel_ml = NAN,
    .stirred = TRUE,
    .batch_g = NAN,
    .start_c = NAN,
    .cool_to_c = NAN,
    .cooled = { NAN, NAN, NAN, NAN, NAN },
  };
}

static void
step_free (OgStoveStep *step)
{
  og_saying_unref (step->step.text);
  og_saying_unref (step->step.caution);
  g_free (step->limit_name);
  if (step->split != NULL)
    g_free (step->split->name);
  g_free (step->split);
  g_free (step);
}

/* Takes @text. */
static OgStoveStep *
add_step (OgStoveWork *stove,
          OgStoveAct   act,
          guint        phase_id,
          double       temperature_c,
          OgSaying    *text)
{
  OgStoveStep *step = g_new0 (OgStoveStep, 1);

  step->act = act;
  step->step.text = text;
  step->step.temperature_c = temperature_c;
  step->step.phase_id = phase_id;
  step->before_c = step->after_c = act == OG_STOVE_PREPARE ? NAN : stove->pot.c;
  step->pot_g = stove->pot.g;
  step->added_g = step->added_c = step->cold_after_c = step->limit_c = step->chill_k = NAN;
  step->warm_first_c = step->heat_kj = NAN;
  step->minutes = (OgEstimate) { NAN, NAN, NAN };
  g_ptr_array_add (stove->plan->steps, step);
  return step;
}

static OgStoveStep *
last_step (const OgStoveWork *stove)
{
  return g_ptr_array_index (stove->plan->steps, stove->plan->steps->len - 1);
}

/* --- the pot's limits ---------------------------------------------------- */

static void
take_in (OgStoveWork         *stove,
         const OgStoveCharge *charge,
         double               after_c)
{
  og_stove_charge_limits (charge, &stove->limits);
  og_stove_pot_take (&stove->pot, charge, after_c);
  stove->suspended |= og_stove_charge_has (charge, og_stove_is_suspended)
                      || og_stove_charge_has (charge, og_stove_is_dispersion);
  stove->sets = og_stove_pot_sets (&stove->pot, stove->pot.g);
}

/* As cool as possible, yet still liquid. */
static double
gentle_c (const OgStoveWork *stove)
{
  return isnan (stove->pot.setup.cool_to_c) ? og_stove_coolest_c (stove) : stove->pot.setup.cool_to_c;
}

/* --- steps --------------------------------------------------------------- */

typedef void (*ChargeFunc) (OgStoveWork *stove, const OgStoveCharge *charge);

static void
foreach_charge (OgStoveWork *stove,
                GPtrArray   *phases,
                ChargeFunc   func)
{
  for (guint i = 0; i < phases->len; i++)
    {
      GPtrArray *charges = g_ptr_array_index (phases, i);

      for (guint j = 0; j < charges->len; j++)
        func (stove, g_ptr_array_index (charges, j));
    }
}

static void
stir_jars (OgStoveWork         *stove,
           const OgStoveCharge *charge)
{
  g_autoptr (OgSaying) names = NULL;

  if (!og_stove_charge_has (charge, og_stove_is_dispersion))
    return;
  names = og_stove_charge_list (charge, og_stove_is_dispersion, FALSE);
  add_step (stove, OG_STOVE_PREPARE, charge->phase_id, NAN,
            og_saying_new (N_("Stir the jar down to the bottom before you take from it, because the colour "
                              "settles: %s."),
                           og_word_saying (names)));
}

static void
weigh (OgStoveWork *stove,
       GPtrArray   *phases)
{
  gboolean dusty = FALSE;
  OgStoveStep *step;

  for (guint i = 0; i < phases->len; i++)
    {
      GPtrArray *charges = g_ptr_array_index (phases, i);

      for (guint j = 0; j < charges->len; j++)
        dusty = dusty || og_stove_charge_has (g_ptr_array_index (charges, j), og_stove_is_dusty);
    }
  step = add_step (stove, OG_STOVE_PREPARE, 0, NAN,
                   og_saying_new (N_("Dry all tools, and weigh out every line of the recipe for a batch of %s "
                                     "g before anything is heated."),
                                  og_stove_grams (stove->plan->batch_g)));
  if (dusty)
    og_stove_caution_dust (step);
}

static void
wet_powders (OgStoveWork         *stove,
             const OgStoveCharge *charge)
{
  g_autoptr (OgSaying) names = NULL;

  if (!og_stove_charge_has (charge, og_stove_is_suspended))
    return;
  names = og_stove_charge_list (charge, og_stove_is_suspended, FALSE);
  og_stove_caution_dust (add_step (stove, OG_STOVE_PREPARE, charge->phase_id, NAN,
                                   og_saying_new (N_("Wet the powder with a little of the weighed oil and rub "
                                                     "it until no lump is left: %s."),
                                                  og_word_saying (names))));
}

static guint
minutes_said (double minutes)
{
  if (minutes < SAME_MINUTES)
    return (guint) fmax (round (minutes), 1.0);
  return (guint) (5.0 * round (minutes / 5.0));
}

static OgSaying *
minutes_saying (const OgStoveWork *stove,
                const OgEstimate  *minutes)
{
  const guint said = minutes_said (minutes->value);

  /* Translators: minutes, least and most minutes, °C, then name and ml of a vessel */
  return og_saying_new_plural (NP_("That takes about %s minute (%s to %s) in a room of %s °C (%s, %s ml).",
                                   "That takes about %s minutes (%s to %s) in a room of %s °C (%s, %s ml)."),
                               said, og_word_count (said), og_word_count (minutes_said (minutes->low80)),
                               og_word_count (minutes_said (minutes->high80)),
                               og_stove_celsius (stove->plan->room_c),
                               og_vessel_kind_word (stove->plan->vessel.kind),
                               og_word_fixed (stove->plan->vessel.size_ml, 0));
}

/* How long the pot takes, and what decides it. */
static void
say_minutes (OgStoveWork *stove,
             OgStoveStep *step)
{
  if (isinf (step->minutes.value))
    {
      og_stove_work_warn (stove, step, OG_SEVERITY_CAUTION, "stove-room-too-warm",
                          og_saying_new (N_("In a room of %s °C it never gets that cool by itself: stand it "
                                            "in cool water, and let none get in."),
                                         og_stove_celsius (stove->plan->room_c)));
      return;
    }
  if (isnan (step->minutes.value))
    return;
  og_stove_add_sentence (&step->step.text, minutes_saying (stove, &step->minutes));
  if (!stove->cooled)
    og_stove_add_sentence (&step->step.text,
                           og_saying_plain (stove->pot.setup.stirred
                                                ? N_("Left standing it takes about a third longer and stays hot in "
                                                     "the middle.")
                                                : N_("It stands still: stir before you measure, because it stays "
                                                     "hot in the middle.")));
  stove->cooled = TRUE;
}

static OgSaying *
cool_text (double temperature_c)
{

  if (temperature_c >= OG_WRIST_LOW_C && temperature_c <= OG_WRIST_HIGH_C)
    return og_saying_plain (N_("Let the pot cool, stirring now and then, until it feels barely warm to the "
                               "inner wrist, about 35 to 40 °C."));
  return og_saying_new (N_("Let the pot cool, stirring gently, to about %s °C."),
                        og_stove_celsius (temperature_c));
}

/* Brings the pot to @temperature_c; says nothing where it is there already. */
static void
reach (OgStoveWork *stove,
       guint        phase_id,
       double       temperature_c)
{
  OgStoveStep *step;

  if (isnan (temperature_c))
    return;
  if (temperature_c > stove->pot.c + OG_STOVE_SAME_C)
    {
      step = add_step (stove, OG_STOVE_WARM, phase_id, temperature_c,
                       og_saying_new (N_("Warm the pot slowly, stirring, to about %s °C."),
                                      og_stove_celsius (temperature_c)));
      og_stove_caution_heat (stove, step, temperature_c);
      og_stove_pot_warm (&stove->pot, step, temperature_c);
      stove->heated = TRUE;
    }
  else if (temperature_c >= stove->pot.c - OG_STOVE_SAME_C)
    return;
  else
    {
      step = add_step (stove, OG_STOVE_COOL, phase_id, temperature_c, cool_text (temperature_c));
      og_stove_pot_cool (&stove->pot, step, temperature_c);
      say_minutes (stove, step);
    }
  step->after_c = temperature_c;
}

static OgSaying *
clear_text (const OgStoveHeat *heat,
            double             temperature_c)
{
  g_autoptr (OgSaying) names = og_stove_heat_names (heat);

  if (heat->unknown)
    return og_saying_new (N_("Warm slowly, stirring, until the oil is clear and nothing solid is left of %s. "
                             "The temperature this takes is not known; watch for clearness."),
                          og_word_saying (names));
  if (isnan (heat->low_c) || isnan (heat->high_c))
    return og_saying_new (N_("Stir at about %s °C until the oil is clear and nothing solid is left of %s, at "
                             "the lowest temperature that keeps it clear."),
                          og_stove_celsius (temperature_c), og_word_saying (names));
  return og_saying_new (N_("Stir at about %s °C until the oil is clear and nothing solid is left of %s. Lots "
                           "differ, clearing between about %s and %s °C; hold at the lowest temperature that "
                           "keeps yours clear."),
                        og_stove_celsius (temperature_c), og_word_saying (names),
                        og_stove_celsius (heat->low_c), og_stove_celsius (heat->high_c));
}

static void
shear (OgStoveWork         *stove,
       const OgStoveCharge *charge)
{
  g_autoptr (OgSaying) names = NULL;

  if (!og_stove_charge_has (charge, og_stove_is_sheared))
    return;
  names = og_stove_charge_list (charge, og_stove_is_sheared, FALSE);
  add_step (stove, OG_STOVE_SHEAR, charge->phase_id, stove->pot.c,
            og_saying_new (N_("Work the pot with a fast mixer for some minutes until no grain is left of %s."),
                           og_word_saying (names)));
}

static void
clear_up (OgStoveWork         *stove,
          const OgStoveCharge *charge,
          const OgStoveHeat   *heat)
{
  OgStoveStep *step;

  if (heat->names->len == 0)
    return;
  if (heat->unknown)
    {
      stove->heated = TRUE;
      stove->pot.c = charge->stated_c;
    }
  step = add_step (stove, OG_STOVE_CLEAR, charge->phase_id, stove->pot.c,
                   clear_text (heat, stove->pot.c));
  og_stove_caution_too_cool (stove, step, heat, stove->pot.c);
}

static double
charge_temperature (const OgStoveWork   *stove,
                    const OgStoveCharge *charge,
                    const OgStoveHeat   *heat)
{
  if (stove->pot.g == 0 && !isnan (stove->pot.setup.start_c))
    return stove->pot.setup.start_c;
  if (!isnan (charge->stated_c))
    return charge->stated_c;
  if (heat->temperature_c > stove->pot.c)
    return heat->temperature_c;
  if (heat->names->len == 0 && stove->heated && og_stove_charge_has (charge, og_stove_is_gentle))
    return fmin (stove->pot.c, gentle_c (stove));
  return stove->pot.c;
}

/* Warmth that a charge which is still to come asks for, C; what it is itself harmed by it does not ask for. */
static double
asked_c (const OgStoveCharge *charge)
{
  OgStoveLimits limits = OG_STOVE_NO_LIMITS;
  g_auto (OgStoveHeat) heat = { 0 };
  double asked = charge->stated_c;

  og_stove_heat_init (&heat, charge);
  og_stove_charge_limits (charge, &limits);
  if (isnan (asked))
    asked = heat.temperature_c;
  return heat.names->len > 0 ? asked : fmin (asked, limits.shy.temperature_c);
}

static double
hottest_ahead_c (const OgStoveWork *stove)
{
  double hottest_c = NAN;
  gboolean ahead = FALSE;

  for (guint i = 0; i < stove->phases->len; i++)
    {
      const GPtrArray *charges = g_ptr_array_index (stove->phases, i);

      for (guint j = 0; j < charges->len; j++)
        {
          const OgStoveCharge *charge = g_ptr_array_index (charges, j);

          if (ahead && charge->items->len > 0)
            hottest_c = fmax (hottest_c, asked_c (charge));
          ahead = ahead || charge == stove->at;
        }
    }
  return hottest_c;
}

/* @temperature_c, or what @charge bears if that is less and the work can go on there. */
static double
borne_c (const OgStoveWork   *stove,
         const OgStoveCharge *charge,
         const OgStoveHeat   *heat,
         double               temperature_c)
{
  OgStoveLimits limits = OG_STOVE_NO_LIMITS;
  double shy_c;

  og_stove_charge_limits (charge, &limits);
  shy_c = limits.shy.temperature_c;
  if (!(temperature_c > shy_c) || heat->unknown || heat->temperature_c > shy_c
      || hottest_ahead_c (stove) > shy_c + OG_STOVE_SAME_C
      || (stove->pot.g == 0 && !isnan (stove->pot.setup.start_c)))
    return temperature_c;
  if (og_stove_body_stands (stove))
    shy_c = fmax (shy_c, og_stove_coolest_c (stove));
  return fmin (temperature_c, shy_c);
}

/* The first charge is warmed together, from cold. */
static void
begin_pot (OgStoveWork         *stove,
           const OgStoveCharge *charge)
{
  g_autoptr (OgSaying) items = og_stove_charge_list (charge, og_stove_is_any, TRUE);
  g_auto (OgStoveHeat) heat = { 0 };
  double recipe_c, temperature_c;
  OgStoveStep *step;

  og_stove_heat_init (&heat, charge);
  recipe_c = charge_temperature (stove, charge, &heat);
  temperature_c = borne_c (stove, charge, &heat, recipe_c);
  step = add_step (stove, OG_STOVE_BEGIN, charge->phase_id, stove->pot.c,
                   og_saying_new (N_("Put into a dry, heat-proof beaker and stir together: %s."),
                                  og_word_saying (items)));
  og_stove_caution_placing (stove, step, charge, recipe_c, temperature_c);
  take_in (stove, charge, stove->pot.c);
  step->added_g = step->pot_g = stove->pot.g;
  step->added_c = stove->plan->room_c;
  if (temperature_c > OG_STOVE_WARM_C)
    {
      reach (stove, charge->phase_id, temperature_c);
      og_stove_caution_hot_gentle (stove, last_step (stove), charge, temperature_c);
    }
  clear_up (stove, charge, &heat);
  shear (stove, charge);
}

/* Later charges go into a pot that has been brought to their temperature. */
static void
add_to_pot (OgStoveWork         *stove,
            const OgStoveCharge *charge)
{
  g_autoptr (OgSaying) items = og_stove_charge_list (charge, og_stove_is_any, TRUE);
  g_auto (OgStoveHeat) heat = { 0 };
  OgStoveLimits limits = OG_STOVE_NO_LIMITS;
  double recipe_c, temperature_c;
  OgStoveStep *step;

  og_stove_heat_init (&heat, charge);
  recipe_c = charge_temperature (stove, charge, &heat);
  temperature_c = borne_c (stove, charge, &heat, recipe_c);
  reach (stove, charge->phase_id, temperature_c);
  og_stove_charge_limits (charge, &limits);
  step = add_step (stove, OG_STOVE_ADD, charge->phase_id, temperature_c,
                   og_saying_new (N_("Stir in slowly: %s."), og_word_saying (items)));
  step->added_g = og_stove_charge_g (charge);
  step->before_c = temperature_c;
  step->pot_g += step->added_g;
  og_stove_caution_placing (stove, step, charge, recipe_c, temperature_c);
  og_stove_caution_limits (stove, step, &limits, charge, temperature_c);
  og_stove_caution_hot_gentle (stove, step, charge, temperature_c);
  og_stove_judge_addition (stove, step, charge);
  take_in (stove, charge, step->after_c);
  if (heat.names->len > 0)
    reach (stove, charge->phase_id, temperature_c);
  clear_up (stove, charge, &heat);
  shear (stove, charge);
}

static void
take_charge (OgStoveWork         *stove,
             const OgStoveCharge *charge)
{
  if (charge->items->len == 0)
    return;
  if (stove->pot.g == 0)
    begin_pot (stove, charge);
  else
    add_to_pot (stove, charge);
}

/* Where the recipe is silent about temperatures, gentle materials wait until the rest is done. */
static gboolean
gentle_waits (const OgStoveWork   *stove,
              const OgStoveCharge *charge,
              const OgStoveHeat   *heat)
{
  if (!isnan (charge->stated_c) || !og_stove_charge_has (charge, og_stove_is_gentle))
    return FALSE;
  return stove->heated || heat->temperature_c > OG_STOVE_WARM_C || heat->unknown;
}

/* Moves to @late what is better put in once the pot has cooled, and the rest to @robust. */
static void
part_charge (const OgStoveWork   *stove,
             const OgStoveCharge *charge,
             OgStoveCharge       *robust,
             OgStoveCharge       *late)
{
  g_auto (OgStoveHeat) heat = { 0 };
  double temperature_c;
  gboolean gentle;

  og_stove_heat_init (&heat, charge);
  temperature_c = charge_temperature (stove, charge, &heat);
  gentle = gentle_waits (stove, charge, &heat);
  for (guint i = 0; i < charge->items->len; i++)
    {
      const OgStoveItem *item = &g_array_index (charge->items, OgStoveItem, i);
      gboolean waits = (gentle && og_stove_is_gentle (item)) || og_stove_is_shy_at (item, temperature_c);

      g_array_append_val ((waits ? late : robust)->items, *item);
    }
}

/* What waits is not all there is, and what is left to begin with can be heated by itself. */
static gboolean
can_part (const OgStoveWork   *stove,
          const OgStoveCharge *robust)
{
  return robust->items->len > 0 && (stove->pot.g > 0 || og_stove_charge_is_wet (robust));
}

static void
work_charge (OgStoveWork         *stove,
             const OgStoveCharge *charge)
{
  g_autoptr (OgStoveCharge) robust = og_stove_charge_new (charge->phase_id, charge->stated_c);
  g_autoptr (OgStoveCharge) late = og_stove_charge_new (charge->phase_id, NAN);

  stove->at = charge;
  part_charge (stove, charge, robust, late);
  if (late->items->len > 0 && can_part (stove, robust))
    {
      late->recipe_c = charge->stated_c;
      take_charge (stove, robust);
      take_charge (stove, late);
    }
  else
    take_charge (stove, charge);
}

/* A pot that has cooled is not warmed for the filling further than the body asks. */
static double
fill_c (const OgStoveWork *stove)
{
  return fmin (gentle_c (stove), fmax (stove->pot.c, og_stove_coolest_c (stove)));
}

static void
fill (OgStoveWork *stove)
{
  OgStoveStep *step;

  if (og_stove_body_stands (stove))
    {
      reach (stove, 0, fill_c (stove));
      step = add_step (stove, OG_STOVE_FILL, 0, fill_c (stove),
                       og_saying_new (N_("Fill while it still flows, at about %s °C, and leave room under the "
                                         "neck for the applicator."),
                                      og_stove_celsius (fill_c (stove))));
      step->limit_c = stove->sets.temperature_c;
      if (fill_c (stove) < stove->sets.temperature_c)
        og_stove_caution_set_already (stove, step);
    }
  else
    {
      if (stove->heated)
        reach (stove, 0, fmin (stove->pot.c, gentle_c (stove)));
      step = add_step (stove, OG_STOVE_FILL, 0, stove->pot.c,
                       og_saying_plain (N_("Fill the containers and leave room under the neck for the "
                                           "applicator, which pushes some of the oil up.")));
    }
  if (stove->pot.setup.cool_to_c > stove->pot.c + OG_STOVE_SAME_C)
    og_stove_work_warn (stove, step, OG_SEVERITY_CAUTION, "stove-fill-hotter",
                        og_saying_new (N_("The pot is at about %s °C when all is in it: it is not warmed to %s °C "
                                          "again only to be filled."),
                                       og_stove_celsius (stove->pot.c),
                                       og_stove_celsius (stove->pot.setup.cool_to_c)));
  if (stove->suspended)
    og_stove_step_caution (step, og_saying_plain (N_("Stir between fillings, so that the colour stays even.")));
}

static void
judge (OgStoveWork *stove)
{
  add_step (stove, OG_STOVE_FINISH, 0, OG_TEMPERATURE_ROOM_C,
            og_saying_plain (N_("Close, leave some hours at room temperature, better overnight, and judge the "
                                "body only then: warm oil always looks thinner than it will be.")));
  add_step (stove, OG_STOVE_FINISH, 0, NAN,
            og_saying_plain (N_("Write batch, date and reading on the container, and follow your local rules "
                                "for labels before it goes to anybody else.")));
}

/* --- what the figures leave open ----------------------------------------- */

typedef struct
{
  OgStoveWork  *stove;
  double  by_kind_share;
} Doubts;

static void
doubt_line (OgFormulaPhase *phase,
            OgFormulaLine  *line,
            gpointer        user_data)
{
  Doubts *doubts = user_data;
  const OgCatalog *catalog = doubts->stove->pot.result->catalog;
  const OgIngredient *ingredient = og_catalog_get (catalog, line->ingredient_id);
  double share = og_ppm_to_fraction (line->amount), melts_c;
  OgHeatCapacity capacity;

  og_heat_capacity_init (&capacity, ingredient, catalog);
  if (capacity.by_kind)
    doubts->by_kind_share += share;
  if (share >= NOTICEABLE_SHARE && isnan (og_heat_of_fusion (ingredient, &melts_c)))
    og_stove_work_finding (doubts->stove, OG_SEVERITY_NOTE, "stove-fusion-unknown", NULL,
                           og_saying_new (N_("The heat that %s takes up on melting is not known and not "
                                             "counted: going in solid, it cools the pot more than said."),
                                          og_word_text (ingredient->name)));
}

static void
doubt (OgStoveWork *stove)
{
  Doubts doubts = { stove, 0.0 };

  og_formula_foreach_line (stove->pot.formula, doubt_line, &doubts);
  if (doubts.by_kind_share >= MUCH_SHARE)
    og_stove_work_finding (stove, OG_SEVERITY_NOTE, "stove-heat-capacity",
                           og_saying_plain (N_("Usual values of the kind: published estimates (recalled) and "
                                               "judgement")),
                           og_saying_new (N_("For %s %% of the recipe no heat capacity of the material itself "
                                             "is known; the usual one of its kind is taken."),
                                          og_word_fixed (100.0 * doubts.by_kind_share, 0)));
  if (!stove->plan->cooling.calibrated && stove->cooled)
    og_stove_work_finding (stove, OG_SEVERITY_NOTE, "stove-cooling-usual",
                           og_saying_plain (N_("Judgement")),
                           og_saying_plain (N_("The minutes are those of a usual vessel. Note once how long "
                                               "yours takes between two temperatures, and they become your "
                                               "own.")));
}

static void
check_vessel (OgStoveWork *stove)
{
  double content_ml = og_stove_pot_ml (&stove->pot, stove->plan->batch_g);
  double size_ml = stove->plan->vessel.size_ml;

  if (content_ml > size_ml)
    og_stove_work_finding (stove, OG_SEVERITY_BLOCKING, "stove-vessel-small", NULL,
                           og_saying_new (N_("The batch of about %s ml does not go into a vessel of %s ml."),
                                          og_word_fixed (content_ml, 0), og_word_fixed (size_ml, 0)));
  else if (content_ml > FULL_SHARE * size_ml)
    og_stove_work_finding (stove, OG_SEVERITY_CAUTION, "stove-vessel-full", og_common_practice_new (),
                           og_saying_new (N_("The batch of about %s ml fills a vessel of %s ml too far to be "
                                             "stirred safely."),
                                          og_word_fixed (content_ml, 0), og_word_fixed (size_ml, 0)));
}

static void
check_reading (OgStoveWork *stove)
{
  if (isnan (stove->pot.setup.cooled.minutes) || stove->plan->cooling.calibrated)
    return;
  og_stove_work_finding (stove, OG_SEVERITY_CAUTION, "stove-reading-unusable", NULL,
                         og_saying_plain (N_("The cooling that was watched says nothing: both temperatures "
                                             "must lie above that of the room, the first one higher, and time "
                                             "must have passed.")));
}

/* --- as a whole ---------------------------------------------------------- */

static OgStovePlan *
plan_new ( void)
{
  OgStovePlan *plan = g_new0 (OgStovePlan, 1);

  plan->steps = g_ptr_array_new_with_free_func ((GDestroyNotify) step_free);
  plan->series = g_array_new (FALSE, FALSE, sizeof (OgStovePoint));
  plan->findings = g_ptr_array_new_with_free_func ((GDestroyNotify) og_finding_free);
  return plan;
}

OgStovePlan *
og_stove_plan (const OgFormula    *formula,
               const OgResult     *result,
               const OgStoveSetup *setup)
{
  g_autoptr (GPtrArray) phases = NULL;
  OgStovePlan *plan = plan_new ();
  OgStoveSetup usual;
  OgStoveWork stove = { .plan = plan, .sets = OG_STOVE_NO_LIMIT, .limits = OG_STOVE_NO_LIMITS };

  g_return_val_if_fail (formula != NULL && result != NULL && result->catalog != NULL, plan);

  og_stove_setup_init (&usual);
  og_stove_pot_init (&stove.pot, plan, formula, result, setup != NULL ? setup : &usual);
  if (og_formula_total (formula) > 0)
    {
      phases = og_stove_charges_read (formula, result->catalog, plan->batch_g);
      stove.phases = phases;
      foreach_charge (&stove, phases, stir_jars);
      weigh (&stove, phases);
      foreach_charge (&stove, phases, wet_powders);
      foreach_charge (&stove, phases, work_charge);
      fill (&stove);
      judge (&stove);
      plan->rate_1_min = og_stove_pot_rate (&stove.pot, OG_TEMPERATURE_SKIN_C);
      check_vessel (&stove);
      check_reading (&stove);
      doubt (&stove);
    }
  og_stove_pot_clear (&stove.pot);
  return plan;
}

void
og_stove_plan_free (OgStovePlan *plan)
{
  g_ptr_array_unref (plan->steps);
  g_array_unref (plan->series);
  g_ptr_array_unref (plan->findings);
  g_free (plan);
}
