/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/linear.h"

#include <math.h>
#include <setjmp.h>

/* GLPK's environment of one thread. After an error it must be given back as a whole, and with it the
 * memory of every program: that waits until the last of them is freed. */
typedef struct
{
  guint n_programs;
  gboolean broken;
  jmp_buf back;
} Environment;

static void
give_back (gpointer data)
{
  glp_free_env ();
  g_free (data);
}

static GPrivate environment_of_thread = G_PRIVATE_INIT (give_back);

/* GLPK turns its messages on again before it tells of an error. Returns: 1: told already */
static int
keep_silent (void       *info,
             const char *text)
{
  return 1;
}

static void
set_up (void)
{
  glp_term_out (GLP_OFF);
  glp_term_hook (keep_silent, NULL);
}

static Environment *
get_environment (void)
{
  Environment *environment = g_private_get (&environment_of_thread);

  if (environment != NULL)
    return environment;
  environment = g_new0 (Environment, 1);
  g_private_set (&environment_of_thread, environment);
  set_up ();
  return environment;
}

glp_prob *
og_linear_new (void)
{
  get_environment ()->n_programs++;
  return glp_create_prob ();
}

void
og_linear_free (glp_prob *program)
{
  Environment *environment = get_environment ();

  if (!environment->broken)
    glp_delete_prob (program);
  if (--environment->n_programs > 0 || !environment->broken)
    return;
  glp_free_env ();
  set_up ();
  environment->broken = FALSE;
}

/* --- what is put to GLPK --------------------------------------------------- */

static gboolean
is_sound_number (double number)
{
  return fabs (number) <= OG_LINEAR_LARGEST;
}

static gboolean
are_sound_bounds (int    type,
                  double low,
                  double high)
{
  switch (type)
    {
    case GLP_LO:
    case GLP_FX:
      return is_sound_number (low);
    case GLP_UP:
      return is_sound_number (high);
    case GLP_DB:
      return is_sound_number (low) && is_sound_number (high) && low <= high;
    case GLP_FR:
    default:
      return TRUE;
    }
}

static gboolean
is_sound_column (glp_prob *program,
                 int       column,
                 double   *values)
{
  int length = glp_get_mat_col (program, column, NULL, values);

  for (int i = 1; i <= length; i++)
    if (!is_sound_number (values[i]))
      return FALSE;
  return is_sound_number (glp_get_obj_coef (program, column))
         && are_sound_bounds (glp_get_col_type (program, column),
                              glp_get_col_lb (program, column), glp_get_col_ub (program, column));
}

gboolean
og_linear_is_sound (glp_prob *program)
{
  int n_rows = glp_get_num_rows (program), n_columns = glp_get_num_cols (program);
  g_autofree double *values = g_new (double, (gsize) n_rows + 1);

  for (int i = 1; i <= n_rows; i++)
    if (!are_sound_bounds (glp_get_row_type (program, i), glp_get_row_lb (program, i),
                           glp_get_row_ub (program, i)))
      return FALSE;
  for (int j = 1; j <= n_columns; j++)
    if (!is_sound_column (program, j, values))
      return FALSE;
  return is_sound_number (glp_get_obj_coef (program, 0));
}

/* --- solving --------------------------------------------------------------- */

static void
jump_back (void *info)
{
  Environment *environment = info;

  glp_error_hook (NULL, NULL);
  environment->broken = TRUE;
  longjmp (environment->back, 1);
}

typedef int (*Method) (glp_prob   *program,
                       const void *how);

static int
simplex (glp_prob   *program,
         const void *how)
{
  return glp_simplex (program, how);
}

static int
integer (glp_prob   *program,
         const void *how)
{
  return glp_intopt (program, how);
}

/* Stands alone, so that nothing of its caller lies in a register when GLPK jumps back.
 * Returns: %FALSE if @method did not end as it should */
static G_NO_INLINE gboolean
attempt (Environment *environment,
         Method       method,
         glp_prob    *program,
         const void  *how)
{
  gboolean ended;

  if (setjmp (environment->back) != 0)
    return FALSE;
  glp_error_hook (jump_back, environment);
  ended = method (program, how) == 0;
  glp_error_hook (NULL, NULL);
  return ended;
}

static gboolean
run (Method      method,
     glp_prob   *program,
     const void *how)
{
  Environment *environment = get_environment ();

  return !environment->broken && og_linear_is_sound (program)
         && attempt (environment, method, program, how);
}

gboolean
og_linear_simplex (glp_prob       *program,
                   const glp_smcp *how)
{
  glp_smcp silent;

  if (how != NULL)
    silent = *how;
  else
    glp_init_smcp (&silent);
  silent.msg_lev = GLP_MSG_OFF;
  return run (simplex, program, &silent) && glp_get_status (program) == GLP_OPT;
}

gboolean
og_linear_integer (glp_prob *program)
{
  glp_iocp silent;

  glp_init_iocp (&silent);
  silent.msg_lev = GLP_MSG_OFF;
  silent.presolve = GLP_ON;
  return run (integer, program, &silent) && glp_mip_status (program) == GLP_OPT;
}
