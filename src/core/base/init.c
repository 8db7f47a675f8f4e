/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/init.h"

#include <gsl/gsl_errno.h>

void
og_core_init (void)
{
  static gsize done = 0;

  if (!g_once_init_enter (&done))
    return;
  gsl_set_error_handler_off ();
  g_once_init_leave (&done, 1);
}
