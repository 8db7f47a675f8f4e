/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/material/chemistry.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/nick.h"
#include "core/base/physics.h"
#include "core/base/units.h"

/* IUPAC abridged standard atomic weights, g/mol */
#define MASS_C 12.011
#define MASS_H 1.008
#define MASS_O 15.999
#define MASS_I 126.90447
#define MASS_K 39.0983

#define MASS_WATER (2.0 * MASS_H + MASS_O) /* g/mol, from the above */
#define MASS_GLYCEROL (3.0 * MASS_C + 8.0 * MASS_H + 3.0 * MASS_O) /* g/mol, from the above */
#define MASS_KOH (MASS_K + MASS_O + MASS_H)
/* what three acids gain when they become one triglyceride */
#define MASS_GLYCERYL (MASS_GLYCEROL - 3.0 * MASS_WATER)

#define MIN_CARBONS 4 /* butyric acid, the shortest in edible fats */
#define MAX_CARBONS 30 /* melissic acid, the longest in waxes */
#define MAX_DOUBLE_BONDS 6 /* docosahexaenoic acid */

/* Lund's relation for the specific gravity at 15/15 C */
#define LUND_CONSTANT 0.8475
#define LUND_PER_SAPONIFICATION 0.00030
#define LUND_PER_IODINE 0.00014
#define WATER_DENSITY_15_C 0.9991
#define LUND_TEMPERATURE_C 15.0
#define DENSITY_PER_HYDROXYL 0.0572

static const struct
{
  OgNick word;
  OgAcid acid;
} trivial_names[] = {
  { { NULL, N_("butyric") }, { 4, 0, 0 } },
  { { NULL, N_("caproic") }, { 6, 0, 0 } },
  { { NULL, N_("caprylic") }, { 8, 0, 0 } },
  { { NULL, N_("capric") }, { 10, 0, 0 } },
  { { NULL, N_("lauric") }, { 12, 0, 0 } },
  { { NULL, N_("myristic") }, { 14, 0, 0 } },
  { { NULL, N_("myristoleic") }, { 14, 1, 0 } },
  { { NULL, N_("pentadecanoic") }, { 15, 0, 0 } },
  { { NULL, N_("palmitic") }, { 16, 0, 0 } },
  { { NULL, N_("palmitoleic") }, { 16, 1, 0 } },
  { { NULL, N_("margaric") }, { 17, 0, 0 } },
  { { NULL, N_("heptadecenoic") }, { 17, 1, 0 } },
  { { NULL, N_("stearic") }, { 18, 0, 0 } },
  { { NULL, N_("hydroxystearic") }, { 18, 0, 1 } },
  { { NULL, N_("oleic") }, { 18, 1, 0 } },
  { { NULL, N_("ricinoleic") }, { 18, 1, 1 } },
  { { NULL, N_("linoleic") }, { 18, 2, 0 } },
  { { NULL, N_("linolenic") }, { 18, 3, 0 } },
  { { NULL, N_("stearidonic") }, { 18, 4, 0 } },
  { { NULL, N_("arachidic") }, { 20, 0, 0 } },
  { { NULL, N_("eicosenoic") }, { 20, 1, 0 } },
  { { NULL, N_("lesquerolic") }, { 20, 1, 1 } },
  { { NULL, N_("eicosadienoic") }, { 20, 2, 0 } },
  { { NULL, N_("arachidonic") }, { 20, 4, 0 } },
  { { NULL, N_("eicosapentaenoic") }, { 20, 5, 0 } },
  { { NULL, N_("behenic") }, { 22, 0, 0 } },
  { { NULL, N_("erucic") }, { 22, 1, 0 } },
  { { NULL, N_("docosadienoic") }, { 22, 2, 0 } },
  { { NULL, N_("docosahexaenoic") }, { 22, 6, 0 } },
  { { NULL, N_("lignoceric") }, { 24, 0, 0 } },
  { { NULL, N_("nervonic") }, { 24, 1, 0 } },
  { { NULL, N_("cerotic") }, { 26, 0, 0 } },
};

static gboolean
parse_count (const char **text,
             guint        max,
             guint8      *count)
{
  const char *start = *text;
  guint number = 0;

  for (; g_ascii_isdigit (**text) && *text - start < 2; (*text)++)
    number = number * 10 + (guint) (**text - '0');

  if (*text == start || (*start == '0' && *text - start > 1) || number > max)
    return FALSE;

  *count = (guint8) number;
  return TRUE;
}

