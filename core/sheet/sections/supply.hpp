/// What the cylinders deliver on this flight as they empty, and in which order to use them.
#pragma once
#include "core/balloon/supply.hpp"
#include "core/base/issue.hpp"

namespace pappus::sheet {

struct Facts;

/// Of what is in the cylinders at least. The burner asked about is the weakest, or one whose power is not known. A
/// cylinder counts as measured where liquid at its level valve or its weight proves it. The reserve held to is the
/// pilot's own, else the usual one.
/// Errors    those of fuel and air ("fact.*"), "supply.no_burner", and those of balloon::supply_plan.
[[nodiscard]] Result<balloon::SupplyPlan> supply_section(const Facts& facts);

}  // namespace pappus::sheet
