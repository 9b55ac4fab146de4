#!/usr/bin/env python3
"""Layers include downward only; libraries stay in the layers that own them; banned calls stay out.

Usage: check_layers.py SOURCE_ROOT. Prints every offence and exits 1 where there is one."""
import pathlib
import re
import sys

ORDER = ["base", "mech", "job", "scenario", "score", "record", "view", "app"]
# Which layers may include a library's headers. cJSON never appears in a public header.
LIBRARIES = {
    r"SDL": {"view", "app"},
    r"cairo": {"view"},
    r"cJSON": {"record", "app"},
    r"sodium": {"base"},
    r"gsl_": {"app"},
}
SYSTEM_ONLY = {  # headers that reach for clock, files, environment or locale
    "time.h": {"view", "app"}, "stdio.h": {"base", "view", "app"}, "unistd.h": {"base", "app"}, "dirent.h": {"base", "app"},
    "fcntl.h": {"base", "app"}, "locale.h": {"base"}, "sys/stat.h": {"base", "app"}, "pthread.h": set(), "threads.h": set(),
}
BANNED = r"\b(sprintf|vsprintf|strcpy|strcat|strncpy|strncat|strtok|gets|atoi|atof|atol|rand|srand|setlocale|alloca)\s*\("
HEAPLESS = {"mech", "job"}  # no heap after loading
HEAP = r"\b(malloc|calloc|realloc|free)\s*\("


def strip_comments(text):
    def blank(match):
        return re.sub(r"[^\n]", " ", match.group(0))
    return re.sub(r'"(?:\\.|[^"\\\n])*"|/\*.*?\*/|//[^\n]*',
                  lambda m: m.group(0) if m.group(0).startswith('"') else blank(m), text, flags=re.S)


def layer_of(path, root):
    parts = path.relative_to(root).parts
    return parts[2] if parts[0] == "include" else parts[1]


def check_includes(path, layer, text, is_public, complain):
    for number, line in enumerate(text.split("\n"), 1):
        found = re.match(r'\s*#\s*include\s+[<"]([^>"]+)[>"]', line)
        if not found:
            continue
        name = found.group(1)
        ours = re.match(r"tautrow/(\w+)/", name)
        if ours and ORDER.index(ours.group(1)) > ORDER.index(layer):
            complain(path, number, f"{layer} includes {name}, a later layer")
        for library, layers in LIBRARIES.items():
            if re.match(library, name.split("/")[-1]) and (layer not in layers or is_public):
                complain(path, number, f"{name} does not belong in {'a public header' if is_public else layer}")
        if name in SYSTEM_ONLY and layer not in SYSTEM_ONLY[name]:
            complain(path, number, f"{name} does not belong in {layer}")
        if ".." in name:
            complain(path, number, f"{name} reaches out of its folder")


def check_calls(path, layer, text, complain):
    for number, line in enumerate(text.split("\n"), 1):
        bare = re.sub(r'"(?:\\.|[^"\\])*"', '""', line)
        for found in re.finditer(BANNED, bare):
            complain(path, number, f"{found.group(1)} is banned (base/text.h and base/rng.h have what is needed)")
        if layer in HEAPLESS and re.search(HEAP, bare):
            complain(path, number, f"{layer} must not use the heap")


def check_first_include(path, root, text, complain):
    """A .c includes its own header first, where it has one: that proves the header stands alone."""
    layer = layer_of(path, root)
    public = root / "include" / "tautrow" / layer / (path.stem + ".h")
    private = path.with_suffix(".h")
    own = [f"tautrow/{layer}/{path.stem}.h"] if public.exists() else [path.stem + ".h"] if private.exists() else []
    first = re.search(r'^\s*#\s*include\s+[<"]([^>"]+)[>"]', text, flags=re.M)
    if own and first and first.group(1) not in own:
        complain(path, 1, f"includes {first.group(1)} before its own {own[0]}")


def main():
    root = pathlib.Path(sys.argv[1]).resolve()
    offences = []

    def complain(path, number, what):
        offences.append(f"{path.relative_to(root)}:{number}: {what}")

    files = sorted([*root.glob("game/*/**/*.[ch]"), *root.glob("include/tautrow/*/*.[ch]")])
    for path in files:
        layer = layer_of(path, root)
        text = strip_comments(path.read_text(encoding="utf-8"))
        is_public = "include" in path.relative_to(root).parts
        check_includes(path, layer, text, is_public, complain)
        check_calls(path, layer, text, complain)
        if path.suffix == ".c":
            check_first_include(path, root, text, complain)
    print("\n".join(offences))
    print(f"{len(files)} files, {len(offences)} offences")
    return 1 if offences or not files else 0


if __name__ == "__main__":
    sys.exit(main())
