#!/usr/bin/env python3
"""The command line as scripts rely on it: keys, exit status, where text goes, width, colour."""
import sys
import json
import os
import pty
import re
import subprocess
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))
from program import DEMO, PAPPUS, ROOT, claim, close, pappus

# --- the keys that stay, and a published or hand-checked figure for each verb
AIR = ("air", "--elevation", "1500m", "--qnh", "1018hPa", "--temperature", "28C", "--dew-point", "10C")
VERBS = [
    # arguments, keys, key, value, tolerance, source
    (AIR, "station_pressure_pa density_kg_m3 virtual_temperature_k pressure_altitude_m density_altitude_m",
     "station_pressure_pa", 84966.30, 0.2, "ICAO QNH definition, row QNH-001"),
    (("propane", "--temperature", "20C"),
     "saturation_pressure_pa gauge_pressure_pa liquid_density_kg_m3 vapour_density_kg_m3 latent_heat_j_kg",
     "saturation_pressure_pa", 836461, 84, "Lemmon et al. 2009, row PROP-085"),
    (("lift", "--volume", "77000ft3", "--pressure-altitude", "1500ft", "--temperature", "60F",
      "--envelope-temperature", "190F"), "gross_lift_kg", "gross_lift_kg", 1120 * 0.45359237, 0.02 * 508,
     "FAA-H-8083-11B fig. 3-13, W1"),
    (("lift", DEMO), "mean_temperature_needed_k crown_temperature_expected_k worst_altitude_amsl_m margin_kg",
     "crown_excess_k", 20, 0, "the stated excess"),
    (("climb", DEMO), "climb_rate_m_s arrest_height_m ceiling_amsl_m climbs first_minute_m arrests from_cold flame_out "
     "sink_most_m_s load_chart false_lift flown reasons cautions", "first_minute_floor_m", 300 * 0.3048, 1e-9,
     "14 CFR 31.17"),
    (("burn", DEMO), "flow_kg_s used_kg reserve_s by_cylinder inflation_kg climbs_kg level_kg allowance_kg sides supply notes",
     None, 0, 0, ""),
    (("sun", "--at", "39.742476,-105.1786", "--date", "2003-10-17", "--zone", "-07:00", "--time", "12:30:30"),
     "civil_dawn sunrise transit sunset civil_dusk azimuth_true_deg elevation_deg", "azimuth_true_deg", 194.34024, 0.001,
     "Reda and Andreas, NREL/TP-560-34302, table A5.1"),
    (("variation", "--at", "16.7758,-3.0094", "--elevation", "300m", "--date", "2025-01-01"),
     "declination_deg valid_until", "declination_deg", -1.04, 0.01, "WMM2025 worked example of a geodesy library's manual"),
    (("winds", DEMO), "levels gaps issues", None, 0, 0, ""),
    (("reach", DEMO), "flight_time_s highest_agl_m limit ceilings far places notes footprint", None, 0, 0, ""),
    (("sheet", DEMO), "as_of standing limits load fuel winds cautions", None, 0, 0, ""),
]
for arguments, keys, key, value, tolerance, source in VERBS:
    answer = pappus(*arguments, "--json")
    claim(f"{arguments[0]} answers", answer.status == 0, answer.err)
    if answer.status != 0:
        continue
    for name in keys.split():
        claim(f"{arguments[0]} --json has {name}", name in answer.json)
    if key:
        claim(f"{arguments[0]} {key} by {source}", abs(answer.json[key] - value) <= tolerance, answer.json[key])
    plain = pappus(*arguments)
    claim(f"{arguments[0]} without --json is for a person", plain.status == 0 and not plain.out.startswith("{"))
    for units in ("us", "metric"):
        widest = max(len(line) for line in pappus(*arguments, "--units", units).out.splitlines())
        claim(f"{arguments[0]} --units {units} fits 80 columns", widest <= 80, widest)
    claim(f"{arguments[0]} leaves no text without words", "<" not in plain.out and "{" not in plain.out, plain.out)

sunset = pappus("sun", "--at", "39.742476,-105.1786", "--date", "2003-10-17", "--zone", "-07:00", "--json").json["sunset"]
claim("the sunset is that of the local day", sunset == "2003-10-17T17:18:52-07:00", sunset)
polar = pappus("sun", "--at", "78.2,15.6", "--date", "2026-12-21", "--zone", "+01:00", "--json").json
claim("in polar night the sun's events are null", polar["sunrise"] is None and polar["sunset"] is None, polar)

# --- the sheet's limits
sheet = pappus("sheet", DEMO, "--json").json
for limit in sheet["limits"]:
    for name in "name state kind value bound source age_s remedy accepted".split():
        claim(f"limit {limit.get('name')} has {name}", name in limit)
    claim(f"limit {limit['name']} state", limit["state"] in ("inside", "near", "outside", "not_known"))
    claim(f"limit {limit['name']} is not outside on the demo's good morning", limit["state"] != "outside", limit)
    if limit["value"] is not None:
        claim(f"limit {limit['name']} value has si, unit, kind", set(limit["value"]) == {"si", "unit", "kind"})
    if limit["bound"] is not None:
        claim(f"limit {limit['name']} bound has si, unit, kind, side", set(limit["bound"]) == {"si", "unit", "kind", "side"})
    claim(f"limit {limit['name']} names whose bound it is", {"kind", "name"} == set(limit["source"]))
unknown = [l["name"] for l in sheet["limits"] if l["state"] == "not_known"]
claim("at most two limits of the demo are not known", len(unknown) <= 2, unknown)
claim("the demo's standing", sheet["standing"] == "with_care", sheet["standing"])
claim("the worst height of the demo's inversion is aloft", sheet["lift"]["worst_height_agl_m"] > 200)

