"""What the tests of the program share: calling it, claims that are counted, and the closing line."""
import json
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PAPPUS = str(ROOT / os.environ.get("PAPPUS", "build/pappus"))
DEMO = "demo/flights/may-dawn/flight.toml"

_passed = 0
_failed = 0


class Answer:
    def __init__(self, done):
        self.status, self.out, self.err = done.returncode, done.stdout, done.stderr

    @property
    def json(self):
        return json.loads(self.out)


def pappus(*arguments, stdin="", env=None, cwd=ROOT):
    clean = {k: v for k, v in os.environ.items() if k not in ("NO_COLOR",)}
    done = subprocess.run([PAPPUS, *arguments], input=stdin, text=True, capture_output=True, cwd=cwd, timeout=60,
                          env={**clean, **(env or {})})
    return Answer(done)


def claim(text, holds, seen=""):
    global _passed, _failed
    if holds:
        _passed += 1
    else:
        _failed += 1
        print(f"not ok: {text}" + (f" (seen: {seen})" if seen != "" else ""))


def close():
    print(f"{_passed} passed, {_failed} failed, 0 skipped")
    sys.exit(1 if _failed else 0)
