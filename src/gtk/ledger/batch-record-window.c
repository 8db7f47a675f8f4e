/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "core/make/batch.h"
#include "core/recipe/storage.h"
#include "draw/batch-sheet.h"
#include "draw/export.h"
#include "gtk/ledger/batch-notes-page.h"
#include "gtk/ledger/batch-record-window.h"
#include "gtk/ledger/batch-steps-page.h"
#include "gtk/ledger/batch-weigh-page.h"
#include "gtk/ledger/ledger-words.h"
#include "gtk/ledger/release-dialog.h"
#include "gtk/parts/compat.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/pieces.h"
#include "gtk/parts/sheet-file.h"
#include "gtk/parts/text-undo.h"
#include "gtk/parts/toast.h"

#define WIDTH 1060
#define HEIGHT 700
#define WHO_CHARS 14

struct _OgBatchRecordWindow
{
  GtkWindow parent_instance;

  GtkWidget *title_label;
  GtkWidget *subtitle_label;
  GtkWidget *close_button;
  GtkWidget *stack;
  GtkWidget *state_label;
  GtkWidget *who_entry;
  GtkWidget *toast;

  OgLedger *ledger;
  char *number;
  OgFormula *formula;  /* as it was when the batch was planned */
  OgResult *result;
  OgStovePlan *stove;
  OgBatchPlan *plan;
  OgBatch *batch;      /* as the ledger has it */
  guint idle;
  OgCloseFlags flags;  /* consented to while a question is open */
  gboolean wasted;     /* of a batch that is being given up */
};

G_DEFINE_FINAL_TYPE (OgBatchRecordWindow, og_batch_record_window, GTK_TYPE_WINDOW)

static void
say (OgBatchRecordWindow *self,
     const char          *text)
{
  og_toast_show (OG_TOAST (self->toast), text, NULL, NULL);
}

/* Head */

static char *
state_text (const OgBatch *batch)
{
  g_autofree char *planned = og_ledger_mg_to_text (batch->planned_mg);
  g_autofree char *weighed = og_ledger_mg_to_text (batch->weighed_mg);
  g_autofree char *state = NULL;

  if (batch->released_by != NULL)
    /* Translators: who signed, then the day */
    state = g_strdup_printf (_("released by %s on %s"), batch->released_by, batch->released_on);
  else
    state = g_strdup (og_batch_state_get_name (batch->state));
  /* Translators: state of a batch; what it is to weigh; what was weighed so far; the day */
  return g_strdup_printf (_("%s · %s to be made, %s weighed · %s"), state, planned, weighed,
                          batch->day);
}

/* Among words that run from right to left, the parts of a number would change places. */
static char *
isolated_number (OgBatchRecordWindow *self)
{
  return gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL
           ? g_strdup_printf ("\u2068%s\u2069", self->number) : g_strdup (self->number);
}

static void
show_head (OgBatchRecordWindow *self)
{
  const OgBatch *batch = self->batch;
  GtkWidget *widget = GTK_WIDGET (self);
  g_autofree char *state = state_text (batch);
  g_autofree char *number = isolated_number (self);
  /* Translators: %s is the number of a batch */
  g_autofree char *title = g_strdup_printf (_("Batch %s"), number);
  g_autofree char *window_title = g_strdup_printf ("%s · %s", title, batch->title);
  const gboolean writable = !og_ledger_is_read_only (self->ledger);
  const gboolean open = batch->state <= OG_BATCH_RUNNING && writable;

  gtk_label_set_label (GTK_LABEL (self->title_label), title);
  gtk_label_set_label (GTK_LABEL (self->subtitle_label), batch->title);
  gtk_label_set_label (GTK_LABEL (self->state_label), state);
  gtk_window_set_title (GTK_WINDOW (self), window_title);
  gtk_widget_action_set_enabled (widget, "record.close-batch", open);
  gtk_widget_action_set_enabled (widget, "record.abandon", open);
  gtk_widget_action_set_enabled (widget, "record.release",
                                 batch->state == OG_BATCH_CLOSED && batch->released_by == NULL
                                   && writable);
  gtk_widget_set_sensitive (self->who_entry, open);
  gtk_widget_set_visible (self->close_button, open);
}

