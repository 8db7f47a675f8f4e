/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/process.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

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
#define MELT_MARGIN_C 5.0        /* over the melting point, for a melt without crystals */
#define SET_MARGIN_C 5.0         /* over the setting point, for the pot */
#define WARM_MARGIN_C 10.0       /* over the setting point, for oil that is warmed first */
#define SMALL_ADDITION 0.05      /* share of the pot that can go into it cold without harm */

/* Item: one line that weighs something. */
typedef struct
{
  const char         *name;
  const OgIngredient *ingredient; /* nullable: not in the catalog */
  double              g;
} Item;

/* Charge: what goes into the pot in one go. */
typedef struct
{
  guint   phase_id;
  double  stated_c; /* NAN: the recipe says nothing */
  GArray *items;    /* of Item */
} Charge;

/* Limit: a temperature and the material it comes from. */
typedef struct
{
  double      temperature_c; /* NAN: none */
  const char *name;
} Limit;

/* Limits: what the materials bear; the lowest of each. */
typedef struct
{
  Limit flash, smoke, shy;
} Limits;

#define NO_LIMIT { NAN, NULL }
#define NO_LIMITS { NO_LIMIT, NO_LIMIT, NO_LIMIT }

/* Heat: what a charge needs to become clear. */
typedef struct
{
  double     temperature_c; /* NAN: nothing needs heat, or none of it has a known temperature */
  double     low_c, high_c; /* NAN without a range */
  GPtrArray *names;         /* of what must melt or dissolve */
  gboolean   unknown;       /* the temperature of at least one is not known */
} Heat;

/* Stove: the pot so far. */
typedef struct
{
  const OgFormula *formula;
  const OgResult  *result;
  GPtrArray       *steps;
  double           pot_c;     /* NAN: hot, but nobody knows how hot */
  double           pot_g;
  gboolean         heated;
  gboolean         suspended; /* something in it settles */
  Limit            sets;      /* highest setting point */
  const char      *sets_somewhere; /* nullable: a material whose setting point is not known */
  Limits           limits;
} Stove;

static void
step_free (OgStep *step)
{
  g_free (step->text);
  g_free (step->caution);
  g_free (step);
}

/* Takes @text. */
static OgStep *
add_step (Stove  *stove,
          guint   phase_id,
          double  temperature_c,
          char   *text)
{
  OgStep *step = g_new0 (OgStep, 1);

  step->text = text;
  step->temperature_c = temperature_c;
  step->phase_id = phase_id;
  g_ptr_array_add (stove->steps, step);
  return step;
}

/* Takes @sentence. */
static void
add_caution (OgStep *step,
             char   *sentence)
{
  g_autofree char *before = g_steal_pointer (&step->caution);

  if (before == NULL)
    {
      step->caution = sentence;
      return;
    }
  /* Translators: two sentences, one after the other. */
  step->caution = g_strdup_printf (_("%s %s"), before, sentence);
  g_free (sentence);
}

static char *
celsius (double temperature_c)
{
  return g_strdup_printf ("%.0f", temperature_c);
}

/* As fine as a bench scale shows it, with the decimal mark of the text it goes into. */
static char *
grams (double g)
{
  char *text = g_strdup_printf ("%.*f", g >= 100 ? 1 : g >= 10 ? 2 : 3, g);
  char *end = text + strlen (text);

  while (end[-1] == '0')
    *--end = '\0';
  while (!g_ascii_isdigit (end[-1]))
    *--end = '\0';
  return text;
}

/* --- reading the recipe -------------------------------------------------- */

static void
charge_free (Charge *charge)
{
  g_array_unref (charge->items);
  g_free (charge);
}

static Charge *
charge_new (guint  phase_id,
            double stated_c)
{
  Charge *charge = g_new0 (Charge, 1);

  charge->phase_id = phase_id;
  charge->stated_c = stated_c;
  charge->items = g_array_new (FALSE, FALSE, sizeof (Item));
  return charge;
}

static gboolean
same_temperature (double a,
                  double b)
{
  return a == b || (isnan (a) && isnan (b));
}

