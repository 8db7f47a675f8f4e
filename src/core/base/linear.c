/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/linear.h"

static void
give_back (gpointer data)
{
  glp_free_env ();
}

glp_prob *
og_linear_new (void)
{
  static GPrivate used = G_PRIVATE_INIT (give_back);

  if (g_private_get (&used) == NULL)
    {
      glp_term_out (GLP_OFF);
      g_private_set (&used, &used);
    }
  return glp_create_prob ();
}
