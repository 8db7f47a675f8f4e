/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/practice.h"
#include "core/base/saying.h"
#include "core/make/stove.h"
#include "core/predict/blend.h"

G_BEGIN_DECLS

/* Bench practice without a published source, C. */
#define OG_STOVE_WRIST_C (0.5 * (OG_WRIST_LOW_C + OG_WRIST_HIGH_C)) /* barely warm */
#define OG_STOVE_WARM_C 30.0  /* below it nothing needs heating */
#define OG_STOVE_SAME_C 3.0   /* K: differences a bench thermometer does not bother with */

/** OgStoveItem: one line that weighs something. */
typedef struct
{
  const char         *name;
  const OgIngredient *ingredient;    /* nullable: not in the catalog */
  const char         *ingredient_id;
  guint               line_id;
  double              g;
  gboolean            inherited;     /* the recipe gives no temperature: it has that of its phase's liquid */
  gboolean            joined;        /* would be heated alone: goes in with the liquid that comes after it */
} OgStoveItem;

/** OgStoveCharge: what goes into the pot in one go. */
typedef struct
{
  guint   phase_id;
  double  stated_c; /* NAN: the recipe says nothing, or it waits */
  double  recipe_c; /* of what waits: what the recipe says; NAN for all else */
  GArray *items;    /* of OgStoveItem */
} OgStoveCharge;

/** OgStoveLimit: a temperature and the material it comes from. */
typedef struct
{
  double      temperature_c; /* NAN: none */
  const char *name;
} OgStoveLimit;

/** OgStoveLimits: what materials bear; the lowest of each. */
typedef struct
{
  OgStoveLimit flash, smoke, shy;
} OgStoveLimits;

#define OG_STOVE_NO_LIMIT { NAN, NULL }
#define OG_STOVE_NO_LIMITS { OG_STOVE_NO_LIMIT, OG_STOVE_NO_LIMIT, OG_STOVE_NO_LIMIT }

/** OgStoveHeat: what a charge needs to become clear. */
typedef struct
{
  double     temperature_c;   /* NAN: nothing needs heat, or none of it has a known temperature */
  double     low_c, high_c;   /* NAN without a range */
  GPtrArray *names;           /* of what must melt or dissolve */
  gboolean   unknown;         /* the temperature of at least one is not known */
} OgStoveHeat;

typedef gboolean (*OgStoveItemFunc) (const OgStoveItem *item);

/* --- stove-charges.c: the recipe as charges ------------------------------ */

/** Returns: (transfer full): an empty charge of a phase; @stated_c is the temperature in C that
 * the recipe states, or NAN */
OgStoveCharge *og_stove_charge_new     (guint                  phase_id,
                                        double                 stated_c);
/** Frees @charge with all it holds. */
void           og_stove_charge_free    (OgStoveCharge         *charge);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgStoveCharge, og_stove_charge_free)
/**
 * og_stove_charges_read:
 *
 * Lines without a temperature have that of their phase, else that of the hottest liquid of it, else of the hottest
 * line; what suffers from heat waits until the others are done. Powders, waxes and agents before the first liquid
 * go into it.
 *
 * Returns: (transfer full) (element-type GPtrArray): the charges of each phase, hot before cool
 */
GPtrArray     *og_stove_charges_read   (const OgFormula       *formula,
                                        const OgCatalog       *catalog,
                                        double                 batch_g);
/** Returns: %TRUE if @func holds for one item of @charge */
gboolean       og_stove_charge_has     (const OgStoveCharge   *charge,
                                        OgStoveItemFunc        func);
/** Returns: (transfer full): names with grams, or names alone */
OgSaying      *og_stove_charge_list    (const OgStoveCharge   *charge,
                                        OgStoveItemFunc        func,
                                        gboolean               with_grams);
/** Returns: the mass of all items in grams */
double         og_stove_charge_g       (const OgStoveCharge   *charge);
/** Lowers @limits to what the charge bears. */
void           og_stove_charge_limits  (const OgStoveCharge   *charge,
                                        OgStoveLimits         *limits);
/** As fine as a bench scale shows it. */
OgWord         og_stove_grams          (double                 g);

/** What suffers from heat or air and is common practice to put in last. */
gboolean       og_stove_is_gentle      (const OgStoveItem     *item);
/** Returns: %TRUE for what can be breathed in while it is weighed or stirred in: suspended solids
 * and powders */
