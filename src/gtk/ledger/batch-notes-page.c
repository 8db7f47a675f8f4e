/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/number-text.h"
#include "core/make/net-content.h"
#include "gtk/ledger/batch-notes-page.h"
#include "gtk/ledger/ledger-words.h"
#include "gtk/parts/compat.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/pieces.h"
#include "gtk/parts/plain-list.h"
#include "gtk/parts/text-field.h"
#include "gtk/parts/typed-number.h"

#define MOST_FIELDS 3
#define MOST_COUNT 1000000.0
#define MOST_WEIGHTS 1000
#define SEPARATORS " \t;"
#define FORMS_SHARE 0.5

struct _OgBatchNotesPage
{
  OgLedgerPage parent_instance;

  GtkWidget *pane;
  GtkWidget *form_box;
  GtkWidget *fields[OG_N_BATCH_FORMS][MOST_FIELDS];
  GtkWidget *verdict_label;
  GtkWidget *nothing_label;
  GtkWidget *entry_list;

  char *number;
  OgPackage package;
  double density_20_g_ml;
};

G_DEFINE_FINAL_TYPE (OgBatchNotesPage, og_batch_notes_page, OG_TYPE_LEDGER_PAGE)

static const struct
{
  const char *heading;
  const char *button;
  struct
  {
    const char *title;
    const char *hint;
  } fields[MOST_FIELDS];
} forms[OG_N_BATCH_FORMS] = {
  [OG_BATCH_FORM_DEVIATION] = { N_("Deviation"), N_("Record the deviation"),
                                { { N_("What went otherwise") }, { N_("Decision") } } },
  [OG_BATCH_FORM_SAMPLE] = { N_("Retained sample"), N_("Record the sample"),
                             { { N_("Number of samples") }, { N_("Place") },
                               { N_("Keep until"), N_("2029-03-01") } } },
  [OG_BATCH_FORM_MEASUREMENT] = { N_("Measurement"), N_("Record the measurement"),
                                  { { N_("What"), N_("viscosity, mPa·s") }, { N_("Value") },
                                    { N_("At, °C") } } },
  [OG_BATCH_FORM_FILLING] = { N_("Filled containers"), N_("Record the weights"),
                              { { N_("Empty container, g") }, { N_("Filled ones, g"),
                                                                N_("18.4 18.6 18.5") } } },
  [OG_BATCH_FORM_OUTPUT] = { N_("Output"), N_("Record the output"),
                             { { N_("Units made") }, { N_("Version of the label") } } },
};

static OgLedger *
get_ledger (OgBatchNotesPage *self)
{
  return og_ledger_page_get_ledger (OG_LEDGER_PAGE (self));
}

static OgTextField *
get_field (OgBatchNotesPage *self,
           OgBatchForm       form,
           guint             index)
{
  return OG_TEXT_FIELD (self->fields[form][index]);
}

void
og_batch_notes_page_type (OgBatchNotesPage *self,
                          OgBatchForm       form,
                          guint             index,
                          const char       *text)
{
  g_return_if_fail (OG_IS_BATCH_NOTES_PAGE (self));
  g_return_if_fail (form < OG_N_BATCH_FORMS && index < MOST_FIELDS);

  og_text_field_set_text (get_field (self, form, index), text);
}

/* Reading: each function says at its own field what is wrong there */

static gboolean
refuse (OgBatchNotesPage *self,
        OgBatchForm       form,
        guint             index,
        const char       *problem)
{
  og_text_field_set_problem (get_field (self, form, index), problem);
  return FALSE;
}

static char *
get_text (OgBatchNotesPage *self,
          OgBatchForm       form,
          guint             index)
{
  return og_text_field_get_text (get_field (self, form, index));
}

static gboolean
read_needed (OgBatchNotesPage  *self,
             OgBatchForm        form,
             guint              index,
             char             **text)
{
  *text = get_text (self, form, index);
  return *text != NULL || refuse (self, form, index, _("Something is missing here."));
}

