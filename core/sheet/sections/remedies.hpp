/// What would bring a flight inside: the lightest change first, with what it costs.
#pragma once
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/balloon/remedy.hpp"
#include "core/base/describe.hpp"
#include "core/base/quantity.hpp"
#include "core/base/sentence.hpp"

namespace pappus::sheet {

struct Facts;

struct RemedyLine {
  balloon::RemedyKind kind = balloon::RemedyKind::lower;
  std::optional<std::string> cylinder;  // the one left behind
  std::optional<Mass> people_left;
  std::vector<std::string> who;  // could stay, by name or role
  std::optional<Length> lower;
  std::optional<TemperatureDelta> cooler;
  std::optional<Duration> shorter;
  std::vector<Sentence> words;  // the change first, then what it costs
};
struct RemediesSection {
  Sentence finding;                 // how many changes help, or that none does
  std::vector<RemedyLine> found;    // the lightest first
  std::vector<Sentence> none;       // kinds of change that do not help, and by how much they miss
  std::vector<std::string> limits;  // that were outside and are inside after any one of `found`
  std::vector<Sentence> notes;      // what was not judged, and what to do with a change that is found
};

/// Judged by the limits crown_temperature, gross_mass, people, fuel_reserve and fuel_reserve_rule: the changes that
/// bring inside those of them that are known. None where none of them is outside.
/// Laws      every change found, made in the morning itself, leaves none of `limits` outside; a lighter load never
///           makes remedies needed, as long as it is not too light for the burner's model. A side that lacks its
///           reserve is never cured by leaving it behind.
[[nodiscard]] std::optional<RemediesSection> remedies_section(const Facts& facts);

}  // namespace pappus::sheet

namespace pappus {
template <>
struct Names<balloon::RemedyKind> {
  static constexpr std::array<std::pair<balloon::RemedyKind, std::string_view>, 5> all{
      {{balloon::RemedyKind::lower, "lower"},
       {balloon::RemedyKind::shorter, "shorter"},
       {balloon::RemedyKind::leave_cylinder, "leave_cylinder"},
       {balloon::RemedyKind::leave_people, "leave_people"},
       {balloon::RemedyKind::cooler, "cooler"}}};
};
template <>
struct Description<sheet::RemedyLine> {
  static constexpr std::string_view name = "RemedyLine";
  static constexpr auto fields =
      Fields{field("kind", &sheet::RemedyLine::kind, "what sort of change"),
             field("cylinder", &sheet::RemedyLine::cylinder, "the cylinder left behind"),
             field("people_left", &sheet::RemedyLine::people_left, "mass of the people who stay"),
             field("who", &sheet::RemedyLine::who, "who could stay"),
             field("lower", &sheet::RemedyLine::lower, "by how much the highest height comes down"),
             field("cooler", &sheet::RemedyLine::cooler, "by how much the air has to be cooler"),
             field("shorter", &sheet::RemedyLine::shorter, "by how much the flight is cut"),
             field("words", &sheet::RemedyLine::words, "the change, then what it costs")};
};
template <>
struct Description<sheet::RemediesSection> {
  static constexpr std::string_view name = "RemediesSection";
  static constexpr auto fields =
      Fields{field("finding", &sheet::RemediesSection::finding, "the whole in one sentence"),
             field("found", &sheet::RemediesSection::found, "changes that bring it inside, the lightest first"),
             field("none", &sheet::RemediesSection::none, "changes that do not"),
             field("limits", &sheet::RemediesSection::limits, "limits that they bring inside"),
             field("notes", &sheet::RemediesSection::notes, "to be read with the changes")};
};
}  // namespace pappus
