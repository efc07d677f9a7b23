#!/usr/bin/env python3
"""Arrows that must not be drawn: tiny projects whose configuration pappus_module has to accept or to refuse."""
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
HEAD = f"""cmake_minimum_required(VERSION 3.25)
project(arrows LANGUAGES CXX)
list(APPEND CMAKE_MODULE_PATH "{ROOT}/cmake")
include(PappusModule)
"""
BELOW = "pappus_module(NAME below LAYER 10 PORTABLE SOURCES a.cpp)\n"
HEAVY = "pappus_module(NAME heavy LAYER 10 SOURCES a.cpp)\n"
# name, modules, what the refusal must say (None: accepted)
CASES = [
    ("a lower layer", BELOW + "pappus_module(NAME above LAYER 20 PORTABLE SOURCES a.cpp DEPENDS below)\n", None),
    ("the same layer", BELOW + "pappus_module(NAME beside LAYER 10 PORTABLE SOURCES a.cpp DEPENDS below)\n",
     "beside (layer 10) may not depend on below (layer 10)"),
    ("a higher layer", BELOW + "pappus_module(NAME under LAYER 5 PORTABLE SOURCES a.cpp DEPENDS below)\n",
     "under (layer 5) may not depend on below (layer 10)"),
    ("portable on what is not", HEAVY + "pappus_module(NAME above LAYER 20 PORTABLE SOURCES a.cpp DEPENDS heavy)\n",
     "above is portable and may not depend on heavy"),
    ("what is not portable on what is", BELOW + "pappus_module(NAME above LAYER 20 SOURCES a.cpp DEPENDS below)\n", None),
    ("nothing of that name", "pappus_module(NAME above LAYER 20 SOURCES a.cpp DEPENDS nowhere)\n",
     "depends on nowhere, which is not a module"),
    ("a module without a layer", "pappus_module(NAME above SOURCES a.cpp)\n", "a numeric LAYER are needed"),
    ("a misspelt word", "pappus_module(NAME above LAYER 20 PORTABEL SOURCES a.cpp)\n", "not understood: PORTABEL"),
]


def main():
    faults = 0
    # One compiler check for all: the first configuration's tree is used again.
    with tempfile.TemporaryDirectory() as scratch:
        source = Path(scratch) / "source"
        source.mkdir()
        (source / "a.cpp").write_text("int a();\n")
        for name, modules, refusal in CASES:
            (source / "CMakeLists.txt").write_text(HEAD + modules)
            run = subprocess.run(["cmake", "-G", "Ninja", "-S", source, "-B", Path(scratch) / "build"],
                                 capture_output=True, text=True)
            said = " ".join(run.stderr.split())
            good = run.returncode == 0 if refusal is None else run.returncode != 0 and refusal in said
            if not good:
                faults += 1
                print(f"not ok: {name}: status {run.returncode}, wanted {refusal or 'acceptance'}\n{run.stderr}")
    print(f"{len(CASES) - faults} passed, {faults} failed, 0 skipped")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
