/// What becomes of an accounted cylinder: draws by minutes, the coming night, the warming day, a charge; and its
/// pressure judged. Parts of `pappus cylinder`; each fills its own fields of the answer.
#pragma once
#include <optional>

#include "core/balloon/balloon.hpp"
#include "desk/cylinder_answer.hpp"

namespace pappus::desk {

/// What the balloon's file says beside the vessel's own figures.
struct Fitted {
  std::optional<GaugePressure> relief = std::nullopt;
  std::optional<balloon::PressureRange> pressure = std::nullopt;  // that all its burners' manuals allow
  bool vapour_pilot_light = false;
};
[[nodiscard]] Fitted fitted_of(const balloon::Balloon& balloon, const balloon::Cylinder& cylinder);

/// Minutes of level flight on one cylinder, as mass.
/// Errors    no flow given: Errc::bad_call "issue.flow_needed".
Result<propane::Drawn> drawn_by_minutes(Duration burned, const std::optional<text::FuelFlow>& flow, Temperature coldest,
                                        Temperature warmest);

/// What an outlook starts from.
struct OutlookFrom {
  const CylinderQuestion& question;
  const propane::Vessel& vessel;
  const propane::Account& account;
  const propane::Evidence& evidence;
  Fitted fitted;
};
/// In this order: charge first, as the others reckon with it.
/// Errors    what is missing (bad_call), and those of core/propane.
Result<void> tell_charge(const OutlookFrom& from, CylinderAnswer& answer);
Result<void> tell_then(const OutlookFrom& from, CylinderAnswer& answer);
Result<void> tell_margins(const OutlookFrom& from, CylinderAnswer& answer);
/// Without a temperature or a reading it stays not known.
void judge_pressure(const OutlookFrom& from, CylinderAnswer& answer);

}  // namespace pappus::desk
