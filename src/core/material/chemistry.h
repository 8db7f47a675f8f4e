/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/saying.h"

G_BEGIN_DECLS

/** OgAcid: a fatty acid by chain length, C=C double bonds and hydroxyl groups. */
typedef struct
{
  guint8 carbons;
  guint8 double_bonds;
  guint8 hydroxyls;
} OgAcid;

/** OgAcidShare: share of one acid, wt % of all fatty acids; @low/@high are NAN when no range is
 * known. */
typedef struct
{
  OgAcid acid;
  double pct;
  double low_pct;
  double high_pct;
} OgAcidShare;

/** OgProfile: a fatty-acid profile, sorted by carbons, double bonds, hydroxyls; no acid twice. */
typedef struct
{
  GArray *shares; /* of OgAcidShare */
} OgProfile;

/**
 * og_acid_parse:
 * @code: "C18:1", "C18:1-OH"; 4 ... 30 carbons, at most 6 double bonds and no more than the chain
 * can hold
 *
 * Returns: %FALSE with %OG_PROFILE_ERROR_CODE
 */
gboolean    og_acid_parse                 (const char  *code,
                                           OgAcid      *acid,
                                           GError     **error);
/** Returns: (transfer full): the code, as og_acid_parse() reads it */
char       *og_acid_to_code               (OgAcid       acid);
/** Returns: (nullable) (transfer none): trivial name such as "oleic", %NULL if none is in use */
const char *og_acid_get_name              (OgAcid       acid);
/** Orders by carbons, double bonds, hydroxyls. Returns: below 0, 0 or above 0 */
int         og_acid_compare               (OgAcid       a,
                                           OgAcid       b);
/** Returns: molar mass of the free acid, g/mol (IUPAC abridged atomic weights) */
double      og_acid_molar_mass            (OgAcid       acid);
/** Returns: molar mass of the triglyceride of three such acids, g/mol */
double      og_acid_triglyceride_mass     (OgAcid       acid);

/** Returns: (transfer full): a profile without any acid */
OgProfile  *og_profile_new                (void);
/** Returns: (transfer full): a copy that shares nothing with its original */
OgProfile  *og_profile_copy               (const OgProfile *profile);
/** Frees @profile with all it holds. */
void        og_profile_free               (OgProfile   *profile);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgProfile, og_profile_free)

/**
 * og_profile_parse:
 * @text: "C16:0=6.1,C18:1=16.9,C18:2=73.7", wt % with decimal points; need not sum to 100
 *
 * Returns: (transfer full): a profile renormalised to 100, or %NULL with an #OgProfileError
 */
OgProfile  *og_profile_parse              (const char       *text,
                                           GError          **error);
/** Adds @pct of @acid (to what is there already). Range unknown; beside a known range it counts
 * as exact. */
void        og_profile_add                (OgProfile        *profile,
                                           OgAcid            acid,
                                           double            pct);
/** Adds with a range; bounds may be NAN. */
void        og_profile_add_range          (OgProfile        *profile,
                                           OgAcid            acid,
                                           double            pct,
                                           double            low_pct,
                                           double            high_pct);
/** Returns: the sum of all shares in wt % */
double      og_profile_sum                (const OgProfile  *profile);
/** Scales shares (and ranges) so that they sum to 100. Does nothing if the sum is 0. */
void        og_profile_normalise          (OgProfile        *profile);
/** Adds @weight times the shares and ranges of @other (normalised or not) to @profile:
 * mass-weighted blending. */
void        og_profile_blend              (OgProfile        *profile,
                                           const OgProfile  *other,
                                           double            weight);
/** Returns: wt % of @acid, 0 if absent */
double      og_profile_get                (const OgProfile  *profile,
                                           OgAcid            acid);

/** OgAcidClass: what a reader groups acids by. */
typedef enum
{
  OG_ACID_CLASS_SHORT_SATURATED, /* up to C10 */
  OG_ACID_CLASS_SATURATED,
  OG_ACID_CLASS_MONOUNSATURATED,
  OG_ACID_CLASS_DIUNSATURATED,
  OG_ACID_CLASS_POLYUNSATURATED, /* three or more double bonds */
  OG_ACID_CLASS_HYDROXY,
  OG_N_ACID_CLASSES
} OgAcidClass;

