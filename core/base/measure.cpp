#include "core/base/measure.hpp"

namespace pappus {

std::string_view si_unit_name(MeasureKind kind) {
  switch (kind) {
    case MeasureKind::number:
    case MeasureKind::count:
    case MeasureKind::ratio: return "1";
    case MeasureKind::mass: return "kg";
    case MeasureKind::volume_gas:
    case MeasureKind::volume_liquid: return "m3";
    case MeasureKind::length:
    case MeasureKind::distance:
    case MeasureKind::height:
    case MeasureKind::altitude:
    case MeasureKind::pressure_altitude:
    case MeasureKind::density_altitude: return "m";
    case MeasureKind::speed_wind:
    case MeasureKind::speed_vertical: return "m/s";
    case MeasureKind::pressure_air:
    case MeasureKind::pressure_fuel: return "Pa";
    case MeasureKind::temperature:
    case MeasureKind::temperature_delta: return "K";
    case MeasureKind::duration: return "s";
    case MeasureKind::bearing_true:
    case MeasureKind::bearing_magnetic:
    case MeasureKind::angle: return "deg";
    case MeasureKind::density: return "kg/m3";
    case MeasureKind::mass_flow: return "kg/s";
    case MeasureKind::power: return "W";
    case MeasureKind::specific_energy: return "J/kg";
  }
  return "1";
}

}  // namespace pappus
