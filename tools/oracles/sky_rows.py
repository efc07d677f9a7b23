#!/usr/bin/env python3
"""Writes tests/data/sun_elsewhere.csv (the sun by PyEphem) and tests/data/variation_rows.csv (rows that ship with the
magnetic coefficients).

Usage: sky_rows.py GEOMAGNETISM_VALUES_CSV       (package/test/values.csv of npm geomagnetism 0.2.0)
Needs Debian python3-ephem 4.1.4, whose sun follows VSOP87 and not the tables of our algorithm.
"""
import datetime
import math
import pathlib
import random
import sys

import ephem

ROOT = pathlib.Path(__file__).resolve().parents[2]
PARALLAX = 8.794 / 3600  # degrees, of the sun on the horizon
SUNRISE, TWILIGHT = -(0.26667 + 0.5667), -6.0
DAY = 24 * 3600.0


def observer(lat, lon):
    o = ephem.Observer()
    o.lat, o.lon, o.elevation = str(lat), str(lon), 0
    o.pressure = 0  # no refraction: it stands in the heights asked for
    return o


def altitude(o, t):
    o.date = t
    return math.degrees(ephem.Sun(o).alt)


def crossing(o, height, t_from, t_to):
    """When the sun's centre, as from the Earth's centre, passes `height` (degrees); None where it does not."""
    # An observer on the surface sees the sun lower by the parallax.
    seen = height - PARALLAX * math.cos(math.radians(height))
    low, high = altitude(o, t_from) - seen, altitude(o, t_to) - seen
    if (low < 0) == (high < 0):
        return None
    for _ in range(40):
        middle = ephem.Date((t_from + t_to) / 2)
        if (altitude(o, middle) - seen < 0) == (low < 0):
            t_from = middle
        else:
            t_to = middle
    return t_to


def extreme(o, t_middle, sign):
    """The time of the highest (sign 1) or lowest (-1) sun within 3 h of t_middle, by golden section."""
    a, b = t_middle - 3 / 24, t_middle + 3 / 24
    g = (math.sqrt(5) - 1) / 2
    for _ in range(40):
        c, d = b - g * (b - a), a + g * (b - a)
        if sign * altitude(o, c) > sign * altitude(o, d):
            b = d
        else:
            a = c
    return (a + b) / 2


def text(date):
    """UTC to the millisecond."""
    if date is None:
        return ""
    t = datetime.datetime(1899, 12, 31, 12) + datetime.timedelta(days=float(date))
    t += datetime.timedelta(microseconds=500)
    return t.strftime("%Y-%m-%dT%H:%M:%S.") + f"{t.microsecond // 1000:03d}Z"


def sun_rows():
    source = f"PyEphem {ephem.__version__} (Debian python3-ephem): VSOP87"
    places = []
    r = random.Random(20270516)
    while len(places) < 100:
        # Evenly over the sphere, then a fifth beyond the polar circles.
        lat = math.degrees(math.asin(r.uniform(-1, 1))) if len(places) < 80 else r.choice((-1, 1)) * r.uniform(66, 88)
        lat, lon = round(lat, 4), round(r.uniform(-180, 180), 4)
        date = datetime.date(1990, 1, 1) + datetime.timedelta(days=r.randrange(60 * 365))
        places.append((lat, lon, date, round(lon / 15) * 60))
    for lat, lon, date, offset in places:
        o = observer(lat, lon)
        noon = ephem.Date(datetime.datetime(date.year, date.month, date.day, 12)) - offset / 1440
        o.date = noon - 3 / 24
        transit = o.next_transit(ephem.Sun())
        before, after = extreme(o, transit - 0.5, -1), extreme(o, transit + 0.5, -1)
        top = extreme(o, transit, 1)
        sunrise, sunset = crossing(o, SUNRISE, before, top), crossing(o, SUNRISE, top, after)
        dawn, dusk = crossing(o, TWILIGHT, before, top), crossing(o, TWILIGHT, top, after)
        highest = altitude(o, top)
        polar = "rises" if sunrise or sunset else ("up" if highest > SUNRISE else "down")
        # A shallow crossing turns 0.0003 degrees, by which the two theories may differ, into more seconds.
        events = [t for t in (dawn, sunrise, sunset, dusk) if t]
        slopes = [abs(altitude(o, t + 60 / DAY) - altitude(o, t - 60 / DAY)) / 120 for t in events]
        tolerance = 0.1 + 0.0003 / min(slopes, default=1.0)
        at = ephem.Date(noon + r.uniform(-0.5, 0.5))
        o.date = ephem.Date(round(at * 86400) / 86400)  # a whole second
        sun = ephem.Sun(o)
        yield (lat, lon, date.isoformat(), offset, f"{ephem.delta_t(noon):.1f}",
               text(dawn), text(sunrise), text(transit), text(sunset), text(dusk), f"{tolerance:.2f}", polar,
               text(o.date), f"{math.degrees(sun.az):.5f}", f"{math.degrees(sun.alt):.5f}",
               0.0003, source)


def write_sun():
    lines = [
        "# The sun at 100 random places and days, by tools/oracles/sky_rows.py with PyEphem: pressure 0, horizon set so",
        "# that the centre stands at -0.83337 (sunrise, sunset) and -6 degrees (civil twilight) as seen from the Earth's",
        "# centre. polar: the sun stays up or down all day. at, azimuth, elevation: a moment of that day, no refraction,",
        "# from sea level. delta_t_s: terrestrial time less UT as PyEphem takes it. Tolerance: 0.0003 degrees, which the",
        "# algorithm claims; for events 0.1 s more than that at the sun's vertical speed.",
        "lat_deg,lon_deg,date,offset_min,delta_t_s,civil_dawn,sunrise,transit,sunset,civil_dusk,tolerance_s,polar,at,"
        "azimuth_deg,elevation_deg,tolerance_deg,source",
    ]
    lines += [",".join(str(v) for v in row) for row in sun_rows()]
    (ROOT / "tests/data/sun_elsewhere.csv").write_text("\n".join(lines) + "\n")


def write_variation(path):
    rows = [line.split(",") for line in path.read_text().split() if line[:4] in ("2025", "2026", "2027", "2028", "2029")]
    if len(rows) != 100:
        sys.exit(f"{len(rows)} rows of 2025 to 2029 instead of 100")
    lines = [
        "# The rows of WMM2025 in npm geomagnetism 0.2.0, test/values.csv, taken over by tools/oracles/sky_rows.py.",
        "year,height_km,lat_deg,lon_deg,x_nt,y_nt,z_nt,d_deg,tolerance_nt,tolerance_deg,source",
    ]
    for date, alt, lat, lon, x, y, z, _h, _f, _incl, decl, *_ in rows:
        lines.append(f"{float(date)},{alt},{lat},{lon},{x},{y},{z},{decl},0.001,0.00501,"
                     "npm geomagnetism 0.2.0 test/values.csv")
    (ROOT / "tests/data/variation_rows.csv").write_text("\n".join(lines) + "\n")


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    write_sun()
    write_variation(pathlib.Path(sys.argv[1]))
