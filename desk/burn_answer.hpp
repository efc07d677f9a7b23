/// `pappus burn`: fuel for the flight, what is left on each side, and what the cylinders deliver as they empty.
#pragma once
#include <optional>
#include <string_view>
#include <vector>

#include "core/balloon/supply.hpp"
#include "core/base/describe.hpp"
#include "core/base/issue.hpp"
#include "core/base/sentence.hpp"
#include "core/sheet/flight_sheet.hpp"
#include "core/sheet/morning.hpp"

namespace pappus::desk {

struct BurnAnswer {
  sheet::FuelSection fuel;
  std::optional<balloon::SupplyPlan> supply;
  std::vector<Sentence> notes;
};

/// The supply is the sheet's own (core/sheet/sections/supply.hpp).
/// Errors    those of sheet::fuel_section. What stands against the supply alone is told in the notes, and it is null.
[[nodiscard]] Result<BurnAnswer> burn_answer(const sheet::Morning& morning);

}  // namespace pappus::desk

namespace pappus {
template <>
struct Description<desk::BurnAnswer> {
  static constexpr std::string_view name = "BurnAnswer";
  static constexpr auto fields =
      Fields{field("", &desk::BurnAnswer::fuel, "fuel for the flight and what is left"),
             field("supply", &desk::BurnAnswer::supply,
                   "pressure and minutes by cylinder, losses, an order of use; null: see the notes"),
             field("notes", &desk::BurnAnswer::notes, "to be read with the figures")};
};
}  // namespace pappus
