/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "cli/measure-report.h"
#include "cli/readings.h"
#include "cli/verbs.h"

#define MOST_LOT_CHARACTERS 1000

#define ANY_METHOD G_MAXUINT
#define METHOD_BIT(method) (1u << (method))

/* Texts of the command line as they came. */
typedef struct
{
  char    *method, *cup, *like;
  char   **seconds;
  char    *temperature, *density, *mpa_s, *shear_rate;
  char    *ball_diameter, *ball_density, *tube_diameter, *fall;
  char    *material, *bench_log, *lot, *date, *note;
  char    *remove, *set_aside, *use, *accept;
  gboolean dry_run, list;
} Options;

static void
options_clear (Options *options)
{
  g_free (options->method);
  g_free (options->cup);
  g_free (options->like);
  g_strfreev (options->seconds);
  g_free (options->temperature);
  g_free (options->density);
  g_free (options->mpa_s);
  g_free (options->shear_rate);
  g_free (options->ball_diameter);
  g_free (options->ball_density);
  g_free (options->tube_diameter);
  g_free (options->fall);
  g_free (options->material);
  g_free (options->bench_log);
  g_free (options->lot);
  g_free (options->date);
  g_free (options->note);
  g_free (options->remove);
  g_free (options->set_aside);
  g_free (options->use);
  g_free (options->accept);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

/* A change of a reading that is there. */
typedef struct
{
  const char  *option;
  const char  *id;
  OgKeptChange change;
} Job;

static void
set_text (char       **text,
          const char  *value)
{
  g_free (*text);
  *text = g_strdup (value != NULL ? value : "");
}

/* --- the reading ----------------------------------------------------------- */

/* An option of a reading, and the methods that it says something to. */
typedef struct
{
  const char *name;
  const char *text; /* NULL: not given */
  guint       methods;
  double     *number; /* NULL: not a number */
} Given;

/* A missing number stays NAN: the library says which one it needs. */
static gboolean
check_given (const Given  *given,
             OgMethod      method,
             GError      **error)
{
  if (given->text == NULL)
    return TRUE;
  if (!og_call_check_text (given->name, given->text, error))
    return FALSE;
  if ((given->methods & METHOD_BIT (method)) == 0)
    return og_call_refuse (error, _("%s says nothing about a reading of the method “%s”"),
                           given->name, og_method_to_nick (method));

  return given->number == NULL
         || og_call_parse_number (given->name, given->text, -G_MAXDOUBLE, G_MAXDOUBLE,
                                  given->number, error);
}

static gboolean
parse_seconds (const Options  *options,
               OgReading      *reading,
               GError        **error)
{
  g_autoptr (GArray) seconds
    = og_call_parse_numbers ("--seconds", options->seconds, -G_MAXDOUBLE, G_MAXDOUBLE, error);

  if (seconds == NULL)
    return FALSE;
  for (guint i = 0; i < MIN (seconds->len, G_N_ELEMENTS (reading->seconds)); i++)
    reading->seconds[i] = g_array_index (seconds, double, i);
  reading->n_seconds = seconds->len;

  return TRUE;
}

static const char *
cup_word (guint index)
{
  return og_cup_to_nick ((OgCup) index);
}

static gboolean
parse_cup (const Options  *options,
           OgReading      *reading,
           GError        **error)
{
  g_autofree char *known = NULL;

  if (options->cup != NULL && og_cup_from_nick (options->cup, &reading->cup))
    return TRUE;
  known = og_call_list_words (OG_N_CUPS, cup_word);
  if (options->cup == NULL)
    return og_call_refuse (error, _("--cup is needed, one of: %s"), known);

  return og_call_refuse (error, _("--cup: “%s” is none of: %s"), options->cup, known);
}

static gboolean
parse_likeness (const Options  *options,
                OgReading      *reading,
                GError        **error)
{
  g_autofree char *known = NULL;

  if (options->like != NULL && og_likeness_from_nick (options->like, &reading->likeness))
    return TRUE;
  known = og_call_list_words (OG_N_LIKENESSES, og_likeness_to_nick);
  if (options->like == NULL)
    return og_call_refuse (error, _("--like is needed, one of: %s"), known);

  return og_call_refuse (error, _("--like: “%s” is none of: %s"), options->like, known);
}

static gboolean
parse_method (const Options  *options,
              OgMethod       *method,
              GError        **error)
{
  if (options->method == NULL)
    return og_call_refuse (error, _("--method is needed: cup, ball, rotational or pours-like"));
  if (!og_call_check_text ("--method", options->method, error))
    return FALSE;
  if (!og_method_from_nick (options->method, method))
    return og_call_refuse (error, _("--method: “%s” is none of: cup, ball, rotational, pours-like"),
                           options->method);

  return TRUE;
}

static gboolean
parse_reading (const Options  *options,
               OgReading      *reading,
               GError        **error)
{
  const guint timed = METHOD_BIT (OG_METHOD_CUP) | METHOD_BIT (OG_METHOD_BALL);
  const guint ball = METHOD_BIT (OG_METHOD_BALL);
  const guint rotational = METHOD_BIT (OG_METHOD_ROTATIONAL);
  const Given given[] = {
    { "--cup", options->cup, METHOD_BIT (OG_METHOD_CUP), NULL },
    { "--like", options->like, METHOD_BIT (OG_METHOD_POURS_LIKE), NULL },
    { "--seconds", options->seconds != NULL ? options->seconds[0] : NULL, timed, NULL },
    { "--temperature", options->temperature, ANY_METHOD, &reading->temperature_c },
    { "--density", options->density, ANY_METHOD, &reading->density_g_ml },
    { "--mpa-s", options->mpa_s, rotational, &reading->mpa_s },
    { "--shear-rate", options->shear_rate, rotational, &reading->shear_rate_1_s },
    { "--ball-diameter-mm", options->ball_diameter, ball, &reading->ball_diameter_mm },
    { "--ball-density", options->ball_density, ball, &reading->ball_density_g_ml },
    { "--tube-diameter-mm", options->tube_diameter, ball, &reading->tube_diameter_mm },
    { "--fall-mm", options->fall, ball, &reading->fall_mm },
  };

  if (!parse_method (options, &reading->method, error))
    return FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (given); i++)
    {
      if (!check_given (&given[i], reading->method, error))
        return FALSE;
    }

  return parse_seconds (options, reading, error)
         && (reading->method != OG_METHOD_CUP || parse_cup (options, reading, error))
         && (reading->method != OG_METHOD_POURS_LIKE || parse_likeness (options, reading, error));
}