static gboolean
scan_acid (const char *code,
           OgAcid     *acid)
{
  OgAcid found = { 0 };

  if (*code++ != 'C')
    return FALSE;
  if (!parse_count (&code, MAX_CARBONS, &found.carbons) || found.carbons < MIN_CARBONS)
    return FALSE;
  if (*code++ != ':')
    return FALSE;
  if (!parse_count (&code, MAX_DOUBLE_BONDS, &found.double_bonds))
    return FALSE;
  /* every double bond takes two of the carbons that follow the carboxyl group */
  if (2 * found.double_bonds >= found.carbons)
    return FALSE;
  if (g_str_equal (code, "-OH"))
    found.hydroxyls = 1;
  else if (*code != '\0')
    return FALSE;

  *acid = found;
  return TRUE;
}

gboolean
og_acid_parse (const char  *code,
               OgAcid      *acid,
               GError     **error)
{
  g_return_val_if_fail (code != NULL, FALSE);
  g_return_val_if_fail (acid != NULL, FALSE);

  if (scan_acid (code, acid))
    return TRUE;

  g_set_error (error, OG_PROFILE_ERROR, OG_PROFILE_ERROR_CODE,
               _("“%s” is not a fatty acid code such as C18:1 or C18:1-OH"), code);
  return FALSE;
}

char *
og_acid_to_code (OgAcid acid)
{
  return g_strdup_printf ("C%u:%u%s", acid.carbons, acid.double_bonds,
                          acid.hydroxyls > 0 ? "-OH" : "");
}

const char *
og_acid_get_name (OgAcid acid)
{
  for (guint i = 0; i < G_N_ELEMENTS (trivial_names); i++)
    if (og_acid_compare (trivial_names[i].acid, acid) == 0)
      return og_nick_get_name (OG_NICK_TABLE (trivial_names), (int) i);
  return NULL;
}

int
og_acid_compare (OgAcid a,
                 OgAcid b)
{
  if (a.carbons != b.carbons)
    return a.carbons < b.carbons ? -1 : 1;
  if (a.double_bonds != b.double_bonds)
    return a.double_bonds < b.double_bonds ? -1 : 1;
  if (a.hydroxyls != b.hydroxyls)
    return a.hydroxyls < b.hydroxyls ? -1 : 1;
  return 0;
}

double
og_acid_molar_mass (OgAcid acid)
{
  return acid.carbons * MASS_C +
         2.0 * (acid.carbons - acid.double_bonds) * MASS_H +
         (2.0 + acid.hydroxyls) * MASS_O;
}

double
og_acid_triglyceride_mass (OgAcid acid)
{
  return 3.0 * og_acid_molar_mass (acid) + MASS_GLYCERYL;
}

OgProfile *
og_profile_new (void)
{
  OgProfile *profile = g_new0 (OgProfile, 1);

  profile->shares = g_array_new (FALSE, FALSE, sizeof (OgAcidShare));
  return profile;
}

OgProfile *
og_profile_copy (const OgProfile *profile)
{
  OgProfile *copy;

  g_return_val_if_fail (profile != NULL, NULL);

  copy = g_new0 (OgProfile, 1);
  copy->shares = g_array_copy (profile->shares);
  return copy;
}

void
og_profile_free (OgProfile *profile)
{
  if (profile == NULL)
    return;

  g_array_unref (profile->shares);
  g_free (profile);
}

static const OgAcidShare *
get_share (const OgProfile *profile,
           guint            index)
{
  return &g_array_index (profile->shares, OgAcidShare, index);
}

/* Finds @acid, or the place where it belongs. */
static gboolean
find_share (const OgProfile *profile,
            OgAcid           acid,
            guint           *index)
{
  for (*index = 0; *index < profile->shares->len; (*index)++)
    {
      int order = og_acid_compare (get_share (profile, *index)->acid, acid);

      if (order >= 0)
        return order == 0;
    }
  return FALSE;
}

/* Sum of two bounds; where only one is known, the other share counts as exact. */
static double
add_bounds (double bound_a,
            double pct_a,
            double bound_b,
            double pct_b)
{
  if (isnan (bound_a) && isnan (bound_b))
    return NAN;
  return (isnan (bound_a) ? pct_a : bound_a) + (isnan (bound_b) ? pct_b : bound_b);
}