static Charge *
find_charge (GPtrArray *charges,
             guint      phase_id,
             double     stated_c)
{
  Charge *charge;

  for (guint i = 0; i < charges->len; i++)
    {
      charge = g_ptr_array_index (charges, i);
      if (charge->phase_id == phase_id && same_temperature (charge->stated_c, stated_c))
        return charge;
    }
  charge = charge_new (phase_id, stated_c);
  g_ptr_array_add (charges, charge);
  return charge;
}

/* Within a phase: what has no temperature, then from hot to cool. */
static int
compare_charges (gconstpointer a,
                 gconstpointer b)
{
  const Charge *x = *(Charge *const *) a, *y = *(Charge *const *) b;

  if (isnan (x->stated_c) || isnan (y->stated_c))
    return isnan (y->stated_c) - isnan (x->stated_c);
  return (x->stated_c < y->stated_c) - (x->stated_c > y->stated_c);
}

static GPtrArray *
phase_charges (const Stove          *stove,
               const OgFormulaPhase *phase)
{
  GPtrArray *charges = g_ptr_array_new ();

  for (guint i = 0; i < phase->lines->len; i++)
    {
      const OgFormulaLine *line = g_ptr_array_index (phase->lines, i);
      double stated_c = isnan (line->add_temperature_c) ? phase->temperature_c
                                                        : line->add_temperature_c;
      Item item = {
        .ingredient = og_catalog_get (stove->result->catalog, line->ingredient_id),
        .g = og_ppm_to_g (line->amount, stove->formula->batch_g),
      };

      if (line->amount == 0)
        continue;
      item.name = item.ingredient != NULL ? item.ingredient->name : line->ingredient_id;
      g_array_append_val (find_charge (charges, phase->id, stated_c)->items, item);
    }
  g_ptr_array_sort (charges, compare_charges);
  return charges;
}

/* What suffers from heat or air and is common practice to put in last. */
static gboolean
is_gentle (const Item *item)
{
  if (item->ingredient == NULL)
    return FALSE;
  return item->ingredient->kind == OG_KIND_ANTIOXIDANT
         || item->ingredient->kind == OG_KIND_VITAMIN
         || item->ingredient->kind == OG_KIND_FLAVOUR
         || item->ingredient->kind == OG_KIND_ESSENTIAL_OIL
         || og_ingredient_has_role (item->ingredient, "antioxidant");
}

static gboolean
is_dusty (const Item *item)
{
  return item->ingredient != NULL
         && (og_ingredient_is_suspended (item->ingredient)
             || og_ingredient_has_tag (item->ingredient, "powder"));
}

static gboolean
is_suspended (const Item *item)
{
  return item->ingredient != NULL && og_ingredient_is_suspended (item->ingredient);
}

static gboolean
is_dispersion (const Item *item)
{
  return item->ingredient != NULL && item->ingredient->kind == OG_KIND_DISPERSION;
}

static gboolean
is_sheared (const Item *item)
{
  return item->ingredient != NULL && item->ingredient->gelling.needs_shear;
}

static gboolean
is_any (const Item *item)
{
  return TRUE;
}

typedef gboolean (*ItemFunc) (const Item *item);

static gboolean
charge_has (const Charge *charge,
            ItemFunc      func)
{
  for (guint i = 0; i < charge->items->len; i++)
    {
      if (func (&g_array_index (charge->items, Item, i)))
        return TRUE;
    }
  return FALSE;
}

/* Returns: (transfer full): names with grams, or names alone */
static char *
list_items (const Charge *charge,
            ItemFunc      func,
            gboolean      with_grams)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < charge->items->len; i++)
    {
      const Item *item = &g_array_index (charge->items, Item, i);
      g_autofree char *g = grams (item->g);

      if (!func (item))
        continue;
      if (with_grams)
        /* Translators: a material and its weight, as in "Castor oil (12.6 g)". */
        g_ptr_array_add (names, g_strdup_printf (_("%s (%s g)"), item->name, g));
      else
        g_ptr_array_add (names, g_strdup (item->name));
    }
  g_ptr_array_add (names, NULL);
  /* Translators: stands between the materials of a list. */
  return g_strjoinv (_(", "), (char **) names->pdata);
}

static double
charge_mass (const Charge *charge)
{
  double g = 0;

  for (guint i = 0; i < charge->items->len; i++)
    g += g_array_index (charge->items, Item, i).g;
  return g;
}

/* --- temperatures -------------------------------------------------------- */

