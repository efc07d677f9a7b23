/// The numbers of rules that a flight sheet holds a flight against, one set for each law: data/rules/*.toml as values.
///
/// Each rule names its paragraph and says whether its figures are sure. Those that are not (seen at second hand, or from
/// memory) are shown as 'check locally'. A rule that a set does not have is absent, never a figure of another law: there
/// is no fuel reserve in minutes for a balloon in the United States, and none is made up here.
///
/// The structs hold what a paragraph says; the functions below them read it for one flight. Dates and recency are
/// core/book's; the descriptions of the structs stand in core/rules/rules_described.hpp.
#pragma once
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/base/angle.hpp"
#include "core/base/describe.hpp"
#include "core/base/instant.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus::rules {

enum class Which { us, eu };
enum class Airspace { a, b, c, d, e, f, g };
enum class Light { day, night, any };

/// What every rule says of itself.
struct Rule {
  std::string name;          // its table in the data file: "vfr.g_low_day"
  std::string paragraph;     // "14 CFR 91.155"
  bool sure = false;         // false: show 'check locally'
  bool local_first = false;  // a local rule may ask for something else and then wins
};

/// Visibility and distance from cloud in some airspaces, light and heights.
struct VfrMinimum {
  Rule rule;
  std::vector<Airspace> airspaces;
  Light light = Light::any;
  std::optional<HeightAgl> up_to_agl;      // inclusive; with up_to_amsl the higher of the two counts
  std::optional<AltitudeAmsl> up_to_amsl;  // inclusive
  std::optional<AltitudeAmsl> below_amsl;  // exclusive
  Length visibility;
  std::optional<Length> visibility_where_allowed;  // where an authority has said so
  bool clear_of_cloud = false;
  bool surface_in_sight = false;
  std::optional<Length> below_cloud, above_cloud, beside_cloud;  // of the flight, from the cloud
};

enum class Ground { congested, elsewhere, sparse };
enum class HeightAbove { highest_obstacle, surface, people_and_structures };

struct MinimumHeight {
  Rule rule;
  Ground ground = Ground::elsewhere;
  HeightAbove above = HeightAbove::surface;
  Length height;
  std::optional<Length> within;  // of the balloon, level: which obstacles count
};

struct Oxygen {
  Rule rule;
  PressureAltitude crew_above;  // for longer than crew_after
  Duration crew_after;
  std::optional<PressureAltitude> crew_always_above;
  PressureAltitude everyone_above;
};

/// Fuel left at landing. Both absent: the law has no figure.
struct FuelReserve {
  Rule rule;
  std::optional<Duration> reserve, single_cylinder;
};

struct Night {
  Rule rule;
  Angle sun_below_horizon;  // night begins and ends here
};

struct NightLanding {
  Rule rule;
  bool forbidden = false;
};

struct FlightReview {
  Rule rule;
  int calendar_months = 0;
  Duration flight, ground;
};

struct Passengers {
  Rule rule;
  int take_offs = 0, landings = 0, days = 0;
};

struct NightPassengers {
  Rule rule;
  int take_offs = 0, landings = 0, days = 0;
  Duration after_sunset, before_sunrise;  // the period that counts begins and ends here
};

struct Medical {
  Rule rule;
  Date since;
  int medical_class = 0;
};

struct Alcohol {
  Rule rule;
  Duration since_drink;
  double blood_percent_below = 0.0;
};

struct Annual {
  Rule rule;
  int calendar_months = 0;
  bool counts_as_hundred_hours = false;
};

struct HundredHours {
  Rule rule;
  Duration every;   // time in service
  Duration excess;  // only to reach the place of the inspection
};

struct Registration {
  Rule rule;
  int years = 0;
};

/// How long records of work are kept, unless the work is superseded before; the records of the balloon's status go with
/// it.
struct Records {
  Rule rule;
  int years = 0;
};

struct CylinderTest {
  Rule rule;
};

struct Recency {
  Rule rule;
  int months = 0;
  Duration in_command;
  int take_offs = 0, landings = 0;
  int training_months = 0;
  int check_months = 0;
};

struct OtherClass {
  Rule rule;
  int months = 0;
  Duration in_command;
};

struct Commercial {
  Rule rule;
  int days = 0, flights = 0, flights_in_class = 0, supervised = 0;
  int check_months = 0;
};

enum class Group { a, b, c, d };

/// Groups of hot-air balloons by volume, each with its upper bound, inclusive.
struct Groups {
  Rule rule;
  Volume a_up_to, b_up_to, c_up_to;
};

struct Inspection {
  Rule rule;
  int months = 0;
  Duration every;
  int tolerance_months = 0;
  Duration tolerance;
};

struct MassAdditions {
  Rule rule;
  Mass clothing, hand_baggage;
};

struct ExtraCrew {
  Rule rule;
  int passengers_more_than = 0;
};

struct DropLine {
  Rule rule;
  Length at_least;
};

struct FireBlanket {
  Rule rule;
  Length width, length;
};

/// Over water.
struct Locator {
  Rule rule;
  int persons_more_than = 0;  // then the beacon is the balloon's own; up to that number a personal one will do
};

