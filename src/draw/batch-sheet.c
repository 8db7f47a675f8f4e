/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/batch-sheet.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/number-text.h"
#include "draw/card-private.h"

#define BLANK_FILLS 10 /* columns of the table of filled weights */
#define FILL_ROWS 3

typedef struct
{
  OgCard                 *card;
  const OgFormula        *formula;
  const OgBatchPlan      *plan;
  const OgStovePlan      *stove;
  const OgBatchSheetHead *head;
  const OgBatchSheetLot  *lots;
  guint                   n_lots;
} Sheet;

/* --- forms --- */

static void
heading (Sheet      *sheet,
         const char *text)
{
  og_card_add_block (sheet->card, OG_BLOCK_HEADING, g_strdup (text), NULL);
}

static OgCardBlock *
add_form (Sheet              *sheet,
          const OgCardColumn *columns,
          guint               n_columns)
{
  OgCardBlock *form = og_card_add_block (sheet->card, OG_BLOCK_FORM, NULL, NULL);

  form->columns = g_array_sized_new (FALSE, FALSE, sizeof (OgCardColumn), n_columns);
  for (guint i = 0; i < n_columns; i++)
    {
      OgCardColumn column = columns[i];

      column.title = (char *) g_intern_string (columns[i].title);
      g_array_append_val (form->columns, column);
    }

  return form;
}

/* Cells not given stay blank. Takes the texts. */
static OgCardRow *
add_cells (OgCardBlock *form,
           char        *first,
           char        *second,
           char        *third,
           char        *fourth)
{
  OgCardRow *row = og_card_add_row (form, OG_ROW_LINE, NULL, NULL);
  char *given[] = { first, second, third, fourth };

  row->cells = g_new0 (char *, form->columns->len + 1);
  for (guint i = 0; i < form->columns->len; i++)
    row->cells[i] = i < G_N_ELEMENTS (given) ? given[i] : NULL;
  /* the list ends where a cell is NULL; blank cells are empty texts */
  for (guint i = 0; i < form->columns->len; i++)
    if (row->cells[i] == NULL)
      row->cells[i] = g_strdup ("");

  return row;
}

/* --- head --- */

static void
add_head (Sheet *sheet)
{
  const OgCardColumn columns[] = {
    { (char *) _("Batch number"), 0.28, FALSE },
    { (char *) _("Date"), 0.22, FALSE },
    { (char *) _("Made by"), 0.28, FALSE },
    { (char *) _("Planned"), 0.22, FALSE },
  };
  g_autofree char *planned = og_number_trimmed (sheet->plan->batch_g, 3);
  OgCardBlock *form;

  og_card_add_block (sheet->card, OG_BLOCK_TITLE, g_strdup (sheet->card->title),
                     g_strdup (_("Batch record")));
  form = add_form (sheet, columns, G_N_ELEMENTS (columns));
  add_cells (form, g_strdup (sheet->head->number), g_strdup (sheet->head->date),
             g_strdup (sheet->head->made_by),
             g_strdup_printf ("%s g", planned));
}

/* What whoever makes it has to know before anything is touched. */
static void
add_cautions (Sheet *sheet)
{
  heading (sheet, _("Before you start"));
  og_card_add_block (sheet->card, OG_BLOCK_PARAGRAPH,
                     g_strdup (_("Hot oil burns: gloves, goggles, sleeves; dry tools; never leave it. "
                                 "Check your local rules.")),
                     NULL);
  og_card_add_severe_findings (sheet->card, sheet->card->result->findings);
  og_card_add_severe_findings (sheet->card, sheet->stove->findings);
  og_card_add_severe_findings (sheet->card, sheet->plan->findings);
}

static void
add_equipment (Sheet *sheet)
{
  const OgCardColumn columns[] = {
    { (char *) _("Equipment"), 0.34, FALSE },
    { (char *) _("Clean and dry before: initials"), 0.22, FALSE },
    { (char *) _("Cleaned after: initials"), 0.22, FALSE },
    { (char *) _("Remark"), 0.22, FALSE },
  };
  const char *const equipment[] = { _("Pot or beaker"), _("Stirrer, thermometer"), _("Balances"),
                                    _("Funnel, filler, containers") };
  OgCardBlock *form;

  heading (sheet, _("Equipment and cleaning"));
  form = add_form (sheet, columns, G_N_ELEMENTS (columns));
  for (guint i = 0; i < G_N_ELEMENTS (equipment); i++)
    add_cells (form, g_strdup (equipment[i]), NULL, NULL, NULL);
}

/* --- weighing --- */

static const char *
find_lot (const Sheet *sheet,
          guint        line_id)
{
  for (guint i = 0; i < sheet->n_lots; i++)
    if (sheet->lots[i].line_id == line_id)
      return sheet->lots[i].lot;

  return NULL;
}

static int
decimals_of (const OgPlannedWeighing *weighing)
{
  if (weighing->balance == NULL)
    return 3;

  return (int) CLAMP (ceil (-log10 (weighing->balance->readability_g) - 1e-9), 0, 6);
}

