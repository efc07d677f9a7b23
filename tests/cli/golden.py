#!/usr/bin/env python3
"""Whole flights replayed into tests/golden: recordings of our own output, so that a change of numbers is seen and explained.

PAPPUS_REGEN=1 writes them anew.
"""
import sys
import os

from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))
from program import ROOT, claim, close, pappus

FLIGHTS = ["may-dawn", "november-dawn", "september-hop"]
SHAPES = {"us.txt": (), "metric.txt": ("--units", "metric"), "json": ("--json",)}

for flight in FLIGHTS:
    for ending, options in SHAPES.items():
        path = ROOT / "tests/golden" / f"{flight}.{ending}"
        printed = pappus("sheet", f"demo/flights/{flight}/flight.toml", *options).out
        if os.environ.get("PAPPUS_REGEN") == "1":
            path.write_text(printed)
        recorded = path.read_text() if path.exists() else ""
        differing = [f"{a!r} instead of {b!r}" for a, b in zip(printed.splitlines(), recorded.splitlines()) if a != b]
        claim(f"{path.name} is what it was", printed == recorded and printed != "", differing[:3])

close()
