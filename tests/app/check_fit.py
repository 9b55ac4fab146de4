#!/usr/bin/env python3
"""Two verbs as a person meets them: the comparison of posts (plan --compare) and the fit to measurements (fit).

Usage: check_fit.py TAUTROW SOURCE_ROOT MAKE_MEASURED|none"""
import json
import os
import pathlib
import random
import subprocess
import sys
import tempfile
import unittest

PROGRAM, ROOT, MAKER = sys.argv[1], pathlib.Path(sys.argv[2]), sys.argv[3]
SOFT = ROOT / "scenarios/soft-porch.json"
LONG = ROOT / "scenarios/long-deck.json"
HALF = ROOT / "scenarios/left-half-done.json"
SHIPPED = ROOT / "scenarios/measured/soft-porch-mockup.csv"
CAN_FIT = MAKER != "none"
ENV = {**os.environ, "LC_ALL": "C", "LANG": "C", "TAUTROW_DATA": str(ROOT)}
# The shipped file says so in its comment lines.
TRUTH = {"base": 45000.0, "joint": 2.2e6, "strand": 740e3}
UNIT = {"base": "n_m_rad", "joint": "n_m", "strand": "n"}


def run(*words):
    return subprocess.run([PROGRAM, *map(str, words)], capture_output=True, timeout=120, env=ENV)


def text(data):
    return data.decode("utf-8")


def folder():
    return tempfile.TemporaryDirectory()


def changed(where, scenario, change):
    """A scenario file with a change made to it."""
    data = json.loads(scenario.read_text(encoding="utf-8"))
    change(data)
    path = pathlib.Path(where) / "changed.json"
    path.write_text(json.dumps(data), encoding="utf-8")
    return path