static void
update (OgBatchRecordWindow *self)
{
  g_autoptr (GError) error = NULL;
  OgBatch *batch = og_ledger_get_batch (self->ledger, self->number, &error);

  if (batch == NULL)
    {
      say (self, error->message);
      return;
    }
  og_batch_free (self->batch);
  self->batch = batch;
  show_head (self);
}

static gboolean
on_idle (gpointer data)
{
  OgBatchRecordWindow *self = data;

  self->idle = 0;
  update (self);
  return G_SOURCE_REMOVE;
}

static void
schedule (OgBatchRecordWindow *self)
{
  if (self->idle == 0)
    self->idle = g_idle_add (on_idle, self);
}

static void
on_who (OgBatchRecordWindow *self)
{
  g_autofree char *who =
    g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->who_entry))));

  og_ledger_set_who (self->ledger, *who != '\0' ? who : NULL);
}

void
og_batch_record_window_set_who (OgBatchRecordWindow *self,
                                const char          *who)
{
  g_return_if_fail (OG_IS_BATCH_RECORD_WINDOW (self));

  og_editable_show (GTK_EDITABLE (self->who_entry), who);
}

/* Closing */

gboolean
og_batch_record_window_close_batch (OgBatchRecordWindow *self,
                                    OgCloseFlags         flags,
                                    GError             **error)
{
  const OgLedgerNote note = { .who = og_ledger_get_who (self->ledger) };

  g_return_val_if_fail (OG_IS_BATCH_RECORD_WINDOW (self), FALSE);

  return og_ledger_close_batch (self->ledger, self->number, flags, &note, error);
}

static void try_close (OgBatchRecordWindow *self);
static void try_abandon (OgBatchRecordWindow *self);

static void
ask_below_nothing (OgBatchRecordWindow *self,
                   const GError        *error,
                   OgAnswerFunc         func)
{
  const OgAnswer answers[] = { { _("Leave it open"), OG_ANSWER_PLAIN },
                               { _("Take it anyway"), OG_ANSWER_DESTRUCTIVE } };

  og_compat_ask (GTK_WINDOW (self), _("There is less in stock than was weighed"), error->message,
                 answers, G_N_ELEMENTS (answers), func, NULL);
}

static void
on_close_below (GtkWindow *parent,
                guint      answer,
                gpointer   data)
{
  OgBatchRecordWindow *self = OG_BATCH_RECORD_WINDOW (parent);

  if (answer != 1)
    return;
  self->flags |= OG_CLOSE_ALLOW_NEGATIVE;
  try_close (self);
}

static void
try_close (OgBatchRecordWindow *self)
{
  g_autoptr (GError) error = NULL;

  if (og_batch_record_window_close_batch (self, self->flags, &error))
    say (self, _("The batch is closed, and what was weighed was taken from stock"));
  else if (g_error_matches (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_SHORTAGE))
    ask_below_nothing (self, error, on_close_below);
  else
    say (self, error->message);
}

static void
on_close (GtkWindow *parent,
          guint      answer,
          gpointer   data)
{
  OgBatchRecordWindow *self = OG_BATCH_RECORD_WINDOW (parent);

  if (answer != 1)
    return;
  self->flags = data != NULL ? OG_CLOSE_ALLOW_UNWEIGHED : OG_CLOSE_DEFAULT;
  try_close (self);
}

static char *
list_unweighed (const OgBatch *batch)
{
  GString *names = g_string_new (NULL);

  for (guint i = 0; i < batch->lines->len; i++)
    {
      const OgBatchLine *line = g_ptr_array_index (batch->lines, i);

      if (line->planned_mg > 0 && line->weighed_mg == 0)
        g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", line->name);
    }
  return g_string_free (names, FALSE);
}