# --- what a cylinder holds
SHELL = ("cylinder", "--shell", "18.75gal", "--level-fill", "15gal", "--tare", "18kg", "--gauge-span", "35%")
KEYS = ("mass_low_kg mass_best_kg mass_high_kg liquid_volume_low_m3 liquid_volume_best_m3 liquid_volume_high_m3 "
        "gauge_pressure_pa liquid_full_temperature_k contradictions reasons next_test").split()
cold = pappus(*SHELL, "--filled-at", "28C", "--temperature", "4C", "--valve", "vapour", "--json").json
claim("a cylinder has every key that stays", all(key in cold for key in KEYS), sorted(cold))
claim("a warm fill gone cold: no liquid is expected", any("under the tube" in r for r in cold["reasons"]), cold["reasons"])
claim("and nothing contradicts", cold["contradictions"] == [] and not cold["proven_full"])
used = pappus(*SHELL, "--filled-at", "15C", "--flown-since", "52min", "--temperature", "10C", "--gauge", "top", "--valve",
              "vapour", "--json").json
claim("used and not refilled: from the dial's end to the valve",
      6.0 < used["liquid_volume_low_m3"] / 0.003785411784 < 6.7 and 15.0 < used["liquid_volume_high_m3"] / 0.003785411784 < 15.5, used)
claim("then the scale settles it", used["next_test"] == "weigh", used["next_test"])
weighed = pappus(*SHELL, "--weighed", "46kg", "--json").json
claim("a weight settles it", abs(weighed["mass_best_kg"] - 28) < 1e-9 and weighed["next_test"] == "none", weighed)
both = pappus(*SHELL, "--filled-at", "15C", "--temperature", "15C", "--weighed", "30kg", "--json").json
claim("what cannot both be true is told", len(both["contradictions"]) == 1 and "weight" in both["contradictions"][0], both)
claim("and widens", both["mass_low_kg"] < 12 and both["mass_high_kg"] > 28, both)
night = pappus(*SHELL, "--filled-at", "28C", "--temperature", "20C", "--air", "8C", "--after", "3h", "--air", "2C", "--after", "20h",
               "--relief", "375psi", "--json").json
THEN = ("temperature_then_low_k temperature_then_k temperature_then_high_k gauge_pressure_then_low_pa gauge_pressure_then_pa "
        "gauge_pressure_then_high_pa liquid_volume_then_low_m3 liquid_volume_then_m3 liquid_volume_then_high_m3 "
        "relief_temperature_k liquid_full_temperature_k margin_k margin_air_k").split()
claim("a night has every key that stays", all(isinstance(night.get(key), float) for key in THEN), night)
claim("least, best and most of the night are in order",
      all(night[f"{a}_then_low_{u}"] <= night[f"{a}_then_{u}"] <= night[f"{a}_then_high_{u}"]
          for a, u in (("temperature", "k"), ("gauge_pressure", "pa"), ("liquid_volume", "m3"))), night)
claim("a crew is told that the valve will be dry", any("no liquid at the valve is expected" in r for r in night["reasons"]), night["reasons"])
claim("nothing tells anyone to heat", not any("heat" in line or "warm it" in line for k in ("reasons", "notes", "cautions") for line in night[k]), night)
burned = pappus(*SHELL, "--filled-at", "15C", "--temperature", "15C", "--drawn", "20min", "--drawn", "2gal", "--flow", "30kg/h", "--json").json
claim("minutes and gallons drawn", 10 < pappus(*SHELL, "--filled-at", "15C", "--temperature", "15C", "--json").json["mass_best_kg"]
      - burned["mass_best_kg"] < 17, burned)
charged = pappus(*SHELL, "--filled-at", "10C", "--temperature", "5C", "--charge", "40psi", "--json").json
claim("a charge fades as liquid goes", charged["charge_now_high_pa"] > charged["charge_half_high_pa"] > charged["charge_end_high_pa"] > 0, charged)
claim("and the gauge is to be read again", any("gauge again" in c for c in charged["cautions"]), charged["cautions"])
claim("a charge and a vapour pilot light contradict", any("pilot light" in c for c in pappus(
    "cylinder", "demo/balloons/lantern.toml", "--cylinder", "1", "--charge", "40psi", "--temperature", "5C", "--json").json["contradictions"]))
mixed = pappus(*SHELL, "--gauge-pressure", "80psi", "--mix", "propane=92,propylene=5,ethane=3", "--json").json
plain = pappus(*SHELL, "--gauge-pressure", "80psi", "--json").json
claim("a stated mix narrows the temperature", mixed["temperature_high_k"] - mixed["temperature_low_k"]
      < plain["temperature_high_k"] - plain["temperature_low_k"], mixed)
claim("a pressure is judged", plain["pressure_state"] == "near" and any("no source" in r for r in plain["reasons"]), plain)
claim("what is not known is not judged", pappus(*SHELL, "--json").json["pressure_state"] == "not_known")
for arguments, status, told in ((("--drawn", "20min"), 2, "pappus burn FLIGHT"), (("--drawn", "3"), 3, "min"),
                                (("--flow", "30kg"), 3, "gal/h"), (("--air", "2C"), 2, "--after"),
                                (("--air", "2C", "--after", "9h"), 2, "--gauge-pressure"),
                                (("--temperature", "4C", "--air", "2C", "--after", "9h", "--air", "2C", "--after", "3h"), 3, "order"),
                                (("--temperature", "4C", "--air", "2C", "--after", "99h"), 4, "2 d 0 h"),
                                (("--charge", "40psi"), 2, "--temperature"), (("--charged-with", "12gal"), 2, "--charge"),
                                (("--charge", "900psi", "--temperature", "4C"), 4, "290psi"),
                                (("--mix", "propane=92"), 4, "92"), (("--mix", "propane=92,ether=8"), 3, "propylene"),
                                (("--mix", "propane=50,propane=50"), 3, "propylene"), (("--relief", "5psi"), 4, "50psi")):
    answer = pappus(*SHELL, *arguments)
    claim(f"cylinder {' '.join(arguments)}: status {status}", answer.status == status and told in answer.err, f"{answer.status} {answer.err}")
