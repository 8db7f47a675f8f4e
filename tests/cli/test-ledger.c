/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gstdio.h>
#include <string.h>

#include "run-cli.h"

#define RECIPE "phase,ingredient,percent\nA,castor-oil,60\nA,sunflower-oil,balance\n"

/* Runs `ledger WORDS --ledger NAME`; spaces separate the words, a ~ in one stands for a space. */
static CliRun
run (const char *name,
     const char *words)
{
  g_autofree char *line = g_strdup_printf ("ledger %s --ledger %s/%s", words, cli_folder (), name);
  g_auto (GStrv) arguments = g_strsplit (line, " ", -1);

  for (guint i = 0; arguments[i] != NULL; i++)
    g_strdelimit (arguments[i], "~", ' ');

  return cli_run_with (NULL, (const char *const *) arguments);
}

static void
must_run (const char *name,
          const char *words)
{
  g_auto (CliRun) done = run (name, words);

  cli_assert_status (&done, 0);
}

/* Returns: (transfer full): what it answers with --json */
static JsonObject *
ask (const char *name,
     const char *words)
{
  g_autofree char *line = g_strconcat (words, " --json", NULL);
  g_auto (CliRun) done = run (name, line);

  cli_assert_status (&done, 0);
  g_assert_cmpstr (done.err, ==, "");

  return cli_json (&done);
}

static JsonObject *
nth (JsonObject *root,
     const char *member,
     guint       index)
{
  return json_array_get_object_element (json_object_get_array_member (root, member), index);
}

static guint
length_of (JsonObject *root,
           const char *member)
{
  return json_array_get_length (json_object_get_array_member (root, member));
}

static const char *
text (JsonObject *object,
      const char *member)
{
  return json_object_get_string_member (object, member);
}

static void
assert_refused (const char *name,
                const char *words,
                int         status,
                const char *told)
{
  g_auto (CliRun) done = run (name, words);

  if (done.status != status || *done.out != '\0' || strstr (done.err, told) == NULL)
    g_error ("%s: status %d, output “%s”, message “%s”", words, done.status, done.out, done.err);
}

static void
fill (const char *name)
{
  must_run (name, "receive Castor~oil --lot C2 --grams 900 --price 9.5 --currency EUR --pack-g "
                  "1000 --best-before 2027-09-30 --supplier Pier~sundries --date 2026-03-01");
  must_run (name, "receive castor-oil --lot C1 --grams 100.5 --price 6 --pack-g 500 --currency EUR "
                  "--best-before 2027-01-31 --date 2026-03-02 --who Ada --note from~the~quay");
  must_run (name, "receive sunflower-oil --lot S1 --grams 500 --date 2026-03-02");
}

/* The finding of @code, which must be there, and in the text output too. */
static JsonObject *
finding_of (JsonObject *root,
            const char *code)
{
  JsonArray *findings = json_object_get_array_member (root, "findings");

  for (guint i = 0; i < json_array_get_length (findings); i++)
    {
      JsonObject *finding = json_array_get_object_element (findings, i);

      if (g_str_equal (text (finding, "code"), code))
        return finding;
    }
  return NULL;
}

static JsonObject *
ask_found (const char *name,
           const char *words,
           int         status)
{
  g_autofree char *line = g_strconcat (words, " --json", NULL);
  g_auto (CliRun) done = run (name, line);

  cli_assert_status (&done, status);
  return cli_json (&done);
}

