/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/**
 * RacingFile:
 *
 * Stands for another file, as one that is not local: without a path, a folder or locks, and watched
 * by polling only.
 * The next @n_races times it is about to be replaced, and at the @nth_look from now on, @race comes
 * first.
 */
#define RACING_TYPE_FILE (racing_file_get_type ())
G_DECLARE_FINAL_TYPE (RacingFile, racing_file, RACING, FILE, GObject)

typedef void (*RacingFunc) (RacingFile *self, gpointer user_data);

struct _RacingFile
{
  GObject    parent_instance;

  GFile     *file;
  RacingFunc race;
  gpointer   user_data;
  guint      n_races;
  guint      nth_look; /* 0: never */
};

/** Returns: (transfer full) */
RacingFile *racing_file_new (GFile      *file,
                             RacingFunc  race,
                             gpointer    user_data);

G_END_DECLS
