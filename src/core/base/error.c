/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/error.h"

G_DEFINE_QUARK (og-catalog-error-quark, og_catalog_error)
G_DEFINE_QUARK (og-profile-error-quark, og_profile_error)
G_DEFINE_QUARK (og-table-error-quark, og_table_error)
G_DEFINE_QUARK (og-storage-error-quark, og_storage_error)
G_DEFINE_QUARK (og-recipe-error-quark, og_recipe_error)
G_DEFINE_QUARK (og-solve-error-quark, og_solve_error)
G_DEFINE_QUARK (og-batch-error-quark, og_batch_error)