/* A calendar day, nothing looser. */
static gboolean
is_date (const char *text)
{
  g_autofree char *moment = g_strconcat (text, "T00:00:00Z", NULL);
  g_autoptr (GDateTime) time = NULL;

  if (strlen (text) != 10 || text[4] != '-' || text[7] != '-')
    return FALSE;
  time = g_date_time_new_from_iso8601 (moment, NULL);

  return time != NULL;
}

static gboolean
take_remarks (const Options  *options,
              OgMeasurement  *measurement,
              GError        **error)
{
  if (!og_call_check_text ("--date", options->date, error)
      || !og_call_check_text ("--lot", options->lot, error)
      || !og_call_check_text ("--note", options->note, error))
    return FALSE;
  if (options->date != NULL && !is_date (options->date))
    return og_call_refuse (error, _("--date: “%s” is not a day such as 2024-05-17"), options->date);
  if (options->lot != NULL && g_utf8_strlen (options->lot, -1) > MOST_LOT_CHARACTERS)
    return og_call_refuse (error, _("--lot: the text is longer than %d characters"),
                           MOST_LOT_CHARACTERS);

  set_text (&measurement->date, options->date);
  set_text (&measurement->lot, options->lot);
  set_text (&measurement->note, options->note);

  return TRUE;
}

/* --- where it is kept ------------------------------------------------------ */

static gboolean
wants_change (const Options *options)
{
  return options->remove != NULL || options->set_aside != NULL || options->use != NULL
         || options->accept != NULL;
}