/* @value is NAN if nothing is typed. */
static gboolean
read_number (OgBatchNotesPage *self,
             OgBatchForm       form,
             guint             index,
             double           *value)
{
  g_autofree char *text = get_text (self, form, index);
  g_autofree char *problem = NULL;

  *value = NAN;
  problem = text != NULL ? og_typed_number (text, value) : NULL;
  return problem == NULL || refuse (self, form, index, problem);
}

static gboolean
read_count (OgBatchNotesPage *self,
            OgBatchForm       form,
            guint             index,
            double            least,
            double           *count)
{
  if (!read_number (self, form, index, count))
    return FALSE;
  return isnan (*count)
         || (*count >= least && *count <= MOST_COUNT && *count == floor (*count))
         || refuse (self, form, index, _("This has to be a whole number."));
}

static gboolean
add_entry (OgBatchNotesPage *self,
           OgBatchForm       form,
           OgBatchEntry     *entry)
{
  g_autoptr (GError) error = NULL;

  entry->who = g_strdup (og_ledger_get_who (get_ledger (self)));
  return og_ledger_add_batch_entry (get_ledger (self), self->number, entry, &error) != 0
         || refuse (self, form, 0, error->message);
}

static gboolean
commit_deviation (OgBatchNotesPage *self)
{
  g_autoptr (OgBatchEntry) entry = og_batch_entry_new (OG_BATCH_ENTRY_DEVIATION);

  if (!read_needed (self, OG_BATCH_FORM_DEVIATION, 0, &entry->text))
    return FALSE;
  entry->decision = get_text (self, OG_BATCH_FORM_DEVIATION, 1);
  return add_entry (self, OG_BATCH_FORM_DEVIATION, entry);
}

static gboolean
commit_sample (OgBatchNotesPage *self)
{
  const OgBatchForm form = OG_BATCH_FORM_SAMPLE;
  g_autoptr (OgBatchEntry) entry = og_batch_entry_new (OG_BATCH_ENTRY_SAMPLE);
  gboolean good;
  double count;

  good = read_count (self, form, 0, 1.0, &count);
  if (good && isnan (count))
    good = refuse (self, form, 0, _("A number is missing here."));
  good &= read_needed (self, form, 1, &entry->text);
  good &= og_text_field_check_day (get_field (self, form, 2));
  if (!good)
    return FALSE;
  entry->count = (guint) count;
  entry->until = get_text (self, form, 2);
  return add_entry (self, form, entry);
}

static gboolean
commit_measurement (OgBatchNotesPage *self)
{
  const OgBatchForm form = OG_BATCH_FORM_MEASUREMENT;
  g_autoptr (OgBatchEntry) entry = og_batch_entry_new (OG_BATCH_ENTRY_MEASUREMENT);
  gboolean good;

  good = read_needed (self, form, 0, &entry->text);
  good &= read_needed (self, form, 1, &entry->value);
  good &= read_number (self, form, 2, &entry->temperature_c);
  return good && add_entry (self, form, entry);
}

static gboolean
commit_output (OgBatchNotesPage *self)
{
  const OgBatchForm form = OG_BATCH_FORM_OUTPUT;
  g_autofree char *version = get_text (self, form, 1);
  g_autoptr (GError) error = NULL;
  double units;

  if (!read_count (self, form, 0, 0.0, &units))
    return FALSE;
  if (isnan (units) && version == NULL)
    return refuse (self, form, 0, _("Something is missing here."));
  return og_ledger_set_batch_output (get_ledger (self), self->number,
                                     isnan (units) ? -1 : (int) units, version, &error)
         || refuse (self, form, 0, error->message);
}

/* Filled containers */

/* Returns: (nullable) (transfer full) (element-type double): NULL, having said why, if some word is
 * no weight above that of the empty container; may be without any */
