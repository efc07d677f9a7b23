#!/usr/bin/env python3
"""`pappus book`: what is written stays written, reading makes no book, and `pappus cylinder` remembers."""
import sys
import shutil
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))
from program import ROOT, claim, close, pappus

NOW = ("--now", "2027-05-16T04:50:00-09:00")
EVENING = ("--at", "2027-05-15T18:10:00-09:00")
FLIGHT = ("--at", "2027-05-15T20:10:00-09:00")
LITRE, POUND = 0.001, 0.45359237

with tempfile.TemporaryDirectory() as folder:
    here = Path(folder)
    balloon = str(here / "lantern.toml")
    shutil.copy(ROOT / "demo/balloons/lantern.toml", balloon)
    kept = here / "lantern.book"

    def book(action, *arguments):
        return pappus("book", action, balloon, *arguments, *NOW)

    def cylinder(*arguments):
        return pappus("cylinder", balloon, "--cylinder", "1", "--json", *arguments, *NOW)

    def remembered(number):
        shown = book("show", "--json")
        return next(c for c in shown.json["cylinders"] if c["id"] == number)

    # --- reading makes no book
    for action, more in (("show", ()), ("verify", ()), ("people", ()), ("backup", ("--to", str(here / "copy.book"))),
                         ("forget", ("--id", "x")), ("fill", ("--cylinder", "1", "--filled-at", "12C", "--correct", "1"))):
        answer = book(action, *more)
        claim(f"book {action} without a book: status 3", answer.status == 3 and str(kept) in answer.err, answer.err)
    bare = cylinder()
    claim("a cylinder without a book is an answer", bare.status == 0 and bare.json["book"] is None, bare.err)
    claim("and says that there is none", any(str(kept) in note for note in bare.json["notes"]), bare.json["notes"])
    for arguments, status, told in (
            (("fill", "--cylinder", "1"), 2, "--filled-at"), (("fill", "--filled-at", "12C"), 2, "--cylinder"),
            (("fill", "--cylinder", "11", "--filled-at", "12C"), 3, "wanted 1"),
            (("fill", "--cylinder", "1", "--filled-at", "12C", "--filled-between", "5C", "15C"), 2, "twice"),
            (("fill", "--cylinder", "1", "--filled-at", "90C"), 4, "50C"),
            (("fill", "--cylinder", "1", "--weighed", "3kg"), 3, "3kg"),
            (("fill", "--cylinder", "1", "--filled-at", "12C", "--at", "2027-05-16T04:51:00-09:00"), 3, "--at"),
            (("flight", "--cylinder", "1"), 2, "--aloft"), (("flight", "--aloft", "52min"), 2, "--cylinder"),
            (("flight", "--aloft", "52min", "--cylinder", "1", "--drawn", "3gal"), 2, "--temperature"),
            (("flight", "--aloft", "52min", "--cylinder", "1", "--valve", "liquid"), 2, "--valve"),
            (("weighing", "--cylinder", "1", "--cylinder", "2", "--weighed", "41kg"), 2, "one"),
            (("level-test", "--cylinder", "1", "--temperature", "4C"), 2, "--valve"),
            (("person", "--id", "p1"), 2, "--name"), (("backup",), 2, "--to"), (("fil",), 2, "fill")):
        answer = book(*arguments)
        claim(f"book {' '.join(arguments)}: status {status}", answer.status == status and told in answer.err,
              f"{answer.status} {answer.err}")
    claim("nothing of all that made a book", sorted(p.name for p in here.iterdir()) == ["lantern.toml"],
          [p.name for p in here.iterdir()])

    # --- a fill
    filled = book("fill", "--cylinder", "1", "--cylinder", "2", "--filled-between", "5C", "15C", *EVENING, "--json")
    claim("a fill is written", filled.status == 0 and kept.exists(), filled.err)
    claim("one event for each cylinder", [e["number"] for e in filled.json["entries"]] == [1, 2], filled.json)
    claim("an answer names book, subject and links", filled.json["book"] == str(kept)
          and filled.json["subject"] == "D-105-017" and all(len(e["chain"]) == 12 for e in filled.json["entries"]))
    claim("the author is the pilot", filled.json["entries"][0]["by"] == "pilot")
    one = remembered("1")
    claim("a fill is remembered", one["state"] == "as_proven" and one["proof"] == "fill" and one["since"] == EVENING[1], one)
    claim("what nobody noted is not", remembered("3")["state"] == "not_on_record")
    full = cylinder()
    claim("a cylinder remembers its fill", full.json["mass_low_kg"] > 20 > bare.json["mass_low_kg"]
          and full.json["book"] == str(kept), full.json)
    claim("and says when", any("2027-05-15 18:10" in note for note in full.json["notes"]), full.json["notes"])
    claim("--no-book leaves it out", cylinder("--no-book").json["mass_low_kg"] == bare.json["mass_low_kg"])

    # --- a flight: used, not refilled
    flown = book("flight", "--aloft", "52min", "--cylinder", "1", "--cylinder", "2", *FLIGHT)
    claim("a flight is written", flown.status == 0 and "52 min" in flown.out, flown.err)
    one = remembered("1")
    claim("then it is used and not refilled", one["state"] == "used_not_refilled" and one["flights"] == 1
          and one["flown_s"] == 3120 and one["mass_low_kg"] < 2, one)
    used = cylinder()
    claim("a cylinder remembers the flight", used.json["mass_low_kg"] < 2
          and any("52 min" in note for note in used.json["notes"]), used.json)
    claim("a fill in the call comes after it", cylinder("--filled-at", "8C").json["mass_low_kg"] > 20)

    # --- tests and weights
    book("level-test", "--cylinder", "1", "--valve", "vapour", "--temperature", "4C", "--at", "2027-05-15T21:00:00-09:00")
    claim("vapour at the valve leaves the amount open", remembered("1")["state"] == "not_known")
    weighed = book("weighing", "--cylinder", "1", "--weighed", "41.2kg", "--by", "hauler", "--json")
    claim("a weighing is written under its author", weighed.json["entries"][0]["by"] == "hauler", weighed.err)
    weight = remembered("1")
    claim("a weight settles it", weight["proof"] == "weighing" and weight["mass_high_kg"] - weight["mass_low_kg"] < 0.61, weight)
    fixed = book("weighing", "--cylinder", "1", "--weighed", "40.2kg", "--correct", "5", "--by", "hauler", "--json")
    claim("a correction says what it corrects", fixed.status == 0 and fixed.json["entries"][0]["corrects"] == 5, fixed.err)
    claim("and takes its place", abs(remembered("1")["mass_best_kg"] - weight["mass_best_kg"] + 1) < 1e-6)
    nothing = book("weighing", "--cylinder", "1", "--weighed", "40.2kg", "--correct", "77")
    claim("a correction of nothing is refused", nothing.status == 3, nothing.err)
    drawn = book("flight", "--aloft", "10min", "--cylinder", "1", "--drawn", "2gal", "--temperature", "8C", "--json")
    claim("a noted draw counts", drawn.status == 0 and remembered("1")["state"] == "drawn"
          and 1 < weight["mass_best_kg"] - 1 - remembered("1")["mass_best_kg"] < 2 * 3.785 * 0.53, remembered("1"))
    liquid = book("level-test", "--cylinder", "2", "--valve", "liquid", "--temperature", "4C")
    claim("liquid at the valve is a proof", liquid.status == 0 and remembered("2")["proof"] == "level_test", liquid.err)

    # --- what its flights teach
    flights = here / "flights"
    flights.mkdir()
    flight = str(flights / "may-dawn.toml")
    text = (ROOT / "demo/flights/may-dawn/flight.toml").read_text(encoding="utf-8")
    Path(flight).write_text(text.replace("../../balloons/lantern.toml", "../lantern.toml"), encoding="utf-8")
    taught = here / "taught.book"
    LATER = ("--now", "2027-05-20T20:00:00-09:00")

    def teach(action, *arguments):
        return pappus("book", action, balloon, "--book", str(taught), *arguments, *LATER)

    def fly(*arguments):
        return teach("flight", "--aloft", "52min", "--cylinder", "1", "--cylinder", "2", *arguments)

    for arguments, status, told in (
            (("--burnt", "9gal"), 2, "--temperature"), (("--burnt", "900kg"), 3, "--burnt"), (("--burnt", "38"), 3, "9gal"),
            (("--crown", "300C"), 3, "--crown"), (("--crown-error", "3K"), 2, "--crown"),
            (("--crown", "96C", "--crown-error", "3C"), 3, "20K"), (("--as", str(here / "none.toml")), 3, "none.toml")):
        answer = fly(*arguments)
        claim(f"book flight {' '.join(arguments)}: status {status}", answer.status == status and told in answer.err,
              f"{answer.status} {answer.err}")
    claim("nothing of all that made a book either", not taught.exists())
    claim("learned from no book: status 3", teach("learned").status == 3)
    bare = fly("--burnt", "9gal", "--temperature", "12C")
    claim("a burn without a flight file is written, and says that it teaches nothing",
          bare.status == 0 and "--as" in bare.out, bare.out)
    guess = teach("learned", "--json").json
    claim("without records the guess stands", guess["burn"]["ratio"] == 1 and guess["burn"]["ratio_spread"] == 0.25
          and guess["crown"]["excess_k"] == 20 and not guess["burn"]["yours"] and not guess["crown"]["yours"], guess)
    for crown in ("96C", "97C", "95C", "98C", "96C"):
        answer = fly("--burnt", "38kg", "--crown", crown, "--as", flight)
        claim("a flight is held against its file", answer.status == 0 and "foretold" in answer.out, answer.err + answer.out)
    fly("--burnt", "38kg", "--crown", "180C", "--as", flight, "--at", "2027-05-18T06:30:00-09:00")
    learned = teach("learned", "--json").json
    claim("from three flights the figures are its own", learned["burn"]["yours"] and learned["burn"]["flights"] == 6
          and learned["burn"]["ratio_spread"] < 0.1 and learned["crown"]["flights"] == 5, learned)
    claim("a reading far off is named", [(o["of"], o["event"], o["happened"]) for o in learned["outliers"]]
          == [("crown", 7, "2027-05-18T06:30:00-09:00")], learned["outliers"])
    for units in ("us", "metric"):
        for language in ("en", "es"):
            text = teach("learned", "--units", units, "--language", language)
            widest = max(len(line) for line in text.out.splitlines() if str(taught) not in line)
            claim(f"book learned --units {units} --language {language} fits 80 columns", widest <= 80, widest)
            claim(f"book learned --language {language} leaves no text without words", "<" not in text.out and "{" not in text.out)
            claim("and tells the outlier's number and date", " 7, 2027-05-18." in text.out, text.out)

    # --- the book itself
    shown = book("show")
    for units in ("us", "metric"):
        for language in ("en", "es"):
            text = book("show", "--units", units, "--language", language)
            widest = max(len(line) for line in text.out.splitlines() if str(kept) not in line)
            claim(f"book show --units {units} --language {language} fits 80 columns", widest <= 80, widest)
            claim(f"book show --language {language} leaves no text without words", "<" not in text.out and "{" not in text.out)
    whole = book("verify", "--json")
    claim("the chain is whole", whole.status == 0 and whole.json["whole"] and whole.json["events"] == 8
          and whole.json["first_broken"] is None, whole.out)
    claim("its last link is that of the last event", whole.json["last"].startswith(liquid.out.split(", ")[-1].rstrip(")\n")),
          liquid.out)
    copy = here / "copy.book"
    copied = book("backup", "--to", str(copy), "--json")
    claim("a copy is made", copied.status == 0 and copied.json["last"] == whole.json["last"] and copy.exists(), copied.err)
    claim("the copy is a book", pappus("book", "verify", balloon, "--book", str(copy), "--json").json["last"] == whole.json["last"])
    claim("what is there is not copied over", book("backup", "--to", str(copy)).status == 3)
    elsewhere = pappus("cylinder", balloon, "--cylinder", "1", "--book", str(here / "no.book"), *NOW)
    claim("a book that is named must be there", elsewhere.status == 3 and "no.book" in elsewhere.err, elsewhere.err)

    # --- people
    person = book("person", "--id", "hauler", "--name", "A. Nobody", "--contact", "nowhere", "--json")
    claim("a person is known", person.status == 0 and person.json["people"] ==
          [{"id": "hauler", "name": "A. Nobody", "contact": "nowhere"}], person.out)
    claim("and told", "A. Nobody" in book("people").out)
    claim("nobody is forgotten who isn't known", book("forget", "--id", "hauled").status == 3)
    forgotten = book("forget", "--id", "hauler", "--json")
    claim("and forgotten", forgotten.status == 0 and forgotten.json["people"] == [], forgotten.out)
    claim("events keep the id and the chain", book("verify").status == 0 and "hauler" in book("show").out)

    # --- a broken book
    kept.write_bytes(b"this is no book at all, whatever it is called\n" * 40)
    for action in ("show", "verify"):
        answer = book(action)
        claim(f"book {action} of another file is refused", answer.status in (3, 5) and answer.out == "", answer.err)
    claim("a cylinder is not answered for beside a book that can't be read", cylinder().status in (3, 5))

