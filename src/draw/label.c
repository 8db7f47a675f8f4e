/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/label.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/base/dates.h"
#include "core/base/number-text.h"
#include "draw/paint.h"
#include "draw/text.h"

#define EXPORT_WIDTH 340.0 /* points: about twice a small folding box, to be read on paper */
#define EXPORT_FONT_SIZE 9.0
#define BLANK "________"
#define ML_PER_FL_OZ 29.5735295625 /* US fluid ounce, exactly 231/128 cubic inch */
#define G_PER_OZ 28.349523125      /* avoirdupois, by definition */

/* In units of the font size. */
#define PADDING 1.2
#define GAP 0.6
#define SIGN_SIZE 3.6
#define LINE_WIDTH 0.08

typedef enum
{
  ROW_TITLE,
  ROW_FUNCTION,
  ROW_TEXT,    /* heading and text */
  ROW_WARNING,
  ROW_OPEN,    /* the open jar; text: months */
  ROW_NOTE,    /* below the frame: for whoever makes the label */
  ROW_MISSING  /* as ROW_NOTE, in the colour of cautions */
} RowKind;

typedef struct
{
  RowKind kind;
  char   *text;
  char   *spoken; /* nullable: instead of the text where it is read */
} Row;

struct _OgLabel
{
  GPtrArray *rows; /* of Row */
};

static void
row_free (gpointer data)
{
  Row *row = data;

  g_free (row->text);
  g_free (row->spoken);
  g_free (row);
}

/* takes @text */
static Row *
add_row (OgLabel *label,
         RowKind  kind,
         char    *text)
{
  Row *row = g_new0 (Row, 1);

  row->kind = kind;
  row->text = text;
  g_ptr_array_add (label->rows, row);

  return row;
}

/* --- what a label says --- */

/* Rounded down, so that no label promises more than there is. */
static char *
rounded_down (double value)
{
  return og_number_trimmed (floor (100 * value) / 100, 2);
}

static char *
net_content (const OgPackage *package,
             OgMarket         market)
{
  g_autofree char *number = NULL;
  g_autofree char *ounces = NULL;
  gboolean volume = package->unit == OG_NET_ML;

  if (!isfinite (package->nominal))
    return g_strdup (BLANK);
  number = og_number_trimmed (package->nominal, 2);
  if (market == OG_MARKET_EU)
    return g_strdup_printf (volume ? _("%s ml") : _("%s g"), number);

  ounces = rounded_down (package->nominal / (volume ? ML_PER_FL_OZ : G_PER_OZ));

  /* Translators: ounces, then millilitres or grams */
  return g_strdup_printf (volume ? _("%s fl oz (%s ml)") : _("Net wt. %s oz (%s g)"), ounces,
                          number);
}

/* "2027-08" as labels write it, month first. */
static char *
month_and_year (const char *text)
{
  guint year, month;

  if (!og_month_parse (text, &year, &month))
    return g_strdup (og_text_is_blank (text) ? BLANK : text);

  return g_strdup_printf ("%02u/%04u", month, year);
}

static void
add_function (OgLabel         *label,
              const OgFormula *formula)
{
  if (!og_text_is_blank (formula->purpose))
    add_row (label, ROW_FUNCTION, g_strdup (formula->purpose));
  else if (formula->product != OG_PRODUCT_UNSAID)
    add_row (label, ROW_FUNCTION, g_strdup (og_product_get_name (formula->product)));
}

static void
add_durability (OgLabel         *label,
                const OgFormula *formula,
                const char      *best_before)
{
  g_autofree char *date = NULL;
  Row *row;

  if (og_text_is_blank (best_before) && formula->open_months > 0)
    {
      /* The sign of Annex VII is a number and the letter M in every language. */
      row = add_row (label, ROW_OPEN, g_strdup_printf ("%u M", formula->open_months));
      row->spoken = g_strdup_printf (ngettext ("Period after opening: %u month",
                                               "Period after opening: %u months",
                                               formula->open_months),
                                     formula->open_months);
      return;
    }
  date = month_and_year (best_before);
  add_row (label, ROW_TEXT, g_strdup_printf (_("Best used before the end of: %s"), date));
}

/* Sentences that entries of the law ask labels to bear, by the id of the rule. */
static const struct
{
  const char *rule_id;
  const char *text;
} demanded[] = {
  { "eu-iii-376-warning", N_("Contains Vitamin A. Consider your daily intake before use.") },
  { "eu-iii-98-children", N_("Not to be used for children under 3 years of age.") },
};

static gboolean
is_demanded (const OgResult *result,
             const char     *rule_id)
{
  for (guint i = 0; i < result->rulings->len; i++)
    {
      const OgRuling *ruling = g_ptr_array_index (result->rulings, i);

      if (strcmp (ruling->rule->id, rule_id) == 0)
        return TRUE;
    }

  return FALSE;
}

