/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "gtk/design/figure-row.h"
#include "core/base/conditions.h"
#include "gtk/design/material-editor.h"
#include "gtk/parts/figure-text.h"
#include "gtk/parts/text-undo.h"

#define MOST_FIELDS 32

struct _OgMaterialEditor
{
  GtkWindow parent_instance;

  GtkWidget *message_revealer;
  GtkWidget *message_label;
  GtkWidget *intro_label;
  GtkWidget *name_entry;
  GtkWidget *name_problem;
  GtkWidget *id_label;
  GtkWidget *note_entry;
  GtkWidget *figures_box;
  GtkWidget *gelling_caption;
  GtkWidget *gelling_box;
  GtkWidget *profile_caption;
  GtkWidget *profile_box;
  GtkWidget *points_label;
  GtkWidget *points_box;

  OgDocument *document;
  OgIngredient *base; /* nullable: what stays as it is where nothing is overridden */
  OgIngredient *own;  /* nullable: the own material that is being changed */
  GtkWidget *rows[MOST_FIELDS];
  GtkWidget *profile_row; /* nullable */
};

G_DEFINE_FINAL_TYPE (OgMaterialEditor, og_material_editor, GTK_TYPE_WINDOW)

static const char *const point_units[] = { "mPa.s", "mm2/s", NULL };

static const char *
entry_text (GtkWidget *entry)
{
  return gtk_editable_get_text (GTK_EDITABLE (entry));
}

/* The member @name of the own material: what the reader overrode there, as it was written. */
static JsonNode *
defined_member (OgMaterialEditor *self,
                const char       *group,
                const char       *name)
{
  JsonObject *object = self->own != NULL ? self->own->definition : NULL;

  if (object != NULL && group != NULL)
    {
      JsonNode *node = json_object_get_member (object, group);

      object = node != NULL && JSON_NODE_HOLDS_OBJECT (node) ? json_node_get_object (node) : NULL;
    }
  return object != NULL ? json_object_get_member (object, name) : NULL;
}

static const char *
field_group (const OgFigureField *field)
{
  return field->gelling ? "gelling" : "figures";
}

/* Ids are the name in lower case with hyphens; a number makes them unique. */
static char *
slug (const char *name)
{
  g_autofree char *ascii = g_str_to_ascii (name, "C");
  GString *id = g_string_new (NULL);

  for (const char *p = ascii; *p != '\0'; p++)
    {
      if (g_ascii_isalnum (*p))
        g_string_append_c (id, g_ascii_tolower (*p));
      else if (id->len > 0 && id->str[id->len - 1] != '-')
        g_string_append_c (id, '-');
    }
  while (id->len > 0 && id->str[id->len - 1] == '-')
    g_string_truncate (id, id->len - 1);
  if (id->len == 0)
    g_string_append (id, "own-material");
  return g_string_free (id, FALSE);
}

static char *
free_id (OgMaterialEditor *self)
{
  OgCatalog *catalog = og_document_get_catalog (self->document);
  g_autofree char *stem = NULL;
  char *id;

  if (self->own != NULL)
    return g_strdup (self->own->id);
  stem = slug (entry_text (self->name_entry));
  id = g_strdup (stem);
  for (guint n = 2; og_catalog_get (catalog, id) != NULL; n++)
    {
      g_free (id);
      id = g_strdup_printf ("%s-%u", stem, n);
    }
  return id;
}

static void
set_name_problem (OgMaterialEditor *self,
                  const char       *problem)
{
  gtk_label_set_label (GTK_LABEL (self->name_problem), problem != NULL ? problem : "");
  gtk_widget_set_visible (self->name_problem, problem != NULL);
  if (problem != NULL)
    gtk_widget_add_css_class (self->name_entry, "error");
  else
    gtk_widget_remove_css_class (self->name_entry, "error");
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->name_entry),
                               GTK_ACCESSIBLE_STATE_INVALID,
                               problem != NULL ? GTK_ACCESSIBLE_INVALID_TRUE
                                               : GTK_ACCESSIBLE_INVALID_FALSE,
                               -1);
}

