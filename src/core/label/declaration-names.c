/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/label/declaration-names.h"

#include <string.h>

#define AND "(and)"

/* NamePair: one material whose names the markets write in ways that no rule derives. */
typedef struct
{
  const char *eu;
  const char *us;
} NamePair;

/* Names of the International Nomenclature of Cosmetic Ingredients, recalled. */
static const NamePair pairs[] = {
  { "Aroma", "Flavor" },
  { "Parfum", "Fragrance" },
  { "Cera Alba", "Beeswax" },
  { "Cera Microcristallina", "Microcrystalline Wax" },
  { "Paraffinum Liquidum", "Mineral Oil" },
  { "CI 77266", "Black 2" },
  { "Copernicia Cerifera Cera", "Copernicia Cerifera (Carnauba) Wax" },
  { "Euphorbia Cerifera Cera", "Euphorbia Cerifera (Candelilla) Wax" },
  { "Helianthus Annuus Seed Cera", "Helianthus Annuus (Sunflower) Seed Wax" },
  { "Oryza Sativa Bran Cera", "Oryza Sativa (Rice) Bran Wax" },
  { "Rhus Succedanea Fruit Cera", "Rhus Succedanea Fruit Wax" },
  { "Rhus Verniciflua Peel Cera", "Rhus Verniciflua Peel Wax" },
  { "Shellac Cera", "Shellac Wax" },
  { "Chamomilla Recutita Flower Oil", "Chamomilla Recutita (Matricaria) Flower Oil" },
  { "Citrus Aurantifolia Oil", "Citrus Aurantifolia (Lime) Oil" },
  { "Citrus Aurantium Bergamia Peel Oil", "Citrus Aurantium Bergamia (Bergamot) Peel Oil" },
  { "Citrus Aurantium Dulcis Peel Oil", "Citrus Aurantium Dulcis (Orange) Peel Oil" },
  { "Citrus Limon Peel Oil", "Citrus Limon (Lemon) Peel Oil" },
  { "Citrus Paradisi Peel Oil", "Citrus Paradisi (Grapefruit) Peel Oil" },
  { "Citrus Reticulata Peel Oil", "Citrus Reticulata (Tangerine) Peel Oil" },
  { "Eugenia Caryophyllus Bud Oil", "Eugenia Caryophyllus (Clove) Bud Oil" },
  { "Foeniculum Vulgare Oil", "Foeniculum Vulgare (Fennel) Oil" },
  { "Lavandula Angustifolia Oil", "Lavandula Angustifolia (Lavender) Oil" },
  { "Melaleuca Alternifolia Leaf Oil", "Melaleuca Alternifolia (Tea Tree) Leaf Oil" },
  { "Mentha Piperita Oil", "Mentha Piperita (Peppermint) Oil" },
  { "Mentha Viridis Leaf Oil", "Mentha Viridis (Spearmint) Leaf Oil" },
  { "Oryza Sativa Starch", "Oryza Sativa (Rice) Starch" },
  { "Rosmarinus Officinalis Leaf Extract", "Rosmarinus Officinalis (Rosemary) Leaf Extract" },
  { "Zea Mays Starch", "Zea Mays (Corn) Starch" },
};

/* Takes the common name in brackets out of a botanical name. */
static char *
drop_common_name (const char *inci)
{
  const char *open = strstr (inci, " (");
  const char *close = open != NULL ? strchr (open, ')') : NULL;

  if (close == NULL)
    return g_strdup (inci);
  return g_strdup_printf ("%.*s%s", (int) (open - inci), inci, close + 1);
}

char *
og_inci_for_market (const char *inci,
                    OgMarket    market)
{
  for (guint i = 0; i < G_N_ELEMENTS (pairs); i++)
    if (g_ascii_strcasecmp (inci, pairs[i].eu) == 0 || g_ascii_strcasecmp (inci, pairs[i].us) == 0)
      return g_strdup (market == OG_MARKET_EU ? pairs[i].eu : pairs[i].us);

  return market == OG_MARKET_EU ? drop_common_name (inci) : g_strdup (inci);
}

gboolean
og_inci_is_list (const char *inci)
{
  return inci != NULL && strstr (inci, AND) != NULL;
}

GPtrArray *
og_inci_split (const char *inci)
{
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  g_auto (GStrv) parts = g_strsplit (inci, AND, -1);

  for (guint i = 0; parts[i] != NULL; i++)
    if (*g_strstrip (parts[i]) != '\0')
      g_ptr_array_add (names, g_strdup (parts[i]));

  return names;
}

char *
og_ci_for_label (const char *ci)
{
  return g_strndup (ci, strcspn (ci, ":"));
}