static GArray *
read_weights (OgBatchNotesPage *self,
              double            tare_g)
{
  const OgBatchForm form = OG_BATCH_FORM_FILLING;
  g_autofree char *text = get_text (self, form, 1);
  g_auto (GStrv) words = g_strsplit_set (text != NULL ? text : "", SEPARATORS, -1);
  g_autoptr (GArray) weights = g_array_new (FALSE, FALSE, sizeof (double));

  for (guint i = 0; words[i] != NULL; i++)
    {
      g_autofree char *unread = NULL;
      double gross_g;

      if (*words[i] == '\0')
        continue;
      unread = og_typed_number (words[i], &gross_g);
      if (unread != NULL || !(gross_g > tare_g)
          || weights->len == MOST_WEIGHTS)
        {
          /* Translators: %s is what the user typed */
          g_autofree char *problem =
            g_strdup_printf (_("“%s” is not the weight of a filled container."), words[i]);

          refuse (self, form, 1, problem);
          return NULL;
        }
      g_array_append_val (weights, gross_g);
    }
  return g_steal_pointer (&weights);
}

static const char *
verdict_text (const OgNetCheck *check)
{
  switch (check->packer)
    {
    case OG_NET_RULE_PASS:
      return _("Passes: mean, tolerance and lower limit are kept.");
    case OG_NET_RULE_FAIL:
      return _("Fails the rules for packers: see the mean and the lowest content.");
    case OG_NET_RULE_NONE:
    default:
      return check->every_full ? _("Every container holds at least the declared content.")
                               : _("Some containers hold less than the declared content.");
    }
}

static char *
judge (OgBatchNotesPage *self,
       const GArray     *weights,
       double            tare_g)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (OgNetCheck) check = og_net_check (
    &self->package, (const double *) (gconstpointer) weights->data, weights->len, tare_g,
    self->density_20_g_ml, &error);
  g_autofree char *mean = NULL;
  g_autofree char *least = NULL;
  const char *unit = self->package.unit == OG_NET_G ? _("g") : _("ml");

  if (check == NULL)
    return g_strdup (error->message);
  mean = og_number_fixed (check->mean, 2);
  least = og_number_fixed (check->least, 2);
  /* Translators: a verdict; number of containers; mean and least content, each with its unit */
  return g_strdup_printf (_("%s %u weighed, mean %s %s, least %s %s. %s"), verdict_text (check),
                          check->n, mean, unit, least, unit, og_saying_text (check->text));
}

static void
update_verdict (OgBatchNotesPage *self)
{
  const OgBatchForm form = OG_BATCH_FORM_FILLING;
  g_autoptr (GArray) weights = NULL;
  g_autofree char *verdict = NULL;
  double tare_g;

  og_label_set_optional (self->verdict_label, NULL);
  if (!read_number (self, form, 0, &tare_g) || isnan (tare_g))
    return;
  weights = read_weights (self, tare_g);
  if (weights == NULL || weights->len == 0)
    return;
  verdict = judge (self, weights, tare_g);
  og_label_set_optional (self->verdict_label, verdict);
}

const char *
og_batch_notes_page_get_verdict (OgBatchNotesPage *self)
{
  g_return_val_if_fail (OG_IS_BATCH_NOTES_PAGE (self), NULL);

  return gtk_label_get_label (GTK_LABEL (self->verdict_label));
}

static gboolean
commit_weight (OgBatchNotesPage *self,
               double            content_g)
{
  g_autoptr (OgBatchEntry) entry = og_batch_entry_new (OG_BATCH_ENTRY_FILLING);

  if (!og_ledger_g_to_mg (content_g, &entry->amount_mg))
    return refuse (self, OG_BATCH_FORM_FILLING, 1, _("This is too large."));
  return add_entry (self, OG_BATCH_FORM_FILLING, entry);
}

/* What is recorded goes out of the field at once, so that nothing is recorded twice. */
static gboolean
commit_filling (OgBatchNotesPage *self)
{
  const OgBatchForm form = OG_BATCH_FORM_FILLING;
  g_autoptr (GArray) weights = NULL;
  double tare_g;

  if (!read_number (self, form, 0, &tare_g))
    return FALSE;
  if (isnan (tare_g) || tare_g < 0.0)
    return refuse (self, form, 0, _("Say what an empty container with its closure weighs."));
  weights = read_weights (self, tare_g);
  if (weights == NULL)
    return FALSE;
  if (weights->len == 0)
    return refuse (self, form, 1, _("Type what the filled containers weigh."));
  for (guint i = 0; i < weights->len; i++)
    {
      if (!commit_weight (self, g_array_index (weights, double, i) - tare_g))
        return FALSE;
    }
  og_text_field_set_text (get_field (self, form, 1), NULL);
  return TRUE;
}