gboolean       og_stove_is_dusty       (const OgStoveItem     *item);
/** Returns: %TRUE for a solid that stays one in the oil */
gboolean       og_stove_is_suspended   (const OgStoveItem     *item);
/** Returns: %TRUE for a solid that was ground into oil beforehand */
gboolean       og_stove_is_dispersion  (const OgStoveItem     *item);
/** Returns: %TRUE for an agent that thickens only when it is sheared in */
gboolean       og_stove_is_sheared     (const OgStoveItem     *item);
/** Returns: %TRUE for a powder, a wax or an agent, which must not be heated without an oil around it */
gboolean       og_stove_is_solid       (const OgStoveItem     *item);
/** Returns: %TRUE for what is liquid at the room and bears the heat of the pot: others dissolve in it */
gboolean       og_stove_is_carrier     (const OgStoveItem     *item);
/** Returns: %TRUE for what has its temperature from the liquid of its phase */
gboolean       og_stove_is_inherited   (const OgStoveItem     *item);
/** Returns: %TRUE for what would be heated alone */
gboolean       og_stove_is_joined      (const OgStoveItem     *item);
/** Returns: %TRUE if @item should not get as warm as @temperature_c */
gboolean       og_stove_is_shy_at      (const OgStoveItem     *item,
                                        double                 temperature_c);
/** Returns: %TRUE if the solids of @charge, if it has any, have something to dissolve or lie in */
gboolean       og_stove_charge_is_wet  (const OgStoveCharge   *charge);
/** Returns: %TRUE for every item */
gboolean       og_stove_is_any         (const OgStoveItem     *item);

/** TRUE for agents whose network forms on cooling. */
gboolean       og_stove_sets           (const OgIngredient    *ingredient);
/** Finds which items of @charge ask for heat and the temperature in C that suffices for all; NAN
 * throughout if none does. Items are borrowed. Free with og_stove_heat_clear(). */
void           og_stove_heat_init      (OgStoveHeat           *heat,
                                        const OgStoveCharge   *charge);
/** Frees what @heat holds, not @heat itself. */
void           og_stove_heat_clear     (OgStoveHeat           *heat);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (OgStoveHeat, og_stove_heat_clear)
/** Returns: (transfer full): the names of what asks for heat, one after the other */
OgSaying      *og_stove_heat_names     (const OgStoveHeat     *heat);

/* --- stove-pot.c: what the pot holds, how warm it is --------------------- */

/** OgStovePot: vessel and content at one temperature. */
typedef struct
{
  const OgFormula   *formula;
  const OgResult    *result;
  OgStoveSetup       setup;
  OgStovePlan       *plan;
  GArray            *items;    /* of what is in it */
  OgHeatBody         content;
  OgHeatBody         both;     /* with the vessel */
  double             density_g_ml; /* of the whole recipe at 25 C */
  double             g;
  double             c;        /* NAN: hot, but nobody knows how hot */
  double             minutes;
  OgBlend           *blend;    /* nullable: of the content, while it stays the same */
} OgStovePot;

/** Settles vessel and cooling of @plan. */
void     og_stove_pot_init        (OgStovePot            *pot,
                                   OgStovePlan           *plan,
                                   const OgFormula       *formula,
                                   const OgResult        *result,
                                   const OgStoveSetup    *setup);
/** Frees what @pot holds, not @pot itself. */
void     og_stove_pot_clear       (OgStovePot            *pot);
/** Fills the empty @body with a charge that is still as it came from the shelf. */
void     og_stove_pot_charge_body (const OgStovePot      *pot,
                                   const OgStoveCharge   *charge,
                                   OgHeatBody            *body);
/** Puts the charge in; the pot is at @after_c then. */
void     og_stove_pot_take        (OgStovePot            *pot,
                                   const OgStoveCharge   *charge,
                                   double                 after_c);
/** Warms the pot; fills minutes and heat of @step. */
void     og_stove_pot_warm        (OgStovePot            *pot,
                                   OgStoveStep           *step,
                                   double                 to_c);
/** Lets the pot cool; fills minutes of @step. */
void     og_stove_pot_cool        (OgStovePot            *pot,
                                   OgStoveStep           *step,
                                   double                 to_c);
/** Lowest flash and smoke point of everything that makes up @least_share of the pot or more. */
void     og_stove_pot_main_limits (const OgStovePot      *pot,
                                   const OgStoveCharge   *charge,
                                   double                 least_share,
                                   OgStoveLimits         *limits);
/**
 * og_stove_pot_sets:
 * @all_g: mass that the content is spread over: that of the pot, or with what comes next
 *
 * Highest temperature at which something in the pot sets. Crystals set the hotter the more there is
 * of them; a wax that says no more than where it melts counts with that.
 */
OgStoveLimit og_stove_pot_sets    (const OgStovePot      *pot,
                                   double                 all_g);
