"""The published schemas by an independent validator: they are sound themselves, the shipped files pass, spoilt ones do not.

Run by ctest as: python3 check_schema.py SOURCE_FOLDER. Exit 77 = skipped, with the reason.
"""

import copy
import json
import pathlib
import sys

try:
    import jsonschema
except ImportError:
    print("skipped: the Python module jsonschema is missing (Debian: python3-jsonschema)")
    sys.exit(77)

ROOT = pathlib.Path(sys.argv[1])


def load(name):
    return json.loads((ROOT / name).read_text(encoding="utf-8"))


def validator(name):
    schema = load(name)
    jsonschema.Draft202012Validator.check_schema(schema)
    catalogue = load("docs/catalogue.schema.json")
    # made-up addresses: both schemas are at hand, nothing is fetched
    resolver = jsonschema.RefResolver("file:///" + name, schema, store={"file:///docs/catalogue.schema.json": catalogue})
    return jsonschema.Draft202012Validator(schema, resolver=resolver)


def put(path, value):
    """A change: sets the value at a path; None takes it away."""

    def change(data):
        for key in path[:-1]:
            data = data[key]
        if value is None:
            del data[path[-1]]
        else:
            data[path[-1]] = value

    return change


BROKEN_SCENARIOS = [
    ("a bare number for a length", put(["run", "length"], 6)),
    ("a force for a length", put(["run", "length"], "6 lbf")),
    ("no unit", put(["tension", "target"], "200")),
    ("an unknown key", put(["run", "lenght"], "6 ft")),
    ("another format", put(["format"], "tautrow.scenario/9")),
    ("no target", put(["tension", "target"], None)),
    ("no strand", put(["strand"], None)),
    ("too many rows", put(["rows", "count"], 41)),
    ("a row of 0", put(["before", 0, "rows"], [0])),
    ("an unknown stage", put(["before", 0, "stage"], "polish")),
    ("an unknown order", put(["tension", "order"], "sideways")),
    ("difficulty 4", put(["difficulty"], 4)),
    ("a title in one language", put(["title"], {"en": "Only English"})),
    ("capitals in the id", put(["id"], "Porch")),
    ("an unknown criterion", put(["rubric"], {"criteria": {"looks": {"weight": 3}}})),
    ("an unknown fault", put(["faults"], [{"kind": "rusty", "row": 1}])),
    ("half a strand", put(["strand"], {"diameter": "3 mm"})),
    ("a rail that is true", put(["rail"], True)),
]

BROKEN_CATALOGUES = [
    ("no source", put(["strand", "1x19-1-8", "source"], None)),
    ("no name", put(["base", "fixed", "name"], None)),
    ("an unknown value", put(["crimper", "eighth", "colour"], "red")),
    ("a number for a stress", put(["species", "ipe", "clear_elastic"], 3.14e6)),
    ("an unknown kind", put(["glue"], {})),
    ("a gravity of 5", put(["species", "ipe", "gravity"], 5)),
]


def expect_valid(checker, name):
    errors = [f"{name}: {'.'.join(map(str, e.path))}: {e.message}" for e in checker.iter_errors(load(name))]
    return errors


def expect_broken(checker, name, cases):
    errors = []
    for what, change in cases:
        data = copy.deepcopy(load(name))
        change(data)
        if checker.is_valid(data):
            errors.append(f"{name} with {what} passes the schema")
    return errors


def main():
    scenario = validator("docs/scenario.schema.json")
    catalogue = validator("docs/catalogue.schema.json")
    errors = []
    names = sorted(str(p.relative_to(ROOT)) for p in (ROOT / "scenarios").glob("*.json"))
    if len(names) < 3:
        errors.append("fewer than three scenarios")
    for name in names:
        errors += expect_valid(scenario, name)
    errors += expect_valid(catalogue, "assets/catalogue/catalogue.json")
    errors += expect_broken(scenario, "scenarios/soft-porch.json", BROKEN_SCENARIOS)
    errors += expect_broken(catalogue, "assets/catalogue/catalogue.json", BROKEN_CATALOGUES)
    print("\n".join(errors) if errors else f"{len(names)} scenarios and the catalogue pass, spoilt ones do not")
    return 1 if errors else 0


sys.exit(main())
