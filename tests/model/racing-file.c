/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "racing-file.h"

static void racing_file_iface_init (GFileIface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (RacingFile, racing_file, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (G_TYPE_FILE, racing_file_iface_init))

static void
racing_file_finalize (GObject *object)
{
  g_object_unref (RACING_FILE (object)->file);

  G_OBJECT_CLASS (racing_file_parent_class)->finalize (object);
}

static void
racing_file_class_init (RacingFileClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = racing_file_finalize;
}

static void
racing_file_init (RacingFile *self)
{
}

static GFile *
racing_file_dup (GFile *file)
{
  const RacingFile *self = RACING_FILE (file);

  return G_FILE (racing_file_new (self->file, self->race, self->user_data));
}

static char *
racing_file_get_basename (GFile *file)
{
  return g_file_get_basename (RACING_FILE (file)->file);
}

static char *
racing_file_get_path (GFile *file)
{
  return NULL;
}

static GFile *
racing_file_get_parent (GFile *file)
{
  return NULL;
}

static GFileInfo *
racing_file_query_info (GFile                *file,
                        const char           *attributes,
                        GFileQueryInfoFlags   flags,
                        GCancellable         *cancellable,
                        GError              **error)
{
  RacingFile *self = RACING_FILE (file);

  if (self->nth_look > 0 && --self->nth_look == 0)
    self->race (self, self->user_data);

  return g_file_query_info (self->file, attributes, flags, cancellable, error);
}

static GFileInputStream *
racing_file_read (GFile         *file,
                  GCancellable  *cancellable,
                  GError       **error)
{
  return g_file_read (RACING_FILE (file)->file, cancellable, error);
}

static GFileOutputStream *
racing_file_replace (GFile             *file,
                     const char        *etag,
                     gboolean           make_backup,
                     GFileCreateFlags   flags,
                     GCancellable      *cancellable,
                     GError           **error)
{
  RacingFile *self = RACING_FILE (file);

  if (self->n_races > 0)
    {
      self->n_races--;
      self->race (self, self->user_data);
    }

  return g_file_replace (self->file, etag, make_backup, flags, cancellable, error);
}

static GFileMonitor *
racing_file_monitor (GFile              *file,
                     GFileMonitorFlags   flags,
                     GCancellable       *cancellable,
                     GError            **error)
{
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_NOT_SUPPORTED, "No monitor");

  return NULL;
}

static void
racing_file_iface_init (GFileIface *iface)
{
  iface->dup = racing_file_dup;
  iface->get_basename = racing_file_get_basename;
  iface->get_path = racing_file_get_path;
  iface->get_parent = racing_file_get_parent;
  iface->query_info = racing_file_query_info;
  iface->read_fn = racing_file_read;
  iface->replace = racing_file_replace;
  iface->monitor_dir = racing_file_monitor;
  iface->monitor_file = racing_file_monitor;
}

RacingFile *
racing_file_new (GFile      *file,
                 RacingFunc  race,
                 gpointer    user_data)
{
  RacingFile *self = g_object_new (RACING_TYPE_FILE, NULL);

  self->file = g_object_ref (file);
  self->race = race;
  self->user_data = user_data;

  return self;
}
