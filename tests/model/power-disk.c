/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "power-disk.h"

#include <sqlite3.h>
#include <string.h>

#define BLOCK 512

/* One file: as programs see it, as it is on the disk, and which blocks differ. */
typedef struct
{
  GByteArray *now;
  GByteArray *safe;
  gboolean    named;
  GPtrArray  *shared; /* of void*: memory that connections share */
} Medium;

typedef struct
{
  sqlite3_file base;
  Medium      *medium;
} Handle;

static struct
{
  sqlite3_vfs *below;
  GHashTable  *media; /* name -> Medium */
  gboolean     limited;
  guint        n_left;
  gboolean     dead;
} disk;

static void
medium_free (gpointer data)
{
  Medium *medium = data;

  g_byte_array_unref (medium->now);
  g_byte_array_unref (medium->safe);
  g_ptr_array_unref (medium->shared);
  g_free (medium);
}

static Medium *
medium_new (gboolean named)
{
  Medium *medium = g_new0 (Medium, 1);

  medium->now = g_byte_array_new ();
  medium->safe = g_byte_array_new ();
  medium->shared = g_ptr_array_new_with_free_func (g_free);
  medium->named = named;

  return medium;
}

/* Bytes that were never written read as 0. */
static void
grow (GByteArray *bytes,
      gsize       length)
{
  const gsize before = bytes->len;

  if (length <= before)
    return;
  g_byte_array_set_size (bytes, (guint) length);
  memset (bytes->data + before, 0, length - before);
}

static void
copy_bytes (GByteArray       *to,
            const GByteArray *from)
{
  g_byte_array_set_size (to, from->len);
  if (from->len > 0)
    memcpy (to->data, from->data, from->len);
}

static Medium *
medium_of (sqlite3_file *file)
{
  return ((Handle *) file)->medium;
}

/* --- files ------------------------------------------------------------------- */

static int
on_close (sqlite3_file *file)
{
  Medium *medium = medium_of (file);

  if (!medium->named)
    medium_free (medium);

  return SQLITE_OK;
}

static int
on_read (sqlite3_file  *file,
         void          *bytes,
         int            length,
         sqlite3_int64  offset)
{
  const GByteArray *now = medium_of (file)->now;
  const gsize there = now->len > (gsize) offset ? MIN (now->len - (gsize) offset, (gsize) length)
                                                : 0;

  if (disk.dead)
    return SQLITE_IOERR_READ;
  memset (bytes, 0, (gsize) length);
  if (there > 0)
    memcpy (bytes, now->data + offset, there);

  return there == (gsize) length ? SQLITE_OK : SQLITE_IOERR_SHORT_READ;
}

static gboolean
spend (void)
{
  if (!disk.dead && disk.limited && disk.n_left-- == 0)
    disk.dead = TRUE;

  return !disk.dead;
}

static int
on_write (sqlite3_file  *file,
          const void    *bytes,
          int            length,
          sqlite3_int64  offset)
{
  Medium *medium = medium_of (file);

  if (medium->named && !spend ())
    return SQLITE_IOERR_WRITE;
  grow (medium->now, (gsize) (offset + length));
  memcpy (medium->now->data + offset, bytes, (gsize) length);

  return SQLITE_OK;
}

static int
on_truncate (sqlite3_file  *file,
             sqlite3_int64  length)
{
  Medium *medium = medium_of (file);

  if (medium->named && !spend ())
    return SQLITE_IOERR_TRUNCATE;
  grow (medium->now, (gsize) length);
  g_byte_array_set_size (medium->now, (guint) length);

  return SQLITE_OK;
}

static int
on_sync (sqlite3_file *file,
         int           flags)
{
  Medium *medium = medium_of (file);

  if (disk.dead)
    return SQLITE_IOERR_FSYNC;
  copy_bytes (medium->safe, medium->now);

  return SQLITE_OK;
}

static int
on_file_size (sqlite3_file  *file,
              sqlite3_int64 *length)
{
  *length = medium_of (file)->now->len;

  return disk.dead ? SQLITE_IOERR_FSTAT : SQLITE_OK;
}

static int
on_lock (sqlite3_file *file,
         int           level)
{
  return SQLITE_OK;
}

static int
on_check_reserved (sqlite3_file *file,
                   int          *reserved)
{
  *reserved = 0;

  return SQLITE_OK;
}

static int
on_control (sqlite3_file *file,
            int           operation,
            void         *argument)
{
  return SQLITE_NOTFOUND;
}

static int
on_sector_size (sqlite3_file *file)
{
  return BLOCK;
}

static int
on_characteristics (sqlite3_file *file)
{
  return 0;
}

static int
on_shm_map (sqlite3_file   *file,
            int             region,
            int             size,
            int             extend,
            void volatile **memory)
{
  GPtrArray *shared = medium_of (file)->shared;

  while (extend && shared->len <= (guint) region)
    g_ptr_array_add (shared, g_malloc0 ((gsize) size));
  *memory = shared->len > (guint) region ? g_ptr_array_index (shared, region) : NULL;

  return SQLITE_OK;
}

