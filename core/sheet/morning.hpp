/// Everything a flight sheet is made from, gathered and dated. Values only: where they were read is another's business.
#pragma once
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/balloon/balloon.hpp"
#include "core/base/describe.hpp"
#include "core/base/instant.hpp"
#include "core/base/position.hpp"
#include "core/base/quantity.hpp"
#include "core/people/aboard.hpp"
#include "core/wind/observation.hpp"

namespace pappus::sheet {

enum class RuleSet { us, eu };
enum class Airspace { a, b, c, d, e, f, g };

struct Field {
  std::string name;
  Position at;
  AltitudeAmsl elevation;
  std::optional<Pressure> qnh;
  std::optional<Airspace> airspace;
};

/// What is thought to be in a cylinder.
struct FuelSeen {
  std::string cylinder;
  std::optional<Volume> liquid;
  std::optional<Temperature> temperature;
  std::optional<Moment> seen;
};

/// What the pilot saw with own eyes.
struct Look {
  std::string what;              // "visibility"
  std::optional<Measure> value;  // where it is a quantity
  std::string words;             // as written
  Moment time;
};

/// The pilot's own minima: as strict as they like, never a law.
struct OwnMinimum {
  std::optional<Speed> surface_wind;
  std::optional<Duration> reserve;
};

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
  std::vector<Look> looks;
  people::Pilot pilot;
  OwnMinimum minimum;
  std::vector<AcceptedLimit> accepted;
};

/// The input of `sheet()`.
struct Morning {
  balloon::Balloon balloon;
  Flight flight;
  Moment as_of;  // the present, as far as the sheet knows
};

}  // namespace pappus::sheet

namespace pappus {
template <>
struct Names<sheet::RuleSet> {
  static constexpr std::array<std::pair<sheet::RuleSet, std::string_view>, 2> all{
      {{sheet::RuleSet::us, "us"}, {sheet::RuleSet::eu, "eu"}}};
};
template <>
struct Names<sheet::Airspace> {
  static constexpr std::array<std::pair<sheet::Airspace, std::string_view>, 7> all{{{sheet::Airspace::a, "A"},
                                                                                    {sheet::Airspace::b, "B"},
                                                                                    {sheet::Airspace::c, "C"},
                                                                                    {sheet::Airspace::d, "D"},
                                                                                    {sheet::Airspace::e, "E"},
                                                                                    {sheet::Airspace::f, "F"},
                                                                                    {sheet::Airspace::g, "G"}}};
};
}  // namespace pappus