static gboolean
commit_form (OgBatchNotesPage *self,
             OgBatchForm       form)
{
  switch (form)
    {
    case OG_BATCH_FORM_DEVIATION:
      return commit_deviation (self);
    case OG_BATCH_FORM_SAMPLE:
      return commit_sample (self);
    case OG_BATCH_FORM_MEASUREMENT:
      return commit_measurement (self);
    case OG_BATCH_FORM_FILLING:
      return commit_filling (self);
    case OG_BATCH_FORM_OUTPUT:
    case OG_N_BATCH_FORMS:
    default:
      return commit_output (self);
    }
}

gboolean
og_batch_notes_page_commit (OgBatchNotesPage *self,
                            OgBatchForm       form)
{
  g_return_val_if_fail (OG_IS_BATCH_NOTES_PAGE (self), FALSE);
  g_return_val_if_fail (form < OG_N_BATCH_FORMS, FALSE);

  if (!commit_form (self, form))
    {
      gtk_widget_error_bell (GTK_WIDGET (self));
      return FALSE;
    }
  for (guint i = 0; i < MOST_FIELDS && form != OG_BATCH_FORM_FILLING; i++)
    {
      if (self->fields[form][i] != NULL)
        og_text_field_set_text (get_field (self, form, i), NULL);
    }
  og_ledger_page_say (OG_LEDGER_PAGE (self), _("It is in the record"));
  return TRUE;
}

static void
act_commit (GtkWidget  *widget,
            const char *name,
            GVariant   *parameter)
{
  og_batch_notes_page_commit (OG_BATCH_NOTES_PAGE (widget), g_variant_get_uint32 (parameter));
}

static void
on_enter (OgBatchNotesPage *self,
          GtkWidget        *field)
{
  for (guint i = 0; i < OG_N_BATCH_FORMS * MOST_FIELDS; i++)
    {
      if (self->fields[i / MOST_FIELDS][i % MOST_FIELDS] == field)
        og_batch_notes_page_commit (self, i / MOST_FIELDS);
    }
}

/* Photos */

gboolean
og_batch_notes_page_add_photo (OgBatchNotesPage *self,
                               const char       *path)
{
  g_autoptr (OgBatchEntry) entry = og_batch_entry_new (OG_BATCH_ENTRY_PHOTO);
  g_autoptr (GError) error = NULL;

  g_return_val_if_fail (OG_IS_BATCH_NOTES_PAGE (self), FALSE);

  entry->text = g_filename_display_name (path);
  entry->who = g_strdup (og_ledger_get_who (get_ledger (self)));
  og_ledger_add_batch_entry (get_ledger (self), self->number, entry, &error);
  return og_ledger_page_check (OG_LEDGER_PAGE (self), error);
}

static void
on_photo (GtkWindow *parent,
          GFile     *file,
          gpointer   data)
{
  g_autofree char *path = file != NULL ? g_file_get_path (file) : NULL;

  if (path != NULL)
    og_batch_notes_page_add_photo (data, path);
}

static void
act_photo (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  static const OgFileFilter filters[] = {
    { N_("Pictures"), "*.jpg;*.jpeg;*.png;*.webp;*.heic" },
    { N_("All files"), "*" },
    { NULL },
  };

  og_compat_choose_file (GTK_WINDOW (gtk_widget_get_root (widget)), _("Photo of the batch"),
                         GTK_FILE_CHOOSER_ACTION_OPEN, filters, NULL, NULL, on_photo, widget);
}

/* What the record holds */