/// All rules of one law. What is absent the law does not have, or was not seen.
struct Set {
  Which which = Which::us;
  std::vector<VfrMinimum> vfr;        // in the order in which they are tried
  std::vector<MinimumHeight> height;  // likewise
  std::optional<Oxygen> oxygen;
  std::optional<FuelReserve> fuel_reserve;
  std::optional<Night> night;
  std::optional<NightLanding> night_landing;
  std::optional<FlightReview> flight_review;
  std::optional<Passengers> passengers;
  std::optional<NightPassengers> night_passengers;
  std::optional<Medical> medical;
  std::optional<Alcohol> alcohol;
  std::optional<Annual> annual;
  std::optional<HundredHours> hundred_hours;
  std::optional<Registration> registration;
  std::optional<Records> records;
  std::optional<CylinderTest> cylinder_test;
  std::optional<Recency> recency;
  std::optional<OtherClass> other_class;
  std::optional<Commercial> commercial;
  std::optional<Groups> groups;
  std::optional<Inspection> inspection;
  std::optional<MassAdditions> mass_additions;
  std::optional<ExtraCrew> extra_crew;
  std::optional<DropLine> drop_line;
  std::optional<FireBlanket> fire_blanket;
  std::optional<Locator> locator;
};

/// The set as built in. Same object each time.
[[nodiscard]] const Set& rules_of(Which which);

/// What is wrong with the built-in file: empty, or our own mistake (the module's test holds it to that).
[[nodiscard]] std::vector<Issue> rule_issues(Which which);

/// Reads a file in the form of data/rules/us.toml. A rule with any fault in it is left out and told; the others stand.
/// Errors    bad_input: "issue.rules_table" (a table that no rule has), "issue.rules_name" (a name that the rule does
///           not have, or in another unit), "issue.rules_missing" (a figure, the paragraph or `sure` is not there),
///           "issue.rules_value" (of another kind, or not positive); and those of core/base/flat_toml.hpp.
[[nodiscard]] Parsed<Set> read_rules(Which which, std::string_view toml, std::string_view file);

/// The first minimum that the flight is within. Null where the law has none: no flight by sight in that airspace, or an
/// airspace that this law does not know.
[[nodiscard]] const VfrMinimum* vfr_minimum(const Set& set, Airspace airspace, Light light, AltitudeAmsl altitude,
                                            HeightAgl height);

/// Null where the law has none for such ground: then what holds elsewhere is the stricter and may be asked for.
[[nodiscard]] const MinimumHeight* minimum_height(const Set& set, Ground ground);

/// Whether an obstacle so far away, level, raises the least height. True where the rule names no radius.
[[nodiscard]] bool obstacle_counts(const MinimumHeight& minimum, Length away);

/// How high above someone or something to pass `away` to the side of it, level, so that the straight line between
/// is `clearance`. Zero from `clearance` on.
/// Laws      falls with `away`; never above `clearance`.
[[nodiscard]] Length height_for_clearance(Length clearance, Length away);

enum class Need { no, yes, not_known };

struct OxygenNeed {
  Need crew = Need::not_known;
  Need everyone = Need::not_known;
};
/// For a flight that goes as high as `highest` and stays above `crew_above` for `time_above` (none: not known).
[[nodiscard]] OxygenNeed oxygen_need(const Oxygen& oxygen, PressureAltitude highest,
                                     std::optional<Duration> time_above);

/// The least fuel left at landing, in minutes of flight; none where the law has no figure.
[[nodiscard]] std::optional<Duration> reserve_asked_for(const Set& set, int cylinders);

/// Whether a second, trained crew member has to be aboard.
[[nodiscard]] bool extra_crew_asked_for(const Set& set, int passengers);

/// Whether a flight over water needs the balloon's own locator transmitter, where a personal one won't do.
[[nodiscard]] bool own_locator_asked_for(const Set& set, int persons);

[[nodiscard]] Group group_of(const Groups& groups, Volume envelope);

}  // namespace pappus::rules

namespace pappus {
template <>
struct Names<rules::Which> {
  static constexpr std::array<std::pair<rules::Which, std::string_view>, 2> all{
      {{rules::Which::us, "us"}, {rules::Which::eu, "eu"}}};
};
template <>
struct Names<rules::Airspace> {
  static constexpr std::array<std::pair<rules::Airspace, std::string_view>, 7> all{{{rules::Airspace::a, "A"},
                                                                                    {rules::Airspace::b, "B"},
                                                                                    {rules::Airspace::c, "C"},
                                                                                    {rules::Airspace::d, "D"},
                                                                                    {rules::Airspace::e, "E"},
                                                                                    {rules::Airspace::f, "F"},
                                                                                    {rules::Airspace::g, "G"}}};
};
template <>
struct Names<rules::Light> {
  static constexpr std::array<std::pair<rules::Light, std::string_view>, 3> all{
      {{rules::Light::day, "day"}, {rules::Light::night, "night"}, {rules::Light::any, "any"}}};
};
template <>
struct Names<rules::Ground> {
  static constexpr std::array<std::pair<rules::Ground, std::string_view>, 3> all{
      {{rules::Ground::congested, "congested"},
       {rules::Ground::elsewhere, "elsewhere"},
       {rules::Ground::sparse, "sparse"}}};
};
template <>
struct Names<rules::HeightAbove> {
  static constexpr std::array<std::pair<rules::HeightAbove, std::string_view>, 3> all{
      {{rules::HeightAbove::highest_obstacle, "highest_obstacle"},
       {rules::HeightAbove::surface, "surface"},
       {rules::HeightAbove::people_and_structures, "people_and_structures"}}};
};
template <>
struct Names<rules::Group> {
  static constexpr std::array<std::pair<rules::Group, std::string_view>, 4> all{
      {{rules::Group::a, "A"}, {rules::Group::b, "B"}, {rules::Group::c, "C"}, {rules::Group::d, "D"}}};
};

}  // namespace pappus