static void
set_message (OgMaterialEditor *self,
             const char       *message)
{
  if (message != NULL)
    gtk_label_set_label (GTK_LABEL (self->message_label), message);
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->message_revealer), message != NULL);
}

static void
on_name_changed (OgMaterialEditor *self)
{
  g_autofree char *id = NULL;
  g_autofree char *text = NULL;

  if (self->document == NULL)
    return;
  id = free_id (self);
  /* Translators: the short name of a material in files */
  text = g_strdup_printf (_("Known in files as %s"), id);
  gtk_label_set_label (GTK_LABEL (self->id_label), text);
  set_name_problem (self, NULL);
}

static void
on_row_changed (OgMaterialEditor *self)
{
  set_message (self, NULL);
}

static void
add_row (OgMaterialEditor *self,
         GtkWidget        *box,
         GtkWidget        *row)
{
  g_signal_connect_swapped (row, "changed", G_CALLBACK (on_row_changed), self);
  gtk_box_append (GTK_BOX (box), row);
}

static void
set_figure (GtkWidget      *row,
            const OgFigure *figure)
{
  og_figure_row_set_input (OG_FIGURE_ROW (row),
                           &(OgFigureInput) {
                             .value = figure->value,
                             .at_c = figure->at_c,
                             .quality = figure->quality,
                             .source = figure->source,
                           });
}

/* What holds without an override: the figure of the material this one starts from. */
static char *
inherited_text (OgMaterialEditor    *self,
                const OgFigureField *field)
{
  g_autofree char *figure = NULL;

  if (self->base == NULL)
    return NULL;
  figure = og_figure_to_text (og_figure_field_get (field, self->base));
  /* Translators: what the list of materials says about a figure */
  return g_strdup_printf (_("Library: %s"), figure);
}

static void
add_field (OgMaterialEditor    *self,
           guint                i,
           const OgFigureField *field)
{
  g_autofree char *inherited = inherited_text (self, field);

  self->rows[i] = og_figure_row_new (og_figure_field_get_title (field), inherited, TRUE,
                                     field->at_c);
  if (defined_member (self, field_group (field), field->nick) != NULL)
    set_figure (self->rows[i], og_figure_field_get (field, self->own));
  add_row (self, field->gelling ? self->gelling_box : self->figures_box, self->rows[i]);
}

static void
add_fields (OgMaterialEditor   *self,
            const OgIngredient *from)
{
  guint n_fields;
  const OgFigureField *fields = og_figure_fields (&n_fields);
  gboolean gelling = FALSE;

  g_return_if_fail (n_fields <= MOST_FIELDS);
  for (guint i = 0; i < n_fields; i++)
    {
      if (!fields[i].editable || !og_figure_field_applies (&fields[i], from))
        continue;
      add_field (self, i, &fields[i]);
      gelling |= fields[i].gelling;
    }
  gtk_widget_set_visible (self->gelling_caption, gelling);
  gtk_widget_set_visible (self->gelling_box, gelling);
}

static char *
profile_to_text (const OgProfile *profile)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < profile->shares->len; i++)
    {
      const OgAcidShare *share = &g_array_index (profile->shares, OgAcidShare, i);
      g_autofree char *code = og_acid_to_code (share->acid);
      char pct[G_ASCII_DTOSTR_BUF_SIZE];

      g_ascii_formatd (pct, sizeof pct, "%.4g", share->pct);
      g_string_append_printf (text, "%s%s=%s", i > 0 ? "," : "", code, pct);
    }
  return g_string_free (text, FALSE);
}

static void
add_profile (OgMaterialEditor   *self,
             const OgIngredient *from)
{
  g_autofree char *inherited = NULL;
  g_autofree char *text = NULL;

  gtk_widget_set_visible (self->profile_caption, from->profile != NULL);
  gtk_widget_set_visible (self->profile_box, from->profile != NULL);
  if (from->profile == NULL)
    return;
  text = profile_to_text (self->base != NULL && self->base->profile != NULL ? self->base->profile
                                                                            : from->profile);
  /* Translators: the fatty acids that the list of materials gives, with codes such as C18:1=60 */
  inherited = g_strdup_printf (_("Library: %s"), text);
  self->profile_row = og_figure_row_new (_("Shares as C18:1=60,C18:2=30, wt %"), inherited, FALSE,
                                         NAN);
  if (defined_member (self, NULL, "profile") != NULL)
    {
      g_autofree char *own = profile_to_text (self->own->profile);

      og_figure_row_set_input (OG_FIGURE_ROW (self->profile_row),
                               &(OgFigureInput) {
                                 .text = own,
                                 .value = NAN,
                                 .at_c = NAN,
                                 .quality = self->own->profile_quality,
                                 .source = self->own->profile_source,
                               });
    }
  add_row (self, self->profile_box, self->profile_row);
}