static char *
premix_text (const OgBatchWeighing *line)
{
  g_autofree char *material = og_number_trimmed (line->premix.material_g, 4);
  g_autofree char *carrier = og_number_trimmed (line->premix.carrier_g, 4);
  g_autofree char *take = og_number_trimmed (line->premix.take_g, 4);
  g_autofree char *less = og_number_trimmed (line->premix.carrier_in_it_g, 4);

  /* Translators: amounts of a premix: material, carrier, its name, how much of it to take, how much
   * less of the carrier to weigh */
  return g_strdup_printf (_("premix %s g in %s g %s; take %s g, and %s g less of the carrier"),
                          material, carrier, line->carrier_name != NULL ? line->carrier_name : "",
                          take, less);
}

static void
add_weighing (OgCardBlock           *form,
              const Sheet           *sheet,
              const OgBatchWeighing *line)
{
  g_autofree char *grams = og_number_fixed (line->weighing.rounded_g, decimals_of (&line->weighing));
  const char *balance = line->weighing.balance != NULL ? line->weighing.balance->name : NULL;
  g_autofree char *premix = line->has_premix ? premix_text (line) : NULL;
  char *name = premix != NULL ? g_strdup_printf ("%s – %s", line->name, premix)
                              : g_strdup (line->name);
  OgCardRow *row = add_cells (form, name, g_strdup (find_lot (sheet, line->line_id)),
                              g_steal_pointer (&grams), NULL);

  if (balance != NULL)
    {
      g_free (row->cells[4]);
      row->cells[4] = g_strdup (balance);
    }
}

static void
add_weighings (Sheet *sheet)
{
  const OgCardColumn columns[] = {
    { (char *) _("Material"), 0.32, FALSE },
    { (char *) _("Lot"), 0.16, FALSE },
    { (char *) _("To weigh, g"), 0.12, TRUE },
    { (char *) _("Weighed, g"), 0.13, FALSE },
    { (char *) _("Balance"), 0.14, FALSE },
    { (char *) _("Initials, time"), 0.13, FALSE },
  };
  OgCardBlock *form;

  heading (sheet, _("Weighing"));
  form = add_form (sheet, columns, G_N_ELEMENTS (columns));
  for (guint i = 0; i < sheet->formula->phases->len; i++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (sheet->formula->phases, i);

      if (phase->lines->len > 0)
        og_card_add_row (form, OG_ROW_PHASE, g_strdup (phase->name), NULL);
      for (guint j = 0; j < sheet->plan->lines->len; j++)
        {
          const OgBatchWeighing *line = g_ptr_array_index (sheet->plan->lines, j);

          if (line->phase_id == phase->id)
            add_weighing (form, sheet, line);
        }
    }
}

/* --- steps --- */

static void
add_steps (Sheet *sheet)
{
  const OgCardColumn columns[] = {
    { (char *) _("No."), 0.06, TRUE },
    { (char *) _("Step"), 0.5, FALSE },
    { (char *) _("Planned"), 0.12, FALSE },
    { (char *) _("Pot, °C"), 0.1, FALSE },
    { (char *) _("From, to"), 0.12, FALSE },
    { (char *) _("Initials"), 0.1, FALSE },
  };
  OgCardBlock *form;

  heading (sheet, _("Making"));
  form = add_form (sheet, columns, G_N_ELEMENTS (columns));
  for (guint i = 0; i < sheet->stove->steps->len; i++)
    {
      const OgStoveStep *step = g_ptr_array_index (sheet->stove->steps, i);
      g_autofree char *degrees = isfinite (step->step.temperature_c)
                                   ? og_number_fixed (step->step.temperature_c, 0) : NULL;
      char *text = step->step.caution != NULL
                     /* Translators: a step, then the caution that belongs to it */
                     ? g_strdup_printf (_("%s – Caution: %s"), og_saying_text (step->step.text),
                                        og_saying_text (step->step.caution))
                     : g_strdup (og_saying_text (step->step.text));

      add_cells (form, g_strdup_printf ("%u", i + 1), text,
                 degrees != NULL ? g_strdup_printf ("%s °C", degrees) : NULL, NULL);
    }
}

/* --- checks --- */

static char *
estimate_text (const OgEstimate *estimate)
{
  g_autofree char *value = og_number_with_unit (estimate->value);
  g_autofree char *band = og_number_range (estimate);

  return band != NULL ? g_strdup_printf ("%s (%s)", value, band) : g_steal_pointer (&value);
}

static void
add_checks (Sheet *sheet)
{
  const OgCardColumn columns[] = {
    { (char *) _("Check"), 0.34, FALSE },
    { (char *) _("Expected"), 0.26, FALSE },
    { (char *) _("Found"), 0.2, FALSE },
    { (char *) _("Initials, date"), 0.2, FALSE },
  };
  g_autofree char *density = og_number_fixed (sheet->plan->density_20_g_ml, 3);
  OgCardBlock *form;

  heading (sheet, _("Checks"));
  form = add_form (sheet, columns, G_N_ELEMENTS (columns));
  add_cells (form, g_strdup (_("Look, odour, colour")), g_strdup (_("as the retained sample")), NULL,
             NULL);
  add_cells (form, g_strdup (_("Viscosity poured at 25 °C, the day after")),
             estimate_text (&sheet->plan->pour_rounded), NULL, NULL);
  add_cells (form, g_strdup (_("Density at 20 °C, g/ml")),
             isfinite (sheet->plan->density_20_g_ml) ? g_strdup (density) : NULL, NULL, NULL);
}

