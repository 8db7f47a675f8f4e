/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/data-dir.h"

static gboolean
runs_from_build_folder (void)
{
  g_autofree char *program = g_file_read_link ("/proc/self/exe", NULL);

  return program != NULL && g_str_has_prefix (program, OG_BUILD_ROOT G_DIR_SEPARATOR_S);
}

char *
og_data_dir (void)
{
  const char *chosen = g_getenv ("OLEOGRAPH_DATA_DIR");

  if (chosen != NULL && *chosen != '\0')
    return g_strdup (chosen);

  return g_strdup (runs_from_build_folder () ? OG_SOURCE_DATADIR : OG_PKGDATADIR);
}