static void
update_points (OgMaterialEditor *self)
{
  const gboolean any = gtk_widget_get_first_child (self->points_box) != NULL;
  const guint n = self->base != NULL ? self->base->viscosity->len : 0;
  g_autofree char *text = NULL;

  if (any && n > 0)
    text = g_strdup (_("These points stand in place of all those of the library."));
  else if (any)
    text = g_strdup (_("The library has no points of its own."));
  else
    text = g_strdup_printf (ngettext ("The library has %u point, which stays in use.",
                                      "The library has %u points, which stay in use.", n), n);
  gtk_label_set_label (GTK_LABEL (self->points_label), text);
  gtk_widget_set_visible (self->points_box, any);
}

static void
on_point_remove (OgMaterialEditor *self,
                 OgFigureRow      *row)
{
  gtk_box_remove (GTK_BOX (self->points_box), GTK_WIDGET (row));
  update_points (self);
}

static GtkWidget *
append_point (OgMaterialEditor *self)
{
  const char *const units[] = { og_unit_to_text (point_units[0]), og_unit_to_text (point_units[1]),
                                NULL };
  GtkWidget *row = og_figure_row_new (_("Viscosity"), NULL, TRUE, OG_TEMPERATURE_TABLE_C);

  og_figure_row_make_point (OG_FIGURE_ROW (row), units);
  g_signal_connect_swapped (row, "remove", G_CALLBACK (on_point_remove), self);
  add_row (self, self->points_box, row);
  update_points (self);
  return row;
}

static void
add_point (GtkWidget  *widget,
           const char *action,
           GVariant   *parameter)
{
  gtk_widget_grab_focus (append_point (OG_MATERIAL_EDITOR (widget)));
}

static void
add_points (OgMaterialEditor *self)
{
  if (defined_member (self, NULL, "viscosity") != NULL)
    {
      const GArray *points = self->own->viscosity;

      for (guint i = 0; i < points->len; i++)
        {
          const OgViscosityDatum *datum = &g_array_index (points, OgViscosityDatum, i);

          og_figure_row_set_input (OG_FIGURE_ROW (append_point (self)),
                                   &(OgFigureInput) {
                                     .value = datum->value,
                                     .at_c = datum->temperature_c,
                                     .quality = datum->quality,
                                     .source = datum->source,
                                     .unit = datum->kinematic ? 1 : 0,
                                   });
        }
    }
  update_points (self);
}

static void
set_known (JsonObject          *object,
           const OgFigureInput *input)
{
  json_object_set_string_member (object, "quality", og_quality_to_nick (input->quality));
  json_object_set_string_member (object, "source", input->source);
}

static JsonNode *
take_object (JsonObject *object)
{
  JsonNode *node = json_node_new (JSON_NODE_OBJECT);

  json_node_take_object (node, object);
  return node;
}

static JsonNode *
figure_node (const OgFigureInput *input,
             const char          *unit)
{
  JsonObject *object = json_object_new ();

  json_object_set_double_member (object, "value", input->value);
  json_object_set_string_member (object, "unit", unit);
  if (isfinite (input->at_c))
    json_object_set_double_member (object, "at_c", input->at_c);
  set_known (object, input);
  return take_object (object);
}

/* The object @name of @parent, to be changed; made if it is not there. */
static JsonObject *
ensure_object (JsonObject *parent,
               const char *name)
{
  JsonNode *node = json_object_get_member (parent, name);

  if (node == NULL || !JSON_NODE_HOLDS_OBJECT (node))
    json_object_set_object_member (parent, name, json_object_new ());
  return json_object_get_object_member (parent, name);
}

