/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <float.h>
#include <glib.h>
#include <math.h>

#include "core/base/linear.h"

/* Two columns in one row: 3 x + 2 y <= 12 with 0 <= x, y <= 3; the most of x + y is 3 + 1.5, and in
 * whole numbers 2 + 3 or less. Worked by hand. */
static glp_prob *
program_new (void)
{
  glp_prob *program = og_linear_new ();

  glp_set_obj_dir (program, GLP_MAX);
  glp_add_rows (program, 1);
  glp_set_row_bnds (program, 1, GLP_UP, 0.0, 12.0);
  glp_add_cols (program, 2);
  for (int j = 1; j <= 2; j++)
    {
      glp_set_col_bnds (program, j, GLP_DB, 0.0, 3.0);
      glp_set_obj_coef (program, j, 1.0);
    }
  glp_set_mat_row (program, 1, 2, (int[]) { 0, 1, 2 }, (double[]) { 0.0, 3.0, 2.0 });
  return program;
}

static void
assert_solves (void)
{
  glp_prob *program = program_new ();

  g_assert_true (og_linear_simplex (program, NULL));
  g_assert_cmpfloat_with_epsilon (glp_get_obj_val (program), 5.0, 1e-9);
  glp_set_row_bnds (program, 1, GLP_UP, 0.0, 11.0);
  g_assert_true (og_linear_simplex (program, NULL));
  g_assert_cmpfloat_with_epsilon (glp_get_obj_val (program), 14.0 / 3.0, 1e-9);
  for (int j = 1; j <= 2; j++)
    glp_set_col_kind (program, j, GLP_IV);
  g_assert_true (og_linear_integer (program));
  g_assert_cmpfloat_with_epsilon (glp_mip_obj_val (program), 4.0, 1e-9);
  og_linear_free (program);
}

static void
test_solves (void)
{
  assert_solves ();
}

typedef enum
{
  IN_OBJECTIVE,
  IN_CONSTANT,
  IN_ROW,
  IN_ROW_BOUND,
  IN_LOWER_BOUND,
  IN_UPPER_BOUND,
  N_PLACES
} Place;

static void
put (glp_prob *program,
     Place     place,
     double    number)
{
  switch (place)
    {
    case IN_OBJECTIVE:
      glp_set_obj_coef (program, 2, number);
      break;
    case IN_CONSTANT:
      glp_set_obj_coef (program, 0, number);
      break;
    case IN_ROW:
      glp_set_mat_row (program, 1, 2, (int[]) { 0, 1, 2 }, (double[]) { 0.0, 3.0, number });
      break;
    case IN_ROW_BOUND:
      glp_set_row_bnds (program, 1, GLP_UP, 0.0, number);
      break;
    case IN_LOWER_BOUND:
      glp_set_col_bnds (program, 1, GLP_LO, number, 0.0);
      break;
    case IN_UPPER_BOUND:
      glp_set_col_bnds (program, 1, GLP_DB, 0.0, number);
      break;
    case N_PLACES:
    default:
      g_assert_not_reached ();
    }
}

static void
assert_refused (glp_prob *program)
{
  g_assert_false (og_linear_is_sound (program));
  g_assert_false (og_linear_simplex (program, NULL));
  for (int j = 1; j <= glp_get_num_cols (program); j++)
    glp_set_col_kind (program, j, GLP_IV);
  g_assert_false (og_linear_integer (program));
  og_linear_free (program);
}

static void
test_no_numbers (void)
{
  static const double numbers[] = { NAN, INFINITY, -INFINITY, DBL_MAX, -DBL_MAX, 1e300, 1e16 };

  for (int place = 0; place < N_PLACES; place++)
    for (guint i = 0; i < G_N_ELEMENTS (numbers); i++)
      {
        glp_prob *program = program_new ();

        g_test_message ("place %d, %g", place, numbers[i]);
        put (program, (Place) place, numbers[i]);
        assert_refused (program);
      }
  assert_solves ();
}

static void
test_crossed_bounds (void)
{
  glp_prob *program = program_new ();

  glp_set_col_bnds (program, 1, GLP_DB, 3.0, 2.0);
  assert_refused (program);
  program = program_new ();
  glp_set_row_bnds (program, 1, GLP_DB, 12.0, 11.0);
  assert_refused (program);
}

/* Large numbers that are let through, and programs without rows or columns, come to an end. */
static void
test_odd_shapes (void)
{
  static const double numbers[] = { 0.0, 1e-300, 1e-15, 1e9, -1e9, 1e15, -1e15 };
  glp_prob *program;

  for (int place = 0; place < N_PLACES; place++)
    for (guint i = 0; i < G_N_ELEMENTS (numbers); i++)
      {
        program = program_new ();
        put (program, (Place) place, numbers[i]);
        og_linear_simplex (program, NULL);
        for (int j = 1; j <= 2; j++)
          glp_set_col_kind (program, j, GLP_IV);
        og_linear_integer (program);
        og_linear_free (program);
      }

  program = og_linear_new ();
  og_linear_simplex (program, NULL);
  og_linear_integer (program);
  glp_add_rows (program, 1);
  og_linear_simplex (program, NULL);
  og_linear_integer (program);
  og_linear_free (program);
  program = og_linear_new ();
  glp_add_cols (program, 1);
  og_linear_simplex (program, NULL);
  og_linear_integer (program);
  og_linear_free (program);
  assert_solves ();
}

/* An error inside GLPK, here over a parameter that does not exist, is told and passes. */
static void
test_error_inside (void)
{
  glp_prob *bystander = program_new ();
  glp_prob *program = program_new ();
  glp_smcp how;

  glp_init_smcp (&how);
  how.meth = 99;
  g_assert_false (og_linear_simplex (program, &how));
  g_assert_false (og_linear_simplex (bystander, NULL));
  og_linear_free (program);
  g_assert_false (og_linear_simplex (bystander, NULL));
  og_linear_free (bystander);
  assert_solves ();
}

static gpointer
work (gpointer data)
{
  test_error_inside ();
  assert_solves ();
  return NULL;
}

static void
test_threads (void)
{
  GThread *threads[4];

  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    threads[i] = g_thread_new ("linear", work, NULL);
  assert_solves ();
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    g_thread_join (threads[i]);
}

static void
test_silence (void)
{
  if (g_test_subprocess ())
    {
      test_error_inside ();
      return;
    }
  g_test_trap_subprocess (NULL, 0, G_TEST_SUBPROCESS_DEFAULT);
  g_test_trap_assert_passed ();
  g_test_trap_assert_stdout_unmatched ("*meth*");
  g_test_trap_assert_stderr_unmatched ("*meth*");
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/linear/solves", test_solves);
  g_test_add_func ("/linear/no-numbers", test_no_numbers);
  g_test_add_func ("/linear/crossed-bounds", test_crossed_bounds);
  g_test_add_func ("/linear/odd-shapes", test_odd_shapes);
  g_test_add_func ("/linear/error-inside", test_error_inside);
  g_test_add_func ("/linear/threads", test_threads);
  g_test_add_func ("/linear/silence", test_silence);

  return g_test_run ();
}
