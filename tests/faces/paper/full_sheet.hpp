/// A flight sheet in which nothing is absent, made up for drawing: figures that the arithmetic of core would not give
/// together may stand side by side in it.
#pragma once
#include <string>

#include "core/sheet/flight_sheet.hpp"

namespace pappus::testing {

/// `name` stands wherever a person may have typed one.
sheet::FlightSheet full_sheet(const std::string& name = "Thistle meadow");

/// A sheet of the same flight of which nothing is known but when.
sheet::FlightSheet empty_sheet();

}  // namespace pappus::testing
