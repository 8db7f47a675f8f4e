/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/stove.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/stove-private.h"

/* Bench practice. None of these has a published source; they are common practice or judgement. */
#define WRIST_C 37.5             /* barely warm to the inner wrist */
#define WRIST_LOW_C 35.0
#define WRIST_HIGH_C 40.0
#define WARM_C 30.0              /* below it nothing needs heating */
#define SAME_C 3.0               /* differences a bench thermometer does not bother with */
#define BATH_C 90.0              /* above it a water bath, which ends at about 98 C, is too slow */
#define STEAM_C 100.0            /* water drops turn to steam */
#define HOT_C 130.0              /* oil this hot burns at once and ages fast */
#define FLASH_MARGIN_C 20.0
#define SMOKE_MARGIN_C 10.0
#define WARM_MARGIN_C 10.0       /* hot enough over the wrist to wear out what is gentle */
#define SMALL_ADDITION 0.05      /* share of the pot that can go into it cold without harm */
#define MAIN_SHARE 0.05          /* from here on a flash or smoke point counts fully */
#define NOTICEABLE_SHARE 0.02
#define MUCH_SHARE 0.1
#define FULL_SHARE 0.9
#define SAME_MINUTES 10.0        /* minutes are said by fives from here on */

#define COMMON_PRACTICE _("Common practice, no published source")

/* Stove: the work so far. */
typedef struct
{
  OgStovePot    pot;
  OgStovePlan  *plan;
  gboolean      heated;
  gboolean      suspended;      /* something in the pot settles */
  gboolean      cooled;         /* a cooling step was said already */
  OgStoveLimit  sets;           /* highest setting point */
  const char   *sets_somewhere; /* nullable: a material whose setting point is not known */
  OgStoveLimits limits;
} Stove;

static const char *const act_nicks[] = {
  [OG_STOVE_PREPARE] = "prepare", [OG_STOVE_BEGIN] = "begin", [OG_STOVE_WARM] = "warm",
  [OG_STOVE_CLEAR] = "clear",     [OG_STOVE_SHEAR] = "shear", [OG_STOVE_COOL] = "cool",
  [OG_STOVE_ADD] = "add",         [OG_STOVE_FILL] = "fill",   [OG_STOVE_FINISH] = "finish",
};

const char *
og_stove_act_to_nick (OgStoveAct act)
{
  g_return_val_if_fail (act <= OG_STOVE_FINISH, NULL);

  return act_nicks[act];
}

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
  g_free (step->step.text);
  g_free (step->step.caution);
  g_free (step->limit_name);
  g_free (step->quench_name);
  g_free (step);
}

/* Takes @text. */
static OgStoveStep *
add_step (Stove      *stove,
          OgStoveAct  act,
          guint       phase_id,
          double      temperature_c,
          char       *text)
{
  OgStoveStep *step = g_new0 (OgStoveStep, 1);

  step->act = act;
  step->step.text = text;
  step->step.temperature_c = temperature_c;
  step->step.phase_id = phase_id;
  step->before_c = step->after_c = act == OG_STOVE_PREPARE ? NAN : stove->pot.c;
  step->pot_g = stove->pot.g;
  step->added_g = step->added_c = step->cold_after_c = step->limit_c = step->chill_k = NAN;
  step->warm_first_c = step->quench_g = step->heat_kj = NAN;
  step->minutes = (OgEstimate) { NAN, NAN, NAN };
  g_ptr_array_add (stove->plan->steps, step);
  return step;
}

static OgStoveStep *
last_step (const Stove *stove)
{
  return g_ptr_array_index (stove->plan->steps, stove->plan->steps->len - 1);
}

/* Takes @sentence. */
static void
add_caution (OgStoveStep *step,
             char        *sentence)
{
  g_autofree char *before = g_steal_pointer (&step->step.caution);

  if (before == NULL)
    {
      step->step.caution = sentence;
      return;
    }
  /* Translators: two sentences, one after the other. */
  step->step.caution = g_strdup_printf (_("%s %s"), before, sentence);
  g_free (sentence);
}