/* A document, or without one a bench log. */
static gboolean
open_kept (OgKept         *kept,
           const OgCall   *call,
           const Options  *options,
           GError        **error)
{
  gboolean recording = !options->list && !wants_change (options);
  const char *path = call->files != NULL ? call->files[0] : NULL;

  if (path == NULL)
    {
      if (options->bench_log == NULL)
        return og_call_refuse (error, _("a recipe document is needed, or --bench-log for readings of "
                                        "neat materials"));
      if (recording && options->material == NULL)
        return og_call_refuse (error, _("--material is needed: a bench log keeps readings of neat "
                                        "materials"));
      return og_kept_read_log (kept, options->bench_log, recording, error);
    }
  if (!og_kept_read_recipe (kept, path, error))
    return FALSE;
  if (og_kept_is_table (kept) && !(recording && options->dry_run))
    {
      g_autofree char *name = g_filename_display_name (path);

      return og_call_refuse (error, _("%s is a recipe table, which cannot hold readings: save it as a "
                                      "document first, or try the reading with --dry-run"), name);
    }

  return TRUE;
}

/* Returns: (transfer full): all that is learned from: the readings of @kept first */
static GPtrArray *
collect (const OgKept    *kept,
         const GPtrArray *others)
{
  GPtrArray *all = og_readings_new ();

  og_readings_add (all, og_kept_get_measurements (kept), NULL);
  og_readings_add (all, others, NULL);

  return all;
}

/* --- recording ------------------------------------------------------------- */

static gboolean
set_target (OgMeasurement  *measurement,
            const OgKept   *kept,
            const char     *material,
            GError        **error)
{
  g_autoptr (GError) unresolved = NULL;
  const OgIngredient *ingredient;

  if (material == NULL)
    {
      const OgFormula *formula = og_document_get_formula (kept->document);

      if (og_formula_get_n_lines (formula) == 0)
        return og_call_refuse (error, _("the recipe has no lines that could have been measured"));
      og_measurement_set_recipe (measurement, formula);
      return TRUE;
    }
  if (!og_call_check_text ("--material", material, error))
    return FALSE;
  ingredient = og_catalog_resolve (kept->catalog, material, &unresolved);
  if (ingredient == NULL)
    return og_call_refuse (error, "--material: %s", unresolved->message);
  set_text (&measurement->material_id, ingredient->id);

  return TRUE;
}

/* Returns: (transfer full): what the options say, reduced */
static OgMeasurement *
measure (const Options  *options,
         const OgKept   *kept,
         GError        **error)
{
  g_autoptr (OgMeasurement) measurement = og_measurement_new ();
  g_autoptr (GPtrArray) contents = NULL;
  double density;

  if (!parse_reading (options, &measurement->reading, error)
      || !take_remarks (options, measurement, error)
      || !set_target (measurement, kept, options->material, error))
    return NULL;

  contents = og_measurement_contents (measurement, kept->catalog);
  density = og_contents_density (contents, measurement->reading.temperature_c, NULL);
  if (!og_reading_reduce (&measurement->reading, density, &measurement->reduced, error))
    return NULL;

  return g_steal_pointer (&measurement);
}

/* --- changing -------------------------------------------------------------- */

static OgExit
finish (OgCall           *call,
        OgMeasureReport  *report,
        OgKept           *kept,
        OgKeptChange      change,
        gboolean          dry_run,
        GError          **error)
{
  if (!dry_run && !og_kept_write (kept, change, report->measurement, &report->written, error))
    return OG_EXIT_FILE;

  og_measure_report_put (call, report, kept);

  return og_measure_report_is_open (report) ? OG_EXIT_FOUND : OG_EXIT_DONE;
}

static OgExit
record (OgCall           *call,
        const Options    *options,
        OgKept           *kept,
        const GPtrArray  *others,
        GError          **error)
{
  g_autoptr (GPtrArray) before = collect (kept, others);
  g_autoptr (GPtrArray) after = NULL;
  g_autoptr (OgMeasurement) measurement = measure (options, kept, error);
  g_auto (OgMeasureReport) report = { NULL };
  guint index = og_kept_get_measurements (kept)->len;

  if (measurement == NULL || !og_kept_change (kept, OG_KEPT_ADD, measurement, error))
    return OG_EXIT_USAGE;

  after = collect (kept, others);
  og_measure_report_fill (&report, g_ptr_array_index (after, index), before, after, index, FALSE,
                          kept->catalog);

  return finish (call, &report, kept, OG_KEPT_ADD, options->dry_run, error);
}