# --- the sheet remembers
with tempfile.TemporaryDirectory() as folder:
    here = Path(folder)
    shutil.copytree(ROOT / "demo/balloons", here / "balloons")
    shutil.copytree(ROOT / "demo/flights", here / "flights")
    balloon, flight = str(here / "balloons/lantern.toml"), str(here / "flights/may-dawn/flight.toml")

    def sheet(*arguments):
        return pappus("sheet", flight, "--json", *arguments).json

    def contents(of):
        return next((limit for limit in of["limits"] if limit["name"] == "cylinder_contents"), None)

    plain = sheet()
    claim("a sheet without a book says so", plain["book"] is None and contents(plain) is None
          and "No book was found" in pappus("sheet", flight).out)
    for number in ("1", "2", "3"):
        pappus("book", "fill", balloon, "--cylinder", number, "--filled-at", "12C", *EVENING, *NOW)
    full = sheet()
    claim("a recorded fill is accounted for", contents(full)["state"] == "inside" and full["book"].endswith("lantern.book"))
    pappus("book", "flight", balloon, "--aloft", "52min", "--cylinder", "1", *FLIGHT, *NOW)
    used = sheet()
    first = used["fuel"]["by_cylinder"][0]
    claim("used, not refilled: not known", contents(used)["state"] == "not_known" and first["open"] is True, first)
    claim("and the standing with it", used["standing"] in ("not_known", "against"), used["standing"])
    claim("the least counts for fuel, the most for the load", first["usable_kg"] < 1.0
          and used["load"]["total_kg"] > plain["load"]["total_kg"])
    claim("one test is asked for", first["next_test"] == "weigh", first)
    claim("--no-book leaves it out", sheet("--no-book")["book"] is None
          and sheet("--no-book")["standing"] == plain["standing"])
    pappus("book", "fill", balloon, "--cylinder", "1", "--filled-at", "10C", "--at", "2027-05-16T04:00:00-09:00", *NOW)
    claim("a fill settles it", contents(sheet())["state"] == "inside")
    missing = pappus("sheet", flight, "--book", str(here / "no.book"))
    claim("a book that is named must be there", missing.status == 3 and "no.book" in missing.err, missing.err)

close()
