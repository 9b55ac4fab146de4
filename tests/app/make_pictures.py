#!/usr/bin/env python3
"""Pictures of every screen and stage, in both languages, at 1280x800, 2560x1600 and 200 % text: for eyes, and for the README.

Usage: make_pictures.py TAUTROW SOURCE_ROOT FOLDER [quick]      quick: English at 1280x800 only
No display is needed. The stages come from tests/golden/careful.jsonl, one moment each."""
import json
import pathlib
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


def main():
    program, root, folder = sys.argv[1], pathlib.Path(sys.argv[2]), pathlib.Path(sys.argv[3])
    quick = len(sys.argv) > 4
    golden = root / "tests/golden"
    folder.mkdir(parents=True, exist_ok=True)
    at = moments(golden / "careful.jsonl")
    past = ["--attempts", past_of(program, root, folder), "--trainee", "Ines Varga"]
    shots = [("home", ["--screen", "home"]), ("home-past", ["--screen", "home", *past]), ("progress", ["--screen", "progress", *past]), ("scenarios", ["--screen", "scenarios"]), ("settings", ["--screen", "settings"]),
             ("debrief-careful", ["--journal", golden / "careful.jsonl"]),
             ("debrief-careless", ["--journal", golden / "careless.jsonl"])]
    shots += [("welcome-language", ["--screen", "welcome", "--step", "0"]), ("welcome", ["--screen", "welcome"])]
    shots += [(f"tour-{step}", ["--screen", "tour", "--step", str(step)]) for step in range(1, 7)]
    for number, stage in enumerate(STAGES, 1):
        if stage in at:
            shots.append((f"job-{number:02}-{stage}",
                          ["--journal", golden / "careful.jsonl", "--screen", "job", "--step", at[stage], "--mode", "guided"]))
    for stage in ("drill", "crimp", "tension"):
        if stage in at:
            shots.append((f"shown-{stage}", ["--journal", golden / "careful.jsonl", "--screen", "shown", "--step", at[stage]]))
    for slip, step in slips(golden / "careless.jsonl").items():
        shots.append((f"slip-{slip}",
                      ["--journal", golden / "careless.jsonl", "--screen", "job", "--step", step, "--mode", "guided"]))
    looks = [("en", "1280x800", [])] if quick else [
        (lang, name, words) for lang in ("en", "es") for name, words in (
            ("1280x800", ["--size", "1280x800"]), ("2560x1600", ["--size", "2560x1600", "--scale", "2"]),
            ("1024x640", ["--size", "1024x640"]), ("large-text", ["--size", "1280x800", "--text", "200"]))]
    failed = 0
    for lang, look, words in looks:
        for name, what in shots:
            out = folder / f"{lang}-{look}-{name}.png"
            done = subprocess.run([program, *map(str, what), *words, "--lang", lang, "--screenshot", str(out)],
                                  capture_output=True, text=True, timeout=60)
            if done.returncode != 0:
                failed += 1
                print(f"{out.name}: {done.stderr.strip()}")
    print(f"{len(looks) * len(shots) - failed} pictures in {folder}, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
