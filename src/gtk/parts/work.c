/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/parts/work.h"

#include <math.h>

#define STEPS 1000

struct _OgWork
{
  gatomicrefcount ref_count;
  const OgWorkKind *kind;
  gpointer request;
  gpointer answer;
  GError *error;
  OgWorkDone done;
  gpointer user_data;
  gboolean over;
  gboolean dropped;
  int stop;     /* atomic */
  int progress; /* atomic: of STEPS */
};

static OgWork *
work_ref (OgWork *work)
{
  g_atomic_ref_count_inc (&work->ref_count);
  return work;
}

static void
work_unref (gpointer data)
{
  OgWork *work = data;

  if (!g_atomic_ref_count_dec (&work->ref_count))
    return;
  if (work->answer != NULL)
    work->kind->free_answer (work->answer);
  work->kind->free_request (work->request);
  g_clear_error (&work->error);
  g_free (work);
}

static void
run (GTask        *task,
     gpointer      source,
     gpointer      data,
     GCancellable *cancellable)
{
  OgWork *work = data;

  work->answer = work->kind->compute (work->request, work, &work->error);
  g_task_return_boolean (task, work->answer != NULL);
}

static void
on_over (GObject      *source,
         GAsyncResult *result,
         gpointer      data)
{
  OgWork *work = data;

  work->over = TRUE;
  if (!work->dropped)
    work->done (g_steal_pointer (&work->answer), work->error, work->user_data);
  work_unref (work);
}

OgWork *
og_work_start (const OgWorkKind *kind,
               gpointer          request,
               OgWorkDone        done,
               gpointer          user_data)
{
  OgWork *work = g_new0 (OgWork, 1);
  g_autoptr(GTask) task = NULL;

  g_atomic_ref_count_init (&work->ref_count);
  work->kind = kind;
  work->request = request;
  work->done = done;
  work->user_data = user_data;
  /* the thread borrows it: what ends in the main loop holds it until then */
  task = g_task_new (NULL, NULL, on_over, work_ref (work));
  g_task_set_task_data (task, work, NULL);
  g_task_run_in_thread (task, run);
  return work;
}

void
og_work_stop (OgWork *work)
{
  g_return_if_fail (work != NULL);

  g_atomic_int_set (&work->stop, TRUE);
}

void
og_work_drop (OgWork *work)
{
  g_return_if_fail (work != NULL);

  og_work_stop (work);
  work->dropped = TRUE;
  work_unref (work);
}

void
og_work_wait (OgWork *work)
{
  g_return_if_fail (work != NULL);

  work_ref (work);
  while (!work->over)
    g_main_context_iteration (NULL, TRUE);
  work_unref (work);
}

gboolean
og_work_report (OgWork *work,
                double  done)
{
  if (isfinite (done))
    g_atomic_int_set (&work->progress, (int) (CLAMP (done, 0.0, 1.0) * STEPS));
  return !g_atomic_int_get (&work->stop);
}

gboolean
og_work_on_progress (double   done,
                     gpointer work)
{
  return og_work_report (work, done);
}

double
og_work_get_progress (OgWork *work)
{
  g_return_val_if_fail (work != NULL, 0.0);

  return (double) g_atomic_int_get (&work->progress) / STEPS;
}

/* Objects of json-glib count their users without locks. */
static void
replace_object (JsonObject **object)
{
  g_autoptr(JsonNode) node = NULL;
  g_autoptr(JsonNode) copy = NULL;
  g_autofree char *text = NULL;

  if (*object == NULL)
    return;
  node = json_node_alloc ();
  json_node_init_object (node, *object);
  text = json_to_string (node, FALSE);
  copy = json_from_string (text, NULL);
  json_object_unref (*object);
  *object = json_node_dup_object (copy);
}

static void
replace_line_object (OgFormulaPhase *phase,
                     OgFormulaLine  *line,
                     gpointer        user_data)
{
  replace_object (&line->extra);
}

OgFormula *
og_work_copy_formula (const OgFormula *formula)
{
  OgFormula *copy = og_formula_copy (formula);

  g_ptr_array_set_size (copy->versions, 0);
  replace_object (&copy->extra);
  for (guint i = 0; i < copy->phases->len; i++)
    replace_object (&((OgFormulaPhase *) g_ptr_array_index (copy->phases, i))->extra);
  og_formula_foreach_line (copy, replace_line_object, NULL);
  return copy;
}