void
og_profile_add_range (OgProfile *profile,
                      OgAcid     acid,
                      double     pct,
                      double     low_pct,
                      double     high_pct)
{
  guint index;

  g_return_if_fail (profile != NULL);

  if (find_share (profile, acid, &index))
    {
      OgAcidShare *share = &g_array_index (profile->shares, OgAcidShare, index);

      share->low_pct = add_bounds (share->low_pct, share->pct, low_pct, pct);
      share->high_pct = add_bounds (share->high_pct, share->pct, high_pct, pct);
      share->pct += pct;
    }
  else
    {
      OgAcidShare share = { acid, pct, low_pct, high_pct };

      g_array_insert_val (profile->shares, index, share);
    }
}

void
og_profile_add (OgProfile *profile,
                OgAcid     acid,
                double     pct)
{
  og_profile_add_range (profile, acid, pct, NAN, NAN);
}

static gboolean
parse_share (OgProfile   *profile,
             const char  *text,
             GError     **error)
{
  const char *sign = strchr (text, '=');
  g_autofree char *code = sign != NULL ? g_strndup (text, (gsize) (sign - text)) : g_strdup (text);
  OgAcid acid;
  double pct;
  guint index;

  if (!og_acid_parse (g_strstrip (code), &acid, error))
    return FALSE;

  if (sign == NULL || !og_parse_number (sign + 1, &pct) || pct < 0.0 || pct > 100.0)
    {
      g_set_error (error, OG_PROFILE_ERROR, OG_PROFILE_ERROR_VALUE,
                   _("%s: the share must be a number from 0 to 100"), code);
      return FALSE;
    }
  if (find_share (profile, acid, &index))
    {
      g_set_error (error, OG_PROFILE_ERROR, OG_PROFILE_ERROR_VALUE,
                   _("%s is given twice"), code);
      return FALSE;
    }

  og_profile_add (profile, acid, pct);
  return TRUE;
}

static gboolean
is_blank (const char *text)
{
  while (g_ascii_isspace (*text))
    text++;
  return *text == '\0';
}

OgProfile *
og_profile_parse (const char  *text,
                  GError     **error)
{
  g_autoptr (OgProfile) profile = og_profile_new ();
  g_auto (GStrv) fields = NULL;

  g_return_val_if_fail (text != NULL, NULL);

  if (!is_blank (text))
    fields = g_strsplit (text, ",", -1);

  for (gsize i = 0; fields != NULL && fields[i] != NULL; i++)
    if (!parse_share (profile, fields[i], error))
      return NULL;

  if (og_profile_sum (profile) <= 0.0)
    {
      g_set_error (error, OG_PROFILE_ERROR, OG_PROFILE_ERROR_EMPTY,
                   _("the profile holds no fatty acid"));
      return NULL;
    }

  og_profile_normalise (profile);
  return g_steal_pointer (&profile);
}

double
og_profile_sum (const OgProfile *profile)
{
  double sum = 0.0;

  g_return_val_if_fail (profile != NULL, NAN);

  for (guint i = 0; i < profile->shares->len; i++)
    sum += get_share (profile, i)->pct;
  return sum;
}

void
og_profile_normalise (OgProfile *profile)
{
  double sum = og_profile_sum (profile);

  if (!(sum > 0.0))
    return;

  for (guint i = 0; i < profile->shares->len; i++)
    {
      OgAcidShare *share = &g_array_index (profile->shares, OgAcidShare, i);

      share->pct *= 100.0 / sum;
      share->low_pct *= 100.0 / sum;
      share->high_pct *= 100.0 / sum;
    }
}

void
og_profile_blend (OgProfile       *profile,
                  const OgProfile *other,
                  double           weight)
{
  g_return_if_fail (profile != NULL);
  g_return_if_fail (other != NULL);
  g_return_if_fail (profile != other);

  for (guint i = 0; i < other->shares->len; i++)
    {
      const OgAcidShare *share = get_share (other, i);

      og_profile_add_range (profile, share->acid, weight * share->pct,
                            weight * share->low_pct, weight * share->high_pct);
    }
}

double
og_profile_get (const OgProfile *profile,
                OgAcid           acid)
{
  guint index;

  g_return_val_if_fail (profile != NULL, 0.0);

  return find_share (profile, acid, &index) ? get_share (profile, index)->pct : 0.0;
}

