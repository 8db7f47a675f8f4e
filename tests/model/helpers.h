/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "model/document.h"

G_BEGIN_DECLS

/** Returns: (transfer none): the catalog of the data folder, read once */
OgCatalog  *test_catalog         (void);
/** Returns: (transfer full): a document over test_catalog() */
OgDocument *test_document        (void);
/** Returns: (transfer full): the same with two phases and five lines, of 100 % and saved */
OgDocument *test_filled_document (void);

/** Returns: (transfer full): what a file of the document would hold */
char       *test_serialise       (OgDocument  *document);
/** Returns: (transfer full): an own material of this id, derived from castor oil */
OgIngredient *test_own_material  (const char  *id,
                                  const char  *name);

/** Returns: (transfer full): a rotational reading of a neat material at 25 C and 10 1/s */
OgMeasurement *test_reading      (const char  *material_id,
                                  double       mpa_s);
/** Returns: (transfer full): the same of the recipe as it stands */
OgMeasurement *test_recipe_reading (OgDocument *document,
                                  double       mpa_s);

/** Returns: id of a random line or phase, 0 if there is none */
guint       test_random_line     (GRand       *rand,
                                  OgDocument  *document);
guint       test_random_phase    (GRand       *rand,
                                  OgDocument  *document);
/**
 * Makes one edit of a random sort, which may come to nothing. Returns: whether the recipe
 * changed
 */
gboolean    test_random_edit     (GRand       *rand,
                                  OgDocument  *document);

/** Runs the main loop until @condition holds; fails the test after @seconds. */
typedef gboolean (*TestCondition) (gpointer user_data);
void        test_run_until       (TestCondition condition,
                                  gpointer      user_data,
                                  guint         seconds);
/** Gives the reference to @object up and waits until the last one is given up too: the thread that
 * loaded or saved may hold one a little longer than its answer takes. Fails the test after 20 s. */
void        test_finalize        (gpointer       object);
/** Runs the main loop for a while. */
void        test_run_for         (guint         milliseconds);
/** Runs the main loop until nothing is left to do at once. */
void        test_run_idle        (void);

/** Returns: (transfer full): a new folder; test_remove_folder() deletes it and all in it */
GFile      *test_make_folder     (void);
void        test_remove_folder   (GFile        *folder);

G_END_DECLS