static void
add_warnings (OgLabel         *label,
              const OgFormula *formula,
              const OgResult  *result,
              OgMarket         market)
{
  for (guint i = 0; market == OG_MARKET_EU && i < G_N_ELEMENTS (demanded); i++)
    if (is_demanded (result, demanded[i].rule_id))
      add_row (label, ROW_WARNING, g_strdup (_(demanded[i].text)));
  if (!og_text_is_blank (formula->warnings))
    add_row (label, ROW_WARNING, g_strdup (formula->warnings));
}

static void
add_line (OgLabel    *label,
          const char *format,
          const char *text)
{
  g_auto (GStrv) parts = g_strsplit (format, "%s", 2);

  add_row (label, ROW_TEXT, g_strjoin (og_text_is_blank (text) ? BLANK : text, parts[0], parts[1], NULL));
}

static void
add_notes (OgLabel             *label,
           const OgDeclaration *declaration)
{
  if (!declaration->complete)
    add_row (label, ROW_MISSING,
             g_strdup (_("The ingredient declaration is not complete yet: see its findings.")));
  if (declaration->market == OG_MARKET_US)
    add_row (label, ROW_NOTE,
             g_strdup (_("Letters of the ingredients at least 1/16 inch (1.6 mm) high (21 CFR "
                         "701.3(b)); smaller ones only where the law allows it.")));
  else
    add_row (label, ROW_NOTE,
             g_strdup (_("Easily legible letters that cannot be wiped off (Regulation (EC) "
                         "1223/2009, Article 19(1)); the responsible person has an address in the "
                         "Union.")));
  add_row (label, ROW_NOTE,
           g_strdup (_("A sketch of text and order, not a design. Check your local rules before "
                       "you print.")));
}

OgLabel *
og_label_new (const OgFormula     *formula,
              const OgResult      *result,
              const OgDeclaration *declaration,
              const OgLabelText   *text)
{
  static const OgLabelText nothing = { 0 };
  OgLabel *label;
  g_autofree char *net = NULL;

  g_return_val_if_fail (formula != NULL && result != NULL && declaration != NULL, NULL);

  if (text == NULL)
    text = &nothing;
  net = net_content (&formula->package, declaration->market);
  label = g_new0 (OgLabel, 1);
  label->rows = g_ptr_array_new_with_free_func (row_free);
  add_row (label, ROW_TITLE,
           g_strdup (og_text_is_blank (formula->title) ? _("Untitled recipe") : formula->title));
  add_function (label, formula);
  add_line (label, _("Net content: %s"), net);
  /* Translators: heading of the ingredient list on a label; leave %s */
  add_line (label, _("Ingredients: %s"), declaration->text);
  add_warnings (label, formula, result, declaration->market);
  add_durability (label, formula, text->best_before);
  add_line (label, _("Batch: %s"), text->batch_code);
  add_line (label, _("Responsible person: %s"), text->responsible);
  add_line (label, _("Country of origin: %s"), text->country);
  add_notes (label, declaration);

  return label;
}

void
og_label_free (OgLabel *label)
{
  if (label == NULL)
    return;

  g_ptr_array_unref (label->rows);
  g_free (label);
}

char *
og_label_describe (const OgLabel *label)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < label->rows->len; i++)
    {
      const Row *row = g_ptr_array_index (label->rows, i);

      g_string_append (text, row->spoken != NULL ? row->spoken : row->text);
      g_string_append_c (text, '\n');
    }

  return g_string_free (text, FALSE);
}

/* --- painting --- */

/* Painter: where the next row goes. Without @cr it only measures. */
typedef struct
{
  const OgDrawStyle *style;
  cairo_t           *cr; /* nullable */
  PangoContext      *context;
  double             x, width;
  double             y;
} Painter;

static double
row_scale (RowKind kind)
{
  switch (kind)
    {
    case ROW_TITLE:
      return 1.6;
    case ROW_NOTE:
    case ROW_MISSING:
      return 0.85;
    case ROW_FUNCTION:
    case ROW_TEXT:
    case ROW_WARNING:
    case ROW_OPEN:
    default:
      return 1;
    }
}

static const OgColour *
row_colour (const OgDrawStyle *style,
            RowKind            kind)
{
  if (kind == ROW_NOTE)
    return &style->dim;

  return kind == ROW_MISSING ? &style->caution : &style->foreground;
}

static void
paint_text (Painter   *self,
            const Row *row)
{
  gboolean bold = row->kind == ROW_TITLE || row->kind == ROW_WARNING;
  PangoWeight weight = bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL;
  g_autoptr (PangoLayout) layout
      = og_text_layout_new (self->context, self->style, row->text, row_scale (row->kind), weight);
  double height;

  og_text_set_width (layout, self->width, FALSE);
  og_text_set_side (layout, self->style->rtl);
  og_text_get_size (layout, NULL, &height);
  if (self->cr != NULL)
    {
      og_set_colour (self->cr, row_colour (self->style, row->kind), 1);
      og_text_draw (self->cr, layout, self->x, self->y);
    }
  self->y += height + GAP * self->style->font_size;
}