static void
test_stock (void)
{
  g_autoptr (JsonObject) stock = NULL;
  g_autoptr (JsonObject) lots = NULL;
  g_autoptr (JsonObject) soon = NULL;
  g_autoptr (JsonObject) received = NULL;
  g_auto (CliRun) plain = { -1, NULL, NULL };
  JsonObject *item;

  fill ("stock.sqlite");
  received = ask ("stock.sqlite", "receive tern-balm --name Tern~balm --lot 1 --grams 0.001");
  g_assert_cmpint (json_object_get_int_member (received, "entry"), ==, 4);
  g_assert_cmpfloat (cli_number (received, "left_g"), ==, 0.001);
  stock = ask ("stock.sqlite", "stock");
  g_assert_cmpuint (length_of (stock, "stock"), ==, 3);
  item = nth (stock, "stock", 0);
  g_assert_cmpstr (text (item, "ingredient"), ==, "castor-oil");
  g_assert_cmpstr (text (item, "name"), ==, "Castor oil");
  g_assert_cmpfloat (cli_number (item, "left_g"), ==, 1000.5);
  g_assert_cmpint (json_object_get_int_member (item, "lots"), ==, 2);
  g_assert_cmpstr (text (item, "best_before"), ==, "2027-01-31");
  g_assert_cmpfloat (cli_number (item, "price_per_kg"), ==, 12);
  g_assert_cmpstr (text (item, "currency"), ==, "EUR");
  item = nth (stock, "stock", 1);
  g_assert_true (json_object_get_null_member (item, "price_per_kg"));
  g_assert_true (json_object_get_null_member (item, "best_before"));

  lots = ask ("stock.sqlite", "lots castor-oil");
  g_assert_cmpuint (length_of (lots, "lots"), ==, 2);
  g_assert_cmpstr (text (nth (lots, "lots", 0), "lot"), ==, "C1");
  g_assert_cmpstr (text (nth (lots, "lots", 1), "supplier"), ==, "Pier sundries");
  soon = ask ("stock.sqlite", "lots --until 2027-02-01");
  g_assert_cmpuint (length_of (soon, "lots"), ==, 1);
  plain = run ("stock.sqlite", "stock");
  cli_assert_status (&plain, 0);
  cli_assert_has (plain.out, "castor-oil");
  cli_assert_has (plain.out, "2027-01-31");
}

static void
test_journal (void)
{
  static const char name[] = "journal.sqlite";
  g_autoptr (JsonObject) journal = NULL;
  g_autoptr (JsonObject) page = NULL;
  JsonObject *entry;

  fill (name);
  must_run (name, "use castor-oil --lot C1 --grams 50.25 --date 2026-03-03");
  must_run (name, "waste castor-oil --lot C1 --grams 0.25 --date 2026-03-03");
  must_run (name, "correct castor-oil --lot C1 --by -1 --date 2026-03-03");
  must_run (name, "reverse 5");
  must_run (name, "count castor-oil C1 45");
  assert_refused (name, "reverse 5", 1, "5");
  assert_refused (name, "correct castor-oil --lot C1 --grams 45", 1, "--grams");
  assert_refused (name, "correct castor-oil --lot C1", 1, "--set-to");
  assert_refused (name, "correct castor-oil --lot C1 --by 1 --set-to 1", 1, "--set-to");
  assert_refused (name, "use castor-oil --lot C1 --grams 50", 2, "5 g are missing");
  assert_refused (name, "use castor-oil --lot C9 --grams 50", 1, "C9");
  /* a journal that is never rewritten takes no number that can be read in two ways */
  assert_refused (name, "use castor-oil --lot C1 --grams 1,000", 1, "“1,000” can mean 1 or 1\u202f000");
  assert_refused (name, "use castor-oil --lot C1 --grams 1/0", 1, "divides by zero");
  must_run (name, "use castor-oil --lot C1 --grams 50 --allow-negative");

  journal = ask (name, "journal Castor~oil --lot C1");
  g_assert_cmpuint (length_of (journal, "entries"), ==, 7);
  entry = nth (journal, "entries", 0);
  g_assert_cmpfloat (cli_number (entry, "amount_g"), ==, -50);
  g_assert_true (json_object_get_boolean_member (entry, "below_nothing"));
  entry = nth (journal, "entries", 1);
  g_assert_cmpstr (text (entry, "kind"), ==, "count");
  /* 100.5 - 50.25 - 0.25 - 1 + 0.25 = 49.25, of which 45 were found */
  g_assert_cmpfloat (cli_number (entry, "amount_g"), ==, -4.25);
  entry = nth (journal, "entries", 6);
  g_assert_cmpstr (text (entry, "who"), ==, "Ada");
  g_assert_cmpstr (text (entry, "note"), ==, "from the quay");
  g_assert_cmpstr (text (entry, "date"), ==, "2026-03-02");
  page = ask (name, "journal --before 4 --limit 2");
  g_assert_cmpuint (length_of (page, "entries"), ==, 2);
  g_assert_cmpint (json_object_get_int_member (nth (page, "entries", 0), "entry"), ==, 3);
}

