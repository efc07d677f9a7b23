#!/usr/bin/env python3
"""A book whose writer is killed in the middle, again and again: what was acknowledged is there, whole, every time.

A program adds events and says each number when it was told that the event is on the disk. It is killed after a short
random time. Then the book is opened by the program's own means and by SQLite alone, the chain is worked out here from
its description in store/chain.hpp, and every acknowledged event must be there with its body; besides them at most the
one that was being written. PAPPUS_SEED=n repeats a run's times, as far as the machine does.
"""
import hashlib
import os
import random
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))
from program import ROOT, claim, close

PROGRAM = str(ROOT / os.environ.get("BUILD", "build") / "tests/append_until_killed")
KILLS = 300          # of one writer, on one book
PAIRS = 20           # of two writers at once, on one book
BEGINNINGS = 40      # of a writer that is making the book
MASK = 2**64 - 1
times = random.Random(int(os.environ.get("PAPPUS_SEED", "20270516")))


def mixed(x):
    x = (x + 0x9E3779B97F4A7C15) & MASK
    x = ((x ^ x >> 30) * 0xBF58476D1CE4E5B9) & MASK
    x = ((x ^ x >> 27) * 0x94D049BB133111EB) & MASK
    return x ^ x >> 31


def body_of(run, step):
    seed = mixed(run << 32 | step)
    length = seed % 20000 if seed % 16 == 0 else seed % 500
    fill, eight = [], 0
    for i in range(length):
        if i % 8 == 0:
            eight = mixed((seed + i // 8) & MASK)
        fill.append(chr(97 + (eight >> (i % 8 * 3)) % 26))
    return f'{{"run":{run},"step":{step},"fill":"{"".join(fill)}"}}'


def part(value):
    return len(value).to_bytes(8, "big") + value


class Book:
    """Follows one book: what has been looked through already is held against its chain value, and not read again."""

    def __init__(self, path):
        self.path, self.count, self.last = path, 0, bytes(32)

    def new_events(self):
        """[(subject, body)] since the last look; makes the claims about the chain and the numbers."""
        done = subprocess.run([PROGRAM, "--verify", self.path], capture_output=True, text=True, timeout=60)
        told = done.stdout.split()
        claim("the book opens and is sound", done.returncode == 0 and len(told) == 3 and told[1] == "none",
              done.stdout + done.stderr)
        database = sqlite3.connect(self.path)
        rows = database.execute("SELECT number, recorded_ms, happened_ms, author, kind, subject, body, corrects, chain"
                                " FROM event WHERE number >= ? ORDER BY number", (self.count,)).fetchall()
        database.close()
        if self.count:
            claim("what was there is unchanged", rows and rows[0][8] == self.last)
            rows = rows[1:]
        follows = True
        for number, *fields, chain in rows:
            texts = [b"" if f is None else str(f).encode() for f in fields]
            value = hashlib.sha256(part(self.last) + b"".join(map(part, [str(number).encode(), *texts]))).digest()
            follows = follows and number == self.count + 1 and value == chain
            self.count, self.last = self.count + 1, chain
        claim("numbers and chain follow", follows)
        if len(told) == 3:
            claim("both see the same end", told[0] == str(self.count) and
                  told[2] == (self.last.hex() if self.count else "empty"), told)
        return [(row[5], row[6]) for row in rows]


def start(path, run, *count):
    return subprocess.Popen([PROGRAM, path, str(run), *count], stdout=subprocess.PIPE, stderr=subprocess.PIPE)


def acknowledged(writer, is_killed=True):
    """The numbers it was told. A line without its end was cut off by the kill, and is one number fewer."""
    out, err = writer.communicate(timeout=60)
    wanted = -signal.SIGKILL if is_killed else 0
    claim("the writer did not stop by itself", writer.returncode == wanted, f"{writer.returncode} {err.decode()}")
    return [int(line) for line in out.decode().split("\n")[:-1]]


def holds(run, numbers, events, first, allowed):
    """Of `events`, which begin at number `first`: all acknowledged of this run are there, and `allowed` more at most."""
    mine = [(first + i, body) for i, (subject, body) in enumerate(events) if subject == f"run {run}"]
    right = [body == body_of(run, step) for step, (_, body) in enumerate(mine)]
    claim("what is there is what was written", all(right), f"run {run}")
    claim("every acknowledged event is there", [n for n, _ in mine][:len(numbers)] == numbers, f"run {run}")
    claim("at most one more is there", len(mine) - len(numbers) <= allowed, f"run {run}: {len(mine) - len(numbers)}")
    return len(mine) - len(numbers)


def main():
    claim("the program is built", os.access(PROGRAM, os.X_OK), PROGRAM)
    if not os.access(PROGRAM, os.X_OK):
        close()
    run = written = more = 0
    began = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        for i in range(BEGINNINGS):
            path = f"{folder}/new-{i}.book"
            writer = start(path, run)
            time.sleep(times.uniform(0, 0.012))
            writer.kill()
            numbers = acknowledged(writer)
            subprocess.run([PROGRAM, path, "0", "0"], check=False)  # makes what was not made
            holds(run, numbers, Book(path).new_events(), 1, 1)
            run += 1

        book = Book(f"{folder}/our.book")
        for _ in range(KILLS):
            writer = start(book.path, run)
            time.sleep(times.uniform(0, 0.035))
            writer.kill()
            numbers = acknowledged(writer)
            if book.count == 0 and not numbers:
                subprocess.run([PROGRAM, book.path, "0", "0"], check=False)
            first = book.count + 1
            more += holds(run, numbers, book.new_events(), first, 1)
            written += len(numbers)
            run += 1
        claim("enough was written for this to say something", written > KILLS, written)

        for _ in range(PAIRS):
            writers = [start(book.path, run), start(book.path, run + 1)]
            time.sleep(times.uniform(0.01, 0.06))
            for writer in writers:
                writer.kill()
            numbers = [acknowledged(writer) for writer in writers]
            first = book.count + 1
            events = book.new_events()
            for k in (0, 1):
                holds(run + k, numbers[k], events, first, 1)
            run += 2

        writers = [start(book.path, run + k, "60") for k in (0, 1)]
        numbers = [acknowledged(writer, is_killed=False) for writer in writers]
        first = book.count + 1
        events = book.new_events()
        claim("two writers at once leave nothing out", sorted(numbers[0] + numbers[1]) == list(range(first, first + 120)))
        for k in (0, 1):
            holds(run + k, numbers[k], events, first, 0)
        left = sorted(p.name for p in Path(folder).glob("our.book*"))
        claim("nothing is left beside the book", left == ["our.book"], left)
    print(f"{book.count} events, {written} of them acknowledged by a writer that was then killed, {more} more, "
          f"{time.monotonic() - began:.1f} s")
    close()


main()
