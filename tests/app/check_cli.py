#!/usr/bin/env python3
"""The command line as a person meets it: good use, bad use, bad files.

Usage: check_cli.py TAUTROW SOURCE_ROOT"""
import hashlib
import json
import os
import pathlib
import random
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import unittest

PROGRAM, ROOT = sys.argv[1], pathlib.Path(sys.argv[2])
SCENARIOS = sorted(ROOT.glob("scenarios/*.json"))
YIELDING = ROOT / "scenarios/soft-porch.json"
GOLDEN = ROOT / "tests/golden"
ENV = {**os.environ, "LC_ALL": "C", "LANG": "C"}


def run(*words, env=None):
    return subprocess.run([PROGRAM, *map(str, words)], capture_output=True, timeout=60, env=env or ENV)


def text(data):
    return data.decode("utf-8")


class Good(unittest.TestCase):
    def test_check_accepts_what_is_shipped(self):
        done = run("check", *SCENARIOS)
        self.assertEqual(done.returncode, 0, text(done.stderr))
        self.assertEqual(text(done.stderr), "")
        self.assertGreaterEqual(len(SCENARIOS), 3)

    def test_every_verb_has_help_in_both_languages(self):
        for lang in ("en", "es"):
            for words in ((), ("check",), ("solve",), ("plan",), ("replay",)):
                done = run(*words, "--help", "--lang", lang)
                self.assertEqual(done.returncode, 0)
                self.assertIn("tautrow", text(done.stdout))
                self.assertNotIn("cli.", text(done.stdout), "a word is missing")

    def test_help_names_what_an_option_wants_in_its_language(self):
        said = text(run("--help", "--lang", "es").stdout) + text(run("solve", "--help", "--lang", "es").stdout)
        for word in ("FILE", "FOLDER", "PERCENT", "JOURNAL", "NAME", "FORCE", "LENGTH"):
            self.assertNotIn(word, said)
        self.assertIn("--journal ARCHIVO", said)

    def test_a_file_that_is_not_there_has_no_line(self):
        said = text(run("no-such.json").stderr)
        self.assertIn("no-such.json: ", said)
        self.assertNotIn(":0", said)

    def test_version(self):
        done = run("--version")
        self.assertEqual(done.returncode, 0)
        self.assertRegex(text(done.stdout), r"^tautrow \d+\.\d+\.\d+\n$")

    def test_language_follows_the_environment(self):
        done = run("check", YIELDING, env={**ENV, "LC_ALL": "es_MX.UTF-8"})
        self.assertIn("bien", text(done.stdout))

    def test_numbers_do_not_follow_the_locale(self):
        plain = run("solve", YIELDING, "--target", "--json")
        other = run("solve", YIELDING, "--target", "--json", env={**ENV, "LC_ALL": "de_DE.UTF-8"})
        self.assertEqual(plain.stdout, other.stdout)

    def test_pull_sheet_ends_at_the_target_and_one_pass_does_not(self):
        for scenario in SCENARIOS:
            whole = json.loads(run("plan", scenario, "--json").stdout)
            rows = sorted({pull["row"] for pull in whole["pulls"]})
            lines = run("plan", scenario, "--lines")
            self.assertEqual(lines.returncode, 0)
            with tempfile.NamedTemporaryFile("wb", suffix=".txt") as pulls:
                pulls.write(lines.stdout)
                pulls.flush()
                end = json.loads(run("solve", scenario, "--pulls", pulls.name, "--json").stdout)
            target = end["target_n"]
            for row in rows:
                self.assertAlmostEqual(end["rows"][row - 1]["tension_n"] / target, 1.0, delta=0.001)
        once = run("plan", YIELDING, "--once", "--lines")
        with tempfile.NamedTemporaryFile("wb", suffix=".txt") as pulls:
            pulls.write(once.stdout)
            pulls.flush()
            done = run("solve", YIELDING, "--pulls", pulls.name)
            low = json.loads(run("solve", YIELDING, "--pulls", pulls.name, "--json").stdout)
        self.assertIn("Low: rows", text(done.stdout))
        self.assertLess(low["rows"][low["lowest_row"] - 1]["share_of_target"], 0.5)

    def test_job_sheet_names_the_bit_exactly(self):
        """13/32 in rounded to 16ths would be 7/16 in, the next bit in the box."""
        self.assertIn("Bit 13/32 in", text(run("plan", YIELDING).stdout))

    def test_job_sheet_shows_the_guard_load(self):
        """200 lbf at a rail 30 in up: 6000 lbf in on one post. 50 lbf on 12 x 12 in, rows 3 in apart: a quarter each
        (ASCE 7-16 4.5.1)."""
        guard = json.loads(run("plan", YIELDING, "--json").stdout)["guard"]
        self.assertAlmostEqual(guard["rail_push_n"] / 4.4482216152605, 200.0, places=6)
        self.assertAlmostEqual(guard["post_moment_n_m"] / (4.4482216152605 * 0.0254), 6000.0, places=4)
        self.assertAlmostEqual(guard["row_push_n"] / guard["infill_push_n"], 0.25, places=9)
        self.assertGreater(guard["base_utilisation_worst"], 6000 / 7200)
        self.assertGreater(guard["row_sag_m"], 0.0)
        said = text(run("plan", YIELDING).stdout)
        self.assertIn("6000 lbf·in on the base of a post that takes it alone", said)
        self.assertLess(said.index("Guard load"), said.index("A training estimate"))
        self.assertIn("Carga de baranda", text(run("plan", YIELDING, "--lang", "es").stdout))
        weak = json.loads((ROOT / "scenarios/thirty-days.json").read_text(encoding="utf-8"))
        weak["run"]["near_post"]["base"] = "deck-4x4"  # as strong as 200 lbf at 36 in, and the rows pull besides
        with tempfile.TemporaryDirectory() as folder:
            path = pathlib.Path(folder) / "weak.json"
            path.write_text(json.dumps(weak), encoding="utf-8")
            pushed = run("check", path)
            self.assertEqual(pushed.returncode, 0)
            self.assertIn("pushing the rail at the near post alone", text(pushed.stderr))
            found = json.loads(run("check", path, "--json").stdout)[0]["findings"]
        self.assertEqual({one["path"] for one in found}, {"$.run.near_post.base", "$.run.far_post.base"})

    def test_docs_list_the_actions_that_there_are(self):
        self.assertEqual(text(run("replay", "--actions").stdout), (ROOT / "docs/actions.md").read_text(encoding="utf-8"))

    def test_solve_says_when_all_stand_at_the_target(self):
        self.assertIn("within 0.1 %", text(run("solve", YIELDING, "--target").stdout))
        self.assertIn("0.1 %", text(run("solve", YIELDING, "--target", "--lang", "es").stdout))

    def test_take_ups_from_words_and_from_a_file_are_the_same(self):
        with tempfile.NamedTemporaryFile("w", suffix=".txt") as pairs:
            pairs.write("# two rows\n5 3 mm\n\n6 2 mm\n")
            pairs.flush()
            from_file = run("solve", YIELDING, "--take-up", pairs.name, "--json")
        from_words = run("solve", YIELDING, "--take-up", "5=3 mm", "--take-up", "6=2 mm", "--json")
        self.assertEqual(from_file.stdout, from_words.stdout)
        self.assertEqual(from_words.returncode, 0)

    def test_equilibrium_of_what_is_printed(self):
        state = json.loads(run("solve", YIELDING, "--target", "--json").stdout)
        total = sum(row["tension_n"] for row in state["rows"])
        self.assertAlmostEqual(total, state["total_n"], delta=1e-6 * total)
        for post in state["posts"]:
            self.assertAlmostEqual(post["base_shear_n"] + state["rail_n"], total, delta=1e-6 * total)

    def test_a_target_that_a_row_cannot_bear_is_refused(self):
        done = run("plan", YIELDING, "--target=390 lbf")
        self.assertEqual(done.returncode, 1)
        self.assertIn("Refused", text(done.stdout))

    def test_picture_needs_no_display(self):
        env = {key: value for key, value in ENV.items() if key not in ("DISPLAY", "WAYLAND_DISPLAY")}
        with tempfile.TemporaryDirectory() as folder:
            out = pathlib.Path(folder) / "home.png"
            done = run("--screenshot", out, "--size", "1280x800", env=env)
            if "no window" in text(done.stderr):
                self.skipTest("built without a window")
            self.assertEqual(done.returncode, 0, text(done.stderr))
            self.assertEqual(out.read_bytes()[:8], b"\x89PNG\r\n\x1a\n")

    def test_pictures_of_each_chart_and_of_the_reasons_are_not_the_same(self):
        careful = ("--journal", GOLDEN / "careful.jsonl")
        asked = [(*careful, "--screen", "debrief", "--step", page) for page in range(1, 6)]
        asked += [(*careful, "--screen", screen, "--step", 85, "--mode", "guided") for screen in ("job", "why")]
        with tempfile.TemporaryDirectory() as folder:
            out = pathlib.Path(folder) / "it.png"
            seen = set()
            for words in asked:
                done = run(*words, "--screenshot", out, "--size", "1024x640")
                if "no window" in text(done.stderr):
                    self.skipTest("built without a window")
                self.assertEqual(done.returncode, 0, text(done.stderr))
                seen.add(out.read_bytes())
            self.assertEqual(len(seen), len(asked))