static void
test_batch (void)
{
  static const char name[] = "batch.sqlite";
  g_autofree char *path = cli_file ("lantern.csv", RECIPE);
  g_autofree char *plan
    = g_strdup_printf ("batch %s --grams 500 --date 2026-03-04 --who Ada", path);
  g_autoptr (JsonObject) planned = NULL;
  g_autoptr (JsonObject) lots = NULL;
  g_autoptr (JsonObject) closed = NULL;
  g_autoptr (JsonObject) where = NULL;
  g_autoptr (JsonObject) batches = NULL;
  g_autoptr (JsonObject) shown = NULL;
  g_auto (CliRun) plain = { -1, NULL, NULL };

  fill (name);
  planned = ask (name, plan);
  g_assert_cmpstr (text (planned, "batch"), ==, "2026-001");
  g_assert_cmpstr (text (planned, "state"), ==, "planned");
  g_assert_cmpfloat (cli_number (nth (planned, "lines", 0), "planned_g"), ==, 300);
  g_assert_cmpfloat (cli_number (nth (planned, "lines", 1), "planned_g"), ==, 200);
  g_assert_true (json_object_has_member (json_object_get_object_member (planned, "document"),
                                         "phases"));
  must_run (name, "weigh 2026-001 1 --grams 100.5 --lot C1 --balance kitchen --who Ada");
  must_run (name, "weigh 2026-001 1 --grams 199.5 --lot C2");
  assert_refused (name, "close 2026-001", 1, "Line 2");
  lots = ask_found (name, "weigh 2026-001 2 --grams 501 --lot S1", 2);
  g_assert_nonnull (finding_of (lots, "lot-short"));
  g_assert_cmpuint (length_of (lots, "lots"), ==, 3);
  assert_refused (name, "close 2026-001", 2, "1 g are missing");
  must_run (name, "weigh 2026-001 2 --grams -301 --lot S1");
  must_run (name, "record 2026-001 deviation --text too~warm --decision carry~on --who Ada");
  must_run (name, "record 2026-001 process --text stirred --phase A --temperature 72.5 "
                  "--started 2026-03-04T09:00:00 --ended 2026-03-04T09:30:00");
  must_run (name, "record 2026-001 sample --text shelf~2 --count 2 --until 2029-03-04");
  must_run (name, "record 2026-001 measurement --text viscosity --value 640~mPa.s");
  must_run (name, "record 2026-001 filling --grams 5.01");
  must_run (name, "record 2026-001 photo --text kettle.png");
  must_run (name, "output 2026-001 --units 96 --label 3b");
  assert_refused (name, "release 2026-001 --who Cleo", 1, "not closed");
  closed = ask (name, "close 2026-001 --date 2026-03-05");
  g_assert_cmpstr (text (closed, "state"), ==, "closed");
  assert_refused (name, "close 2026-001", 1, "closed before");
  must_run (name, "release 2026-001 --who Cleo --date 2026-03-06");

  shown = ask (name, "batch-show 2026-001");
  g_assert_cmpuint (length_of (shown, "record"), ==, 6);
  g_assert_cmpuint (length_of (shown, "weighings"), ==, 4);
  g_assert_cmpint (json_object_get_int_member (shown, "units"), ==, 96);
  g_assert_cmpstr (text (shown, "released_by"), ==, "Cleo");
  g_assert_cmpfloat (cli_number (nth (shown, "record", 1), "temperature_c"), ==, 72.5);
  where = ask (name, "where C2");
  g_assert_cmpuint (length_of (where, "uses"), ==, 1);
  g_assert_cmpfloat (cli_number (nth (where, "uses", 0), "amount_g"), ==, 199.5);
  g_assert_cmpstr (text (nth (where, "uses", 0), "batch"), ==, "2026-001");
  g_assert_cmpstr (text (nth (where, "uses", 0), "date"), ==, "2026-03-05");
  batches = ask (name, "batches --search lantern --state closed");
  g_assert_cmpuint (length_of (batches, "batches"), ==, 1);
  plain = run (name, "batch-show 2026-001");
  cli_assert_status (&plain, 0);
  cli_assert_has (plain.out, "carry on");
  cli_assert_has (plain.out, "kitchen");
}