/** Highest melting point of a wax in the pot. */
OgStoveLimit og_stove_pot_melts   (const OgStovePot      *pot);
/** Returns: (nullable): the name of a material in the pot that sets nobody knows where */
const char *og_stove_pot_sets_somewhere (const OgStovePot *pot);
/** Cooling constant at @mean_c, 1/min. */
OgEstimate og_stove_pot_rate      (const OgStovePot      *pot,
                                   double                 mean_c);
/** Volume of @g grams of the recipe at 25 C. */
double   og_stove_pot_ml          (const OgStovePot      *pot,
                                   double                 g);

/* --- stove-cautions.c: what can go wrong --------------------------------- */

/** OgStoveWork: the work so far. */
typedef struct
{
  OgStovePot    pot;
  OgStovePlan  *plan;
  gboolean      heated;
  gboolean      suspended; /* something in the pot settles */
  gboolean      cooled;    /* a cooling step was said already */
  OgStoveLimit  sets;      /* highest setting point of what is in the pot */
  OgStoveLimits limits;
  const GPtrArray *phases; /* of GPtrArray of OgStoveCharge */
  const OgStoveCharge *at; /* nullable: the charge that is worked on, as it stands in @phases */
} OgStoveWork;

/** Adds @sentence, which becomes its own, to what @text (nullable) says already. */
void     og_stove_add_sentence     (OgSaying             **text,
                                    OgSaying              *sentence);
/** Adds a sentence to the caution of a step; takes @sentence. */
void     og_stove_step_caution     (OgStoveStep           *step,
                                    OgSaying              *sentence);
/** Adds a finding, unless its sentence is there already, most severe first; takes @source (nullable) and @text. */
void     og_stove_work_finding     (OgStoveWork           *stove,
                                    OgSeverity             severity,
                                    const char            *code,
                                    OgSaying              *source,
                                    OgSaying              *text);
/** Both: a caution of the step that is a finding of the plan as well; takes @text. */
void     og_stove_work_warn        (OgStoveWork           *stove,
                                    OgStoveStep           *step,
                                    OgSeverity             severity,
                                    const char            *code,
                                    OgSaying              *text);
/** Whole degrees. */
OgWord   og_stove_celsius          (double                 temperature_c);
/** TRUE if what is in the pot sets to a body that stands. */
gboolean og_stove_body_stands      (const OgStoveWork     *stove);
/** Adds to @step the caution about breathing dust. */
void     og_stove_caution_dust     (OgStoveStep           *step);
/** Flash and smoke points and what heat harms, of @limits; @charge is about to go in. */
void     og_stove_caution_limits   (OgStoveWork           *stove,
                                    OgStoveStep           *step,
                                    const OgStoveLimits   *limits,
                                    const OgStoveCharge   *charge,
                                    double                 temperature_c);
/** Hot oil, steam, source of heat, and the limits of the pot. */
void     og_stove_caution_heat     (OgStoveWork           *stove,
                                    OgStoveStep           *step,
                                    double                 temperature_c);
/** Warns at @step if @temperature_c, which the recipe states, lies below what @heat asks for. */
void     og_stove_caution_too_cool (OgStoveWork           *stove,
                                    OgStoveStep           *step,
                                    const OgStoveHeat     *heat,
                                    double                 temperature_c);
/** As cool as the pot can be and still flow, C: the wrist, or over the setting of a body that stands. */
double   og_stove_coolest_c        (const OgStoveWork     *stove);
/** Adds to @step a caution if something that heat wears out goes in at @temperature_c, in C, and could go in
 * cooler. */
void     og_stove_caution_hot_gentle (OgStoveWork         *stove,
                                      OgStoveStep         *step,
                                      const OgStoveCharge *charge,
                                      double               temperature_c);
/** Says at @step, which takes @charge in, what the recipe leaves open or has otherwise: temperatures that are
 * inherited, solids that wait for their liquid, and a pot cooled from @recipe_c, in C, to @borne_c for its sake. */
void     og_stove_caution_placing  (OgStoveWork           *stove,
                                    OgStoveStep           *step,
                                    const OgStoveCharge   *charge,
                                    double                 recipe_c,
                                    double                 borne_c);
/** Warns at @step that the pot has set before it. */
void     og_stove_caution_set_already (OgStoveWork        *stove,
                                       OgStoveStep        *step);
/** Works out the temperature of the pot after @charge, the advice followed. */
void     og_stove_judge_addition   (OgStoveWork           *stove,
                                    OgStoveStep           *step,
                                    const OgStoveCharge   *charge);

G_END_DECLS
