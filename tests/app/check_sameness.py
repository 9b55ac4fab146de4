#!/usr/bin/env python3
"""Every build gives the same numbers to the last digit: solve, plan and replay of each scenario and golden journal.

Usage: check_sameness.py SOURCE_ROOT TAUTROW [OTHER_BUILD_FOLDER...]"""
import pathlib
import subprocess
import sys


def outputs(program, root):
    jobs = []
    for path in sorted(root.glob("scenarios/*.json")):
        jobs += [["solve", path, "--target", "--json"], ["plan", path, "--json"], ["plan", path, "--once", "--json"]]
    jobs += [["replay", path, "--json"] for path in sorted(root.glob("tests/golden/*.jsonl"))]
    result = {}
    for job in jobs:
        words = [str(word) for word in job]
        done = subprocess.run([program, *words], capture_output=True, text=True, timeout=120)
        result[" ".join(words)] = (done.returncode, done.stdout)
    return result


def main():
    root = pathlib.Path(sys.argv[1])
    programs = [sys.argv[2], *(str(pathlib.Path(folder) / "tautrow") for folder in sys.argv[3:])]
    first = outputs(programs[0], root)
    bad = sum(1 for code, text in first.values() if not text)
    for program in programs[1:]:
        for name, got in outputs(program, root).items():
            if got != first[name]:
                print(f"{program} differs from {programs[0]} at: {name}")
                bad += 1
    print(f"{len(programs)} builds, {len(first)} outputs, {bad} differ")
    return 1 if bad or not first else 0


if __name__ == "__main__":
    sys.exit(main())
