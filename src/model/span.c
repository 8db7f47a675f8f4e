/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/span.h"

static guint
common_head (const GPtrArray *a,
             const GPtrArray *b)
{
  const guint most = MIN (a->len, b->len);
  guint n = 0;

  while (n < most && a->pdata[n] == b->pdata[n])
    n++;

  return n;
}

static guint
common_tail (const GPtrArray *a,
             const GPtrArray *b,
             guint            head)
{
  const guint most = MIN (a->len, b->len) - head;
  guint n = 0;

  while (n < most && a->pdata[a->len - 1 - n] == b->pdata[b->len - 1 - n])
    n++;

  return n;
}

void
og_span_announce (GListModel      *model,
                  const GPtrArray *before,
                  const GPtrArray *after)
{
  const guint head = common_head (before, after);
  const guint tail = common_tail (before, after, head);
  const guint removed = before->len - head - tail;
  const guint added = after->len - head - tail;

  if (removed > 0 || added > 0)
    g_list_model_items_changed (model, head, removed, added);
}