static char *
entry_text (const OgBatchEntry *entry)
{
  g_autofree char *amount = og_ledger_mg_to_text (entry->amount_mg);
  g_autofree char *at = og_number_trimmed (entry->temperature_c, 1);
  GString *text = g_string_new (entry->text);

  if (entry->kind == OG_BATCH_ENTRY_FILLING)
    g_string_append (text, amount);
  if (entry->kind == OG_BATCH_ENTRY_SAMPLE)
    g_string_append_printf (text, " × %u", entry->count);
  if (entry->value != NULL)
    g_string_append_printf (text, ": %s", entry->value);
  if (!isnan (entry->temperature_c))
    /* Translators: %s is a temperature; it follows what was measured or done */
    g_string_append_printf (text, _(" at %s °C"), at);
  if (entry->until != NULL)
    /* Translators: %s is a day; it follows the place of a sample */
    g_string_append_printf (text, _(", until %s"), entry->until);
  if (entry->decision != NULL)
    /* Translators: %s is a decision; it follows what went otherwise */
    g_string_append_printf (text, _(". Decision: %s"), entry->decision);
  return g_string_free (text, FALSE);
}

static void
add_recorded (OgBatchNotesPage   *self,
              const OgBatchEntry *entry)
{
  g_autofree char *text = entry_text (entry);
  g_autofree char *moment = og_ledger_moment_to_text (entry->entered_at);
  g_autofree char *remark = entry->who != NULL ? g_strdup_printf ("%s · %s", moment, entry->who)
                                               : g_strdup (moment);

  og_plain_list_add_fact (OG_PLAIN_LIST (self->entry_list),
                          og_batch_entry_kind_get_name (entry->kind), text, remark);
}

static void
show_output (OgBatchNotesPage *self,
             const OgBatch    *batch)
{
  g_autofree char *units = g_strdup_printf ("%d", batch->units_made);

  if (batch->units_made >= 0)
    og_plain_list_add_fact (OG_PLAIN_LIST (self->entry_list), _("Units made"), units, NULL);
  if (batch->label_version != NULL)
    og_plain_list_add_fact (OG_PLAIN_LIST (self->entry_list), _("Version of the label"),
                            batch->label_version, NULL);
}

static void
og_batch_notes_page_refresh (OgLedgerPage *page)
{
  OgBatchNotesPage *self = OG_BATCH_NOTES_PAGE (page);
  g_autoptr (GError) error = NULL;
  g_autoptr (OgBatch) batch = og_ledger_get_batch (get_ledger (self), self->number, &error);

  if (!og_ledger_page_check (page, error))
    return;
  /* the body is judged hours after the stock was taken */
  gtk_widget_set_sensitive (self->form_box, batch->state != OG_BATCH_ABANDONED
                                              && batch->released_by == NULL
                                              && !og_ledger_is_read_only (get_ledger (self)));
  og_plain_list_clear (OG_PLAIN_LIST (self->entry_list));
  gtk_widget_set_visible (self->nothing_label, batch->entries->len == 0 && batch->units_made < 0);
  show_output (self, batch);
  for (guint i = batch->entries->len; i-- > 0;)
    {
      const OgBatchEntry *entry = g_ptr_array_index (batch->entries, i);

      /* the beginning of a step is told with its end */
      if (entry->kind != OG_BATCH_ENTRY_PROCESS || entry->ended_at != 0)
        add_recorded (self, entry);
    }
}

/* Building */

static void
add_button (GtkWidget  *box,
            const char *label,
            const char *action,
            int         form)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  if (form >= 0)
    gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "u", (guint) form);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (box), button);
}

static void
add_form (OgBatchNotesPage *self,
          OgBatchForm       form,
          GtkSizeGroup     *titles)
{
  gtk_box_append (GTK_BOX (self->form_box),
                  og_wrapping_label_new (_(forms[form].heading), "fact-heading"));
  for (guint i = 0; i < MOST_FIELDS && forms[form].fields[i].title != NULL; i++)
    {
      const char *hint = forms[form].fields[i].hint;

      self->fields[form][i] = og_text_field_new (_(forms[form].fields[i].title),
                                                 hint != NULL ? _(hint) : NULL);
      og_text_field_join (get_field (self, form, i), titles);
      g_signal_connect_object (self->fields[form][i], "activate", G_CALLBACK (on_enter), self,
                               G_CONNECT_SWAPPED);
      gtk_box_append (GTK_BOX (self->form_box), self->fields[form][i]);
    }
  if (form == OG_BATCH_FORM_FILLING)
    {
      self->verdict_label = og_wrapping_label_new (NULL, "doubt");
      gtk_widget_set_visible (self->verdict_label, FALSE);
      gtk_box_append (GTK_BOX (self->form_box), self->verdict_label);
      for (guint i = 0; i < 2; i++)
        g_signal_connect_swapped (self->fields[form][i], "changed", G_CALLBACK (update_verdict),
                                  self);
    }
  add_button (self->form_box, _(forms[form].button), "notes.commit", (int) form);
}

