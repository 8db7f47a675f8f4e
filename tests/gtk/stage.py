# SPDX-License-Identifier: GPL-3.0-or-later
"""A private display, session bus and home for one program, and hands to work it with.

    from stage import Stage, Tap

A Stage starts an X server of its own, a window manager if there is one, and the program; it
reaches widgets through the accessibility bus by role and name, and the pointer and keyboard through
xdotool. It stops only what it started. The script has to call stage.enter() first: that runs the
script again inside a session bus of its own.
"""
import fnmatch
import os
import shutil
import subprocess
import sys
import tempfile
import time
import traceback

NEEDED = ("Xvfb", "dbus-run-session", "xdotool")
KEPT_STDOUT = 9
MENU_EDGE = 10  # px between the last item of a menu and the lower edge of its window
PATIENCE = float(os.environ.get("OG_PATIENCE", "8"))


def enter():
    """Goes on inside a private session bus, or skips the whole script."""
    missing = [t for t in NEEDED if shutil.which(t) is None]
    try:
        import gi
        gi.require_version("Atspi", "2.0")
    except (ImportError, ValueError):
        missing.append("the Atspi typelib")
    if missing:
        print("1..0 # SKIP needs " + ", ".join(missing))
        sys.exit(0)
    if "_OG_STAGE" not in os.environ:
        home = tempfile.mkdtemp(prefix="og-stage-")
        os.environ["_OG_STAGE"] = home
        # The buses put their sockets here, so that scripts running side by side do not meet.
        runtime = os.path.join(home, "run")
        os.mkdir(runtime, 0o700)
        os.environ.update(HOME=home, XDG_RUNTIME_DIR=runtime,
                          XDG_DATA_HOME=os.path.join(home, "data"),
                          XDG_CONFIG_HOME=os.path.join(home, "config"),
                          XDG_CACHE_HOME=os.path.join(home, "cache"))
        for name in ("DISPLAY", "WAYLAND_DISPLAY", "GTK_A11Y", "GTK_THEME"):
            os.environ.pop(name, None)
        os.dup2(1, KEPT_STDOUT, inheritable=True)  # services of the bus write to theirs
        os.dup2(2, 1)
        os.execvp("dbus-run-session", ["dbus-run-session", "--", sys.executable] + sys.argv)
    os.dup2(KEPT_STDOUT, 1)
    os.close(KEPT_STDOUT)


class Tap:
    """One numbered line for each check; a failure ends the check it is in, not the script."""

    def __init__(self):
        self.n = 0
        self.failed = 0

    def run(self, name, function, *args):
        self.n += 1
        try:
            function(*args)
        except Exception as problem:
            self.failed += 1
            for line in traceback.format_exc().splitlines():
                print("#", line)
            print("not ok %d - %s: %s" % (self.n, name, problem))
        else:
            print("ok %d - %s" % (self.n, name))
        sys.stdout.flush()

    def end(self):
        print("1..%d" % self.n)
        sys.exit(1 if self.failed else 0)


def until(condition, what, patience=PATIENCE):
    """Waits for condition() to be true and returns its value."""
    end = time.monotonic() + patience
    while True:
        value = condition()
        if value:
            return value
        if time.monotonic() > end:
            raise AssertionError(what() if callable(what) else what)
        time.sleep(0.05)


def same(got, wanted, what=""):
    if got != wanted:
        raise AssertionError("%s: got %r, wanted %r" % (what or "value", got, wanted))