/* Adds a sentence to the text of a step; takes @sentence. */
static void
add_words (OgStoveStep *step,
           char        *sentence)
{
  g_autofree char *before = g_steal_pointer (&step->step.text);

  step->step.text = g_strdup_printf (_("%s %s"), before, sentence);
  g_free (sentence);
}

/* Once a sentence, most severe first; takes @text. */
static void
add_finding (Stove      *stove,
             OgSeverity  severity,
             const char *code,
             const char *source,
             char       *text)
{
  GPtrArray *findings = stove->plan->findings;
  OgFinding *finding;
  guint at = findings->len;

  for (guint i = findings->len; i-- > 0;)
    {
      const OgFinding *other = g_ptr_array_index (findings, i);

      if (g_str_equal (other->text, text))
        {
          g_free (text);
          return;
        }
      if (other->severity < severity)
        at = i;
    }
  finding = og_finding_new (severity, code, NULL, source);
  finding->text = text;
  g_ptr_array_insert (findings, (gint) at, finding);
}

/* A caution of the step that is a finding of the plan as well; takes @text. */
static void
warn (Stove       *stove,
      OgStoveStep *step,
      OgSeverity   severity,
      const char  *code,
      char        *text)
{
  add_finding (stove, severity, code, COMMON_PRACTICE, g_strdup (text));
  add_caution (step, text);
}

static char *
celsius (double temperature_c)
{
  return g_strdup_printf ("%.0f", temperature_c);
}

/* --- the pot's limits ---------------------------------------------------- */

static void
raise_setting (Stove      *stove,
               double      temperature_c,
               const char *name)
{
  if (isnan (temperature_c) || stove->sets.temperature_c >= temperature_c)
    return;
  stove->sets = (OgStoveLimit) { temperature_c, name };
}

/* Where the item sets in the pot as it is now; crystals set the hotter the more there is of them. */
static double
setting_c (const Stove       *stove,
           const OgStoveItem *item)
{
  OgGellant gellant;

  if (og_figure_is_known (&item->ingredient->gelling.sets_c))
    {
      og_gellant_init (&gellant, item->ingredient);
      return og_gellant_sets_c (&gellant, item->g / stove->pot.g);
    }
  if (item->ingredient->kind == OG_KIND_WAX && !og_stove_sets (item->ingredient))
    return item->ingredient->figures[OG_FIGURE_MELTING_C].value;
  return NAN;
}

static void
take_in (Stove               *stove,
         const OgStoveCharge *charge,
         double               after_c)
{
  og_stove_charge_limits (charge, &stove->limits);
  og_stove_pot_take (&stove->pot, charge, after_c);
  stove->suspended |= og_stove_charge_has (charge, og_stove_is_suspended)
                      || og_stove_charge_has (charge, og_stove_is_dispersion);
  for (guint i = 0; i < charge->items->len; i++)
    {
      const OgStoveItem *item = &g_array_index (charge->items, OgStoveItem, i);
      double sets_c;

      if (item->ingredient == NULL)
        continue;
      sets_c = setting_c (stove, item);
      if (isnan (sets_c) && og_stove_sets (item->ingredient))
        stove->sets_somewhere = item->name;
      raise_setting (stove, sets_c, item->name);
    }
}

static gboolean
body_stands (const Stove *stove)
{
  return stove->pot.result->body >= OG_BODY_SOFT_SET && !isnan (stove->sets.temperature_c);
}

/* As cool as possible, yet still liquid. */
static double
gentle_c (const Stove *stove)
{
  if (!isnan (stove->pot.setup.cool_to_c))
    return stove->pot.setup.cool_to_c;
  return body_stands (stove) ? MAX (WRIST_C, stove->sets.temperature_c + OG_STOVE_SET_MARGIN_K)
                             : WRIST_C;
}

/* --- cautions ------------------------------------------------------------ */

static void
caution_dust (OgStoveStep *step)
{
  add_caution (step, g_strdup (_("Do not breathe the dust: wear a dust mask, keep away "
                                 "draughts.")));
}

