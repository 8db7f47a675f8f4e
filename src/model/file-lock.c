/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/file-lock.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <sys/file.h>
#include <unistd.h>

#define STEP_MS 10

int
_og_lock_try (const char *path,
              int         flags)
{
  const int fd = g_open (path, flags | O_CLOEXEC, 0600);
  int code;

  if (fd < 0 || flock (fd, LOCK_EX | LOCK_NB) == 0)
    return fd;

  code = errno;
  close (fd);
  errno = code;

  return -1;
}

int
_og_lock_wait (const char *path,
               int         flags,
               guint       wait_ms)
{
  for (guint waited_ms = 0;; waited_ms += STEP_MS)
    {
      const int fd = _og_lock_try (path, flags);

      if (fd >= 0 || errno != EWOULDBLOCK || waited_ms >= wait_ms)
        return fd;
      g_usleep (STEP_MS * 1000);
    }
}