static gboolean
write_fields (OgMaterialEditor *self,
              JsonObject       *definition)
{
  guint n_fields;
  const OgFigureField *fields = og_figure_fields (&n_fields);
  gboolean good = TRUE;

  for (guint i = 0; i < n_fields; i++)
    {
      OgFigureRow *row = self->rows[i] != NULL ? OG_FIGURE_ROW (self->rows[i]) : NULL;
      g_auto(OgFigureInput) input = { NULL };

      if (row == NULL || og_figure_row_is_unchanged (row))
        continue;
      if (og_figure_row_is_empty (row))
        json_object_remove_member (ensure_object (definition, field_group (&fields[i])),
                                   fields[i].nick);
      else if (og_figure_row_read (row, &input))
        json_object_set_member (ensure_object (definition, field_group (&fields[i])),
                                fields[i].nick, figure_node (&input, fields[i].unit));
      else
        good = FALSE;
    }
  return good;
}

static JsonNode *
profile_node (const OgProfile     *profile,
              const OgFigureInput *input)
{
  JsonObject *object = json_object_new ();
  JsonObject *acids = json_object_new ();

  for (guint i = 0; i < profile->shares->len; i++)
    {
      const OgAcidShare *share = &g_array_index (profile->shares, OgAcidShare, i);
      g_autofree char *code = og_acid_to_code (share->acid);
      JsonObject *figure = json_object_new ();

      json_object_set_double_member (figure, "value", share->pct);
      json_object_set_object_member (acids, code, figure);
    }
  json_object_set_string_member (object, "unit", "wt % of fatty acids");
  json_object_set_object_member (object, "acids", acids);
  set_known (object, input);
  return take_object (object);
}

static gboolean
write_profile (OgMaterialEditor *self,
               JsonObject       *definition)
{
  g_auto(OgFigureInput) input = { NULL };
  g_autoptr(OgProfile) profile = NULL;
  g_autoptr(GError) error = NULL;
  OgFigureRow *row;

  if (self->profile_row == NULL)
    return TRUE;
  row = OG_FIGURE_ROW (self->profile_row);
  if (og_figure_row_is_unchanged (row))
    return TRUE;
  if (og_figure_row_is_empty (row))
    {
      json_object_remove_member (definition, "profile");
      return TRUE;
    }
  if (!og_figure_row_read (row, &input))
    return FALSE;
  profile = og_profile_parse (input.text, &error);
  if (profile == NULL)
    {
      og_figure_row_set_problem (row, error->message);
      return FALSE;
    }
  json_object_set_member (definition, "profile", profile_node (profile, &input));
  return TRUE;
}

static JsonNode *
point_node (const OgFigureInput *input)
{
  JsonObject *object = json_object_new ();

  json_object_set_double_member (object, "temperature_c", input->at_c);
  json_object_set_double_member (object, "value", input->value);
  json_object_set_string_member (object, "unit", point_units[input->unit]);
  set_known (object, input);
  return take_object (object);
}

static gboolean
write_points (OgMaterialEditor *self,
              JsonObject       *definition)
{
  g_autoptr(JsonArray) array = json_array_new ();
  gboolean good = TRUE;

  for (GtkWidget *child = gtk_widget_get_first_child (self->points_box); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      g_auto(OgFigureInput) input = { NULL };

      if (!og_figure_row_read (OG_FIGURE_ROW (child), &input))
        good = FALSE;
      else if (input.value <= 0.0)
        {
          og_figure_row_set_problem (OG_FIGURE_ROW (child), _("A viscosity is above 0."));
          good = FALSE;
        }
      else
        json_array_add_element (array, point_node (&input));
    }
  if (json_array_get_length (array) > 0)
    json_object_set_array_member (definition, "viscosity", g_steal_pointer (&array));
  else
    json_object_remove_member (definition, "viscosity");
  return good;
}