static void
act_close_batch (GtkWidget  *widget,
                 const char *name,
                 GVariant   *parameter)
{
  OgBatchRecordWindow *self = OG_BATCH_RECORD_WINDOW (widget);
  g_autofree char *unweighed = NULL;
  g_autofree char *body = NULL;
  gboolean whole;
  OgAnswer answers[] = { { _("Leave it open"), OG_ANSWER_PLAIN },
                         { _("Close the batch"), OG_ANSWER_SUGGESTED } };

  update (self);
  unweighed = list_unweighed (self->batch);
  whole = *unweighed == '\0';
  if (!whole)
    answers[1] = (OgAnswer) { _("Close it all the same"), OG_ANSWER_DESTRUCTIVE };
  body = whole ? g_strdup (_("What was weighed is taken from stock, and the record can no longer "
                             "be changed."))
               /* Translators: %s are names of materials */
               : g_strdup_printf (_("Not weighed: %s. What was weighed is taken from stock, and "
                                    "the record can no longer be changed."), unweighed);
  og_compat_ask (GTK_WINDOW (self), _("Close this batch?"), body, answers, G_N_ELEMENTS (answers),
                 on_close, whole ? NULL : self);
}

/* Giving up and letting go */

static void
on_abandon_below (GtkWindow *parent,
                  guint      answer,
                  gpointer   data)
{
  OgBatchRecordWindow *self = OG_BATCH_RECORD_WINDOW (parent);

  if (answer != 1)
    return;
  self->flags = OG_CLOSE_ALLOW_NEGATIVE;
  try_abandon (self);
}

static void
try_abandon (OgBatchRecordWindow *self)
{
  const OgLedgerNote note = { .who = og_ledger_get_who (self->ledger) };
  g_autoptr (GError) error = NULL;

  if (og_ledger_abandon_batch (self->ledger, self->number, self->wasted, self->flags, &note,
                               &error))
    say (self, _("The batch was given up"));
  else if (g_error_matches (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_SHORTAGE))
    ask_below_nothing (self, error, on_abandon_below);
  else
    say (self, error->message);
}

static void
on_abandon (GtkWindow *parent,
            guint      answer,
            gpointer   data)
{
  OgBatchRecordWindow *self = OG_BATCH_RECORD_WINDOW (parent);

  if (answer == 0)
    return;
  self->wasted = answer == 2;
  self->flags = OG_CLOSE_DEFAULT;
  try_abandon (self);
}

static void
act_abandon (GtkWidget  *widget,
             const char *name,
             GVariant   *parameter)
{
  const OgAnswer answers[] = { { _("Go on with it"), OG_ANSWER_PLAIN },
                               { _("Given up, all went back"), OG_ANSWER_PLAIN },
                               { _("Given up and thrown away"), OG_ANSWER_DESTRUCTIVE } };

  og_compat_ask (GTK_WINDOW (widget), _("Give this batch up?"),
                 _("What was thrown away is taken from stock as waste. The record stays in the "
                   "ledger."),
                 answers, G_N_ELEMENTS (answers), on_abandon, NULL);
}

static void
on_released (OgBatchRecordWindow *self)
{
  say (self, _("The batch is released"));
}

static void
act_release (GtkWidget  *widget,
             const char *name,
             GVariant   *parameter)
{
  OgBatchRecordWindow *self = OG_BATCH_RECORD_WINDOW (widget);
  GtkWidget *dialog = og_release_dialog_new (self->ledger, self->number);

  g_signal_connect_object (dialog, "released", G_CALLBACK (on_released), self, G_CONNECT_SWAPPED);
  og_present_over (widget, dialog);
}

/* Sheet */

static guint
formula_line (const OgBatch *batch,
              guint          line)
{
  for (guint i = 0; i < batch->lines->len; i++)
    {
      const OgBatchLine *one = g_ptr_array_index (batch->lines, i);

      if (one->line == line)
        return one->formula_line;
    }
  return 0;
}

/* @lots borrows the names from @in_batch. */
static GArray *
sheet_lots (const OgBatch   *batch,
            const GPtrArray *in_batch)
{
  GArray *lots = g_array_new (FALSE, FALSE, sizeof (OgBatchSheetLot));

  for (guint i = 0; i < in_batch->len; i++)
    {
      const OgBatchLot *lot = g_ptr_array_index (in_batch, i);
      const OgBatchSheetLot one = { formula_line (batch, lot->line), lot->lot };

      if (lot->lot != NULL && lot->amount_mg > 0)
        g_array_append_val (lots, one);
    }
  return lots;
}

