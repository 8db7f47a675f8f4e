/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/make/cost.h"

#include <math.h>

#include "core/base/linear.h"

#define G_PER_KG 1000.0 /* exact */
#define MOST_PACKS 1e9 /* of one offer; nobody buys so many */

static void
item_free (OgCostItem *item)
{
  g_free (item->name);
  g_free (item->currency);
  g_free (item);
}

static void
total_free (OgCostTotal *total)
{
  g_free (total->currency);
  g_free (total);
}

static OgCostItem *
add_item (OgCost     *cost,
          const char *name,
          double      amount,
          const char *currency)
{
  OgCostItem *item = g_new0 (OgCostItem, 1);

  item->name = g_strdup (name);
  item->g = item->price_per_kg = NAN;
  item->amount = amount;
  item->currency = g_strdup (currency);
  g_ptr_array_add (cost->items, item);
  return item;
}

typedef struct
{
  OgCost          *cost;
  const OgCatalog *catalog;
  double           batch_g;
  const double    *line_g; /* nullable */
  const OgShelf   *shelf;  /* nullable */
  guint            n;
} Lines;

static void
add_line (OgFormulaPhase *phase,
          OgFormulaLine  *line,
          gpointer        user_data)
{
  Lines *lines = user_data;
  const OgIngredient *ingredient = og_catalog_get (lines->catalog, line->ingredient_id);
  const OgShelfItem *stock = og_shelf_get (lines->shelf, line->ingredient_id);
  double price_per_kg = stock != NULL ? stock->price_per_kg : NAN;
  OgCostItem *item;
  double g;

  if (line->amount == 0)
    return;
  g = lines->line_g != NULL ? lines->line_g[lines->n] : og_ppm_to_g (line->amount, lines->batch_g);
  lines->n++;
  item = add_item (lines->cost, ingredient != NULL ? ingredient->name : line->ingredient_id,
                   g / G_PER_KG * price_per_kg, stock != NULL ? stock->currency : NULL);
  item->line_id = line->id;
  item->g = g;
  item->price_per_kg = price_per_kg;
}

static void
add_costs (OgCost          *cost,
           const OgFormula *formula,
           guint            n_containers)
{
  for (guint i = 0; i < formula->costs->len; i++)
    {
      const OgCostLine *line = g_ptr_array_index (formula->costs, i);
      double containers = n_containers > 0 ? n_containers : (double) NAN;
      double times = line->basis == OG_COST_PER_BATCH ? 1.0 : containers;

      add_item (cost, line->name, times * line->price, line->currency);
    }
}

static OgCostTotal *
find_total (GPtrArray  *totals,
            const char *currency)
{
  OgCostTotal *total;
  guint at = 0;

  for (; at < totals->len; at++)
    {
      int order;

      total = g_ptr_array_index (totals, at);
      order = g_strcmp0 (total->currency, currency);
      if (order == 0)
        return total;
      if (order > 0)
        break;
    }
  total = g_new0 (OgCostTotal, 1);
  total->currency = g_strdup (currency);
  g_ptr_array_insert (totals, (gint) at, total);
  return total;
}

static void
add_up (OgCost *cost,
        guint   n_containers)
{
  for (guint i = 0; i < cost->items->len; i++)
    {
      const OgCostItem *item = g_ptr_array_index (cost->items, i);
      OgCostTotal *total;

      if (isnan (item->amount))
        {
          cost->n_unknown++;
          cost->unknown_g += isnan (item->g) ? 0.0 : item->g;
          continue;
        }
      total = find_total (cost->totals, item->currency);
      total->batch += item->amount;
      if (item->line_id != 0)
        total->materials += item->amount;
    }
  for (guint i = 0; i < cost->totals->len; i++)
    {
      OgCostTotal *total = g_ptr_array_index (cost->totals, i);

      total->container = n_containers > 0 ? total->batch / n_containers : NAN;
    }
}

OgCost *
og_cost_new (const OgFormula *formula,
             const OgCatalog *catalog,
             double           batch_g,
             const double    *line_g,
             const OgShelf   *shelf,
             guint            n_containers)
{
  OgCost *cost;
  Lines lines;

  g_return_val_if_fail (formula != NULL && catalog != NULL, NULL);

  cost = g_new0 (OgCost, 1);
  cost->items = g_ptr_array_new_with_free_func ((GDestroyNotify) item_free);
  cost->totals = g_ptr_array_new_with_free_func ((GDestroyNotify) total_free);
  lines = (Lines) { cost, catalog, batch_g, line_g, shelf, 0 };
  og_formula_foreach_line (formula, add_line, &lines);
  add_costs (cost, formula, n_containers);
  add_up (cost, n_containers);
  return cost;
}

void
og_cost_free (OgCost *cost)
{
  g_ptr_array_unref (cost->items);
  g_ptr_array_unref (cost->totals);
  g_free (cost);
}

/* --- packs --------------------------------------------------------------- */

static void
choice_free (OgPackChoice *choice)
{
  g_free (choice->currency);
  g_free (choice->counts);
  g_free (choice);
}