static int
on_shm_lock (sqlite3_file *file,
             int           offset,
             int           n,
             int           flags)
{
  return SQLITE_OK;
}

static void
on_shm_barrier (sqlite3_file *file)
{
}

static int
on_shm_unmap (sqlite3_file *file,
              int           forget)
{
  g_ptr_array_set_size (medium_of (file)->shared, 0);

  return SQLITE_OK;
}

static const sqlite3_io_methods methods = {
  .iVersion = 2,
  .xClose = on_close,
  .xRead = on_read,
  .xWrite = on_write,
  .xTruncate = on_truncate,
  .xSync = on_sync,
  .xFileSize = on_file_size,
  .xLock = on_lock,
  .xUnlock = on_lock,
  .xCheckReservedLock = on_check_reserved,
  .xFileControl = on_control,
  .xSectorSize = on_sector_size,
  .xDeviceCharacteristics = on_characteristics,
  .xShmMap = on_shm_map,
  .xShmLock = on_shm_lock,
  .xShmBarrier = on_shm_barrier,
  .xShmUnmap = on_shm_unmap,
};

/* --- the disk ------------------------------------------------------------------ */

static int
on_open (sqlite3_vfs  *vfs,
         const char   *name,
         sqlite3_file *file,
         int           flags,
         int          *got)
{
  Handle *handle = (Handle *) file;

  handle->base.pMethods = NULL;
  if (disk.dead)
    return SQLITE_CANTOPEN;
  handle->medium = name != NULL ? g_hash_table_lookup (disk.media, name) : NULL;
  if (handle->medium == NULL && name != NULL && (flags & SQLITE_OPEN_CREATE) == 0)
    return SQLITE_CANTOPEN;
  if (handle->medium == NULL)
    {
      handle->medium = medium_new (name != NULL);
      if (name != NULL)
        g_hash_table_insert (disk.media, g_strdup (name), handle->medium);
    }
  handle->base.pMethods = &methods;
  if (got != NULL)
    *got = flags;

  return SQLITE_OK;
}

static int
on_delete (sqlite3_vfs *vfs,
           const char  *name,
           int          sync_folder)
{
  if (disk.dead)
    return SQLITE_IOERR_DELETE;

  return g_hash_table_remove (disk.media, name) ? SQLITE_OK : SQLITE_IOERR_DELETE_NOENT;
}

static int
on_access (sqlite3_vfs *vfs,
           const char  *name,
           int          flags,
           int         *result)
{
  const Medium *medium = g_hash_table_lookup (disk.media, name);

  *result = medium != NULL && (flags != SQLITE_ACCESS_EXISTS || medium->now->len > 0);

  return SQLITE_OK;
}

static int
on_full_name (sqlite3_vfs *vfs,
              const char  *name,
              int          size,
              char        *out)
{
  g_strlcpy (out, name, (gsize) size);

  return SQLITE_OK;
}

void
power_disk_install (void)
{
  static sqlite3_vfs vfs;

  disk.below = sqlite3_vfs_find (NULL);
  disk.media = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, medium_free);
  vfs = *disk.below;
  vfs.iVersion = 1;
  vfs.szOsFile = sizeof (Handle);
  vfs.zName = "power";
  vfs.pNext = NULL;
  vfs.xOpen = on_open;
  vfs.xDelete = on_delete;
  vfs.xAccess = on_access;
  vfs.xFullPathname = on_full_name;
  g_assert_cmpint (sqlite3_vfs_register (&vfs, 1), ==, SQLITE_OK);
}

void
power_disk_clear (void)
{
  g_hash_table_remove_all (disk.media);
  disk.limited = FALSE;
  disk.dead = FALSE;
}

void
power_disk_cut_after (guint n_writes)
{
  disk.limited = TRUE;
  disk.n_left = n_writes;
}

gboolean
power_disk_is_dead (void)
{
  return disk.dead;
}

/* Each block that differs is found in its old or its new form. */
static void
settle (Medium *medium,
        GRand  *rand)
{
  const gsize longer = MAX (medium->now->len, medium->safe->len);
  const gboolean grown = g_rand_boolean (rand);
  const gsize length = grown ? medium->now->len : medium->safe->len;

  grow (medium->now, longer);
  grow (medium->safe, longer);
  for (gsize at = 0; at < longer; at += BLOCK)
    {
      if (g_rand_boolean (rand))
        memcpy (medium->safe->data + at, medium->now->data + at, MIN (BLOCK, longer - at));
    }
  g_byte_array_set_size (medium->safe, (guint) length);
  copy_bytes (medium->now, medium->safe);
  g_ptr_array_set_size (medium->shared, 0);
}

void
power_disk_restore (GRand *rand)
{
  g_autoptr (GList) names = g_list_sort (g_hash_table_get_keys (disk.media),
                                         (GCompareFunc) strcmp);

  for (GList *l = names; l != NULL; l = l->next)
    settle (g_hash_table_lookup (disk.media, l->data), rand);
  disk.limited = FALSE;
  disk.dead = FALSE;
}
