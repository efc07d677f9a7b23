#!/usr/bin/env python3
"""`pappus ask` as a pilot meets it: a terminal, at most twelve answers, two files, the sheet."""
import os
import pty
import re
import select
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))
from program import PAPPUS, ROOT, claim, close, pappus

NOW = "2027-05-16T04:50:00-09:00"
BALLOON = ROOT / "demo/balloons/lantern.toml"
REPORT = "SALTGRASS BASIN AUTO WX\nMETAR XSGB 161335Z AUTO 10002KT 10SM CLR 03/M01 A3006 RMK AO2 T00321009\n"
EOF_KEY, INTERRUPT = "\x04", "\x03"


def is_prompt(text):
    return re.search(r"(^ {5}|\] )> \Z", text, re.MULTILINE) is not None


class Session:
    """One run in a terminal of its own: waits for each prompt before it answers, as a person does."""

    def __init__(self, folder, *options, now=NOW):
        self.master, slave = pty.openpty()
        arguments = [PAPPUS, "ask", "--now", now, *options]
        # A terminal of its own, so that Ctrl-C reaches it as a signal.
        self.child = subprocess.Popen(arguments, stdin=slave, stdout=slave, stderr=slave, cwd=folder,
                                      preexec_fn=self._own_terminal(slave))
        os.close(slave)
        self.seen = ""

    @staticmethod
    def _own_terminal(slave):
        def become():
            os.setsid()
            import fcntl
            import termios
            fcntl.ioctl(slave, termios.TIOCSCTTY, 0)
            signal.signal(signal.SIGINT, signal.SIG_DFL)  # ignored, if these tests were started in the background
        return become

    def read_until(self, done, seconds=20):
        read, text, end = b"", "", time.monotonic() + seconds
        while not done(text) and time.monotonic() < end:
            ready, _, _ = select.select([self.master], [], [], 0.2)
            if not ready:
                continue
            try:
                chunk = os.read(self.master, 65536)
            except OSError:
                break
            if not chunk:
                break
            read += chunk
            text = read.decode(errors="ignore").replace("\r\n", "\n")  # a character may still be on its way
        self.seen += text
        return text

    def prompt(self):
        """What the program says up to the place where it waits."""
        return self.read_until(is_prompt)

    def type(self, answer):
        os.write(self.master, (answer if answer in (EOF_KEY, INTERRUPT) else answer + "\n").encode())

    def answer(self, answer):
        """The prompt that was open, answered."""
        asked = self.prompt()
        self.type(answer)
        return asked

    def close(self):
        rest = self.read_until(lambda _: False)
        status = self.child.wait(20)
        os.close(self.master)
        return status, rest


def files_of(folder):
    return {path.name: path.read_bytes() for path in sorted(Path(folder).iterdir())}


def numbers(text):
    """Of the questions shown, each once."""
    return sorted({int(n) for n in re.findall(r"^ *(\d+)\. ", text, re.MULTILINE)})


def sheet_of(text):
    """From its title on."""
    return text[text.index("FLIGHT SHEET"):] if "FLIGHT SHEET" in text else text


def known_balloon(folder):
    shutil.copy(BALLOON, Path(folder) / "balloon.toml")
    return folder


