#!/usr/bin/env python3
"""Plays a scenario in the real window from the home screen to the debrief, once with the mouse alone and once with the
keyboard alone, and compares the score with the replay of the journal.

Usage: play_window.py TAUTROW SOURCE_ROOT mouse|keys|both [PICTURES_FOLDER]      both: at the same time, each on its own display

Xvfb and xdotool do what hands do. The player sees where controls lie through --targets, and judges its own work from the journal
(the program writes each action as it happens), as a person does by eye."""
import json
import os
import pathlib
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
        self.shots = 0
        self.open()

    def open(self):
        self.game = subprocess.Popen([self.program, "--size", f"{WIDTH}x{HEIGHT}", "--lang", "en", "--targets",
                                      str(self.targets)], env=self.env)
        self.wait(self.targets.exists, "the window")
        self.drilled_s = 0.0

    def kill_and_go_on(self):
        """The power goes; the attempt goes on from the home screen, and nothing is lost."""
        before = self.journal().read_bytes()
        self.game.kill()
        self.game.wait(10)
        self.targets.unlink()
        self.open()
        self.press("home.continue", "c")
        self.wait(lambda: self.look()[0] == "job", "the job")
        assert self.journal().read_bytes() == before, "the journal changed"

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

    def extent(self, key):
        """Left edge and width of a control."""
        label = self.words.get(key, key)
        for line in self.targets.read_text(encoding="utf-8").splitlines()[3:]:
            x, _, width, _, name = line.split(" ", 4)
            if name == label:
                return float(x), float(width)
        raise AssertionError(f"no control {key}")

    def deepest(self):
        """About how deep the hole is: 8 mm a second while the flutes are free, less as they fill (3 diameters)."""
        return self.drilled_s * 0.0068

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

    def count(self, verb):
        return len([action for action in self.actions() if action.get("do") == verb]) if self.journal() else 0

    def until_done(self, verb, attempt):
        """Tries until the journal has one more of these actions: a hand whose press went astray presses again."""
        before = self.count(verb)
        for _ in range(4):
            attempt()
            end = time.monotonic() + 1.5
            while time.monotonic() < end:
                if self.count(verb) > before:
                    return
                time.sleep(0.05)
        raise AssertionError(f"{verb} was never done")

    def do(self, verb, key, letter, nth=0):
        self.until_done(verb, lambda: self.press(key, letter, nth))

    def work(self, verb, key, letter, seconds):
        self.until_done(verb, lambda: self.hold(key, letter, seconds))

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
        self.press(f"stage.{name}.name", f"F{number}")
        self.settle()

    def row(self, row):
        """Chooses a row in the ladder, or by the arrow keys from the top down."""
        if self.hand == "mouse":
            _, x, _ = self.where("job.ladder")
            self.xdotool("mousemove", round(x), 102 + 46 * (3 - row) + 23, "click", 1) # a rung is 46 high here
        else:
            self.xdotool("key", *["Down"] * 3)
            self.settle()
            for _ in range(row - 1):
                self.xdotool("key", "Up")
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
    """The bit is the second in the box, row 2 is tensioned first, three rows are the trainee's."""
    w.do("open_sheet", "job.open_sheet", "o")
    for key, times in (("job.bit", 1), ("job.row", 1), ("job.rows", 3)):
        w.step(key, times)
        if w.hand == "mouse":
            _, x, y = w.where(key, 1)
            below = min((place for place in w.look()[3] if place[0] == w.words["job.answer"] and place[2] > y),
                        key=lambda place: place[2])
            w.xdotool("mousemove", round(below[1]), round(below[2]), "click", 1)
        else:
            w.xdotool("key", "Tab")
            w.settle()
            w.xdotool("key", "Return")
        w.settle()
    w.picture("read")
    assert len([a for a in w.actions() if a.get("do") == "answer"]) == 3


def mark(w):
    w.stage(2, "mark")
    w.row(2)
    w.work("set_pole", "do.mark.pole", "f", 2.0)
    w.work("mark_row", "do.mark.pencil", "m", 2.0)
    w.picture("mark")
    assert abs(w.last("mark_row")["error_m"]) < 0.003, w.last("mark_row")


def set_speed(w, clicks, fraction):
    """The speed: by Page Up so often, or by pressing the slider's track there."""
    if w.hand == "keys":
        w.xdotool("key", *["Prior"] * clicks)
    else:
        left, width = w.extent("do.speed")
        _, _, y = w.where("do.speed")
        w.xdotool("mousemove", round(left + width * fraction), round(y), "click", 1)
    w.settle()