class Compare(unittest.TestCase):
    def variants(self, scenario, *words):
        done = run("plan", scenario, "--compare", "--json", *words)
        self.assertEqual(done.returncode, 0, text(done.stderr))
        return json.loads(done.stdout)["variants"]

    def test_as_given_comes_first_and_agrees_with_plan(self):
        for scenario in (SOFT, LONG):
            given = self.variants(scenario)[0]
            plan = json.loads(run("plan", scenario, "--json").stdout)
            once = json.loads(run("plan", scenario, "--once", "--json").stdout)
            self.assertEqual(given["varied"], "nothing")
            for field in ("peak_reading_n", "weakest_gap_push_n"):
                self.assertAlmostEqual(given[field], plan[field], delta=1e-9 * plan[field])
            self.assertAlmostEqual(given["kept_share_of_target"], min(once["end_tension_n"]) / once["target_n"], places=9)
            worst = max(given["post_bending_utilisation"], given["base_utilisation"])
            self.assertAlmostEqual(worst, plan["post_utilisation_worst"], places=9)

    def test_every_thing_is_varied(self):
        for scenario in (SOFT, LONG, HALF):
            kinds = {one["varied"] for one in self.variants(scenario)}
            self.assertEqual(kinds, {"nothing", "wood", "section", "base", "rail", "line_posts", "spacing", "several"})

    def test_one_change_is_what_the_changed_file_says(self):
        """A variant is worth what the same change made by hand in the file gives."""
        changes = {
            ("wood", "Western red cedar No. 2, 4x4"): lambda d: d["run"]["near_post"].update(species="cedar-4x4"),
            ("base", "Post set in concrete"): lambda d: d["run"]["near_post"].update(base="embedded"),
            ("rail", "without the rail"): lambda d: d["rail"].update(fitted=False),
            ("line_posts", "2: 24 in between posts"): lambda d: d["run"].update(line_posts=2),
            ("spacing", "4 in apart, 7 rows"): lambda d: (d["rows"].update(count=7, spacing="4 in"), d.pop("before")),
        }
        found = {(one["varied"], one["name"]): one for one in self.variants(SOFT)}
        with folder() as where:
            for key, change in changes.items():
                plan = json.loads(run("plan", changed(where, SOFT, change), "--json").stdout)
                self.assertAlmostEqual(found[key]["peak_reading_n"], plan["peak_reading_n"],
                                       delta=1e-6 * plan["peak_reading_n"], msg=key)

    def test_stiffer_posts_keep_more(self):
        by = {(one["varied"], one["name"]): one for one in self.variants(LONG)}
        given = by["nothing", "as given"]["kept_share_of_target"]
        self.assertLess(by["section", "4x4"]["kept_share_of_target"], given)
        self.assertLess(by["rail", "without the rail"]["kept_share_of_target"], given)
        self.assertGreater(by["base", "Cannot turn"]["kept_share_of_target"], given)

    def test_what_cannot_stand_is_shown_with_its_reason(self):
        one = next(one for one in self.variants(SOFT) if one["name"] == "Turns freely")
        self.assertFalse(one["stands"])
        self.assertIn("pinned", one["reason"])
        done = text(run("plan", SOFT, "--compare").stdout)
        self.assertIn("cannot stand", done)
        self.assertIn(one["reason"], done)

    def test_limits_are_marked(self):
        done = text(run("plan", SOFT, "--compare").stdout)
        line = next(line for line in done.splitlines() if line.startswith("  without the rail"))
        self.assertIn("over the limit", line)
        self.assertIn("!", line)
        self.assertNotIn("!", next(line for line in done.splitlines() if line.startswith("as given")))

    def test_done_rows_and_slip_ups_do_not_count(self):
        with folder() as where:
            bare = changed(where, HALF, lambda d: (d.pop("before"), d.pop("faults"), d["rows"].pop("trainee")))
            self.assertEqual(self.variants(HALF), self.variants(bare))

    def test_other_forms_of_a_scenario(self):
        with folder() as where:
            def far_and_bays(data):
                data["run"] = {"bays": ["30 in", "42 in"], "near_post": data["run"]["near_post"],
                               "far_post": {"rigid": True}}
                data["rows"] = {"heights": ["4 in", "8 in", "13 in", "20 in"]}
                data["tension"]["order"] = [2, 3, 1, 4]
                data.pop("before")
            variants = self.variants(changed(where, SOFT, far_and_bays))
            self.assertGreater(len(variants), 15)
            self.assertTrue(all(one["stands"] for one in variants if one["varied"] in ("line_posts", "spacing")))

            def walls(data):
                data["run"]["near_post"] = {"rigid": True, "species": "spf-4x4"}
            kinds = {one["varied"] for one in self.variants(changed(where, SOFT, walls))}
            self.assertEqual(kinds, {"nothing", "line_posts", "spacing"})

    def test_words_in_both_languages(self):
        for lang in ("en", "es"):
            done = run("plan", SOFT, "--compare", "--lang", lang)
            self.assertEqual(done.returncode, 0)
            self.assertNotIn("cli.", text(done.stdout))
            self.assertNotIn("{", text(done.stdout))

    def test_bad_use(self):
        for words in (("plan", SOFT, "--compare", "--once"), ("plan", SOFT, "--compare", "--lines"),
                      ("plan", SOFT, "--compare", "--target=0 N"), ("plan", SOFT, "--compare", "--target=3 mm"),
                      ("check", SOFT, "--compare"), ("plan", "--compare")):
            done = run(*words)
            self.assertEqual(done.returncode, 2, words)
            self.assertTrue(done.stderr)

    def test_another_target(self):
        low, high = (self.variants(SOFT, f"--target={force}")[0] for force in ("150 lbf", "250 lbf"))
        self.assertLess(low["peak_reading_n"], high["peak_reading_n"])


@unittest.skipIf(CAN_FIT, "the fit is built in")
class Without(unittest.TestCase):
    def test_it_is_said(self):
        done = run("fit", SOFT, SHIPPED)
        self.assertEqual(done.returncode, 2)
        self.assertIn("without the GNU Scientific Library", text(done.stderr))