/* Too near to fire or smoke is refused where the material is more than a trace of the pot. */
static OgSeverity
danger (Stove    *stove,
        gboolean  of_main)
{
  if (!of_main || stove->pot.setup.override)
    return OG_SEVERITY_CAUTION;
  stove->plan->refused = TRUE;
  return OG_SEVERITY_BLOCKING;
}

static void
caution_fire (Stove               *stove,
              OgStoveStep         *step,
              const OgStoveLimits *limits,
              const OgStoveLimits *main_limits,
              double               temperature_c)
{
  g_autofree char *flash = celsius (limits->flash.temperature_c);
  g_autofree char *smoke = celsius (limits->smoke.temperature_c);

  if (temperature_c > limits->flash.temperature_c - FLASH_MARGIN_C)
    warn (stove, step,
          danger (stove, temperature_c > WARM_C
                         && temperature_c > main_limits->flash.temperature_c - FLASH_MARGIN_C),
          "stove-flash",
          g_strdup_printf (_("Vapour of %s can catch fire from about %s °C: stay 20 °C below, away "
                             "from flames and sparks, and follow your local rules for flammable "
                             "liquids."),
                           limits->flash.name, flash));
  if (temperature_c > limits->smoke.temperature_c - SMOKE_MARGIN_C)
    warn (stove, step,
          danger (stove, temperature_c > main_limits->smoke.temperature_c - SMOKE_MARGIN_C),
          "stove-smoke",
          g_strdup_printf (_("%s begins to smoke at about %s °C; stay well below."),
                           limits->smoke.name, smoke));
}

static void
caution_limits (Stove               *stove,
                OgStoveStep         *step,
                const OgStoveLimits *limits,
                const OgStoveCharge *charge,
                double               temperature_c)
{
  OgStoveLimits main_limits = OG_STOVE_NO_LIMITS;
  g_autofree char *shy = celsius (limits->shy.temperature_c);

  og_stove_pot_main_limits (&stove->pot, charge, MAIN_SHARE, &main_limits);
  caution_fire (stove, step, limits, &main_limits, temperature_c);
  if (temperature_c > limits->shy.temperature_c)
    warn (stove, step, OG_SEVERITY_CAUTION, "stove-heat-shy",
          g_strdup_printf (_("%s should not get warmer than about %s °C: put it in as late and as "
                             "cool as the body allows."),
                           limits->shy.name, shy));
}

static void
caution_heat (Stove       *stove,
              OgStoveStep *step,
              double       temperature_c)
{
  g_autoptr (OgStoveCharge) nothing = og_stove_charge_new (0, NAN);

  if (temperature_c > HOT_C)
    warn (stove, step, OG_SEVERITY_CAUTION, "stove-hot-oil",
          g_strdup (_("Oil above 130 °C burns the skin at once and ages fast: wear gloves, goggles "
                      "and long sleeves, and keep this step short.")));
  if (temperature_c >= STEAM_C)
    add_caution (step, g_strdup (_("Keep water away: a drop of it turns to steam and throws the "
                                   "hot oil about.")));
  if (temperature_c > BATH_C)
    warn (stove, step, OG_SEVERITY_NOTE, "stove-heat-source",
          g_strdup (_("A water bath does not get the oil past about 98 °C: use direct gentle heat "
                      "or an oven, with a thermometer in the oil, never an open flame.")));
  caution_limits (stove, step, &stove->limits, nothing, temperature_c);
}

static void
caution_too_cool (Stove             *stove,
                  OgStoveStep       *step,
                  const OgStoveHeat *heat,
                  double             temperature_c)
{
  g_autofree char *names = og_stove_heat_names (heat);
  g_autofree char *stated = celsius (temperature_c);
  g_autofree char *needed = celsius (heat->temperature_c);

  if (!(temperature_c < heat->temperature_c - SAME_C))
    return;
  warn (stove, step, OG_SEVERITY_CAUTION, "stove-too-cool",
        g_strdup_printf (_("The recipe says %s °C, but %s may need about %s °C to become clear."),
                         stated, names, needed));
}

