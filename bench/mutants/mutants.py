"""Draws mutants of some source files at random and runs tests against each: mutants.py FOLDER TESTS COUNT SEED [runner arguments]

    git clone . /tmp/mutants && cd /tmp/mutants
    python3 bench/mutants/mutants.py src/Leadwright.Core/Mending/Maps tests/Leadwright.Core.Tests 100 1 -namespace '*Mending*'

Changes one operator, constant or call at a time in a clone (the files are put back after each), builds their project, puts it beside the tests, which must have been built, runs
them and says whether any failed. A mutant that does
not build is not counted. Prints those that survived with their lines, and the share that was found. A sample: with 100 mutants the share is known to some 8 points (two
standard errors). The usual tool for this could not finish here: it needs minutes a mutant with the runner of these tests (bench/README.md).
"""
import pathlib
import random
import re
import shutil
import subprocess
import sys

folder, project, count, seed = sys.argv[1], sys.argv[2], int(sys.argv[3]), int(sys.argv[4])
arguments = sys.argv[5:]
SWAPS = {
    " < ": " <= ", " <= ": " < ", " > ": " >= ", " >= ": " > ", " == ": " != ", " != ": " == ", " && ": " || ", " || ": " && ", " + ": " - ", " - ": " + ", " * ": " / ", " / ": " * ",
    "Math.Min(": "Math.Max(", "Math.Max(": "Math.Min(", " += ": " -= ", "true": "false", "false": "true", "continue;": "break;",
}
NUMBER = re.compile(r"(?<![\w.])(\d+\.\d+|[1-9]\d*)(?![\w.])")
STRING = re.compile(r'\$?@?"(?:[^"\\]|\\.)*"|//.*')


def places(path):
    for line_number, line in enumerate(path.read_text().split("\n")):
        bare = line.strip()
        if bare.startswith(("//", "using ", "namespace ", "[")) or "=>" in bare and bare.endswith("=>") or "throw " in bare or "ArgumentOutOfRange" in bare:
            continue
        # Words and comments are no code; what has generic types is left alone where it looks like a comparison.
        hidden = STRING.sub(lambda found: " " * len(found.group()), line)
        for old, new in SWAPS.items():
            start = hidden.find(old)
            while start >= 0:
                yield line_number, start, old, new
                start = hidden.find(old, start + 1)
        for found in NUMBER.finditer(hidden):
            if float(found.group()) != 0:
                yield line_number, found.start(), found.group(), str(float(found.group()) * 3) if "." in found.group() else str(int(found.group()) + 1)


files = sorted(pathlib.Path(folder).rglob("*.cs")) if pathlib.Path(folder).is_dir() else [pathlib.Path(folder)]
drawn = [(path, place) for path in files for place in places(path)]
random.seed(seed)
random.shuffle(drawn)
name = pathlib.Path(project).name
runner = f"artifacts/bin/{name}/release/{name}"
first = pathlib.Path(folder)
changed = next(project for parent in [first, *first.parents] if parent.is_dir() for project in parent.glob("*.csproj"))
found, survived = 0, []
print(f"{len(drawn)} places in {len(files)} files", flush=True)
for path, (line_number, start, old, new) in drawn:
    if found + len(survived) >= count:
        break
    whole = path.read_text()
    lines = whole.split("\n")
    line = lines[line_number]
    lines[line_number] = line[:start] + new + line[start + len(old):]
    try:
        path.write_text("\n".join(lines))
        if subprocess.run(["dotnet", "build", changed, "-c", "Release", "--nologo", "-v", "q", "--no-restore", "-p:RunAnalyzers=false"], capture_output=True).returncode != 0:
            continue
        shutil.copy(f"artifacts/bin/{changed.stem}/release/{changed.stem}.dll", f"artifacts/bin/{name}/release/")
        try:
            failed = subprocess.run([runner, "-stopOnFail", *arguments], capture_output=True, timeout=400).returncode != 0
        except subprocess.TimeoutExpired:
            failed = True
        if failed:
            found += 1
        else:
            survived.append(f"{path}:{line_number + 1}: {old.strip()} became {new.strip()}: {line.strip()}")
            print(survived[-1], flush=True)
    finally:
        path.write_text(whole)
total = found + len(survived)
print(f"{found} of {total} were found ({100 * found / max(total, 1):.0f} %)")
