/// A cylinder as what is in it sees it.
#pragma once
#include "core/balloon/balloon.hpp"
#include "core/propane/account.hpp"

namespace pappus::balloon {

[[nodiscard]] inline propane::Vessel vessel_of(const Cylinder& cylinder) {
  return {.shell = cylinder.shell,
          .level_fill = cylinder.level_fill,
          .tare = cylinder.tare,
          .gauge_span = cylinder.gauge_span,
          .gauge_reads = cylinder.gauge_reads.value_or(propane::GaugeReads::shell)};
}

}  // namespace pappus::balloon