page = pappus(*SHELL, "--filled-at", "28C", "--temperature", "20C", "--air", "4C", "--after", "12h", "--relief", "375psi").out.split("\n\n")[0]
claim("the figures of a cylinder fit 40 columns", all(len(line) <= 40 for line in page.splitlines()) and "THEN" in page, page)
listed = pappus("cylinder", "demo/balloons/lantern.toml", "--cylinder", "1", "--filled-between", "10C", "35C", "--json")
claim("a cylinder of a balloon file", listed.status == 0 and listed.json["mass_low_kg"] < listed.json["mass_high_kg"], listed.err)
for arguments, status, told in ((("--cylinder", "9"), 3, "1, 2, 3"), ((), 2, "--cylinder"), (("--cylinder", "1", "--gauge", "2"), 3, "%"),
                                (("--cylinder", "1", "--valve", "wet"), 2, "liquid"), (("--cylinder", "1", "--filled-at", "90C"), 4, "50")):
    answer = pappus("cylinder", "demo/balloons/lantern.toml", *arguments)
    claim(f"cylinder {' '.join(arguments)}: status {status}", answer.status == status and told in answer.err, f"{answer.status} {answer.err}")
bare = pappus("cylinder", "--level-fill", "15gal")
claim("a cylinder without its shell is asked for it", bare.status == 2 and "--shell" in bare.err, f"{bare.status} {bare.err}")

# --- the book, as far as nothing is read or written (the rest: book.py)
LANTERN = "demo/balloons/lantern.toml"
for arguments, status, told in (((), 2, "fill, flight"), (("fil", LANTERN), 2, "wanted fill"), (("fill",), 2, "BALLOON"),
                                (("verify", LANTERN, "--weighed", "3kg"), 2, "--weighed"),
                                (("fill", LANTERN, "--filled-at", "12C"), 2, "--cylinder"),
                                (("fill", LANTERN, "--cylinder", "11", "--filled-at", "12C"), 3, "wanted 1"),
                                (("fill", LANTERN, "--cylinder", "1", "--weighed", "300kg"), 3, "300kg"),
                                (("weighing", LANTERN, "--cylinder", "1", "--weighed", "46"), 3, "without its unit"),
                                (("flight", LANTERN, "--cylinder", "1", "--aloft", "30h"), 3, "24h"),
                                (("fill", LANTERN, "--cylinder", "1", "--filled-at", "12C", "--correct", "x"), 2, "number")):
    answer = pappus("book", *arguments)
    claim(f"book {' '.join(arguments)}: status {status}", answer.status == status and told in answer.err and answer.out == "",
          f"{answer.status} {answer.err}")
without = pappus("cylinder", LANTERN, "--cylinder", "1", "--no-book", "--json").json
claim("a cylinder without a book names none", without["book"] is None and not any("book" in n for n in without["notes"]), without)

# --- the present is an input
later = pappus("sheet", DEMO, "--now", "2027-05-16T08:30:00-09:00", "--json").json
claim("--now is recorded", later["as_of"] == "2027-05-16T08:30:00-09:00", later["as_of"])
aged = {l["name"]: l["state"] for l in later["limits"]}
claim("what was fresh has aged", aged["report_age"] == "outside" and aged["winds_age"] == "outside", aged)
claim("an answer that speaks against flying is still an answer",
      pappus("sheet", DEMO, "--now", "2027-05-16T08:30:00-09:00").status == 0 and later["standing"] == "against")
early = pappus("sheet", DEMO, "--now", "2027-05-16T03:00:00-09:00")
claim("what was seen after the present is refused", early.status == 3 and "wind[1].seen" in early.err, early.err)

# --- the evening before, and dawn
def evening_before(text):
    """The demo's flight as it could be put together the evening before."""
    text = text.replace("as_of = 2027-05-16T04:50", "as_of = 2027-05-15T20:10")
    text = re.sub(r"seen = 2027-05-16T04:3\d", "seen = 2027-05-15T19:30", text)
    text = text.replace('by = "pibal"\nseen = 2027-05-16T04:40', 'by = "forecast"\nseen = 2027-05-16T05:00')
    text = text.replace("161335Z AUTO 10002KT 10SM CLR 03/M01", "160455Z AUTO 10004KT 10SM CLR 08/M01")
    text = text.replace("T00321009", "T00801009").replace("time = 2027-05-16T04:45", "time = 2027-05-15T20:05")
    return text + """
[[tripwire]]
what = "surface_wind"
at_most = "6kt"

[[tripwire]]
what = "wind_from"
height = "300m"
from = "200deg"
to = "250deg"
"""