class Stage:
    def __init__(self, program, size="1280x800", theme=None, locale="C.UTF-8"):
        self.program = program
        self.size = size
        self.locale = locale
        self.theme = theme
        self.processes = []
        self.home = os.environ["_OG_STAGE"]
        self.app = None
        self.process = None
        self.log_path = os.path.join(self.home, "log")

    # -- processes

    def __enter__(self):
        read, write = os.pipe()
        self._spawn(["Xvfb", "-displayfd", str(write), "-screen", "0", self.size + "x24",
                     "-nolisten", "tcp"], pass_fds=[write], stderr=subprocess.DEVNULL)
        os.close(write)
        with os.fdopen(read) as answer:  # to the end of the line: the server still writes it
            number = answer.readline().strip()
        os.environ.update(DISPLAY=":" + number, GDK_BACKEND="x11", GSK_RENDERER="cairo",
                          LC_ALL=self.locale, NO_AT_BRIDGE="0")
        if "OG_STAGE_A11Y" in os.environ:
            os.environ["GTK_A11Y"] = os.environ["OG_STAGE_A11Y"]
        if self.theme:
            os.environ["GTK_THEME"] = self.theme
        if shutil.which("openbox"):
            self._spawn(["openbox"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        from gi.repository import Atspi
        self.atspi = Atspi
        Atspi.init()
        return self

    def __exit__(self, *unused):
        self.stop()
        for process in reversed(self.processes):
            process.terminate()
        for process in reversed(self.processes):
            try:
                process.wait(5)
            except subprocess.TimeoutExpired:
                process.kill()
                process.wait()
        shutil.rmtree(self.home, ignore_errors=True)

    def _spawn(self, command, **options):
        process = subprocess.Popen(command, **options)
        self.processes.append(process)
        return process

    def start(self, *args):
        """Starts the program and waits for its window."""
        self._recipe = None
        log = open(self.log_path, "a")
        self.process = subprocess.Popen([self.program, *args], stdout=log, stderr=log)
        log.close()
        desktop = self.atspi.get_desktop(0)

        def appeared():
            if self.process.poll() is not None:
                raise AssertionError("the program ended: " + self.log())
            for i in range(desktop.get_child_count()):
                app = desktop.get_child_at_index(i)
                if app and app.get_process_id() == self.process.pid and app.get_child_count():
                    return app
            return None

        self.app = until(appeared, "no window came up", 30)
        until(lambda: self._windows(), "no window is mapped", 10)
        time.sleep(0.5)

    def ended(self, patience=PATIENCE):
        """Waits for the program to end by itself. Returns its exit status."""
        until(lambda: self.process.poll() is not None, "the program does not end", patience)
        return self.process.returncode

    def running(self):
        return self.process is not None and self.process.poll() is None

    def stop(self):
        if self.running():
            self.process.terminate()
            try:
                self.process.wait(5)
            except subprocess.TimeoutExpired:
                self.process.kill()
                self.process.wait()
        self.process = None

    def crash(self):
        """Ends the program as a power cut would."""
        self.process.kill()
        self.process.wait()
        self.process = None

    def log(self):
        with open(self.log_path) as f:
            return f.read()

    def complaints(self):
        """What the program and its libraries complained about.

        GTK 4.8 itself measures two labels of its window of keys below zero, without our style too.
        """
        return [l for l in self.log().splitlines()
                if ("WARNING" in l or "CRITICAL" in l or "ERROR" in l)
                and "reported min width -4" not in l]

    # -- looking

    def walk(self, node=None):
        """@node and all below it; the long list of materials only when asked for by itself."""
        node = node or self.app
        yield node
        for child, closed in self._children(node):
            if closed:
                yield child
            else:
                yield from self.walk(child)

    @staticmethod
    def _children(node):
        """Children, and whether what is in them is passed over. None for a node that went away while we looked."""
        try:
            children = [node.get_child_at_index(i) for i in range(node.get_child_count())]
            return [(c, c.get_name() == "Materials" and c.get_role_name() == "list")
                    for c in children if c is not None]
        except Exception:
            return []

    def _matches(self, role, name, within):
        for node in self.walk(within):
            try:
                if (role is None or node.get_role_name() == role) \
                   and fnmatch.fnmatchcase(node.get_name() or "", name):
                    yield node
            except Exception:  # it went away while we looked
                continue

    def look(self, role, name, within=None):
        """All widgets of a role whose name matches a pattern, now."""
        return list(self._matches(role, name, within))

    def find(self, role, name, within=None, patience=PATIENCE):
        return until(lambda: next(self._matches(role, name, within), None),
                     lambda: "there is no %s “%s”" % (role or "widget", name), patience)

    def gone(self, role, name, within=None):
        until(lambda: next(self._matches(role, name, within), None) is None,
              "%s “%s” is still there" % (role, name))

    def _frame(self):
        for i in range(self.app.get_child_count()):
            child = self.app.get_child_at_index(i)
            if child is not None and child.get_role_name() == "frame":
                return child
        return None

    def title(self):
        return until(self._frame, "there is no window").get_name()

    def recipe(self):
        if self._recipe is None:
            self._recipe = self.find("tree table", "Recipe")
        return self._recipe

    def cell(self, material, column):
        return self.find("text", "%s, %s" % (material, column), self.recipe())

    def lines(self):
        """Names of the rows of the recipe, in order."""
        return [r.get_name() for r in self.look("table row", "*", self.recipe())
                if r.get_name() and self.box(r)[3] > 0 and r.get_name() != "GtkListItemWidget"]

    def text(self, node):
        if "Text" in node.get_interfaces():
            return self.atspi.Text.get_text(node, 0, self.atspi.Text.get_character_count(node))
        return node.get_name() or ""

    def states(self, node):
        return [s.value_nick for s in node.get_state_set().get_states()]

    def expect_text(self, find, pattern):
        """@find is called again for every look, since cells are re-used."""
        last = [None]

        def matches():
            last[0] = self.text(find())
            return fnmatch.fnmatchcase(last[0], pattern)

        until(matches, lambda: "got “%s”, wanted “%s”" % (last[0], pattern))

    def focused(self):
        for node in self.walk():
            try:
                if "focused" in self.states(node) and node.get_role_name() != "frame":
                    return node
            except Exception:
                continue
        return None

    def expect_focus(self, name):
        last = [None]

        def there():
            node = self.focused()
            last[0] = node.get_name() if node else None
            return node is not None and fnmatch.fnmatchcase(last[0] or "", name)

        until(there, lambda: "the focus is at “%s”, not at “%s”" % (last[0], name))

    # -- doing

    def press(self, role, name, within=None):
        """Invokes the first match that can be invoked."""
        def able():
            return [n for n in self.look(role, name, within)
                    if self.atspi.Action.get_n_actions(n) > 0]

        node = until(able, lambda: "there is no %s “%s” to press" % (role or "widget", name))[0]
        if not self.atspi.Action.do_action(node, 0):
            raise AssertionError("“%s” cannot be pressed" % name)
        time.sleep(0.15)

    def choose(self, name):
        """Clicks an item of the menu that is open: menu items offer no action on the bus."""
        def items():
            shown = [n for n in self.look("menu item", "*") if self.box(n)[2] > 0]
            return shown if any(fnmatch.fnmatchcase(n.get_name(), name) for n in shown) else None

        shown = until(items, "no open menu has “%s”" % name)
        time.sleep(0.3)
        boxes = {n.get_name(): self.box(n) for n in shown}
        # the window of the menu is the largest next to the main one; tooltips are smaller
        menu = sorted(map(self._geometry, self._windows()), key=lambda g: g[2] * g[3])[-2]
        x, y, width, height = menu
        end = max(b[1] + b[3] for b in boxes.values())
        box = next(b for n, b in boxes.items() if fnmatch.fnmatchcase(n, name))
        # counted from the lower edge: titles of sections and the arrow stand above
        self._xdotool("mousemove", x + width // 2,
                      y + height - MENU_EDGE - (end - box[1]) + box[3] // 2,
                      "sleep", "0.1", "click", 1)
        time.sleep(0.4)

    def actions(self):
        frame = until(self._frame, "there is no window")
        n = self.atspi.Action.get_n_actions(frame)
        return frame, [self.atspi.Action.get_action_name(frame, i) for i in range(n)]

    def act(self, name):
        """Activates an action of the window that takes no parameter."""
        frame, names = self.actions()
        if name not in names:
            raise AssertionError("%s is not possible now; possible are %s" % (name, names))
        from gi.repository import GLib
        try:
            self.atspi.Action.do_action(frame, names.index(name))
        except GLib.Error:  # it may end before it answers; how it ended is asked for afterwards
            until(lambda: not self.running(), "no answer to " + name)
        time.sleep(0.2)

    def can(self, name):
        return name in self.actions()[1]

    def _windows(self):
        run = subprocess.run(["xdotool", "search", "--onlyvisible", "--pid", str(self.process.pid)],
                             capture_output=True, text=True)
        return run.stdout.split()

    def _geometry(self, window):
        out = subprocess.run(["xdotool", "getwindowgeometry", "--shell", window],
                             check=True, capture_output=True, text=True).stdout
        pairs = dict(l.split("=") for l in out.split())
        return [int(pairs[k]) for k in ("X", "Y", "WIDTH", "HEIGHT")]

    def _origin(self):
        """Where on the screen the co-ordinates of the accessibility bus begin."""
        main = max(self._windows(), key=lambda w: self._geometry(w)[2] * self._geometry(w)[3])
        x, y, width, _ = self._geometry(main)
        run = subprocess.run(["xprop", "-id", main, "_GTK_FRAME_EXTENTS"],
                             capture_output=True, text=True)
        if "=" in run.stdout:
            left, _, top, _ = [int(v) for v in run.stdout.split("=")[1].split(",")]
            return x + left, y + top
        frame = self._frame()
        # without a compositor the frame of the window is drawn inside it, as thick on all sides
        border = max(0, (width - self.box(frame)[2]) // 2) if frame is not None else 0
        return x + border, y + border

    def box(self, node):
        e = self.atspi.Component.get_extents(node, self.atspi.CoordType.WINDOW)
        return e.x, e.y, e.width, e.height

    def point(self, node, across=0.5, down=0.5):
        x, y, w, h = self.box(node)
        if w <= 0 or h <= 0:
            raise AssertionError("“%s” is not on the screen" % node.get_name())
        ox, oy = self._origin()
        return ox + x + int(w * across), oy + y + int(h * down)

    def _xdotool(self, *args):
        subprocess.run(["xdotool", *[str(a) for a in args]], check=True, capture_output=True)

    def click(self, node, button=1):
        x, y = self.point(node)
        self._xdotool("mousemove", x, y, "sleep", "0.05", "click", button)
        time.sleep(0.25)

    def drag(self, start, goal):
        """@start and @goal are points; the way is gone in steps, as a hand does."""
        (x1, y1), (x2, y2) = start, goal
        self._xdotool("mousemove", x1, y1, "sleep", "0.1", "mousedown", 1, "sleep", "0.15")
        for i in range(1, 16):
            self._xdotool("mousemove", x1 + (x2 - x1) * i // 15, y1 + (y2 - y1) * i // 15,
                          "sleep", "0.03")
        self._xdotool("sleep", "0.25", "mouseup", 1, "sleep", "0.4")

    def key(self, *keys):
        self._xdotool("key", "--delay", 70, *keys)
        time.sleep(0.2)

    def type(self, text):
        self._xdotool("type", "--delay", 30, "--", text)
        time.sleep(0.15)

    def fill_file_chooser(self, path):
        """Types a path into the file chooser that is open, and takes it."""
        time.sleep(0.8)
        self.key("ctrl+a")
        self.type(path)
        time.sleep(0.3)
        self.key("Return")
        time.sleep(0.6)

    def picture(self, path):
        subprocess.run(["import", "-silent", "-window", "root", path], check=False)


def walk_through(program, demo, pictures, checks):
    """One script: the program on a stage of its own, a copy of the demo recipe, one check after the other."""
    tap = Tap()
    with Stage(program) as s:
        s.copy = os.path.join(s.home, "copy.oleograph")
        shutil.copyfile(demo, s.copy)
        for name, check in checks:
            tap.run(name, check, s)
            if tap.failed and os.environ.get("OG_PICTURES"):
                s.picture(os.path.join(os.environ["OG_PICTURES"], "%s-%d.png" % (pictures, tap.n)))
    tap.end()


def is_quiet(s):
    same(s.complaints(), [], "messages of the program")
