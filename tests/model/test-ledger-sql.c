/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "model/ledger-private.h"
#include "shop.h"

/* The names of the types are those of typeof () in the documentation of SQLite. */
static void
test_types (void)
{
  static const struct { OgSqlValue value; const char *type; } cases[] = {
    { { OG_SQL_NULL, { NULL } }, "null" },
    { { OG_SQL_TEXT, { "" } }, "text" },
    { { OG_SQL_INT, { .whole = 0 } }, "integer" },
    { { OG_SQL_REAL, { .number = 0 } }, "real" },
  };
  const OgSqlValue made[] = { og_sql_text (NULL), og_sql_text (""), og_sql_int (0), og_sql_real (0),
                              og_sql_int_or_null (0), og_sql_real (NAN) };
  static const guint made_as[] = { 0, 1, 2, 3, 0, 0 };
  Shop shop;

  shop_open (&shop);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      gboolean row;
      g_autoptr (sqlite3_stmt) statement
        = _og_sql_first (shop.ledger, "SELECT typeof (?)", OG_SQL_VALUES (cases[i].value), &row,
                         &error);
      g_autofree char *type = NULL;

      g_assert_no_error (error);
      g_assert_true (row);
      type = _og_sql_dup_text (statement, 0);
      g_assert_cmpstr (type, ==, cases[i].type);
    }
  for (guint i = 0; i < G_N_ELEMENTS (made); i++)
    g_assert_cmpint (made[i].type, ==, cases[made_as[i]].value.type);
  shop_close (&shop);
}

static void
test_order (void)
{
  g_autoptr (GError) error = NULL;
  gint64 right = 0;
  Shop shop;

  shop_open (&shop);
  g_assert_true (_og_sql_get (shop.ledger,
                              "SELECT ?1 = 'a' AND ?2 = -9223372036854775808 AND ?3 = 0.1"
                              " AND ?4 IS NULL",
                              OG_SQL_VALUES (og_sql_text ("a"), og_sql_int (G_MININT64),
                                             og_sql_real (0.1), og_sql_int_or_null (0)),
                              &right,
                              &error));
  g_assert_no_error (error);
  g_assert_cmpint (right, ==, 1);
  shop_close (&shop);
}

/* Too few, too many, and none: a place that nothing is bound to would silently be NULL. */
static void
test_count (void)
{
  const OgSqlValues wrong[]
    = { OG_SQL_VALUES (og_sql_int (1)),
        OG_SQL_VALUES (og_sql_int (1), og_sql_int (2), og_sql_int (3)), OG_SQL_NO_VALUES };
  Shop shop;

  shop_open (&shop);
  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_false (_og_sql_run (shop.ledger, "SELECT ?2, ?1", wrong[i], &error));
      g_assert_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_INTERNAL);
    }
  shop_close (&shop);
}

static void
test_no_rows (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (sqlite3_stmt) statement = NULL;
  gboolean row = TRUE;
  gint64 value = 7;
  Shop shop;

  shop_open (&shop);
  statement = _og_sql_first (shop.ledger, "SELECT 1 WHERE 0", OG_SQL_NO_VALUES, &row, &error);
  g_assert_nonnull (statement);
  g_assert_false (row);
  g_assert_true (_og_sql_get (shop.ledger, "SELECT NULL", OG_SQL_NO_VALUES, &value, &error));
  g_assert_cmpint (value, ==, 7);
  g_assert_no_error (error);
  g_clear_pointer (&statement, sqlite3_finalize);
  shop_close (&shop);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/ledger-sql/types", test_types);
  g_test_add_func ("/ledger-sql/order", test_order);
  g_test_add_func ("/ledger-sql/count", test_count);
  g_test_add_func ("/ledger-sql/no-rows", test_no_rows);

  return g_test_run ();
}