class Bad(unittest.TestCase):
    def refuses(self, done, code=2):
        self.assertEqual(done.returncode, code, text(done.stdout) + text(done.stderr))
        self.assertTrue(done.stderr, "nothing was said")

    def test_usage(self):
        for words in (("--no-such",), ("check",), ("solve",), ("plan", "a", "b"), ("check", "--pulls", "x"),
                      ("solve", YIELDING, "--take-up", "99=3 mm"), ("solve", YIELDING, "--take-up", "2=3 lbf"),
                      ("solve", YIELDING, "--pulls", "/no/such"), ("solve", YIELDING, "--target=3 mm"),
                      ("solve", YIELDING, "--target=0 N"), ("--size", "12"), ("--scale", "big"), ("--lang", "xx"),
                      ("--screen", "cellar", "--screenshot", "/tmp/none.png"), ("--screen", "why", "--screenshot", "/tmp/none.png"),
                      ("replay",)):
            self.refuses(run(*words))

    def test_pull_files_name_the_line(self):
        for body, place in (("5 100 lbf\n6\n", ":2:"), ("0 100 lbf\n", ":1:"), ("5 -3 lbf\n", ":1:"), ("\n\nx\n", ":3:")):
            with tempfile.NamedTemporaryFile("w", suffix=".txt") as pulls:
                pulls.write(body)
                pulls.flush()
                done = run("solve", YIELDING, "--pulls", pulls.name)
            self.refuses(done)
            self.assertIn(place, text(done.stderr))

    def test_scenarios_that_are_none(self):
        good = YIELDING.read_bytes()
        rng = random.Random(7)
        cases = [b"", b"{", b"[]", b"null", b"\x00" * 100, rng.randbytes(4096), good[: len(good) // 2], good + b"x",
                 b"{" * 100000, b'{"a":' * 50000, b" " * (1 << 20), b"\xff\xfe" + good]
        for body in cases:
            with tempfile.NamedTemporaryFile("wb", suffix=".json") as file:
                file.write(body)
                file.flush()
                for verb in ("check", "solve", "plan"):
                    self.refuses(run(verb, file.name))
                self.refuses(run("replay", file.name))

    def test_places_that_are_no_files(self):
        for path in ("/no/such/file", "/", "/dev/null"):
            self.refuses(run("check", path))
            self.refuses(run("replay", path))

    def test_full_disk_is_said(self):
        if not os.path.exists("/dev/full"):
            self.skipTest("no /dev/full")
        with open("/dev/full", "wb") as full:
            done = subprocess.run([PROGRAM, "plan", str(YIELDING)], stdout=full, stderr=subprocess.PIPE, env=ENV)
        self.assertEqual(done.returncode, 2)
        self.assertTrue(done.stderr)

    def test_no_font_is_said(self):
        with tempfile.TemporaryDirectory() as empty:
            out = pathlib.Path(empty) / "x.png"
            done = run("--screenshot", out, env={**ENV, "TAUTROW_FONTS": empty})
            self.refuses(done)
            if "no window" in text(done.stderr):
                self.skipTest("built without a window")
            self.assertIn("font", text(done.stderr))
            self.assertFalse(out.exists())

    def test_picture_that_cannot_be_written_is_said(self):
        self.refuses(run("--screenshot", "/no/such/folder/x.png"))

    def test_no_assets_is_said(self):
        with tempfile.TemporaryDirectory() as empty:
            self.refuses(run("check", YIELDING, env={**ENV, "TAUTROW_DATA": empty}))

    def test_no_display_is_said(self):
        env = {key: value for key, value in ENV.items() if key not in ("DISPLAY", "WAYLAND_DISPLAY", "SDL_VIDEODRIVER")}
        done = subprocess.run([PROGRAM], capture_output=True, timeout=30, env={**env, "SDL_VIDEODRIVER": "x11"})
        self.assertEqual(done.returncode, 2)
        self.assertTrue(done.stderr)


class Paper(unittest.TestCase):
    """replay --pdf, read back by pdftotext; a program built without its window says so."""

    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)

    def path(self, name):
        return pathlib.Path(self.folder.name) / name

    def print(self, journal, name, *words):
        done = run("replay", journal, "--pdf", self.path(name), *words)
        if b"no window" in done.stderr:
            self.assertEqual(done.returncode, 2)
            self.assertFalse(self.path(name).exists())
            self.skipTest("built without the window")
        self.assertEqual(done.returncode, 0, text(done.stderr))
        return text(done.stdout)

    def read(self, name, tool, *words):
        if shutil.which(tool) is None:
            self.skipTest("poppler-utils is not installed")
        return text(subprocess.run([tool, *words, self.path(name), *(["-"] if tool == "pdftotext" else [])], check=True,
                                   capture_output=True).stdout)

    def test_paper_says_what_replay_says(self):
        for name in ("careful", "careless"):
            journal = GOLDEN / f"{name}.jsonl"
            for lang, judged in (("en", "Passed|Not passed"), ("es", "Aprobado|No aprobado")):
                said = self.print(journal, "one.pdf", "--lang", lang)
                total = re.search(rf"(?:{judged}): ([0-9.]+) ", said).group(1)
                paper = self.read("one.pdf", "pdftotext", "-layout")
                lines = re.findall(r"^  (.+?): ([0-9.]+) (?:of|de) ([0-9.]+) ", said, re.M)
                self.assertGreater(len(lines), 20)
                for criterion, got, weight in [*lines, ("Total", total, "100")]:  # the name's first word: long names are broken
                    self.assertRegex(paper, rf"(?m)^ *{criterion.split()[0]}\b.* {re.escape(got)} ?/ ?{weight}$", criterion)

    def test_every_page_names_the_journal_by_its_digest(self):
        journal = GOLDEN / "careless.jsonl"
        self.print(journal, "one.pdf")
        pages = self.read("one.pdf", "pdftotext").split("\f")[:-1]
        digest = hashlib.sha256(journal.read_bytes()).hexdigest()
        self.assertGreaterEqual(len(pages), 3)
        for number, page in enumerate(pages, 1):
            self.assertIn(digest, page)
            self.assertIn(f"Page {number} of {len(pages)}", page)
            self.assertIn("A training estimate", page)

    def test_the_same_journal_gives_the_same_bytes(self):
        self.print(GOLDEN / "careful.jsonl", "one.pdf")
        self.print(GOLDEN / "careful.jsonl", "two.pdf")
        self.assertEqual(self.path("one.pdf").read_bytes(), self.path("two.pdf").read_bytes())

    def test_paper_size_follows_the_units_and_the_date_is_the_attempts(self):
        for system, size in (("si", "A4"), ("us", "letter")):
            self.print(GOLDEN / "careful.jsonl", "one.pdf", "--system", system)
            facts = self.read("one.pdf", "pdfinfo", "-isodates")
            self.assertRegex(facts, rf"Page size: .*\({size}\)")
            self.assertRegex(facts, r"CreationDate: *2031-05-02T08:00:00")
            self.assertRegex(facts, r"Author: *tautrow \d")
            for font in self.read("one.pdf", "pdffonts").splitlines()[2:]:
                self.assertEqual(font.split()[-5:-2], ["yes", "yes", "yes"], font)  # embedded, subset, mapped to Unicode

    def test_what_cannot_be_written_is_said_in_words(self):
        self.print(GOLDEN / "careful.jsonl", "fine.pdf")
        for target in (self.path("no/such/folder.pdf"), self.folder.name, "/dev/full"):
            done = run("replay", GOLDEN / "careful.jsonl", "--pdf", target)
            self.assertEqual(done.returncode, 2, target)
            self.assertIn(str(target), text(done.stderr))
        limited = subprocess.run(["sh", "-c", 'ulimit -f 8; exec "$@"', "sh", PROGRAM, "replay", str(GOLDEN / "careful.jsonl"),
                                  "--pdf", str(self.path("fine.pdf"))], capture_output=True, timeout=60,
                                 env={**ENV}, preexec_fn=lambda: signal.signal(signal.SIGXFSZ, signal.SIG_IGN))
        self.assertEqual(limited.returncode, 2, text(limited.stderr))
        self.assertTrue(limited.stderr)
        self.assertGreater(self.path("fine.pdf").stat().st_size, 20000)  # the old one is whole
        self.assertEqual(sorted(p.name for p in pathlib.Path(self.folder.name).iterdir()), ["fine.pdf"])

    def test_one_journal_a_paper_and_only_what_verifies(self):
        done = run("replay", GOLDEN / "careful.jsonl", GOLDEN / "careless.jsonl", "--pdf", self.path("two.pdf"))
        self.assertEqual(done.returncode, 2)
        changed = self.path("changed.jsonl")
        changed.write_bytes((GOLDEN / "careful.jsonl").read_bytes().replace(b"Ines Varga", b"Inas Varga"))
        done = run("replay", changed, "--pdf", self.path("changed.pdf"))
        self.assertIn(done.returncode, (1, 2))
        self.assertFalse(self.path("two.pdf").exists() or self.path("changed.pdf").exists())


