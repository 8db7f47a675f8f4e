/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/batch-report.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "cli/findings.h"
#include "cli/text-table.h"
#include "core/base/number-text.h"

/* --- packs ----------------------------------------------------------------- */

/* What of a material the batch needs beyond what is in stock, g. */
static double
missing_g (const OgBatchSheet *sheet,
           const OgIngredient *ingredient)
{
  const OgShelfItem *stock = og_shelf_get (sheet->shelf, ingredient->id);
  double needed_g = 0;

  for (guint i = 0; i < sheet->batch->lines->len; i++)
    {
      const OgBatchWeighing *line = g_ptr_array_index (sheet->batch->lines, i);

      if (strcmp (line->ingredient_id, ingredient->id) == 0)
        needed_g += line->weighing.rounded_g;
    }

  return fmax (needed_g - (stock != NULL ? stock->stock_g : 0), 0);
}

typedef void (*PacksFunc) (const OgIngredient *ingredient,
                           double              needed_g,
                           GArray             *offers, /* of OgPackOffer */
                           GPtrArray          *choices,
                           gpointer            user_data);

/* Each material once, in the order of its first pack. */
static void
foreach_packs (const OgBatchSheet *sheet,
               PacksFunc           func,
               gpointer            user_data)
{
  for (guint i = 0; i < sheet->packs->len; i++)
    {
      const OgIngredient *ingredient = g_array_index (sheet->packs, OgPack, i).ingredient;
      g_autoptr (GArray) offers = g_array_new (FALSE, FALSE, sizeof (OgPackOffer));
      g_autoptr (GPtrArray) choices = NULL;
      double needed_g = missing_g (sheet, ingredient);
      gboolean done = FALSE;

      for (guint j = 0; j < sheet->packs->len; j++)
        {
          const OgPack *pack = &g_array_index (sheet->packs, OgPack, j);

          if (pack->ingredient != ingredient)
            continue;
          done = done || j < i;
          g_array_append_val (offers, pack->offer);
        }
      if (done || !(needed_g > 0))
        continue;
      choices = og_packs_choose ((const OgPackOffer *) (const void *) offers->data, offers->len, needed_g);
      func (ingredient, needed_g, offers, choices, user_data);
    }
}

/* --- for programs ---------------------------------------------------------- */

static void
add_premix (JsonBuilder           *builder,
            const OgBatchWeighing *line)
{
  json_builder_set_member_name (builder, "premix");
  if (!line->has_premix)
    {
      json_builder_add_null_value (builder);
      return;
    }
  json_builder_begin_object (builder);
  og_json_add_number (builder, "parts", line->premix.parts);
  og_json_add_string (builder, "carrier", line->carrier_name);
  og_json_add_number (builder, "material_g", line->premix.material_g);
  og_json_add_number (builder, "carrier_g", line->premix.carrier_g);
  og_json_add_number (builder, "take_g", line->premix.take_g);
  og_json_add_number (builder, "carrier_in_it_g", line->premix.carrier_in_it_g);
  og_json_add_number (builder, "error_percent", line->premix.error_pct);
  json_builder_end_object (builder);
}

static void
add_weighing (JsonBuilder           *builder,
              const OgBatchWeighing *line)
{
  const OgPlannedWeighing *weighing = &line->weighing;

  json_builder_begin_object (builder);
  og_json_add_number (builder, "line_id", line->line_id);
  og_json_add_number (builder, "phase_id", line->phase_id);
  og_json_add_string (builder, "ingredient", line->ingredient_id);
  og_json_add_string (builder, "name", line->name);
  og_json_add_number (builder, "exact_g", weighing->exact_g);
  og_json_add_number (builder, "g", weighing->rounded_g);
  og_json_add_string (builder, "balance", weighing->balance != NULL ? weighing->balance->name : NULL);
  og_json_add_number (builder, "least_g_usp_41", weighing->balance != NULL ? og_balance_least_g (weighing->balance) : NAN);
  og_json_begin_array (builder, "portions_g");
  for (guint i = 0; i < weighing->n_portions; i++)
    json_builder_add_double_value (builder, og_planned_portion_g (weighing, i));
  json_builder_end_array (builder);
  og_json_add_number (builder, "error_percent", weighing->error_pct);
  og_json_add_number (builder, "wanted_percent", weighing->wanted_pct);
  og_json_add_boolean (builder, "too_small", weighing->too_small);
  add_premix (builder, line);
  og_json_add_number (builder, "batch_needed_g", line->batch_needed_g);
  og_json_add_number (builder, "readability_needed_g", line->readability_needed_g);
  json_builder_end_object (builder);
}

