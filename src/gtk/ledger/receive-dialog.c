/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/currency.h"
#include "gtk/ledger/ledger-words.h"
#include "gtk/ledger/receive-dialog.h"
#include "gtk/parts/form-window.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/material-chooser.h"
#include "gtk/parts/table-editor.h"
#include "gtk/parts/text-field.h"
#include "gtk/parts/typed-number.h"

#define NUMBER_CHARS 7

/* What laboratories put on a certificate of a lipid. */
static const OgFigureId figures[] = {
  OG_FIGURE_DENSITY_G_ML,      OG_FIGURE_IODINE_VALUE, OG_FIGURE_SAPONIFICATION_VALUE,
  OG_FIGURE_REFRACTIVE_INDEX,  OG_FIGURE_MELTING_C,    OG_FIGURE_FLASH_POINT_C,
  OG_FIGURE_SMOKE_POINT_C,     OG_FIGURE_MAX_HEAT_C,   OG_FIGURE_UNSAPONIFIABLE_PCT,
  OG_FIGURE_NATURAL_ORIGIN_INDEX,
};

enum
{
  COLUMN_FIGURE,
  COLUMN_VALUE,
  COLUMN_AT,
  N_COLUMNS
};

struct _OgReceiveDialog
{
  GtkWindow parent_instance;

  GtkWidget *chooser;
  GtkWidget *fields[OG_N_RECEIVE_FIELDS];
  GtkWidget *table;
  GtkWidget *problem_label;
  OgTableColumn columns[N_COLUMNS];
  const char *figure_names[G_N_ELEMENTS (figures) + 1];

  OgLedger *ledger;
};

G_DEFINE_FINAL_TYPE (OgReceiveDialog, og_receive_dialog, GTK_TYPE_WINDOW)