/** Returns: the class whose chains behave alike: hydroxy before all others, else by double bonds;
 * saturated ones up to ten carbons are a class of their own */
OgAcidClass og_acid_get_class             (OgAcid            acid);
/** Returns: (transfer none): translated name of the class */
const char *og_acid_class_get_name        (OgAcidClass       acid_class);
/** Returns: the name of the class as a value of a saying */
OgWord      og_acid_class_word            (OgAcidClass       acid_class);
/** Fills @pct with wt % per class; sums to the sum of the profile. */
void        og_profile_class_shares       (const OgProfile  *profile,
                                           double            pct[OG_N_ACID_CLASSES]);

/**
 * og_profile_mole_fractions:
 * @x: (out): one number per share, mole fraction of fatty acid chains
 *
 * Returns: mean molar mass of the acids, g/mol (molar mean); NAN, and every fraction 0, if there is
 * no acid
 */
double      og_profile_mole_fractions     (const OgProfile  *profile,
                                           double           *x);

/** Iodine value of the triglycerides, g I2/100 g: moles of double bonds x 253.809 over the
 * triglyceride molar mass. NAN if empty. Agrees with AOCS Cd 1c-85 for the acids that practice
 * names. */
double      og_profile_iodine_value       (const OgProfile  *profile);
/** Iodine value by the printed factors of AOCS Recommended Practice Cd 1c-85 (triglycerides):
 * only C16:1, C18:1, C18:2, C18:3, C20:1, C22:1 count; shares are taken as they stand. */
double      og_profile_iodine_value_cd1c  (const OgProfile  *profile);
/** Saponification value, mg KOH/g, molar form: 3 x 56105 / (3 M + 38.049). NAN if empty. */
double      og_profile_saponification     (const OgProfile  *profile);
/** AOCS Cd 3a-94 form (recalled): arithmetic mean molar mass. */
double      og_profile_saponification_cd3a (const OgProfile *profile);
/** COX value: (C18:1 + 10.3 C18:2 + 21.6 C18:3)/100; Fatemi & Hammond 1980 (recalled). Hydroxy
 * acids do not count. */
double      og_profile_cox                (const OgProfile  *profile);
/** Oxidisability: (0.02 monoenes + dienes + 2 trienes)/100; Cosgrove, Church & Pryor 1987
 * (recalled). Every monoene counts. */
double      og_profile_oxidisability      (const OgProfile  *profile);
/** Peroxidisability index: 0.025 mono + di + 2 tri + 4 tetra + 6 penta + 8 hexa; Witting &
 * Horwitt 1964 (recalled). */
double      og_profile_peroxidisability   (const OgProfile  *profile);

/**
 * og_profile_density:
 *
 * Density of the liquid triglyceride, g/ml: Lund's relation (Lund 1922, recalled) for the specific
 * gravity at 15/15 C,
 *
 *   rho = 0.9991 (0.8475 + 0.00030 SV + 0.00014 IV) + 0.0572 h - 0.00066 (t - 15 C)
 *
 * with the density of water at 15 C and the mean number h of hydroxyl groups per chain. The
 * hydroxyl term makes the castor oil of Goering et al. 1982 (h = 0.891) come to 0.9632 g/ml at 15
 * C, between 0.961-0.963 at 15.5 C (Merck Index monograph) and 0.964 at 15 C (Jokuty et al. 1999);
 * it is one oil's. The slope is the mean of soya, maize, crambe and rapeseed oil between 24 and 110
 * C (Noureddini et al. 1992). Residuals against those series are -0.30 ... +0.17 %.
 *
 * Returns: NAN if the profile is empty
 */
double      og_profile_density            (const OgProfile  *profile,
                                           double            temperature_c);

/** og_cas_is_valid: form NNNNNNN-NN-N and check digit of a CAS registry number. */
gboolean    og_cas_is_valid               (const char       *cas);

G_END_DECLS