def drill(w, bit, key):
    w.do("glasses", "job.glasses_off", "g")
    w.stage(3, "drill")
    w.row(2)
    w.do("take_bit", bit, key)
    set_speed(w, 9, 0.38)
    time.sleep(2.0)
    while w.deepest() < 0.0405:
        for _ in range(2):
            w.hold("do.drill.trigger", "w", 1.0)
            time.sleep(1.2)
        w.press("do.drill.back", "b")
        time.sleep(1.2)
        w.drilled_s += 2.0
    w.picture("drill")
    w.do("drill", "do.drill.done", "e")
    for _ in range(3): # measured and found short: a little deeper
        short = 0.0413 - w.last("drill")["depth_m"]
        if short < 0.0012:
            break
        w.stage(3, "drill")
        time.sleep(1.5)
        w.hold("do.drill.trigger", "w", 0.75 + short / 0.0075)
        w.press("do.drill.done", "e")
    assert abs(w.last("drill")["depth_m"] - 0.0413) < 0.003, w.last("drill")


def insert(w):
    w.stage(4, "insert")
    w.row(2)
    time.sleep(2.0)
    w.hold("do.insert.trigger", "w", 4.4)
    w.do("drive_insert", "do.insert.done", "e")
    w.picture("insert")
    assert abs(w.last("drive_insert")["proud_m"]) < 0.003, w.last("drive_insert")


def assemble(w):
    w.stage(5, "assemble")
    w.row(2)
    for stud, end, first, second in (("do.assemble.anchor", "do.assemble.plain", "1", "3"),
                                     ("do.assemble.cable", "do.assemble.ring", "2", "4")):
        w.press(stud, first)
        w.press(end, second)
        w.work("screw_stud", "do.assemble.screw", "w", 8.2)
    w.picture("assemble")
    assert w.last("screw_stud")["stud"] == 1


def cut(w):
    w.stage(6, "cut")
    w.row(2)
    w.do("hang_cable", "do.cut.hang", "h")
    w.work("pull_cable", "do.cut.pull", "w", 3.0)
    w.work("mark_cable", "do.cut.mark", "m", 2.2)
    w.do("take_cutter", "do.cut.cable_cutter", "1")
    time.sleep(2.0)
    w.work("cut_cable", "do.cut.cut", "x", 1.6)
    w.picture("cut")
    assert w.last("cut_cable") is not None


def slide_die(w, aim_m):
    """Slides the die along the barrel to about the aim: by dragging the picture, or by an arrow key held."""
    if w.hand == "keys":
        w.xdotool("keydown", "Left")
        time.sleep((aim_m + 0.010) / 0.006)
        w.xdotool("keyup", "Left")
        w.press(None, "e")
        return
    per_px, at = 0.0002, -0.010
    for _ in range(4):
        done = w.last("place_die")
        at = done["position_m"] if done else at
        if abs(at - aim_m) < 0.002:
            return
        picture = w.where("do.crimp.picture")
        x, y = picture[1] - 120, picture[2] + 60
        way = max(-160, min(160, round((aim_m - at) / per_px)))
        w.xdotool("mousemove", round(x), round(y))
        w.settle()
        w.xdotool("mousedown", 1)
        for step in range(1, 9):
            w.xdotool("mousemove", round(x - way * step / 8), round(y))
            time.sleep(0.04)
        w.xdotool("mouseup", 1)
        w.settle()
        moved = w.last("place_die")["position_m"] - at
        per_px = moved / way if way and moved else per_px


def crimp(w):
    w.stage(7, "crimp")
    w.row(2)
    w.work("push_home", "do.crimp.push", "u", 7.0)
    w.do("seat_mark", "do.crimp.seat_mark", "s")
    slide_die(w, 0.011)
    w.work("squeeze", "do.crimp.squeeze", "q", 2.5)
    w.picture("crimp")
    for _ in range(6):
        w.press("do.crimp.turn_on", "t")
    w.work("squeeze", "do.crimp.squeeze", "q", 2.5)
    assert len([a for a in w.actions() if a.get("do") == "squeeze"]) == 2


def join(w):
    w.stage(8, "join")
    w.row(2)
    w.activate("job.join.hold_body")
    w.do("unscrew_stud", "job.join.unscrew", "u")
    w.step("job.join.leave", -32)
    w.do("back_off", "job.join.back_off", "b")
    w.step("job.join.in", 15)
    w.do("thread_in", "job.join.thread_in", "t")
    w.do("hand_tight", "job.join.hand_tight", "h")
    w.picture("join")
    assert w.last("hand_tight") is not None