static gboolean
melts_in_oil (OgKind kind)
{
  switch (kind)
    {
    case OG_KIND_OIL:
    case OG_KIND_BUTTER:
    case OG_KIND_WAX:
    case OG_KIND_WAX_ESTER:
    case OG_KIND_ESTER:
    case OG_KIND_HYDROCARBON:
    case OG_KIND_SILICONE:
    case OG_KIND_ALCOHOL:
    case OG_KIND_GELLING_AGENT:
      return TRUE;

    case OG_KIND_ANTIOXIDANT:
    case OG_KIND_COLOUR:
    case OG_KIND_DISPERSION:
    case OG_KIND_PEARL:
    case OG_KIND_POWDER:
    case OG_KIND_FLAVOUR:
    case OG_KIND_ESSENTIAL_OIL:
    case OG_KIND_VITAMIN:
    case OG_KIND_ACTIVE:
    case OG_N_KINDS:
    default:
      return FALSE;
    }
}

static gboolean
thickens_on_cooling (const OgIngredient *ingredient)
{
  switch (ingredient->gelling.family)
    {
    case OG_GEL_PHYSICAL_POLYMER:
    case OG_GEL_POLYMER_SOLUTION:
    case OG_GEL_CRYSTAL_NETWORK:
      return TRUE;

    case OG_GEL_NONE:
    case OG_GEL_PARTICLE_NETWORK:
    case OG_GEL_PLATELET_NETWORK:
    case OG_GEL_VISCOUS_LIQUID:
    default:
      return FALSE;
    }
}

static gboolean
dissolves_hot (const OgIngredient *ingredient)
{
  return thickens_on_cooling (ingredient)
         || ingredient->kind == OG_KIND_WAX
         || ingredient->kind == OG_KIND_BUTTER;
}

static void
heat_raise (Heat   *heat,
            double  temperature_c,
            double  low_c,
            double  high_c)
{
  if (heat->temperature_c >= temperature_c)
    return;
  heat->temperature_c = temperature_c;
  heat->low_c = low_c;
  heat->high_c = high_c;
}

static void
heat_add (Heat       *heat,
          const Item *item)
{
  const OgFigure *dissolves, *melting;

  if (item->ingredient == NULL)
    return;
  dissolves = &item->ingredient->gelling.dissolves_c;
  melting = &item->ingredient->figures[OG_FIGURE_MELTING_C];
  if (og_figure_is_known (dissolves))
    heat_raise (heat, dissolves->value, dissolves->low, dissolves->high);
  else if (og_figure_is_known (melting) && melts_in_oil (item->ingredient->kind))
    {
      if (melting->value <= OG_TEMPERATURE_ROOM_C - MELT_MARGIN_C)
        return;
      heat_raise (heat, melting->value + MELT_MARGIN_C, NAN, NAN);
    }
  else if (dissolves_hot (item->ingredient))
    heat->unknown = TRUE;
  else
    return;
  g_ptr_array_add (heat->names, (gpointer) item->name);
}

static void
heat_init (Heat         *heat,
           const Charge *charge)
{
  *heat = (Heat) { .temperature_c = NAN, .low_c = NAN, .high_c = NAN };
  heat->names = g_ptr_array_new ();
  for (guint i = 0; i < charge->items->len; i++)
    heat_add (heat, &g_array_index (charge->items, Item, i));
}