static void
caution_hot_gentle (OgStoveStep         *step,
                    const OgStoveCharge *charge,
                    double               temperature_c)
{
  g_autofree char *names = NULL;

  if (!(temperature_c > WRIST_C + WARM_MARGIN_C) || isnan (charge->stated_c)
      || !og_stove_charge_has (charge, og_stove_is_gentle))
    return;
  names = og_stove_charge_list (charge, og_stove_is_gentle, FALSE);
  add_caution (step, g_strdup_printf (_("Heat wears out %s; the end of the work, when the pot is "
                                        "barely warm, is the better moment."), names));
}

/* The addition bears less warmth than it needs: the pot must bring the heat instead. */
static void
caution_shy_chill (Stove            *stove,
                   OgStoveStep      *step,
                   const OgHeatBody *added,
                   double            shy_c,
                   double            target_c)
{
  double pot_c = og_heat_warm_first (added, stove->plan->room_c, &stove->pot.both, target_c);
  g_autofree char *pot = celsius (pot_c);
  g_autofree char *shy = celsius (shy_c);

  add_caution (step, g_strdup_printf (_("That is more than the %s °C it bears: add it cold to a "
                                        "pot of about %s °C instead."), shy, pot));
}

static void
caution_cold (Stove               *stove,
              OgStoveStep         *step,
              const OgStoveCharge *charge,
              const OgHeatBody    *added)
{
  OgStoveLimits limits = OG_STOVE_NO_LIMITS;
  double target_c = fmin (step->limit_c + OG_STOVE_SET_MARGIN_K, step->before_c);
  g_autofree char *after = celsius (step->cold_after_c);
  g_autofree char *sets = celsius (step->limit_c);
  g_autofree char *kelvin = g_strdup_printf ("%.1f", step->chill_k);
  g_autofree char *warm = NULL;

  step->warm_first_c = og_heat_warm_first (&stove->pot.both, step->before_c, added, target_c);
  warm = celsius (step->warm_first_c);
  warn (stove, step, OG_SEVERITY_CAUTION, "stove-chill",
        g_strdup_printf (_("Cold from the shelf it would chill the pot to about %s °C, %s K below "
                           "about %s °C, where %s sets: warm it to about %s °C before it goes in, "
                           "or lumps form."),
                         after, kelvin, sets, step->limit_name, warm));
  og_stove_charge_limits (charge, &limits);
  if (step->warm_first_c > limits.shy.temperature_c)
    caution_shy_chill (stove, step, added, limits.shy.temperature_c, target_c);
  step->added_c = step->warm_first_c;
  step->after_c = target_c;
}

static void
caution_set_already (Stove       *stove,
                     OgStoveStep *step)
{
  g_autofree char *sets = celsius (step->limit_c);

  warn (stove, step, OG_SEVERITY_CAUTION, "stove-set",
        g_strdup_printf (_("The body has set by then, at about %s °C: stir this in sooner, while "
                           "the pot still flows."), sets));
}

static void
caution_both_cool (Stove       *stove,
                   OgStoveStep *step)
{
  double both_c = step->limit_c + OG_STOVE_SET_MARGIN_K;
  g_autofree char *sets = celsius (step->limit_c);
  g_autofree char *warm = celsius (both_c);

  warn (stove, step, OG_SEVERITY_CAUTION, "stove-below-setting",
        g_strdup_printf (_("This is below about %s °C, where %s sets; so much oil may leave lumps. "
                           "Bring both to about %s °C if it does."),
                         sets, step->limit_name, warm));
}

/* Works out the temperature of the pot after @charge, the advice followed. */
static void
judge_addition (Stove               *stove,
                OgStoveStep         *step,
                const OgStoveCharge *charge)
{
  g_auto (OgHeatBody) added = { 0 };
  gboolean small = step->added_g < SMALL_ADDITION * (stove->pot.g + step->added_g);

  og_stove_pot_charge_body (&stove->pot, charge, &added);
  step->added_c = stove->plan->room_c;
  step->limit_c = stove->sets.temperature_c;
  step->limit_name = g_strdup (stove->sets.name);
  step->cold_after_c = og_heat_mix (&stove->pot.both, step->before_c, &added, step->added_c);
  step->after_c = step->cold_after_c;
  if (step->before_c < step->limit_c)
    {
      if (body_stands (stove))
        caution_set_already (stove, step);
      else if (!small)
        caution_both_cool (stove, step);
      return;
    }
  if (stove->sets_somewhere != NULL && !small)
    warn (stove, step, OG_SEVERITY_CAUTION, "stove-setting-unknown",
          g_strdup_printf (_("The temperature at which %s sets is not known: bring this to the "
                             "temperature of the pot before it goes in, or lumps may form."),
                           stove->sets_somewhere));
  if (!(step->cold_after_c < step->limit_c))
    return;
  step->chill_k = step->limit_c - step->cold_after_c;
  caution_cold (stove, step, charge, &added);
}