/* A copy of what the own material says already, or the start of a new one. */
static JsonObject *
begin_definition (OgMaterialEditor *self)
{
  JsonObject *definition;

  if (self->own != NULL)
    {
      g_autoptr(JsonNode) node = json_node_new (JSON_NODE_OBJECT);
      g_autofree char *text = NULL;
      g_autoptr(JsonNode) copy = NULL;

      json_node_set_object (node, self->own->definition);
      text = json_to_string (node, FALSE);
      copy = json_from_string (text, NULL);
      return json_node_dup_object (copy);
    }
  definition = json_object_new ();
  json_object_set_string_member (definition, "derived_from", self->base->id);
  return definition;
}

static gboolean
write_name (OgMaterialEditor *self,
            JsonObject       *definition)
{
  g_autofree char *name = g_strstrip (g_strdup (entry_text (self->name_entry)));
  g_autofree char *note = g_strstrip (g_strdup (entry_text (self->note_entry)));
  g_autofree char *id = free_id (self);

  if (*name == '\0')
    {
      set_name_problem (self, _("A name is missing here."));
      return FALSE;
    }
  json_object_set_string_member (definition, "id", id);
  json_object_set_string_member (definition, "name", name);
  if (*note != '\0')
    json_object_set_string_member (definition, "notes", note);
  else
    json_object_remove_member (definition, "notes");
  return TRUE;
}

/* A refusal names the member; it is told next to that field if there is one on screen. */
static void
show_refusal (OgMaterialEditor *self,
              const GError     *error)
{
  guint n_fields;
  const OgFigureField *fields = og_figure_fields (&n_fields);

  for (guint i = 0; i < n_fields; i++)
    {
      if (self->rows[i] != NULL && strstr (error->message, fields[i].nick) != NULL)
        {
          og_figure_row_set_problem (OG_FIGURE_ROW (self->rows[i]), error->message);
          return;
        }
    }
  set_message (self, error->message);
}

gboolean
og_material_editor_save (OgMaterialEditor *self)
{
  g_autoptr(JsonObject) definition = NULL;
  g_autoptr(OgIngredient) material = NULL;
  g_autoptr(GError) error = NULL;
  gboolean good;

  g_return_val_if_fail (OG_IS_MATERIAL_EDITOR (self), FALSE);

  set_message (self, NULL);
  definition = begin_definition (self);
  good = write_name (self, definition);
  good &= write_fields (self, definition);
  good &= write_profile (self, definition);
  good &= write_points (self, definition);
  if (!good)
    {
      set_message (self, _("Something is missing or wrong; it is told by the field."));
      return FALSE;
    }
  material = og_ingredient_new_from_json (definition, NULL, self->base, &error);
  if (material == NULL)
    {
      show_refusal (self, error);
      return FALSE;
    }
  og_document_put_material (self->document, material);
  return TRUE;
}

static gboolean
focus_if_bad (GtkWidget *row)
{
  return row != NULL && og_figure_row_get_problem (OG_FIGURE_ROW (row)) != NULL
         && gtk_widget_grab_focus (row);
}

/* Takes the reader to the first field that was refused. */
static void
focus_problem (OgMaterialEditor *self)
{
  if (gtk_widget_get_visible (self->name_problem))
    {
      gtk_widget_grab_focus (self->name_entry);
      return;
    }
  for (guint i = 0; i < MOST_FIELDS; i++)
    {
      if (focus_if_bad (self->rows[i]))
        return;
    }
  if (focus_if_bad (self->profile_row))
    return;
  for (GtkWidget *child = gtk_widget_get_first_child (self->points_box); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      if (focus_if_bad (child))
        return;
    }
}

static void
save (GtkWidget  *widget,
      const char *action,
      GVariant   *parameter)
{
  if (og_material_editor_save (OG_MATERIAL_EDITOR (widget)))
    {
      gtk_window_destroy (GTK_WINDOW (widget));
      return;
    }
  focus_problem (OG_MATERIAL_EDITOR (widget));
  gtk_widget_error_bell (widget);
}

static OgIngredient *
ref_material (OgMaterialEditor *self,
              const char       *id)
{
  const OgIngredient *material =
    id != NULL ? og_catalog_get (og_document_get_catalog (self->document), id) : NULL;

  return material != NULL ? og_ingredient_ref ((OgIngredient *) material) : NULL;
}

