/// What would bring a flight inside: the lightest change first, with what it costs.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
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
  std::vector<RemedyLine> found;    // the lightest first
  std::vector<Sentence> none;       // kinds of change that do not help, and by how much they miss
  std::vector<std::string> limits;  // that were outside and are inside after any one of `found`
};

/// None where lift, mass, people and fuel are inside already, or where they can't be worked out.
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
      std::tuple{field("kind", &sheet::RemedyLine::kind, "what sort of change"),
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
      std::tuple{field("found", &sheet::RemediesSection::found, "changes that bring it inside, the lightest first"),
                 field("none", &sheet::RemediesSection::none, "changes that do not"),
                 field("limits", &sheet::RemediesSection::limits, "limits that they bring inside")};
};
}  // namespace pappus