with tempfile.TemporaryDirectory() as folder:
    demo = (ROOT / DEMO).read_text().replace("../../balloons/", str(ROOT / "demo/balloons") + "/")
    windy = demo.replace("[0, 100, 2, 3]", "[0, 100, 9, 3]").replace("[300, 240, 14, 12]", "[300, 262, 17, 12]")
    path = {name: str(Path(folder) / name) for name in ("evening.toml", "evening.json", "dawn.toml", "other")}
    Path(path["evening.toml"]).write_text(evening_before(demo))
    Path(path["dawn.toml"]).write_text(windy)
    evening = pappus("sheet", path["evening.toml"], "--json")
    claim("the evening's sheet is made", evening.status == 0, evening.err)
    Path(path["evening.json"]).write_text(evening.out)
    wires = {(t["what"], t["own"]): t for t in evening.json["tripwires"]}
    claim("the evening's tripwires are set", all(t["state"] == "set" for t in wires.values()), wires)
    claim("the pilot's own stand in for those worked out", ("surface_wind", True) in wires and
          ("surface_wind", False) not in wires and ("wind_from", False) not in wires, list(wires))
    claim("others are worked out", {w for w, own in wires if not own} ==
          {"wind_speed", "dew_point_spread", "temperature", "mass_aboard"}, list(wires))
    message = " ".join(evening.json["message"])
    claim("people are told the date and when they hear next", "2027-05-16 05:10" in message and
          "2027-05-16 04:10" in message and len(evening.json["message"]) <= 6, message)
    dawn = pappus("sheet", DEMO, "--evening", path["evening.json"], "--json")
    claim("a quiet dawn breaks no tripwire", dawn.status == 0 and
          all(t["state"] == "holds" for t in dawn.json["tripwires"]), dawn.out)
    claim("the evening is named", dawn.json["evening"] == "2027-05-15T20:10:00-09:00", dawn.json["evening"])
    claim("the spread closed overnight", any(c["what"] == "dew_point_spread" and c["worse"] for c in dawn.json["changes"]),
          dawn.json["changes"])
    broken = pappus("sheet", path["dawn.toml"], "--evening", path["evening.json"], "--json").json
    states = {(t["what"], t["own"]): t["state"] for t in broken["tripwires"]}
    claim("a windy dawn breaks the pilot's tripwires and no other", {k for k, s in states.items() if s == "broken"} ==
          {("surface_wind", True), ("wind_from", True)} and states[("wind_speed", False)] == "holds", states)
    claim("what changed first is the standing", broken["changes"][0]["what"] == "standing", broken["changes"])
    claim("people are told that the answer no longer stands", "no longer stands" in " ".join(broken["message"]))
    shown = pappus("sheet", path["dawn.toml"], "--evening", path["evening.json"])
    claim("what broke is shown before the limits", 0 < shown.out.find("BROKEN") < shown.out.find("LIMITS"), shown.out)
    claim("the dawn sheet fits 80 columns", max(map(len, shown.out.splitlines())) <= 80)
    claim("the dawn sheet leaves no text without words", "<" not in shown.out and "{" not in shown.out, shown.out)
    claim("the evening's flight file does as well as its sheet",
          pappus("sheet", path["dawn.toml"], "--evening", path["evening.toml"]).out == shown.out)
    claim("so does either on standard input", all(
          pappus("sheet", path["dawn.toml"], "--evening", "-", stdin=Path(path[name]).read_text()).out == shown.out
          for name in ("evening.toml", "evening.json")))
    same = pappus("sheet", DEMO, "--evening", DEMO)
    claim("the same sheet again has no change, and nothing new that would hold",
          "Nothing changed since the evening." in same.out and "holds      wind" not in same.out, same.out)

    def evening_with(**changed):
        Path(path["other"]).write_text(json.dumps({**evening.json, **changed}))
        return pappus("sheet", DEMO, "--evening", path["other"])

    for told, answer, status in (
            ("another balloon", evening_with(balloon="Other"), 3), ("another field", evening_with(field="Elsewhere"), 3),
            ("on another day", evening_with(time="2027-05-15T05:10:00-09:00"), 3),
            ("later than the present", evening_with(as_of="2027-05-16T04:55:00-09:00"), 3),
            ("limits", evening_with(limits=7), 3), ("load.total_kg", evening_with(load={"people_count": 3}), 3),
            ("no sheet", pappus("sheet", DEMO, "--evening", "-", stdin='{"issues": []}'), 3),
            ("no flight sheet", pappus("sheet", DEMO, "--evening", "-", stdin='{"name": "x"}'), 3),
            ("not JSON", pappus("sheet", DEMO, "--evening", "-", stdin='{"as_of": }'), 3),
            ("put together", pappus("sheet", DEMO, "--evening", "-",
                                    stdin=re.sub("as_of = .*", "", evening_before(demo))), 3),
            ("no/such.json", pappus("sheet", DEMO, "--evening", "no/such.json"), 3)):
        claim(f"an evening that won't do: {told}", answer.status == status and told in answer.err and answer.out == "",
              f"{answer.status} {answer.err}")
        claim(f"it leaves no text without words: {told}", "<" not in answer.err, answer.err)

# --- reachable ground
reach = pappus("reach", DEMO, "--json").json
for place in reach["places"]:
    for name in "name reachable earliest_s latest_s plan finding".split():
        claim(f"place {place.get('name')} has {name}", name in place)
    claim(f"place {place['name']}: not reached has no times", (place["reachable"] == "yes") == (place["latest_s"] is not None))
features = reach["footprint"]["features"]
claim("the footprint is GeoJSON", reach["footprint"]["type"] == "FeatureCollection" and len(features) > 0)
for feature in features:
    ring = feature["geometry"]["coordinates"][0]
    claim("a ring is closed, longitude first",
          ring[0] == ring[-1] and all(abs(x + 133.4) < 1 and abs(y - 38.9) < 1 for x, y in ring), ring)
sooner = pappus("reach", DEMO, "--planned", "20min", "--json").json
claim("a shorter flight reaches less far", max(f["distance_m"] for f in sooner["far"]) < max(f["distance_m"] for f in reach["far"]))

