#!/usr/bin/env python3
"""What must not compile: each *.cpp here is compiled once as it is and once with -DWRONG.

The first must pass, the second must be refused for the reason that the line "// wants: REGEX" names, so that a typing
error in a snippet is not taken for success. The flags are those of core/base in the tree; g++ and clang both judge.
"""
import json
import os
import re
import shlex
import shutil
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent


def flags_of(build):
    """Everything of issue.cpp's compile command but compiler, input and output."""
    commands = json.loads((ROOT / build / "compile_commands.json").read_text())
    command = next(c for c in commands if c["file"].endswith("core/base/issue.cpp"))
    words = shlex.split(command["command"])
    words = words[words.index(next(w for w in words if w.startswith("-"))):]
    flags, skip = [], False
    for word in words:
        if skip:
            skip = False
        elif word in ("-o", "-c", "-MF", "-MT"):
            skip = word != "-c"
        elif word not in ("-MD", command["file"]) and not word.startswith("-O"):
            flags.append(word)
    return flags


def compiles(compiler, flags, path, wrong):
    command = [*compiler, *flags, *(["-DWRONG"] if wrong else []), "-fsyntax-only", str(path)]
    run = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, env={**os.environ, "LC_ALL": "C"})
    return run.returncode == 0, run.stderr


def judge(job):
    name, compiler, flags, path, wrong = job
    ok, errors = compiles(compiler, flags, path, wrong)
    label = f"{path.name} by {name}"
    if not wrong:
        return None if ok else f"not ok: {label} must compile:\n{errors}"
    if ok:
        return f"not ok: {label} with -DWRONG must not compile"
    wants = re.search(r"^// wants: (.+)$", path.read_text(), re.M)
    if wants is None:
        return f"not ok: {label} has no line '// wants: REGEX'"
    if not re.search(wants[1], errors):
        return f"not ok: {label} with -DWRONG is refused, but not for '{wants[1]}':\n{errors}"
    return None


def main():
    flags = flags_of(os.environ.get("BUILD", "build"))
    # clang does not know two of g++'s warnings (cmake/PappusModule.cmake), and a snippet's constants are not used.
    plain = [f for f in flags if f not in ("-Wshadow=local", "-Wno-restrict")] + ["-Wno-unused-const-variable"]
    compilers = [("g++", ["g++"], flags)]
    if shutil.which("clang++-14"):
        compilers.append(("clang", ["clang++-14"], plain))
    jobs = [(name, compiler, use, path, wrong) for path in sorted(HERE.glob("*.cpp"))
            for name, compiler, use in compilers for wrong in (False, True)]
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        faults = [fault for fault in pool.map(judge, jobs) if fault]
    print("\n".join(faults))
    print(f"{len(jobs) - len(faults)} passed, {len(faults)} failed, 0 skipped")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
