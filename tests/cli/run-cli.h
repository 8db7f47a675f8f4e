/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <json-glib/json-glib.h>

G_BEGIN_DECLS

/** CliRun: what one run of the command line left behind. */
typedef struct
{
  int   status; /* exit status; -1 if a signal ended the program */
  char *out;
  char *err;
} CliRun;

void        cli_run_clear  (CliRun            *run);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (CliRun, cli_run_clear)

/** Runs the program of $OLEOGRAPH_CLI with the arguments that follow, up to %NULL, in the C.UTF-8 locale. */
CliRun      cli_run        (const char        *first,
                            ...) G_GNUC_NULL_TERMINATED;
/** @variables: NAME=VALUE, %NULL-terminated: on top of the environment of the test */
CliRun      cli_run_with   (const char *const *variables,
                            const char *const *arguments);

#define cli_assert_status(run, expected) \
  G_STMT_START { \
    if ((run)->status != (expected)) \
      g_error ("%s:%d: status %d instead of %d\n%s", __FILE__, __LINE__, (run)->status, (expected), (run)->err); \
  } G_STMT_END

/** Fails the test unless @text holds @part. */
void        cli_assert_has (const char        *text,
                            const char        *part);

/** Returns: (transfer full): the object that the output of a --json run is */
JsonObject *cli_json       (const CliRun      *run);
/** Fails the test if @object has no member @name or one that is null. */
double      cli_number     (JsonObject        *object,
                            const char        *name);
/** Returns: width of the 80 % band of an estimate, in the logarithm */
double      cli_band_width (JsonObject        *estimate);

/** Folder for files of this test, removed at the end by cli_finish(). */
const char *cli_folder     (void);
/** Writes @text to @name in the folder. Returns: (transfer full): its path */
char       *cli_file       (const char        *name,
                            const char        *text);
/** Returns: (transfer full) (nullable): NAME=VALUE of a folder with the locale de_DE.UTF-8, which writes decimal commas */
char       *cli_comma_locale (void);
int         cli_finish     (void);

G_END_DECLS