/* A batch says what is short, out of date or a slip of the decimal mark before it is closed. */
static void
test_batch_findings (void)
{
  static const char name[] = "findings.sqlite";
  g_autofree char *path = cli_file ("jetty.csv", RECIPE);
  g_autofree char *enough = g_strdup_printf ("batch %s --grams 100 --number A", path);
  g_autofree char *much = g_strdup_printf ("batch %s --grams 1000 --number B", path);
  g_autofree char *first = g_strdup_printf ("batch %s --grams 100 --number 0", path);
  g_autoptr (JsonObject) records = ask_found (name, first, 0);
  g_autoptr (JsonObject) fine = NULL;
  g_autoptr (JsonObject) lacking = NULL;
  g_autoptr (JsonObject) old = NULL;
  g_autoptr (JsonObject) slip = NULL;
  g_autoptr (JsonObject) closed = NULL;
  g_auto (CliRun) plain = { -1, NULL, NULL };

  /* a ledger that keeps records only is short of nothing */
  g_assert_cmpuint (length_of (records, "findings"), ==, 0);
  must_run (name, "receive castor-oil --lot C1 --grams 400 --best-before 2020-01-31");
  must_run (name, "receive sunflower-oil --lot S1 --grams 500");
  fine = ask_found (name, enough, 0);
  g_assert_cmpuint (length_of (fine, "findings"), ==, 0);
  lacking = ask_found (name, much, 2);
  g_assert_nonnull (finding_of (lacking, "stock-short"));
  g_assert_cmpstr (text (finding_of (lacking, "stock-short"), "severity"), ==, "blocking");

  /* Past its day: said, and no reason to stop. */
  old = ask_found (name, "weigh A 1 --grams 60 --lot C1", 0);
  g_assert_nonnull (finding_of (old, "lot-expired"));
  /* 240 g instead of 40 g. */
  slip = ask_found (name, "weigh A 2 --grams 240 --lot S1", 2);
  g_assert_cmpstr (text (finding_of (slip, "weighed-off"), "severity"), ==, "blocking");
  plain = run (name, "batch-show A");
  cli_assert_status (&plain, 2);
  cli_assert_has (plain.out, "240 g were weighed, and 40 g were planned");
  must_run (name, "weigh A 2 --grams -240 --lot S1");
  must_run (name, "weigh A 2 --grams 41 --lot S1");
  closed = ask_found (name, "close A", 0);
  g_assert_nonnull (finding_of (closed, "lot-expired"));
  g_assert_null (finding_of (closed, "weighed-off"));
}

static void
test_set_to_and_by (void)
{
  static const char name[] = "set.sqlite";
  g_autoptr (JsonObject) set = NULL;
  g_autoptr (JsonObject) added = NULL;

  must_run (name, "receive castor-oil --lot C1 --grams 1000");
  set = ask (name, "correct castor-oil --lot C1 --set-to 990");
  g_assert_cmpfloat (cli_number (set, "left_g"), ==, 990);
  added = ask (name, "correct castor-oil --lot C1 --by 10");
  g_assert_cmpfloat (cli_number (added, "left_g"), ==, 1000);
}

