/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <json-glib/json-glib.h>

#include "core/predict/evaluate.h"
#include "core/recipe/shelf.h"

G_BEGIN_DECLS

/** OgExit: exit statuses of the program. */
typedef enum
{
  OG_EXIT_DONE = 0,
  OG_EXIT_USAGE = 1,
  OG_EXIT_FOUND = 2,  /* done, but a limit or a blocking caution was found */
  OG_EXIT_FILE = 3,   /* something cannot be read or written */
  OG_EXIT_INTERNAL = 4
} OgExit;

/**
 * OgCliError:
 * @OG_CLI_ERROR_USAGE: an option or an argument is missing, unknown or out of range
 * @OG_CLI_ERROR_OUTPUT: standard output does not take the data
 */
typedef enum
{
  OG_CLI_ERROR_USAGE,
  OG_CLI_ERROR_OUTPUT
} OgCliError;

#define OG_CLI_ERROR (og_cli_error_quark ())
/** The domain of errors of the command line. */
GQuark og_cli_error_quark (void);

typedef struct _OgVerb OgVerb;

/** OgCall: one call of a verb. */
typedef struct
{
  const OgVerb *verb;
  char        **arguments; /* NULL-terminated, the verb first; options are removed by og_call_parse() */
  GString      *out;       /* data for standard output */
  gboolean      json;      /* --json was given */
  char        **files;     /* (nullable): what is left besides options */
  char         *version;   /* (nullable): the one that --version named */
} OgCall;

/**
 * OgVerb:
 *
 * One job of the program. @run returns the exit status; with an error set, og_exit_from_error() decides instead.
 */
struct _OgVerb
{
  const char *name;
  const char *parameters; /* untranslated: "FILE --for ID" */
  const char *summary;    /* marked for translation */
  OgExit (*run) (OgCall *call, GError **error);
  gboolean    of_version;  /* takes --version, see og_call_read_recipe() */
};

/** OgRecipe: a recipe with everything that is needed to evaluate it. */
typedef struct
{
  OgFormula *formula;
  OgCatalog *catalog; /* library and own materials of the recipe */
} OgRecipe;

/** Returns: the exit status that tells @error */
OgExit     og_exit_from_error   (const GError         *error);

/** Frees what @call holds. */
void       og_call_clear        (OgCall               *call);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (OgCall, og_call_clear)

/**
 * og_call_parse:
 * @entries: options of the verb; --json and --help are added
 * @least: fewest, @most: greatest number of arguments besides options
 *
 * Options may stand before and after other arguments. Texts are asked for as G_OPTION_ARG_FILENAME, which takes UTF-8 in
 * every locale; they are checked with og_call_check_text().
 *
 * Returns: %FALSE with an error, or without one after help was written
 */
gboolean   og_call_parse        (OgCall               *call,
                                 const GOptionEntry   *entries,
                                 guint                 least,
                                 guint                 most,
                                 GError              **error);
/** Sets %OG_CLI_ERROR_USAGE with the text. Returns: %FALSE, so that it can be returned at once */
gboolean   og_call_refuse       (GError              **error,
                                 const char           *format,
                                 ...) G_GNUC_PRINTF (2, 3);
/** Returns: (transfer full): what @word says of 0 ... @n - 1, as errors list what they know: "eu, us" */
char      *og_call_list_words   (guint                 n,
                                 const char         *(*word) (guint index));
/** Refuses option values that are not UTF-8. @text: (nullable) */
gboolean   og_call_check_text   (const char           *option,
                                 const char           *text,
                                 GError              **error);
/** Reads a number as a person writes it, with a point for decimals: og_amount_read(). */
gboolean   og_call_read_number  (const char           *option,
                                 const char           *text,
                                 double               *number,
                                 GError              **error);
/**
 * og_call_parse_numbers:
 * @texts: (nullable): values given for @option
 *
 * Returns: (transfer full) (element-type double): the numbers, each within @low ... @high; %NULL with %OG_CLI_ERROR_USAGE
 */