def bring_up(w, row, aim_n):
    """Turns one row until it carries the aim: quarters, then eighths and sixteenths."""
    w.row(row)
    w.do("pliers", "job.tension.pliers", "p")
    for part, keys, worth in ((0, [], 0.25), (1, ["shift"], 0.125), (2, ["ctrl"], 0.0625)):
        if w.hand == "mouse":
            w.choose("job.tension.step", part, 3)
        before = w.tensions()[row - 1]
        for _ in range(40):
            if w.hand == "mouse":
                w.press("job.tension.tighter", None)
            else:
                w.xdotool("key", "+".join([*keys, "Right"]))
                w.settle()
            now = w.tensions()[row - 1]
            if now + (now - before) * 0.6 > aim_n:
                break
            before = now
        if now > aim_n:
            break
    w.do("gauge", "job.gauge", "j")


def tension(w):
    w.do("stand", "job.clear_off", "c")
    w.stage(9, "tension")
    for row, aim in zip(ROWS, (1.045, 1.015, 1.0)):
        bring_up(w, row, aim * TARGET_N)
    w.picture("tension")
    for row in ROWS:
        w.row(row)
        w.do("gauge", "job.gauge", "j")
        if w.tensions()[row - 1] < 0.95 * TARGET_N:
            bring_up(w, row, TARGET_N)
    w.picture("check-round")


def check(w):
    w.stage(10, "check")
    w.row(2)
    w.do("ball", "job.check.ball", "b")
    if w.hand == "mouse":
        w.choose("job.check.tool", 2, 3)
    w.do("gauge_crimp", "job.check.crimp", "r")
    w.do("sight", "job.check.sight", "s")
    w.picture("check")
    assert w.last("ball") is not None and w.last("sight") is not None


def hand_over(w):
    w.stage(11, "hand_over")
    w.do("collar", "job.over.collars", "a")
    w.do("wipe", "job.over.wipe", "w")
    w.picture("hand-over")
    w.press("job.over.sign", "s")
    w.picture("sign")
    w.activate("job.sign.ok")
    w.wait(lambda: w.last("sign") is not None, "the signature")
    w.press("job.debrief", "d")
    w.wait(lambda: w.look()[0] == "debrief", "the debrief")
    time.sleep(0.3)
    w.picture("debrief")


def shown_total(w):
    """The total that the program wrote when it showed the debrief."""
    end = w.actions()[-1]
    assert end.get("end") is True, "the journal has no closing line"
    return end["total"], end["passed"]


def play(w):
    start(w)
    read(w)
    mark(w)
    drill(w, "13/32 in", "2")
    insert(w)
    w.kill_and_go_on()
    assemble(w)
    cut(w)
    crimp(w)
    join(w)
    tension(w)
    check(w)
    hand_over(w)
    total, passed = shown_total(w)
    out = subprocess.run([w.program, "replay", str(w.journal()), "--json"], env=w.env, capture_output=True)
    assert out.returncode == 0, out.stderr
    card = json.loads(out.stdout)[0]
    assert abs(card["total"] - total) < 1e-9, (card["total"], total)
    assert card["passed"] == passed
    refused = [line for line in card["lines"] if line["points"] < line["weight"]]
    print(f"{w.hand}: {total:.2f} points, {'passed' if passed else 'not passed'}; the replay of the journal gives the same")
    for line in refused:
        print(f"  {line['criterion']}: {line['reason']}")
    assert passed, "a practised hand must pass"


def play_both():
    """Hands mostly wait, so two of them take hardly longer than one."""
    hands = [subprocess.Popen([sys.executable, *sys.argv[:3], hand, *sys.argv[4:]]) for hand in ("mouse", "keys")]
    return max(hand.wait() for hand in hands)


def main():
    if sys.argv[3] == "both":
        return play_both()
    pictures = pathlib.Path(sys.argv[4]) if len(sys.argv) > 4 else None
    if pictures:
        pictures.mkdir(parents=True, exist_ok=True)
    for tool in ("Xvfb", "xdotool"):
        if shutil.which(tool) is None:
            print(f"{tool} is missing: apt-get install xvfb xdotool")
            return 1
    w = Window(sys.argv[1], pathlib.Path(sys.argv[2]).resolve(), sys.argv[3], pictures)
    try:
        play(w)
    finally:
        if pictures:
            w.picture("end")
        if w.journal() is not None and pictures:
            shutil.copy(w.journal(), pictures / f"{w.hand}.jsonl")
        w.close()
    return 0


if __name__ == "__main__":
    sys.exit(main())