# --- a second hop in one call
HOP = ("sheet", DEMO, "--left", "Tavi", "--left", "Odile", "--came", "passenger 80kg", "--fuel", "1=9gal", "--fuel",
       "2=10gal,6C", "--fuel", "3=12gal", "--lift-off", "06:20", "--planned", "30min", "--hot")
hop = pappus(*HOP, "--json").json
claim("the hop's time and length", hop["time"] == "2027-05-16T06:20:00-09:00" and hop["planned_s"] == 1800, hop["time"])
claim("two left and one came", hop["load"]["people_count"] == 2)
claim("the load is that of who is there: 64 and 83 kg left, 80 came, 4 and 3 added for each",
      abs(sheet["load"]["people_kg"] - hop["load"]["people_kg"] - (71 + 90 - 87)) < 1e-6, hop["load"]["people_kg"])
claim("a hot envelope needs no inflation", hop["fuel"]["inflation_kg"] == 0 and sheet["fuel"]["inflation_kg"] > 0)
claim("each cylinder holds what is said", [round(c["liquid_m3"] / 3.785411784e-3, 6) for c in hop["fuel"]["by_cylinder"]] == [9, 10, 12])
claim("what was seen for the first hop has aged", hop["as_of"] == "2027-05-16T06:20:00-09:00", hop["as_of"])
claim("options may stand before the flight", pappus("sheet", "--left", "Tavi", DEMO, "--json").json["load"]["people_count"] == 2)
unsaid = pappus("sheet", DEMO, "--hot", "--fuel", "1=9gal", "--json").json
claim("a cylinder not named on a second hop is not known", {l["name"]: l["state"] for l in unsaid["limits"]}["fuel_reserve"] == "not_known")
heavy = pappus("sheet", DEMO, "--came", "passenger Bo 120kg", "--came", "passenger Ira 110kg", "--came", "passenger Jo 90kg", "--json").json
claim("too heavy: what would bring it inside is told", heavy["remedies"] is not None and len(heavy["remedies"]["found"]) > 0)
claim("and the good morning needs no remedy", sheet["remedies"] is None)

# --- exit status, and faults that name what is wrong
CALLS = [
    (("shet", DEMO), 2, ("shet", "sheet")),
    (("sheet",), 2, ("FLIGHT",)),
    (("sheet", DEMO, "--jsn"), 2, ("--jsn", "--json")),
    (("sheet", DEMO, "--units", "imperial"), 2, ("imperial", "us, metric")),
    (("sheet", DEMO, "--now", "dawn"), 3, ("dawn", "--now")),
    (("air", "--elevation", "1500m", "--qnh", "1018hPa"), 2, ("--temperature",)),
    (AIR[:2] + ("1500",) + AIR[3:], 3, ("1500", "--elevation", "1500ft")),
    (AIR[:2] + ("1500kg",) + AIR[3:], 3, ("1500kg", "--elevation")),
    (AIR[:4] + ("700hPa",) + AIR[5:], 4, ("700hPa", "850hPa")),
    (("sheet", DEMO, "--left", "Tavj"), 3, ("left", "Tavj", "Tavi")),
    (("sheet", DEMO, "--left", "Maren"), 3, ("exactly one",)),
    (("sheet", DEMO, "--came", "guest 80kg"), 3, ("--came", "guest 80kg", "passenger")),
    (("sheet", DEMO, "--came", "passenger 80"), 3, ("--came", "82kg", "unit")),
    (("sheet", DEMO, "--fuel", "4=9gal"), 3, ("fuel", "1, 2, 3")),
    (("sheet", DEMO, "--fuel", "1=90gal"), 3, ("90gal", "22.5gal")),
    (("sheet", DEMO, "--lift-off", "dawn"), 3, ("--lift-off", "dawn", "06:45")),
    (("sheet", DEMO, "--planned", "3min"), 3, ("--planned", "3min", "5min to 8h")),
    (("reach", DEMO, "--units", "us", "--units", "metric"), 2, ("--units",)),
    (("propane", "--temperature", "90C"), 4, ()),
    (("propane", "--temperature", "warm"), 3, ("warm",)),
    (("variation", "--at", "38.9,-133.4", "--elevation", "0m", "--date", "2041-01-01"), 4, ("2020",)),
    (("variation", "--at", "98.9,-133.4", "--elevation", "0m", "--date", "2027-01-01"), 3, ("-90 to 90",)),
    (("sun", "--at", "here", "--date", "2027-01-01", "--zone", "Z"), 3, ("here",)),
    (("sun", "--at", "38.9,-133.4", "--date", "2027-02-30", "--zone", "Z"), 3, ("2027-02-30",)),
    (("sheet", "no/such/flight.toml"), 3, ("no/such/flight.toml",)),
    (("sheet", "demo"), 3, ("demo",)),
    (("winds", "CHANGELOG.md"), 2, ("--elevation",)),
]
for arguments, status, told in CALLS:
    answer = pappus(*arguments)
    name = "pappus " + " ".join(arguments)
    claim(f"{name}: status {status}", answer.status == status, f"{answer.status} {answer.err}")
    for word in told:
        claim(f"{name}: names {word}", word in answer.err, answer.err)
    claim(f"{name}: leaves no text without words", "<" not in answer.err and "{" not in answer.err, answer.err)
    claim(f"{name}: says nothing on standard output", answer.out == "", answer.out)
    structured = pappus(*arguments, "--json") if status != 2 else None
    if structured:
        claim(f"{name} --json: tells the issues as JSON", structured.json["issues"][0]["message"] != "")

past = pappus("variation", "--at", "38.9,-133.4", "--elevation", "0m", "--date", "2031-01-01", "--json").json
claim("past the model's end the answer is marked", past["within_validity"] is False and len(past["notes"]) == 2, past)