/* --- steps --------------------------------------------------------------- */

typedef void (*ChargeFunc) (Stove *stove, const OgStoveCharge *charge);

static void
foreach_charge (Stove      *stove,
                GPtrArray  *phases,
                ChargeFunc  func)
{
  for (guint i = 0; i < phases->len; i++)
    {
      GPtrArray *charges = g_ptr_array_index (phases, i);

      for (guint j = 0; j < charges->len; j++)
        func (stove, g_ptr_array_index (charges, j));
    }
}

static void
stir_jars (Stove               *stove,
           const OgStoveCharge *charge)
{
  g_autofree char *names = NULL;

  if (!og_stove_charge_has (charge, og_stove_is_dispersion))
    return;
  names = og_stove_charge_list (charge, og_stove_is_dispersion, FALSE);
  add_step (stove, OG_STOVE_PREPARE, charge->phase_id, NAN,
            g_strdup_printf (_("Stir the jar down to the bottom before you take from it, because "
                               "the colour settles: %s."), names));
}

static void
weigh (Stove     *stove,
       GPtrArray *phases)
{
  g_autofree char *batch = og_stove_grams (stove->plan->batch_g);
  gboolean dusty = FALSE;
  OgStoveStep *step;

  for (guint i = 0; i < phases->len; i++)
    {
      GPtrArray *charges = g_ptr_array_index (phases, i);

      for (guint j = 0; j < charges->len; j++)
        dusty = dusty || og_stove_charge_has (g_ptr_array_index (charges, j), og_stove_is_dusty);
    }
  step = add_step (stove, OG_STOVE_PREPARE, 0, NAN,
                   g_strdup_printf (_("Dry all tools, and weigh out every line of the recipe for a "
                                      "batch of %s g before anything is heated."), batch));
  if (dusty)
    caution_dust (step);
}

static void
wet_powders (Stove               *stove,
             const OgStoveCharge *charge)
{
  g_autofree char *names = NULL;

  if (!og_stove_charge_has (charge, og_stove_is_suspended))
    return;
  names = og_stove_charge_list (charge, og_stove_is_suspended, FALSE);
  caution_dust (add_step (stove, OG_STOVE_PREPARE, charge->phase_id, NAN,
                          g_strdup_printf (_("Wet the powder with a little of the weighed oil and "
                                             "rub it until no lump is left: %s."), names)));
}

static int
minutes_said (double minutes)
{
  if (minutes < SAME_MINUTES)
    return (int) fmax (round (minutes), 1.0);
  return (int) (5.0 * round (minutes / 5.0));
}

/* How long the pot takes, and what decides it. */
static void
say_minutes (Stove       *stove,
             OgStoveStep *step)
{
  g_autofree char *room = celsius (stove->plan->room_c);
  int minutes;

  if (isinf (step->minutes.value))
    {
      warn (stove, step, OG_SEVERITY_CAUTION, "stove-room-too-warm",
            g_strdup_printf (_("In a room of %s °C it never gets that cool by itself: stand it in "
                               "cool water, and let none get in."), room));
      return;
    }
  if (isnan (step->minutes.value))
    return;
  minutes = minutes_said (step->minutes.value);
  add_words (step,
             /* Translators: minutes, least and most minutes, °C, then name and ml of a vessel */
             g_strdup_printf (ngettext ("That takes about %d minute (%d to %d) in a room of %s °C "
                                        "(%s, %.0f ml).",
                                        "That takes about %d minutes (%d to %d) in a room of %s °C "
                                        "(%s, %.0f ml).", (gulong) minutes),
                              minutes, minutes_said (step->minutes.low80),
                              minutes_said (step->minutes.high80), room,
                              og_vessel_kind_get_name (stove->plan->vessel.kind),
                              stove->plan->vessel.size_ml));
  if (!stove->cooled)
    add_words (step, stove->pot.setup.stirred
                       ? g_strdup (_("Left standing it takes about a third longer and stays hot in "
                                     "the middle."))
                       : g_strdup (_("It stands still: stir before you measure, because it stays "
                                     "hot in the middle.")));
  stove->cooled = TRUE;
}