class Journals(unittest.TestCase):
    def replay(self, name):
        done = run("replay", GOLDEN / name, "--json")
        self.assertEqual(done.returncode, 0, text(done.stderr))
        return json.loads(done.stdout)[0]

    def test_careful_attempt_passes(self):
        card = self.replay("careful.jsonl")
        self.assertTrue(card["passed"])
        self.assertGreaterEqual(card["total"], 95)
        self.assertEqual(card["stops"], [])

    def test_careless_attempt_is_told_each_slip(self):
        card = self.replay("careless.jsonl")
        self.assertFalse(card["passed"])
        lost = {line["criterion"]: line for line in card["lines"] if line["points"] < line["weight"] - 1e-9}
        for slip in ("bit", "hole_depth", "squeezes", "squeeze_turn", "stud_held", "order", "rounds", "glasses"):
            self.assertIn(slip, lost)
        for slip in ("bit", "hole_depth", "squeezes", "squeeze_turn"):
            self.assertTrue(lost[slip]["rows"], slip)
        for slip in ("hole_depth", "squeezes", "stud_held", "order", "rounds"):
            self.assertIn("mended", lost[slip], slip)
            self.assertNotEqual(lost[slip]["mended"]["was_si"], lost[slip]["mended"]["would_be_si"])
        for line in lost.values():
            self.assertGreater(len(line["reason"]), 30)
            self.assertNotIn("{", line["reason"])

    def test_one_changed_byte_is_found_in_its_line(self):
        body = (GOLDEN / "careful.jsonl").read_bytes()
        starts = [0] + [i + 1 for i, byte in enumerate(body) if byte == 10]
        rng = random.Random(11)
        places = [rng.randrange(len(body) - 1) for _ in range(60)] + [5, starts[1] + 3, starts[-2] + 4]
        for place in places:
            if body[place] == 10:
                continue
            changed = bytearray(body)
            changed[place] = ord("7") if body[place] != ord("7") else ord("8")
            line = 1 + body.count(b"\n", 0, place)
            with tempfile.NamedTemporaryFile("wb", suffix=".jsonl") as file:
                file.write(changed)
                file.flush()
                done = run("replay", file.name)
            self.assertIn(done.returncode, (1, 2), f"byte {place}")
            self.assertIn(f":{line}:", text(done.stderr), f"byte {place} in line {line}: {text(done.stderr)}")


if __name__ == "__main__":
    unittest.main(argv=[sys.argv[0]], verbosity=1)
