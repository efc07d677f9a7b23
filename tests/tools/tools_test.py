#!/usr/bin/env python3
"""The tools that judge the code, held against planted faults: a check that cannot fail is none."""
import importlib.machinery
import importlib.util
import io
import os
import subprocess
import sys
import tempfile
import unittest
from contextlib import redirect_stdout
from pathlib import Path

sys.dont_write_bytecode = True
ROOT = Path(__file__).resolve().parent.parent.parent


def load(name):
    loader = importlib.machinery.SourceFileLoader(name.replace(".py", ""), str(ROOT / "tools" / name))
    module = importlib.util.module_from_spec(importlib.util.spec_from_loader(loader.name, loader))
    loader.exec_module(module)
    return module


layers, purity, runner = load("layers"), load("purity"), load("run_tests.py")


class Layers(unittest.TestCase):
    MODULES = layers.read_modules("core_base core/base 0 TRUE \ncore_air core/air 10 TRUE core_base\n"
                                  "core_wind core/wind 25 TRUE core_base,core_air\n")
    THERE = {"core/base/angle.hpp", "core/air/isa.hpp", "core/wind/profile.hpp", "core/air/detail/nodes.hpp"}

    def faults(self, path, text):
        return layers.faults_in(path, text, self.MODULES, self.THERE.__contains__)

    def test_what_depends_names_may_be_included(self):
        self.assertEqual(self.faults("core/wind/a.cpp", '#include "core/air/isa.hpp"\n#include "core/wind/profile.hpp"\n'
                                     '#include <vector>\n'), [])
        self.assertEqual(self.faults("core/air/isa.cpp", '#include "core/air/detail/nodes.hpp"\n'), [])

    def test_an_arrow_up_is_refused(self):
        found = self.faults("core/air/isa.cpp", '\n  #  include "core/wind/profile.hpp"\n')
        self.assertEqual(len(found), 1)
        self.assertIn("core/air/isa.cpp:2:", found[0])
        self.assertIn("core_wind, which core_air does not name", found[0])

    def test_relative_missing_and_homeless_are_refused(self):
        self.assertIn("named from", self.faults("core/air/a.cpp", '#include "isa.hpp"\n')[0])
        self.assertIn("not in the project", self.faults("core/air/a.cpp", '#include "../base/angle.hpp"\n')[0])
        self.assertIn("not in the project", self.faults("core/air/a.cpp", '#include "core/air/no.hpp"\n')[0])
        self.assertIn("no module", self.faults("core/new/a.cpp", "")[0])

    def test_a_generated_header_of_its_own_may_be_named(self):
        self.assertEqual(self.faults("core/air/a.cpp", '#include "isa_data.hpp"\n'), [])


class Purity(unittest.TestCase):
    def rules(self, text, path="core/air/a.cpp"):
        return [(line, rule) for _, line, rule, _ in purity.faults_in(path, text)]

    def test_each_rule_finds_its_fault(self):
        for text, rule in [("double x = std::exp(1.0);", "math"), ("double x = pow(a, 2);", "math"),
                           ("double x = ::log(a);", "math"), ("#include <math.h>", "math"),
                           ("std::normal_distribution<> d;", "random"), ("#include <random>", "random"),
                           ("std::unordered_map<int, int> m;", "unordered"), ("std::sort(a, b);", "sort"),
                           ("unsigned long n;", "long"), ("std::ranges::sort(v);", "emcc"),
                           ("#include <ranges>", "emcc"), ("std::bit_cast<int>(x);", "emcc"),
                           ("#include <fstream>", "machine"), ("std::getenv(\"HOME\");", "machine"),
                           ("#include <regex>", "locale"), ("throw 1;", "throw"), ("r.value()", "throw")]:
            self.assertEqual(self.rules("\n" + text + "\n"), [(2, rule)], text)

    def test_what_is_allowed_passes(self):
        for text in ["math::exp(1.0); math::pow(a, b); sin(angle); std::floor(x); std::isfinite(x);",
                     "// std::exp(1) in a comment", "/* throw\n long */ int x;", 'say("std::sort( long");',
                     'auto r = R"(throw long)";', "std::stable_sort(a, b); along(x); belong = 1'000'000;",
                     '#include "core/base/math.hpp"', "optional.has_value(); f.value; value_of(x);"]:
            self.assertEqual(self.rules(text), [], text)

    def test_rules_of_core_do_not_bind_what_stands_above(self):
        self.assertEqual(self.rules("throw 1;", "formats/text/json/a.cpp"), [])
        self.assertEqual(self.rules("std::exp(1);", "formats/text/json/a.cpp"), [(1, "math")])
        self.assertEqual(self.rules("std::exp(1);", "faces/cli/a.cpp"), [])

    def test_an_exception_needs_a_reason(self):
        self.assertEqual(purity.read_allowed("# c\na.cpp sort the keys differ\n"), {("a.cpp", "sort"): "the keys differ"})
        for text in ["a.cpp sort\n", "a.cpp nothing some reason\n"]:
            with self.assertRaises(SystemExit):
                purity.read_allowed(text)