static char *
cool_text (double temperature_c)
{
  g_autofree char *text = celsius (temperature_c);

  if (temperature_c >= WRIST_LOW_C && temperature_c <= WRIST_HIGH_C)
    return g_strdup (_("Let the pot cool, stirring now and then, until it feels barely warm to the "
                       "inner wrist, about 35 to 40 °C."));
  return g_strdup_printf (_("Let the pot cool, stirring gently, to about %s °C."), text);
}

/* Brings the pot to @temperature_c; says nothing where it is there already. */
static void
reach (Stove  *stove,
       guint   phase_id,
       double  temperature_c)
{
  g_autofree char *text = celsius (temperature_c);
  OgStoveStep *step;

  if (isnan (temperature_c))
    return;
  if (temperature_c > stove->pot.c + SAME_C)
    {
      step = add_step (stove, OG_STOVE_WARM, phase_id, temperature_c,
                       g_strdup_printf (_("Warm the pot slowly, stirring, to about %s °C."), text));
      caution_heat (stove, step, temperature_c);
      og_stove_pot_warm (&stove->pot, step, temperature_c);
      stove->heated = TRUE;
    }
  else if (temperature_c >= stove->pot.c - SAME_C)
    return;
  else
    {
      step = add_step (stove, OG_STOVE_COOL, phase_id, temperature_c, cool_text (temperature_c));
      og_stove_pot_cool (&stove->pot, step, temperature_c);
      say_minutes (stove, step);
    }
  step->after_c = temperature_c;
}

static char *
clear_text (const OgStoveHeat *heat,
            double             temperature_c)
{
  g_autofree char *names = og_stove_heat_names (heat);
  g_autofree char *text = celsius (temperature_c);
  g_autofree char *low = celsius (heat->low_c);
  g_autofree char *high = celsius (heat->high_c);

  if (heat->unknown)
    return g_strdup_printf (_("Warm slowly, stirring, until the oil is clear and nothing solid "
                              "is left of %s. The temperature this takes is not known; watch for "
                              "clearness."), names);
  if (isnan (heat->low_c) || isnan (heat->high_c))
    return g_strdup_printf (_("Stir at about %s °C until the oil is clear and nothing solid is "
                              "left of %s, at the lowest temperature that keeps it clear."),
                            text, names);
  return g_strdup_printf (_("Stir at about %s °C until the oil is clear and nothing solid is left "
                            "of %s. Lots differ, clearing between about %s and %s °C; hold at the "
                            "lowest temperature that keeps yours clear."),
                          text, names, low, high);
}

static void
shear (Stove               *stove,
       const OgStoveCharge *charge)
{
  g_autofree char *names = NULL;

  if (!og_stove_charge_has (charge, og_stove_is_sheared))
    return;
  names = og_stove_charge_list (charge, og_stove_is_sheared, FALSE);
  add_step (stove, OG_STOVE_SHEAR, charge->phase_id, stove->pot.c,
            g_strdup_printf (_("Work the pot with a fast mixer for some minutes until no grain is "
                               "left of %s."), names));
}

static void
clear_up (Stove               *stove,
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
  caution_too_cool (stove, step, heat, stove->pot.c);
}

