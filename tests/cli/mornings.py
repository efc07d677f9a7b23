#!/usr/bin/env python3
"""Twenty ordinary good mornings and forty bad ones, as a pilot would type them.

Good: none ends with a limit outside, and at most two are not known. Bad: a good one with something spoiled, as
tests/mornings/bad.toml lists them; each ends with the limit outside that it should, and with the standing `against`
unless it says otherwise. Nothing here is a recording of our output: what must come out was written down beforehand.
"""
import re
import sys
import tempfile
import tomllib
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))
from program import ROOT, claim, close, pappus

FOLDER = ROOT / "tests" / "mornings"


def limits_of(path):
    answer = pappus("sheet", str(path), "--json")
    claim(f"{path.name} is answered", answer.status == 0, answer.out[:400] + answer.err[:400])
    if answer.status != 0:
        return None, {}
    return answer.json["standing"], {limit["name"]: limit for limit in answer.json["limits"]}


good = sorted((FOLDER / "good").glob("*.toml"))
claim("there are twenty good mornings", len(good) == 20, len(good))
for path in good:
    standing, limits = limits_of(path)
    outside = [name for name, limit in limits.items() if limit["state"] == "outside"]
    unknown = [name for name, limit in limits.items() if limit["state"] == "not_known"]
    claim(f"{path.stem} has nothing outside", limits and not outside, outside)
    claim(f"{path.stem} has at most two limits not known", len(unknown) <= 2, unknown)
    claim(f"{path.stem} knows all that must be known", standing in ("nothing_against", "with_care"), standing)

bad = tomllib.loads((FOLDER / "bad.toml").read_text())["bad"]
claim("there are forty bad mornings", len(bad) >= 40, len(bad))
claim("no two bad mornings are the same", len({entry["what"] for entry in bad}) == len(bad))
for entry in bad:
    text = (FOLDER / "good" / f"{entry['base']}.toml").read_text()
    for old, new in entry["replace"]:
        claim(f"'{entry['what']}' finds what it spoils", old in text, old)
        text = text.replace(old, new)
    named = re.search(r'balloon = "(.*)"', text)[1]
    balloon = (FOLDER / "good" / named).read_text()
    for old, new in entry.get("balloon", []):
        claim(f"'{entry['what']}' finds what it spoils in the balloon", old in balloon, old)
        balloon = balloon.replace(old, new)
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "balloon.toml").write_text(balloon)
        spoiled = Path(folder) / "flight.toml"
        spoiled.write_text(text.replace(named, "balloon.toml") + entry.get("add", ""))
        standing, limits = limits_of(spoiled)
    state = limits.get(entry["limit"], {}).get("state")
    claim(f"'{entry['what']}' puts {entry['limit']} outside", state == entry.get("state", "outside"), state)
    claim(f"'{entry['what']}' stands {entry.get('standing', 'against')}",
          standing == entry.get("standing", "against"), standing)
    cure = limits.get(entry["limit"], {}).get("remedy")
    claim(f"'{entry['what']}' says what would settle it", bool(cure) or entry.get("remedy") == "none", cure)

close()