/* ISO 4217: one spelling for one currency, or its sums would part. */
static void
test_currency (void)
{
  static const char name[] = "currency.sqlite";
  g_autoptr (JsonObject) lot = NULL;

  must_run (name, "receive castor-oil --lot C1 --grams 1000 --price 9 --currency eur");
  lot = ask (name, "lot C1");
  g_assert_cmpstr (text (lot, "currency"), ==, "EUR");
  assert_refused (name, "receive castor-oil --lot C2 --grams 1000 --price 9 --currency Euro", 1,
                  "ISO 4217");
  assert_refused (name, "offer castor-oil --supplier Pier --pack-g 5 --price 9 --currency €", 1,
                  "ISO 4217");
}

static void
test_abandon (void)
{
  static const char name[] = "abandon.sqlite";
  g_autofree char *path = cli_file ("given-up.csv", RECIPE);
  g_autofree char *plan = g_strdup_printf ("batch %s --number Kettle-4", path);
  g_autoptr (JsonObject) stock = NULL;

  fill (name);
  must_run (name, plan);
  must_run (name, "weigh Kettle-4 2 --grams 40 --lot S1");
  must_run (name, "abandon Kettle-4 --wasted");
  stock = ask (name, "stock --search SUNFLOWER");
  g_assert_cmpfloat (cli_number (nth (stock, "stock", 0), "left_g"), ==, 460);
}

static void
test_shopping (void)
{
  static const char name[] = "shopping.sqlite";
  g_autofree char *path = cli_file ("shop.csv", RECIPE);
  g_autofree char *words = g_strdup_printf ("shopping %s=1000 %s=1500.5", path, path);
  g_autofree char *wrong = g_strdup_printf ("shopping %s", path);
  g_autoptr (JsonObject) list = NULL;
  JsonObject *item;

  fill (name);
  must_run (name, "offer sunflower-oil --supplier Pier --pack-g 250 --price 3 --currency EUR");
  list = ask (name, words);
  g_assert_cmpuint (length_of (list, "items"), ==, 2);
  item = nth (list, "items", 0);
  g_assert_cmpfloat (cli_number (item, "needed_g"), ==, 1500.3);
  g_assert_cmpfloat (cli_number (item, "missing_g"), ==, 499.8);
  item = nth (list, "items", 1);
  /* 1000.2 g, of which 500 are there: 500.2 g are three packs of 250 g */
  g_assert_cmpfloat (cli_number (item, "missing_g"), ==, 500.2);
  g_assert_cmpint (json_object_get_int_member (item, "packs"), ==, 3);
  assert_refused (name, wrong, 1, "FILE=GRAMS");
}

