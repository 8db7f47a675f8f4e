/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>
#include <glpk.h>

G_BEGIN_DECLS

/**
 * og_linear_new:
 *
 * An empty program of GLPK for this thread, which stays silent. GLPK keeps an environment for each
 * thread; it is given back when the thread ends.
 *
 * Returns: (transfer full): free with glp_delete_prob() in the same thread
 */
glp_prob *og_linear_new (void);

G_END_DECLS
