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

/// What the flight file says of the pilot.
struct Pilot {
  std::optional<std::string> certificate;
  std::optional<Date> review;
  std::vector<Date> landings;
};

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
struct Names<people::MassBasis> {
  static constexpr std::array<std::pair<people::MassBasis, std::string_view>, 2> all{
      {{people::MassBasis::stated, "stated"}, {people::MassBasis::weighed, "weighed"}}};
};
}  // namespace pappus
