#!/usr/bin/env python3
"""Builds the trees, runs every test in them and adds up: the work of ./test. Standard library only.

What is run, in this order:
  native   every gtest program of build/, the headers one by one, benchmarks (each once, to see that it runs), scripts
  asan     the same gtest programs under ASan and UBSan, the fuzz targets for a few seconds each
  wasm     the gtest programs built as WebAssembly, under Node (tests/wasm/run.mjs)
  agree    the numbers that the three trees print (tests/agreement)
  golden   the files that replays write, against the committed ones

Scripts are the executable *.sh and *.py files below tests/cli, tests/compile_fail and tests/tools. Protocol: started in
the project's folder with PAPPUS=build/pappus and BUILD=build; prints what it likes, "not ok: ..." for each failure, and
as its last line "N passed, N failed, N skipped"; its status is 0 exactly if nothing failed.

The last line printed is "N passed, N failed, N skipped" over everything. The status is 0 only if nothing failed; a
program that crashes, runs into its time limit or runs no test at all counts as a failure.
"""
import argparse
import json
import os
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SCRIPT_FOLDERS = ("tests/cli", "tests/compile_fail", "tests/killed", "tests/tools")
SUMMARY = re.compile(r"^(\d+) passed, (\d+) failed, (\d+) skipped$")
AGREE_RELATIVE = 1e-9  # the digits that are shown, and three more
TIME_LIMIT_S = 600


class Sum:
    def __init__(self):
        self.passed = self.failed = self.skipped = 0
        self.failures = []

    def add(self, name, passed, failed, skipped, seconds, lines=(), note=""):
        """One line of progress; `lines` is what a reader needs to understand the failures."""
        passed, failed, skipped = int(passed), int(failed), int(skipped)
        if failed == 0 and passed + skipped == 0:
            failed, lines = 1, ["ran no test"]
        self.passed += passed
        self.failed += failed
        self.skipped += skipped
        text = f"{name}: {passed} passed"
        if failed:
            text += f", {failed} FAILED"
            self.failures.append(f"{name}: {failed}")
        if skipped:
            text += f", {skipped} skipped"
        say(f"{text} ({seconds:.1f} s){'; ' + note if note else ''}")
        if failed:
            for line in lines:
                print("    " + line)
            sys.stdout.flush()


def say(text):
    print(text, flush=True)


def run(command, *, env=None, cwd=ROOT, limit=TIME_LIMIT_S):
    """(status, output, seconds); status is None when the time limit ended it. Takes its children along."""
    started = time.monotonic()
    process = subprocess.Popen([str(c) for c in command], cwd=cwd, env={**os.environ, **(env or {})},
                               stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
                               start_new_session=True)
    try:
        output, _ = process.communicate(timeout=limit)
        status = process.returncode
    except subprocess.TimeoutExpired:
        os.killpg(process.pid, signal.SIGKILL)
        output, _ = process.communicate()
        status = None
    except BaseException:
        os.killpg(process.pid, signal.SIGKILL)
        raise
    return status, output.decode("utf-8", "replace"), time.monotonic() - started


def ending(status):
    if status is None:
        return f"stopped after {TIME_LIMIT_S} s"
    if status < 0:
        return f"killed by {signal.Signals(-status).name}"
    return f"status {status}"


def tail(output, count=40):
    lines = output.rstrip().splitlines()
    return lines[-count:]


def build(total, preset, folder, targets=("all",)):
    """Configures and builds; a tree that does not build is one failure, and nothing in it can be run."""
    say(f"--- {folder}/")
    started = time.monotonic()
    # Inherits the terminal, so that progress is seen.
    status = subprocess.call([str(ROOT / "tools/tree"), preset, folder, *targets], cwd=ROOT, stdin=subprocess.DEVNULL)
    if status != 0:
        total.add(f"{folder} builds", 0, 1, 0, time.monotonic() - started, ["the tree does not build (above)"])
    return status == 0


def programs(folder, kind):
    listed = (ROOT / folder / "programs.txt").read_text().splitlines()
    return [(name, Path(path)) for k, name, path in (line.split(" ", 2) for line in listed if line) if k == kind]


def gtest_json(text):
    """(passed, failed, skipped) and the failures' text, from GoogleTest's JSON."""
    passed = failed = skipped = 0
    lines = []
    for suite in json.loads(text)["testsuites"]:
        for case in suite["testsuite"]:
            if case.get("failures"):
                failed += 1
                lines.append(f"{suite['name']}.{case['name']}")
                lines += ["  " + line for f in case["failures"] for line in f["failure"].splitlines()[:12]]
            elif case.get("result") == "SKIPPED" or case.get("status") == "NOTRUN":
                skipped += 1
            else:
                passed += 1
    return passed, failed, skipped, lines


