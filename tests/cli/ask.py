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
        return become

    def read_until(self, done, seconds=20):
        text, end = "", time.monotonic() + seconds
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
            text += chunk.decode().replace("\r\n", "\n")
        self.seen += text
        return text

    def prompt(self):
        """What the program says up to the place where it waits."""
        return self.read_until(lambda text: text.endswith("> "))

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