# --- a first morning with a known balloon: every kind of answer once, some wrong at first
ANSWERS = [
    ("Saltgrass Field", "not known from last time"),  # a name alone says nothing yet
    ("Saltgrass Field, 38.90, -133.40, 1500m", None),
    ("<", None),  # back to the field, and again
    ("Saltgrass Field, 38.90, -133.40, 1500m", None),
    ("25:10", "time that can't be read"),
    ("05:10", None),
    ("40 furlongs", "unit that is not known"),
    ("40", None),
    ("Odile", "person without a mass"),
    ("pilot Maren 78kg+4kg, Odile 64kg, Tavi 83kg", None),
    ("18 18", "one amount is needed for each of 1, 2, 3"),
    ("18 18 30", "more than the cylinder holds"),
    ("18 18 full", None),
    ("46", "neither a temperature nor a pressure"),
    ("8C", None),
    ("300m", None),
    ("good morning\n", "no report, forecast or sounding was found"),
    (REPORT, None),
    ("pibal 04:40\nsfc 100 2 3C\n200 north 4\n1000 240 14 12C\n", "line of winds that can't be read"),
    ("500 215 9 11C\n", None),
    ("10mi clear", "three things"),
    ("10mi clear none", None),
    ("US Z", "neither a set of rules"),
    ("us G", None),
]
with tempfile.TemporaryDirectory() as folder:
    session = Session(known_balloon(folder))
    before = files_of(folder)
    complained, untouched = None, False
    for answer, complaint in ANSWERS:
        asked = session.prompt()
        untouched = files_of(folder) == before
        session.type(answer)
        if complained:
            claim(f"a wrong answer is told: {complained}", " ! " in asked and complained in " ".join(asked.split()), asked)
        complained = complaint
    claim("until the last answer no file is touched", untouched)
    status, rest = session.close()
    claim("ask ends well", status == 0, session.seen)
    claim("at most twelve questions", max(numbers(session.seen)) <= 12, numbers(session.seen))
    claim("the questions are counted without a gap", numbers(session.seen) == list(range(1, len(numbers(session.seen)) + 1)))
    claim("the dialogue fits 80 columns", max(len(line) for line in re.sub(r"\x1b\[[0-9;]*m", "", session.seen).splitlines()) <= 80)
    claim("no text without words", "<ask" not in session.seen and "<issue" not in session.seen and "{" not in session.seen, session.seen)
    claim("questions have no colour and move no cursor", "\x1b" not in session.seen[:session.seen.index("Written:")])
    claim("the flight is written", sorted(files_of(folder)) == ["balloon.toml", "flight.toml"], sorted(files_of(folder)))
    claim("a known balloon's file is left alone", files_of(folder)["balloon.toml"] == before["balloon.toml"])
    text = (Path(folder) / "flight.toml").read_text()
    for line in ('mass = "78kg"', 'liquid = "18gal"', 'elevation = "1500m"', 'temperature = "8C"', 'above_field = "300m"'):
        claim(f"the unit that was typed stays: {line}", line in text, text)
    sheet = pappus("sheet", "flight.toml", "--now", NOW, cwd=folder)
    shown = sheet_of(re.sub(r"\x1b\[[0-9;]*m", "", rest))
    claim("the sheet from the files has the same text", sheet.status == 0 and sheet.out == shown, sheet.err or shown)
    claim("the file's own time stands without --now", pappus("sheet", "flight.toml", cwd=folder).out == sheet.out)

    # --- the next day, Enter alone
    first = files_of(folder)["flight.toml"]
    session = Session(folder, now="2027-05-17T04:20:00-09:00")
    remembered = ""
    while True:
        asked = session.prompt()
        remembered += asked
        if not is_prompt(asked):
            break
        session.type("")
    status, _ = session.close()
    claim("Enter alone is a flight too", status == 0, session.seen)
    claim("at most twelve questions the second time", max(numbers(session.seen)) <= 12, numbers(session.seen))
    for held in ("[Saltgrass Field]", "[04:40]", "[40min]", "[pilot Maren 78kg+4kg, Odile 64kg, Tavi 83kg]", "[300m]"):
        claim(f"remembered: {held}", held in remembered, remembered)
    claim("rules and airspace of a known field are not asked again", "Rules" not in remembered)
    after = files_of(folder)
    claim("the old flight is kept under its date",
          sorted(after) == ["balloon.toml", "flight-2027-05-16T0510.toml", "flight.toml"], sorted(after))
    claim("with the same bytes", after.get("flight-2027-05-16T0510.toml") == first)
    text = after["flight.toml"].decode()
    claim("people and field are in the new one", 'name = "Tavi"' in text and 'airspace = "G"' in text, text)
    for stale in ("[[wind]]", "[[report]]", "[[look]]", "[[fuel]]", "qnh", "2027-05-16"):
        claim(f"never remembered: {stale}", stale not in text, text)

    # --- stopped on the way
    for name, key, stands in (("Ctrl-D", EOF_KEY, 130), ("Ctrl-C", INTERRUPT, -signal.SIGINT)):
        for where in (0, 4, 7, 8):
            session = Session(folder, now="2027-05-18T04:20:00-09:00")
            for _ in range(where):
                session.answer("")
            session.prompt()
            if where == 8:
                session.type("pibal 04:10\n500 215 9")  # in the midst of lines
                time.sleep(0.1)
            session.type(key)
            status, rest = session.close()
            claim(f"{name} at question {where + 1} stops", status == stands, f"{status} {session.seen}")
            claim(f"{name} at question {where + 1} leaves every file", files_of(folder) == after, sorted(files_of(folder)))
            if key == EOF_KEY:
                claim("and says so", "flight.toml is as it was before" in rest, rest)

    # --- the same answers again
    session = Session(folder, now="2027-05-17T04:20:00-09:00")
    while is_prompt(session.prompt()):
        session.type("")
    session.close()
    claim("what did not change is not kept twice", files_of(folder) == after, sorted(files_of(folder)))

    # --- a file changed while questions were asked is not lost
    session = Session(folder, now="2027-05-19T04:20:00-09:00")
    session.prompt()
    (Path(folder) / "flight.toml").write_text("# my own notes\n")
    session.type("")
    while is_prompt(session.prompt()):
        session.type("")
    status, _ = session.close()
    claim("a file that changed meanwhile is refused", status == 3 and "changed while questions were asked" in session.seen, session.seen)
    claim("and left as it stands", (Path(folder) / "flight.toml").read_text() == "# my own notes\n")
    claim("with the answers shown, so that they are not lost", 'name = "Tavi"' in session.seen)

    # --- a flight file that can't be read
    (Path(folder) / "flight.toml").write_text("balloon = \n")
    session = Session(folder, now="2027-05-19T04:20:00-09:00")
    asked = session.prompt()
    session.type(EOF_KEY)
    session.close()
    claim("a broken file is said to be forgotten", "nothing is remembered" in " ".join(asked.split()), asked)