static void
show_names (OgMaterialEditor *self)
{
  g_autofree char *intro = NULL;
  g_autofree char *name = NULL;

  if (self->base != NULL)
    /* Translators: %s is the name of a material */
    intro = g_strdup_printf (_("Starts from %s. What stays empty keeps the figure of the library; "
                               "what the library does not know stays unknown."),
                             self->base->name);
  else
    intro = g_strdup (_("A material of this document only. What stays empty is unknown."));
  gtk_label_set_label (GTK_LABEL (self->intro_label), intro);
  /* Translators: proposed name of an own material; %s is what it was derived from */
  name = self->own != NULL ? g_strdup (self->own->name)
                           : g_strdup_printf (_("%s, own"), self->base->name);
  og_editable_show (GTK_EDITABLE (self->name_entry), name);
  if (defined_member (self, NULL, "notes") != NULL && self->own->notes != NULL)
    og_editable_show (GTK_EDITABLE (self->note_entry), self->own->notes);
  gtk_window_set_title (GTK_WINDOW (self),
                        self->own != NULL ? _("Edit own material") : _("Derive an own material"));
  on_name_changed (self);
}

static void
og_material_editor_dispose (GObject *object)
{
  OgMaterialEditor *self = OG_MATERIAL_EDITOR (object);

  gtk_widget_dispose_template (GTK_WIDGET (self), OG_TYPE_MATERIAL_EDITOR);
  g_clear_object (&self->document);
  g_clear_pointer (&self->base, og_ingredient_unref);
  g_clear_pointer (&self->own, og_ingredient_unref);

  G_OBJECT_CLASS (og_material_editor_parent_class)->dispose (object);
}

static void
og_material_editor_class_init (OgMaterialEditorClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_material_editor_dispose;

  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/material-editor.ui");
  gtk_widget_class_bind_template_child (widget_class, OgMaterialEditor, message_revealer);
  gtk_widget_class_bind_template_child (widget_class, OgMaterialEditor, message_label);
  gtk_widget_class_bind_template_child (widget_class, OgMaterialEditor, intro_label);
  gtk_widget_class_bind_template_child (widget_class, OgMaterialEditor, name_entry);
  gtk_widget_class_bind_template_child (widget_class, OgMaterialEditor, name_problem);
  gtk_widget_class_bind_template_child (widget_class, OgMaterialEditor, id_label);
  gtk_widget_class_bind_template_child (widget_class, OgMaterialEditor, note_entry);
  gtk_widget_class_bind_template_child (widget_class, OgMaterialEditor, figures_box);
  gtk_widget_class_bind_template_child (widget_class, OgMaterialEditor, gelling_caption);
  gtk_widget_class_bind_template_child (widget_class, OgMaterialEditor, gelling_box);
  gtk_widget_class_bind_template_child (widget_class, OgMaterialEditor, profile_caption);
  gtk_widget_class_bind_template_child (widget_class, OgMaterialEditor, profile_box);
  gtk_widget_class_bind_template_child (widget_class, OgMaterialEditor, points_label);
  gtk_widget_class_bind_template_child (widget_class, OgMaterialEditor, points_box);
  gtk_widget_class_bind_template_callback (widget_class, on_name_changed);
  gtk_widget_class_install_action (widget_class, "editor.save", NULL, save);
  gtk_widget_class_install_action (widget_class, "editor.add-point", NULL, add_point);
}

static void
og_material_editor_init (OgMaterialEditor *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
og_material_editor_new (OgDocument *document,
                        const char *ingredient_id,
                        gboolean    edit)
{
  OgMaterialEditor *self;
  const OgIngredient *from;

  g_return_val_if_fail (OG_IS_DOCUMENT (document), NULL);
  from = og_catalog_get (og_document_get_catalog (document), ingredient_id);
  g_return_val_if_fail (from != NULL, NULL);

  self = g_object_new (OG_TYPE_MATERIAL_EDITOR, NULL);
  self->document = g_object_ref (document);
  if (edit)
    self->own = ref_material (self, ingredient_id);
  self->base = ref_material (self, edit ? from->derived_from : ingredient_id);
  from = edit ? self->own : self->base;
  show_names (self);
  add_fields (self, from);
  add_profile (self, from);
  add_points (self);
  return GTK_WIDGET (self);
}