static OgExit
change (OgCall           *call,
        const Options    *options,
        OgKept           *kept,
        const GPtrArray  *others,
        const Job        *job,
        GError          **error)
{
  g_autoptr (GPtrArray) before = collect (kept, others);
  g_autoptr (GPtrArray) after = NULL;
  g_auto (OgMeasureReport) report = { NULL };
  gboolean removed = job->change == OG_KEPT_REMOVE;
  guint index = 0;
  const OgMeasurement *measurement;

  if (!og_call_check_text (job->option, job->id, error))
    return OG_EXIT_USAGE;
  measurement = og_measurements_find (og_kept_get_measurements (kept), job->id, &index);
  if (measurement == NULL)
    {
      og_call_refuse (error, _("%s: there is no reading “%s”; --list shows those that are there"),
                      job->option, job->id);
      return OG_EXIT_USAGE;
    }
  if (!og_kept_change (kept, job->change, g_ptr_array_index (before, index), error))
    return OG_EXIT_USAGE;

  after = collect (kept, others);
  og_measure_report_fill (&report, g_ptr_array_index (removed ? before : after, index), before,
                          after, index, removed, kept->catalog);

  return finish (call, &report, kept, job->change, options->dry_run, error);
}

/* --- the verb -------------------------------------------------------------- */

static gboolean
says_reading (const Options *options)
{
  const void *const parts[] = {
    options->method, options->cup, options->like, options->seconds, options->temperature,
    options->density, options->mpa_s, options->shear_rate, options->ball_diameter,
    options->ball_density, options->tube_diameter, options->fall, options->material,
    options->lot, options->date, options->note,
  };

  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      if (parts[i] != NULL)
        return TRUE;
    }

  return FALSE;
}

/* @job: (out): the change that is asked for; without an option if it is none */
static gboolean
find_job (const Options  *options,
          Job            *job,
          GError        **error)
{
  const Job jobs[] = {
    { "--remove", options->remove, OG_KEPT_REMOVE },
    { "--set-aside", options->set_aside, OG_KEPT_SET_ASIDE },
    { "--use", options->use, OG_KEPT_USE },
    { "--accept", options->accept, OG_KEPT_ACCEPT },
  };
  guint n = options->list ? 1 : 0;

  *job = (Job) { NULL };
  for (guint i = 0; i < G_N_ELEMENTS (jobs); i++)
    {
      if (jobs[i].id == NULL)
        continue;
      *job = jobs[i];
      n++;
    }
  if (n > 1)
    return og_call_refuse (error, _("only one of --list, --remove, --set-aside, --use and --accept "
                                    "at a time"));
  if (n == 1 && says_reading (options))
    return og_call_refuse (error, _("a new reading cannot be given along with --list, --remove, "
                                    "--set-aside, --use or --accept"));

  return TRUE;
}

static OgExit
run_job (OgCall         *call,
         const Options  *options,
         const Job      *job,
         GError        **error)
{
  g_auto (OgKept) kept = { NULL };
  g_autoptr (GPtrArray) others = og_readings_new ();

  if (!open_kept (&kept, call, options, error))
    return OG_EXIT_USAGE;
  if (kept.document != NULL
      && !og_readings_add_log (others, options->bench_log,
                               og_document_get_formula (kept.document)->materials, error))
    return OG_EXIT_FILE;

  if (options->list)
    {
      g_autoptr (GPtrArray) all = collect (&kept, others);

      og_measure_list_put (call, &kept, all);
      return OG_EXIT_DONE;
    }

  return job->option != NULL ? change (call, options, &kept, others, job, error)
                             : record (call, options, &kept, others, error);
}

