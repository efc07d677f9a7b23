/// What the model says of a flight that has been flown: the sheet's own reckoning, with the time really aloft.
#pragma once
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/book/flight_records.hpp"
#include "core/sheet/morning.hpp"

namespace pappus::desk {

struct ForetoldFlight {
  book::Foretold foretold;
  bool load_known = true;            // else cylinders of which nothing was known counted as full
  bool temperature_assumed = false;  // aloft: two columns of air were tried
};
/// The fuel and the mean temperature of `morning`, flown for `aloft`, by the model as it comes: `morning` is to be as
/// open_flight() gives it, which knows no learned figures.
/// Where the temperature aloft is not known the figures lie half-way between those of the two columns that are tried,
/// and half their difference is added to the error.
/// Errors    those of lift and fuel: Errc::no_data where something is missing, Errc::out_of_range.
/// Laws      with the time planned, between fuel.used of the two columns; more time needs more fuel.
Result<ForetoldFlight> foretold(const sheet::Morning& morning, Duration aloft, const book::RecordErrors& errors = {});

}  // namespace pappus::desk