def gtest_console(text):
    """The same from what GoogleTest prints, where there are no files. A test that began and did not end has failed."""
    began = re.findall(r"^\[ RUN      \] (\S+)", text, re.M)
    passed = len(re.findall(r"^\[       OK \] ", text, re.M))
    # The list at the end repeats the names without a time.
    skipped = len(re.findall(r"^\[  SKIPPED \] .*ms\)$", text, re.M))
    disabled = re.search(r"YOU HAVE (\d+) DISABLED TEST", text)
    failed = len(began) - passed - skipped
    promised = re.search(r"^\[==========\] Running (\d+) tests? from", text, re.M)
    if promised and len(began) < int(promised[1]):
        failed += int(promised[1]) - len(began)  # it died on the way
    lines = tail(text, 60) if failed else []
    return passed, failed, skipped + (int(disabled[1]) if disabled else 0), lines


def run_gtests(total, folder, label, env=None):
    found = programs(folder, "gtest")
    if not found:
        total.add(f"{label} tests", 0, 1, 0, 0, [f"{folder}/programs.txt names no test program"])
    for name, path in found:
        with tempfile.TemporaryDirectory() as scratch:
            report = Path(scratch) / "report.json"
            status, output, seconds = run([path, f"--gtest_output=json:{report}"], env=env)
            if report.exists():
                passed, failed, skipped, lines = gtest_json(report.read_text())
            else:
                passed, failed, skipped, lines = 0, 1, 0, [ending(status), *tail(output)]
        if status != 0 and failed == 0:  # a leak, or a crash while it ended
            failed, lines = 1, [ending(status), *tail(output)]
        total.add(f"{label} {name}", passed, failed, skipped, seconds, lines)


def run_wasm(total):
    found = programs("build-wasm", "gtest")
    if not found:
        total.add("wasm tests", 0, 1, 0, 0, ["build-wasm/programs.txt names no test program"])
    for name, path in found:
        status, output, seconds = run(["node", "tests/wasm/run.mjs", path])
        passed, failed, skipped, lines = gtest_console(output)
        if status != 0 and failed == 0:
            failed, lines = 1, [ending(status), *tail(output)]
        total.add(f"wasm {name}", passed, failed, skipped, seconds, lines)


def run_benches(total):
    for name, path in programs("build", "bench"):
        status, output, seconds = run([path, "--benchmark_min_time=0.001"])
        bad = status != 0 or "ERROR OCCURRED" in output
        total.add(f"bench {name} runs", not bad, bad, 0, seconds, [ending(status), *tail(output)])


def run_fuzz(total, seconds_each):
    for name, path in programs("build-asan", "fuzz"):
        kept = ROOT / "fuzz/corpus" / name.removesuffix("_fuzz")
        if not (kept.is_dir() and any(kept.iterdir())):
            total.add(f"fuzz {name}", 0, 1, 0, 0, [f"{kept.relative_to(ROOT)}/ holds no input to start from"])
            continue
        # One seed, so that a run can be repeated: this guards what was found. To find more: the target by itself, for
        # hours (fuzz/CMakeLists.txt). New finds go into the copy; what is worth keeping is put into the tree by hand.
        with tempfile.TemporaryDirectory() as scratch:
            shutil.copytree(kept, Path(scratch) / "corpus")
            status, output, seconds = run(
                [path, f"-max_total_time={seconds_each}", "-seed=20270516", "-rss_limit_mb=1024", "-timeout=10",
                 "-print_final_stats=1", f"-artifact_prefix={scratch}/", f"{scratch}/corpus"])
            lines = [ending(status), *tail(output)]
            found = [p for p in Path(scratch).iterdir() if p.is_file()]
            if found:
                keep = ROOT / "build-asan/fuzz" / found[0].name
                shutil.copy(found[0], keep)
                lines.append(f"the input that did it: {keep.relative_to(ROOT)}")
        done = re.search(r"number_of_executed_units: (\d+)", output)
        bad = status != 0 or done is None
        total.add(f"fuzz {name}", not bad, bad, 0, seconds, lines, f"{done[1]} inputs" if done else "")


def run_scripts(total):
    for folder in SCRIPT_FOLDERS:
        for path in sorted((ROOT / folder).glob("*")):
            if path.suffix not in (".sh", ".py"):
                continue
            name = str(path.relative_to(ROOT))
            if not os.access(path, os.X_OK):
                total.add(name, 0, 1, 0, 0, ["is not executable: chmod +x, or move it out of the folder"])
                continue
            status, output, seconds = run([path], env={"PAPPUS": str(ROOT / "build/pappus"), "BUILD": "build"})
            lines = output.rstrip().splitlines()
            match = SUMMARY.match(lines[-1]) if lines else None
            if match is None:
                total.add(name, 0, 1, 0, seconds, [ending(status), "no summary line", *tail(output)])
                continue
            passed, failed, skipped = (int(n) for n in match.groups())
            if (status == 0) != (failed == 0):
                failed += 1
            told = [line for line in lines if line.startswith("not ok")]
            total.add(name, passed, failed, skipped, seconds, told or [ending(status), *tail(output)])


def differs(a, b):
    """None, or why the words of two lines do not agree."""
    if a == b:
        return None
    left, right = a.split(), b.split()
    if len(left) != len(right):
        return "different length"
    for x, y in zip(left, right):
        if x == y:
            continue
        try:
            u, v = float.fromhex(x), float.fromhex(y)
        except ValueError:
            return f"{x} against {y}"
        if not abs(u - v) <= AGREE_RELATIVE * max(abs(u), abs(v)):
            return f"{u!r} against {v!r}"
    return None


