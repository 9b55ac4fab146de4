#!/usr/bin/env python3
"""Pictures of every screen and stage, in both languages, at 1280x800, 2560x1600 and 200 % text: for eyes, and for the README.

Usage: make_pictures.py TAUTROW SOURCE_ROOT FOLDER [quick|readme]
    quick: English at 1280x800 only; readme: only the three pictures of the README, into FOLDER (docs/pictures)
No display is needed. The stages come from tests/golden/careful.jsonl, one moment each; the pages of the debrief on paper are there
where pdftoppm is."""
import json
import pathlib
import shutil
import subprocess
import sys

STAGES = ["read", "mark", "drill", "insert", "assemble", "cut", "crimp", "join", "tension", "check", "hand_over"]
# The last action of this kind before which the stage is best seen.
MOMENTS = {"read": ("answer", 1), "mark": ("mark_row", 2), "drill": ("drill", 2), "insert": ("drive_insert", 2),
           "assemble": ("screw_stud", 2), "cut": ("cut_cable", 1), "crimp": ("squeeze", 2), "join": ("thread_in", 1),
           "tension": ("turn_body", 40), "check": ("ball", 3), "hand_over": ("collar", 3)}


def moments(journal):
    """How many actions of the journal lie before the moment of each stage."""
    seen, found = {}, {}
    actions = [json.loads(line) for line in journal.read_text(encoding="utf-8").splitlines()[1:]]
    for index, action in enumerate(a for a in actions if "do" in a):
        name = action["do"]
        seen[name] = seen.get(name, 0) + 1
        for stage, (verb, nth) in MOMENTS.items():
            if name == verb and (seen[name] == nth or stage not in found):
                found[stage] = index
    return found


README_TURN = 15  # the turn before which the README shows tensioning: rows in the band and rows that have lost theirs


def nth(journal, verb, count):
    """How many actions of the journal lie before this one of its kind."""
    verbs = [action["do"] for action in map(json.loads, journal.read_text(encoding="utf-8").splitlines()[1:]) if "do" in action]
    return [index for index, name in enumerate(verbs) if name == verb][count - 1]


# Slip-ups of tests/golden/careless.jsonl: the card stands on the screen after the last action of this kind so often done.
SLIPS = {"bit": ("drill", 2), "shallow": ("drive_insert", 1), "not-home": ("push_home", 1), "stud": ("turn_body", 1), "signed": ("sign", 1)}


def slips(journal):
    """How many actions of the journal lie before each card, the slip itself included."""
    seen, found = {}, {}
    actions = [json.loads(line) for line in journal.read_text(encoding="utf-8").splitlines()[1:]]
    for index, action in enumerate(a for a in actions if "do" in a):
        name = action["do"]
        seen[name] = seen.get(name, 0) + 1
        found.update({slip: index + 1 for slip, when in SLIPS.items() if when == (name, seen[name])})
    return found


def past_of(program, root, folder):
    """A folder of journals of one person who gets better; the golden ones alone where the maker was not built."""
    maker = pathlib.Path(program).parent / "tests/make_journals"
    if not maker.exists():
        return root / "tests/golden"
    past = folder / "attempts"
    past.mkdir(exist_ok=True)
    story = [("soft-porch", "careless"), ("left-half-done", "careless"), ("soft-porch", "careless"), ("left-half-done", "careful"),
             ("long-deck", "careless"), ("soft-porch", "careful"), ("left-half-done", "careful")]
    for day, (scenario, how) in enumerate(story, 1):
        started = f"2031-05-{day:02}T08:00:00Z"
        subprocess.run([maker, root / f"scenarios/{scenario}.json", root / "assets/catalogue/catalogue.json", how,
                        past / f"203105{day:02}T080000Z-{scenario}-0.jsonl", "Ines Varga", started], check=True, stdout=subprocess.DEVNULL)
    return past