OgAcidClass
og_acid_get_class (OgAcid acid)
{
  if (acid.hydroxyls > 0)
    return OG_ACID_CLASS_HYDROXY;

  switch (acid.double_bonds)
    {
    case 0:
      return acid.carbons <= 10 ? OG_ACID_CLASS_SHORT_SATURATED : OG_ACID_CLASS_SATURATED;
    case 1:
      return OG_ACID_CLASS_MONOUNSATURATED;
    case 2:
      return OG_ACID_CLASS_DIUNSATURATED;
    default:
      return OG_ACID_CLASS_POLYUNSATURATED;
    }
}

void
og_profile_class_shares (const OgProfile *profile,
                         double           pct[OG_N_ACID_CLASSES])
{
  g_return_if_fail (profile != NULL);

  for (guint i = 0; i < OG_N_ACID_CLASSES; i++)
    pct[i] = 0.0;
  for (guint i = 0; i < profile->shares->len; i++)
    {
      const OgAcidShare *share = get_share (profile, i);

      pct[og_acid_get_class (share->acid)] += share->pct;
    }
}

static double
get_moles (const OgProfile *profile,
           guint            index)
{
  const OgAcidShare *share = get_share (profile, index);

  return share->pct / og_acid_molar_mass (share->acid);
}

static double
get_total_moles (const OgProfile *profile)
{
  double moles = 0.0;

  for (guint i = 0; i < profile->shares->len; i++)
    moles += get_moles (profile, i);
  return moles;
}

double
og_profile_mole_fractions (const OgProfile *profile,
                           double          *x)
{
  double total;

  g_return_val_if_fail (profile != NULL, NAN);
  g_return_val_if_fail (x != NULL, NAN);

  total = get_total_moles (profile);
  for (guint i = 0; i < profile->shares->len; i++)
    x[i] = total > 0.0 ? get_moles (profile, i) / total : 0.0;
  return total > 0.0 ? og_profile_sum (profile) / total : NAN;
}

/* Molar mass of the mean triglyceride, g/mol, and means per chain; NAN if the profile is empty. */
static double
get_triglyceride (const OgProfile *profile,
                  double          *double_bonds,
                  double          *hydroxyls)
{
  double total = get_total_moles (profile);

  *double_bonds = *hydroxyls = NAN;
  if (!(total > 0.0))
    return NAN;

  *double_bonds = *hydroxyls = 0.0;
  for (guint i = 0; i < profile->shares->len; i++)
    {
      OgAcid acid = get_share (profile, i)->acid;
      double fraction = get_moles (profile, i) / total;

      *double_bonds += fraction * acid.double_bonds;
      *hydroxyls += fraction * acid.hydroxyls;
    }
  return 3.0 * og_profile_sum (profile) / total + MASS_GLYCERYL;
}

double
og_profile_iodine_value (const OgProfile *profile)
{
  double mass, double_bonds, hydroxyls;

  g_return_val_if_fail (profile != NULL, NAN);

  mass = get_triglyceride (profile, &double_bonds, &hydroxyls);
  return 100.0 * 2.0 * MASS_I * 3.0 * double_bonds / mass;
}

double
og_profile_iodine_value_cd1c (const OgProfile *profile)
{
  static const struct
  {
    OgAcid acid;
    double factor;
  } factors[] = {
    { { 16, 1, 0 }, 0.950 },
    { { 18, 1, 0 }, 0.860 },
    { { 18, 2, 0 }, 1.732 },
    { { 18, 3, 0 }, 2.616 },
    { { 20, 1, 0 }, 0.785 },
    { { 22, 1, 0 }, 0.723 },
  };
  double value = 0.0;

  g_return_val_if_fail (profile != NULL, NAN);

  for (gsize i = 0; i < G_N_ELEMENTS (factors); i++)
    value += factors[i].factor * og_profile_get (profile, factors[i].acid);
  return value;
}

double
og_profile_saponification (const OgProfile *profile)
{
  double mass, double_bonds, hydroxyls;

  g_return_val_if_fail (profile != NULL, NAN);

  mass = get_triglyceride (profile, &double_bonds, &hydroxyls);
  return 3.0 * 1000.0 * MASS_KOH / mass;
}

double
og_profile_saponification_cd3a (const OgProfile *profile)
{
  double sum, weighted = 0.0;

  g_return_val_if_fail (profile != NULL, NAN);

  sum = og_profile_sum (profile);
  if (!(sum > 0.0))
    return NAN;

  for (guint i = 0; i < profile->shares->len; i++)
    {
      const OgAcidShare *share = get_share (profile, i);

      weighted += share->pct * og_acid_molar_mass (share->acid);
    }
  return 3.0 * 56.1 * 1000.0 / (3.0 * weighted / sum + 92.09 - 3.0 * 18.0);
}

