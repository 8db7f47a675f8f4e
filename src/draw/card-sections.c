/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/card-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/number-text.h"
#include "core/label/declaration.h"
#include "core/predict/keeping.h"
#include "draw/text.h"

/* What it is, what would cure it, and what it rests on. */
static void
add_finding (OgCardBlock     *block,
             const OgFinding *finding)
{
  const OgSaying *origin = finding->reference != NULL ? finding->reference : finding->source;
  const char *text = og_saying_text (finding->text);
  OgCardRow *row = og_card_add_row (
      block, OG_ROW_ITEM,
      finding->cure != NULL ? g_strdup_printf ("%s %s", text, og_saying_text (finding->cure)) : g_strdup (text),
      g_strdup (og_saying_text (origin)));

  row->label = g_strdup (og_severity_get_name (finding->severity));
  row->caution = finding->severity != OG_SEVERITY_NOTE;
}

void
og_card_add_findings (OgCard *card)
{
  const GPtrArray *findings = card->result->findings;

  og_card_add_block (card, OG_BLOCK_HEADING, g_strdup (_("Cautions")), NULL);
  if (findings->len > 0)
    {
      OgCardBlock *block = og_card_add_block (card, OG_BLOCK_LIST, NULL, NULL);

      for (guint i = 0; i < findings->len; i++)
        add_finding (block, g_ptr_array_index (findings, i));
    }
  og_card_add_block (card, OG_BLOCK_PARAGRAPH,
             g_strdup (_("Check your local rules on ingredients, colours and labels before you sell or give away "
                         "what you make.")),
             NULL);
}

void
og_card_add_severe_findings (OgCard          *card,
                             const GPtrArray *findings)
{
  OgCardBlock *block = NULL;

  for (guint i = 0; i < findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (findings, i);

      if (finding->severity == OG_SEVERITY_NOTE)
        continue;
      if (block == NULL)
        block = og_card_add_block (card, OG_BLOCK_LIST, NULL, NULL);
      add_finding (block, finding);
    }
}

void
og_card_add_declaration (OgCard          *card,
                         const OgFormula *formula)
{
  g_autoptr (OgDeclaration) declaration = NULL;

  if (card->result->contents->len == 0)
    return;
  declaration = og_declare (formula, card->result->catalog, OG_MARKET_EU, NULL);
  og_declaration_hold_shades (declaration, formula, card->result->catalog, NULL);
  og_card_add_block (card, OG_BLOCK_HEADING, g_strdup (_("Ingredients on the label (EU)")), NULL);
  og_card_add_block (card, OG_BLOCK_PARAGRAPH, g_strdup (declaration->text), NULL);
  og_card_add_severe_findings (card, declaration->findings);
}

static void
add_guards (OgCardBlock     *block,
            const OgKeeping *keeping)
{
  for (guint i = 0; i < keeping->guards->len; i++)
    {
      const OgKeepingGuard *guard = &g_array_index (keeping->guards, OgKeepingGuard, i);
      g_autofree char *number = og_number_trimmed (guard->pct, 3);

      /* Translators: antioxidant, its share, how that compares: "Tocopherol, 0.5 wt %, within …" */
      og_card_add_fact (block, _("Antioxidant"),
                        g_strdup_printf (_("%s, %s wt %%, %s"), guard->ingredient->name, number,
                                         og_guard_level_get_name (guard->level)));
    }
}

void
og_card_add_keeping (OgCard          *card,
                     const OgFormula *formula)
{
  g_autoptr (OgKeeping) keeping = NULL;
  OgCardBlock *block;

  if (card->result->contents->len == 0)
    return;
  keeping = og_keep (formula, card->result, NULL);
  og_card_add_block (card, OG_BLOCK_HEADING, g_strdup (_("Keeping")), NULL);
  block = og_card_add_block (card, OG_BLOCK_FACTS, NULL, NULL);
  og_card_add_fact (block, _ ("Closed, dark, room temperature"),
                    og_saying_take_text (og_keeping_span_saying (&keeping->room)));
  og_card_add_quantity (block, _("COX value"), keeping->cox, 2, NULL);
  add_guards (block, keeping);
  og_card_add_block (card, OG_BLOCK_PARAGRAPH, g_strdup (og_saying_text (keeping->basis)), NULL);
  og_card_add_severe_findings (card, keeping->findings);
}
