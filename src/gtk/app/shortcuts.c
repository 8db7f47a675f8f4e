/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "gtk/app/shortcuts.h"

#define MAX_KEYS 3

typedef struct
{
  const char *group; /* NULL: as the one before */
  const char *title; /* NULL: not worth a line of its own */
  const char *action;
  const char *keys[MAX_KEYS];
  gboolean text_first; /* a focused text entry comes first */
} Shortcut;

static const Shortcut shortcuts[] = {
  { N_("Recipes"), N_("New recipe"), "app.new-window", { "<Control>n" } },
  { NULL, N_("Draft from a brief"), "win.draft", { "<Control><Shift>b" } },
  { NULL, N_("Open a recipe"), "win.open", { "<Control>o" } },
  { NULL, N_("Save"), "win.save", { "<Control>s" } },
  { NULL, N_("Save as"), "win.save-as", { "<Control><Shift>s" } },
  { NULL, N_("Print the recipe card"), "win.print", { "<Control>p" } },
  { NULL, N_("Recipe card as PDF"), "win.export-card::pdf", { "<Control>e" } },
  { NULL, N_("Ledger: stock and batches"), "app.show-ledger", { "<Control>l" } },
  { NULL, N_("Close the window"), "win.close", { "<Control>w" } },
  { NULL, N_("Quit"), "app.quit", { "<Control>q" } },
  { N_("Editing"), N_("Undo"), "win.undo", { "<Control>z" }, TRUE },
  { NULL, N_("Redo"), "win.redo", { "<Control><Shift>z", "<Control>y" }, TRUE },
  { NULL, N_("Find a material"), "win.find-material", { "<Control>f" } },
  { NULL, N_("Go to the recipe"), "win.go-to-recipe", { "<Control>g" } },
  { NULL, N_("Use something instead of this material"), "win.replace-material", { "<Control>i" } },
  { NULL, N_("Find the amounts for a body"), "win.aim", { "<Control>t" } },
  { NULL, N_("Record a reading from the bench"), "win.record-reading", { "<Control>r" } },
  { NULL, N_("Keep the recipe as a version"), "win.keep-version", { "<Control>k" } },
  { NULL, N_("Let the line make up to 100 %"), "win.toggle-balance", { "<Control>b" } },
  { NULL, N_("Hold the amount of the line"), "win.toggle-hold", { "<Control>h" } },
  { NULL, N_("Note on the line"), "win.edit-line-note", { "<Control>m" } },
  { NULL, N_("Duplicate the line"), "win.duplicate-line", { "<Control>d" } },
  { NULL, N_("Split the line"), "win.split-line", { "<Control><Shift>d" } },
  { NULL, N_("Scale to 100 %"), "win.normalise", { "<Control><Shift>n" } },
  { NULL, N_("Add a phase"), "win.add-phase", { "<Control><Shift>p" } },
  { NULL, N_("Move the line up"), "win.move-line-up", { "<Alt>Up" } },
  { NULL, N_("Move the line down"), "win.move-line-down", { "<Alt>Down" } },
  { NULL, N_("Remove the line"), "win.remove-line", { "Delete", "<Alt>Delete" }, TRUE },
  { N_("Window"), N_("Design the recipe"), "win.show-room::design", { "<Control>1" } },
  { NULL, N_("Make the recipe"), "win.show-room::make", { "<Control>2" } },
  { NULL, N_("Make the label ready"), "win.show-room::label", { "<Control>3" } },
  { NULL, N_("Materials"), "win.show-palette", { "F9" } },
  { NULL, N_("Body and advice"), "win.show-panel", { "<Shift>F9" } },
  { NULL, N_("More room for the advice, or for the chart"), "win.raise-advice", { "<Control>j" } },
  { NULL, N_("Main menu"), "win.show-menu", { "F10" } },
  { NULL, N_("Keys"), "win.show-shortcuts", { "<Control>question", "F1" } },
};

void
og_shortcuts_install_app (GtkApplication *application)
{
  for (guint i = 0; i < G_N_ELEMENTS (shortcuts); i++)
    {
      const char *keys[MAX_KEYS + 1] = { NULL };

      if (shortcuts[i].text_first)
        continue;
      for (int k = 0; k < MAX_KEYS; k++)
        keys[k] = shortcuts[i].keys[k];
      gtk_application_set_accels_for_action (application, shortcuts[i].action, keys);
    }
}

void
og_shortcuts_install_window (GtkWidgetClass *class)
{
  for (guint i = 0; i < G_N_ELEMENTS (shortcuts); i++)
    {
      if (!shortcuts[i].text_first)
        continue;
      for (int k = 0; k < MAX_KEYS && shortcuts[i].keys[k] != NULL; k++)
        {
          GtkShortcutTrigger *trigger = gtk_shortcut_trigger_parse_string (shortcuts[i].keys[k]);
          GtkShortcutAction *action = gtk_named_action_new (shortcuts[i].action);
          g_autoptr (GtkShortcut) shortcut = gtk_shortcut_new (trigger, action);

          gtk_widget_class_add_shortcut (class, shortcut);
        }
    }
}

static char *
join_keys (const Shortcut *shortcut)
{
  GString *keys = g_string_new (NULL);

  for (int k = 0; k < MAX_KEYS && shortcut->keys[k] != NULL; k++)
    {
      if (k > 0)
        g_string_append_c (keys, ' ');
      g_string_append (keys, shortcut->keys[k]);
    }
  return g_string_free (keys, FALSE);
}

static void
append_group_start (GString    *ui,
                    const char *title)
{
  g_autofree char *group = g_markup_printf_escaped (
    "<child><object class='GtkShortcutsGroup'><property name='title'>%s</property>", title);

  g_string_append (ui, group);
}

char *
og_shortcuts_to_ui (void)
{
  GString *ui = g_string_new ("<interface><object class='GtkShortcutsWindow' id='shortcuts'>"
                              "<property name='modal'>1</property>"
                              "<child><object class='GtkShortcutsSection'>"
                              "<property name='section-name'>keys</property>"
                              "<property name='max-height'>12</property>");
  gboolean open = FALSE;

  for (guint i = 0; i < G_N_ELEMENTS (shortcuts); i++)
    {
      g_autofree char *keys = join_keys (&shortcuts[i]);
      g_autofree char *line = NULL;

      if (shortcuts[i].group != NULL)
        {
          if (open)
            g_string_append (ui, "</object></child>");
          append_group_start (ui, _(shortcuts[i].group));
          open = TRUE;
        }
      if (shortcuts[i].title == NULL)
        continue;
      line = g_markup_printf_escaped ("<child><object class='GtkShortcutsShortcut'>"
                                      "<property name='title'>%s</property>"
                                      "<property name='accelerator'>%s</property>"
                                      "</object></child>",
                                      _(shortcuts[i].title), keys);
      g_string_append (ui, line);
    }
  g_string_append (ui, "</object></child></object></child></object></interface>");
  return g_string_free (ui, FALSE);
}