static OgCard *
make_sheet (OgBatchRecordWindow  *self,
            GError              **error)
{
  const OgBatchSheetHead head = { self->batch->number, self->batch->day, self->batch->who };
  g_autoptr (GPtrArray) in_batch = og_ledger_list_batch_lots (self->ledger, self->number, error);
  g_autoptr (GArray) lots = NULL;

  if (in_batch == NULL)
    return NULL;
  lots = sheet_lots (self->batch, in_batch);
  return og_batch_sheet_new (self->formula, self->result, self->plan, self->stove, &head,
                             (const OgBatchSheetLot *) (gconstpointer) lots->data, lots->len);
}

gboolean
og_batch_record_window_write (OgBatchRecordWindow  *self,
                              const char           *path,
                              GError              **error)
{
  g_autoptr (OgCard) sheet = NULL;

  g_return_val_if_fail (OG_IS_BATCH_RECORD_WINDOW (self), FALSE);

  sheet = make_sheet (self, error);
  return sheet != NULL && og_export_sheet (sheet, path, OG_EXPORT_PDF, error);
}

static void
on_written (GtkWindow    *parent,
            const GError *error,
            gpointer      data)
{
  say (OG_BATCH_RECORD_WINDOW (parent),
       error != NULL ? error->message : _("The record was written"));
}

static void
act_write_sheet (GtkWidget  *widget,
                 const char *name,
                 GVariant   *parameter)
{
  OgBatchRecordWindow *self = OG_BATCH_RECORD_WINDOW (widget);
  g_autofree char *file_name = g_strdup_printf ("%s.pdf", self->number);
  g_autoptr (GError) error = NULL;
  OgCard *sheet;

  g_strdelimit (file_name, "/\\", '-');
  update (self);
  sheet = make_sheet (self, &error);
  if (sheet == NULL)
    say (self, error->message);
  else
    og_sheet_file_ask (GTK_WINDOW (self), sheet, file_name, on_written, NULL);
}

/* Window */

static void
act_show_page (GtkWidget  *widget,
               const char *name,
               GVariant   *parameter)
{
  og_stack_show_page (OG_BATCH_RECORD_WINDOW (widget)->stack,
                      g_variant_get_string (parameter, NULL));
}

static void
act_close (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  gtk_window_close (GTK_WINDOW (widget));
}

static void
og_batch_record_window_dispose (GObject *object)
{
  g_clear_handle_id (&OG_BATCH_RECORD_WINDOW (object)->idle, g_source_remove);

  G_OBJECT_CLASS (og_batch_record_window_parent_class)->dispose (object);
}

static void
og_batch_record_window_finalize (GObject *object)
{
  OgBatchRecordWindow *self = OG_BATCH_RECORD_WINDOW (object);

  g_clear_pointer (&self->batch, og_batch_free);
  g_clear_pointer (&self->stove, og_stove_plan_free);
  g_clear_pointer (&self->plan, og_batch_plan_free);
  g_clear_pointer (&self->result, og_result_unref);
  g_clear_pointer (&self->formula, og_formula_free);
  g_clear_object (&self->ledger);
  g_free (self->number);

  G_OBJECT_CLASS (og_batch_record_window_parent_class)->finalize (object);
}

static void
og_batch_record_window_class_init (OgBatchRecordWindowClass *class)
{
  static const char *const pages[] = { "weigh", "steps", "notes", NULL };
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->dispose = og_batch_record_window_dispose;
  object_class->finalize = og_batch_record_window_finalize;

  gtk_widget_class_install_action (widget_class, "record.close-batch", NULL, act_close_batch);
  gtk_widget_class_install_action (widget_class, "record.abandon", NULL, act_abandon);
  gtk_widget_class_install_action (widget_class, "record.release", NULL, act_release);
  gtk_widget_class_install_action (widget_class, "record.write-sheet", NULL, act_write_sheet);
  gtk_widget_class_install_action (widget_class, "record.show-page", "s", act_show_page);
  gtk_widget_class_install_action (widget_class, "win.close", NULL, act_close);
  og_class_add_page_keys (widget_class, "record.show-page", pages);
}

