/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/card-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/number-text.h"
#include "draw/text.h"

static void
row_free (gpointer data)
{
  OgCardRow *row = data;

  g_free (row->label);
  g_free (row->text);
  g_free (row->detail);
  g_free (row->pct);
  g_free (row->g);
  g_free (row->notes);
  g_strfreev (row->cells);
  g_free (row);
}

static void
block_free (gpointer data)
{
  OgCardBlock *block = data;

  g_free (block->text);
  g_free (block->detail);
  g_ptr_array_unref (block->rows);
  g_clear_pointer (&block->columns, g_array_unref);
  g_free (block);
}

OgCardBlock *
og_card_add_block (OgCard      *card,
                   OgBlockKind  kind,
                   char        *text,
                   char        *detail)
{
  OgCardBlock *block = g_new0 (OgCardBlock, 1);

  block->kind = kind;
  block->text = text;
  block->detail = detail;
  block->rows = g_ptr_array_new_with_free_func (row_free);
  g_ptr_array_add (card->blocks, block);

  return block;
}

OgCardRow *
og_card_add_row (OgCardBlock *block,
                 OgRowKind    kind,
                 char        *text,
                 char        *detail)
{
  OgCardRow *row = g_new0 (OgCardRow, 1);

  row->kind = kind;
  row->text = text;
  row->detail = detail;
  g_ptr_array_add (block->rows, row);

  return row;
}

void
og_card_add_fact (OgCardBlock *block,
                  const char  *label,
                  char        *text)
{
  og_card_add_row (block, OG_ROW_ITEM, text, NULL)->label = g_strdup (label);
}

static char *
quantity_text (const char *number,
               const char *unit)
{
  /* Translators: a number and its unit */
  return g_strdup_printf (C_("quantity", "%s %s"), number, unit);
}

void
og_card_add_quantity (OgCardBlock *block,
                      const char  *label,
                      double       value,
                      int          decimals,
                      const char  *unit)
{
  g_autofree char *number = og_number_fixed (value, decimals);

  og_card_add_fact (block, label, isfinite (value) && unit != NULL ? quantity_text (number, unit)
                                                                   : g_strdup (number));
}

OgCard *
og_card_new_empty (const OgFormula *formula,
                   OgResult        *result)
{
  OgCard *card = g_new0 (OgCard, 1);

  card->result = og_result_ref (result);
  card->title = g_strdup (og_text_is_blank (formula->title) ? _("Untitled recipe") : formula->title);
  card->blocks = g_ptr_array_new_with_free_func (block_free);

  return card;
}

void
og_card_free (OgCard *card)
{
  if (card == NULL)
    return;

  og_card_clear_layout (card);
  g_ptr_array_unref (card->blocks);
  og_result_unref (card->result);
  g_free (card->title);
  g_free (card);
}

gboolean
og_card_has_chart (const OgCard *card)
{
  return card->chart.n_curves > 0;
}
