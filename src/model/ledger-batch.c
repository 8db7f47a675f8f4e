/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/storage.h"
#include "model/ledger-private.h"

static const char *const state_nicks[OG_N_BATCH_STATES] = {
  "planned", "running", "closed", "abandoned"
};

/* --- words ------------------------------------------------------------------ */

const char *
og_batch_state_to_nick (OgBatchState state)
{
  g_return_val_if_fail (state < OG_N_BATCH_STATES, NULL);

  return state_nicks[state];
}

const char *
og_batch_state_get_name (OgBatchState state)
{
  static const char *const names[OG_N_BATCH_STATES] = {
    N_("Planned"), N_("Running"), N_("Closed"), N_("Abandoned")
  };

  g_return_val_if_fail (state < OG_N_BATCH_STATES, NULL);

  return _(names[state]);
}

gboolean
og_batch_state_from_nick (const char   *nick,
                          OgBatchState *state)
{
  const int i = _og_nick_index (state_nicks, OG_N_BATCH_STATES, nick);

  if (i >= 0)
    *state = (OgBatchState) i;

  return i >= 0;
}
