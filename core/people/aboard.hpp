/// Who flies: roles, masses as they are known, and what a pilot's papers say.
#pragma once
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/base/describe.hpp"
#include "core/base/instant.hpp"
#include "core/base/quantity.hpp"

namespace pappus::people {

enum class Role { pilot, passenger, student, instructor, crew };
enum class MassBasis {
  stated,   // what the person said: clothing is added, and said to be
  weighed,  // on a scale as dressed
};

struct Person {
  Role role = Role::passenger;
  std::string name;  // may be empty; personal, never needed
  Mass mass;
  MassBasis basis = MassBasis::stated;
  std::optional<Mass> bags;
  std::optional<Length> height = std::nullopt;  // against the wall of the basket
};

/// What is added to a stated mass, and for bags that nobody named.
/// Source    AMC1 BOP.ADD.600(a)(2) to Regulation (EU) 2018/395: at least 4 kg clothing and 3 kg hand baggage. It binds
///           in the EU; elsewhere the same figures are this project's default.
inline constexpr Mass kClothing = 4.0 * kilogram;
inline constexpr Mass kHandBaggage = 3.0 * kilogram;

/// A person as loaded: with what was added.
struct LoadedPerson {
  Mass body, clothing, bags;
  [[nodiscard]] Mass total() const { return body + clothing + bags; }
  bool clothing_added = false;
  bool bags_added = false;
};
/// Laws      total >= mass; a weighed person has no clothing added; bags named (even zero) are not added to.
[[nodiscard]] LoadedPerson loaded(const Person& person);

/// A flight as the pilot's log has it.
struct LoggedFlight {
  Date date;
  Duration in_command;
  int take_offs = 1, landings = 1;
  bool in_class = true;  // the class of the flight asked about
};

/// What a European pilot's log says. The list of flights need not be all there is.
struct PilotLog {
  std::vector<LoggedFlight> flights;
  std::optional<Date> training_flight;  // with an instructor, in the class
  std::optional<Date> check;            // proficiency check
  std::vector<Date> supervised;         // flights under supervision
  std::optional<Date> refresher;        // theory and flight
};

/// A beacon that tells where one is after a landing on water.
enum class Locator {
  elt,  // the balloon's own
  plb,  // a person's
};

/// What the flight file and the pilot's own file say of the pilot. What is absent is not known.
struct Pilot {
  std::optional<std::string> certificate;
  std::optional<Date> review;
  std::vector<Date> landings;
  std::vector<Date> night_landings;  // to a full stop
  std::optional<Date> medical_until;
  std::optional<bool> for_hire;        // this flight; absent: not
  std::optional<bool> training_given;  // by the pilot, on this flight; absent: not
  PilotLog log;
  std::optional<Volume> trained_volume;  // of the balloon of the last training flight or check
  std::optional<Locator> locator;
};
/// `own` with what it leaves open taken from `usual`, key by key; an empty list is open.
/// Laws      filled_from(p, {}) and filled_from({}, p) are p.
[[nodiscard]] Pilot filled_from(Pilot own, const Pilot& usual);

}  // namespace pappus::people

namespace pappus {
template <>
struct Names<people::Role> {
  static constexpr std::array<std::pair<people::Role, std::string_view>, 5> all{
      {{people::Role::pilot, "pilot"},
       {people::Role::passenger, "passenger"},
       {people::Role::student, "student"},
       {people::Role::instructor, "instructor"},
       {people::Role::crew, "crew"}}};
};
template <>
struct Names<people::Locator> {
  static constexpr std::array<std::pair<people::Locator, std::string_view>, 2> all{
      {{people::Locator::elt, "elt"}, {people::Locator::plb, "plb"}}};
};
template <>
struct Names<people::MassBasis> {
  static constexpr std::array<std::pair<people::MassBasis, std::string_view>, 2> all{
      {{people::MassBasis::stated, "stated"}, {people::MassBasis::weighed, "weighed"}}};
};
}  // namespace pappus