/* A jar of @size with its lid lifted off to the side, as in Annex VII. */
static void
trace_jar (cairo_t *cr,
           double   x,
           double   y,
           double   size)
{
  double rim = y + 0.46 * size, bottom = y + size, round = 0.14 * size;

  cairo_move_to (cr, x, rim);
  cairo_line_to (cr, x, bottom - round);
  cairo_arc_negative (cr, x + round, bottom - round, round, G_PI, G_PI / 2);
  cairo_arc_negative (cr, x + size - round, bottom - round, round, G_PI / 2, 0);
  cairo_line_to (cr, x + size, rim);
  cairo_close_path (cr);
  cairo_move_to (cr, x + 0.08 * size, y + 0.26 * size);
  cairo_line_to (cr, x + 0.92 * size, y);
  cairo_line_to (cr, x + size, y + 0.16 * size);
  cairo_line_to (cr, x + 0.16 * size, y + 0.42 * size);
  cairo_close_path (cr);
}

static void
paint_open_jar (Painter   *self,
                const Row *row)
{
  double size = SIGN_SIZE * self->style->font_size;
  double x = self->style->rtl ? self->x + self->width - size : self->x;
  g_autoptr (PangoLayout) layout
      = og_text_layout_new (self->context, self->style, row->text, 1, PANGO_WEIGHT_BOLD);
  double width, height;

  og_text_get_size (layout, &width, &height);
  if (self->cr != NULL)
    {
      og_set_colour (self->cr, &self->style->foreground, 1);
      cairo_set_line_width (self->cr, LINE_WIDTH * self->style->font_size);
      trace_jar (self->cr, x, self->y, size);
      cairo_stroke (self->cr);
      og_text_draw (self->cr, layout, x + (size - width) / 2,
                    self->y + 0.73 * size - height / 2);
    }
  self->y += size + GAP * self->style->font_size;
}

static gboolean
is_below_frame (RowKind kind)
{
  return kind == ROW_NOTE || kind == ROW_MISSING;
}

static void
paint_frame (const Painter *self,
             double         height)
{
  double line = LINE_WIDTH * self->style->font_size;
  double width = self->width + 2 * PADDING * self->style->font_size;

  if (self->cr == NULL)
    return;
  og_set_colour (self->cr, &self->style->dim, 1);
  cairo_set_line_width (self->cr, line);
  cairo_rectangle (self->cr, line, line, width - 2 * line, height - 2 * line);
  cairo_stroke (self->cr);
}

/* Returns: the height of all of it */
static double
paint (const OgLabel     *label,
       cairo_t           *cr,
       double             width,
       const OgDrawStyle *style)
{
  double padding = PADDING * style->font_size;
  Painter self = {
    .style = style,
    .cr = cr,
    .context = og_text_context_new (cr, style),
    .x = padding,
    .width = MAX (width - 2 * padding, 1),
    .y = padding,
  };
  gboolean framed = FALSE;

  for (guint i = 0; i < label->rows->len; i++)
    {
      const Row *row = g_ptr_array_index (label->rows, i);

      if (!framed && is_below_frame (row->kind))
        {
          framed = TRUE;
          self.y += padding / 2;
          paint_frame (&self, self.y);
          self.y += padding / 2;
        }
      if (row->kind == ROW_OPEN)
        paint_open_jar (&self, row);
      else
        paint_text (&self, row);
    }
  g_object_unref (self.context);

  return self.y + padding / 2;
}

double
og_label_measure (const OgLabel     *label,
                  double             width,
                  const OgDrawStyle *style)
{
  g_return_val_if_fail (label != NULL && style != NULL, 0);

  return paint (label, NULL, width, style);
}

void
og_label_draw (const OgLabel     *label,
               cairo_t           *cr,
               double             width,
               const OgDrawStyle *style)
{
  g_return_if_fail (label != NULL && cr != NULL && style != NULL);

  cairo_save (cr);
  paint (label, cr, width, style);
  cairo_restore (cr);
}

static void
paint_export (cairo_t           *cr,
              double             width,
              double             height,
              gconstpointer      data,
              const OgDrawStyle *style)
{
  og_set_colour (cr, &style->background, 1);
  cairo_paint (cr);
  og_label_draw (data, cr, width, style);
}

gboolean
og_export_label (const OgLabel   *label,
                 const char      *path,
                 OgExportFormat   format,
                 GError         **error)
{
  OgDrawStyle style;

  g_return_val_if_fail (label != NULL && path != NULL, FALSE);

  og_export_style (&style);
  style.font_size = EXPORT_FONT_SIZE;

  return og_export_painting (paint_export, label, EXPORT_WIDTH,
                             og_label_measure (label, EXPORT_WIDTH, &style), EXPORT_FONT_SIZE, path,
                             format, error);
}