class Runner(unittest.TestCase):
    def added(self, *arguments, **named):
        total = runner.Sum()
        with redirect_stdout(io.StringIO()):
            total.add(*arguments, **named)
        return total.passed, total.failed, total.skipped

    def test_no_test_at_all_is_a_failure(self):
        self.assertEqual(self.added("x", 0, 0, 0, 0.0), (0, 1, 0))
        self.assertEqual(self.added("x", 2, 0, 1, 0.0), (2, 0, 1))

    def test_gtest_console_counts(self):
        text = ("[==========] Running 4 tests from 1 test suite.\n[ RUN      ] A.b\n[       OK ] A.b (0 ms)\n"
                "[ RUN      ] A.c\nwhy\n[  FAILED  ] A.c (1 ms)\n[ RUN      ] A.d\n[  SKIPPED ] A.d (0 ms)\n"
                "[ RUN      ] A.e\n[       OK ] A.e (0 ms)\n[  SKIPPED ] 1 test, listed below:\n[  SKIPPED ] A.d\n"
                "[  FAILED  ] 1 test, listed below:\n[  FAILED  ] A.c\n")
        self.assertEqual(runner.gtest_console(text)[:3], (2, 1, 1))

    def test_a_program_that_died_has_failed(self):
        text = "[==========] Running 3 tests from 1 test suite.\n[ RUN      ] A.b\n[       OK ] A.b (0 ms)\n[ RUN      ] A.c\n"
        self.assertEqual(runner.gtest_console(text)[:3], (1, 2, 0))
        self.assertEqual(runner.gtest_console("Aborted\n")[:3], (0, 0, 0))  # counted as a failure by Sum.add

    def test_gtest_json_counts(self):
        text = """{"testsuites": [{"name": "A", "testsuite": [
          {"name": "b", "status": "RUN", "result": "COMPLETED"},
          {"name": "c", "status": "RUN", "result": "COMPLETED", "failures": [{"failure": "x.cpp:3\\nwhy"}]},
          {"name": "d", "status": "RUN", "result": "SKIPPED"},
          {"name": "e", "status": "NOTRUN", "result": "SUPPRESSED"}]}]}"""
        passed, failed, skipped, lines = runner.gtest_json(text)
        self.assertEqual((passed, failed, skipped), (1, 1, 2))
        self.assertEqual(lines, ["A.c", "  x.cpp:3", "  why"])

    def test_numbers_agree_within_the_limit_and_not_beyond(self):
        self.assertIsNone(runner.differs("g 1 0x1p+0 ok", "g 1 0x1p+0 ok"))
        self.assertIsNone(runner.differs("g 1 0x1p+0", "g 1 0x1.0000000000001p+0"))
        self.assertIsNotNone(runner.differs("g 1 0x1p+0", "g 1 0x1.00001p+0"))
        self.assertIsNotNone(runner.differs("g 1 0x1p+0", "g 1 out_of_range"))
        self.assertIsNotNone(runner.differs("g 1 0x1p+0", "g 1 nan"))
        self.assertIsNotNone(runner.differs("g 1 0x1p+0", "g 1"))

    def test_a_program_that_hangs_is_stopped_with_its_children(self):
        status, output, seconds = runner.run(["sh", "-c", "echo begun; sleep 60 & sleep 60"], limit=0.5)
        self.assertIsNone(status)
        self.assertIn("begun", output)
        self.assertLess(seconds, 10)


