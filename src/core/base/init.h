/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * og_core_init:
 *
 * Has GSL report what goes wrong to whoever called it; left alone, it ends the process. Every program
 * calls this before it asks the core for anything, and so do the tests, so that they run under the
 * same rules. Further calls do nothing; any thread may make them.
 */
void og_core_init (void);

G_END_DECLS