static GtkWidget *
make_forms (OgBatchNotesPage *self)
{
  g_autoptr (GtkSizeGroup) titles = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);

  self->form_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_add_css_class (self->form_box, "make-column");
  for (guint i = 0; i < OG_N_BATCH_FORMS; i++)
    add_form (self, i, titles);
  gtk_box_append (GTK_BOX (self->form_box), og_wrapping_label_new (_("Photos"), "fact-heading"));
  add_button (self->form_box, _("Add a photo…"), "notes.photo", -1);
  return og_scroller_new (self->form_box);
}

static GtkWidget *
make_entries (OgBatchNotesPage *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  self->nothing_label = og_wrapping_label_new (_("Nothing is noted yet."), "dim-label");
  self->entry_list = og_plain_list_new (_("In the record"));
  gtk_widget_add_css_class (box, "make-column");
  gtk_box_append (GTK_BOX (box), og_wrapping_label_new (_("In the record"), "make-title"));
  gtk_box_append (GTK_BOX (box), self->nothing_label);
  gtk_box_append (GTK_BOX (box), self->entry_list);
  return og_scroller_new (box);
}

static gboolean
on_first_frame (GtkWidget     *widget,
                GdkFrameClock *clock,
                gpointer       data)
{
  OgBatchNotesPage *self = OG_BATCH_NOTES_PAGE (widget);
  const int width = gtk_widget_get_width (self->pane);

  if (width <= 0)
    return G_SOURCE_CONTINUE;
  gtk_paned_set_position (GTK_PANED (self->pane), (int) (width * FORMS_SHARE));
  return G_SOURCE_REMOVE;
}

static gboolean
og_batch_notes_page_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (OG_BATCH_NOTES_PAGE (widget)->fields[OG_BATCH_FORM_DEVIATION][0]);
}

static void
og_batch_notes_page_finalize (GObject *object)
{
  g_free (OG_BATCH_NOTES_PAGE (object)->number);

  G_OBJECT_CLASS (og_batch_notes_page_parent_class)->finalize (object);
}

static void
og_batch_notes_page_class_init (OgBatchNotesPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = og_batch_notes_page_finalize;
  widget_class->grab_focus = og_batch_notes_page_grab_focus;
  OG_LEDGER_PAGE_CLASS (class)->refresh = og_batch_notes_page_refresh;

  gtk_widget_class_install_action (widget_class, "notes.commit", "u", act_commit);
  gtk_widget_class_install_action (widget_class, "notes.photo", NULL, act_photo);
}

static void
og_batch_notes_page_init (OgBatchNotesPage *self)
{
  self->pane = gtk_paned_new (GTK_ORIENTATION_HORIZONTAL);
  gtk_paned_set_shrink_start_child (GTK_PANED (self->pane), FALSE);
  gtk_paned_set_shrink_end_child (GTK_PANED (self->pane), FALSE);
  gtk_paned_set_start_child (GTK_PANED (self->pane), make_forms (self));
  gtk_paned_set_end_child (GTK_PANED (self->pane), make_entries (self));
  gtk_widget_set_vexpand (self->pane, TRUE);
  gtk_box_append (GTK_BOX (self), self->pane);
  gtk_widget_add_tick_callback (GTK_WIDGET (self), on_first_frame, NULL, NULL);
}

GtkWidget *
og_batch_notes_page_new (const char      *number,
                         const OgPackage *package,
                         double           density_20_g_ml)
{
  OgBatchNotesPage *self = g_object_new (OG_TYPE_BATCH_NOTES_PAGE, NULL);

  self->number = g_strdup (number);
  self->package = *package;
  self->density_20_g_ml = density_20_g_ml;
  return GTK_WIDGET (self);
}
