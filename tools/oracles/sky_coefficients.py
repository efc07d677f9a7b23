#!/usr/bin/env python3
"""Writes data/sun/spa_terms.csv and data/wmm/wmm2025.csv from the packages that carry the numbers.

Every number is taken from two packages that were typed in independently of each other; a difference stops the script.
Only numbers are read: no line of the packages' programs is used.

Usage: sky_coefficients.py FLUIDS_SPA_PY NREL_SPA_JS GEOMAGNETISM_JSON MAGVAR_JS
  FLUIDS_SPA_PY      fluids/optional/spa.py             of Debian python3-fluids 1.0.22
  NREL_SPA_JS        package/lib/spa.js                 of npm nrel-spa 2.0.2
  GEOMAGNETISM_JSON  package/data/wmm-2025.json         of npm geomagnetism 0.2.0
  MAGVAR_JS          package/src/WMMCOF2025.js          of npm magvar 2.2.0
(`apt-get download python3-fluids` and `dpkg-deb -x`; `npm pack nrel-spa@2.0.2` and so on.)
"""
import ast
import json
import math
import pathlib
import re
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]


def arrays(text, opening):
    """The nested lists assigned in `text` to the names that `opening` matches."""
    found = {}
    for match in re.finditer(opening, text, re.M):
        start = text.index("[", match.end() - 1)
        depth, at = 0, start
        while True:
            depth += {"[": 1, "]": -1}.get(text[at], 0)
            at += 1
            if depth == 0:
                break
        found[match.group(1)] = ast.literal_eval(re.sub(r"//[^\n]*", "", text[start:at]))
    return found


def as_floats(rows):
    return [[float(v) for v in row] for row in rows]


def plain(value):
    text = repr(float(value))
    if "e" in text:
        sys.exit(f"{value} would need an exponent")
    return text[:-2] if text.endswith(".0") else text


def write_sun(fluids_path, nrel_path):
    a = arrays(fluids_path.read_text(), r"^([A-Z_0-9]+) *= *\[")
    b = arrays(nrel_path.read_text(), r"^var ([A-Z_]+) *= *\[")
    series = {}
    for letter, name, other in (("L", "HELIO_LONG", "L_TERMS"), ("B", "HELIO_LAT", "B_TERMS"),
                                ("R", "HELIO_RADIUS", "R_TERMS")):
        for power, rows in enumerate(b[other]):
            if (letter, power) == ("L", 5):  # one constant term, which python3-fluids keeps as its value
                text = fluids_path.read_text()
                if rows != [[1, 3.14, 0]] or float(re.search(r"^ +l5 = (-0.99\d+)$", text, re.M)[1]) != math.cos(3.14):
                    sys.exit("L5 differs between the two packages")
                series[letter, power] = as_floats(rows)
                continue
            first = as_floats(a[f"{name}_TABLE_LIST_{power}"])
            if first != as_floats(rows):
                sys.exit(f"{letter}{power} differs between the two packages")
            series[letter, power] = first
    multipliers = [list(column) for column in zip(*(a[f"NUTATION_YTERM_LIST_{i}"] for i in range(5)))]
    amplitudes = as_floats(a["NUTATION_ABCD_LIST"])
    if as_floats(multipliers) != as_floats(b["Y_TERMS"]) or amplitudes != as_floats(b["PE_TERMS"]):
        sys.exit("the nutation terms differ between the two packages")
    counts = [len(series["L", i]) for i in range(6)] + [len(series["B", i]) for i in range(2)]
    counts += [len(series["R", i]) for i in range(5)] + [len(amplitudes)]
    if counts != [64, 34, 20, 7, 3, 1, 5, 2, 40, 10, 6, 2, 1, 63]:
        sys.exit(f"unexpected number of terms: {counts}")

    lines = [
        "# Periodic terms of the solar position algorithm: I. Reda, A. Andreas, NREL/TP-560-34302 (2008).",
        "# L, B, R: table A4.2, the Earth's heliocentric longitude, latitude (1e-8 rad) and radius vector (1e-8 AU);",
        "#   one row adds a * cos(b + c * JME), and all rows of one power are multiplied by JME^power.",
        "# N: table A4.3, nutation (0.0001 arc seconds); y0..y4 multiply X0..X4, a + b * JCE goes with the sine",
        "#   (longitude), c + d * JCE with the cosine (obliquity).",
        "# Obtained by tools/oracles/sky_coefficients.py from the tables in Debian python3-fluids 1.0.22 and in npm",
        "# nrel-spa 2.0.2, which agree in every number.",
        "series,power,y0,y1,y2,y3,y4,a,b,c,d",
    ]
    for (letter, power), rows in series.items():
        lines += [f"{letter},{power},,,,,,{plain(x)},{plain(y)},{plain(z)}," for x, y, z in rows]
    for ys, abcd in zip(multipliers, amplitudes):
        lines.append("N,0," + ",".join(plain(v) for v in ys + abcd))
    (ROOT / "data/sun/spa_terms.csv").write_text("\n".join(lines) + "\n")


def write_wmm(json_path, magvar_path):
    model = json.loads(json_path.read_text())
    other = arrays(magvar_path.read_text(), r"const (\w+) *= *\[")
    names = {"g": ("main_field_coeff_g", "gnmWmm"), "h": ("main_field_coeff_h", "hnmWmm"),
             "gt": ("secular_var_coeff_g", "gtnmWmm"), "ht": ("secular_var_coeff_h", "htnmWmm")}
    lines = [
        "# World Magnetic Model 2025, epoch 2025.0: Schmidt semi-normalised Gauss coefficients (nT) and their change a",
        "# year (nT/year), degree and order up to 12. The model is by NOAA NCEI and the British Geological Survey and in",
        "# the public domain. Obtained by tools/oracles/sky_coefficients.py from npm geomagnetism 0.2.0 (Apache-2.0),",
        "# data/wmm-2025.json; the 360 coefficients in npm magvar 2.2.0 (MIT) are equal, every one.",
        "n,m,g,h,g_per_year,h_per_year",
    ]
    compared = 0
    for n in range(1, 13):
        for m in range(n + 1):
            row = []
            for ours, theirs in names.values():
                value = model[ours][n * (n + 1) // 2 + m]
                if float(value) != float(other[theirs][n][m]):
                    sys.exit(f"{ours} {n},{m} differs between the two packages")
                compared += 1
                row.append(plain(value))
            lines.append(f"{n},{m}," + ",".join(row))
    if compared != 360:
        sys.exit(f"{compared} coefficients compared instead of 360")
    (ROOT / "data/wmm/wmm2025.csv").write_text("\n".join(lines) + "\n")


if __name__ == "__main__":
    if len(sys.argv) != 5:
        sys.exit(__doc__)
    fluids, nrel, geomagnetism, magvar = (pathlib.Path(p) for p in sys.argv[1:])
    write_sun(fluids, nrel)
    write_wmm(geomagnetism, magvar)
