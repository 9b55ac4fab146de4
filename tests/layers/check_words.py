#!/usr/bin/env python3
"""Both languages hold the same keys with the same places to fill in, and every key that the source names is there.

Usage: check_words.py SOURCE_ROOT. Prints every gap and exits 1 where there is one."""
import pathlib
import re
import sys

# Prefixes that the source puts together from a table ("rubric." + key): their keys need not appear whole in the source.
BUILT = ["act.", "mend.", "rubric.", "reason.", "effect.", "stop.", "refuse.", "event.", "stage.", "fault.", "cli.arg.", "cli.opt.", "cli.help.",
         "look.", "what.", "why.", "slip.", "number.", "wrong.", "caution.", "order.", "mode.", "skill."]
# A string of the source that looks like a key: dotted lower case with a known area in front.
KEY = re.compile(r'"([a-z][a-z0-9_]*(?:\.[a-z0-9_-]+)+)"')


def read(folder):
    words, problems = {}, []
    for path in sorted(folder.glob("*.txt")):
        for number, line in enumerate(path.read_text(encoding="utf-8").split("\n"), 1):
            if not line.strip() or line.startswith("#"):
                continue
            key, equals, text = line.partition("=")
            key = key.strip()
            if not equals or not text.strip():
                problems.append(f"{path.name}:{number}: no text for {key}")
            if key in words:
                problems.append(f"{path.name}:{number}: {key} stands twice")
            words[key] = text.strip()
    return words, problems


def main():
    root = pathlib.Path(sys.argv[1]).resolve()
    english, problems = read(root / "assets/lang/en")
    spanish, more = read(root / "assets/lang/es")
    problems += more
    for key in sorted(set(english) ^ set(spanish)):
        problems.append(f"{key} is missing in {'Spanish' if key in english else 'English'}")
    for key in sorted(set(english) & set(spanish)):
        if set(re.findall(r"\{\d\}", english[key])) != set(re.findall(r"\{\d\}", spanish[key])):
            problems.append(f"{key}: the two languages fill in different places")
    areas = {key.split(".")[0] for key in english}
    used = set()
    for path in [*root.glob("game/**/*.[ch]"), *root.glob("include/**/*.h")]:
        for key in KEY.findall(path.read_text(encoding="utf-8")):
            if key.split(".")[0] in areas and not key.endswith((".json", ".txt", ".c", ".h", ".png", ".ttf")):
                used.add(key)
                if key not in english:
                    problems.append(f"{path.relative_to(root)}: \"{key}\" is in no language file")
    for key in sorted(english):
        if key not in used and not key.startswith(tuple(BUILT)):
            problems.append(f"{key} is used nowhere")
    print("\n".join(problems))
    print(f"{len(english)} words, {len(used)} named in the source, {len(problems)} gaps")
    return 1 if problems or not english else 0


if __name__ == "__main__":
    sys.exit(main())