class Setup(unittest.TestCase):
    def run_setup(self, *arguments, path=None):
        environment = {**os.environ, **({"PATH": path} if path else {})}
        return subprocess.run(["/bin/bash", ROOT / "tools/setup", *arguments], capture_output=True, text=True,
                              env=environment, stdin=subprocess.DEVNULL)

    def test_a_wrong_call_is_refused(self):
        for arguments in [(), ("walk",), ("run", "test")]:
            done = self.run_setup(*arguments)
            self.assertEqual(done.returncode, 2)
            self.assertIn("usage", done.stderr)

    def with_programs(self, **scripts):
        """A PATH that holds the plain tools and the given fakes only."""
        folder = Path(self.enterContext(tempfile.TemporaryDirectory()))
        for tool in ("sed", "grep", "awk", "df", "mktemp", "rm", "tail", "env", "cat", "dirname", "readlink"):
            for place in ("/usr/bin", "/bin"):
                if Path(place, tool).exists():
                    (folder / tool).symlink_to(Path(place, tool))
                    break
        for name, text in scripts.items():
            (folder / name.replace("_", "-")).write_text("#!/bin/sh\n" + text)
            (folder / name.replace("_", "-")).chmod(0o755)
        return str(folder)

    POLICY = "shift; for p; do echo \"$p:\"; echo '  Candidate: 1.0'; done"
    PLAN = "case \"$*\" in *--assume-no*) echo 'Need to get 93.1 MB of archives.'; " \
           "echo 'After this operation, %s of additional disk space will be used.'; exit 1;; esac\n"

    def test_all_there_needs_neither_rights_nor_apt(self):
        path = self.with_programs(dpkg_query="for p; do echo \"installed $p\"; done", apt_get="exit 99")
        done = self.run_setup("test", path=path)
        self.assertEqual((done.returncode, done.stdout, done.stderr), (0, "", ""))

    def test_without_rights_the_line_to_run_is_printed(self):
        path = self.with_programs(dpkg_query="true", apt_get="exit 99", id="echo 1000")
        done = self.run_setup("run", path=path)
        self.assertEqual(done.returncode, 5)
        self.assertIn("apt-get install -y --no-install-recommends g++ cmake", done.stderr)

    def test_a_system_that_is_not_debian_is_told_what_is_needed(self):
        done = self.run_setup("run", path=self.with_programs())
        self.assertEqual(done.returncode, 5)
        self.assertIn("libtomlplusplus-dev", done.stderr)

    def refused(self, message, size="364 MB"):
        path = self.with_programs(dpkg_query="true", id="echo 0", dpkg="true", apt_cache=self.POLICY,
                                  apt_get=self.PLAN % size + f"echo '{message}'; exit 100")
        done = self.run_setup("run", path=path)
        self.assertEqual(done.returncode, 5)
        return done.stderr

    def test_each_kind_of_failure_is_named(self):
        self.assertIn("cannot be reached", self.refused("E: Could not resolve host.example"))
        self.assertIn("disk is full", self.refused("write error: No space left on device"))
        self.assertIn("is not offered", self.refused("E: Unable to locate package g++"))
        self.assertIn("another package manager", self.refused("E: Could not get lock /var/lib/dpkg/lock-frontend"))

    def test_too_little_disk_is_said_beforehand(self):
        said = self.refused("never reached", size="9,000 GB")
        self.assertIn("not enough disk", said)
        self.assertIn("9000394 MB are needed", said)  # download 94, on disk 9000000, build 300

    def test_success_that_installs_nothing_is_not_believed(self):
        path = self.with_programs(dpkg_query="true", id="echo 0", dpkg="true", apt_cache=self.POLICY,
                                  apt_get=self.PLAN % "364 MB" + "exit 0")
        self.assertIn("these are not installed", self.run_setup("run", path=path).stderr)


def main():
    result = unittest.TextTestRunner(stream=io.StringIO(), verbosity=0).run(
        unittest.defaultTestLoader.loadTestsFromModule(sys.modules[__name__]))
    for test, text in result.failures + result.errors:
        print(f"not ok: {test}\n{text}")
    failed = len({test.id() for test, _ in result.failures + result.errors})
    print(f"{result.testsRun - failed - len(result.skipped)} passed, {failed} failed, {len(result.skipped)} skipped")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