static char *
fill_text (const OgBatchPlan *plan,
           OgNetUnit          net_unit)
{
  g_autofree char *g = og_number_fixed (plan->content_g, 2);
  g_autofree char *least = og_number_trimmed (plan->limits.t1, 2);
  const char *unit = net_unit == OG_NET_ML ? "ml" : "g";

  if (!isfinite (plan->content_g))
    return NULL;
  if (!isfinite (plan->limits.t1))
    /* Translators: grams */
    return g_strdup_printf (_("Fill each container with %s g."), g);
  /* Translators: grams, then the limit T1 with its unit, ml or g */
  return g_strdup_printf (_("Fill each container with %s g; few may hold less than %s %s (T1)."), g,
                          least, unit);
}

static void
add_filling (Sheet *sheet)
{
  OgCardColumn columns[BLANK_FILLS];
  g_autofree char *text = fill_text (sheet->plan, sheet->formula->package.unit);
  OgCardBlock *form;

  heading (sheet, _("Filled weights, g"));
  if (text != NULL)
    og_card_add_block (sheet->card, OG_BLOCK_PARAGRAPH, g_steal_pointer (&text), NULL);
  for (guint i = 0; i < BLANK_FILLS; i++)
    columns[i] = (OgCardColumn) { (char *) "", 1.0 / BLANK_FILLS, FALSE };
  form = add_form (sheet, columns, BLANK_FILLS);
  for (guint i = 0; i < FILL_ROWS; i++)
    add_cells (form, NULL, NULL, NULL, NULL);
}

static char *
containers_text (const OgBatchPlan *plan)
{
  if (plan->n_containers == 0)
    return NULL;

  return g_strdup_printf ("%u", plan->n_containers);
}

static void
add_yield (Sheet *sheet)
{
  const OgCardColumn columns[] = {
    { (char *) _("Yield"), 0.34, FALSE },
    { (char *) _("Planned"), 0.22, FALSE },
    { (char *) _("Found"), 0.22, FALSE },
    { (char *) _("Remark"), 0.22, FALSE },
  };
  g_autofree char *lost = og_number_trimmed (sheet->plan->lost_g, 2);
  OgCardBlock *form;

  heading (sheet, _("Yield and retained samples"));
  form = add_form (sheet, columns, G_N_ELEMENTS (columns));
  add_cells (form, g_strdup (_("Containers filled")), containers_text (sheet->plan), NULL, NULL);
  add_cells (form, g_strdup (_("Lost in vessel and transfer, g")), g_steal_pointer (&lost), NULL,
             NULL);
  add_cells (form, g_strdup (_("Label version, batch code on the label")), NULL, NULL, NULL);
  add_cells (form, g_strdup (_("Retained samples: number, place, keep until")), NULL, NULL, NULL);
}

static void
add_deviations (Sheet *sheet)
{
  const OgCardColumn columns[] = {
    { (char *) _("What was different"), 0.4, FALSE },
    { (char *) _("Decision"), 0.36, FALSE },
    { (char *) _("By whom, date"), 0.24, FALSE },
  };
  const OgCardColumn release[] = {
    { (char *) _("Released or refused"), 0.34, FALSE },
    { (char *) _("By whom, not the maker where possible"), 0.4, FALSE },
    { (char *) _("Date"), 0.26, FALSE },
  };
  OgCardBlock *form;

  heading (sheet, _("Deviations"));
  form = add_form (sheet, columns, G_N_ELEMENTS (columns));
  for (guint i = 0; i < 3; i++)
    add_cells (form, NULL, NULL, NULL, NULL);
  heading (sheet, _("Release"));
  form = add_form (sheet, release, G_N_ELEMENTS (release));
  add_cells (form, NULL, NULL, NULL, NULL);
}

OgCard *
og_batch_sheet_new (const OgFormula        *formula,
                    OgResult               *result,
                    const OgBatchPlan      *plan,
                    const OgStovePlan      *stove,
                    const OgBatchSheetHead *head,
                    const OgBatchSheetLot  *lots,
                    guint                   n_lots)
{
  const OgBatchSheetHead blank = { NULL, NULL, NULL };
  Sheet sheet = { NULL, formula, plan, stove, head != NULL ? head : &blank, lots, n_lots };

  g_return_val_if_fail (formula != NULL && result != NULL && plan != NULL && stove != NULL, NULL);

  sheet.card = og_card_new_empty (formula, result);
  add_head (&sheet);
  add_cautions (&sheet);
  add_equipment (&sheet);
  add_weighings (&sheet);
  add_steps (&sheet);
  add_checks (&sheet);
  add_filling (&sheet);
  add_yield (&sheet);
  add_deviations (&sheet);
  og_card_add_declaration (sheet.card, formula);
  og_card_add_keeping (sheet.card, formula);

  return sheet.card;
}