enum
{
  RECEIVED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static OgTextField *
get_field (OgReceiveDialog *self,
           OgReceiveField   field)
{
  return OG_TEXT_FIELD (self->fields[field]);
}

void
og_receive_dialog_type (OgReceiveDialog *self,
                        OgReceiveField   field,
                        const char      *text)
{
  g_return_if_fail (OG_IS_RECEIVE_DIALOG (self));
  g_return_if_fail (field < OG_N_RECEIVE_FIELDS);

  og_text_field_set_text (get_field (self, field), text);
}

/* Reading: each function says at its own field what is wrong there */

static gboolean
refuse (OgReceiveDialog *self,
        OgReceiveField   field,
        const char      *problem)
{
  og_text_field_set_problem (get_field (self, field), problem);
  return FALSE;
}

static gboolean
read_text (OgReceiveDialog  *self,
           OgReceiveField    field,
           char            **text)
{
  g_free (*text);
  *text = og_text_field_get_text (get_field (self, field));
  return *text != NULL;
}

/* @value is NAN if nothing is typed. */
static gboolean
read_number (OgReceiveDialog *self,
             OgReceiveField   field,
             double          *value)
{
  g_autofree char *text = og_text_field_get_text (get_field (self, field));
  g_autofree char *problem = NULL;

  *value = NAN;
  problem = text != NULL ? og_typed_number (text, value) : NULL;
  return problem == NULL || refuse (self, field, problem);
}

static gboolean
read_mg (OgReceiveDialog *self,
         OgReceiveField   field,
         gboolean         needed,
         gint64          *mg)
{
  double grams;

  *mg = 0;
  if (!read_number (self, field, &grams))
    return FALSE;
  if (isnan (grams))
    return needed ? refuse (self, field, _("A number is missing here.")) : TRUE;
  if (!og_ledger_g_to_mg (grams, mg))
    return refuse (self, field, _("This is too large."));
  return *mg > 0 || refuse (self, field, _("This has to be above 0."));
}

static gboolean
read_day (OgReceiveDialog  *self,
          OgReceiveField    field,
          char            **day)
{
  if (!og_text_field_check_day (get_field (self, field)))
    return FALSE;
  read_text (self, field, day);
  return TRUE;
}

static gboolean
read_material (OgReceiveDialog *self,
               OgLot           *lot)
{
  const OgIngredient *material = og_material_chooser_get (OG_MATERIAL_CHOOSER (self->chooser));

  if (material == NULL)
    {
      og_material_chooser_set_problem (OG_MATERIAL_CHOOSER (self->chooser),
                                       _("Choose a material from the list."));
      return FALSE;
    }
  lot->material_id = g_strdup (material->id);
  lot->material_name = g_strdup (material->name);
  return TRUE;
}

static gboolean
read_price (OgReceiveDialog *self,
            OgLot           *lot)
{
  gboolean good = read_number (self, OG_RECEIVE_PRICE, &lot->price)
                  && (!(lot->price < 0.0)
                      || refuse (self, OG_RECEIVE_PRICE, _("This cannot be below 0.")));

  read_text (self, OG_RECEIVE_CURRENCY, &lot->currency);
  if (good && lot->currency != NULL && isnan (lot->price))
    good = refuse (self, OG_RECEIVE_PRICE, _("A currency needs a price."));
  if (lot->currency != NULL && og_currency_find (lot->currency) == NULL)
    good = refuse (self, OG_RECEIVE_CURRENCY, _("A code of three letters, such as EUR."));
  return read_mg (self, OG_RECEIVE_PACK, FALSE, &lot->pack_mg) && good;
}

/* A number of a row of the certificate. */
static gboolean
read_cell (OgReceiveDialog *self,
           guint            row,
           guint            column,
           double          *value)
{
  OgTableEditor *table = OG_TABLE_EDITOR (self->table);
  g_autofree char *text = og_table_editor_get_text (table, row, column);
  g_autofree char *problem = NULL;

  *value = NAN;
  if (*text == '\0' && column == COLUMN_AT)
    return TRUE;
  problem = og_typed_number (text, value);
  if (problem != NULL)
    og_table_editor_set_problem (table, row, column, problem);
  return problem == NULL;
}

static gboolean
has_figure (const GArray *certificate,
            OgFigureId    figure)
{
  for (guint i = 0; i < certificate->len; i++)
    {
      if (g_array_index (certificate, OgCertificateValue, i).figure == figure)
        return TRUE;
    }
  return FALSE;
}

static gboolean
read_row (OgReceiveDialog *self,
          guint            row,
          OgLot           *lot)
{
  OgTableEditor *table = OG_TABLE_EDITOR (self->table);
  OgCertificateValue value = { figures[og_table_editor_get_choice (table, row, COLUMN_FIGURE)],
                               NAN, NAN };

  og_table_editor_set_problem (table, row, COLUMN_VALUE, NULL);
  if (og_table_editor_is_row_empty (table, row))
    return TRUE;
  if (!read_cell (self, row, COLUMN_VALUE, &value.value)
      || !read_cell (self, row, COLUMN_AT, &value.at_c))
    return FALSE;
  if (has_figure (lot->certificate, value.figure))
    {
      og_table_editor_set_problem (table, row, COLUMN_FIGURE, _("This figure is there already."));
      return FALSE;
    }
  g_array_append_val (lot->certificate, value);
  return TRUE;
}

/* All fields are looked at, so that each says what is wrong with its own text. */
static gboolean
read_form (OgReceiveDialog *self,
           OgLot           *lot,
           gint64          *amount_mg)
{
  gboolean good = read_material (self, lot);

  good &= read_text (self, OG_RECEIVE_LOT, &lot->code)
          || refuse (self, OG_RECEIVE_LOT, _("The lot needs a name."));
  good &= read_mg (self, OG_RECEIVE_AMOUNT, TRUE, amount_mg);
  read_text (self, OG_RECEIVE_SUPPLIER, &lot->supplier);
  good &= read_day (self, OG_RECEIVE_RECEIVED, &lot->received);
  good &= read_day (self, OG_RECEIVE_BEST_BEFORE, &lot->best_before);
  good &= read_price (self, lot);
  for (guint i = 0; i < og_table_editor_get_n_rows (OG_TABLE_EDITOR (self->table)); i++)
    good &= read_row (self, i, lot);
  return good;
}

static void
tell (OgReceiveDialog *self,
      const GError    *error)
{
  if (g_error_matches (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_EXISTS))
    refuse (self, OG_RECEIVE_LOT, error->message);
  else
    og_label_set_optional (self->problem_label, error->message);
}

gboolean
og_receive_dialog_apply (OgReceiveDialog *self)
{
  g_autoptr (OgLot) lot = og_lot_new ();
  g_autofree char *who = NULL;
  g_autofree char *reason = NULL;
  g_autoptr (GError) error = NULL;
  OgLedgerNote note = { NULL };
  gint64 amount_mg;

  g_return_val_if_fail (OG_IS_RECEIVE_DIALOG (self), FALSE);

  og_label_set_optional (self->problem_label, NULL);
  if (!read_form (self, lot, &amount_mg))
    return FALSE;
  note.who = who = og_text_field_get_text (get_field (self, OG_RECEIVE_WHO));
  note.note = reason = og_text_field_get_text (get_field (self, OG_RECEIVE_NOTE));
  if (og_ledger_receive (self->ledger, lot, amount_mg, &note, &error) == 0)
    {
      tell (self, error);
      return FALSE;
    }
  og_ledger_set_who (self->ledger, who);
  g_signal_emit (self, signals[RECEIVED], 0, lot->material_id, lot->code);
  return TRUE;
}

static void
act_apply (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  if (og_receive_dialog_apply (OG_RECEIVE_DIALOG (widget)))
    gtk_window_destroy (GTK_WINDOW (widget));
  else
    gtk_widget_error_bell (widget);
}

/* Building */

static const struct
{
  const char *title;
  const char *hint;
} words[OG_N_RECEIVE_FIELDS] = {
  [OG_RECEIVE_LOT] = { N_("Lot") },
  [OG_RECEIVE_AMOUNT] = { N_("Amount, g") },
  [OG_RECEIVE_SUPPLIER] = { N_("Supplier") },
  [OG_RECEIVE_RECEIVED] = { N_("Received on"), N_("2026-03-01") },
  [OG_RECEIVE_BEST_BEFORE] = { N_("Best before"), N_("2027-03-01") },
  [OG_RECEIVE_PRICE] = { N_("Price of a pack") },
  [OG_RECEIVE_CURRENCY] = { N_("Currency") },
  [OG_RECEIVE_PACK] = { N_("Pack, g"), N_("the whole amount") },
  [OG_RECEIVE_WHO] = { N_("Who") },
  [OG_RECEIVE_NOTE] = { N_("Note") },
};

static void
add_certificate (OgReceiveDialog *self,
                 GtkWidget       *box)
{
  for (guint i = 0; i < G_N_ELEMENTS (figures); i++)
    self->figure_names[i] = og_figure_id_get_name (figures[i]);
  self->columns[COLUMN_FIGURE] = (OgTableColumn) { _("Figure"), FALSE, 0, self->figure_names };
  self->columns[COLUMN_VALUE] = (OgTableColumn) { _("Value"), TRUE, NUMBER_CHARS, NULL };
  self->columns[COLUMN_AT] = (OgTableColumn) { _("At, °C"), TRUE, NUMBER_CHARS, NULL };
  self->table = og_table_editor_new (self->columns, N_COLUMNS, _("Add a figure"));
  gtk_box_append (GTK_BOX (box), og_wrapping_label_new (_("Certificate"), "heading"));
  gtk_box_append (GTK_BOX (box), self->table);
}

static void
add_fields (OgReceiveDialog *self,
            OgCatalog       *catalog,
            GtkWidget       *box)
{
  g_autoptr (GtkSizeGroup) titles = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  g_autofree char *today = og_ledger_day (now);

  self->chooser = og_material_chooser_new (_("Material"), catalog);
  og_material_chooser_join (OG_MATERIAL_CHOOSER (self->chooser), titles);
  gtk_box_append (GTK_BOX (box), self->chooser);
  for (guint i = 0; i < OG_N_RECEIVE_FIELDS; i++)
    {
      const char *hint = words[i].hint != NULL ? _(words[i].hint) : NULL;

      self->fields[i] = og_text_field_new (_(words[i].title), hint);
      og_text_field_join (get_field (self, i), titles);
      gtk_box_append (GTK_BOX (box), self->fields[i]);
    }
  og_text_field_set_text (get_field (self, OG_RECEIVE_RECEIVED), today);
  og_text_field_set_text (get_field (self, OG_RECEIVE_WHO), og_ledger_get_who (self->ledger));
  add_certificate (self, box);
  self->problem_label = og_form_problem_new ();
  gtk_box_append (GTK_BOX (box), self->problem_label);
}

static void
og_receive_dialog_finalize (GObject *object)
{
  g_clear_object (&OG_RECEIVE_DIALOG (object)->ledger);

  G_OBJECT_CLASS (og_receive_dialog_parent_class)->finalize (object);
}

static void
og_receive_dialog_class_init (OgReceiveDialogClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = og_receive_dialog_finalize;

  signals[RECEIVED] = g_signal_new ("received", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                    NULL, NULL, NULL, G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_STRING);

  gtk_widget_class_install_action (widget_class, "receive.apply", NULL, act_apply);
  og_form_window_init_class (widget_class);
}

static void
og_receive_dialog_init (OgReceiveDialog *self)
{
}

GtkWidget *
og_receive_dialog_new (OgLedger   *ledger,
                       OgCatalog  *catalog,
                       const char *material_id)
{
  OgReceiveDialog *self;

  g_return_val_if_fail (OG_IS_LEDGER (ledger) && catalog != NULL, NULL);

  self = g_object_new (OG_TYPE_RECEIVE_DIALOG, NULL);
  self->ledger = g_object_ref (ledger);
  add_fields (self, catalog, og_form_window_build (GTK_WINDOW (self), _("Receive a delivery"),
                                                   _("Record"), "receive.apply"));
  gtk_window_set_default_size (GTK_WINDOW (self), 520, 640);
  if (material_id != NULL
      && og_material_chooser_choose (OG_MATERIAL_CHOOSER (self->chooser), material_id))
    gtk_widget_grab_focus (self->fields[OG_RECEIVE_LOT]);
  else
    gtk_widget_grab_focus (self->chooser);
  return GTK_WIDGET (self);
}
