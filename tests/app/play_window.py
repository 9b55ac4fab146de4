#!/usr/bin/env python3
"""Plays a scenario in the real window from the home screen to the debrief, once with the mouse alone and once with the
keyboard alone, and compares the score with the replay of the journal.

Usage: play_window.py TAUTROW SOURCE_ROOT mouse|keys [PICTURES_FOLDER]

Xvfb and xdotool do what hands do. The player sees where controls lie through --targets, and judges its own work from the journal
(the program writes each action as it happens), as a person does by eye."""
import json
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import time

WIDTH, HEIGHT = 1280, 800
TARGET_N = 200 * 4.4482216152605
ROWS = [2, 3, 1]  # the rule's order: middle, above, below


def words(root):
    found = {}
    for path in (root / "assets/lang/en").glob("*.txt"):
        for line in path.read_text(encoding="utf-8").splitlines():
            key, equals, text = line.partition("=")
            if equals and not line.startswith("#"):
                found[key.strip()] = text.strip()
    return found


class Window:
    """The program under a display of its own, and a hand that is either a mouse or a keyboard."""

    def __init__(self, program, root, hand, pictures):
        self.program, self.hand, self.pictures = program, hand, pictures
        self.words = words(root)
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="tautrow-play-"))
        (self.folder / "data").mkdir()
        (self.folder / "data/assets").symlink_to(root / "assets")
        shutil.copytree(root / "tests/app/played", self.folder / "data/scenarios")
        self.targets = self.folder / "targets.txt"
        self.display = f":{90 + os.getpid() % 900}"
        self.server = subprocess.Popen(["Xvfb", self.display, "-screen", "0", f"{WIDTH}x{HEIGHT}x24", "-nolisten", "tcp",
                                        "-noreset"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        self.env = {**os.environ, "DISPLAY": self.display, "SDL_VIDEODRIVER": "x11", "SDL_AUDIODRIVER": "dummy",
                    "XDG_CONFIG_HOME": str(self.folder / "config"), "XDG_DATA_HOME": str(self.folder / "home"),
                    "TAUTROW_DATA": str(self.folder / "data"), "LC_ALL": "C"}
        self.wait(lambda: pathlib.Path(f"/tmp/.X11-unix/X{self.display[1:]}").exists(), "the display")
        self.game = subprocess.Popen([program, "--size", f"{WIDTH}x{HEIGHT}", "--lang", "en", "--targets",
                                      str(self.targets)], env=self.env)
        self.wait(self.targets.exists, "the window")
        self.shots = 0

    def close(self):
        self.game.terminate()
        self.game.wait(10)
        self.server.terminate()
        self.server.wait(10)
        shutil.rmtree(self.folder)

    # ---- seeing

    def wait(self, ready, what, seconds=20.0):
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            if ready():
                return
            time.sleep(0.03)
        raise AssertionError(f"waited in vain for {what}")

    def look(self):
        """(screen, actions made, focused label, [(label, x, y)])"""
        lines = self.targets.read_text(encoding="utf-8").splitlines()
        places = []
        for line in lines[3:]:
            x, y, w, h, label = line.split(" ", 4)
            places.append((label, float(x) + float(w) / 2, float(y) + float(h) / 2))
        return lines[0].split(" ", 1)[1], int(lines[1].split()[1]), lines[2][6:], places

    def where(self, key, nth=0):
        label = self.words.get(key, key)
        found = [place for place in self.look()[3] if place[0] == label]
        return found[nth] if len(found) > nth else None

    def journal(self):
        files = sorted((self.folder / "home/tautrow/attempts").glob("*.jsonl"))
        return files[-1] if files else None

    def actions(self):
        lines = self.journal().read_text(encoding="utf-8").splitlines()[1:]
        return [json.loads(line) for line in lines]

    def last(self, verb):
        done = [action for action in self.actions() if action.get("do") == verb]
        return done[-1] if done else None

    def tensions(self):
        out = subprocess.run([self.program, "replay", str(self.journal()), "--json"], env=self.env, capture_output=True)
        return json.loads(out.stdout)[0]["final_tension_n"]

    def picture(self, name):
        if self.pictures:
            self.shots += 1
            path = self.pictures / f"{self.hand}-{self.shots:02}-{name}.png"
            subprocess.run(["import", "-window", "root", str(path)], env=self.env, check=False)

    # ---- doing

    def xdotool(self, *what):
        subprocess.run(["xdotool", *map(str, what)], env=self.env, check=True, capture_output=True)

    def move_to(self, key, nth=0):
        self.wait(lambda: self.where(key, nth) is not None, f"the control {key}")
        _, x, y = self.where(key, nth)
        self.xdotool("mousemove", round(x), round(y))

    def settle(self):
        time.sleep(0.15)

    def press(self, key, letter, nth=0):
        """A button: clicked, or its own key."""
        if self.hand == "mouse":
            self.move_to(key, nth)
            self.settle()
            self.xdotool("click", 1)
        else:
            self.xdotool("key", letter)
        self.settle()

    def hold(self, key, letter, seconds, nth=0):
        """A trigger: held down for so long."""
        if self.hand == "mouse":
            self.move_to(key, nth)
            self.settle()
            self.xdotool("mousedown", 1)
        else:
            self.xdotool("keydown", letter)
        time.sleep(seconds)
        self.xdotool(*(("mouseup", 1) if self.hand == "mouse" else ("keyup", letter)))
        self.settle()

    def tab_to(self, key):
        """Keyboard: Tab until the control has the focus."""
        label = self.words.get(key, key)
        for _ in range(120):
            if self.look()[2] == label:
                return
            self.xdotool("key", "Tab")
            time.sleep(0.06)
        raise AssertionError(f"Tab never came to {key}")

    def choose(self, key, part, parts):
        """One of a few, side by side."""
        if self.hand == "mouse":
            self.move_to(key, part)
            self.settle()
            self.xdotool("click", 1)
        else:
            self.tab_to(key)
            self.xdotool("key", *["Left"] * (parts - 1), *["Right"] * part)
        self.settle()

    def step(self, key, times):
        """A stepper: its plus (or minus) so many times. Its parts are minus, then plus."""
        if times == 0:
            return
        if self.hand == "mouse":
            self.move_to(key, 1 if times > 0 else 0)
            self.settle()
            self.xdotool("click", "--repeat", abs(times), "--delay", 60, 1)
        else:
            self.tab_to(key)
            self.xdotool("key", *["Right" if times > 0 else "Left"] * abs(times))
        self.settle()

    def activate(self, key, nth=0):
        """Any control without a key of its own."""
        if self.hand == "mouse":
            self.press(key, None, nth)
        else:
            self.tab_to(key)
            self.xdotool("key", "Return")
            self.settle()

    def stage(self, number, name):
        self.press(f"stage.{name}", f"F{number}")
        self.settle()

    def row(self, row):
        """Chooses a row in the ladder, or by the arrow keys from the top down."""
        if self.hand == "mouse":
            self.press(f"Row {row}", None)
        else:
            self.xdotool("key", *["Down"] * 3)
            self.xdotool("key", *["Up"] * (row - 1))
        self.settle()


# ---- the stages, as somebody does them who has practised ------------------------------------------------------------------

def start(w):
    w.picture("home")
    w.press("home.choose", "n")
    w.wait(lambda: w.look()[0] == "scenarios", "the scenarios")
    w.choose("choose.mode", 1, 3)
    w.picture("scenarios")
    w.activate("choose.start")
    w.wait(lambda: w.look()[0] == "job", "the job")


def read(w):
    w.press("job.open_sheet", "o")
    w.picture("read")


def mark(w):
    w.stage(2, "mark")
    w.row(2)
    w.hold("do.mark.pole", "f", 2.0)
    w.hold("do.mark.pencil", "m", 2.0)
    w.picture("mark")
    assert abs(w.last("mark_row")["error_m"]) < 0.003, w.last("mark_row")


def drill(w, bit_index):
    w.press("job.glasses_off", "g")
    w.stage(3, "drill")
    w.row(2)
    w.press("7/16 in", str(bit_index + 1))
    w.slide("do.speed", 12)
    for seconds in (2.2, 2.2, 2.2, 2.2):
        w.hold("do.drill.trigger", "w", seconds)
        w.press("do.drill.back", "b")
    w.picture("drill")
    w.press("do.drill.done", "e")
    w.picture("drilled")


def insert(w):
    w.stage(4, "insert")
    w.row(2)
    w.hold("do.insert.trigger", "w", 2.5)
    w.press("do.insert.done", "e")
    w.picture("insert")