def compare_numbers(total, outputs):
    """One test for each group of each pair of trees: agreement to AGREE_RELATIVE; equal bytes are told."""
    first, *others = outputs
    reference = outputs[first].splitlines()
    for other in others:
        started = time.monotonic()
        lines = outputs[other].splitlines()
        groups, bad, unequal = {}, {}, 0
        if len(lines) != len(reference):
            total.add(f"numbers {first} and {other}", 0, 1, 0, 0,
                      [f"{len(reference)} lines against {len(lines)}"])
            continue
        for a, b in zip(reference, lines):
            group = a.split(" ", 1)[0]
            groups[group] = groups.get(group, 0) + 1
            unequal += a != b
            why = differs(a, b)
            if why and group not in bad:
                bad[group] = f"{' '.join(a.split()[:2])}: {why}"
        note = f"{len(lines)} cases, " + ("equal bytes" if unequal == 0 else f"{unequal} cases differ in some byte")
        total.add(f"numbers {first} and {other} agree", len(groups) - len(bad), len(bad), 0,
                  time.monotonic() - started, list(bad.values()), note)


def run_agreement(total, trees):
    outputs = {}
    for label, folder, prefix in (("g++", "build", []), ("clang", "build-asan", []),
                                  ("wasm", "build-wasm", ["node", "tests/wasm/run.mjs"])):
        if folder not in trees:
            continue
        for name, path in programs(folder, "agreement"):
            status, output, seconds = run([*prefix, path])
            if status != 0:
                total.add(f"numbers of {label}", 0, 1, 0, seconds, [ending(status), *tail(output)])
            else:
                outputs[label] = output
    if len(outputs) > 1:
        compare_numbers(total, outputs)


def run_golden(total):
    if not (ROOT / "tests/golden").is_dir():
        return
    inside, _, _ = run(["git", "rev-parse", "--is-inside-work-tree"])
    if inside != 0:
        total.add("golden files", 0, 0, 1, 0, note="not a git checkout, so there is nothing to compare with")
        return
    status, changed, seconds = run(["git", "diff", "--exit-code", "--stat", "--", "tests/golden"])
    _, new, _ = run(["git", "ls-files", "--others", "--exclude-standard", "--", "tests/golden"])
    bad = status != 0 or bool(new.strip())
    total.add("golden files as committed", not bad, bad, 0, seconds,
              [*tail(changed), *tail(new), "a change of numbers belongs into the commit that explains it: git add"])


def main():
    parser = argparse.ArgumentParser(prog="./test", description="Builds everything and runs all tests.")
    parser.add_argument("--quick", action="store_true",
                        help="only the native tree: no sanitizers, no fuzzing, no WebAssembly")
    parser.add_argument("--fuzz-seconds", type=int, default=3, metavar="N", help="for each fuzz target (default 3)")
    options = parser.parse_args()
    os.environ.setdefault("CCACHE_BASEDIR", str(ROOT))
    os.environ.setdefault("CCACHE_NOHASHDIR", "1")
    os.environ["ASAN_OPTIONS"] = "detect_leaks=1:strict_string_checks=1:detect_stack_use_after_return=1"
    os.environ["UBSAN_OPTIONS"] = "print_stacktrace=1"
    os.environ.setdefault("ASAN_SYMBOLIZER_PATH", "/usr/lib/llvm-14/bin/llvm-symbolizer")

    started = time.monotonic()
    total = Sum()
    trees = []
    try:
        if build(total, "dev", "build"):
            trees.append("build")
            run_gtests(total, "build", "native")
            headers = time.monotonic()
            status, output, _ = run(["cmake", "--build", "build", "--target", "all_verify_interface_header_sets"])
            total.add("every header compiles alone", status == 0, status != 0, 0, time.monotonic() - headers,
                      tail(output, 60))
            run_benches(total)
            run_scripts(total)
        if not options.quick:
            if build(total, "asan", "build-asan"):
                trees.append("build-asan")
                run_gtests(total, "build-asan", "asan")
                run_fuzz(total, options.fuzz_seconds)
            if build(total, "wasm", "build-wasm"):
                trees.append("build-wasm")
                run_wasm(total)
            say("--- all trees")
            run_agreement(total, trees)
        run_golden(total)
    except KeyboardInterrupt:
        total.add("interrupted", 0, 1, 0, 0, ["stopped from outside"])
    except Exception as error:  # the last line must come whatever happens here
        import traceback
        traceback.print_exc()
        total.add("the runner itself", 0, 1, 0, 0, [repr(error)])
    if total.failures:
        say("failed: " + "; ".join(total.failures))
    say(f"{time.monotonic() - started:.0f} s")
    say(f"{total.passed} passed, {total.failed} failed, {total.skipped} skipped")
    return 1 if total.failed else 0


if __name__ == "__main__":
    sys.exit(main())