static void
og_batch_record_window_init (OgBatchRecordWindow *self)
{
}

/* Building */

static GtkWidget *
make_titles (OgBatchRecordWindow *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  self->title_label = og_ellipsizing_label_new ("title");
  self->subtitle_label = og_ellipsizing_label_new ("subtitle");
  gtk_label_set_xalign (GTK_LABEL (self->title_label), 0.5f);
  gtk_label_set_xalign (GTK_LABEL (self->subtitle_label), 0.5f);
  gtk_widget_set_valign (box, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (box), self->title_label);
  gtk_box_append (GTK_BOX (box), self->subtitle_label);
  return box;
}

static GtkWidget *
make_menu_button (void)
{
  GtkWidget *button = gtk_menu_button_new ();
  g_autoptr (GMenu) menu = g_menu_new ();

  g_menu_append (menu, _("_Release the batch…"), "record.release");
  g_menu_append (menu, _("_Give the batch up…"), "record.abandon");
  g_menu_append (menu, _("Batch record (_PDF)…"), "record.write-sheet");
  gtk_menu_button_set_icon_name (GTK_MENU_BUTTON (button), "open-menu-symbolic");
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (button), G_MENU_MODEL (menu));
  gtk_menu_button_set_primary (GTK_MENU_BUTTON (button), TRUE);
  gtk_widget_set_tooltip_text (button, _("More about the batch"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, _("More about the batch"),
                                  -1);
  return button;
}

static GtkWidget *
make_header (OgBatchRecordWindow *self)
{
  GtkWidget *header = gtk_header_bar_new ();
  GtkWidget *switcher = gtk_stack_switcher_new ();

  gtk_stack_switcher_set_stack (GTK_STACK_SWITCHER (switcher), GTK_STACK (self->stack));
  gtk_widget_set_valign (switcher, GTK_ALIGN_CENTER);
  self->close_button = gtk_button_new_with_label (_("Close the batch…"));
  gtk_actionable_set_action_name (GTK_ACTIONABLE (self->close_button), "record.close-batch");
  gtk_header_bar_set_title_widget (GTK_HEADER_BAR (header), make_titles (self));
  gtk_header_bar_pack_start (GTK_HEADER_BAR (header), switcher);
  gtk_header_bar_pack_end (GTK_HEADER_BAR (header), make_menu_button ());
  gtk_header_bar_pack_end (GTK_HEADER_BAR (header), self->close_button);
  return header;
}

static GtkWidget *
make_state_line (OgBatchRecordWindow *self)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *label = gtk_label_new (_("At work"));
  const char *who = og_ledger_get_who (self->ledger);

  self->state_label = og_wrapping_label_new (NULL, NULL);
  gtk_widget_set_hexpand (self->state_label, TRUE);
  self->who_entry = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (self->who_entry), WHO_CHARS);
  og_editable_show (GTK_EDITABLE (self->who_entry), who != NULL ? who : "");
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->who_entry), _("name or initials"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->who_entry),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, _("At work"),
                                  -1);
  g_signal_connect_swapped (self->who_entry, "changed", G_CALLBACK (on_who), self);
  gtk_widget_add_css_class (line, "effects-head");
  gtk_widget_add_css_class (label, "dim-label");
  gtk_box_append (GTK_BOX (line), self->state_label);
  gtk_box_append (GTK_BOX (line), label);
  gtk_box_append (GTK_BOX (line), self->who_entry);
  return line;
}

static void
add_page (OgBatchRecordWindow *self,
          OgCatalog           *catalog,
          GtkWidget           *page,
          const char          *name,
          const char          *title)
{
  gtk_stack_add_titled (GTK_STACK (self->stack), page, name, title);
  og_ledger_page_set_ledger (OG_LEDGER_PAGE (page), self->ledger, catalog);
  g_signal_connect_object (page, "message", G_CALLBACK (say), self, G_CONNECT_SWAPPED);
}