static void
test_certificate (void)
{
  static const char name[] = "certificate.sqlite";
  g_autofree char *path
    = cli_file ("override.json", "{\"notes\": \"pressed on the quay\"}");
  g_autofree char *words
    = g_strdup_printf ("receive castor-oil --lot K7 --grams 5 --certificate iodine_value=84.5 "
                       "--certificate density_g_ml=0.9605@20 --override %s", path);
  g_autofree char *list = cli_file ("list.json", "[1]");
  g_autofree char *broken = cli_file ("broken.json", "{\"notes\": 9e999}");
  g_autofree char *list_words = g_strdup_printf ("receive castor-oil --lot K6 --grams 5 --override %s", list);
  g_autofree char *broken_words = g_strdup_printf ("receive castor-oil --lot K6 --grams 5 --override %s", broken);
  g_autoptr (JsonObject) lot = NULL;
  g_autoptr (JsonObject) later = NULL;
  JsonObject *material;

  must_run (name, words);
  assert_refused (name, list_words, 3, "no JSON object");
  assert_refused (name, broken_words, 3, "broken.json:1");
  lot = ask (name, "lot K7");
  g_assert_cmpuint (length_of (lot, "certificate"), ==, 2);
  material = json_object_get_object_member (lot, "material");
  g_assert_cmpstr (text (material, "derived_from"), ==, "castor-oil");
  g_assert_cmpstr (text (material, "notes"), ==, "pressed on the quay");
  g_assert_true (json_object_has_member (json_object_get_object_member (material, "figures"),
                                         "iodine_value"));
  must_run (name, "complete castor-oil K7 --certificate saponification_value=179 --best-before "
                  "2027-05-31 --price 4 --pack-g 250");
  later = ask (name, "lot K7");
  g_assert_cmpuint (length_of (later, "certificate"), ==, 3);
  g_assert_cmpstr (text (later, "best_before"), ==, "2027-05-31");
  g_assert_cmpfloat (cli_number (later, "price_per_kg"), ==, 16);
  g_assert_cmpfloat (cli_number (later, "left_g"), ==, 5);
  assert_refused (name, "complete castor-oil K7 --best-before 2027-06-30", 1, "there already");
  assert_refused (name, "complete castor-oil K7 --certificate iodine_value=80", 1, "another value");
  assert_refused (name, "complete castor-oil K9 --supplier Pier", 1, "K9");
  assert_refused (name, "complete castor-oil K7 --price 4", 1, "for how much");
  assert_refused (name, "receive castor-oil --lot K8 --grams 5 --certificate iodine_value", 1,
                  "FIGURE=VALUE");
  assert_refused (name, "receive castor-oil --lot K8 --grams 5 --certificate iodine_value=-3", 1,
                  "iodine_value");
  assert_refused (name, "receive castor-oil --lot K8 --grams 5 --certificate density_g_ml=0.96", 1,
                  "at_c");
}

static void
test_tables (void)
{
  static const char name[] = "tables.sqlite", again[] = "again.sqlite";
  g_autofree char *good
    = cli_file ("receipts.csv", "ingredient,lot,grams,price,currency,best_before,supplier\n"
                                "castor-oil,'=1+1,250.5,4,EUR,2027-01-31,Pier\n"
                                "Jojoba oil,J,10,,,,\n");
  g_autofree char *bad = cli_file ("bad.csv", "ingredient,lot,grams\ncastor-oil,A,5\n"
                                              "castor-oil,B,lots\n");
  g_autofree char *import = g_strconcat ("import ", good, NULL);
  g_autofree char *import_bad = g_strconcat ("import ", bad, NULL);
  g_autoptr (JsonObject) done = NULL;
  g_autoptr (JsonObject) lots = NULL;
  g_auto (CliRun) table = { -1, NULL, NULL };
  g_auto (CliRun) journal = { -1, NULL, NULL };

  done = ask (name, import);
  g_assert_cmpint (json_object_get_int_member (done, "receipts"), ==, 2);
  lots = ask (name, "lots castor-oil");
  g_assert_cmpstr (text (nth (lots, "lots", 0), "lot"), ==, "=1+1");
  table = run (name, "export lots");
  cli_assert_status (&table, 0);
  cli_assert_has (table.out, "castor-oil,Castor oil,'=1+1,250.5,");
  journal = run (name, "export journal");
  cli_assert_has (journal.out, "receipt,castor-oil,Castor oil,'=1+1,250.5,");
  assert_refused (again, import_bad, 3, "bad.csv:3: grams");
  assert_refused (again, "export journal --date 2026-01-01", 1, "--date");
  assert_refused (name, "export sails", 1, "sails");
}

