#!/usr/bin/env python3
"""Holds every sentence of the sources against data/text/en.toml.

Looked for in core/, words/, formats/, desk/, store/ and faces/, comments left out:
  say("key", {{"argument", ...}, ...})   the key has a text, and the arguments cover its placeholders and no more
  Term{"key"}                            the key has a text without placeholders
Skipped, and counted, is what only a running program could tell: a key or an argument list that is put together or
handed in. Of a choice between keys, say(x ? "a" : "b"), each is held against the list.

Also: en.toml is TOML to a reader that is not ours, and each text of another language has en's keys and placeholders.

Prints "N passed, N failed, N skipped"; exit status 1 where anything failed. Before it judges the sources it judges
small ones of its own, so that it is known to be able to fail.
"""
import argparse
import pathlib
import re
import sys
import tomllib

FOLDERS = ("core", "words", "formats", "desk", "store", "faces")
SUFFIXES = {".cpp", ".hpp", ".h", ".inc"}
PLACEHOLDER = re.compile(r"\{([a-z0-9_]+)\}")
TOKEN = re.compile(
    r"""(?P<space>\s+)|(?P<comment>//[^\n]*|/\*.*?\*/)|R"(?P<fence>[^(\s]*)\((?P<raw>.*?)\)(?P=fence)"
      |"(?P<string>(?:[^"\\\n]|\\.)*)"|(?P<char>'(?:[^'\\\n]|\\.)+')|(?P<number>\.?\d(?:[eEpP][+-]|'\w|[\w.])*)
      |(?P<word>[A-Za-z_]\w*)|(?P<mark>.)""",
    re.VERBOSE | re.DOTALL)
OPENING, CLOSING = "({[", ")}]"


class Token:
    """A word, a string (its text without quotes) or a mark of C++, and where it starts."""

    def __init__(self, kind, text, line):
        self.kind, self.text, self.line = kind, text, line

    def is_mark(self, text):
        return self.kind == "mark" and self.text == text


def tokens_of(source):
    """The tokens of a C++ text; strings that stand side by side are joined, as the language does."""
    tokens, line = [], 1
    for match in TOKEN.finditer(source):
        start, line = line, line + match.group().count("\n")
        if match["space"] or match["comment"]:
            continue
        text = match["string"] if match["string"] is not None else match["raw"]
        if text is not None:
            if tokens and tokens[-1].kind == "string":
                tokens[-1].text += text
            else:
                tokens.append(Token("string", text, start))
        elif match["word"]:
            tokens.append(Token("word", match["word"], start))
        else:
            tokens.append(Token("mark", match.group(), start))
    return tokens


def group(tokens, opening):
    """The comma-separated parts of the bracket that opens at `opening`, and the place after it."""
    depth, parts, part = 0, [], []
    for at in range(opening, len(tokens)):
        token = tokens[at]
        if token.kind == "mark" and token.text in OPENING:
            depth += 1
            if depth == 1:
                continue
        elif token.kind == "mark" and token.text in CLOSING:
            depth -= 1
            if depth == 0:
                return parts + ([part] if part else []), at + 1
        elif token.is_mark(",") and depth == 1:
            parts.append(part)
            part = []
            continue
        part.append(token)
    return None, len(tokens)


def keys_in(part):
    """The keys that an expression may give; None where it is put together or handed in."""
    if any(t.is_mark("+") for t in part):
        return None
    if len(part) == 1 and part[0].kind == "string":
        return [part[0].text]
    question = next((i for i, t in enumerate(part) if t.is_mark("?")), None)
    if question is None:
        return None
    choices = part[question + 1:]
    if not all(t.kind == "string" or (t.kind == "mark" and t.text in "?:()") or t.kind == "word" for t in choices):
        return None
    found = [t.text for t in choices if t.kind == "string"]
    return found if len(found) >= 2 else None


def argument_names(parts):
    """The names in {{"name", value}, ...}; None where the list is handed in."""
    if not parts:
        return set()
    if len(parts) != 1 or not parts[0][0].is_mark("{"):
        return None
    arguments, end = group(parts[0], 0)
    if arguments is None or end != len(parts[0]):
        return None
    names = set()
    for argument in arguments:
        named = argument[1:] if argument[0].kind == "word" and argument[0].text == "Argument" else argument
        if len(named) < 3 or not named[0].is_mark("{") or named[1].kind != "string" or not named[2].is_mark(","):
            return None
        names.add(named[1].text)
    return names


class Check:
    """Counts, and tells what failed."""

    def __init__(self, texts):
        self.texts = texts
        self.passed, self.skipped, self.failures, self.used = 0, 0, [], set()

    def judge(self, where, problem):
        if problem:
            self.failures.append(f"{where}: {problem}")
        else:
            self.passed += 1

    def key_problem(self, key, names):
        self.used.add(key)
        if key not in self.texts:
            return f'"{key}" has no text'
        if names is None:
            return None
        wanted = set(PLACEHOLDER.findall(self.texts[key]))
        if wanted - names:
            return f'"{key}" needs {", ".join(sorted(wanted - names))}'
        if names - wanted:
            return f'"{key}" does not use {", ".join(sorted(names - wanted))}'
        return None

    def source(self, name, source):
        tokens = tokens_of(source)
        for at in range(len(tokens) - 1):
            word, following = tokens[at], tokens[at + 1]
            is_say = word.text == "say" and following.is_mark("(")
            is_term = word.text == "Term" and following.is_mark("{")
            if word.kind != "word" or not (is_say or is_term):
                continue
            where = f"{name}:{word.line}"
            parts, _ = group(tokens, at + 1)
            if parts is None:
                self.judge(where, "a bracket that does not close")
                continue
            if not parts or self.is_declaration(parts[0]):
                continue
            keys = keys_in(parts[0])
            if keys is None:
                self.skipped += 1
                continue
            names = argument_names(parts[1:]) if is_say else set()
            if names is None:
                self.skipped += 1
            for key in keys:
                self.judge(where, self.key_problem(key, names))

    @staticmethod
    def is_declaration(part):
        """`Sentence say(std::string key, ...)` and `struct Term { std::string key; }` call nothing."""
        return [t.text for t in part[:4]] == ["std", ":", ":", "string"] and len(part) > 4