static void
add_pages (OgBatchRecordWindow *self,
           OgCatalog           *catalog,
           const GPtrArray     *balances)
{
  self->stack = gtk_stack_new ();
  add_page (self, catalog, og_batch_weigh_page_new (self->number, balances), "weigh",
            _("Weighing"));
  add_page (self, catalog, og_batch_steps_page_new (self->number, self->formula, self->stove),
            "steps", _("Steps"));
  add_page (self, catalog,
            og_batch_notes_page_new (self->number, &self->formula->package,
                                     self->plan->density_20_g_ml),
            "notes", _("Notes and filling"));
}

/* The recipe as it was, and what it is to become. */
static gboolean
read_snapshot (OgBatchRecordWindow  *self,
               OgCatalog            *catalog,
               GError              **error)
{
  const char *document = self->batch->document != NULL ? self->batch->document : "";
  g_autoptr (GBytes) bytes = g_bytes_new (document, strlen (document));
  g_autoptr (OgCatalog) overlay = NULL;
  OgBatchOptions options;
  OgStoveSetup setup;

  self->formula = og_storage_parse (bytes, self->number, catalog, error);
  if (self->formula == NULL)
    return FALSE;
  overlay = og_catalog_new_overlay (catalog, self->formula->materials);
  self->result = og_evaluate (self->formula, overlay, NULL);
  og_stove_setup_init (&setup);
  setup.batch_g = og_ledger_mg_to_g (self->batch->planned_mg);
  self->stove = og_stove_plan (self->formula, self->result, &setup);
  og_batch_options_init (&options, self->formula);
  options.amount = setup.batch_g;
  self->plan = og_batch_plan_new (self->formula, self->result, &options, error);
  return self->plan != NULL;
}

/* Whoever is at work says so first. */
static void
begin (OgBatchRecordWindow *self)
{
  GtkWidget *page = gtk_stack_get_visible_child (GTK_STACK (self->stack));

  og_ledger_page_update_now (OG_LEDGER_PAGE (page));
  gtk_widget_grab_focus (og_ledger_get_who (self->ledger) == NULL ? self->who_entry : page);
}

GtkWidget *
og_batch_record_window_new (OgLedger         *ledger,
                            OgCatalog        *catalog,
                            const char       *number,
                            const GPtrArray  *balances,
                            GError          **error)
{
  OgBatchRecordWindow *self;
  GtkWidget *overlay;
  GtkWidget *box;

  g_return_val_if_fail (OG_IS_LEDGER (ledger) && catalog != NULL && number != NULL, NULL);

  self = g_object_new (OG_TYPE_BATCH_RECORD_WINDOW, NULL);
  self->ledger = g_object_ref (ledger);
  self->number = g_strdup (number);
  self->batch = og_ledger_get_batch (ledger, number, error);
  if (self->batch == NULL || !read_snapshot (self, catalog, error))
    {
      gtk_window_destroy (GTK_WINDOW (self));
      return NULL;
    }
  add_pages (self, catalog, balances);
  overlay = gtk_overlay_new ();
  box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  self->toast = og_toast_new ();
  gtk_box_append (GTK_BOX (box), make_state_line (self));
  gtk_box_append (GTK_BOX (box), self->stack);
  gtk_overlay_set_child (GTK_OVERLAY (overlay), box);
  gtk_overlay_add_overlay (GTK_OVERLAY (overlay), self->toast);
  gtk_window_set_child (GTK_WINDOW (self), overlay);
  gtk_window_set_titlebar (GTK_WINDOW (self), make_header (self));
  gtk_window_set_default_size (GTK_WINDOW (self), WIDTH, HEIGHT);
  g_signal_connect_object (ledger, "changed", G_CALLBACK (schedule), self, G_CONNECT_SWAPPED);
  show_head (self);
  begin (self);
  return GTK_WIDGET (self);
}

const char *
og_batch_record_window_get_number (OgBatchRecordWindow *self)
{
  g_return_val_if_fail (OG_IS_BATCH_RECORD_WINDOW (self), NULL);

  return self->number;
}