/* One integer column an offer, one row for what is needed, one for the price once it is known. */
static glp_prob *
pack_problem (const OgPackOffer *const *offers,
              int                       n,
              double                    needed_g)
{
  g_autofree int *columns = g_new (int, (gsize) n + 1);
  g_autofree double *sizes = g_new (double, (gsize) n + 1);
  glp_prob *problem = og_linear_new ();

  glp_set_obj_dir (problem, GLP_MIN);
  glp_add_cols (problem, n);
  glp_add_rows (problem, 2);
  for (int j = 1; j <= n; j++)
    {
      double most = ceil (needed_g / offers[j - 1]->size_g);

      columns[j] = j;
      sizes[j] = offers[j - 1]->size_g / needed_g;
      glp_set_col_kind (problem, j, GLP_IV);
      glp_set_col_bnds (problem, j, GLP_DB, 0.0, most);
      glp_set_obj_coef (problem, j, offers[j - 1]->price);
    }
  glp_set_mat_row (problem, 1, n, columns, sizes);
  glp_set_row_bnds (problem, 1, GLP_LO, 1.0, 0.0);
  glp_set_row_bnds (problem, 2, GLP_FR, 0.0, 0.0);
  return problem;
}

/* Of all that cost no more than the cheapest, the one with the least left over. */
static void
ask_for_least_left (glp_prob                 *problem,
                    const OgPackOffer *const *offers,
                    int                       n,
                    double                    needed_g)
{
  g_autofree int *columns = g_new (int, (gsize) n + 1);
  g_autofree double *prices = g_new (double, (gsize) n + 1);
  double best = glp_mip_obj_val (problem);

  for (int j = 1; j <= n; j++)
    {
      columns[j] = j;
      prices[j] = offers[j - 1]->price;
      glp_set_obj_coef (problem, j, offers[j - 1]->size_g / needed_g);
    }
  glp_set_mat_row (problem, 2, n, columns, prices);
  glp_set_row_bnds (problem, 2, GLP_UP, 0.0, best + 1e-9 * (1.0 + best));
}

static void
read_counts (glp_prob *problem,
             int       n,
             guint    *counts)
{
  for (int j = 1; j <= n; j++)
    counts[j - 1] = (guint) lround (glp_mip_col_val (problem, j));
}

/* Returns: (transfer full): one count an offer; %NULL if there is no answer */
static guint *
cheapest (const OgPackOffer *const *offers,
          int                       n,
          double                    needed_g)
{
  g_autofree guint *counts = g_new0 (guint, (gsize) n);
  glp_prob *problem = pack_problem (offers, n, needed_g);
  gboolean solved = og_linear_integer (problem);

  if (solved)
    {
      read_counts (problem, n, counts);
      ask_for_least_left (problem, offers, n, needed_g);
      if (og_linear_integer (problem))
        read_counts (problem, n, counts);
    }
  og_linear_free (problem);
  return solved ? g_steal_pointer (&counts) : NULL;
}

static gboolean
is_usable (const OgPackOffer *offer,
           double             needed_g)
{
  return offer->price >= 0.0 && offer->price <= OG_LINEAR_LARGEST && offer->size_g > 0.0
         && offer->size_g <= OG_LINEAR_LARGEST * needed_g && needed_g <= MOST_PACKS * offer->size_g;
}

static OgPackChoice *
choose_in (const OgPackOffer *offers,
           guint              n_offers,
           double             needed_g,
           const char        *currency)
{
  g_autoptr (GPtrArray) same = g_ptr_array_new ();
  g_autofree guint *counts = NULL;
  OgPackChoice *choice;

  for (guint i = 0; i < n_offers; i++)
    if (g_strcmp0 (offers[i].currency, currency) == 0 && is_usable (&offers[i], needed_g))
      g_ptr_array_add (same, (gpointer) &offers[i]);
  if (same->len == 0)
    return NULL;
  counts = cheapest ((const OgPackOffer *const *) same->pdata, (int) same->len, needed_g);
  if (counts == NULL)
    return NULL;

  choice = g_new0 (OgPackChoice, 1);
  choice->currency = g_strdup (currency);
  choice->counts = g_new0 (guint, n_offers);
  choice->n_offers = n_offers;
  for (guint i = 0; i < same->len; i++)
    {
      const OgPackOffer *offer = g_ptr_array_index (same, i);

      choice->counts[offer - offers] = counts[i];
      choice->price += counts[i] * offer->price;
      choice->bought_g += counts[i] * offer->size_g;
    }
  choice->left_g = choice->bought_g - needed_g;
  return choice;
}

static int
compare_names (gconstpointer a,
               gconstpointer b)
{
  return g_strcmp0 (*(const char *const *) a, *(const char *const *) b);
}

GPtrArray *
og_packs_choose (const OgPackOffer *offers,
                 guint              n_offers,
                 double             needed_g)
{
  g_autoptr (GPtrArray) currencies = g_ptr_array_new ();
  GPtrArray *choices = g_ptr_array_new_with_free_func ((GDestroyNotify) choice_free);

  g_return_val_if_fail (offers != NULL || n_offers == 0, choices);
  g_return_val_if_fail (needed_g > 0.0, choices);

  for (guint i = 0; i < n_offers; i++)
    g_ptr_array_add (currencies, offers[i].currency);
  g_ptr_array_sort (currencies, compare_names);
  for (guint i = 0; i < currencies->len; i++)
    {
      const char *currency = g_ptr_array_index (currencies, i);
      OgPackChoice *choice;

      if (i > 0 && g_strcmp0 (currency, g_ptr_array_index (currencies, i - 1)) == 0)
        continue;
      choice = choose_in (offers, n_offers, needed_g, currency);
      if (choice != NULL)
        g_ptr_array_add (choices, choice);
    }
  return choices;
}
