#!/usr/bin/env python3
"""What `pappus sheet --json` prints is valid against `pappus schema`, and the schema refuses what is not a sheet."""
import sys
import copy

import jsonschema
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))
from program import DEMO, claim, close, pappus

schema = pappus("schema").json
jsonschema.Draft202012Validator.check_schema(schema)
validator = jsonschema.Draft202012Validator(schema)


def faults(value):
    return [f"{'/'.join(map(str, e.path))}: {e.message}" for e in validator.iter_errors(value)]


sheet = pappus("sheet", DEMO, "--json").json
claim("the demo's sheet is valid", faults(sheet) == [], faults(sheet))
bare = """
balloon = "%s"
time = 2027-05-16T05:10:00-09:00
planned = "30min"
[field]
name = "x"
at = [38.9, -133.4]
elevation = "1500m"
[[aboard]]
role = "pilot"
mass = "80kg"
"""
unknown = pappus("sheet", "-", "--now", "2027-05-16T04:50:00-09:00", "--json",
                 stdin=bare % "demo/balloons/lantern.toml")
claim("a sheet on which nothing is known is valid too", unknown.status == 0 and faults(unknown.json) == [],
      unknown.err or faults(unknown.json))
claim("and does not speak for flying", unknown.json["standing"] == "not_known", unknown.json["standing"])

for key in sheet:
    less = copy.deepcopy(sheet)
    del less[key]
    claim(f"a sheet without {key} is refused", faults(less) != [])
more = {**sheet, "go": True}
claim("a sheet with another key is refused", faults(more) != [])
wrong = copy.deepcopy(sheet)
wrong["limits"][0]["state"] = "go"
claim("a state that does not exist is refused", faults(wrong) != [])

close()