# --- all faults of a file at once
with tempfile.TemporaryDirectory() as folder:
    text = (ROOT / DEMO).read_text().replace("../../balloons/", str(ROOT / "demo/balloons") + "/")
    broken = (text.replace('elevation = "1500m"', "elevation = 1500").replace('mass = "64kg"', 'mass = "64"')
              .replace("planned =", "plannd =").replace('airspace = "G"', 'airspace = "Q"'))
    path = Path(folder) / "flight.toml"
    path.write_text(broken)
    answer = pappus("sheet", str(path))
    claim("four faults are four lines", answer.status == 3 and len(answer.err.strip().splitlines()) >= 4, answer.err)
    for word in ("field.elevation", "aboard[2].mass", "plannd", "planned", "field.airspace"):
        claim(f"the faults name {word}", word in answer.err, answer.err)
    path.write_text(text)
    claim("the same file mended is read", pappus("sheet", str(path)).status == 0)
    claim("a flight on standard input is read", pappus("sheet", "-", stdin=text).status == 0)
    reports = Path(folder) / "reports.txt"
    reports.write_text("good morning,\nMETAR XSGB 161335Z 10002KT 10SM CLR 03/M01 A3006\nMETAR XSGC 161340Z 090Q5KT 9999 04/01 Q1018=\n")
    winds = pappus("winds", str(reports), "--elevation", "1500m", "--time", "2027-05-16T05:10:00-09:00", "--json")
    claim("winds reads pasted reports", winds.status == 0 and len(winds.json["levels"]) == 1, winds.out)
    claim("what it did not understand is told with its place",
          any(i["got"] == "090Q5KT" and i["line"] == 3 for i in winds.json["issues"]), winds.out)

    path.write_text(text.replace("lantern.toml", "nowhere.toml"))
    answer = pappus("sheet", str(path))
    claim("a balloon file that is not there is named", answer.status == 3 and "nowhere.toml" in answer.err, answer.err)