static void
heat_clear (Heat *heat)
{
  g_clear_pointer (&heat->names, g_ptr_array_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Heat, heat_clear)

static char *
heat_names (const Heat *heat)
{
  g_autoptr (GPtrArray) names = g_ptr_array_copy (heat->names, NULL, NULL);

  g_ptr_array_add (names, NULL);
  return g_strjoinv (_(", "), (char **) names->pdata);
}

static void
limit_lower (Limit      *limit,
             double      temperature_c,
             const char *name)
{
  if (isnan (temperature_c) || limit->temperature_c <= temperature_c)
    return;
  *limit = (Limit) { temperature_c, name };
}

static void
limit_raise (Limit      *limit,
             double      temperature_c,
             const char *name)
{
  if (isnan (temperature_c) || limit->temperature_c >= temperature_c)
    return;
  *limit = (Limit) { temperature_c, name };
}

static void
take_limits (Limits       *limits,
             const Charge *charge)
{
  for (guint i = 0; i < charge->items->len; i++)
    {
      const Item *item = &g_array_index (charge->items, Item, i);
      const OgFigure *figures;

      if (item->ingredient == NULL)
        continue;
      figures = item->ingredient->figures;
      limit_lower (&limits->flash, figures[OG_FIGURE_FLASH_POINT_C].value, item->name);
      limit_lower (&limits->smoke, figures[OG_FIGURE_SMOKE_POINT_C].value, item->name);
      limit_lower (&limits->shy, figures[OG_FIGURE_MAX_HEAT_C].value, item->name);
    }
}

static void
take_in (Stove        *stove,
         const Charge *charge)
{
  stove->pot_g += charge_mass (charge);
  stove->suspended |= charge_has (charge, is_suspended) || charge_has (charge, is_dispersion);
  for (guint i = 0; i < charge->items->len; i++)
    {
      const Item *item = &g_array_index (charge->items, Item, i);

      if (item->ingredient == NULL)
        continue;
      if (og_figure_is_known (&item->ingredient->gelling.sets_c))
        limit_raise (&stove->sets, item->ingredient->gelling.sets_c.value, item->name);
      else if (thickens_on_cooling (item->ingredient))
        stove->sets_somewhere = item->name;
    }
}

/* Temperature after @g at @added_c went into the pot, by mass with equal heat capacities. */
static double
mixed_c (const Stove *stove,
         double       pot_c,
         double       g,
         double       added_c)
{
  return (stove->pot_g * pot_c + g * added_c) / (stove->pot_g + g);
}

static gboolean
body_stands (const Stove *stove)
{
  return stove->result->body >= OG_BODY_SOFT_SET && !isnan (stove->sets.temperature_c);
}

/* As cool as possible, yet still liquid. */
static double
gentle_c (const Stove *stove)
{
  return body_stands (stove) ? MAX (WRIST_C, stove->sets.temperature_c + SET_MARGIN_C) : WRIST_C;
}

/* --- cautions ------------------------------------------------------------ */

static void
caution_dust (OgStep *step)
{
  add_caution (step, g_strdup (_("Powder dust must not be breathed in: wear a dust mask and keep "
                                 "draughts away.")));
}

static void
caution_limits (OgStep       *step,
                const Limits *limits,
                double        temperature_c)
{
  g_autofree char *flash = celsius (limits->flash.temperature_c);
  g_autofree char *smoke = celsius (limits->smoke.temperature_c);
  g_autofree char *shy = celsius (limits->shy.temperature_c);

  if (temperature_c > limits->flash.temperature_c - FLASH_MARGIN_C)
    add_caution (step, g_strdup_printf (_("Vapour of %s can catch fire from about %s °C: stay "
                                          "20 °C below, away from flames and sparks, and follow "
                                          "your local rules for flammable liquids."),
                                        limits->flash.name, flash));
  if (temperature_c > limits->smoke.temperature_c - SMOKE_MARGIN_C)
    add_caution (step, g_strdup_printf (_("%s begins to smoke at about %s °C; stay well below."),
                                        limits->smoke.name, smoke));
  if (temperature_c > limits->shy.temperature_c)
    add_caution (step, g_strdup_printf (_("%s should not get warmer than about %s °C: put it in as "
                                          "late and as cool as the body allows."),
                                        limits->shy.name, shy));
}

static void
caution_heat (OgStep       *step,
              const Limits *limits,
              double        temperature_c)
{
  if (temperature_c > HOT_C)
    add_caution (step, g_strdup (_("Oil above 130 °C burns the skin at once and ages fast: wear "
                                   "gloves, goggles and long sleeves, and keep this step short.")));
  if (temperature_c >= STEAM_C)
    add_caution (step, g_strdup (_("Keep water away: a drop of it turns to steam and throws the "
                                   "hot oil about.")));
  if (temperature_c > BATH_C)
    add_caution (step, g_strdup (_("A water bath does not get the oil past about 98 °C: use direct "
                                   "gentle heat or an oven, with a thermometer in the oil, never "
                                   "an open flame.")));
  caution_limits (step, limits, temperature_c);
}

static void
caution_too_cool (OgStep     *step,
                  const Heat *heat,
                  double      temperature_c)
{
  g_autofree char *names = heat_names (heat);
  g_autofree char *stated = celsius (temperature_c);
  g_autofree char *needed = celsius (heat->temperature_c);

  if (!(temperature_c < heat->temperature_c - SAME_C))
    return;
  add_caution (step, g_strdup_printf (_("The recipe says %s °C, but %s may need about %s °C to "
                                        "become clear."), stated, names, needed));
}

static void
caution_hot_gentle (OgStep       *step,
                    const Charge *charge)
{
  g_autofree char *names = NULL;

  if (!(charge->stated_c > WRIST_C + WARM_MARGIN_C) || !charge_has (charge, is_gentle))
    return;
  names = list_items (charge, is_gentle, FALSE);
  add_caution (step, g_strdup_printf (_("Heat wears out %s; the end of the work, when the pot is "
                                        "barely warm, is the better moment."), names));
}

/* Returns: temperature of the pot afterwards, the advice followed */
static double
caution_chill (const Stove  *stove,
               OgStep       *step,
               const Charge *charge,
               double        pot_c)
{
  double g = charge_mass (charge);
  double after_c = mixed_c (stove, pot_c, g, OG_TEMPERATURE_ROOM_C);
  double warm_c = stove->sets.temperature_c + WARM_MARGIN_C;
  g_autofree char *after = celsius (after_c);
  g_autofree char *sets = celsius (stove->sets.temperature_c);
  g_autofree char *warm = celsius (warm_c);

  if (body_stands (stove) && pot_c < stove->sets.temperature_c)
    {
      add_caution (step, g_strdup_printf (_("The body has set by then, at about %s °C: stir this "
                                            "in sooner, while the pot still flows."), sets));
      return after_c;
    }
  if (g < SMALL_ADDITION * (stove->pot_g + g))
    return after_c;
  if (stove->sets_somewhere != NULL)
    add_caution (step, g_strdup_printf (_("The temperature at which %s sets is not known: bring "
                                          "this to the temperature of the pot before it goes in, "
                                          "or lumps may form."), stove->sets_somewhere));

  if (isnan (stove->sets.temperature_c) || isnan (after_c))
    return after_c;

  if (pot_c < stove->sets.temperature_c)
    {
      add_caution (step, g_strdup_printf (_("This is below about %s °C, where %s sets; so much oil "
                                            "may leave lumps. Bring both to about %s °C if it "
                                            "does."), sets, stove->sets.name, warm));
      return after_c;
    }
  if (after_c >= stove->sets.temperature_c)
    return after_c;
  add_caution (step, g_strdup_printf (_("Cold from the shelf it would chill the pot to about %s "
                                        "°C, below about %s °C, where %s sets: warm it to about "
                                        "%s °C before it goes in, or lumps form."),
                                      after, sets, stove->sets.name, warm));
  return mixed_c (stove, pot_c, g, warm_c);
}

/* --- steps --------------------------------------------------------------- */

typedef void (*ChargeFunc) (Stove *stove, const Charge *charge);

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
stir_jars (Stove        *stove,
           const Charge *charge)
{
  g_autofree char *names = NULL;

  if (!charge_has (charge, is_dispersion))
    return;
  names = list_items (charge, is_dispersion, FALSE);
  add_step (stove, charge->phase_id, NAN,
            g_strdup_printf (_("Stir the jar down to the bottom before you take from it, because "
                               "the colour settles: %s."), names));
}

static void
weigh (Stove     *stove,
       GPtrArray *phases)
{
  g_autofree char *batch = grams (stove->formula->batch_g);
  gboolean dusty = FALSE;
  OgStep *step;

  for (guint i = 0; i < phases->len; i++)
    {
      GPtrArray *charges = g_ptr_array_index (phases, i);

      for (guint j = 0; j < charges->len; j++)
        dusty = dusty || charge_has (g_ptr_array_index (charges, j), is_dusty);
    }
  step = add_step (stove, 0, NAN,
                   g_strdup_printf (_("Dry all tools, and weigh out every line of the recipe for a "
                                      "batch of %s g before anything is heated."), batch));
  if (dusty)
    caution_dust (step);
}

static void
wet_powders (Stove        *stove,
             const Charge *charge)
{
  g_autofree char *names = NULL;

  if (!charge_has (charge, is_suspended))
    return;
  names = list_items (charge, is_suspended, FALSE);
  caution_dust (add_step (stove, charge->phase_id, NAN,
                          g_strdup_printf (_("Wet the powder with a little of the weighed oil and "
                                             "rub it until no lump is left: %s."), names)));
}

/* Brings the pot to @temperature_c; says nothing where it is there already. */
static void
reach (Stove  *stove,
       guint   phase_id,
       double  temperature_c)
{
  g_autofree char *text = celsius (temperature_c);
  OgStep *step;

  if (isnan (temperature_c))
    return;
  if (temperature_c > stove->pot_c + SAME_C)
    {
      step = add_step (stove, phase_id, temperature_c,
                       g_strdup_printf (_("Warm the pot slowly, stirring, to about %s °C."), text));
      caution_heat (step, &stove->limits, temperature_c);
      stove->heated = TRUE;
    }
  else if (temperature_c >= stove->pot_c - SAME_C)
    return;
  else if (temperature_c >= WRIST_LOW_C && temperature_c <= WRIST_HIGH_C)
    add_step (stove, phase_id, temperature_c,
              g_strdup (_("Let the pot cool, stirring now and then, until it feels barely warm to "
                          "the inner wrist, about 35 to 40 °C.")));
  else
    add_step (stove, phase_id, temperature_c,
              g_strdup_printf (_("Let the pot cool, stirring gently, to about %s °C."), text));
  stove->pot_c = temperature_c;
}

static char *
clear_text (const Heat *heat,
            double      temperature_c)
{
  g_autofree char *names = heat_names (heat);
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
shear (Stove        *stove,
       const Charge *charge)
{
  g_autofree char *names = NULL;

  if (!charge_has (charge, is_sheared))
    return;
  names = list_items (charge, is_sheared, FALSE);
  add_step (stove, charge->phase_id, stove->pot_c,
            g_strdup_printf (_("Work the pot with a fast mixer for some minutes until no grain is "
                               "left of %s."), names));
}

static void
clear_up (Stove        *stove,
          const Charge *charge,
          const Heat   *heat)
{
  OgStep *step;

  if (heat->names->len == 0)
    return;
  if (heat->unknown)
    {
      stove->heated = TRUE;
      stove->pot_c = charge->stated_c;
    }
  step = add_step (stove, charge->phase_id, stove->pot_c, clear_text (heat, stove->pot_c));
  caution_too_cool (step, heat, stove->pot_c);
}

static double
charge_temperature (const Stove  *stove,
                    const Charge *charge,
                    const Heat   *heat)
{
  if (!isnan (charge->stated_c))
    return charge->stated_c;
  if (heat->temperature_c > stove->pot_c)
    return heat->temperature_c;
  if (heat->names->len == 0 && stove->heated && charge_has (charge, is_gentle))
    return fmin (stove->pot_c, gentle_c (stove));
  return stove->pot_c;
}

/* The first charge is warmed together, from cold. */
static void
begin_pot (Stove        *stove,
           const Charge *charge)
{
  g_autofree char *items = list_items (charge, is_any, TRUE);
  g_auto (Heat) heat = { 0 };
  double temperature_c;

  heat_init (&heat, charge);
  temperature_c = charge_temperature (stove, charge, &heat);
  take_limits (&stove->limits, charge);
  take_in (stove, charge);
  add_step (stove, charge->phase_id, stove->pot_c,
            g_strdup_printf (_("Put into a dry, heat-proof beaker and stir together: %s."), items));
  if (temperature_c > WARM_C)
    {
      reach (stove, charge->phase_id, temperature_c);
      caution_hot_gentle (g_ptr_array_index (stove->steps, stove->steps->len - 1), charge);
    }
  clear_up (stove, charge, &heat);
  shear (stove, charge);
}

/* Later charges go into a pot that has been brought to their temperature. */
static void
add_to_pot (Stove        *stove,
            const Charge *charge)
{
  g_autofree char *items = list_items (charge, is_any, TRUE);
  g_auto (Heat) heat = { 0 };
  Limits limits = NO_LIMITS;
  double temperature_c;
  OgStep *step;

  heat_init (&heat, charge);
  temperature_c = charge_temperature (stove, charge, &heat);
  reach (stove, charge->phase_id, temperature_c);
  take_limits (&limits, charge);
  take_limits (&stove->limits, charge);
  step = add_step (stove, charge->phase_id, temperature_c,
                   g_strdup_printf (_("Stir in slowly: %s."), items));
  caution_limits (step, &limits, temperature_c);
  caution_hot_gentle (step, charge);

  stove->pot_c = caution_chill (stove, step, charge, temperature_c);
  if (heat.names->len > 0)
    reach (stove, charge->phase_id, temperature_c);
  take_in (stove, charge);
  clear_up (stove, charge, &heat);
  shear (stove, charge);
}

static void
take_charge (Stove        *stove,
             const Charge *charge)
{
  if (charge->items->len == 0)
    return;
  if (stove->pot_g == 0)
    begin_pot (stove, charge);
  else
    add_to_pot (stove, charge);
}

/* Where the recipe is silent about temperatures, gentle materials wait until the rest is done. */
static gboolean
must_split (const Stove  *stove,
            const Charge *charge)
{
  g_auto (Heat) heat = { 0 };

  if (!isnan (charge->stated_c) || !charge_has (charge, is_gentle))
    return FALSE;
  heat_init (&heat, charge);
  return stove->heated || heat.temperature_c > WARM_C || heat.unknown;
}

static void
split_charge (Stove        *stove,
              const Charge *charge)
{
  Charge *robust = charge_new (charge->phase_id, NAN);
  Charge *gentle = charge_new (charge->phase_id, NAN);

  for (guint i = 0; i < charge->items->len; i++)
    {
      const Item *item = &g_array_index (charge->items, Item, i);

      g_array_append_val ((is_gentle (item) ? gentle : robust)->items, *item);
    }
  take_charge (stove, robust);
  take_charge (stove, gentle);
  charge_free (robust);
  charge_free (gentle);
}

static void
work_charge (Stove        *stove,
             const Charge *charge)
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
  OgStep *step;

  if (body_stands (stove))
    {
      reach (stove, 0, gentle_c (stove));
      step = add_step (stove, 0, gentle_c (stove),
                       g_strdup_printf (_("Fill while it still flows, at about %s °C, and leave "
                                          "room under the neck for the applicator."), text));
    }
  else
    {
      if (stove->heated)
        reach (stove, 0, fmin (stove->pot_c, WRIST_C));
      step = add_step (stove, 0, stove->pot_c,
                       g_strdup (_("Fill the containers and leave room under the neck for the "
                                   "applicator, which pushes some of the oil up.")));
    }
  if (stove->suspended)
    add_caution (step, g_strdup (_("Stir between fillings, so that the colour stays even.")));
}

static void
judge (Stove *stove)
{
  add_step (stove, 0, OG_TEMPERATURE_ROOM_C,
            g_strdup (_("Close, leave some hours at room temperature, better overnight, and judge "
                        "the body only then: warm oil always looks thinner than it will be.")));
  add_step (stove, 0, NAN,
            g_strdup (_("Write batch, date and reading on the container, and follow your local "
                        "rules for labels before it goes to anybody else.")));
}

static GPtrArray *
all_phases (const Stove *stove)
{
  GPtrArray *phases = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);

  for (guint i = 0; i < stove->formula->phases->len; i++)
    {
      GPtrArray *charges = phase_charges (stove, g_ptr_array_index (stove->formula->phases, i));

      g_ptr_array_set_free_func (charges, (GDestroyNotify) charge_free);
      g_ptr_array_add (phases, charges);
    }
  return phases;
}

GPtrArray *
og_process_steps (const OgFormula *formula,
                  const OgResult  *result)
{
  g_autoptr (GPtrArray) phases = NULL;
  Stove stove = {
    .formula = formula,
    .result = result,
    .pot_c = OG_TEMPERATURE_ROOM_C,
    .sets = NO_LIMIT,
    .limits = NO_LIMITS,
  };

  g_return_val_if_fail (formula != NULL && result != NULL && result->catalog != NULL, NULL);

  stove.steps = g_ptr_array_new_with_free_func ((GDestroyNotify) step_free);
  if (og_formula_total (formula) == 0)
    return stove.steps;

  phases = all_phases (&stove);
  foreach_charge (&stove, phases, stir_jars);
  weigh (&stove, phases);
  foreach_charge (&stove, phases, wet_powders);
  foreach_charge (&stove, phases, work_charge);
  fill (&stove);
  judge (&stove);
  return stove.steps;
}