static double
charge_temperature (const Stove         *stove,
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

/* The first charge is warmed together, from cold. */
static void
begin_pot (Stove               *stove,
           const OgStoveCharge *charge)
{
  g_autofree char *items = og_stove_charge_list (charge, og_stove_is_any, TRUE);
  g_auto (OgStoveHeat) heat = { 0 };
  double temperature_c;
  OgStoveStep *step;

  og_stove_heat_init (&heat, charge);
  temperature_c = charge_temperature (stove, charge, &heat);
  step = add_step (stove, OG_STOVE_BEGIN, charge->phase_id, stove->pot.c,
                   g_strdup_printf (_("Put into a dry, heat-proof beaker and stir together: %s."),
                                    items));
  take_in (stove, charge, stove->pot.c);
  step->added_g = step->pot_g = stove->pot.g;
  step->added_c = stove->plan->room_c;
  if (temperature_c > WARM_C)
    {
      reach (stove, charge->phase_id, temperature_c);
      caution_hot_gentle (last_step (stove), charge, temperature_c);
    }
  clear_up (stove, charge, &heat);
  shear (stove, charge);
}

/* Later charges go into a pot that has been brought to their temperature. */
static void
add_to_pot (Stove               *stove,
            const OgStoveCharge *charge)
{
  g_autofree char *items = og_stove_charge_list (charge, og_stove_is_any, TRUE);
  g_auto (OgStoveHeat) heat = { 0 };
  OgStoveLimits limits = OG_STOVE_NO_LIMITS;
  double temperature_c;
  OgStoveStep *step;

  og_stove_heat_init (&heat, charge);
  temperature_c = charge_temperature (stove, charge, &heat);
  reach (stove, charge->phase_id, temperature_c);
  og_stove_charge_limits (charge, &limits);
  step = add_step (stove, OG_STOVE_ADD, charge->phase_id, temperature_c,
                   g_strdup_printf (_("Stir in slowly: %s."), items));
  step->added_g = og_stove_charge_g (charge);
  step->before_c = temperature_c;
  step->pot_g += step->added_g;
  caution_limits (stove, step, &limits, charge, temperature_c);
  caution_hot_gentle (step, charge, temperature_c);
  judge_addition (stove, step, charge);
  take_in (stove, charge, step->after_c);
  if (heat.names->len > 0)
    reach (stove, charge->phase_id, temperature_c);
  clear_up (stove, charge, &heat);
  shear (stove, charge);
}

static void
take_charge (Stove               *stove,
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
must_split (const Stove         *stove,
            const OgStoveCharge *charge)
{
  g_auto (OgStoveHeat) heat = { 0 };

  if (!isnan (charge->stated_c) || !og_stove_charge_has (charge, og_stove_is_gentle))
    return FALSE;
  og_stove_heat_init (&heat, charge);
  return stove->heated || heat.temperature_c > WARM_C || heat.unknown;
}

static void
split_charge (Stove               *stove,
              const OgStoveCharge *charge)
{
  g_autoptr (OgStoveCharge) robust = og_stove_charge_new (charge->phase_id, NAN);
  g_autoptr (OgStoveCharge) gentle = og_stove_charge_new (charge->phase_id, NAN);

  for (guint i = 0; i < charge->items->len; i++)
    {
      const OgStoveItem *item = &g_array_index (charge->items, OgStoveItem, i);

      g_array_append_val ((og_stove_is_gentle (item) ? gentle : robust)->items, *item);
    }
  take_charge (stove, robust);
  take_charge (stove, gentle);
}

static void
work_charge (Stove               *stove,
             const OgStoveCharge *charge)
{
  if (must_split (stove, charge))
    split_charge (stove, charge);
  else
    take_charge (stove, charge);
}

static void
fill (Stove *stove)
{
  g_autofree char *text = celsius (gentle_c (stove));
  OgStoveStep *step;

  if (body_stands (stove))
    {
      reach (stove, 0, gentle_c (stove));
      step = add_step (stove, OG_STOVE_FILL, 0, gentle_c (stove),
                       g_strdup_printf (_("Fill while it still flows, at about %s °C, and leave "
                                          "room under the neck for the applicator."), text));
      step->limit_c = stove->sets.temperature_c;
      if (gentle_c (stove) < stove->sets.temperature_c)
        caution_set_already (stove, step);
    }
  else
    {
      if (stove->heated)
        reach (stove, 0, fmin (stove->pot.c, gentle_c (stove)));
      step = add_step (stove, OG_STOVE_FILL, 0, stove->pot.c,
                       g_strdup (_("Fill the containers and leave room under the neck for the "
                                   "applicator, which pushes some of the oil up.")));
    }
  if (stove->suspended)
    add_caution (step, g_strdup (_("Stir between fillings, so that the colour stays even.")));
}

static void
judge (Stove *stove)
{
  add_step (stove, OG_STOVE_FINISH, 0, OG_TEMPERATURE_ROOM_C,
            g_strdup (_("Close, leave some hours at room temperature, better overnight, and judge "
                        "the body only then: warm oil always looks thinner than it will be.")));
  add_step (stove, OG_STOVE_FINISH, 0, NAN,
            g_strdup (_("Write batch, date and reading on the container, and follow your local "
                        "rules for labels before it goes to anybody else.")));
}

/* --- what the figures leave open ----------------------------------------- */

typedef struct
{
  Stove  *stove;
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
    add_finding (doubts->stove, OG_SEVERITY_NOTE, "stove-fusion-unknown", NULL,
                 g_strdup_printf (_("The heat that %s takes up on melting is not known and not "
                                    "counted: going in solid, it cools the pot more than said."),
                                  ingredient->name));
}

static void
doubt (Stove *stove)
{
  Doubts doubts = { stove, 0.0 };

  og_formula_foreach_line (stove->pot.formula, doubt_line, &doubts);
  if (doubts.by_kind_share >= MUCH_SHARE)
    add_finding (stove, OG_SEVERITY_NOTE, "stove-heat-capacity",
                 _("Usual values of the kind: published estimates (recalled) and judgement"),
                 g_strdup_printf (_("For %.0f %% of the recipe no heat capacity of the material "
                                    "itself is known; the usual one of its kind is taken."),
                                  100.0 * doubts.by_kind_share));
  if (!stove->plan->cooling.calibrated && stove->cooled)
    add_finding (stove, OG_SEVERITY_NOTE, "stove-cooling-usual", _("Judgement"),
                 g_strdup (_("The minutes are those of a usual vessel. Note once how long yours "
                             "takes between two temperatures, and they become your own.")));
}

static void
check_vessel (Stove *stove)
{
  double content_ml = og_stove_pot_ml (&stove->pot, stove->plan->batch_g);
  double size_ml = stove->plan->vessel.size_ml;

  if (content_ml > size_ml)
    add_finding (stove, OG_SEVERITY_BLOCKING, "stove-vessel-small", NULL,
                 g_strdup_printf (_("The batch of about %.0f ml does not go into a vessel of %.0f "
                                    "ml."), content_ml, size_ml));
  else if (content_ml > FULL_SHARE * size_ml)
    add_finding (stove, OG_SEVERITY_CAUTION, "stove-vessel-full", COMMON_PRACTICE,
                 g_strdup_printf (_("The batch of about %.0f ml fills a vessel of %.0f ml too far "
                                    "to be stirred safely."), content_ml, size_ml));
}

static void
check_reading (Stove *stove)
{
  if (isnan (stove->pot.setup.cooled.minutes) || stove->plan->cooling.calibrated)
    return;
  add_finding (stove, OG_SEVERITY_CAUTION, "stove-reading-unusable", NULL,
               g_strdup (_("The cooling that was watched says nothing: both temperatures must lie "
                           "above that of the room, the first one higher, and time must have "
                           "passed.")));
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
  Stove stove = { .plan = plan, .sets = OG_STOVE_NO_LIMIT, .limits = OG_STOVE_NO_LIMITS };

  g_return_val_if_fail (formula != NULL && result != NULL && result->catalog != NULL, plan);

  og_stove_setup_init (&usual);
  og_stove_pot_init (&stove.pot, plan, formula, result, setup != NULL ? setup : &usual);
  if (og_formula_total (formula) > 0)
    {
      phases = og_stove_charges_read (formula, result->catalog, plan->batch_g);
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