# --- winds from a forecast, a sounding and a table; a pilot balloon
FB = """DATA BASED ON 161200Z
VALID 161800Z   FOR USE 1400-2100Z. TEMPS NEG ABV 24000

FT  3000    6000    9000   12000   18000   24000  30000  34000  39000
ZQA              2110+13 1808+07 2216-06 2225-17 263333 264543 265654
ZQB              2510+13 2808+07 2216-06 2225-17 263333 264543 265654
"""
TAF = "TAF XSGB 161130Z 1612/1712 10004KT P6SM SKC=\n"
CSV = "height,from,speed,t\n0,100,2,3\n150,215,9,11\n300,240,14,12\n"
MAP = "height=1 m agl, from=2 deg true, speed=3 kt, temperature=4 C; skip=1"
CALLS = "seconds,azimuth,elevation\n30,60,35\n60,60,35\n90,60,35\n120,,34\n150,60,35\n"
PIBALS = """[field]
at = [38.9, -133.4]
elevation = "1500m"
[[pibal]]
name = "first"
released = 2027-05-16T04:20:00-09:00
diameter = "12in"
balloons = 10
together = "30g"
bearings = "magnetic"
units = ["s", "deg", "deg"]
rows = [[30, 45, 35], [60, 46, 35], [90, 47, 36]]
[[pibal]]
name = "second"
released = 2027-05-16T04:40:00-09:00
rise = "300ft/min"
bearings = "true"
seen = ["rolls"]
units = ["min", "deg", "deg"]
rows = [[0.5, 60, 35], [1, 60, 35], [1.5, 60, 35]]
"""
AT = ("--elevation", "1500m", "--time", "2027-05-16T05:10:00-09:00")
with tempfile.TemporaryDirectory() as folder:
    def file(name, text):
        path = Path(folder) / name
        path.write_text(text)
        return str(path)

    fb, table, calls = file("fb.txt", TAF + FB), file("run.csv", CSV), file("calls.csv", CALLS)
    winds = pappus("winds", fb, *AT, "--station", "zqa", "--json")
    claim("winds reads winds aloft", winds.status == 0 and len(winds.json["levels"]) == 7, winds.out + winds.err)
    lowest = winds.json["levels"][0]
    claim("the lowest level is 9000 ft, 210 degrees, 10 kt", abs(lowest["altitude_amsl_m"] - 2743.2) < 0.01
          and abs(lowest["from_true_deg"] - 210) < 1e-6 and abs(lowest["speed_m_s"] - 5.14444) < 1e-4, lowest)
    claim("a level names its source", lowest["sources"][0]["kind"] == "forecast" and lowest["sources"][0]["name"] == "ZQA")
    claim("below the lowest level and between them there are gaps", len(winds.json["gaps"]) >= 2, winds.json["gaps"])
    for arguments, told in (((), "ZQA, ZQB"), (("--station", "ZQC"), "ZQC")):
        answer = pappus("winds", fb, *AT, *arguments)
        claim("a station that can't be chosen is told with those there are",
              answer.status == 3 and told in answer.err and "ZQA, ZQB" in answer.err, answer.err)
    slipped = pappus("winds", fb, *AT, "--station", "ZQA", "--station-elevation", "8000ft")
    claim("a station whose columns slipped gives no winds", "slipped" in slipped.err, slipped.err)

    winds = pappus("winds", table, *AT, "--columns", MAP, "--by", "seen", "--json")
    claim("winds reads a table", winds.status == 0 and len(winds.json["levels"]) == 3, winds.out + winds.err)
    claim("a table has the temperature too", abs(winds.json["levels"][1]["temperature_k"] - 284.15) < 1e-9, winds.out)
    claim("a table is a forecast unless said",
          pappus("winds", table, *AT, "--columns", MAP, "--json").json["levels"][0]["sources"][0]["kind"] == "forecast")
    for arguments, status, told in (((), 2, "--columns"), (("--columns", "height=1"), 3, "height"),
                                    (("--columns", MAP, "--by", "dream"), 2, "dream")):
        answer = pappus("winds", table, *AT, *arguments)
        claim(f"winds of a table with {arguments}: status {status}", answer.status == status and told in answer.err, answer.err)
    both = pappus("winds", table, fb, *AT, "--columns", MAP, "--by", "pibal", "--station", "ZQA", "--json")
    claim("several sources are one answer", both.status == 0 and len(both.json["levels"]) == 10, both.out + both.err)

    layers = ("bottom_agl_m", "top_agl_m", "from_true_deg", "speed_m_s", "spread_m_s")
    true = ("--bearings", "true", "--rise", "300ft/min")
    pibal = pappus("pibal", calls, *true, "--json")
    claim("pibal answers", pibal.status == 0, pibal.err)
    claim("pibal has layers", len(pibal.json["layers"]) == 4 and all(k in l for l in pibal.json["layers"] for k in layers), pibal.out)
    first = pibal.json["layers"][0]
    claim("one steady sight is the wind by trigonometry: 1.524 m/s / tan 35 degrees, from 240",
          abs(first["speed_m_s"] - 2.17650) < 1e-4 and abs(first["from_true_deg"] - 240) < 1e-6 and
          abs(first["top_agl_m"] - 45.72) < 1e-9, first)
    claim("a call lost is a flag", [f["kind"] for f in pibal.json["flags"]] == ["call_lost"] and pibal.json["flags"][0]["at_s"] == 120
          and pibal.json["flags"][0]["message"] != "", pibal.json["flags"])
    magnetic = pappus("pibal", calls, "--bearings", "magnetic", "--variation", "13deg", "--rise", "300ft/min", "--json")
    claim("magnetic bearings are turned by the variation", abs(magnetic.json["layers"][0]["from_true_deg"] - 253) < 1e-6, magnetic.out)
    sized = pappus("pibal", calls, "--bearings", "true", "--diameter", "12in", "--mass", "3g", "--json").json
    claim("the rise rate of 12 in and 3.00 g is 342 ft/min by FAA-H-8083-11B appendix D, W22",
          abs(sized["rise_rate_m_s"] / 0.00508 - 342) < 2, sized["rise_rate_m_s"])
    several = pappus("pibal", file("pibals.toml", PIBALS), "--json").json
    claim("of several the one released last stands on top", several["name"] == "second" and
          [p["name"] for p in several["earlier"]] == ["first"], several)
    claim("a sign that the pilot saw is a flag", "rolls" in [f["kind"] for f in several["flags"]], several["flags"])
    for arguments in ((calls, *true), (str(Path(folder) / "pibals.toml"),), (calls, "--bearings", "true")):
        for units in ("us", "metric"):
            plain = pappus("pibal", *arguments, "--units", units)
            claim("pibal fits 80 columns", plain.status == 0 and max(map(len, plain.out.splitlines())) <= 80, plain.out + plain.err)
            claim("pibal leaves no text without words", "<" not in plain.out and "{" not in plain.out, plain.out)
    for arguments, status, told in (
            ((), 2, "READINGS"), ((calls,), 2, "--bearings"), ((calls, "--bearings", "magnetic"), 4, "--variation"),
            ((calls, "--bearings", "north"), 2, "north"), ((calls, "--bearings", "true", "--mass", "3g"), 2, "--diameter"),
            ((calls, *true, "--mass", "3g"), 2, "--rise"), ((fb, *true), 3, "fb.txt"),
            ((calls, "--bearings", "true", "--diameter", "12", "--mass", "3g"), 3, "12in"),
            ((str(Path(folder) / "pibals.toml"), "--rise", "300ft/min"), 2, "--rise"), ((DEMO,), 4, "pibal")):
        answer = pappus("pibal", *arguments)
        claim(f"pibal {arguments}: status {status}", answer.status == status and told in answer.err, f"{answer.status} {answer.err}")
        claim(f"pibal {arguments}: says nothing on standard output", answer.out == "", answer.out)
        claim(f"pibal {arguments}: leaves no text without words", "<" not in answer.err and "{" not in answer.err, answer.err)

    # All of it beside one flight.
    flight = ((ROOT / DEMO).read_text().replace("../../balloons/", str(ROOT / "demo/balloons") + "/") +
              '\n[[forecast]]\nfile = "fb.txt"\nstation = "ZQA"\n' + PIBALS[PIBALS.index("[[pibal]]"):] +
              f'[[profile]]\nby = "forecast"\ntime = 2027-05-16T06:00:00-09:00\nfile = "run.csv"\ncolumns = "{MAP}"\n'
              '[[look]]\nwhat = "wind"\nvalue = "leaves"\ntime = 2027-05-16T04:46:00-09:00\n')
    path = file("flight.toml", flight)
    sheet = pappus("sheet", path, "--json")
    claim("a flight with every source is a sheet", sheet.status == 0, sheet.err)
    kinds = {source["kind"] for source in sheet.json["sources"]}
    claim("its sources are told", kinds == {"pibal", "seen", "report", "forecast"}, kinds)
    for source in sheet.json["sources"]:
        claim("a source has its age and its uses", all(k in source for k in ("what", "name", "time", "age_s", "old", "uses", "beaten")), source)
    claim("its pilot balloons are told", [p["name"] for p in sheet.json["pibals"]] == ["first", "second"], sheet.json["pibals"])
    weather = [l for l in sheet.json["limits"] if l["name"] == "forecast_weather"]
    claim("the aerodrome forecast is judged", [l["state"] for l in weather] == ["inside"], weather)
    wind = [l for l in sheet.json["limits"] if l["name"] == "surface_wind"][0]
    claim("the newest wind is the look's: leaves, 5 mph by FAA-H-8083-11B Fig 6-2", abs(wind["value"]["si"] - 2.2352) < 1e-9, wind)
    page = pappus("sheet", path).out
    claim("its page fits 80 columns", max(map(len, page.splitlines())) <= 80)
    claim("its page leaves no text without words", "<" not in page and "{" not in page, page)
    claim("pibal reads those of a flight", pappus("pibal", path, "--json").json["name"] == "second")
    claim("winds reads all of a flight", pappus("winds", path, "--json").status == 0)
    gone = pappus("sheet", file("gone.toml", flight.replace("run.csv", "gone.csv")))
    claim("a file beside the flight that is not there is named", gone.status == 3 and "gone.csv" in gone.err, gone.err)

