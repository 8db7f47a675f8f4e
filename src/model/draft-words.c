/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/draft-words.h"

static void
write_member (char          **member,
              const OgSaying *saying)
{
  if (saying == NULL)
    return;
  g_free (*member);
  *member = g_strdup (og_saying_text (saying));
}

void
og_draft_write_words (OgDraft *draft)
{
  g_return_if_fail (draft != NULL);

  write_member (&draft->formula->title, draft->title);
  write_member (&draft->formula->notes, draft->notes);
  for (guint i = 0; i < draft->phases->len; i++)
    {
      const OgDraftPhase *words = &g_array_index (draft->phases, OgDraftPhase, i);
      OgFormulaPhase *phase = og_formula_find_phase (draft->formula, words->phase_id, NULL);

      write_member (&phase->name, words->name);
      write_member (&phase->note, words->note);
    }
}