def shots_of(root, past):
    """Every screen: its name and how the program is asked for it."""
    golden = root / "tests/golden"
    careful, careless, porch = golden / "careful.jsonl", golden / "careless.jsonl", root / "scenarios/soft-porch.json"
    at = moments(careful)
    shots = [("home", ["--screen", "home"]), ("home-past", ["--screen", "home", *past]), ("progress", ["--screen", "progress", *past]),
             ("scenarios", ["--screen", "scenarios"]), ("settings", ["--screen", "settings"]),
             ("welcome-language", ["--screen", "welcome", "--step", "0"]), ("welcome", ["--screen", "welcome"])]
    shots += [(f"tour-{step}", ["--screen", "tour", "--step", step]) for step in range(1, 7)]
    shots += [(f"orders-{step:02}", [porch, "--screen", "orders", "--step", step]) for step in (0, 7, 20)]
    for number, stage in enumerate(STAGES, 1):
        here = ["--journal", careful, "--step", at[stage]]
        shots.append((f"job-{number:02}-{stage}", [*here, "--screen", "job", "--mode", "guided"]))
        shots.append((f"shown-{number:02}-{stage}", [*here, "--screen", "shown", "--mode", "guided"]))
        if stage in ("drill", "crimp", "tension"):
            shots.append((f"job-{number:02}-{stage}-why", [*here, "--screen", "why", "--mode", "guided"]))
    for slip, step in slips(careless).items():
        shots.append((f"slip-{slip}", ["--journal", careless, "--screen", "job", "--step", step, "--mode", "guided"]))
    for name, journal in (("careful", careful), ("careless", careless)):
        shots.append((f"debrief-{name}", ["--journal", journal]))
        shots += [(f"debrief-{name}-{page}", ["--journal", journal, "--screen", "debrief", "--step", page]) for page in range(1, 6)]
    return shots


def picture(program, what, out):
    """Draws one; False and a word on it where that failed."""
    done = subprocess.run([program, *map(str, what), "--screenshot", str(out)], capture_output=True, text=True, timeout=60)
    if done.returncode != 0:
        print(f"{out.name}: {done.stderr.strip()}")
    return done.returncode == 0


def paper(program, root, folder, langs):
    """The pages of the debrief on paper; returns how many."""
    if shutil.which("pdftoppm") is None:
        print("no pdftoppm: without the pages of the debrief on paper")
        return 0
    for lang in langs:
        for name in ("careful", "careless"):
            pdf = folder / f"{lang}-paper-{name}.pdf"
            subprocess.run([program, "replay", root / f"tests/golden/{name}.jsonl", "--pdf", pdf, "--lang", lang], check=True,
                           stdout=subprocess.DEVNULL)
            subprocess.run(["pdftoppm", "-r", "110", "-png", pdf, pdf.with_suffix("")], check=True)
    return len(list(folder.glob("*-paper-*.png")))


def readme(program, root, folder):
    """The three pictures that the README shows."""
    careful, careless = root / "tests/golden/careful.jsonl", root / "tests/golden/careless.jsonl"
    here = ["--journal", careful, "--screen", "job", "--mode", "guided", "--step"]
    shots = {"tension": [*here, nth(careful, "turn_body", README_TURN)], "crimp": [*here, moments(careful)["crimp"]],
             "debrief": ["--journal", careless]}
    drawn = [picture(program, [*what, "--size", "1280x800", "--lang", "en"], folder / f"{name}.png") for name, what in shots.items()]
    print(f"{sum(drawn)} of 3 pictures in {folder}")
    return 0 if all(drawn) else 1


def main():
    program, root, folder = sys.argv[1], pathlib.Path(sys.argv[2]), pathlib.Path(sys.argv[3])
    how = sys.argv[4] if len(sys.argv) > 4 else ""
    folder.mkdir(parents=True, exist_ok=True)
    if how == "readme":
        return readme(program, root, folder)
    shots = shots_of(root, ["--attempts", past_of(program, root, folder), "--trainee", "Ines Varga"])
    langs = ("en",) if how == "quick" else ("en", "es")
    sizes = (("1280x800", ["--size", "1280x800"]), ("2560x1600", ["--size", "2560x1600", "--scale", "2"]),
             ("1024x640", ["--size", "1024x640"]), ("large-text", ["--size", "1280x800", "--text", "200"]))
    looks = [(lang, name, words) for lang in langs for name, words in (sizes[:1] if how == "quick" else sizes)]
    drawn = sum(picture(program, [*what, *words, "--lang", lang], folder / f"{lang}-{look}-{name}.png")
                for lang, look, words in looks for name, what in shots)
    pages = paper(program, root, folder, langs)
    print(f"{drawn} pictures and {pages} pages in {folder}, {len(looks) * len(shots) - drawn} failed")
    return 0 if drawn == len(looks) * len(shots) else 1


if __name__ == "__main__":
    sys.exit(main())
