/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <locale.h>

#include "core/base/init.h"
#include "gtk/app/application.h"

/* A program run from the build folder finds its translations there. */
static const char *
get_locale_dir (void)
{
  g_autofree char *program = g_file_read_link ("/proc/self/exe", NULL);

  return program != NULL && g_str_has_prefix (program, OG_BUILD_ROOT "/") ? OG_BUILD_LOCALEDIR
                                                                         : LOCALEDIR;
}

int
main (int   argc,
      char *argv[])
{
  g_autoptr (OgApplication) application = NULL;

  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, get_locale_dir ());
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);

  og_core_init ();
  g_set_application_name (_("Oleograph"));
  application = og_application_new ();
  return g_application_run (G_APPLICATION (application), argc, argv);
}