@unittest.skipUnless(CAN_FIT, "built without the fit")
class Fit(unittest.TestCase):
    def fit(self, *words, scenario=SOFT, measured=SHIPPED, code=0):
        done = run("fit", scenario, measured, "--json", *words)
        self.assertEqual(done.returncode, code, text(done.stderr))
        report = json.loads(done.stdout)
        report["by"] = {one["value"]: one for one in report["values"]}
        return report

    def csv(self, where, change, source=SHIPPED):
        lines = [line for line in source.read_text(encoding="utf-8").split("\n") if not line.startswith("#")]
        path = pathlib.Path(where) / "measured.csv"
        path.write_text("\n".join(change(lines)), encoding="utf-8")
        return path

    def test_the_shipped_file_is_what_its_maker_makes(self):
        made = subprocess.run([MAKER, ROOT], capture_output=True, timeout=60, check=True).stdout
        self.assertEqual(made, SHIPPED.read_bytes())

    def test_known_values_are_recovered(self):
        report = self.fit("--scatter", "0.5 %")
        self.assertTrue(report["is_told"])
        for name, truth in TRUTH.items():
            one = report["by"][name]
            self.assertEqual(one["state"], "told")
            self.assertLess(one[f"low_{UNIT[name]}"], truth)
            self.assertGreater(one[f"high_{UNIT[name]}"], truth)
        self.assertAlmostEqual(report["reduced_chi_square"], 1.0, delta=0.3)
        self.assertEqual(report["far_off"], [])

    def test_residuals_are_model_less_reading_over_scatter(self):
        report = self.fit("--scatter", "0.5 %")
        floor = 0.05 * 200 * 4.4482216152605
        rows = [one for one in report["residuals"] if not one["is_pull_itself"]]
        self.assertEqual(len(rows), report["readings_used"])
        for one in rows:
            sigma = 0.005 * max(one["model_n"], floor)
            self.assertAlmostEqual(one["sigmas"], (one["model_n"] - one["read_n"]) / sigma, places=9)

    def test_text_in_both_languages(self):
        for lang in ("en", "es"):
            done = run("fit", SOFT, SHIPPED, "--lang", lang)
            self.assertEqual(done.returncode, 0, text(done.stderr))
            self.assertNotIn("cli.", text(done.stdout))
            self.assertNotIn("{", text(done.stdout))
            self.assertIn("tautrow fit", text(run("fit", "--help", "--lang", lang).stdout))

    def test_too_few_readings_name_what_cannot_be_told(self):
        with folder() as where:
            few = self.csv(where, lambda lines: lines[:4])
            report = self.fit(measured=few, code=1)
            self.assertTrue(report["is_too_few"])
            done = text(run("fit", SOFT, few).stdout)
            self.assertIn("Cannot be told: base rotation, rail joint, strand EA", done)
            some = self.csv(where, lambda lines: lines[:7])
            done = text(run("fit", SOFT, some, "--scatter", "2 %").stdout)
            self.assertIn("Cannot be told: base rotation", done)
            self.assertIn("--hold", done)

    def test_what_is_held_is_kept(self):
        report = self.fit("--hold", "strand", "--hold", "joint")
        self.assertEqual([report["by"][name]["state"] for name in ("base", "joint", "strand")],
                         ["told", "held", "held"])
        self.assertNotIn("fitted_n", report["by"]["strand"])

    def test_a_run_without_rail_has_no_joint(self):
        with folder() as where:
            bare = changed(where, SOFT, lambda d: d["rail"].update(fitted=False))
            done = run("fit", bare, SHIPPED, "--json")
            states = {one["value"]: one["state"] for one in json.loads(done.stdout)["values"]}
            self.assertEqual(states["joint"], "absent")

    def test_an_outlier_is_named_and_stays_until_it_is_left_out(self):
        def slip(lines):
            cells = lines[22].split(",")
            cells[7] = str(round(float(cells[7]) * 1.2, 1))
            return [*lines[:22], ",".join(cells), *lines[23:]]
        with folder() as where:
            path = self.csv(where, slip)
            sound = self.fit("--scatter", "0.5 %")
            report = self.fit("--scatter", "0.5 %", measured=path)
            self.assertEqual(report["readings_used"], sound["readings_used"])
            worst = report["far_off"][0]
            self.assertEqual((worst["line"], worst["row"], worst["is_pull_itself"]), (23, 5, False))
            said = text(run("fit", SOFT, path, "--scatter", "0.5 %").stdout)
            self.assertIn("line 23, row 5", said)
            self.assertIn("still in the fit", said)
            report = self.fit("--scatter", "0.5 %", "--leave-out", "1", measured=path)
            self.assertEqual(report["readings_used"], sound["readings_used"] - 1)
            self.assertEqual([(one["line"], one["row"]) for one in report["left_out"]], [(23, 5)])
            self.assertEqual(report["far_off"], [])
            self.assertIn("Left out: line 23, row 5",
                          text(run("fit", SOFT, path, "--scatter", "0.5 %", "--leave-out", "1").stdout))

    def test_write_changes_the_values_and_nothing_else(self):
        with folder() as where:
            out = pathlib.Path(where) / "fitted.json"
            report = self.fit("--write", out)
            before, after = SOFT.read_text(encoding="utf-8").split("\n"), out.read_text(encoding="utf-8").split("\n")
            self.assertEqual(len(before), len(after))
            differing = [a for a, b in zip(before, after) if a != b]
            self.assertEqual(len(differing), 3)
            self.assertTrue(all(any(key in line for key in ('"near_post"', '"rail"', '"strand"')) for line in differing))
            self.assertEqual(run("check", out).returncode, 0)
            data = json.loads(out.read_text(encoding="utf-8"))
            value = float(data["run"]["near_post"]["base"]["stiffness"].split()[0])
            self.assertAlmostEqual(value, report["by"]["base"]["fitted_n_m_rad"], delta=1e-6 * value)
            self.assertEqual(data["run"]["near_post"]["base"]["capacity"], "7200 lbf in")
            # fitted again from there, nothing is left to change
            again = self.fit(scenario=out)
            for name, one in again["by"].items():
                start, found = one[f"scenario_{UNIT[name]}"], one[f"fitted_{UNIT[name]}"]
                self.assertAlmostEqual(found, start, delta=1e-4 * start)
            # not twice without being told to
            body = out.read_bytes()
            done = run("fit", SOFT, SHIPPED, "--write", out, "--hold", "strand")
            self.assertEqual(done.returncode, 2)
            self.assertIn("--force", text(done.stderr))
            self.assertEqual(out.read_bytes(), body)
            self.assertEqual(run("fit", SOFT, SHIPPED, "--write", out, "--hold", "strand", "--force").returncode, 0)
            self.assertEqual(json.loads(out.read_text(encoding="utf-8"))["strand"], "1x19-1-8")
            self.assertEqual([path.name for path in pathlib.Path(where).iterdir()], ["fitted.json"])

    def test_write_into_other_forms(self):
        def inline(data):
            data["run"]["near_post"]["base"] = {"capacity": "7000 lbf in", "stiffness": "250000 lbf in/rad"}
            data["run"]["far_post"] = dict(data["run"]["near_post"], base="deck-6x6")
            data["rail"].pop("joint")
        with folder() as where:
            scenario = changed(where, SOFT, inline)
            out = pathlib.Path(where) / "out.json"
            self.fit("--write", out, scenario=scenario)
            data = json.loads(out.read_text(encoding="utf-8"))
            near, far = data["run"]["near_post"]["base"], data["run"]["far_post"]["base"]
            self.assertEqual(near["stiffness"], far["stiffness"])
            self.assertEqual((near["capacity"], far["capacity"]), ("7000 lbf in", "20000 lbf in"))
            self.assertIn("joint", data["rail"])
            self.assertIn("both are taken to be the same", text(run("fit", scenario, SHIPPED).stdout))

    def test_what_is_not_told_is_not_written(self):
        with folder() as where:
            few = self.csv(where, lambda lines: lines[:7])
            out = pathlib.Path(where) / "out.json"
            done = run("fit", SOFT, few, "--scatter", "2 %", "--write", out)
            self.assertEqual(done.returncode, 1)
            self.assertIn("Not written", text(done.stderr))
            self.assertFalse(out.exists())

    def test_slips_name_line_and_column(self):
        cases = (("28,1,5", "3,1,5", ":30:1:"), ("20,6,280.0", "20,6,280 mm", ":22:6:"), ("20,6,280.0", "20,6,-3", ":22:6:"),
                 ("283.6,158.4", "wet,158.4", ":21:11:"), ("283.6,158.4", "283.6,-1", ":21:17:"))
        with folder() as where:
            for was, is_now, place in cases:
                path = self.csv(where, lambda lines: (("\n".join(lines)).rstrip("\n") + "\n28,1,5,\n")
                                .replace(was, is_now).split("\n"))
                done = run("fit", SOFT, path)
                self.assertEqual(done.returncode, 2)
                self.assertIn(f"{path}{place}", text(done.stderr))

    def test_bad_use(self):
        with folder() as where:
            empty = pathlib.Path(where) / "empty.csv"
            empty.write_bytes(b"")
            binary = pathlib.Path(where) / "binary.csv"
            binary.write_bytes(b"\xff\x00" * 50)
            large = pathlib.Path(where) / "large.csv"
            large.write_bytes(b"#" * 300000)
            for words in ((SOFT,), (SOFT, SHIPPED, SHIPPED), (SOFT, "/no/such"), ("/no/such", SHIPPED), (SOFT, where),
                          (SOFT, empty), (SOFT, binary), (SOFT, large), (SHIPPED, SOFT), (LONG, SOFT),
                          (SOFT, SHIPPED, "--hold", "wind"), (SOFT, SHIPPED, "--scatter", "0 %"),
                          (SOFT, SHIPPED, "--scatter", "2"), (SOFT, SHIPPED, "--scatter", "30 %"),
                          (SOFT, SHIPPED, "--leave-out", "21"), (SOFT, SHIPPED, "--leave-out", "1.5"),
                          (SOFT, SHIPPED, "--leave-out", "-1"), (SOFT, SHIPPED, "--write", ""),
                          (SOFT, SHIPPED, "--write", "/no/such/place.json"), (SOFT, SHIPPED, "--target=3 N"),
                          (SOFT, SHIPPED, "--hold", "base", "--hold", "joint", "--hold", "strand")):
                done = run("fit", *words)
                self.assertEqual(done.returncode, 2, (words, text(done.stdout)))
                self.assertTrue(done.stderr, words)

    def test_readings_of_no_run_on_earth_end_in_words(self):
        rng = random.Random(3)
        with folder() as where:
            for _ in range(40):
                count = rng.randint(1, 14)
                lines = ["pull,row,reading," + ",".join(f"row{row}" for row in range(1, 10))]
                for pull in range(count):
                    cells = [rng.choice(("", "0 N", f"{rng.uniform(0, 9000):.3f} N", f"{rng.uniform(0, 1):.6f} N",
                                         f"{rng.uniform(50, 300):.1f} lbf")) for _ in range(9)]
                    force = rng.choice((0.0001, 3, 200, 900, 9000))
                    lines.append(f"{pull + 1},{rng.randint(1, 9)},{force} N," + ",".join(cells))
                path = pathlib.Path(where) / "wild.csv"
                path.write_text("\n".join(lines), encoding="utf-8")
                words = rng.choice(((), ("--leave-out", "3"), ("--hold", "base")))
                done = run("fit", SOFT, path, *words)
                self.assertIn(done.returncode, (0, 1, 2), text(done.stderr))
                self.assertTrue(done.stdout or done.stderr)

    def test_a_gauge_without_scatter_needs_one(self):
        with folder() as where:
            scenario = changed(where, SOFT, lambda d: d.update(tools={"gauge_scatter": "0 %"}))
            done = run("fit", scenario, SHIPPED)
            self.assertEqual(done.returncode, 2)
            self.assertIn("--scatter", text(done.stderr))
            self.assertEqual(run("fit", scenario, SHIPPED, "--scatter", "0.5 %").returncode, 0)


if __name__ == "__main__":
    unittest.main(argv=[sys.argv[0]], verbosity=1)