static void
add_containers (JsonBuilder       *builder,
                const OgBatchPlan *batch,
                const OgPackage   *package)
{
  og_json_begin_object (builder, "containers");
  og_json_add_number (builder, "count", isnan (package->nominal) ? NAN : batch->n_containers);
  og_json_add_number (builder, "nominal", package->nominal);
  og_json_add_string (builder, "unit", package->unit == OG_NET_G ? "g" : "ml");
  og_json_add_number (builder, "content_g", batch->content_g);
  og_json_add_number (builder, "content_ml_20", batch->content_ml_20);
  og_json_add_number (builder, "fill_c", batch->fill_c);
  og_json_add_number (builder, "fill_ml", batch->fill_ml);
  og_json_add_number (builder, "left_g", batch->left_g);
  og_json_add_number (builder, "tolerable_error", batch->limits.error);
  og_json_add_number (builder, "t1", batch->limits.t1);
  og_json_add_number (builder, "t2", batch->limits.t2);
  og_json_begin_array (builder, "fit");
  for (guint i = 0; i < G_N_ELEMENTS (batch->fit); i++)
    {
      json_builder_begin_object (builder);
      og_json_add_number (builder, "temperature_c", batch->fit[i].temperature_c);
      og_json_add_number (builder, "content_ml", batch->fit[i].content_ml);
      og_json_add_number (builder, "free_ml", batch->fit[i].free_ml);
      og_json_add_number (builder, "free_percent", batch->fit[i].free_pct);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

static void
add_cost (JsonBuilder  *builder,
          const OgCost *cost)
{
  og_json_begin_object (builder, "cost");
  og_json_begin_array (builder, "items");
  for (guint i = 0; i < cost->items->len; i++)
    {
      const OgCostItem *item = g_ptr_array_index (cost->items, i);

      json_builder_begin_object (builder);
      og_json_add_number (builder, "line_id", item->line_id != 0 ? item->line_id : NAN);
      og_json_add_string (builder, "name", item->name);
      og_json_add_number (builder, "g", item->g);
      og_json_add_number (builder, "price_per_kg", item->price_per_kg);
      og_json_add_number (builder, "amount", item->amount);
      og_json_add_string (builder, "currency", item->currency);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  og_json_begin_array (builder, "totals");
  for (guint i = 0; i < cost->totals->len; i++)
    {
      const OgCostTotal *total = g_ptr_array_index (cost->totals, i);

      json_builder_begin_object (builder);
      og_json_add_string (builder, "currency", total->currency);
      og_json_add_number (builder, "batch", total->batch);
      og_json_add_number (builder, "container", total->container);
      og_json_add_number (builder, "materials", total->materials);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  og_json_add_number (builder, "unknown", cost->n_unknown);
  og_json_add_number (builder, "unknown_g", cost->unknown_g);
  json_builder_end_object (builder);
}

static const char *
verdict_nick (OgNetVerdict verdict)
{
  static const char *const nicks[] = { "no-rule", "pass", "fail" };

  return nicks[verdict];
}

static void
add_filled (JsonBuilder      *builder,
            const OgNetCheck *check)
{
  og_json_begin_object (builder, "filled");
  og_json_add_number (builder, "n", check->n);
  og_json_add_number (builder, "mean", check->mean);
  og_json_add_number (builder, "sd", check->sd);
  og_json_add_number (builder, "least", check->least);
  og_json_add_number (builder, "most", check->most);
  og_json_add_number (builder, "below_nominal", check->n_below_nominal);
  og_json_add_number (builder, "below_t1", check->n_below_t1);
  og_json_add_number (builder, "below_t2", check->n_below_t2);
  og_json_add_string (builder, "packer", verdict_nick (check->packer));
  og_json_add_string (builder, "sample", verdict_nick (check->sample));
  og_json_add_number (builder, "sample_mean_needed", check->sample_mean_needed);
  og_json_add_boolean (builder, "every_full", check->every_full);
  og_json_add_string (builder, "text", og_saying_text (check->text));
  json_builder_end_object (builder);
}

static void
add_choices (const OgIngredient *ingredient,
             double              needed_g,
             GArray             *offers,
             GPtrArray          *choices,
             gpointer            user_data)
{
  JsonBuilder *builder = user_data;

  for (guint i = 0; i < choices->len; i++)
    {
      const OgPackChoice *choice = g_ptr_array_index (choices, i);

      json_builder_begin_object (builder);
      og_json_add_string (builder, "ingredient", ingredient->id);
      og_json_add_number (builder, "needed_g", needed_g);
      og_json_add_string (builder, "currency", choice->currency);
      og_json_add_number (builder, "price", choice->price);
      og_json_add_number (builder, "bought_g", choice->bought_g);
      og_json_add_number (builder, "left_g", choice->left_g);
      og_json_begin_array (builder, "packs");
      for (guint j = 0; j < choice->n_offers; j++)
        {
          if (choice->counts[j] == 0)
            continue;
          json_builder_begin_object (builder);
          og_json_add_number (builder, "size_g", g_array_index (offers, OgPackOffer, j).size_g);
          og_json_add_number (builder, "count", choice->counts[j]);
          json_builder_end_object (builder);
        }
      json_builder_end_array (builder);
      json_builder_end_object (builder);
    }
}

void
og_batch_sheet_put_json (OgCall             *call,
                         const OgBatchSheet *sheet)
{
  const OgBatchPlan *batch = sheet->batch;
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();

  og_json_add_number (builder, "batch_g", batch->batch_g);
  og_json_add_number (builder, "rounded_g", batch->rounded_g);
  og_json_add_number (builder, "lost_g", batch->lost_g);
  og_json_add_number (builder, "fillable_g", batch->fillable_g);
  og_json_add_number (builder, "density_20_g_ml", batch->density_20_g_ml);
  og_json_add_number (builder, "density_fill_g_ml", batch->density_fill_g_ml);
  og_json_begin_array (builder, "weighings");
  for (guint i = 0; i < batch->lines->len; i++)
    add_weighing (builder, g_ptr_array_index (batch->lines, i));
  json_builder_end_array (builder);
  add_containers (builder, batch, &sheet->recipe.formula->package);
  og_json_add_estimate_member (builder, "pour_mpa_s", &batch->pour_exact);
  og_json_add_estimate_member (builder, "pour_as_weighed_mpa_s", &batch->pour_rounded);
  add_cost (builder, batch->cost);
  og_json_begin_array (builder, "buy");
  foreach_packs (sheet, add_choices, builder);
  json_builder_end_array (builder);
  if (sheet->filled != NULL)
    add_filled (builder, sheet->filled);
  og_findings_add_json (builder, batch->findings);
  og_call_end_json (call, builder);
}

/* --- for people ------------------------------------------------------------ */

static int
decimals_of (const OgBalance *balance)
{
  return balance == NULL ? 3 : MAX ((int) ceil (-log10 (balance->readability_g) - 1e-9), 0);
}

static void
put_weighings (OgCall            *call,
               const OgBatchPlan *batch)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("lrrlr");

  og_text_table_add (table, (const char *[]) { _("Material"), _("exact g"), _("weigh g"), _("Balance"),
                                               /* xgettext:no-c-format */
                                               _("off by % at most") });
  for (guint i = 0; i < batch->lines->len; i++)
    {
      const OgBatchWeighing *line = g_ptr_array_index (batch->lines, i);
      const OgPlannedWeighing *weighing = &line->weighing;
      g_autofree char *exact = og_number_trimmed (weighing->exact_g, 5);
      g_autofree char *weigh = og_number_fixed (weighing->rounded_g, decimals_of (weighing->balance));
      g_autofree char *off = weighing->balance != NULL ? og_number_significant (weighing->error_pct, 2) : NULL;

      og_text_table_add (table, (const char *[]) { line->name, exact, weigh,
                                                   weighing->balance != NULL ? weighing->balance->name : NULL, off });
    }
  og_text_table_put (table, 2, call->out);
  g_string_append_c (call->out, '\n');
}

static void
put_remedy (OgCall                *call,
            const OgBatchWeighing *line)
{
  g_autofree char *readability = og_number_significant (line->readability_needed_g, 1);
  g_autofree char *batch = isnan (line->batch_needed_g) ? NULL : og_number_significant (line->batch_needed_g, 3);
  g_autofree char *other = NULL;

  if (!line->weighing.too_small)
    return;
  if (line->has_premix)
    {
      int decimals = decimals_of (line->weighing.balance);
      g_autofree char *material = og_number_trimmed (line->premix.material_g, decimals);
      g_autofree char *carrier = og_number_trimmed (line->premix.carrier_g, decimals);
      g_autofree char *take = og_number_trimmed (line->premix.take_g, decimals);
      g_autofree char *in_it = og_number_trimmed (line->premix.carrier_in_it_g, decimals);
      g_autofree char *premix
        /* Translators: material; grams, carrier and grams of a premix; grams taken; grams of carrier */
        = g_strdup_printf (_("%s: mix %s g with %s g of %s, and take %s g of that; the %s g of carrier in it come off "
                             "its own weight."), line->name, material, carrier, line->carrier_name, take, in_it);

      og_text_put_wrapped ("  • ", premix, call->out);
    }
  other = batch == NULL
            ? g_strdup_printf (_("%s: a balance that shows %s g would do."), line->name, readability)
            : g_strdup_printf (_("%s: a batch of %s g, or a balance that shows %s g, would do."), line->name, batch,
                               readability);
  og_text_put_wrapped ("  • ", other, call->out);
}

static void
put_container (OgCall             *call,
               const OgBatchSheet *sheet)
{
  const OgBatchPlan *batch = sheet->batch;
  const OgPackage *package = &sheet->recipe.formula->package;
  g_autofree char *content_g = og_number_fixed (batch->content_g, 2);
  g_autofree char *content_ml = og_number_fixed (batch->content_ml_20, 2);
  g_autofree char *fill_c = og_number_fixed (batch->fill_c, 0);
  g_autofree char *fill_ml = og_number_fixed (batch->fill_ml, 2);
  g_autofree char *left = og_number_fixed (batch->left_g, 1);
  g_autofree char *text = NULL;

  if (isnan (package->nominal))
    {
      g_string_append_printf (call->out, "%s\n\n", _("The recipe does not say what a container holds."));
      return;
    }
  /* Translators: number of containers, then grams, ml, temperature, ml, grams */
  text = g_strdup_printf (ngettext ("%u container of %s g (%s ml at 20 °C); at %s °C fill %s ml. %s g are left over.",
                                    "%u containers of %s g (%s ml at 20 °C); at %s °C fill %s ml. %s g are left over.",
                                    batch->n_containers),
                          batch->n_containers, content_g, content_ml, fill_c, fill_ml, left);
  og_text_put_wrapped ("", text, call->out);
  for (guint i = 0; i < G_N_ELEMENTS (batch->fit) && !isnan (package->capacity_ml); i++)
    {
      g_autofree char *at = og_number_fixed (batch->fit[i].temperature_c, 0);
      g_autofree char *room = og_number_fixed (batch->fit[i].free_ml, 2);
      g_autofree char *pct = og_number_fixed (batch->fit[i].free_pct, 1);

      g_string_append (call->out, "  • ");
      /* Translators: temperature, ml, percent */
      g_string_append_printf (call->out, _("At %s °C %s ml (%s %%) stay free."), at, room, pct);
      g_string_append_c (call->out, '\n');
    }
  if (!isnan (batch->limits.error))
    {
      g_autofree char *off = og_number_trimmed (batch->limits.error, 2);
      g_autofree char *t1 = og_number_trimmed (batch->limits.t1, 2);
      g_autofree char *t2 = og_number_trimmed (batch->limits.t2, 2);
      const char *unit = package->unit == OG_NET_G ? "g" : "ml";

      g_string_append (call->out, "  • ");
      /* Translators: number and unit, three times */
      g_string_append_printf (call->out, _("Tolerable negative error %s %s, T1 %s %s, T2 %s %s (76/211/EEC)."), off, unit,
                              t1, unit, t2, unit);
      g_string_append_c (call->out, '\n');
    }
  g_string_append_c (call->out, '\n');
}

static void
put_cost (OgCall       *call,
          const OgCost *cost)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("lrrl");

  og_text_table_add (table, (const char *[]) { _("Cost"), _("Batch"), _("Container"), NULL });
  for (guint i = 0; i < cost->totals->len; i++)
    {
      const OgCostTotal *total = g_ptr_array_index (cost->totals, i);
      g_autofree char *batch = og_number_fixed (total->batch, 2);
      g_autofree char *container = og_number_fixed (total->container, 2);

      og_text_table_add (table, (const char *[]) { _("Total"), batch, container, total->currency });
    }
  for (guint i = 0; i < cost->items->len; i++)
    {
      const OgCostItem *item = g_ptr_array_index (cost->items, i);
      g_autofree char *amount = og_number_fixed (item->amount, 2);

      og_text_table_add (table, (const char *[]) { item->name, amount, NULL,
                                                   isnan (item->amount) ? NULL : item->currency });
    }
  og_text_table_put (table, 2, call->out);
  g_string_append_c (call->out, '\n');
}

static void
put_choices (const OgIngredient *ingredient,
             double              needed_g,
             GArray             *offers,
             GPtrArray          *choices,
             gpointer            user_data)
{
  OgCall *call = user_data;

  for (guint i = 0; i < choices->len; i++)
    {
      const OgPackChoice *choice = g_ptr_array_index (choices, i);
      g_autoptr (GString) packs = g_string_new (NULL);
      g_autofree char *needed = og_number_trimmed (needed_g, 1);
      g_autofree char *price = og_number_fixed (choice->price, 2);
      g_autofree char *left = og_number_trimmed (choice->left_g, 1);
      g_autofree char *text = NULL;

      for (guint j = 0; j < choice->n_offers; j++)
        {
          g_autofree char *size = og_number_trimmed (g_array_index (offers, OgPackOffer, j).size_g, 1);

          if (choice->counts[j] > 0)
            g_string_append_printf (packs, "%s%u × %s g", packs->len > 0 ? ", " : "", choice->counts[j], size);
        }
      /* Translators: material, grams, packs, price and currency, grams */
      text = g_strdup_printf (_("%s, %s g to buy: %s for %s %s; %s g stay."), ingredient->name, needed, packs->str, price,
                              choice->currency, left);
      og_text_put_wrapped ("  • ", text, call->out);
    }
}

static void
put_filled (OgCall           *call,
            const OgNetCheck *check)
{
  g_autofree char *mean = og_number_fixed (check->mean, 2);
  g_autofree char *sd = og_number_fixed (check->sd, 3);
  const char *unit = check->unit == OG_NET_G ? "g" : "ml";
  g_autofree char *text
    /* Translators: number of containers, mean with unit, standard deviation, counts */
    = g_strdup_printf (ngettext ("%u container filled: mean %s %s, standard deviation %s; %u below the declared content, "
                                 "%u below T1, %u below T2.",
                                 "%u containers filled: mean %s %s, standard deviation %s; %u below the declared "
                                 "content, %u below T1, %u below T2.", check->n),
                       check->n, mean, unit, sd, check->n_below_nominal, check->n_below_t1, check->n_below_t2);

  og_text_put_wrapped ("", text, call->out);
  if (check->packer != OG_NET_RULE_NONE)
    g_string_append_printf (call->out, "  • %s\n", check->packer == OG_NET_RULE_PASS
                                                    ? _("The rules for packers are kept.")
                                                    : _("The rules for packers are NOT kept."));
  if (check->sample != OG_NET_RULE_NONE)
    g_string_append_printf (call->out, "  • %s\n", check->sample == OG_NET_RULE_PASS
                                                    ? _("The mean of a sample of this size passes.")
                                                    : _("The mean of a sample of this size does NOT pass."));
  og_text_put_wrapped ("  • ", og_saying_text (check->text), call->out);
  g_string_append_c (call->out, '\n');
}

static void
put_rounding (OgCall            *call,
              const OgBatchPlan *batch)
{
  g_autofree char *exact = og_number_with_unit (batch->pour_exact.value);
  g_autofree char *weighed = og_number_with_unit (batch->pour_rounded.value);
  g_autofree char *change = og_number_fixed (100 * (batch->pour_rounded.value / batch->pour_exact.value - 1), 2);
  g_autofree char *text
    /* Translators: viscosity, viscosity, percent */
    = g_strdup_printf (_("Poured at 25 °C: %s as written, %s as weighed (%s %% apart)."), exact, weighed, change);

  if (!isnan (batch->pour_exact.value))
    og_text_put_wrapped ("", text, call->out);
  g_string_append_c (call->out, '\n');
}

void
og_batch_sheet_put_text (OgCall             *call,
                         const OgBatchSheet *sheet)
{
  const OgBatchPlan *batch = sheet->batch;
  g_autofree char *size = og_number_trimmed (batch->batch_g, 3);
  g_autofree char *lost = og_number_trimmed (batch->lost_g, 3);

  og_text_put_wrapped ("", sheet->recipe.formula->title, call->out);
  /* Translators: grams, grams */
  g_string_append_printf (call->out, _("Batch of %s g, of which %s g are lost"), size, lost);
  g_string_append (call->out, "\n\n");
  put_weighings (call, batch);
  for (guint i = 0; i < batch->lines->len; i++)
    put_remedy (call, g_ptr_array_index (batch->lines, i));
  put_rounding (call, batch);
  put_container (call, sheet);
  put_cost (call, batch->cost);
  foreach_packs (sheet, put_choices, call);
  if (sheet->filled != NULL)
    put_filled (call, sheet->filled);
  g_string_append_printf (call->out, "%s\n", _("Findings"));
  og_findings_put (call->out, batch->findings);
}
