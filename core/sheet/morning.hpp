/// Everything a flight sheet is made from, gathered and dated. Values only: where they were read is another's business.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/balloon/balloon.hpp"
#include "core/base/describe.hpp"
#include "core/base/instant.hpp"
#include "core/base/position.hpp"
#include "core/base/quantity.hpp"
#include "core/book/cylinder_events.hpp"
#include "core/book/flight_records.hpp"
#include "core/people/aboard.hpp"
#include "core/propane/account.hpp"
#include "core/rules/rules.hpp"
#include "core/sheet/sections/evening.hpp"
#include "core/wind/forecast.hpp"
#include "core/wind/observation.hpp"
#include "core/wind/pibal.hpp"

namespace pappus::sheet {

using RuleSet = rules::Which;
using Airspace = rules::Airspace;

struct Field {
  std::string name;
  Position at;
  AltitudeAmsl elevation;
  std::optional<Pressure> qnh;
  std::optional<Airspace> airspace;
  std::optional<rules::Ground> ground;            // what lies below the flight
  std::optional<HeightAgl> local_minimum_height;  // a local rule's, which goes before the general one
  bool over_water = false;
};

/// What is thought to be in a cylinder, and what was read of it. A figure of `liquid` alone is a thought; the others
/// are evidence, to be accounted for (core/propane/account.hpp).
struct FuelSeen {
  std::string cylinder;
  std::optional<Volume> liquid;
  std::optional<Temperature> temperature;
  std::optional<Moment> seen;
  std::optional<propane::Filled> filled = std::nullopt;  // until the level valve spat
  std::optional<propane::Valve> valve = std::nullopt;
  std::optional<propane::Dial> dial = std::nullopt;
  std::optional<Mass> weighed = std::nullopt;  // cylinder and all
  std::optional<GaugePressure> gauge_pressure = std::nullopt;
  bool charged = false;   // with a pressurant: pressure then tells no temperature
  bool outdoors = false;  // it stood in the open: its liquid is about as warm as the air
};

/// What the book remembers of a cylinder.
struct CylinderRemembered {
  std::string cylinder;
  book::CylinderMemory memory;
};

/// What the pilot saw with own eyes.
struct Look {
  std::string what;              // "visibility"
  std::optional<Measure> value;  // where it is a quantity
  std::string words;             // as written
  Moment time;
};

/// A pilot balloon followed with one instrument.
struct PibalSeen {
  wind::Source source;  // its time is that of the release
  wind::pibal::Ascent ascent;
};

/// A spot where one may land.
struct Place {
  std::string name;
  Position at;
  Length radius = 100.0 * metre;  // nearer than this is there
};

/// What is known of the landing beforehand.
struct LandingPlan {
  std::optional<Length> obstacle;  // to come in over
  std::optional<Length> room;      // of the field in mind, along the wind
};

/// The pilot's answers about themselves. Asked, and kept only where the pilot writes them down.
struct Fitness {
  bool fit = false;
  Moment time;
};

/// The pilot's own minima: as strict as they like, never a law.
struct OwnMinimum {
  std::optional<Speed> surface_wind = std::nullopt;
  std::optional<Duration> reserve = std::nullopt;
  std::optional<Length> visibility = std::nullopt;
  std::optional<TemperatureDelta> spread = std::nullopt;
  std::optional<Length> cloud_base = std::nullopt;  // above the field
};
/// `own` with what it leaves open taken from `usual`.
[[nodiscard]] inline OwnMinimum filled_from(OwnMinimum own, const OwnMinimum& usual) {
  const auto fill = [](auto& mine, const auto& theirs) {
    if (!mine) mine = theirs;
  };
  fill(own.surface_wind, usual.surface_wind);
  fill(own.reserve, usual.reserve);
  fill(own.visibility, usual.visibility);
  fill(own.spread, usual.spread);
  fill(own.cloud_base, usual.cloud_base);
  return own;
}

/// A limit that the pilot in command accepts although it is outside. It holds only where it may be accepted at all.
struct AcceptedLimit {
  std::string limit;   // one of limit_names()
  std::string reason;  // kept and shown
  Moment time;
};

struct Flight {
  std::optional<Moment> as_of;
  Moment time;  // of the planned lift-off
  Duration planned;
  std::optional<RuleSet> rules;
  Field field;
  std::vector<FuelSeen> fuel;
  std::optional<HeightAgl> highest;  // above the field
  std::vector<people::Person> aboard;
  std::vector<wind::Ladder> ladders;
  std::vector<wind::SurfaceReport> reports;
  std::vector<wind::Forecast> forecasts;  // for aerodromes
  std::vector<PibalSeen> pibals;
  std::vector<Look> looks;
  bool hot = false;  // the envelope is hot from the flight before: no inflation
  std::vector<Place> places;
  LandingPlan landing;
  std::optional<Fitness> fitness;
  std::vector<Tripwire> tripwires;  // the pilot's own
  people::Pilot pilot;
  OwnMinimum minimum;
  std::vector<AcceptedLimit> accepted;
};

/// The input of `sheet()`.
struct Morning {
  balloon::Balloon balloon;
  Flight flight;
  Moment as_of;  // the present, as far as the sheet knows
  std::optional<Evening> evening;
  std::optional<std::string> book;              // the one that was looked into; none: nothing is remembered
  std::optional<book::LearnedFigures> learned;  // of the balloon's own flights
  std::vector<CylinderRemembered> remembered;   // of the balloon's cylinders
};

}  // namespace pappus::sheet
