#include "tests/faces/paper/full_sheet.hpp"

#include "core/base/math.hpp"
#include "tests/support/morning.hpp"

namespace pappus::testing {
namespace {

using namespace sheet;

Sentence words(std::string text) { return say("load.kit", {{"what", std::move(text)}}); }

WindLine level(double height_m, double from_deg, double speed_kt, double spread_kt, std::string source, Moment seen) {
  WindLine line;
  line.height = agl(height_m * metre);
  line.altitude = amsl((1500.0 + height_m) * metre);
  if (speed_kt > 0.0) line.from = TrueBearing::at(from_deg * degree);
  line.speed = speed_kt * knot;
  line.spread = spread_kt * knot;
  line.temperature = celsius(3.0 + height_m / 60.0);
  line.sources = {{wind::SourceKind::pibal, std::move(source), seen.at}};
  return line;
}

WindSection winds(const std::string& name) {
  WindSection w;
  w.levels = {
      level(0, 95, 2.4, 1.2, name, at_clock(4, 40)),          level(60, 150, 5.1, 1.2, name, at_clock(4, 40)),
      level(150, 215, 9.3, 1.4, name, at_clock(4, 40)),       level(300, 242, 14.2, 1.6, name, at_clock(4, 40)),
      level(560, 251, 17.0, 4.1, "forecast", at_clock(3, 0)), level(700, 262, 18.4, 4.1, "forecast", at_clock(3, 0)),
      level(5000, 290, 55.0, 6.0, "forecast", at_clock(3, 0))};
  w.gaps = {{amsl(1800.0 * metre), amsl(2060.0 * metre)}};
  w.steerage = SteerageLine{TrueBearing::at(275.0 * degree), TrueBearing::at(82.0 * degree), agl(0.0 * metre),
                            agl(700.0 * metre), 167.0 * degree};
  return w;
}

LiftSection lift() {
  LiftSection l;
  l.carried = 902.0 * kilogram;
  l.worst_height = agl(300.0 * metre);
  l.worst_altitude = amsl(1800.0 * metre);
  l.ambient_there = celsius(11.0);
  l.mean_temperature_needed = celsius(93.0);
  l.crown_temperature_expected = celsius(113.0);
  l.crown_temperature_limit = celsius(121.0);
  l.crown_excess = 20.0 * kelvin;
  l.temperature_aloft_assumed = true;
  for (int i = 0; i <= 14; ++i) {
    const double h = 50.0 * i;
    const double air = h <= 300.0 ? 3.0 + h * 8.0 / 300.0 : 11.0 - (h - 300.0) * 0.0065;
    const double gross = h <= 300.0 ? 1010.0 - h * 54.0 / 300.0 : 956.0 + (h - 300.0) * 0.02;
    l.curve.push_back({agl(h * metre), celsius(air), celsius(105.0 + (1010.0 - gross) * 8.0 / 54.0), gross * kilogram});
  }
  l.gross_lift = 956.0 * kilogram;
  l.margin = 54.0 * kilogram;
  l.notes = {words("Mean and crown are told apart by an assumed excess.")};
  return l;
}

FuelSection fuel(const std::string& name) {
  FuelSection f;
  f.flow = 72.0 * kilogram_per_hour;
  f.flow_unlucky = 90.0 * kilogram_per_hour;
  f.inflation = 14.0 * kilogram;
  f.climbs = 6.0 * kilogram;
  f.level = 48.0 * kilogram;
  f.allowance = 5.0 * kilogram;
  f.used = 73.0 * kilogram;
  f.used_unlucky = 88.0 * kilogram;
  f.climb_count = 3;
  f.allowance_fraction = 0.1;
  f.uncertainty_fraction = 0.25;
  f.reserve = 34.0 * minute;
  f.missing = 1.5 * kilogram;
  f.sides = {{"A", 62.0 * kilogram, 51.0 * kilogram, 11.0 * kilogram, 34.0 * minute},
             {"B", 31.0 * kilogram, 22.0 * kilogram, 9.0 * kilogram, 31.0 * minute}};
  CylinderLine full{"1",
                    "A",
                    15.0 * us_gallon,
                    celsius(4.0),
                    GaugePressure::at(63.0 * pound_per_square_inch),
                    29.0 * kilogram,
                    28.0 * kilogram,
                    20.0 * kilogram,
                    8.0 * kilogram,
                    12.0 * minute};
  CylinderLine unknown{name,   "B",    std::nullopt, std::nullopt, std::nullopt,
                       Mass{}, Mass{}, Mass{},       Mass{},       std::nullopt};
  f.by_cylinder = {full, unknown};
  return f;
}

ReachSection reach(const std::string& name) {
  ReachSection r;
  r.flight_time = 40.0 * minute;
  r.highest = agl(300.0 * metre);
  r.limit = steer::CeilingLimit::limited_by_gap;
  for (int i = 1; i <= 10; ++i) {
    CeilingLine c;
    c.ceiling = agl(30.0 * i * metre);
    c.least_time = 40.0 * i * second;
    const double k = i / 10.0;
    for (const auto& [east, north] : {std::pair{0.0, 0.0},
                                      {4200.0 * k, -900.0 * k},
                                      {15600.0 * k * k, 8300.0 * k * k},
                                      {5200.0 * k, 9900.0 * k * k},
                                      {-2800.0, 500.0}})
      c.outline.push_back({east * metre, north * metre});
    r.ceilings.push_back(c);
  }
  r.far = {{TrueBearing::at(62.0 * degree), 17670.0 * metre, agl(300.0 * metre), 36.0 * minute, 40.0 * minute},
           {TrueBearing::at(28.0 * degree), 11180.0 * metre, agl(300.0 * metre), 33.0 * minute, 40.0 * minute},
           {TrueBearing::at(280.0 * degree), 2840.0 * metre, agl(30.0 * metre), 30.0 * minute, 40.0 * minute}};
  r.places = {{name,
               TrueBearing::at(50.0 * degree),
               8200.0 * metre,
               steer::Reachable::yes,
               24.0 * minute,
               38.0 * minute,
               Length{},
               {{agl(150.0 * metre), 12.0 * minute}, {agl(300.0 * metre), 9.0 * minute}},
               31.0 * minute,
               words("Reachable by two holds.")},
              {"Quarry",
               TrueBearing::at(170.0 * degree),
               5000.0 * metre,
               steer::Reachable::no,
               std::nullopt,
               std::nullopt,
               4300.0 * metre,
               {},
               std::nullopt,
               words("Not reachable in these winds.")},
              {"Far hill",
               TrueBearing::at(255.0 * degree),
               60000.0 * metre,
               steer::Reachable::not_known,
               std::nullopt,
               std::nullopt,
               50000.0 * metre,
               {},
               std::nullopt,
               words("Not known: higher winds might lead there.")}};
  r.notes = {words("Flat ground is taken.")};
  return r;
}

LandingSection landing(const std::string& name) {
  LandingSection l;
  l.surface_wind = WindRangeLine{3.0 * knot, 5.0 * knot, 9.0 * knot};
  l.surface_wind_reason = words("The sun is an hour up at landing: the wind above begins to reach the ground.");
  l.land_by = at_clock(6, 40);
  l.decide_by = at_clock(6, 12);
  l.bounds = {{words("thermals"), at_clock(6, 40)}, {words("fuel on the unlucky side"), at_clock(6, 55)}};
  l.time_finding = words("Be down by 06:40: thermals come first.");
  l.fuel_to_land_with = 9.0 * kilogram;
  l.fuel_finding = words("Enough for three approaches.");
  l.run = RunLine{9.0 * knot,   60.0 * metre, 110.0 * metre, 14.0 * metre,
                  12.0 * metre, 55.0 * metre, 86.0 * metre,  179.0 * metre};
  l.run_finding = words("Look for a field of this length along the wind.");
  l.room = 300.0 * metre;
  l.room_finding = words("The field in mind is long enough.");
  l.drift = TrueBearing::at(62.0 * degree);
  l.sun_azimuth = TrueBearing::at(70.0 * degree);
  l.sun_elevation = 8.5 * degree;
  l.low_sun = words("You drift into the sun: wires ahead are hard to see.");
  l.leads = name;
  l.standing = {words("Pilot at the burner, back to the drift."), words("Passengers behind, facing away, knees bent.")};
  l.sink = SinkLine{12.0 * knot,     0.6 * metre_per_second, 1.1 * metre_per_second, 1.9 * metre_per_second,
                    18.0 * kilogram, 25.0 * second};
  l.sink_finding = words("Expect to sink when the false lift goes.");
  l.notes = {words("Drag is an advisory bound.")};
  return l;
}

void fill_evening(FlightSheet& s, const std::string& name) {
  s.evening = Moment{at_clock(4, 50).at - 9.5 * hour, at_clock(4, 50).offset};
  s.changes = {{"surface_wind", words("Surface wind 2.4 kt in the evening, 6.1 kt now."), measure::wind(2.4 * knot),
                measure::wind(6.1 * knot), true},
               {"load", words(name + " stays on the ground."), std::nullopt, std::nullopt, false}};
  Tripwire broken;
  broken.at_most = measure::wind(6.0 * knot);
  broken.evening = measure::wind(2.4 * knot);
  broken.now = measure::wind(6.1 * knot);
  broken.state = TripwireState::broken;
  broken.condition = words("Surface wind at most 6.0 kt.");
  broken.finding = words("It blows 6.1 kt.");
  Tripwire holds = broken;
  holds.what = Watched::dew_point_spread;
  holds.evening = measure::of(4.0 * kelvin);
  holds.now = measure::of(3.1 * kelvin);
  holds.state = TripwireState::holds;
  holds.condition = words("Spread at least 2.0 K.");
  holds.finding = {};
  Tripwire unknown = holds;
  unknown.evening.reset();
  unknown.now.reset();
  unknown.state = TripwireState::not_known;
  unknown.condition = words("300 m wind from 200° to 250°.");
  s.tripwires = {broken, holds, unknown};
  s.message = {words("Tomorrow 05:10 from " + name + ": it stands if the wind stays under 6 kt."),
               words("You hear again at 04:50.")};
}

book::Due due(std::string what, book::DueState state, std::optional<Date> until, bool sure) {
  book::Due d;
  d.what = std::move(what);
  d.state = state;
  d.until = until;
  d.paragraph = "14 CFR 61.56";
  d.sure = sure;
  d.finding = words("Found in the flight file.");
  d.remedy = words("Have it renewed.");
  return d;
}

}  // namespace

FlightSheet full_sheet(const std::string& name) {
  FlightSheet s = sheet::sheet(good_morning());
  s.balloon = "Lantern " + name;
  s.field = name;
  // One limit of each state, whatever the good morning gives.
  for (Limit& limit : s.limits) {
    if (limit.name == "surface_wind") {
      limit.state = LimitState::outside;
      limit.remedy = words("Watch it for ten minutes; wait or look for shelter behind " + name + ".");
      limit.accepted = Acceptance{"valley is sheltered, says " + name, at_clock(4, 45)};
      limit.source.name = name;
    }
    if (limit.name == "crown_temperature") limit.state = LimitState::near;
    if (limit.name == "gross_mass") limit.state = LimitState::outside;
    if (limit.name == "gust_spread") {
      limit.state = LimitState::not_known;
      limit.value.reset();
    }
  }
  s.standing = standing_of(s.limits);
  s.lift = lift();
  s.fuel = fuel(name);
  s.winds = winds(name);
  s.reach = reach(name);
  s.landing = landing(name);
  fill_evening(s, name);
  RemedyLine leave;
  leave.kind = balloon::RemedyKind::leave_cylinder;
  leave.cylinder = "2";
  leave.who = {name, "crew"};
  leave.words = {words("Leave cylinder 2 behind: 49 kg."), words("It costs one of two independent sides.")};
  s.remedies = RemediesSection{};
  s.remedies->finding = words("One change brings it inside.");
  s.remedies->found = {leave};
  s.remedies->none = {words("Cooler air alone does not do it: 3 K short.")};
  s.remedies->limits = {"gross_mass"};
  s.remedies->notes = {words("Storms were not judged.")};
  s.sources = {{wind::SourceKind::pibal,
                words("typed ladder"),
                name,
                at_clock(4, 40),
                10.0 * minute,
                false,
                {words("winds up to 300 m")},
                {words("the forecast below 300 m")}},
               {wind::SourceKind::forecast,
                words("winds aloft forecast"),
                "forecast",
                at_clock(6, 0),
                -70.0 * minute,
                false,
                {},
                {}}};
  PibalSection pibal;
  pibal.name = name;
  pibal.time = at_clock(4, 40);
  pibal.rise_rate = 1.9 * metre_per_second;
  pibal.layers = {{agl(0.0 * metre), agl(110.0 * metre), TrueBearing::at(140.0 * degree), 5.0 * knot, 1.1 * knot},
                  {agl(110.0 * metre), agl(220.0 * metre), std::nullopt, Speed{}, 1.1 * knot}};
  pibal.flags = {words("One call came late.")};
  s.pibals = {pibal};
  s.dates = {due("flight_review", book::DueState::passed, Date::of(2027, 4, 30), true),
             due("annual", book::DueState::soon, Date::of(2027, 5, 31), false),
             due("medical", book::DueState::not_known, std::nullopt, true)};
  return s;
}

FlightSheet empty_sheet() {
  FlightSheet s;
  s.as_of = at_clock(4, 50);
  s.time = at_clock(5, 10);
  s.standing_line = words("Nothing is known.");
  return s;
}

}  // namespace pappus::testing