double
og_profile_cox (const OgProfile *profile)
{
  g_return_val_if_fail (profile != NULL, NAN);

  return (og_profile_get (profile, (OgAcid) { 18, 1, 0 }) +
          10.3 * og_profile_get (profile, (OgAcid) { 18, 2, 0 }) +
          21.6 * og_profile_get (profile, (OgAcid) { 18, 3, 0 })) / 100.0;
}

/* Sum of the shares, each times the weight of its number of double bonds. */
static double
weigh_by_double_bonds (const OgProfile *profile,
                       const double     weights[MAX_DOUBLE_BONDS + 1])
{
  double sum = 0.0;

  for (guint i = 0; i < profile->shares->len; i++)
    {
      const OgAcidShare *share = get_share (profile, i);

      if (share->acid.double_bonds <= MAX_DOUBLE_BONDS)
        sum += weights[share->acid.double_bonds] * share->pct;
    }
  return sum;
}

double
og_profile_oxidisability (const OgProfile *profile)
{
  static const double weights[MAX_DOUBLE_BONDS + 1] = { 0.0, 0.02, 1.0, 2.0 };

  g_return_val_if_fail (profile != NULL, NAN);

  return weigh_by_double_bonds (profile, weights) / 100.0;
}

double
og_profile_peroxidisability (const OgProfile *profile)
{
  static const double weights[MAX_DOUBLE_BONDS + 1] = { 0.0, 0.025, 1.0, 2.0, 4.0, 6.0, 8.0 };

  g_return_val_if_fail (profile != NULL, NAN);

  return weigh_by_double_bonds (profile, weights);
}

double
og_profile_density (const OgProfile *profile,
                    double           temperature_c)
{
  double double_bonds, hydroxyls, gravity;

  g_return_val_if_fail (profile != NULL, NAN);

  get_triglyceride (profile, &double_bonds, &hydroxyls);
  gravity = LUND_CONSTANT +
            LUND_PER_SAPONIFICATION * og_profile_saponification (profile) +
            LUND_PER_IODINE * og_profile_iodine_value (profile);
  return WATER_DENSITY_15_C * gravity +
         DENSITY_PER_HYDROXYL * hydroxyls +
         OG_TRIGLYCERIDE_DENSITY_SLOPE_G_ML_K * (temperature_c - LUND_TEMPERATURE_C);
}

gboolean
og_cas_is_valid (const char *cas)
{
  g_auto (GStrv) parts = NULL;
  guint sum = 0, weight = 1;

  g_return_val_if_fail (cas != NULL, FALSE);

  parts = g_strsplit (cas, "-", -1);
  if (g_strv_length (parts) != 3 || strlen (parts[0]) < 2 || strlen (parts[0]) > 7 ||
      strlen (parts[1]) != 2 || strlen (parts[2]) != 1 || *parts[0] == '0')
    return FALSE;
  for (const char *p = cas; *p != '\0'; p++)
    if (!g_ascii_isdigit (*p) && *p != '-')
      return FALSE;

  for (int part = 1; part >= 0; part--)
    for (gsize i = strlen (parts[part]); i > 0; i--)
      sum += weight++ * (guint) (parts[part][i - 1] - '0');
  return sum % 10 == (guint) (*parts[2] - '0');
}

static const OgNick acid_classes[OG_N_ACID_CLASSES] = {
  [OG_ACID_CLASS_SHORT_SATURATED] = { NULL, N_("Short saturated") },
  [OG_ACID_CLASS_SATURATED] = { NULL, N_("Saturated") },
  [OG_ACID_CLASS_MONOUNSATURATED] = { NULL, N_("Monounsaturated") },
  [OG_ACID_CLASS_DIUNSATURATED] = { NULL, N_("Diunsaturated") },
  [OG_ACID_CLASS_POLYUNSATURATED] = { NULL, N_("Polyunsaturated") },
  [OG_ACID_CLASS_HYDROXY] = { NULL, N_("Hydroxy") },
};
OG_DEFINE_NAMES (OgAcidClass, og_acid_class, acid_classes)
OG_DEFINE_WORDS (OgAcidClass, og_acid_class, acid_classes)