static void
test_usage (void)
{
  static const struct { const char *words, *told; } cases[] = {
    { "sail", "receive" },
    { "receive", "one argument more" },
    { "receive castor-oil --grams 5", "--lot" },
    { "receive castor-oil --lot A", "--grams" },
    { "receive castor-oil --lot A --grams 0", "1 mg" },
    { "receive castor-oil --lot A --grams nan", "nan" },
    { "receive castor-oil --lot A --grams 1e300", "1e300" },
    { "receive moonshine --lot A --grams 5", "--name" },
    { "receive castor-oil --lot A --grams 5 --date 1.3.2026", "--date" },
    { "receive castor-oil --lot A --grams 5 --best-before soon", "best before" },
    { "receive castor-oil --lot A --grams 5 --price -1", "price" },
    { "receive castor-oil --lot A --grams 5 --until 2026-01-01", "--until" },
    { "receive castor-oil --lot \xff --grams 5", "--lot" },
    { "stock castor-oil", "too many" },
    { "journal --limit none", "--limit" },
    { "batches --state sunk", "sunk" },
    { "record 1 sail --text x", "deviation" },
    { "record 1 process --text x --started noon", "noon" },
  };
  g_auto (CliRun) none = cli_run ("ledger", NULL);
  g_auto (CliRun) help = cli_run ("help", "ledger", NULL);

  fill ("usage.sqlite");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    assert_refused ("usage.sqlite", cases[i].words, 1, cases[i].told);
  cli_assert_status (&none, 1);
  cli_assert_status (&help, 0);
  cli_assert_has (help.out, "--best-before");
}

/* A file that was named is never moved; that of the user is, and it is said. */
static void
test_damaged (void)
{
  g_autofree char *text_file = cli_file ("notes.sqlite", RECIPE);
  g_autofree char *home = g_build_filename (cli_folder (), "home", NULL);
  g_autofree char *folder = g_build_filename (home, "oleograph", NULL);
  g_autofree char *own = g_build_filename (folder, "ledger.sqlite", NULL);
  g_autofree char *variable = g_strconcat ("XDG_DATA_HOME=", home, NULL);
  const char *variables[] = { variable, NULL };
  const char *receive[] = { "ledger", "receive", "castor-oil", "--lot", "A", "--grams", "5", NULL };
  const char *stock[] = { "ledger", "stock", NULL };
  g_autofree char *after = NULL;

  assert_refused ("notes.sqlite", "receive castor-oil --lot A --grams 5", 3, "damaged");
  assert_refused ("notes.sqlite", "stock", 3, "damaged");
  assert_refused ("absent.sqlite", "stock", 3, "absent.sqlite");
  g_assert_true (g_file_get_contents (text_file, &after, NULL, NULL));
  g_assert_cmpstr (after, ==, RECIPE);

  g_assert_cmpint (g_mkdir_with_parents (folder, 0700), ==, 0);
  g_assert_true (g_file_set_contents (own, RECIPE, -1, NULL));
  {
    g_auto (CliRun) refused = cli_run_with (variables, stock);
    g_auto (CliRun) received = cli_run_with (variables, receive);
    g_auto (CliRun) listed = cli_run_with (variables, stock);

    cli_assert_status (&refused, 3);
    cli_assert_status (&received, 0);
    cli_assert_has (received.err, "ledger-damaged-");
    cli_assert_status (&listed, 0);
    cli_assert_has (listed.out, "castor-oil");
    g_assert_cmpstr (listed.err, ==, "");
  }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/cli/ledger/stock", test_stock);
  g_test_add_func ("/cli/ledger/journal", test_journal);
  g_test_add_func ("/cli/ledger/batch", test_batch);
  g_test_add_func ("/cli/ledger/batch-findings", test_batch_findings);
  g_test_add_func ("/cli/ledger/set-to-and-by", test_set_to_and_by);
  g_test_add_func ("/cli/ledger/currency", test_currency);
  g_test_add_func ("/cli/ledger/abandon", test_abandon);
  g_test_add_func ("/cli/ledger/shopping", test_shopping);
  g_test_add_func ("/cli/ledger/certificate", test_certificate);
  g_test_add_func ("/cli/ledger/tables", test_tables);
  g_test_add_func ("/cli/ledger/usage", test_usage);
  g_test_add_func ("/cli/ledger/damaged", test_damaged);

  return cli_finish ();
}
