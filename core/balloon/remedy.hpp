/// The lightest change that brings a flight inside: fewer people, a cylinder left behind, lower, cooler, shorter.
///
/// The caller says how far inside its bounds a changed flight would be; here the changes are tried, one kind at a time,
/// the smallest that helps is found, and what it costs is told. Nothing is decided: a change that is found is a
/// proposal to be planned again in full.
///
/// A second hop is the same question with other numbers: the caller's margin and fuel count who left and who came in
/// the load, the cylinders with what is in them now, and the fuel with FlightFuelInputs::envelope_hot.
#pragma once
#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "core/balloon/burn.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/base/sentence.hpp"

namespace pappus::balloon {

/// What is different from the flight as it is planned. As made, nothing is.
struct Change {
  Mass people_left = {};                          // people and what they bring, who stay on the ground
  std::optional<std::size_t> cylinder_left = {};  // index of a cylinder that stays, with all that is in it
  Length lower = {};                              // by how much the highest height comes down
  TemperatureDelta cooler = {};                   // by how much all of the air is cooler
  Duration shorter = {};                          // by how much the planned time is cut
};

/// How far inside all of its bounds a changed flight is, in any unit: at or above zero inside, below it outside. The
/// smallest of several margins will do. An Issue, or no finite number, counts as outside: what is not known is not
/// good. Pure: the same change gives the same answer, and more of a change is no worse.
using Margin = std::function<Result<double>(const Change&)>;

enum class RemedyKind { lower, shorter, leave_cylinder, leave_people, cooler };

/// What a change costs the people, in one number to sort by (ours): a lower or shorter flight is still the flight;
/// cylinders take minutes to unload, and more when they take independence with them; a person left behind is the
/// passenger's whole morning; waiting for cooler air, once the sun is up, means another day.
struct RemedyCosts {
  double lower_100_m = 1.0;
  double shorter_10_min = 1.5;
  double leave_cylinder = 4.0;
  double side_lost = 10.0;  // for each independent side that goes with it
  double person = 12.0;     // for each person left; where their masses are not given, for each 75 kg begun
  double cooler_1_k = 8.0;
};

/// The grid on which the smallest change is looked for: what a person can act on (ours).
struct RemedySteps {
  Mass people = 1.0 * kilogram;
  Length lower = 10.0 * metre;
  TemperatureDelta cooler = 0.5 * kelvin;
  Duration shorter = 1.0 * minute;
};

/// What leaving a cylinder does to independence. A side is one burner's own supply: a side without usable fuel is none.
struct Independence {
  std::string id;        // of the cylinder left
  Mass usable_left;      // fuel that stays on the ground with it
  int sides_before = 0;  // sides with usable fuel
  int sides_after = 0;
  std::optional<Reserves> before;  // none where the flight as planned has no answer for its fuel
  Reserves after;                  // with the lighter flight's own, smaller fuel
};
/// Domain    `left` below cylinders.size(); else Errc::bad_call ("remedy.no_such_cylinder").
/// Laws      sides_after is sides_before, or one less; it is one less exactly where no other cylinder of that side has
///           usable fuel and this one has. The fuel drawn from the rest is never more than they hold.
Result<Independence> independence(const std::vector<CylinderFuel>& cylinders, std::size_t left,
                                  const std::optional<FlightFuel>& fuel_before, const FlightFuel& fuel_after);

struct RemedyInputs {
  Margin margin;
  /// The fuel that a changed flight needs. Without it no cylinder is left: what that costs could not be told.
  std::function<Result<FlightFuel>(const Change&)> fuel;
  std::vector<CylinderFuel> cylinders;
  std::vector<Mass> people;  // of each one who could stay, with all they bring; never the pilot
  Mass people_most;          // where `people` is empty: the most that may stay. Zero: nobody
  Length lower_most;         // down to the lowest flight that is still one; zero: not an answer
  TemperatureDelta cooler_most = 15.0 * kelvin;
  Duration shorter_most;
  RemedySteps steps = {};
  RemedyCosts costs = {};
};

struct Remedy {
  RemedyKind kind = RemedyKind::lower;
  Change change;
  double margin = 0.0;  // after it, at or above zero
  double cost = 0.0;
  std::vector<std::size_t> people;           // who could stay: indices into `people`; empty where none were given
  std::optional<Independence> independence;  // for a cylinder
  std::vector<Sentence> words;               // the change first, then what it costs
};
/// A kind of change that does not do.
struct NoRemedy {
  RemedyKind kind = RemedyKind::lower;
  std::optional<std::size_t> cylinder;
  std::optional<double> margin;  // with the most of it; none: not known there
  Sentence words;
};
struct Remedies {
  bool inside_already = false;  // then there is nothing to mend
  std::vector<Remedy> found;    // the cheapest first; of equals the kind that comes first above, then the cylinder
  std::vector<NoRemedy> none;   // in the same order
  Sentence finding;  // inside already; how many changes help, the lightest being `found[0]`; or that none does
};

/// Tries each kind of change alone. The amount found is the smallest whole number of steps (or the most allowed) whose
/// margin is not negative; it is found by halving, which needs a margin that no more of a change makes worse. Where the
/// most allowed has no answer at all (a balloon too light for its burner's model, say) the largest of eight equal parts
/// that is inside starts the halving instead.
///
/// People: first the mass that has to stay. Where their masses are given: as few as possible, and of the last one the
/// lightest that suffices; that they suffice is tried again.
/// A cylinder is never left when none with usable fuel would remain, or when the rest does not hold the flight's fuel,
/// whatever the margin says.
/// Domain    a margin ("remedy.no_margin", Errc::bad_call); every step above zero, every most, mass and cost not
///           negative and finite ("remedy.setting_outside", Errc::bad_input); at most 1,000,000 steps of a kind.
/// Laws      every change found is inside when asked again, and one step less of it is outside (people in whole
///           persons apart); costs rise; each kind with anything to try, and each cylinder, is in `found` or in `none`
///           once. The margin is asked at most 2 + 8 + 20 times for a kind.
Result<Remedies> remedies(const RemedyInputs& inputs);

}  // namespace pappus::balloon
