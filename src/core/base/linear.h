/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>
#include <glpk.h>

G_BEGIN_DECLS

/** No coefficient and no bound may be larger: beyond it GLPK's own tolerances mean nothing. */
#define OG_LINEAR_LARGEST 1e15

/**
 * og_linear_new:
 *
 * An empty program of GLPK for this thread, which stays silent. GLPK keeps an environment for each
 * thread; it is given back when the thread ends.
 *
 * Returns: (transfer full): free with og_linear_free() in the same thread
 */
glp_prob *og_linear_new      (void);
/** Frees @program. After an error inside GLPK its whole environment is given back with the last program of
 * the thread. */
void      og_linear_free     (glp_prob       *program);

/**
 * og_linear_is_sound:
 *
 * Whether @program can be put to GLPK, which may end the process or never return over one that
 * cannot.
 *
 * Returns: %FALSE if a coefficient or a bound is not finite or larger than %OG_LINEAR_LARGEST, or a
 * lower bound lies above its upper one
 */
gboolean  og_linear_is_sound (glp_prob       *program);

/**
 * og_linear_simplex:
 * @how: (nullable): %NULL for the primal simplex with GLPK's defaults; the level of messages does not
 * matter
 *
 * Solves @program from the basis it has. Where GLPK itself gives up, with an assertion of its own or
 * for want of memory, this says so instead of ending the process, and all programs of this thread
 * that are alive then stay unsolved.
 *
 * Returns: %TRUE if the optimum was found, which the functions of GLPK then tell
 */
gboolean  og_linear_simplex  (glp_prob       *program,
                              const glp_smcp *how);

/**
 * og_linear_integer:
 *
 * The same by branch and cut, with GLPK's presolver, where columns are whole numbers.
 */
gboolean  og_linear_integer  (glp_prob       *program);

G_END_DECLS