local = pappus("winds", DEMO).out
claim("winds are told in the flight's own time", "pibal 04:40" in local, local)

# --- the drawn sheet
with tempfile.TemporaryDirectory() as folder:
    page = Path(folder) / "sheet.html"
    first = pappus("sheet", DEMO, "--html", str(page))
    claim("--html writes the page, and the text is told too",
          first.status == 0 and "FLIGHT SHEET" in first.out and page.read_text().startswith("<!DOCTYPE html>"), first.err)
    claim("--html writes over an earlier page",
          pappus("sheet", DEMO, "--html", str(page), "--units", "metric").status == 0 and "°C" in page.read_text())
    printed = pappus("sheet", DEMO, "--html", "-", "--units", "metric")
    claim("--html - prints the same page", printed.out == page.read_text(), printed.err)
    notes = Path(folder) / "notes.txt"
    notes.write_text("mine")
    refused = pappus("sheet", DEMO, "--html", str(notes))
    claim("--html leaves another's file alone", refused.status == 3 and notes.read_text() == "mine", refused.status)
    claim("--html names the file that it leaves", str(notes) in refused.err and "{" not in refused.err, refused.err)
    nowhere = pappus("sheet", DEMO, "--html", str(Path(folder) / "no" / "sheet.html"))
    claim("--html into a folder that is not there fails", nowhere.status == 5 and nowhere.out == "", nowhere.err)

# --- help
claim("pappus alone shows help and is a wrong call", pappus().status == 2 and "pappus sheet" in pappus().out)
claim("pappus --help is an answer", pappus("--help").status == 0)
claim("pappus --version is an answer", pappus("--version").out.startswith("pappus "))
for verb in ("sheet", "ask", "reach", "lift", "climb", "burn", "winds", "pibal", "air", "propane", "cylinder", "book", "sun", "variation", "schema", "manual", "completion"):
    text = pappus(verb, "--help")
    claim(f"pappus {verb} --help fits 80 columns", max(map(len, text.out.splitlines())) <= 80, text.out)
    claim(f"pappus {verb} --help", text.status == 0 and f"pappus {verb}" in text.out and "<help" not in text.out, text.out)


# --- manual and completion, from the same table as help
VERB_NAMES = [line.split()[1] for line in pappus("--help").out.splitlines() if line.startswith("  pappus ")]
manual = pappus("manual").out
claim("help lists the verbs", "sheet" in VERB_NAMES and "completion" in VERB_NAMES, VERB_NAMES)
for verb in VERB_NAMES:
    claim(f"the manual has {verb}", f".SS {verb}" in manual)
for option in ("--dew-point", "--elevation", "--json", "--now", "--units"):
    claim(f"the manual has {option}", option.replace("-", "\\-") in manual)
claim("every line of the manual that starts with a dot is a request", all(
    line.split()[0] in (".TH", ".SH", ".SS", ".TP", ".PP", ".br") for line in manual.splitlines() if line.startswith(".")))


def completed(*words):
    script = f"""source <({PAPPUS} completion)
COMP_WORDS=({" ".join(words)!s}); COMP_CWORD={len(words) - 1}; _pappus; printf '%s\\n' "${{COMPREPLY[@]}}" """
    return subprocess.run(["bash", "-c", script], text=True, capture_output=True, cwd=ROOT).stdout.split()


claim("a verb is completed", completed("pappus", "va") == ["variation"], completed("pappus", "va"))
claim("an option is completed", completed("pappus", "air", "--el") == ["--elevation"], completed("pappus", "air", "--el"))
claim("a file is completed", completed("pappus", "sheet", "demo/fl") == ["demo/flights"], completed("pappus", "sheet", "demo/fl"))

# --- colour only on a terminal, and not against NO_COLOR
def on_a_terminal(env):
    master, slave = pty.openpty()
    child = subprocess.Popen([PAPPUS, "sheet", DEMO], stdout=slave, cwd=ROOT, env={**os.environ, **env})
    os.close(slave)
    text = b""
    try:
        while chunk := os.read(master, 65536):
            text += chunk
    except OSError:
        pass
    child.wait(30)
    return text


plain_env = {"NO_COLOR": ""}
claim("a pipe gets no colour", "\x1b" not in pappus("sheet", DEMO).out)
claim("a terminal gets colour", b"\x1b[" in on_a_terminal(plain_env))
claim("NO_COLOR is kept to", b"\x1b[" not in on_a_terminal({"NO_COLOR": "1"}))
full = subprocess.run([PAPPUS, "sheet", DEMO], stdout=open("/dev/full", "w"), stderr=subprocess.PIPE, cwd=ROOT)
claim("an answer that can't be written is a failure of the machine", full.returncode == 5, full.returncode)

close()