OgExit
og_verb_measure (OgCall  *call,
                 GError **error)
{
  g_auto (Options) o = { NULL };
  const GOptionEntry entries[] = {
    { "method", 'm', 0, G_OPTION_ARG_FILENAME, &o.method,
      N_("How it was measured: cup, ball, rotational or pours-like"), N_("METHOD") },
    { "cup", 0, 0, G_OPTION_ARG_FILENAME, &o.cup,
      N_("Flow cup, such as iso-4, d1200-2 or d4212-3"), N_("CUP") },
    { "seconds", 's', 0, G_OPTION_ARG_FILENAME_ARRAY, &o.seconds,
      N_("Time of flow or fall; up to five times"), N_("S") },
    { "temperature", 't', 0, G_OPTION_ARG_FILENAME, &o.temperature,
      N_("Temperature of the liquid, -10 … 120 °C"), N_("C") },
    { "density", 'd', 0, G_OPTION_ARG_FILENAME, &o.density,
      N_("Density of the liquid, if it was measured; else the predicted one"), N_("G_ML") },
    { "ball-diameter-mm", 0, 0, G_OPTION_ARG_FILENAME, &o.ball_diameter,
      N_("Falling ball: its diameter"), N_("MM") },
    { "ball-density", 0, 0, G_OPTION_ARG_FILENAME, &o.ball_density,
      N_("Falling ball: its density"), N_("G_ML") },
    { "tube-diameter-mm", 0, 0, G_OPTION_ARG_FILENAME, &o.tube_diameter,
      N_("Falling ball: inner diameter of the tube"), N_("MM") },
    { "fall-mm", 0, 0, G_OPTION_ARG_FILENAME, &o.fall,
      N_("Falling ball: timed distance"), N_("MM") },
    { "mpa-s", 0, 0, G_OPTION_ARG_FILENAME, &o.mpa_s,
      N_("Rotational: the viscosity read"), N_("MPA_S") },
    { "shear-rate", 'g', 0, G_OPTION_ARG_FILENAME, &o.shear_rate,
      N_("Rotational: the shear rate in 1/s, if known"), N_("G") },
    { "like", 0, 0, G_OPTION_ARG_FILENAME, &o.like,
      N_("What it pours like, such as olive-oil or honey"), N_("LIQUID") },
    { "material", 0, 0, G_OPTION_ARG_FILENAME, &o.material,
      N_("The reading is of this neat material, not of the recipe"), N_("ID") },
    { "bench-log", 'b', 0, G_OPTION_ARG_FILENAME, &o.bench_log,
      N_("Readings of neat materials: written without a recipe, else learned from"), N_("LOG") },
    { "date", 0, 0, G_OPTION_ARG_FILENAME, &o.date, N_("Day of the reading"), N_("YYYY-MM-DD") },
    { "lot", 0, 0, G_OPTION_ARG_FILENAME, &o.lot, N_("Lot that was measured"), N_("LOT") },
    { "note", 0, 0, G_OPTION_ARG_FILENAME, &o.note, N_("Remark"), N_("TEXT") },
    { "dry-run", 'n', 0, G_OPTION_ARG_NONE, &o.dry_run,
      N_("Say what would come of it and write nothing"), NULL },
    { "list", 'l', 0, G_OPTION_ARG_NONE, &o.list, N_("List the readings"), NULL },
    { "remove", 0, 0, G_OPTION_ARG_FILENAME, &o.remove, N_("Take out a reading"), N_("ID") },
    { "set-aside", 0, 0, G_OPTION_ARG_FILENAME, &o.set_aside,
      N_("Keep a reading, but do not learn from it"), N_("ID") },
    { "use", 0, 0, G_OPTION_ARG_FILENAME, &o.use,
      N_("Learn again from a reading that was set aside"), N_("ID") },
    { "accept", 0, 0, G_OPTION_ARG_FILENAME, &o.accept,
      N_("Learn from a reading although it contradicts the prediction"), N_("ID") },
    G_OPTION_ENTRY_NULL
  };
  Job job;

  if (!og_call_parse (call, entries, 0, 1, error))
    return OG_EXIT_DONE;
  if (!find_job (&o, &job, error))
    return OG_EXIT_USAGE;

  return run_job (call, &o, &job, error);
}