GArray    *og_call_parse_numbers (const char          *option,
                                  char               **texts,
                                  double               low,
                                  double               high,
                                  GError             **error);
/**
 * og_call_parse_number:
 * @text: (nullable): the one value given for @option; %NULL leaves @number alone
 *
 * Returns: %FALSE with %OG_CLI_ERROR_USAGE unless it is a number within @low ... @high
 */
gboolean   og_call_parse_number (const char           *option,
                                 const char           *text,
                                 double                low,
                                 double                high,
                                 double               *number,
                                 GError              **error);

/** Returns: (transfer full): the library */
OgCatalog *og_call_load_catalog (GError              **error);
/**
 * og_call_open_shelf:
 * @ledger_path: (nullable): a ledger, which must be there; %NULL for that of the user, if any
 * @shelf: (out) (nullable): what it has in stock; %NULL if the user has no ledger
 *
 * Only reads. Returns: %FALSE with an #OgLedgerError
 */
gboolean   og_call_open_shelf   (const char           *ledger_path,
                                 OgShelf             **shelf,
                                 GError              **error);
/** Frees what @recipe holds. */
void       og_recipe_clear      (OgRecipe             *recipe);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (OgRecipe, og_recipe_clear)
/** Reads a document or recipe table with the library below its own materials. */
gboolean   og_recipe_read       (OgRecipe             *recipe,
                                 const char           *path,
                                 GError              **error);

/**
 * og_recipe_go_back:
 * @path: file of the recipe, for messages
 * @version: (nullable): %NULL leaves the recipe as it stands
 *
 * Makes @recipe what it was as that version. Returns: %FALSE with %OG_CLI_ERROR_USAGE if it has none of
 * that name; the message lists those it has
 */
gboolean   og_recipe_go_back    (OgRecipe             *recipe,
                                 const char           *path,
                                 const char           *version,
                                 GError              **error);
/** The same look-up alone. */
gboolean   og_recipe_has_version (const OgRecipe      *recipe,
                                 const char           *path,
                                 const char           *version,
                                 GError              **error);
/** Reads the recipe of @path, in the version that was asked for. */
gboolean   og_call_read_recipe  (const OgCall         *call,
                                 OgRecipe             *recipe,
                                 const char           *path,
                                 GError              **error);

/** Returns: (transfer full): a builder with an open object */
JsonBuilder *og_call_begin_json (void);
/** Closes the object of og_call_begin_json() and puts it out as og_call_put_json() does. */
void       og_call_end_json     (OgCall               *call,
                                 JsonBuilder          *builder);
/** Appends @root to the output, indented, with a trailing newline. */
void       og_call_put_json     (OgCall               *call,
                                 JsonNode             *root);
/** Adds a member that is null for a number that is not known. */
void       og_json_add_number   (JsonBuilder          *builder,
                                 const char           *name,
                                 double                value);
/** Adds a member that is null for %NULL. */
void       og_json_add_string   (JsonBuilder          *builder,
                                 const char           *name,
                                 const char           *text);
/** Adds an array of texts; empty for %NULL. */
void       og_json_add_strings  (JsonBuilder          *builder,
                                 const char           *name,
                                 const char *const    *texts);
/** Adds a member that is a whole number. */
void       og_json_add_whole    (JsonBuilder          *builder,
                                 const char           *name,
                                 gint64                value);
/** Opens a member that is an array; json_builder_end_array() closes it. */
void       og_json_begin_array  (JsonBuilder          *builder,
                                 const char           *name);
/** Opens a member that is an object; json_builder_end_object() closes it. */
void       og_json_begin_object (JsonBuilder          *builder,
                                 const char           *name);
/** Adds a member that is an object of "value", "low80" and "high80". */
void       og_json_add_estimate_member (JsonBuilder      *builder,
                                 const char           *name,
                                 const OgEstimate     *estimate);
/** Adds a member that is true or false. */
void       og_json_add_boolean  (JsonBuilder          *builder,
                                 const char           *name,
                                 gboolean              value);

G_END_DECLS