def flat(table, prefix=""):
    """{"limit.surface_wind.found": "..."}"""
    texts = {}
    for name, value in table.items():
        if isinstance(value, dict):
            texts.update(flat(value, f"{prefix}{name}."))
        else:
            texts[prefix + name] = value
    return texts


def other_language(check, name, texts):
    """Holds the texts of another language against the check's own."""
    for key in sorted(check.texts.keys() | texts.keys()):
        if key not in texts:
            check.judge(name, f'"{key}" is missing')
        elif key not in check.texts:
            check.judge(name, f'"{key}" is not in en.toml')
        elif set(PLACEHOLDER.findall(texts[key])) != set(PLACEHOLDER.findall(check.texts[key])):
            check.judge(name, f'"{key}" has other placeholders')
        else:
            check.judge(name, None)


OWN_TEXTS = {"a.none": "none", "a.one": "one {x}", "a.two": "two {x} {y}"}
OWN_CASES = (  # source, passed, failed, skipped
    ('say("a.none")', 1, 0, 0),
    ('say("a.none", {})', 1, 0, 0),
    ('say("a.one", {{"x", f(1, {2, 3})}})', 1, 0, 0),
    ('say("a.two", {{"x", 1}, {"y", g("z")}})', 1, 0, 0),
    ('say("a.two", {Argument{"x", 1}, Argument{"y", 2}})', 1, 0, 0),
    ('say("a."\n "one", {{"x", say("a.none")}})', 2, 0, 0),
    ('say(b ? "a.one" : "a.two", {{"x", 1}, {"y", 1}})', 1, 1, 0),
    ('say(b(1, 2) == "q" ? "a.none" : "a.missing")', 1, 1, 0),
    ('say("a.missing")', 0, 1, 0),
    ('say("a.one")', 0, 1, 0),
    ('say("a.two", {{"x", 1}})', 0, 1, 0),
    ('say("a.none", {{"x", 1}})', 0, 1, 0),
    ('say("a.one", arguments)', 1, 0, 1),
    ('say("a.missing", arguments)', 0, 1, 1),
    ('say("a." + name)', 0, 0, 1),
    ("say(key)", 0, 0, 1),
    ('say("a.one", {{"x", 1}', 0, 1, 0),
    ('// say("a.missing")\n/* say("a.missing") */ f("say(\\"a.missing\\")"); \'"\'', 0, 0, 0),
    ('x = 1\'000; say("a.missing"); y = 2\'000;', 0, 1, 0),
    ('Term{"a.none"}', 1, 0, 0),
    ('Term{"a.one"}', 0, 1, 0),
    ('Term{"a.missing"}', 0, 1, 0),
    ("Term{t.key}", 0, 0, 1),
    ("struct Term {\n std::string key; };", 0, 0, 0),
    ("Sentence say(std::string key, std::vector<Argument> arguments = {});", 0, 0, 0),
)


def own_cases(check):
    for source, *wanted in OWN_CASES:
        small = Check(OWN_TEXTS)
        small.source("case", source)
        got = [small.passed, len(small.failures), small.skipped]
        check.judge("check_keys.py itself", None if got == wanted else f"{source!r} gave {got}, not {wanted}")
    small = Check(OWN_TEXTS)
    other_language(small, "xx", {"a.none": "x", "a.one": "{y}", "a.more": ""})
    check.judge("check_keys.py itself", None if (small.passed, len(small.failures)) == (1, 3) else "an incomplete text")


def main():
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--root", type=pathlib.Path, default=pathlib.Path(__file__).resolve().parent.parent)
    parser.add_argument("--unused", action="store_true", help="also list texts whose key no source names whole")
    options = parser.parse_args()
    folder = options.root / "data" / "text"
    try:
        texts = flat(tomllib.loads((folder / "en.toml").read_text(encoding="utf-8")))
    except (OSError, ValueError) as problem:
        print(f"{folder / 'en.toml'}: {problem}\n0 passed, 1 failed, 0 skipped")
        return 1
    check = Check(texts)
    own_cases(check)
    for key, text in texts.items():
        check.judge(f'en.toml "{key}"', None if isinstance(text, str) and text else "is not a text")
    for path in sorted(folder.glob("*.toml")):
        if path.name != "en.toml":
            other_language(check, path.name, flat(tomllib.loads(path.read_text(encoding="utf-8"))))
    named = set()
    for top in FOLDERS:
        for path in sorted((options.root / top).rglob("*")):
            if path.suffix in SUFFIXES and path.is_file():
                source = path.read_text(encoding="utf-8")
                check.source(str(path.relative_to(options.root)), source)
                named.update(t.text for t in tokens_of(source) if t.kind == "string")
    for failure in check.failures:
        print(failure)
    if options.unused:
        for key in sorted(texts.keys() - named):
            print(f'en.toml: "{key}" is named whole in no source')
    print(f"{check.passed} passed, {len(check.failures)} failed, {check.skipped} skipped")
    return 1 if check.failures else 0


if __name__ == "__main__":
    sys.exit(main())