# --- a paste with empty lines in it is one answer
with tempfile.TemporaryDirectory() as folder:
    session = Session(known_balloon(folder))
    for answer, complaint in ANSWERS[1:2] + ANSWERS[5:6] + ANSWERS[7:8] + ANSWERS[9:10] + ANSWERS[12:13] + ANSWERS[14:16]:
        session.answer(answer)
    session.answer("WEATHER PAGE\n\n\nMETAR XSGB 161335Z AUTO 10002KT 10SM CLR 03/M01 A3006\n\nEND OF PAGE\n")
    asked = session.prompt()
    claim("empty lines within a paste do not end it", "Read: XSGB" in asked and "9. Winds" in asked, asked)
    session.type("<")
    asked = session.prompt()
    claim("< goes back from a question of several lines at once", "8. Paste" in asked, asked)
    session.type(EOF_KEY)
    session.close()

# --- no balloon yet
BALLOON_ANSWERS = ["Lantern", "105000", "260", "190 5", "31 31", "50-150psi", "3x 22.5 18 44 5%\n", "1+2 3",
                   "scoop 11, instruments 29", "250", "15", "2100"]
with tempfile.TemporaryDirectory() as folder:
    session = Session(folder)
    for answer in BALLOON_ANSWERS[:-1]:
        session.answer(answer)
    session.prompt()
    claim("nothing is written before the balloon's last answer", files_of(folder) == {})
    claim("at most twelve questions for a balloon", max(numbers(session.seen)) <= 12, numbers(session.seen))
    session.type(BALLOON_ANSWERS[-1])
    session.prompt()
    claim("then the balloon is written", list(files_of(folder)) == ["balloon.toml"], session.seen)
    session.type(EOF_KEY)
    status, _ = session.close()
    claim("and stays when the flight is left", status == 130 and list(files_of(folder)) == ["balloon.toml"])
    written = files_of(folder)["balloon.toml"]

    session = Session(folder, "--balloon", "--units", "metric")
    for _ in range(12):
        asked = session.answer("")
    asked = session.prompt()
    claim("--balloon asks for it again, and Enter leaves it", files_of(folder) == {"balloon.toml": written}, session.seen)
    claim("in the reader's units", "elevation in m" in asked, asked)
    session.type(EOF_KEY)
    session.close()

    (Path(folder) / "balloon.toml").write_text("name = 3\n")
    broken = pappus("ask", folder)
    claim("a balloon that can't be read is told with its places", broken.status == 3 and "balloon.toml:1" in broken.err, broken.err)

# --- last time's flight names its balloon elsewhere
with tempfile.TemporaryDirectory() as folder:
    shelf, morning = Path(folder) / "balloons", Path(folder) / "morning"
    shelf.mkdir()
    morning.mkdir()
    shutil.copy(BALLOON, shelf / "lantern.toml")
    (morning / "flight.toml").write_text((ROOT / "demo/flights/may-dawn/flight.toml").read_text()
                                         .replace("../../balloons/", "../balloons/"))
    answers = "\n\n\n\n18 18 18\n8C\n\n\n\n\n10mi clear none\n3006\n"
    done = pappus("ask", str(morning), "--now", "2027-05-17T04:20:00-09:00", "--json", stdin=answers)
    claim("answers may come from a pipe", done.status == 0, done.err)
    claim("then the sheet alone is the answer", done.json["balloon"] == "Lantern", done.out[:200])
    text = (morning / "flight.toml").read_text()
    claim("the balloon stays where it is", 'balloon = "../balloons/lantern.toml"' in text and list(shelf.iterdir()) == [shelf / "lantern.toml"])
    claim("papers and minima go along", 'certificate = "commercial"' in text and 'reserve = "20min"' in text, text)

# --- calls that can't be
for arguments, status, told in ((("ask", "no/such/folder"), 3, "no such folder"), (("ask", "README.md"), 3, "no such folder"),
                                (("ask", "a", "b"), 2, "--help"), (("ask", "--baloon"), 2, "--balloon")):
    answer = pappus(*arguments)
    claim(f"pappus {' '.join(arguments)}: status {status}", answer.status == status, f"{answer.status} {answer.err}")
    claim(f"pappus {' '.join(arguments)}: says {told}", told in answer.err, answer.err)

close()
